//! Every working of random plans comes out as the number that the plan shows, every formula is used, and a formula
//! gone wrong in one place is noticed.
#![allow(missing_docs)]

mod checked;
#[path = "../plain/mod.rs"]
mod plain;
#[allow(dead_code, reason = "the generator is shared")]
#[path = "../scenario/mod.rs"]
mod scenario;
mod unusual;
mod wrong;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use engine::plan::{Outcome, Plan, Working};
use engine::working::{formulas, outcome_by, plain};

/// So many plans that can be done, at least.
const PLANS: usize = 300;

/// Ordinary plans on one thread, unusual ones on another.
fn plans() -> &'static [(String, Plan)] {
    static FOUND: OnceLock<Vec<(String, Plan)>> = OnceLock::new();
    FOUND.get_or_init(|| {
        std::thread::scope(|scope| {
            let unusual = scope.spawn(unusual::plans);
            let mut all: Vec<(String, Plan)> = (0..2000).filter_map(planned).take(PLANS).collect();
            all.extend(unusual.join().expect("the other half panicked: its message stands above"));
            all
        })
    })
}

fn planned(seed: u64) -> Option<(String, Plan)> {
    let scenario = scenario::scenario(seed);
    let plan = engine::plan(&scenario.job, &scenario.shop).ok()?;
    (plan.outcome == Outcome::Planned).then_some((format!("seed {seed}"), plan))
}

#[test]
fn every_working_comes_out_as_the_plan_shows_it() {
    let plans = plans();
    assert!(plans.len() > PLANS);
    let faults: Vec<String> = plans
        .iter()
        .flat_map(|(seed, plan)| checked::faults(plan).into_iter().map(move |fault| format!("{seed}: {fault}")))
        .collect();
    let count: usize = plans.iter().map(|(_, plan)| checked::all(plan).count()).sum();
    assert!(count > 50_000, "only {count} workings");
    assert!(faults.is_empty(), "{} of {count}:\n{}", faults.len(), faults[..faults.len().min(40)].join("\n"));
}

#[test]
fn every_formula_is_used() {
    let used: BTreeSet<&str> = plans().iter().flat_map(|(_, plan)| checked::all(plan)).map(|one| one.formula).collect();
    let idle: Vec<&str> = formulas().iter().map(|row| row.name.as_str()).filter(|name| !used.contains(name)).collect();
    assert!(idle.is_empty(), "never used: {idle:#?}");
}

#[test]
fn a_formula_gone_wrong_in_one_place_is_noticed() {
    let mut kept: BTreeMap<&str, Vec<&Working>> = BTreeMap::new();
    for working in plans().iter().flat_map(|(_, plan)| checked::all(plan)) {
        kept.entry(working.formula).or_default().push(working);
    }
    let (mut tried, mut missed) = (0, Vec::new());
    for row in formulas() {
        let workings = kept.get(row.name.as_str()).map_or(&[][..], Vec::as_slice);
        for (what, expr) in wrong::wrong(row) {
            tried += 1;
            let right = |working: &&Working| {
                let value = outcome_by(&expr, working);
                value.is_ok_and(|value| (value - working.value).abs() <= 1e-9 * working.value.abs() + 1e-12)
            };
            if workings.iter().all(right) {
                missed.push(format!("{}: {}: {what}", row.name, plain(row)));
            }
        }
    }
    assert!(tried > 600, "only {tried} wrong formulas were tried");
    assert!(missed.is_empty(), "{} of {tried} were not noticed:\n{}", missed.len(), missed.join("\n"));
}
