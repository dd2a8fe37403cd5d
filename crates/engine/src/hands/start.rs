//! From the last look to the first start.

use super::View;
use super::steps::Steps;
use super::words::rpm;
use crate::quantity::show::length;

/// One turn by hand, a chalk line, the guard, the lowest speed.
pub(super) fn first_start(view: &View, steps: &mut Steps) {
    turn_by_hand(view, steps);
    steps.because("Draw a chalk line over each jaw and the work.", "a broken line shows creep that the eye does not");
    steps.does("Draw the tool clear across. Shut the guard.");
    let lowest = view.facts.lowest_rpm.map_or_else(|| "the lowest speed".to_string(), rpm);
    steps.because(
        format!(
            "First start, at {lowest}: stand out of line, a hand on the stop. Listen. Stop. Nothing may have moved."
        ),
        "what is loose comes off at the first start, in the plane of the chuck",
    );
}

/// After a stop between two passes.
pub(super) fn again(view: &View, steps: &mut Steps) {
    steps.does(format!("Tool clear, {} out, guard shut: start again.", view.words().key));
}

fn turn_by_hand(view: &View, steps: &mut Steps) {
    let deep = view.set_up.passes.last().map_or(0.0, |pass| pass.total_mm);
    let left = view.set_up.stick_out.set_mm - deep;
    let clears = if left > 0.0 {
        format!(" The last cut passes {} in front of the jaws.", length(left, view.units))
    } else {
        String::new()
    };
    steps.because(
        format!("Turn the chuck one full turn by hand: jaws and corners clear tool, post and slides.{clears}"),
        "what touches by hand strikes under power",
    );
}
