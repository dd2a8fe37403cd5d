//! The window of the stick-out: what must stand out, what may, and which parallels set it.

use super::hold::reach_mm;
use super::ledge::{self, Rests};
use super::lie::{Bearing, Lie};
use super::vee;
use crate::plan::ContactKind;
use crate::task::Task;

/// How deep the work sits and on what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Depth {
    /// What the work is tapped back against.
    pub seat: SeatOn,
    /// How deep the work sits in the jaws.
    pub bite_mm: f64,
    /// Jaw front to the raw top.
    pub stick_out_mm: f64,
    /// The bite is less than the trade's rule asks; used only when nothing else holds.
    pub shallow: bool,
}

/// What the work is tapped back against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SeatOn {
    /// The chuck face.
    ChuckFace,
    /// Parallels of this height.
    Parallels(f64),
    /// The ledge of the jaws.
    JawStep,
    /// A stop in the spindle, its end so far out of the chuck face, mm; negative: behind it.
    Stop(f64),
    /// Nothing: depth set by hand.
    Nothing,
}

/// Why no depth will do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NoDepth {
    /// Least stick-out that the cut needs.
    pub least_stick_out_mm: f64,
    /// Most stick-out that the bite allows.
    pub most_stick_out_mm: f64,
    /// Of the piece along the spindle.
    pub height_mm: f64,
    /// The bite that the contacts need.
    pub needed_bite_mm: f64,
    /// The bite must reach past the widest line of a round.
    pub for_widest_line: bool,
    /// Parallels find no room beside the jaws.
    pub no_room: bool,
    /// Width of the vees that the jaws must back; `None`: there are none.
    pub vee_mm: Option<f64>,
    /// The jaws have ledges, too narrow to carry it.
    pub ledge: Option<Rests>,
    /// What is asked of the finished face's distance from the middle of a round, so that any bar can be held for it.
    pub least_half_mm: f64,
}

/// What must stand out: depth to be cut, clearance of tool and jaws, a margin.
pub fn least_stick_out(task: &Task, lie: &Lie) -> f64 {
    lie.top_mm - lie.floor_mm + task.rules.clearance_mm + task.rules.margin_mm
}

/// The least bite that the contacts bear at all: past the widest line, deep enough on every flat.
pub fn contact_bite(task: &Task, lie: &Lie) -> f64 {
    let from_side = |bearing: &Bearing| match bearing {
        Bearing::Across { n_mm, .. } => n_mm - lie.back_mm + task.rules.past_widest_mm,
        Bearing::Along { .. } => task.rules.least_bite_mm,
        // Where a flat begins above the back of the piece, the bite counts from there.
        Bearing::Area(area) => {
            (-area.extent_mm(std::f64::consts::PI) - lie.back_mm).max(0.0) + task.rules.least_bite_mm
        }
        Bearing::Vee(on) => vee::needed_bite_mm(task, lie, on),
    };
    lie.sides.iter().map(|side| from_side(&side.bearing)).fold(task.rules.least_bite_mm, f64::max)
}

/// The least bite that the trade's rule asks: a third of the length along the spindle or half the
/// gripped size, whichever is less.
pub fn trade_bite(task: &Task, lie: &Lie) -> f64 {
    let length = lie.top_mm - lie.back_mm;
    (length * task.rules.least_bite_of_length).min(gripped_mm(lie) * task.rules.least_bite_of_size)
}

/// What may stand out unsupported.
pub fn most_overhang(task: &Task, lie: &Lie) -> f64 {
    task.rules.overhang * gripped_mm(lie)
}

/// The smaller size between opposed jaws; the diameter in a self-centring chuck.
pub fn gripped_mm(lie: &Lie) -> f64 {
    let jaws = lie.sides.len();
    let across = |at: usize| {
        let opposite = if jaws.is_multiple_of(2) { (at + jaws / 2) % jaws } else { at };
        lie.sides[at].out_mm + lie.sides[opposite].out_mm
    };
    (0..jaws).map(across).fold(f64::MAX, f64::min)
}

