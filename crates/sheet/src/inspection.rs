//! The inspection report: every size and requirement with room for what was read.

use engine::plan::{Measure, Plan, SizeShape};
use engine::quantity::limits::places;
use engine::quantity::show::length_to;
use serde_json::{Value, json};

/// Rows in the order of the drawing: sizes first, then the rest of what is asked.
pub(crate) fn value(plan: &Plan) -> Value {
    json!({
        "units": plan.units.name(),
        "sizes": plan.scene.sizes.iter().map(|size| row(size, plan)).collect::<Vec<_>>(),
        "requirements": plan.asked.requirements,
    })
}

fn row(size: &SizeShape, plan: &Plan) -> Value {
    let all = [size.nominal_mm, size.nominal_mm + size.plus_mm, size.nominal_mm - size.minus_mm];
    let places = places(&all, size.plus_mm + size.minus_mm, plan.units);
    let [nominal, most, least] = all.map(|value| bare(&length_to(value, plan.units, places)));
    json!({
        "what": format!("{} to {}", size.between[0], size.between[1]),
        "nominal": nominal,
        "least": least,
        "most": most,
        "gauge": gauge(size, plan),
    })
}

fn bare(shown: &str) -> String {
    shown.split(' ').next().unwrap_or(shown).to_string()
}

/// The gauge with which the plan measures this size for the last time on the bench; empty where it never does: what
/// reads over a jaw front does not measure a finished part.
fn gauge(size: &SizeShape, plan: &Plan) -> String {
    let [one, other] = &size.between;
    let pairs = [(one, other), (other, one)];
    let pairs = pairs.map(|(one, other)| [format!("{one} to {other}"), format!("across {one} and {other}")]).concat();
    let of_this_size =
        |measure: &&Measure| measure.over_jaws_mm.is_none() && pairs.iter().any(|pair| is_of(&measure.what, pair));
    let all = plan.set_ups.iter().flat_map(|set_up| set_up.measure.iter());
    all.rev().find(of_this_size).map_or_else(String::new, |measure| measure.gauge.clone())
}

/// Whether a measurement's words begin with this pair of letters.
fn is_of(what: &str, pair: &str) -> bool {
    what.strip_prefix(pair).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measurement_belongs_to_the_pair_that_it_names_first() {
        assert!(is_of("C to E, from E to a jaw front", "C to E") && is_of("C to E", "C to E"));
        assert!(!is_of("C to E2", "C to E") && !is_of("over C to E", "C to E"));
    }
}
