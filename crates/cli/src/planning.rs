//! The one door from the terminal to the formats and the engine.

use engine::plan::Plan;
use engine::problem::{Problem, Source};

use crate::Refusal;
use crate::fault::{self, Shown};
use crate::input::Named;
use crate::stand_in::{self as formats, engine_plan};

/// Reads job and shop and plans.
pub fn plan(job: &Named, shop: &[Named]) -> Result<Plan, Refusal> {
    let read_job = read_job(job)?;
    let read_shop = read_shop(shop)?;
    engine_plan(&read_job.job, &read_shop.shop).map_err(|problems| {
        let at = |problem: &Problem| match problem.file {
            Source::Job => read_job.places.find(&problem.at),
            Source::Shop => read_shop.places.find(&problem.at),
        };
        refuse_problems(job, shop, &problems, at)
    })
}

/// Reads job and shop and asks whether they fit one another.
pub fn check(job: &Named, shop: &[Named]) -> Result<(), Refusal> {
    plan(job, shop).map(|_| ())
}

/// The plan as JSON.
pub fn to_json(plan: &Plan, audit: bool) -> String {
    formats::plan::to_json(plan, audit)
}

/// The built-in shop.
pub fn built_in_shop() -> Named {
    Named { name: "built-in shop".to_string(), text: formats::builtin::shop_text().to_string() }
}

/// The built-in demonstration job.
pub fn demo_job() -> Named {
    Named { name: "built-in job".to_string(), text: formats::builtin::demo_job_text().to_string() }
}

fn read_job(job: &Named) -> Result<formats::job::ReadJob, Refusal> {
    formats::job::read(&job.text)
        .map_err(|faults| Refusal(fault::show(job, &faults.iter().map(shown).collect::<Vec<_>>())))
}

/// One file is read alone, so that its faults have a place; several are read together.
fn read_shop(shop: &[Named]) -> Result<formats::shop::ReadShop, Refusal> {
    if let [only] = shop {
        let show = |faults: Vec<formats::Fault>| fault::show(only, &faults.iter().map(shown).collect::<Vec<_>>());
        return formats::shop::read(&only.text).map_err(|faults| Refusal(show(faults)));
    }
    let files: Vec<(String, String)> = shop.iter().map(|file| (file.name.clone(), file.text.clone())).collect();
    formats::shop::read_folder(&files).map_err(|faults| {
        let says: Vec<String> = faults.iter().map(|fault| format!("{} ({})", fault.says, fault.accepts)).collect();
        Refusal(says.join("\n"))
    })
}

fn shown(fault: &formats::Fault) -> Shown {
    Shown { span: fault.span.clone(), says: fault.says.clone(), accepts: fault.accepts.clone() }
}

/// Problems of the job, then of the shop, each under its file.
fn refuse_problems(
    job: &Named,
    shop: &[Named],
    problems: &[Problem],
    at: impl Fn(&Problem) -> Option<std::ops::Range<usize>>,
) -> Refusal {
    let of = |source: Source| -> Vec<Shown> {
        let ours = problems.iter().filter(|problem| problem.file == source);
        ours.map(|problem| Shown {
            span: at(problem),
            says: format!("{}: {}", problem.at, problem.says),
            accepts: problem.accepts.clone(),
        })
        .collect()
    };
    let (in_job, mut in_shop) = (of(Source::Job), of(Source::Shop));
    let shop_file = match shop {
        [only] => only.clone(),
        _ => {
            // Several files were read as one: a place in them is not a place in any of them.
            in_shop.iter_mut().for_each(|shown| shown.span = None);
            Named { name: "the shop's files".to_string(), text: String::new() }
        }
    };
    let parts = [(job, in_job), (&shop_file, in_shop)];
    let texts = parts.iter().filter(|(_, shown)| !shown.is_empty()).map(|(file, shown)| fault::show(file, shown));
    Refusal(texts.collect::<Vec<_>>().join("\n"))
}
