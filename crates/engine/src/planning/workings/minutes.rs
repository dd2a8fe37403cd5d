//! Minutes and metal, added up.

use super::list::{Workings, given, listed, worked};
use super::{Told, taken};
use crate::plan::{Minutes, SetUp};
use crate::planning::vee;
use crate::planning::way::sets_depth;

pub fn set_up(told: &Told, list: &mut Workings) {
    let passes = |of: fn(&crate::plan::Pass) -> f64| told.taken.iter().map(|taken| of(&taken.pass)).collect::<Vec<_>>();
    let each = "the passes, each worked out by itself";
    let minutes = listed("t_i", passes(|pass| pass.minutes), each);
    list.add("minutes in the cut", told.minutes.cutting, "minutes in the cut", vec![minutes]);
    let removed = listed("V_i", passes(|pass| pass.removed_mm3), each);
    list.add("metal removed", told.removed_mm3, "metal removed in a set-up", vec![removed]);
    handling(told, list);
    let (task, measured) = (told.task, told.chosen.way.measure.len());
    let from = taken(task, "minutes for one measurement", "the shop");
    let each = listed("t_j", vec![task.minutes.measure; measured], from);
    list.add("minutes of measuring", told.minutes.measuring, "minutes of measuring", vec![each]);
}

fn handling(told: &Told, list: &mut Workings) {
    let (task, way) = (told.task, &told.chosen.way);
    let minutes = &task.minutes;
    let by_hand = sets_depth(way.facing.depth.seat);
    let out = way.measure.iter().filter(|measure| measure.takes_out).count() as f64;
    let first = if told.chosen.kept.is_empty() { "minutes for the first set-up" } else { TURN };
    let vees = vee::count(&way.facing.lie) as f64;
    let values = vec![
        given("t_s", told.chosen.set_up_minutes, taken(task, first, "the shop")),
        given("t_o", minutes.touch_off, taken(task, "minutes to touch off and zero", "the shop")),
        given("k", way.facing.cuts.len() as f64, "the passes of this set-up"),
        given("t_p", minutes.next_pass, taken(task, "minutes between two passes", "the shop")),
        if by_hand {
            let what = "minutes to set the depth in the jaws without a seat";
            given("t_d", minutes.set_depth, taken(task, what, "the shop"))
        } else {
            given("t_d", 0.0, "seated: no depth is set by hand")
        },
        given("j", out, "what is measured in this set-up"),
        given("t_w", minutes.turn_piece, taken(task, TURN, "the shop")),
    ];
    let row = "minutes of handling";
    if vees == 0.0 {
        list.add(row, told.minutes.handling, row, values);
        return;
    }
    let bare = told.minutes.handling - vees * minutes.lay_vee;
    let without = list.add("minutes of handling, vees not counted", bare, row, values);
    let laid = vec![
        worked("t_b", bare, &without),
        given("v", vees, "the jaws that bear through a vee"),
        given("t_v", minutes.lay_vee, taken(task, "minutes to lay a vee", "the shop, or common practice, no source")),
    ];
    list.add(row, told.minutes.handling, "minutes of handling, with vees", laid);
}

const TURN: &str = "minutes to turn the piece in the chuck";

/// All set-ups together.
pub fn plan(minutes: Minutes, set_ups: &[SetUp], list: &mut Workings) {
    let mut add = |what: &str, value: f64, of: fn(&Minutes) -> f64| {
        let each = set_ups.iter().map(|set_up| of(&set_up.minutes)).collect();
        list.add(what, value, "minutes of all set-ups", vec![listed("t_k", each, "the set-ups, each by itself")]);
    };
    add("minutes of handling", minutes.handling, |of| of.handling);
    add("minutes in the cut", minutes.cutting, |of| of.cutting);
    add("minutes of measuring", minutes.measuring, |of| of.measuring);
    add("minutes of the whole plan", minutes.total(), Minutes::total);
}
