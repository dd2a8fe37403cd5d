//! From the last look to the first start.

use super::View;
use super::caution::{Caution, Signal};
use super::steps::Steps;
use super::words::rpm;
use crate::quantity::show::length;

/// One turn by hand, a chalk line, the guard, the lowest speed; in full the first time in a plan.
pub(super) fn first_start(view: &View, steps: &mut Steps) {
    let turn = "Turn the chuck one full turn by hand";
    let in_front = in_front_of_the_jaws(view);
    let lowest = view.facts.lowest_rpm.map_or_else(|| "the lowest speed".to_string(), rpm);
    if !steps.first_time("first start") {
        steps
            .does(format!("{turn}: all clear.{in_front} Chalk line over each jaw, tool clear across; shut the guard."));
        careful_off_axis(
            view,
            format!("First start as before, at {lowest}, out of line. Nothing may have moved."),
            steps,
        );
        return;
    }
    steps.because(
        format!("{turn}: jaws and corners clear tool, post and slides.{in_front}"),
        "what touches by hand strikes under power",
    );
    steps.because("Draw a chalk line over each jaw and the work.", "a broken line shows creep that the eye does not");
    steps.does("Draw the tool clear across. Shut the guard.");
    steps.because(
        format!(
            "First start, at {lowest}: stand out of line, a hand on the stop. Listen. Stop. Nothing may have moved."
        ),
        "what is loose comes off at the first start, in the plane of the chuck",
    );
    if let Some(caution) = off_axis(view) {
        steps.careful("Go up to the speed of the cut a step at a time.", caution);
    }
}

fn careful_off_axis(view: &View, does: String, steps: &mut Steps) {
    match off_axis(view) {
        Some(caution) => steps.careful(does, caution),
        None => steps.does(does),
    }
}

/// A piece that sits off the spindle axis shakes the lathe and is thrown if it comes loose.
fn off_axis(view: &View) -> Option<Caution> {
    let [across, up, _] = view.set_up.audit.mass_centre_mm;
    let off_mm = across.hypot(up);
    (off_mm >= view.facts.off_axis_mm).then(|| {
        let off = length(off_mm, view.units);
        Caution::new(
            Signal::Caution,
            format!(
                "the piece sits {off} off the spindle axis, out of balance: the lowest speed first, clear of its \
                 plane; if the lathe shakes, a slower step."
            ),
        )
    })
}

/// After a stop between two passes; `more`: what this pass asks besides.
pub(super) fn again(view: &View, more: &str, steps: &mut Steps) {
    steps.does(format!("Tool clear, {} out, guard shut: start again.{more}", view.words().key));
}

fn in_front_of_the_jaws(view: &View) -> String {
    let deep = view.set_up.passes.last().map_or(0.0, |pass| pass.total_mm);
    let left = view.set_up.stick_out.set_mm - deep;
    if left > 0.0 { format!(" The last cut passes the jaws by {}.", length(left, view.units)) } else { String::new() }
}
