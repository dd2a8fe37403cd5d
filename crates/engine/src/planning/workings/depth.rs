//! How deep the work sits in the jaws and how far it stands out.

use super::list::{Given, Workings, given, worked};
use super::{Told, rule};
use crate::planning::window::{SeatOn, contact_bite, gripped_mm, least_stick_out, trade_bite, whole_below};

const PIECE: &str = "the piece as it is";
const JAW: &str = "the shop: the chuck's jaws";

/// Key of the stick-out.
pub const STICK_OUT: &str = "stick-out";
/// Key of the bite.
pub const BITE: &str = "bite";

pub fn depth(told: &Told, list: &mut Workings) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let (lie, rules) = (&facing.lie, &task.rules);
    let cut = list.add(
        "depth to cut",
        lie.top_mm - lie.floor_mm,
        "depth to cut",
        vec![given("h_0", lie.top_mm, PIECE), given("h_1", lie.floor_mm, "the job, the middle of the limits")],
    );
    let least = list.add(
        "least stick-out",
        least_stick_out(task, lie),
        "least stick-out",
        vec![
            worked("a", lie.top_mm - lie.floor_mm, &cut),
            given("c", rules.clearance_mm, rule("clearance of tool and jaws")),
            given("m", rules.margin_mm, rule("margin of stick-out")),
        ],
    );
    let height = list.add(
        "height of the piece",
        lie.top_mm - lie.back_mm,
        "height of the piece",
        vec![given("h_0", lie.top_mm, PIECE), given("h_b", lie.back_mm, PIECE)],
    );
    bite_and_stick_out(told, (&height, &least), list);
    list.add(
        "most stick-out",
        told.most_stick_out_mm,
        "most stick-out",
        vec![
            out(told),
            bite(told, "b"),
            given("b_0", told.least_bite_mm, "sought by halving the bite until the cuts just hold"),
            given("k", rules.overhang, rule("overhang")),
            given("D", gripped_mm(lie), PIECE),
        ],
    );
}

fn bite_and_stick_out(told: &Told, (height, least): (&str, &str), list: &mut Workings) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let (lie, depth) = (&facing.lie, &facing.depth);
    let tall = || worked("H", lie.top_mm - lie.back_mm, height);
    let least = || worked("l_0", least_stick_out(task, lie), least);
    let jaw = || given("l_j", task.chuck.jaw_length_mm, JAW);
    let bears = || given("l_j", task.chuck.bears_mm(), JAW);
    let mut add_bite = |row, values| list.add(BITE, depth.bite_mm, row, values);
    let behind = |packing_mm| {
        given(
            "p",
            packing_mm,
            "the shop: the thinnest behind that lets the cut clear the jaws, with something to spare where there is such",
        )
    };
    match depth.seat {
        SeatOn::ChuckFace => add_bite("bite on a seat", vec![jaw(), behind(0.0)]),
        SeatOn::Parallels(packing_mm) => add_bite("bite on a seat", vec![jaw(), behind(packing_mm)]),
        SeatOn::JawStep => {
            let ledge = "the shop: the ledge of the chuck's jaws";
            let behind = given("p", task.chuck.jaw_length_mm - depth.bite_mm, ledge);
            add_bite("bite on a seat", vec![jaw(), behind])
        }
        SeatOn::Nothing | SeatOn::Stop(_) if through_the_jaws(told) => {
            add_bite("bite of a bar in the hole", vec![bears()])
        }
        SeatOn::Nothing | SeatOn::Stop(_) => {
            add_bite("bite set by hand", vec![tall(), least(), by_hand(told), bears()])
        }
    };
    let (row, values) = if through_the_jaws(told) {
        ("stick-out of a bar in the hole", vec![least(), by_hand(told)])
    } else {
        ("stick-out", vec![tall(), bite(told, "b")])
    };
    list.add(STICK_OUT, depth.stick_out_mm, row, values);
}

/// How far off a depth set by hand may be, where the bite leaves room for it.
fn by_hand(told: &Told) -> Given {
    let (task, lie) = (told.task, &told.chosen.way.facing.lie);
    let off_mm = task.rules.set_by_hand_mm;
    let room_mm = (lie.top_mm - lie.back_mm - least_stick_out(task, lie) - off_mm).min(task.chuck.jaw_length_mm);
    if through_the_jaws(told) || whole_below(room_mm) >= contact_bite(task, lie).max(trade_bite(task, lie)) {
        given("e", off_mm, rule("set by hand"))
    } else {
        given("e", 0.0, "no room for it: contacts and trade ask a deeper bite")
    }
}

/// Part of the bar lies behind the jaws, in the hole.
fn through_the_jaws(told: &Told) -> bool {
    let facing = &told.chosen.way.facing;
    let held_mm = facing.depth.stick_out_mm + facing.depth.bite_mm;
    facing.lie.top_mm - facing.lie.back_mm - held_mm > 1e-6
}

/// The bite, where a formula asks for it.
pub fn bite(told: &Told, symbol: &'static str) -> Given {
    worked(symbol, told.chosen.way.facing.depth.bite_mm, BITE)
}

/// The stick-out, where a formula asks for it.
pub fn out(told: &Told) -> Given {
    worked("l", told.chosen.way.facing.depth.stick_out_mm, STICK_OUT)
}
