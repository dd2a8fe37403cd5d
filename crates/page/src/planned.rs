//! The one door from the page to the formats and the engine.

use engine::job::AnyJob;
use engine::plan::{Plan, StockChoice, Weighed};
use engine::planning;
use engine::problem::{Problem, Source};
use engine::quantity::Units;
use engine::shop::Shop;

use crate::asked::Texts;
use crate::fault::Placed;
use crate::written::Keys;

/// What came of the texts.
pub struct Planned {
    /// The plan; `None`: there is something to mend first.
    pub plan: Option<Plan>,
    /// What is to be mended.
    pub faults: Vec<Placed>,
    /// The shop, as far as it reads, for what can be chosen from it.
    pub shop: Option<Shop>,
    /// The job, where it was planned.
    job: Option<AnyJob>,
}

impl Planned {
    /// Other orders beside the plan and what would help; takes as long as several plans.
    pub fn weighed(&self) -> Option<Weighed> {
        let (job, shop) = (self.job.as_ref()?, self.shop.as_ref()?);
        self.plan.as_ref().filter(|plan| !plan.set_ups.is_empty())?;
        planning::weigh_any(job, shop).unwrap_or_default()
    }

    /// The same put into the plan.
    pub fn and_weighed(mut self) -> Planned {
        let weighed = self.weighed();
        self.plan.iter_mut().for_each(|plan| plan.weighed.clone_from(&weighed));
        self
    }
}

/// Job and shop as far as they read.
struct Read {
    job: Result<formats::job::ReadJob<AnyJob>, Vec<Placed>>,
    shop: Result<formats::shop::ReadShop, Vec<Placed>>,
}

fn read(texts: &Texts) -> Read {
    let job = match several_jobs(&texts.job) {
        Some(fault) => Err(vec![fault]),
        None => formats::job::read_any(&texts.job, "job").map_err(|faults| placed(&faults, &texts.job, Source::Job)),
    };
    let shop = formats::shop::read(&texts.shop, "shop");
    Read { job, shop: shop.map_err(|faults| placed(&faults, &texts.shop, Source::Shop)) }
}

/// Reads and plans.
pub fn planned(texts: &Texts) -> Planned {
    let refused = texts.refused.iter().map(|why| whole(why.clone(), String::new()));
    match read(texts) {
        Read { job: Ok(job), shop: Ok(shop) } => {
            let planned = planning::plan_any(&job.job, &shop.shop);
            let faults = planned.as_ref().err().map(|problems| of_the_engine(problems, &job, &shop, texts));
            let faults = refused.chain(faults.into_iter().flatten()).collect();
            let plan = planned.ok().map(|mut plan| {
                plan.assumed.extend(shop.assumed);
                plan
            });
            Planned { plan, faults, shop: Some(shop.shop), job: Some(job.job) }
        }
        Read { job, shop } => {
            let (job, none) = (job.err().unwrap_or_default(), Vec::new());
            let (shop, wrong) = shop.map_or_else(|faults| (None, faults), |shop| (Some(shop.shop), none));
            Planned { plan: None, faults: refused.chain(job).chain(wrong).collect(), shop, job: None }
        }
    }
}

/// Reads, and puts the bars that the shop lists side by side; how the job speaks.
pub fn compared(texts: &Texts) -> Result<(StockChoice, Units), Vec<Placed>> {
    match read(texts) {
        Read { job: Ok(job), shop: Ok(shop) } => match planning::stock_choice(&job.job, &shop.shop) {
            Ok(choice) => Ok((choice, job.job.units())),
            Err(problems) => Err(of_the_engine(&problems, &job, &shop, texts)),
        },
        Read { job, shop } => Err(job.err().into_iter().chain(shop.err()).flatten().collect()),
    }
}

fn of_the_engine(
    problems: &[Problem],
    job: &formats::job::ReadJob<AnyJob>,
    shop: &formats::shop::ReadShop,
    texts: &Texts,
) -> Vec<Placed> {
    let one = |problem: &Problem| match problem.file {
        Source::Job => Placed::of_the_engine(problem, &job.places, &texts.job),
        Source::Shop => Placed::of_the_engine(problem, &shop.places, &texts.shop),
    };
    problems.iter().map(one).collect()
}

fn placed(faults: &[formats::Fault], text: &str, source: Source) -> Vec<Placed> {
    let keys = Keys::of(text);
    faults.iter().map(|fault| Placed::of_the_text(fault, text, &keys, source)).collect()
}

fn whole(says: String, accepts: String) -> Placed {
    Placed { source: Source::Job, key: String::new(), line: None, says, accepts }
}

/// Many jobs pasted at once are no job: they are counted, and their lines named.
fn several_jobs(text: &str) -> Option<Placed> {
    const NAMED: usize = 3;
    let starts = |table: &str| {
        let at = text.lines().enumerate().filter(|(_, line)| line.trim_start().starts_with(table));
        at.map(|(index, _)| index + 1).collect::<Vec<usize>>()
    };
    let lines = [starts("[stock]"), starts("[part]")].into_iter().max_by_key(Vec::len)?;
    if lines.len() < 2 {
        return None;
    }
    let named: Vec<String> = lines.iter().take(NAMED).map(usize::to_string).collect();
    let more = if lines.len() > NAMED { ", ..." } else { "" };
    let says = format!(
        "This text holds {} jobs (their bars stand in lines {}{more}); one job is planned at a time.",
        lines.len(),
        named.join(", ")
    );
    let mut fault =
        whole(says, "one job: leave one in the text, keep each of the others in a file of its own".to_string());
    fault.line = lines.get(1).copied();
    Some(fault)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(job: &str) -> Vec<Placed> {
        planned(&Texts { job: job.to_string(), ..Texts::demo() }).faults
    }

    #[test]
    fn the_demo_is_planned_without_faults() {
        let planned = planned(&Texts::demo());
        assert!(planned.plan.is_some() && planned.faults.is_empty() && planned.shop.is_some());
    }

    #[test]
    fn every_fault_leads_to_its_field_and_line() {
        let demo = formats::builtin::demo_job_text();
        for (from, to, field, line) in [
            ("diameter = 58", "diameter = \"58 furlong\"", "stock.diameter", 9),
            ("diameter = 58\n", "", "stock.diameter", 7),
            ("\"round\"", "\"sqare\"", "stock.form", 8),
            ("units = \"mm\"", "units = \"cm\"", "units", 5),
            ("medium-carbon-steel", "cheese", "stock.material", 11),
            ("size = 36, plus = 0.05", "size = 36, plus = 5,5", "part.width.plus", 16),
            ("square = 0.06", "square = -1", "part.square", 19),
            ("\"Ra 3.2 um\"", "\"Rz 3 um\"", "part.roughness", 22),
            ("[part]", "[use]\nlathe = \"none\"\n[part]", "use.lathe", 15),
        ] {
            let faults = faults(&demo.replacen(from, to, 1));
            let told = format!("{from} to {to}: {faults:#?}");
            if to.contains("5,5") {
                assert!(faults[0].says.contains("TOML") && faults[0].line == Some(line), "{told}");
                continue;
            }
            assert_eq!(faults[0].field(), Some(field), "{told}");
            assert_eq!(faults[0].line, Some(line), "{told}");
        }
    }

    #[test]
    fn many_jobs_at_once_are_counted() {
        let many = formats::builtin::demo_job_text().repeat(100);
        let faults = faults(&many);
        assert_eq!(faults.len(), 1);
        assert!(faults[0].says.contains("100 jobs") && faults[0].accepts.contains("one job"), "{faults:?}");
    }
}
