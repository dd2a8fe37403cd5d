//! What must hold of every plan: metal adds up, lengths scale, turning and naming change nothing but
//! names, the same input gives the same plan, and no order is quicker than the one that was searched.
#![allow(missing_docs)]

mod advice;
mod believed;
mod best;
mod bored;
mod clamping;
mod determinism;
mod firmer;
mod half_centre;
mod left;
mod marks;
mod names;
#[path = "../plain/mod.rs"]
mod plain;
mod scale;
mod scene;
mod search;
mod seats;
mod stock_choice;
mod turn;
mod vees;
mod volume;
mod ways_out;

use engine::job::Job;
use engine::plan::{Outcome, Plan};
use proptest::test_runner::{Config, RngSeed};

/// The plan of a job in the boatyard.
fn plan(job: &Job) -> Plan {
    engine::plan(job, &scene::shop()).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn planned(plan: &Plan) -> bool {
    plan.outcome == Outcome::Planned
}

/// Equal to a share of the larger.
fn near(ours: f64, theirs: f64, share: f64) -> bool {
    (ours - theirs).abs() <= share * ours.abs().max(theirs.abs())
}

/// So many cases from a fixed seed: a run repeats.
fn seeded(cases: u32, seed: u64) -> Config {
    Config { cases, rng_seed: RngSeed::Fixed(seed), failure_persistence: None, ..Config::default() }
}
