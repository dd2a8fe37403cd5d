//! Ledges of the jaws: how far in the piece rests on each, and whether that is enough to be tapped down on.

use super::hold::reach_mm;
use super::lie::Lie;
use super::search::Chosen;
use super::window::SeatOn;
use crate::quantity::show;
use crate::task::Task;

/// What of the piece lies on the ledges that carry the least of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rests {
    /// How far in it rests on the ledge of that jaw, mm; 0: not at all.
    pub mm: f64,
    /// How wide the ledges are, mm.
    pub width_mm: f64,
    /// The most packing between jaw and work, mm; vees count with all that they keep the work away.
    pub kept_off_mm: f64,
}

/// How far in the piece rests on the ledge of each jaw, mm, in order round the chuck from X, nothing where it lies on less
/// than the least of the ledge's breadth; empty: the jaws have none, or what is behind is no flat.
pub fn rests_mm(task: &Task, lie: &Lie) -> Vec<f64> {
    let Some(step) = task.chuck.step else { return Vec::new() };
    let flat = lie.behind_mm.0 > 0.0 && lie.behind_mm.1 > 0.0;
    let on = |at: usize| {
        let narrow = broad_mm(task, lie, at) < task.rules.least_on_ledge_mm - 1e-9;
        let rests = out_behind_mm(lie, at) - (reach_mm(task, &lie.sides[at]) - step.width_mm);
        if narrow { 0.0 } else { rests.max(0.0) }
    };
    if flat { (0..lie.sides.len()).map(on).collect() } else { Vec::new() }
}

/// How far out towards a jaw the flat behind reaches from the spindle axis, mm.
fn out_behind_mm(lie: &Lie, at: usize) -> f64 {
    let side_mm = lie.sides[at].out_mm;
    // Lying across, the flat behind may end before the side does that the jaw beside it bears on.
    match (lie.sides.len(), at) {
        (4, 0) => lie.flat_behind_mm.1.min(side_mm),
        (4, 2) => (-lie.flat_behind_mm.0).min(side_mm),
        _ => side_mm,
    }
}

/// Over how much of a jaw's breadth the flat behind lies before it, mm.
fn broad_mm(task: &Task, lie: &Lie, at: usize) -> f64 {
    let half_mm = task.chuck.jaw_width_mm / 2.0;
    // The ends of work lying across: the flat behind may be narrow there, or beside the jaw.
    match (lie.sides.len(), at) {
        (4, 1 | 3) => lie.flat_behind_mm.1.min(half_mm) - lie.flat_behind_mm.0.max(-half_mm),
        _ => (2.0 * half_mm).min(lie.behind_mm.1),
    }
}

/// Along which axes of the set-up (X, Y) the piece lies on the ledges of both opposed jaws; without opposed jaws along
/// both or none, as it lies on all of them.
pub fn along(task: &Task, lie: &Lie) -> [bool; 2] {
    let rests = rests_mm(task, lie);
    let carries = |at: usize| rests.get(at).is_some_and(|rests| *rests >= task.rules.least_on_ledge_mm - 1e-9);
    if lie.sides.len() == 4 {
        return [0, 1].map(|axis| carries(axis) && carries(axis + 2));
    }
    [!rests.is_empty() && (0..rests.len()).all(carries); 2]
}

/// Whether it can be tapped down on them: two opposed ledges do, and with three jaws all.
pub fn carry(task: &Task, lie: &Lie) -> bool {
    along(task, lie).contains(&true)
}

/// Why they do not carry it, where they are too narrow for it.
pub fn too_narrow(task: &Task, lie: &Lie) -> Option<Rests> {
    let (step, rests) = (task.chuck.step?, rests_mm(task, lie));
    if rests.is_empty() || carry(task, lie) {
        return None;
    }
    let least = |all: &[usize]| all.iter().map(|&at| rests[at]).fold(f64::MAX, f64::min);
    let mm = match rests.len() {
        4 => least(&[0, 2]).max(least(&[1, 3])),
        jaws => least(&(0..jaws).collect::<Vec<_>>()),
    };
    let kept_off_mm = lie.sides.iter().map(|side| reach_mm(task, side) - side.out_mm).fold(0.0, f64::max);
    Some(Rests { mm, width_mm: step.width_mm, kept_off_mm })
}

/// The least that opposed bearing faces stand apart: what the chuck closes to, or where the ledges of its jaws meet.
pub fn closes_to_mm(task: &Task) -> f64 {
    task.chuck.opening_mm.0.max(task.chuck.step.map_or(0.0, |step| 2.0 * step.width_mm))
}

/// What is said at the head of the plan where ledges are there and too narrow for a piece that is set by hand instead.
pub fn notice(task: &Task, chosen: &[Chosen]) -> Option<String> {
    let by_hand = |one: &&Chosen| matches!(one.way.facing.depth.seat, SeatOn::Nothing | SeatOn::Stop(_));
    let narrow: Vec<(&str, Rests)> = chosen
        .iter()
        .filter(by_hand)
        .filter_map(|one| {
            let lie = &one.way.facing.lie;
            Some((task.faces[lie.face].name.as_str(), too_narrow(task, lie)?))
        })
        .collect();
    let (_, rests) = narrow.first()?;
    let faces: Vec<&str> = narrow.iter().map(|(face, _)| *face).collect();
    let [width, on, least] =
        [rests.width_mm, rests.mm, task.rules.least_on_ledge_mm].map(|mm| show::length(mm, task.units));
    Some(format!(
        "NOTICE: {}: the ledges of its jaws, {width} wide, are no seat for face {}: the piece would lie on {on} of them{}, \
         and less than {least} squares nothing. It is set by hand there; jaws with a wider ledge{} let it be tapped down.",
        task.chuck.name,
        faces.join(", "),
        kept_off(task, rests),
        if rests.kept_off_mm > 0.0 { " or thinner packing" } else { "" },
    ))
}

/// "; 2.00 mm of packing keep it off".
pub fn kept_off(task: &Task, rests: &Rests) -> String {
    if rests.kept_off_mm <= 0.0 {
        return String::new();
    }
    format!(", since what lies between jaw and work keeps it {} off", show::length(rests.kept_off_mm, task.units))
}