/// Whether the contacts include a round lying across.
pub fn lies_on_round(lie: &Lie) -> bool {
    lie.sides.iter().any(|side| side.kind == ContactKind::LineAcross)
}

/// The depths on a seat, the best first: the thinnest packing behind, hence the deepest bite, that lets the cut clear
/// the jaws with something to spare at both ends of the window; then, if that is another, the thinnest at all.
pub fn seated(task: &Task, lie: &Lie) -> Vec<Result<Depth, NoDepth>> {
    let thinnest = seated_clear_of(task, lie, least_stick_out(task, lie));
    let spare_mm = task.rules.spare_stick_out_mm;
    let most_mm = lie.top_mm - lie.back_mm - contact_bite(task, lie).max(trade_bite(task, lie));
    let most_mm = most_mm.min(most_overhang(task, lie)) - spare_mm;
    let roomy = seated_clear_of(task, lie, least_stick_out(task, lie) + spare_mm)
        .ok()
        .filter(|depth| depth.stick_out_mm <= most_mm + 1e-9 && thinnest.as_ref().ok() != Some(depth));
    roomy.map(Ok).into_iter().chain([thinnest]).collect()
}

/// The depth on the thinnest packing behind that leaves at least this much standing out.
fn seated_clear_of(task: &Task, lie: &Lie, clear_mm: f64) -> Result<Depth, NoDepth> {
    let face_bridges =
        lie.behind_mm.0.max(lie.behind_mm.1) >= task.chuck.bore_mm + 2.0 * task.rules.seat_beyond_hole_mm;
    let parallels_bridge = task.parallels_length_mm >= task.chuck.bore_mm + 2.0 * task.rules.seat_beyond_hole_mm;
    let on_face = face_bridges.then_some((0.0, SeatOn::ChuckFace));
    let on_parallels = task.parallels_mm.iter().map(|&height| (height, SeatOn::Parallels(height)));
    let parallels_fit = parallels_bridge && parallels_run(task, lie).is_some();
    // Where the jaws have a ledge nothing goes deeper than it.
    let on_step = task.chuck.step.map(|_| (task.chuck.jaw_length_mm - task.chuck.bears_mm(), SeatOn::JawStep));
    let others = on_face.into_iter().chain(on_parallels.filter(|_| parallels_fit));
    let choices: Vec<(f64, SeatOn)> = match on_step {
        Some(step) => ledge::carry(task, lie).then_some(step).into_iter().collect(),
        None => others.collect(),
    };
    let narrow = ledge::too_narrow(task, lie);
    let mut deepest = None;
    for (packing, seat) in choices {
        let bite_mm = task.chuck.jaw_length_mm - packing;
        let stick_out_mm = lie.top_mm - lie.back_mm - bite_mm;
        if bite_mm > 0.0 && stick_out_mm >= clear_mm - 1e-9 {
            deepest = Some((bite_mm, stick_out_mm, seat));
            break;
        }
    }
    let (bite_mm, stick_out_mm, seat) = deepest.ok_or_else(|| NoDepth { ledge: narrow, ..no_depth(task, lie) })?;
    // A bar that goes into the hole of the chuck is not left standing far out for the sake of a seat.
    if into_the_hole(task, lie) && stick_out_mm > gripped_mm(lie) {
        return Err(no_depth(task, lie));
    }
    judged(task, lie, Depth { seat, bite_mm, stick_out_mm, shallow: false })
}

/// The depth against a stop in the spindle, where one reaches there: as deep as it would be set by hand.
pub fn stopped(task: &Task, lie: &Lie) -> Option<Depth> {
    let depth = unseated(task, lie).ok()?;
    let out_mm = task.chuck.jaw_length_mm - (lie.top_mm - lie.back_mm - depth.stick_out_mm);
    let reaches = |(least, most): &(f64, f64)| (*least - 1e-9..=*most + 1e-9).contains(&out_mm);
    // Its end meets the middle of what is behind, and must not rest on a line or a corner.
    let flat = lie.behind_mm.0 > 0.0;
    (flat && task.stops_mm.iter().any(reaches)).then_some(Depth { seat: SeatOn::Stop(out_mm), ..depth })
}

