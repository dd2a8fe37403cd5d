//! What the hands do, in order, with passes, stops and cautions in their places.

use engine::hands::Signal;
use engine::plan::{Hand, Measure, SetUp};
use engine::quantity::Units;
use engine::quantity::limits::limits;
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
    without.map(|(_, measure)| json!({ "what": what(measure, units), "when": measure.when })).collect()
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
        "what": what(measure, units),
        "now": still_on(set_up, measure).map(|more| expected_now(measure, more, units)),
    })
}

/// What, its limits, the gauge, and whether the piece comes out for it.
fn what(measure: &Measure, units: Units) -> String {
    let out = if measure.takes_out { ", piece out of the chuck" } else { "" };
    let size = limits(measure.nominal_mm, measure.plus_mm, measure.minus_mm, units);
    format!("{}: {size}; {}{out}", measure.what, measure.gauge)
}

/// What the gauge should read with the last pass still on.
fn expected_now(measure: &Measure, still_on_mm: f64, units: Units) -> String {
    let now = |when_to_size: f64| length(when_to_size + still_on_mm, units);
    match measure.over_jaws_mm {
        Some(over) => format!("The gauge reads near {} now, {} when to size.", now(over), length(over, units)),
        // The cut aims at the middle of the limits.
        None => format!("Near {} now.", now(measure.nominal_mm + (measure.plus_mm - measure.minus_mm) / 2.0)),
    }
}

/// What the last pass has still to take, where the stop stands before it.
fn still_on(set_up: &SetUp, measure: &Measure) -> Option<f64> {
    let before = measure.when.starts_with("before");
    set_up.passes.last().filter(|_| before).map(|pass| pass.depth_mm)
}
