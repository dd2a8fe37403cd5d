//! Why a job cannot be done, and what would free it.

use engine::plan::{Outcome, Plan, Reason};
use engine::quantity::Units;
use serde_json::{Value, json};

/// Every reason; empty for a job that is planned.
pub(crate) fn value(plan: &Plan) -> Vec<Value> {
    match &plan.outcome {
        Outcome::Planned => Vec::new(),
        Outcome::Impossible(reasons) => reasons.iter().map(|reason| row(reason, plan.units)).collect(),
    }
}

fn row(reason: &Reason, units: Units) -> Value {
    let (here, limit) = reason.compared(units).map(|[here, limit]| (here, limit)).unzip();
    json!({
        "place": reason.place,
        "rule": reason.rule,
        "says": reason.says,
        "here": here,
        "limit": limit,
        "way_out": reason.way_out,
    })
}
