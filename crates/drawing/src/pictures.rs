//! The pictures of a plan.

use engine::plan::{Plan, SetUp};

use crate::{Figure, Projection};

fn blank(name: String, title: String, room_mm: [f64; 2]) -> Figure {
    Figure { name, size_mm: room_mm, says: title.clone(), title, ..Figure::default() }
}

/// The chuck seen from the tailstock, in at most `room_mm` of paper.
pub fn chuck_view(_plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Figure {
    blank(format!("chuck-{}", set_up.number), format!("Set-up {}: the chuck", set_up.number), room_mm)
}

/// A section along the spindle, in at most `room_mm` of paper.
pub fn side_view(_plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Figure {
    blank(format!("side-{}", set_up.number), format!("Set-up {}: from the side", set_up.number), room_mm)
}

/// The piece before and after a set-up, in at most `room_mm` of paper.
pub fn before_after(_plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Figure {
    blank(format!("before-after-{}", set_up.number), format!("Set-up {}: before and after", set_up.number), room_mm)
}

/// All set-ups in order, in at most `room_mm` of paper.
pub fn order_strip(_plan: &Plan, room_mm: [f64; 2]) -> Figure {
    blank("order".into(), "The order".into(), room_mm)
}

/// The part with its dimensions, in at most `room_mm` of paper.
pub fn part_drawing(_plan: &Plan, _projection: Projection, room_mm: [f64; 2]) -> Figure {
    blank("part".into(), "The part".into(), room_mm)
}

/// The section of the part laid over that of the bar, in at most `room_mm` of paper; also where nothing is planned.
pub fn bar_and_part(_plan: &Plan, room_mm: [f64; 2]) -> Figure {
    blank("bar-and-part".into(), "Bar and part".into(), room_mm)
}
