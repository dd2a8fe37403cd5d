//! The one door from the terminal to the formats and the engine.

use engine::job::AnyJob;
use engine::plan::{Plan, StockChoice};
use engine::planning::{Ask, Next, NoAnswer};
use engine::problem::{Problem, Source};
use engine::quantity::{Plain, Units, read_length};

use crate::Refusal;
use crate::fault::{self, Shown};
use crate::input::Named;

/// Reads job and shop and plans.
pub fn plan(job: &Named, shop: &[Named]) -> Result<Plan, Refusal> {
    let read = read(job, shop)?;
    plan_read(&read, job, shop)
}

/// On which of the shop's lathes a job is planned.
pub enum Lathes {
    /// On the one that the job names, or the shop's first.
    Own,
    /// On these, by name.
    Named(Vec<String>),
    /// On every one.
    Every,
}

/// Reads job and shop and plans, once for each lathe.
pub fn plans(job: &Named, shop: &[Named], lathes: &Lathes) -> Result<Vec<Plan>, Refusal> {
    let mut read = read(job, shop)?;
    let known: Vec<String> = read.1.shop.lathes.iter().map(|lathe| lathe.name.clone()).collect();
    let names = match lathes {
        Lathes::Own => return Ok(vec![plan_read(&read, job, shop)?]),
        Lathes::Named(names) => names,
        Lathes::Every => &known,
    };
    if let Some(name) = names.iter().find(|name| !known.contains(name)) {
        return Err(Refusal(format!("The shop has no lathe \"{name}\"; it has: {}.", known.join(", "))));
    }
    let mut plans = Vec::new();
    for name in names {
        read.0.job.set_lathe(name);
        plans.push(plan_read(&read, job, shop)?);
    }
    Ok(plans)
}

/// Job and shop as they were read, with the places of their keys.
type Read = (formats::job::ReadJob<AnyJob>, formats::shop::ReadShop);

fn refuse_problems(job: &Named, shop: &[Named], problems: &[Problem], (read_job, read_shop): &Read) -> Refusal {
    let shown = problems.iter().map(|problem| match problem.file {
        Source::Job => shown(problem, &read_job.places),
        Source::Shop => shown(problem, &read_shop.places),
    });
    refuse(job, shop, &shown.collect::<Vec<_>>())
}

fn plan_read(read: &Read, job: &Named, shop: &[Named]) -> Result<Plan, Refusal> {
    let (read_job, read_shop) = read;
    let planned = engine::planning::plan_any(&read_job.job, &read_shop.shop);
    let mut plan = planned.map_err(|problems| refuse_problems(job, shop, &problems, read))?;
    plan.assumed.extend(read_shop.assumed.iter().cloned());
    plan.weighed = engine::planning::weigh_any(&read_job.job, &read_shop.shop).unwrap_or_default();
    Ok(plan)
}

/// Reads job and shop and puts the bars that the shop lists side by side; how the job speaks.
pub fn stock(job: &Named, shop: &[Named]) -> Result<(StockChoice, Units), Refusal> {
    let read = read(job, shop)?;
    let choice = engine::planning::stock_choice(&read.0.job, &read.1.shop);
    let choice = choice.map_err(|problems| refuse_problems(job, shop, &problems, &read))?;
    Ok((choice, read.0.job.units()))
}

/// The bars side by side as JSON.
pub fn stock_to_json(choice: &StockChoice) -> String {
    formats::plan::stock_to_json(choice)
}

/// Reads job, shop and readings and answers what to set; the readings in the job's units unless they say others.
pub fn next(job: &Named, shop: &[Named], reads: &[String], ask: impl Fn(Vec<f64>) -> Ask) -> Result<Next, Refusal> {
    let read = read(job, shop)?;
    let units = read.0.job.units();
    let reads_mm = reads.iter().map(|text| reading(text, units)).collect::<Result<Vec<f64>, Refusal>>()?;
    let problems = |problems: Vec<Problem>| refuse_problems(job, shop, &problems, &read);
    let Some(given) = engine::planning::with_bar(&read.0.job, &read.1.shop).map_err(problems)? else {
        return Err(Refusal("None of the bars that the shop lists will do: `turnwright stock` says why.".to_string()));
    };
    engine::planning::next(&given, &read.1.shop, &ask(reads_mm)).map_err(|why| match why {
        NoAnswer::Problems(found) => problems(found),
        other => Refusal(format!("{}.", capital(&other.to_string()))),
    })
}

fn reading(text: &str, units: Units) -> Result<f64, Refusal> {
    read_length(text, units).map(Plain::plain).map_err(|misread| {
        Refusal(format!("The reading \"{text}\" cannot be read: {}; accepted: {}.", misread.says, misread.accepts))
    })
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
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

/// Both, or the faults of both together.
fn read(job: &Named, shop: &[Named]) -> Result<Read, Refusal> {
    let files: Vec<(&str, &str)> = shop.iter().map(|file| (file.text.as_str(), file.name.as_str())).collect();
    match (formats::job::read_any(&job.text, &job.name), formats::shop::read_together(&files)) {
        (Ok(read_job), Ok(read_shop)) => Ok((read_job, read_shop)),
        (read_job, read_shop) => {
            let faults = read_job.err().into_iter().chain(read_shop.err()).flatten();
            Err(refuse(job, shop, &faults.map(of_the_file).collect::<Vec<_>>()))
        }
    }
}

fn of_the_file(fault: formats::Fault) -> Shown {
    Shown { file: fault.file, span: fault.span, says: fault.says, accepts: fault.accepts }
}

fn shown(problem: &Problem, places: &formats::Places) -> Shown {
    Shown {
        file: places.file(&problem.at).unwrap_or_default().to_string(),
        span: places.find(&problem.at),
        says: format!("{}: {}", problem.at, problem.says),
        accepts: problem.accepts.clone(),
    }
}

/// Each file with its faults, the job first; a fault of no known file goes with the job.
fn refuse(job: &Named, shop: &[Named], faults: &[Shown]) -> Refusal {
    let known = |fault: &Shown| shop.iter().any(|file| file.name == fault.file);
    let mut texts = Vec::new();
    for (file, is_job) in std::iter::once((job, true)).chain(shop.iter().map(|file| (file, false))) {
        let ours = |fault: &&Shown| fault.file == file.name || (is_job && !known(fault));
        let ours: Vec<&Shown> = faults.iter().filter(ours).collect();
        if !ours.is_empty() {
            texts.push(fault::show(file, &ours));
        }
    }
    Refusal(texts.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(name: &str) -> Named {
        Named { name: name.to_string(), text: "units = \"mm\"\n".to_string() }
    }

    fn fault(file: &str, says: &str) -> Shown {
        Shown { file: file.to_string(), span: None, says: says.to_string(), accepts: String::new() }
    }

    #[test]
    fn every_fault_is_shown_once_under_its_own_file() {
        let faults = [fault("chuck.toml", "second"), fault("job.toml", "first"), fault("", "homeless")];
        let Refusal(text) = refuse(&named("job.toml"), &[named("lathe.toml"), named("chuck.toml")], &faults);
        for says in ["first", "second", "homeless"] {
            assert_eq!(text.matches(says).count(), 1, "{text}");
        }
        assert!(
            text.contains("job.toml: 2 faults") && text.contains("chuck.toml: 1 fault") && !text.contains("lathe.toml")
        );
        assert!(text.find("first") < text.find("chuck.toml") && text.find("chuck.toml") < text.find("second"));
    }
}
