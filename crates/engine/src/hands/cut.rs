//! The cuts, with what stands between them.

use super::View;
use super::caution::{Caution, Signal};
use super::steps::Steps;
use super::words::{feed, list, rpm};
use super::{hold, start, zero};
use crate::plan::{Pass, PassKind};

/// `Measure::when` of what is measured before the last pass.
pub const BEFORE_LAST_CUT: &str = "before the last cut";
/// `Measure::when` of what is measured after it.
pub const AFTER_LAST_CUT: &str = "after the last cut";

/// Every pass once and in order, every measure once.
pub(super) fn passes(view: &View, steps: &mut Steps) {
    let groups = groups(&view.set_up.passes);
    if groups.is_empty() {
        measure_before(view, steps);
    }
    let last = view.set_up.passes.len().saturating_sub(1);
    for (from, to) in groups {
        if from == last {
            measure_before(view, steps);
        }
        levers(view, from, steps);
        steps.passes(from, to);
        if from == 0 && last > 0 {
            after_the_first(view, steps);
        }
    }
    measure_after(view, steps);
}

/// Before anything is loosened, where the new face meets faces that are true already.
pub(super) fn try_square(view: &View, steps: &mut Steps) {
    let mut flats: Vec<String> = Vec::new();
    for jaw in &view.set_up.jaws {
        if jaw.bears_on != "bar" && !flats.contains(&jaw.bears_on) {
            flats.push(jaw.bears_on.clone());
        }
    }
    flats.sort();
    if flats.is_empty() {
        return;
    }
    steps.because(
        format!(
            "Spindle at rest: try a square from {} to {} before you loosen a jaw.",
            list(&flats),
            list(&view.set_up.cuts_faces)
        ),
        "what is out now is out for good once the next face is cut from it",
    );
}

/// First pass alone, last pass alone, and a new group wherever a lever is moved.
fn groups(passes: &[Pass]) -> Vec<(usize, usize)> {
    let begins = |at: usize| at <= 1 || at + 1 == passes.len() || moved(&passes[at - 1], &passes[at]);
    let starts: Vec<usize> = (0..passes.len()).filter(|&at| begins(at)).collect();
    let ends = starts.iter().skip(1).copied().chain([passes.len()]);
    starts.iter().copied().zip(ends).collect()
}

fn moved(before: &Pass, after: &Pass) -> bool {
    before.rpm != after.rpm || before.feed_mm_per_rev != after.feed_mm_per_rev || before.by_hand != after.by_hand
}

fn levers(view: &View, at: usize, steps: &mut Steps) {
    let passes = &view.set_up.passes;
    let pass = &passes[at];
    if at > 0 && !moved(&passes[at - 1], pass) {
        return;
    }
    let speed = rpm(pass.rpm);
    let along = feed(pass.feed_mm_per_rev, view.units);
    let does = match (pass.by_hand, pass.kind) {
        (true, _) => {
            format!("Spindle at rest: set {speed}. Feed by hand, about {along} a turn, gently where corners strike.")
        }
        (false, PassKind::Finish) => {
            format!("Spindle at rest: set {speed}, cross feed {along} a turn. Feed out through the middle, no dwell.")
        }
        (false, _) => format!("Spindle at rest: set {speed}, cross feed {along} a turn."),
    };
    if at == 0 && passes.iter().any(|pass| pass.entries_per_rev > 0 && pass.in_metal_share < 1.0) {
        steps.careful(does, swinging_corners());
    } else {
        steps.does(does);
    }
}

fn swinging_corners() -> Caution {
    Caution::new(Signal::Danger, "turning corners cannot be seen. Hands, brush and hook stay outside their circle.")
}

fn after_the_first(view: &View, steps: &mut Steps) {
    steps.because(
        "Stop. Look at the chalk line. If it is broken, go no further: find out why first.",
        "work that creeps once creeps again, and further",
    );
    let out_next = view.set_up.passes.len() == 2 && before(view).any(|(_, takes_out)| takes_out);
    if !out_next {
        hold::retighten(view, steps);
        zero::touch_off_again(view, 0, steps);
        start::again(steps);
    }
}

fn measure_before(view: &View, steps: &mut Steps) {
    let stops: Vec<(usize, bool)> = before(view).collect();
    for &(index, _) in &stops {
        steps.stop(index);
    }
    if stops.is_empty() {
        return;
    }
    let out = stops.iter().any(|&(_, takes_out)| takes_out);
    if out {
        hold::put_back(view, steps);
        match view.set_up.passes.len().checked_sub(2) {
            Some(taken) => zero::touch_off_again(view, taken, steps),
            None => zero::touch_off(view, steps),
        }
    }
    steps.because(
        "Correct the last dial reading by what you measured: too much left, further on; too little, less far.",
        "a size comes from a measurement, never from a sum of dial readings",
    );
    if out { start::first_start(view, steps) } else { start::again(steps) }
}

fn measure_after(view: &View, steps: &mut Steps) {
    for (index, measure) in view.set_up.measure.iter().enumerate() {
        if !is_before(&measure.when) {
            steps.stop(index);
        }
    }
}

fn before<'a>(view: &'a View) -> impl Iterator<Item = (usize, bool)> + 'a {
    let measures = view.set_up.measure.iter().enumerate();
    measures.filter(|(_, measure)| is_before(&measure.when)).map(|(index, measure)| (index, measure.takes_out))
}

fn is_before(when: &str) -> bool {
    when.starts_with("before")
}
