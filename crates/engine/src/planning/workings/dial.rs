//! From a depth to what the dial shows.

use super::list::{Workings, given, worked};
use crate::plan::Pass;
use crate::shop::Reads;
use crate::task::Task;

const SHOP: &str = "the shop: the slide that sets the depth";

/// What a turn and a mark of the dial move.
pub fn dial(task: &Task, list: &mut Workings) {
    let dial = &task.lathe.dial;
    let marks = f64::from(dial.marks_per_turn);
    let twice = if dial.reads == Reads::Diameter { 2.0 } else { 1.0 };
    let own_screw = dial.travel_per_turn_mm != dial.painted_travel_mm;
    let travel = if own_screw {
        given("P", dial.travel_per_turn_mm, "the shop: the screw, which the paint does not tell of")
    } else {
        let values = vec![given("p", dial.painted_travel_mm * twice, SHOP), given("k", twice, SHOP)];
        let key = list.add("travel per turn", dial.travel_per_turn_mm, "travel per turn", values);
        worked("P", dial.travel_per_turn_mm, &key)
    };
    list.add(PER_MARK, per_mark_mm(task), "travel per mark", vec![travel, given("m_1", marks, SHOP)]);
}

const PER_MARK: &str = "travel per mark";

fn per_mark_mm(task: &Task) -> f64 {
    task.lathe.dial.travel_per_turn_mm / f64::from(task.lathe.dial.marks_per_turn)
}

/// The dial at the end of a pass.
pub fn pass(task: &Task, pass: &Pass, list: &mut Workings) {
    let dial = &task.lathe.dial;
    let reading = dial.reading(pass.total_mm);
    let marks = reading.marks as f64;
    let travel_mm = pass.total_mm / dial.set_over_rad.cos();
    let travel = list.add(
        "travel of the slide",
        travel_mm,
        "travel of the slide",
        vec![
            given("a_t", pass.total_mm, "the cuts before it and this one, on marks of the dial"),
            given("theta", dial.set_over_rad.to_degrees(), SHOP),
        ],
    );
    let from_zero = list.add(
        "marks from zero",
        marks,
        "marks from zero",
        vec![worked("s", travel_mm, &travel), worked("s_1", per_mark_mm(task), PER_MARK)],
    );
    let in_a_turn = || given("m_1", f64::from(dial.marks_per_turn), SHOP);
    let turns = list.add(
        "whole turns",
        f64::from(pass.dial_turns),
        "whole turns",
        vec![worked("m", marks, &from_zero), in_a_turn()],
    );
    list.add(
        "on the ring",
        pass.dial_reading,
        "on the ring",
        vec![
            worked("m", marks, &from_zero),
            worked("z", f64::from(pass.dial_turns), &turns),
            in_a_turn(),
            given("g", dial.graduation, format!("{SHOP}, {}", dial.unit_name())),
        ],
    );
}
