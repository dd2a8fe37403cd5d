//! Every working of every example, in the built-in shop and in the others, comes out as the number that the plan shows.
#![allow(missing_docs)]

#[allow(dead_code, reason = "shared with the engine's own tests")]
#[path = "../../engine/tests/workings/checked.rs"]
mod checked;
mod examples_planned;

use engine::plan::Plan;

#[test]
fn every_working_of_every_example_comes_out() {
    let plans: Vec<(String, Plan)> = examples_planned::plans();
    assert!(plans.len() >= 16, "only {} plans", plans.len());
    let mut count = 0;
    for (name, plan) in &plans {
        let faults = checked::faults(plan);
        assert!(faults.is_empty(), "{name}:\n{}", faults.join("\n"));
        count += checked::all(plan).count();
    }
    assert!(count > 5_000, "only {count} workings");
}
