//! Every example, planned with the built-in shop, as JSON with its audit; and how values are read from it.
#![allow(dead_code, reason = "each test that uses this needs a part of it")]

use std::path::Path;
use std::sync::OnceLock;

use formats::{builtin, job, plan, shop};
use serde_json::Value;

/// Name and plan of every example, planned or impossible.
pub fn all() -> &'static [(String, Value)] {
    static PLANS: OnceLock<Vec<(String, Value)>> = OnceLock::new();
    PLANS.get_or_init(|| jobs().into_iter().map(|(name, text)| (name, value(&json(&text, true)))).collect())
}

/// Those that can be done.
pub fn planned() -> impl Iterator<Item = &'static (String, Value)> {
    all().iter().filter(|(_, plan)| plan["outcome"] == "planned")
}

/// Plans of the example jobs in the example shops, where those have what the job asks.
pub fn in_other_shops() -> &'static [(String, Value)] {
    static PLANS: OnceLock<Vec<(String, Value)>> = OnceLock::new();
    PLANS.get_or_init(|| {
        let shops = texts("shops");
        jobs().iter().flat_map(|job| shops.iter().filter_map(|shop| planned_in(job, shop))).collect()
    })
}

fn planned_in(job: &(String, String), shop: &(String, String)) -> Option<(String, Value)> {
    plan_in(job, shop).map(|(name, plan)| (name, value(&plan::to_json(&plan, true))))
}

fn plan_in(
    (job_name, job_text): &(String, String),
    (shop_name, shop_text): &(String, String),
) -> Option<(String, engine::plan::Plan)> {
    let job = job::read(job_text, "job").unwrap_or_else(|faults| panic!("{faults:#?}")).job;
    let shop = shop::read(shop_text, "shop").unwrap_or_else(|faults| panic!("{faults:#?}")).shop;
    let plan = engine::plan(&job, &shop).ok()?;
    Some((format!("{job_name} in {shop_name}"), plan))
}

/// Every example in the built-in shop and in every other, as the engine's plan.
pub fn plans() -> Vec<(String, engine::plan::Plan)> {
    let built_in = ("the school shop".to_string(), builtin::shop_text().to_string());
    let shops: Vec<(String, String)> = std::iter::once(built_in).chain(texts("shops")).collect();
    jobs().iter().flat_map(|job| shops.iter().filter_map(|shop| plan_in(job, shop))).collect()
}

/// Name and text of every example job.
pub fn jobs() -> Vec<(String, String)> {
    texts(".")
}

fn texts(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(folder);
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the folder of examples")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    files.sort();
    let name = |path: &Path| path.file_stem().expect("a name").to_string_lossy().into_owned();
    files.iter().map(|path| (name(path), std::fs::read_to_string(path).expect("a text"))).collect()
}

/// The JSON of a job's text with the built-in shop.
pub fn json(job_text: &str, audit: bool) -> String {
    plan::to_json(&planned_job(job_text), audit)
}

/// The plan of a job's text with the built-in shop.
pub fn planned_job(job_text: &str) -> engine::plan::Plan {
    let job = job::read(job_text, "job").unwrap_or_else(|faults| panic!("{faults:#?}")).job;
    let shop = shop::read(builtin::shop_text(), "shop").unwrap_or_else(|faults| panic!("{faults:#?}")).shop;
    engine::plan(&job, &shop).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

/// Name, job and shop of every example with the built-in shop.
pub fn read() -> Vec<(String, engine::job::Job, engine::shop::Shop)> {
    let shop = shop::read(builtin::shop_text(), "shop").unwrap_or_else(|faults| panic!("{faults:#?}")).shop;
    let job = |text: &str| job::read(text, "job").unwrap_or_else(|faults| panic!("{faults:#?}")).job;
    jobs().into_iter().map(|(name, text)| (name, job(&text), shop.clone())).collect()
}

/// The text as JSON.
pub fn value(json: &str) -> Value {
    serde_json::from_str(json).expect("JSON")
}

/// A number.
pub fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// A text.
pub fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("{value} is no text"))
}

/// Three numbers.
pub fn vector(value: &Value) -> [f64; 3] {
    let list = value.as_array().unwrap_or_else(|| panic!("{value} is no list"));
    assert_eq!(list.len(), 3, "{value}");
    [number(&list[0]), number(&list[1]), number(&list[2])]
}
