//! Where to stop and measure, and what that costs the hold.

use super::View;
use super::steps::Steps;
use super::words::{degrees, list};
use super::{hold, vee, zero};
use crate::plan::{Measure, UNFINISHED};

/// `Measure::when` of what is measured before the last pass.
pub const BEFORE_LAST_CUT: &str = "before the last cut";
/// `Measure::when` of what is measured after it.
pub const AFTER_LAST_CUT: &str = "after the last cut";

/// What was done before the last pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measured {
    /// No stop.
    Nothing,
    /// The grip is as it was.
    InTheChuck,
    /// The grip is new.
    OutOfTheChuck,
}

/// Stops before the last pass; first those for which the piece may stay where it is.
pub(super) fn before_the_last(view: &View, steps: &mut Steps) -> Measured {
    let (inside, outside) = stops(view, is_before);
    inside.iter().chain(&outside).next().map_or(Measured::Nothing, |_| {
        inside.iter().for_each(|&index| stop(view, index, steps));
        if !outside.is_empty() {
            hold::take_out(view, steps);
            outside.iter().for_each(|&index| stop(view, index, steps));
            back(view, steps);
        }
        if inside.iter().chain(&outside).any(|&index| view.set_up.measure[index].table.is_some()) {
            steps.in_full_once(
                "Set the last pass by the reading table of this stop, not by its number here.",
                "a size comes from a measurement, never from a sum of dial readings",
                "Set the last pass by the reading table.",
            );
            return if outside.is_empty() { Measured::InTheChuck } else { Measured::OutOfTheChuck };
        }
        steps.in_full_once(
            "Correct the last dial reading by what you measured: too much left, further on; too little, less far.",
            "a size comes from a measurement, never from a sum of dial readings",
            "Correct the last dial reading by what you measured.",
        );
        if outside.is_empty() { Measured::InTheChuck } else { Measured::OutOfTheChuck }
    })
}

/// Whether the piece comes out of the chuck before the last pass.
pub(super) fn takes_out_before_the_last(view: &View) -> bool {
    !stops(view, is_before).1.is_empty()
}

/// Stops after the last pass: what needs the piece held comes before what needs it loose.
pub(super) fn after_the_last(view: &View, steps: &mut Steps) {
    let (inside, outside) = stops(view, |measure| !is_before(measure));
    inside.iter().for_each(|&index| stop(view, index, steps));
    if !inside.is_empty() {
        off_size(
            "Over its limits: take what is over in one more finishing pass, touched off again, before a jaw is loosened.",
            "Over: one more finishing pass, touched off again.",
            steps,
        );
    }
    try_square(view, steps);
    if outside.is_empty() {
        return;
    }
    let to_size = outside.iter().any(|&index| !view.set_up.measure[index].over_bar);
    hold::let_go(view, view.next, to_size, steps);
    steps.because("Deburr the new edges before you measure.", "a burr adds to every size taken over it");
    outside.iter().for_each(|&index| stop(view, index, steps));
    if to_size {
        off_size(
            "Over its limits: put the piece back as it was, touch off on the face just cut, take what is over in one more \
             finishing pass and measure again.",
            "Over: back as it was, touch off on the face just cut, one more finishing pass.",
            steps,
        );
    }
}

/// What a size outside its limits asks for.
fn off_size(over: &str, over_again: &str, steps: &mut Steps) {
    let again = !steps.first_time("off size");
    let full = "Under its limits: stop, no cut brings it back; say so before more work goes into it.";
    match (
        again,
        steps.first_time(if over.starts_with("Over its limits: take") { "over, held" } else { "over, loose" }),
    ) {
        (false, _) => steps.does(format!("{over} {full}")),
        (true, true) => steps.does(format!("{over} Under: stop.")),
        (true, false) => steps.does(format!("{over_again} Under: stop.")),
    }
}

/// Whether the last stop leaves the piece on the bench.
pub(super) fn ends_outside(measures: &[Measure]) -> bool {
    measures.iter().any(|measure| !is_before(measure) && is_outside(measure))
}

/// A size over the bar is no size of the part yet, but the next depth is counted from it.
fn stop(view: &View, index: usize, steps: &mut Steps) {
    steps.stop(index);
    if view.set_up.measure[index].over_bar && steps.first_time("bar behind") {
        steps.does(
            "Write it down: the depth of the opposite face is set from it. Outside its limits, see first that the bar \
             still covers every corner.",
        );
    }
}

fn back(view: &View, steps: &mut Steps) {
    hold::put_back(view, steps);
    match view.set_up.passes.len().checked_sub(2) {
        Some(taken) => zero::touch_off_again(view, taken, steps),
        None => zero::touch_off(view, steps),
    }
}

/// Where the new face meets faces that are true already.
fn try_square(view: &View, steps: &mut Steps) {
    try_angle(view, steps);
    vee::try_angle(view, steps);
    let mut flats: Vec<&String> = view
        .set_up
        .jaws
        .iter()
        .filter(|jaw| jaw.vee.is_none())
        .map(|jaw| &jaw.bears_on)
        .filter(|on| !UNFINISHED.contains(&on.as_str()))
        .collect();
    flats.sort();
    flats.dedup();
    if flats.is_empty() {
        return;
    }
    steps.because(
        format!(
            "Spindle at rest: try a square from {} to {} before you loosen a jaw.",
            list(&flats),
            list(&view.set_up.cuts_faces)
        ),
        "what is out now stays out once the next face is cut from it",
    );
}

/// Where only the setting gave the angle to a finished flat, the protractor proves it while the piece is held.
fn try_angle(view: &View, steps: &mut Steps) {
    let Some(angle) = view.set_up.angle.as_ref().filter(|angle| !angle.looks_to_chuck) else { return };
    steps.because(
        format!(
            "Spindle at rest: lay a bevel protractor over {} and {}: inside angle {}, before you loosen a jaw.",
            angle.flat,
            list(&view.set_up.cuts_faces),
            degrees(180.0 - angle.to_chuck_face_deg)
        ),
        "nothing but this setting gave the angle, and the next flats are cut from it",
    );
}

/// Indices of the measures that are meant, with the piece in the chuck and out of it.
fn stops(view: &View, meant: impl Fn(&Measure) -> bool) -> (Vec<usize>, Vec<usize>) {
    let measures = &view.set_up.measure;
    (0..measures.len()).filter(|&index| meant(&measures[index])).partition(|&index| !is_outside(&measures[index]))
}

/// Measured on the bench, whether that costs a new grip or the piece is out for the next set-up anyway.
fn is_outside(measure: &Measure) -> bool {
    measure.takes_out || measure.when.contains("out of")
}

fn is_before(measure: &Measure) -> bool {
    measure.when.starts_with("before")
}
