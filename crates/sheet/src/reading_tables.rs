//! The reading tables that hang beside the lathe, one for every stop before a finishing cut.

use engine::plan::{Measure, Plan, ReadingTable, SetUp};
use engine::quantity::Units;
use serde_json::{Value, json};

/// Every table with its stop.
pub(crate) fn value(plan: &Plan) -> Vec<Value> {
    let stops = plan.set_ups.iter().flat_map(|set_up| set_up.measure.iter().map(move |measure| (set_up, measure)));
    stops.filter_map(|(set_up, measure)| Some(one(set_up, measure, measure.table.as_ref()?, plan.units))).collect()
}

fn one(set_up: &SetUp, measure: &Measure, table: &ReadingTable, units: Units) -> Value {
    let below: Vec<String> = table.warnings(units).into_iter().chain([table.after()]).collect();
    json!({
        "heading": format!("Set-up {}: before the last pass on {}", set_up.number, set_up.cuts_faces.join(", ")),
        "what": format!("{}.", measure.says(units)),
        "head": table.head(units),
        "rows": table.lines(units),
        "beside": [table.between(), table.beside()],
        "below": below.join(" "),
    })
}
