//! Before the piece goes in, and after it comes out for the last time.

use super::steps::Steps;
use super::words;
use super::{View, measure};
use crate::plan::{Hand, SetUp};

/// Letter, deburr, wipe.
pub(super) fn clean(view: &View, steps: &mut Steps) {
    match view.before.last() {
        None => steps.because(
            format!("Mark in ink where {} will be.", words::faces(&view.set_up.cuts_faces)),
            "the letters say later which face meets which jaw",
        ),
        Some(last) => {
            steps.does(format!("Letter the face just cut: {}.", words::list(&last.cuts_faces)));
            if !measure::ends_outside(&last.measure) {
                steps.because("Deburr its edges, away from the chuck.", "a burr under a jaw tips the work");
            }
        }
    }
    let seat = if view.set_up.seat.is_some() { ", the seat" } else { "" };
    steps.because(
        format!("Wipe the jaws{seat} and the work."),
        "one chip under the work puts the new face out of square",
    );
}

/// After the last cut of all.
pub(super) fn close(last: &mut SetUp) {
    let letters = words::list(&last.cuts_faces);
    let letter = if measure::ends_outside(&last.measure) { "Letter" } else { "Take the piece out and letter" };
    last.hands.push(step(format!("{letter} the face just cut: {letters}.")));
    last.hands.push(step("Break every edge, unless the drawing says otherwise.".to_string()));
}

fn step(does: String) -> Hand {
    Hand::Do { does, why: None }
}
