//! What the hands do, in order, with passes, stops and cautions in their places.

use engine::hands::Signal;
use engine::plan::{Hand, Measure, SetUp};
use engine::quantity::Units;
use engine::quantity::limits::{about, limits};
use engine::quantity::show::length;
use serde_json::{Value, json};

use crate::{caution, dial};

/// The steps, numbered from 1 in their order.
pub(crate) fn value(set_up: &SetUp, units: Units) -> Vec<Value> {
    set_up.hands.iter().map(|hand| step(hand, set_up, units)).collect()
}

/// Cautions of the set-up that stand at no step.
pub(crate) fn cautions_elsewhere(set_up: &SetUp) -> Vec<Value> {
    let stands =
        |text: &String| set_up.hands.iter().any(|hand| matches!(hand, Hand::Do { why: Some(why), .. } if why == text));
    set_up.cautions.iter().filter(|text| !stands(text)).map(|text| caution::value(text)).collect()
}

/// What is measured without a step that stops for it.
pub(crate) fn measured_elsewhere(set_up: &SetUp, units: Units) -> Vec<Value> {
    let stops = |at: usize| set_up.hands.contains(&Hand::Stop(at));
    let without = set_up.measure.iter().enumerate().filter(|(at, _)| !stops(*at));
    without.map(|(_, measure)| json!({ "what": measure.says(units), "when": measure.when })).collect()
}

fn step(hand: &Hand, set_up: &SetUp, units: Units) -> Value {
    match hand {
        Hand::Do { does, why } => {
            let caution = why.as_deref().filter(|why| Signal::of(why).is_some());
            let why = why.as_deref().filter(|_| caution.is_none());
            json!({ "kind": "do", "does": does, "why": why, "caution": caution.map(caution::value) })
        }
        Hand::Passes { from, to } => {
            let passes = set_up.passes.iter().enumerate().take(*to).skip(*from);
            let passes = passes.map(|(at, pass)| {
                let by_table = set_up.set_by_a_table() == Some(at);
                json!({ "number": at + 1, "dial": dial::value(&pass.dial), "by_table": by_table })
            });
            json!({ "kind": "passes", "passes": passes.collect::<Vec<_>>() })
        }
        Hand::Stop(at) => match set_up.measure.get(*at) {
            Some(measure) => stop(measure, set_up, units),
            None => json!({ "kind": "do", "does": "Spindle at rest: measure.", "why": null, "caution": null }),
        },
    }
}

/// Before the last pass: what the gauge should read now, then what is measured, then its limits when to size.
fn stop(measure: &Measure, set_up: &SetUp, units: Units) -> Value {
    let adds = measure.over_jaws_mm.is_some();
    let Some(near) = near(measure, set_up, units) else {
        return json!({ "kind": "stop", "what": measure.says(units), "now": null, "then": null, "adds": adds });
    };
    let out = if measure.takes_out { ", piece out of the chuck" } else { "" };
    let size = if measure.over_bar { about } else { limits };
    let size = size(measure.nominal_mm, measure.plus_mm, measure.minus_mm, units);
    json!({
        "kind": "stop",
        "what": format!("{}; {}{out}", measure.what, measure.gauge_says(units)),
        "now": near,
        "then": format!("After the last pass: {size}."),
        "adds": adds,
    })
}

/// "Near 4.25 mm now.": what the gauge shows with the last pass still on; none where the piece is to size.
fn near(measure: &Measure, set_up: &SetUp, units: Units) -> Option<String> {
    let before = set_up.expected(measure, units).is_some();
    let pass = set_up.passes.last().filter(|_| before)?;
    // The cut aims at the middle of the limits.
    let middle_mm = measure.nominal_mm + (measure.plus_mm - measure.minus_mm) / 2.0;
    let to_size_mm = measure.over_jaws_mm.unwrap_or(middle_mm);
    let shows = if measure.over_jaws_mm.is_some() { "Face near" } else { "Near" };
    Some(format!("{shows} {} now.", length(to_size_mm + pass.depth_mm, units)))
}
