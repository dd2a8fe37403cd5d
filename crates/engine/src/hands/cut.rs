//! The cuts, with what stands between them.

use super::View;
use super::caution::{Caution, Signal};
use super::measure::{self, Measured};
use super::steps::Steps;
use super::words::rpm;
use super::{hold, start, zero};
use crate::plan::{Pass, PassKind};
use crate::quantity::show::{feed, length};

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
        how_to_cut(view, from, steps);
        begin(view, from, measured, steps);
        steps.passes(from, to);
        if from == 0 && last > 0 {
            after_the_first(view, steps);
        }
    }
}

/// Where a pass begins and ends; each way of feeding once in a plan, before its first pass.
fn how_to_cut(view: &View, at: usize, steps: &mut Steps) {
    let pass = &view.set_up.passes[at];
    if !steps.first_time(if pass.by_hand { "cut by hand" } else { "cut by power" }) {
        return;
    }
    let farthest_mm = view.set_up.passes.iter().map(|pass| pass.start_radius_mm).fold(0.0, f64::max);
    let farthest = length(farthest_mm, view.units);
    let (place, clear) =
        if has_corners(view) { ("the farthest corner", "the corners") } else { ("the rim", "the rim") };
    let start = format!("Start each pass with the tool outside {place}, {farthest} from the middle here");
    let does = if pass.by_hand {
        format!(
            "{start}; feed by hand towards the middle, slow and even, gently into the corner strikes, to just past it."
        )
    } else {
        format!("{start}; engage the cross feed towards the middle, knock it off just past the middle.")
    };
    steps.does(does);
    if steps.first_time("tool back out") {
        steps.because(
            format!(
                "After it draw the tool back out, clear of {clear}, before you wind the {} on.",
                view.facts.depth_slide
            ),
            "wound on inside the face, the tool digs in",
        );
    }
}

/// Levers where they move, the start where the spindle stood, and what the finishing pass asks.
fn begin(view: &View, at: usize, measured: Measured, steps: &mut Steps) {
    let passes = &view.set_up.passes;
    let mut finishing =
        if passes[at].kind == PassKind::Finish { " Finishing pass: feed on past the middle, no dwell." } else { "" };
    // Every first start is at the lowest speed, also that of a piece put back.
    let put_back = measured == Measured::OutOfTheChuck;
    let set = at == 0 || put_back || moved(&passes[at - 1], &passes[at]);
    if set {
        levers(view, at, finishing, steps);
        finishing = "";
    }
    let stood =
        put_back || measured == Measured::InTheChuck || (measured == Measured::Nothing && (at == 1 || (at > 0 && set)));
    if stood {
        start::again(view, finishing, steps);
    } else if !finishing.is_empty() {
        steps.does(finishing.trim_start());
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

fn levers(view: &View, at: usize, finishing: &str, steps: &mut Steps) {
    let passes = &view.set_up.passes;
    let pass = &passes[at];
    let speed = rpm(pass.rpm);
    let along = feed(pass.feed_mm_per_rev, view.units);
    let does = if pass.by_hand {
        format!("Spindle at rest: set {speed}. Feed by hand, about {along}.{finishing}")
    } else {
        format!("Spindle at rest: set {speed}, cross feed {along}.{finishing}")
    };
    if at == 0 && has_corners(view) {
        let given = view.set_up.cautions.iter().find(|caution| caution.contains("corners"));
        match given {
            Some(caution) => steps.noting(does, caution.clone()),
            None => steps.careful(does, swinging_corners()),
        }
    } else {
        steps.does(does);
    }
}

/// Whether the tool leaves the metal in a turn.
fn has_corners(view: &View) -> bool {
    view.set_up.passes.iter().any(|pass| pass.entries_per_rev > 0 && pass.in_metal_share < 1.0)
}

fn swinging_corners() -> Caution {
    Caution::new(Signal::Danger, "turning corners cannot be seen. Hands, brush and hook stay outside their circle.")
}

/// Creep, jaws, zero; where the piece comes out next anyway, only the look.
fn after_the_first(view: &View, steps: &mut Steps) {
    let out_next = view.set_up.passes.len() == 2 && measure::takes_out_before_the_last(view);
    let short = "Stop. Look at the chalk line: broken, go no further.";
    let first = steps.first_time("creep");
    match (first, out_next) {
        (true, _) => steps.because(
            "Stop. Look at the chalk line. If it is broken, go no further: find out why first.",
            "work that creeps once creeps again, and further",
        ),
        (false, true) => steps.does(short),
        (false, false) => steps.does(format!("{short} {}", hold::again_round(view))),
    }
    if first && !out_next {
        hold::retighten(view, steps);
    }
    if !out_next {
        zero::touch_off_again(view, 0, steps);
    }
}
