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

/// Jobs whose jaws are more than plain faces: bored to the bar, in soft jaws, through vees, on ledges, turned end for end.
pub fn in_other_jaws() -> &'static [(String, Value)] {
    static PLANS: OnceLock<Vec<(String, Value)>> = OnceLock::new();
    PLANS.get_or_init(|| {
        let drawn = "title = 'Stub for a vane'\nunits = 'mm'\n[stock]\nform = 'hexagon'\nacross = 36\nlength = 54\n\
                     material = 'low-carbon-steel'\nsurface = 'drawn'\n[part]\nkind = 'prism'\n\
                     regular = { sides = 6, across_flats = 36 }\nlength = 50\nleave = ['C', 'D', 'E', 'F', 'G', 'H']\n";
        let in_three = format!("{drawn}[use]\nchuck = 'three-jaw 160'\n");
        let from_round = "title = 'Boss for a weather cock'\nunits = 'mm'\n[stock]\nform = 'round'\ndiameter = 52\n\
                          length = 44\nmaterial = 'low-carbon-steel'\nsurface = 'drawn'\n[part]\nkind = 'prism'\n\
                          regular = { sides = 6, across_flats = 44 }\nlength = 40\n";
        let of_the_school = "[[vee]]\nmaterial = 'soft aluminium'\nangle = '120 deg'\nwidth = 25\nheight = 14\n\
                             length = 24\ncount = 2\n";
        let vees = format!("{}\n{of_the_school}", builtin::shop_text());
        let hard = "surface = \"hard smooth\"               # or";
        let bored = school_with(hard, "surface = \"soft\"\nbored = \"to the work\"  # or");
        let three = school_with("surface = \"hard serrated\", mass", "surface = \"soft\", mass");
        let mass = "mass    = \"0.9 kg\"";
        let ledges = school_with(mass, &format!("{mass}\nstep = {{ below_front = 34, width = 6 }}"));
        let turned = format!(
            "{mass}\nreversed = {{ opening = [30, 260], step = {{ below_front = 34, width = 6 }}, depth = 40 }}"
        );
        let turned = school_with(mass, &turned).replacen("opening = [8, 200]", "opening = [8, 20]", 1);
        let block = builtin::demo_job_text();
        [
            ("bored to the bar", block, &bored),
            ("hexagon in soft jaws", &in_three, &three),
            ("hexagon bar in vees along the spindle", drawn, &vees),
            ("hexagon from a round in vees", from_round, &vees),
            ("on ledges", block, &ledges),
            ("jaws turned end for end", block, &turned),
        ]
        .map(|(name, job, shop)| in_jaws(name, job, shop))
        .to_vec()
    })
}

/// The built-in shop with the first of these words written otherwise.
fn school_with(this: &str, other: &str) -> String {
    assert!(builtin::shop_text().contains(this), "the school's jaws are written otherwise: {this}");
    builtin::shop_text().replacen(this, other, 1)
}

fn in_jaws(name: &str, job_text: &str, shop_text: &str) -> (String, Value) {
    let job = (name.to_string(), job_text.to_string());
    let shop = ("a shop of its own".to_string(), shop_text.to_string());
    let (_, plan) = planned_in(&job, &shop).unwrap_or_else(|| panic!("{name} does not fit its shop"));
    assert_eq!(plan["outcome"], "planned", "{name}: {}", plan["reasons"]);
    (name.to_string(), plan)
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
