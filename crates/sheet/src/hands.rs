//! What the hands do, in order, with passes, stops and cautions in their places.

use engine::hands::Signal;
use engine::plan::{Hand, Measure, SetUp};
use engine::quantity::Units;
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
            let passes = passes.map(|(at, pass)| json!({ "number": at + 1, "dial": dial::value(&pass.dial) }));
            json!({ "kind": "passes", "passes": passes.collect::<Vec<_>>() })
        }
        Hand::Stop(at) => match set_up.measure.get(*at) {
            Some(measure) => stop(measure, set_up, units),
            None => json!({ "kind": "do", "does": "Spindle at rest: measure.", "why": null, "caution": null }),
        },
    }
}

fn stop(measure: &Measure, set_up: &SetUp, units: Units) -> Value {
    json!({
        "kind": "stop",
        "what": measure.says(units),
        "now": set_up.expected(measure, units),
    })
}
