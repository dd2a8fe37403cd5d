//! What the hands do: a plan is not only cuts, so each set-up lists what a good hand does, in order.
//!
//! Everything is said from the plan's own values. A reason is told once in a plan; a caution stands
//! at the step that it belongs to and again in the set-up's list, three at most.

mod caution;
mod cut;
mod facts;
mod hold;
mod measure;
mod prepare;
mod start;
mod steps;
mod vee;
mod words;
mod zero;

pub use caution::{Caution, FIVE_SENTENCES, Signal};
pub use facts::{Facts, Nose, OverBar};
pub use measure::{AFTER_LAST_CUT, BEFORE_LAST_CUT};

use crate::plan::{Plan, SetUp};
use crate::quantity::Units;
use steps::Steps;
use words::Words;

/// Most cautions that a set-up may carry: a wall of warnings is skipped.
pub const MOST_CAUTIONS: usize = 3;

/// Fills every set-up's `hands` and `cautions` and the plan's `cautions`. What stands in the lists of
/// cautions already is kept and comes first. A measure whose `when` begins with "before" is put before
/// the last pass, every other one after it, and on the bench where `takes_out` or `when` says "out of".
pub fn fill(plan: &mut Plan, facts: &Facts) {
    let mut bare = std::mem::take(&mut plan.set_ups);
    for caution in bare.iter_mut().flat_map(|set_up| &mut set_up.cautions) {
        *caution = caution::in_capitals(caution);
    }
    let mut reasons = steps::Reasons::default();
    let mut filled: Vec<SetUp> = Vec::with_capacity(bare.len());
    for (index, set_up) in bare.iter().enumerate() {
        let view = View {
            set_up,
            before: &filled,
            next: bare.get(index + 1),
            first: index == 0,
            round: plan.stock.form == "round",
            facts,
            units: plan.units,
        };
        let (hands, cautions) = one_set_up(&view, Steps::new(&mut reasons, &set_up.cautions)).done();
        filled.push(SetUp { hands, cautions, ..set_up.clone() });
    }
    if let Some(last) = filled.last_mut() {
        prepare::close(last);
    }
    plan.set_ups = filled;
    caution::at_the_head(&mut plan.cautions);
    if !plan.set_ups.is_empty() {
        caution::for_the_job(&mut plan.cautions, facts, &Words::of(plan.units));
    }
}

/// What the slide that sets the depth is called where the shop gives it no name: the upper slide.
pub fn depth_slide(units: Units) -> &'static str {
    Words::of(units).depth_slide
}

/// What the steps of one set-up are said from.
struct View<'a> {
    set_up: &'a SetUp,
    before: &'a [SetUp],
    next: Option<&'a SetUp>,
    first: bool,
    /// A side cut from a round bar is first met on a line.
    round: bool,
    facts: &'a Facts,
    units: Units,
}

impl View<'_> {
    fn words(&self) -> Words {
        Words::of(self.units)
    }
}

fn one_set_up<'a>(view: &View, mut steps: Steps<'a>) -> Steps<'a> {
    prepare::clean(view, &mut steps);
    hold::grip(view, &mut steps);
    zero::tool(view, &mut steps);
    zero::touch_off(view, &mut steps);
    start::first_start(view, &mut steps);
    cut::passes(view, &mut steps);
    measure::after_the_last(view, &mut steps);
    steps
}

#[cfg(test)]
mod tests;
