//! How deep the work sits in the jaws and how far it stands out.

use super::list::{Given, Workings, given, worked};
use super::{Told, rule};
use crate::planning::window::{SeatOn, gripped_mm, least_stick_out};

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
            given("b_0", told.least_bite_mm, "sought by halving the bite (docs/model.md, 5. How the piece lies)"),
            given("k", rules.overhang, rule("overhang")),
            given("D", gripped_mm(lie), PIECE),
        ],
    );
}

fn bite_and_stick_out(told: &Told, (height, least): (&str, &str), list: &mut Workings) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let (lie, depth) = (&facing.lie, &facing.depth);
    let (height_mm, least_mm) = (lie.top_mm - lie.back_mm, least_stick_out(task, lie));
    let jaw = || given("l_j", task.chuck.jaw_length_mm, JAW);
    let packing_mm = match depth.seat {
        SeatOn::ChuckFace => Some(0.0),
        SeatOn::Parallels(height_mm) => Some(height_mm),
        SeatOn::Nothing => None,
    };
    match packing_mm {
        Some(packing_mm) => {
            let packing = given("p", packing_mm, "the shop: the thinnest behind that lets the cut clear the jaws");
            list.add(BITE, depth.bite_mm, "bite on a seat", vec![jaw(), packing]);
        }
        None if through_the_jaws(told) => {
            list.add(BITE, depth.bite_mm, "bite of a bar in the hole", vec![jaw()]);
            list.add(
                STICK_OUT,
                depth.stick_out_mm,
                "stick-out of a bar in the hole",
                vec![worked("l_0", least_mm, least)],
            );
            return;
        }
        None => {
            let values = vec![worked("H", height_mm, height), worked("l_0", least_mm, least), jaw()];
            list.add(BITE, depth.bite_mm, "bite set by hand", values);
        }
    }
    list.add(STICK_OUT, depth.stick_out_mm, "stick-out", vec![worked("H", height_mm, height), bite(told, "b")]);
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
