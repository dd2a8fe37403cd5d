//! How a jaw's force comes onto work that it does not push squarely: the flanks of a vee, the arc of a bored jaw.

use super::Told;
use super::hold::COUNTED;
use super::list::{Given, Workings, given, worked};
use crate::holding::{self, BoreFit};
use crate::planning::bored::{self, BoredJaw};
use crate::planning::vee;

/// What the flanks of vees and the lines round an arc press with, jaws that do it alike once.
pub fn press(told: &Told, list: &mut Workings) {
    let facing = &told.chosen.way.facing;
    let jaws = facing.lie.sides.len();
    let mut known: Vec<[f64; 3]> = Vec::new();
    for (jaw, at) in (0..jaws).map(|jaw| (jaw + 1, (jaw + told.chosen.turn) % jaws)) {
        if let Some(on) = vee::on(&facing.lie.sides[at]) {
            let kind = vee::kind(told.task, on);
            if first(&mut known, [kind.half_rad, kind.friction, 0.0]) {
                flanks(told, jaw, (kind.half_rad, kind.friction), list);
            }
        } else if let Some(bored) = bored::counted(told.task, facing, at).filter(|bored| bored.fit == BoreFit::Whole)
            && first(&mut known, [bored.arc_rad()[0], bored.arc_rad()[1], bored.length_mm()])
        {
            arc(told, jaw, &bored, list);
        }
    }
}

fn first(known: &mut Vec<[f64; 3]>, this: [f64; 3]) -> bool {
    let new = !known.contains(&this);
    known.push(this);
    new
}

fn counted(told: &Told) -> Given {
    worked("F_j", told.chosen.way.facing.hold.counted_n, COUNTED)
}

fn flanks(told: &Told, jaw: usize, (half_rad, friction): (f64, f64), list: &mut Workings) {
    let flank_n = holding::flank_force_n(told.chosen.way.facing.hold.counted_n, half_rad, friction);
    let values = vec![
        counted(told),
        given("alpha", half_rad.to_degrees(), "the shop: the vee"),
        given("mu", friction, "the shop's vee or packing, or the least of the published tables"),
    ];
    let flank = list.add(&format!("force on a flank at jaw {jaw}"), flank_n, "force on a flank", values);
    let both = vec![worked("N_f", flank_n, &flank)];
    list.add(&format!("force of both flanks at jaw {jaw}"), 2.0 * flank_n, "force of both flanks", both);
}

fn arc(told: &Told, jaw: usize, bored: &BoredJaw, list: &mut Workings) {
    let counted_n = told.chosen.way.facing.hold.counted_n;
    let [_, middle, edge] = holding::arc_points(bored.arc_rad());
    let [one, other] = ends(bored);
    let width = width(jaw, bored, list);
    let from = "the lie of the piece in the jaws";
    list.add(
        &area_key(jaw),
        bored.width_mm() * bored.length_mm(),
        "area of a bored jaw",
        vec![worked("w_b", bored.width_mm(), &width), given("L", bored.length_mm(), from)],
    );
    list.add(
        &format!("force on the middle of jaw {jaw}, both its ends together"),
        middle.1 * counted_n,
        "force on the middle of a bored jaw",
        vec![counted(told), one.clone(), other.clone()],
    );
    list.add(
        &format!("force on an edge of jaw {jaw}, both its ends together"),
        edge.1 * counted_n,
        "force on an edge of a bored jaw",
        vec![counted(told), other, one],
    );
}

fn width(jaw: usize, bored: &BoredJaw, list: &mut Workings) -> String {
    let [one, other] = ends(bored);
    let radius = given("R", bored.bore.work_radius_mm, "the piece as it lies in the jaws");
    let values = vec![radius, other, one];
    list.add(&format!("width that jaw {jaw} spans"), bored.width_mm(), "width of a bored jaw", values)
}

/// Key of the area under a bored jaw.
pub fn area_key(jaw: usize) -> String {
    format!("area under jaw {jaw}")
}

fn ends(bored: &BoredJaw) -> [Given; 2] {
    let from = "half the jaw's front or what its neighbours leave it, and where the round ends";
    let [one, other] = bored.arc_rad().map(f64::to_degrees);
    [given("a_1", one, from), given("a_2", other, from)]
}