/// Along which axis of the set-up (0: X, 1: Y) a pair of parallels can lie behind the work: beside the jaws of that
/// axis, so that it can be drawn out, short of the jaws of the other, and under the work.
pub fn parallels_run(task: &Task, lie: &Lie) -> Option<usize> {
    if lie.sides.len() != 4 {
        return Some(0);
    }
    let beside = vee::widest_mm(task, lie).max(task.chuck.jaw_width_mm) / 2.0;
    // With a little play, or they bind between jaw and packing and prove nothing.
    let width = task.parallels_width_mm + task.rules.parallels_play_mm;
    (0..2).find(|&axis| {
        let across = 1 - axis;
        let reach = [across, across + 2].map(|at| reach_mm(task, &lie.sides[at])).into_iter().fold(f64::MAX, f64::min);
        let half_behind = if across == 0 { lie.behind_mm.0 } else { lie.behind_mm.1 } / 2.0;
        reach - beside >= width && half_behind >= beside + width / 2.0
    })
}

/// The depth set by hand, in whole millimetres: as deep as the cut allows, and where the bar goes into the hole
/// of the chuck no more standing out than the cut needs.
pub fn unseated(task: &Task, lie: &Lie) -> Result<Depth, NoDepth> {
    let height = lie.top_mm - lie.back_mm;
    // The hand sets it a little deeper or shallower: room for that where the bite allows.
    let least = least_stick_out(task, lie);
    let meant = least + task.rules.set_by_hand_mm;
    let jaw = task.chuck.bears_mm();
    let (bite_mm, stick_out_mm) = if into_the_hole(task, lie) && height - whole_above(meant) >= jaw {
        (jaw, whole_above(meant))
    } else {
        let bite = |stick_out: f64| whole_below((height - stick_out).min(jaw));
        let needed = contact_bite(task, lie).max(trade_bite(task, lie));
        let bite = if bite(meant) >= needed { bite(meant) } else { bite(least) };
        (bite, height - bite)
    };
    judged(task, lie, Depth { seat: SeatOn::Nothing, bite_mm, stick_out_mm, shallow: false })
}

/// Rounding of the machine is no step to the next millimetre.
const ROUNDING_MM: f64 = 1e-9;

fn whole_above(length_mm: f64) -> f64 {
    (length_mm - ROUNDING_MM).ceil()
}

/// The whole millimetres of a length.
pub fn whole_below(length_mm: f64) -> f64 {
    (length_mm + ROUNDING_MM).floor()
}

/// Whether the piece goes into the hole of the chuck.
fn into_the_hole(task: &Task, lie: &Lie) -> bool {
    let hole_mm = task.lathe.spindle_bore_mm.map_or(task.chuck.bore_mm, |bore_mm| bore_mm.min(task.chuck.bore_mm));
    task.chuck.step.is_none() && lie.swung_mm + 2.0 * task.rules.hole_room_mm <= hole_mm
}

fn judged(task: &Task, lie: &Lie, depth: Depth) -> Result<Depth, NoDepth> {
    if depth.bite_mm < contact_bite(task, lie) - 1e-9 || !vee::backed(task, lie, &depth) {
        return Err(no_depth(task, lie));
    }
    Ok(Depth { shallow: depth.bite_mm < trade_bite(task, lie) - 1e-9, ..depth })
}

fn no_depth(task: &Task, lie: &Lie) -> NoDepth {
    NoDepth {
        least_stick_out_mm: least_stick_out(task, lie),
        most_stick_out_mm: (lie.top_mm - lie.back_mm - contact_bite(task, lie)).min(most_overhang(task, lie)),
        height_mm: lie.top_mm - lie.back_mm,
        needed_bite_mm: contact_bite(task, lie),
        for_widest_line: lies_on_round(lie),
        no_room: parallels_run(task, lie).is_none(),
        ledge: None,
        vee_mm: lie.sides.iter().find_map(vee::on).map(|on| vee::kind(task, on).width_mm),
        least_half_mm: task.rules.clearance_mm + task.rules.margin_mm + task.rules.past_widest_mm,
    }
}
