//! Stands in for the planner until it is merged: delete this file, its line in `main.rs`, and in
//! `planning.rs` call the engine's own.

use engine::job::Job;
use engine::plan::Plan;
use engine::problem::Problem;
use engine::quantity::Units;
use engine::shop::Shop;

use crate::text::sample;

pub fn engine_plan(job: &Job, _shop: &Shop) -> Result<Plan, Vec<Problem>> {
    if job.title.contains("impossible") {
        return Ok(sample::impossible());
    }
    Ok(if job.units == Units::Inch { sample::inch() } else { sample::metric() })
}
