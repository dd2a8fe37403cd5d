//! The cuts, with what stands between them.

use super::View;
use super::caution::{Caution, Signal};
use super::measure::{self, Measured};
use super::steps::Steps;
use super::words::rpm;
use super::{hold, start, zero};
use crate::plan::{Pass, PassKind};
use crate::quantity::show::feed;

/// Every pass once and in order, with the measures that stand before the last of them.
pub(super) fn passes(view: &View, steps: &mut Steps) {
    let last = view.set_up.passes.len().saturating_sub(1);
    let groups = groups(&view.set_up.passes);
    if groups.is_empty() {
        measure::before_the_last(view, steps);
    }
    for (from, to) in groups {
        let measured = if from == last { measure::before_the_last(view, steps) } else { Measured::Nothing };
        if measured == Measured::OutOfTheChuck {
            start::first_start(view, steps);
        }
        levers(view, from, steps);
        if measured == Measured::InTheChuck || (from > 0 && measured == Measured::Nothing) {
            start::again(view, steps);
        }
        steps.passes(from, to);
        if from == 0 && last > 0 {
            after_the_first(view, steps);
        }
    }
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
            format!("Spindle at rest: set {speed}. Feed by hand, about {along}, gently where corners strike.")
        }
        (false, PassKind::Finish) => {
            format!("Spindle at rest: set {speed}, cross feed {along}. Feed out through the middle, no dwell.")
        }
        (false, _) => format!("Spindle at rest: set {speed}, cross feed {along}."),
    };
    if at == 0 && passes.iter().any(|pass| pass.entries_per_rev > 0 && pass.in_metal_share < 1.0) {
        let given = view.set_up.cautions.iter().find(|caution| caution.contains("corners"));
        match given {
            Some(caution) => steps.noting(does, caution.clone()),
            None => steps.careful(does, swinging_corners()),
        }
    } else {
        steps.does(does);
    }
}

fn swinging_corners() -> Caution {
    Caution::new(Signal::Danger, "turning corners cannot be seen. Hands, brush and hook stay outside their circle.")
}

/// Creep, jaws, zero; where the piece comes out next anyway, only the look.
fn after_the_first(view: &View, steps: &mut Steps) {
    steps.because(
        "Stop. Look at the chalk line. If it is broken, go no further: find out why first.",
        "work that creeps once creeps again, and further",
    );
    let out_next = view.set_up.passes.len() == 2 && measure::takes_out_before_the_last(view);
    if !out_next {
        hold::retighten(view, steps);
        zero::touch_off_again(view, 0, steps);
    }
}
