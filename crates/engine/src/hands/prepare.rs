//! Before the piece goes in, and after it comes out for the last time.

use super::facts::OverBar;
use super::steps::Steps;
use super::words;
use super::{View, hold, measure};
use crate::plan::{Hand, SetUp};

/// Out of the jaws where it is still in them; then letter, deburr, wipe.
pub(super) fn clean(view: &View, steps: &mut Steps) {
    let seat = if view.set_up.seat.is_some() { ", the seat" } else { "" };
    let wipe = format!("Wipe the jaws{seat} and the work.");
    let Some(last) = view.before.last() else {
        reverse_jaws(view, steps);
        steps.because(
            format!("Mark in ink where {} will be.", words::faces(&view.set_up.cuts_faces)),
            "the letters say later which face meets which jaw",
        );
        over_the_bar(view, steps);
        steps.because(wipe, "one chip under the work puts the new face out of square");
        return;
    };
    let letter = format!("Letter the face just cut: {}.", words::list(&last.cuts_faces));
    if measure::ends_outside(&last.measure) {
        steps.does(format!("{letter} {wipe}"));
    } else {
        hold::let_go(view, Some(view.set_up), false, steps);
        steps.because(
            format!("{letter} Deburr its edges, away from the chuck. {wipe}"),
            "a burr under a jaw tips the work",
        );
    }
}

/// Jaws turned end for end: the machinist does it before all else.
fn reverse_jaws(view: &View, steps: &mut Steps) {
    if !view.facts.jaws_reversed {
        return;
    }
    steps.because(
        "Power off at the main switch. Turn the jaws end for end: run each out of its slot, clean slot and thread, run it \
         in turned round, each in the slot of its own number.",
        "the work is larger than the jaws open for as they are",
    );
    steps.does("Run each jaw by its key from one end of its travel to the other: it goes freely and its thread is whole in the body.");
}

/// On a bar with flats the sides are marked out by them: which lies under a flat, which under a corner.
fn over_the_bar(view: &View, steps: &mut Steps) {
    let over = |what: OverBar| {
        let names = view.facts.over_the_bar.iter().filter(|(_, over)| *over == what).map(|(name, _)| name);
        names.collect::<Vec<_>>()
    };
    let said = [(over(OverBar::Flat), "a flat"), (over(OverBar::Corner), "a corner")]
        .into_iter()
        .filter(|(names, _)| !names.is_empty())
        .map(|(names, what)| match names.len() {
            1 => format!("{} lies under {what} of it", words::list(&names)),
            _ => format!("{} lie under {what} of it each", words::list(&names)),
        })
        .collect::<Vec<_>>();
    if !said.is_empty() {
        steps.does(format!("Letter the bar for its sides: {}.", said.join("; ")));
    }
}

/// After the last cut of all.
pub(super) fn close(last: &mut SetUp) {
    let letters = words::list(&last.cuts_faces);
    let letter = if measure::ends_outside(&last.measure) {
        "Letter"
    } else {
        "Spindle at rest: loosen the jaws, take the piece out and letter"
    };
    last.hands.push(step(format!("{letter} the face just cut: {letters}.")));
    last.hands.push(step("Break every edge, unless the drawing says otherwise.".to_string()));
}

fn step(does: String) -> Hand {
    Hand::Do { does, why: None }
}
