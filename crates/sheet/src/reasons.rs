//! Why a job cannot be done, and what would free it.

use engine::plan::{Outcome, Plan, Reason};
use engine::quantity::Units;
use engine::quantity::limits::places;
use engine::quantity::show::{force, length_to, power};
use serde_json::{Value, json};

use crate::number::rpm;

/// Every reason; empty for a job that is planned.
pub(crate) fn value(plan: &Plan) -> Vec<Value> {
    match &plan.outcome {
        Outcome::Planned => Vec::new(),
        Outcome::Impossible(reasons) => reasons.iter().map(|reason| row(reason, plan.units)).collect(),
    }
}

fn row(reason: &Reason, units: Units) -> Value {
    let (here, limit) = compared(reason, units).unzip();
    json!({
        "place": reason.place,
        "rule": reason.rule,
        "says": reason.says,
        "here": here,
        "limit": limit,
        "way_out": reason.way_out,
    })
}

/// Value and limit, where the two can be compared: a yes or a no, a count and a lack say all in words.
fn compared(reason: &Reason, units: Units) -> Option<(String, String)> {
    let both = [reason.value, reason.limit];
    if !both.iter().all(|number| number.is_finite() && *number > 0.0) {
        return None;
    }
    let places = places(&both, reason.value - reason.limit, units);
    let pair = |shown: &dyn Fn(f64) -> String| Some((shown(both[0]), shown(both[1])));
    match reason.unit {
        "mm" => pair(&|number| length_to(number, units, places)),
        "n" => pair(&|number| force(number, units)),
        "w" => pair(&|number| power(number, units)),
        "rpm" => pair(&|number| format!("{} rpm", rpm(number))),
        "um" => pair(&|number| format!("{number:.1} µm")),
        "1" if !both.iter().all(|number| number.fract() == 0.0) => pair(&|number| format!("a factor of {number:.2}")),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(value: f64, limit: f64, unit: &'static str) -> Option<(String, String)> {
        let (place, says, way_out) = (String::new(), String::new(), String::new());
        compared(&Reason { rule: "rule", place, says, value, limit, unit, way_out }, Units::Mm)
    }

    #[test]
    fn value_and_limit_are_told_only_where_they_can_be_compared() {
        for (value, limit, unit) in [(3.0, 4.0, "1"), (-31.73, 0.0, "mm"), (f64::NAN, 1.5, "1"), (3.0, 4.0, "jaws")] {
            assert_eq!(said(value, limit, unit), None, "{value} {limit} {unit}");
        }
        assert_eq!(said(52.0, 53.74, "mm"), Some(("52.00 mm".to_string(), "53.74 mm".to_string())));
    }
}
