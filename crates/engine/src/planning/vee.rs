//! A vee between a jaw and a corner of the piece: what its flanks bear on, where it sits, whether the jaw backs it.

use std::f64::consts::{FRAC_PI_2, TAU};

use nalgebra::Vector3;

use super::lie::{Bearing, Lie, Side, Surface};
use super::window::Depth;
use crate::holding::{self, ContactSeed};
use crate::shape::{Bearing as Bears, Point, Section};
use crate::task::{Task, VeeFacts};

/// Which way the groove runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Groove {
    /// Across the jaw: the bar lies across the spindle.
    Across,
    /// Along the spindle.
    Along,
}

/// A vee as it lies on a jaw. Places are (out, v): out from the spindle axis, v across the groove: n where the groove
/// runs across the jaw, w where it runs along the spindle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VeeOn {
    /// Which of the task's kinds.
    pub kind: usize,
    /// Which way it runs.
    pub groove: Groove,
    /// From the spindle axis to the bottom of the groove.
    pub out_mm: f64,
    /// Where the bottom of the groove lies across it.
    pub at_mm: f64,
    /// What bears on the flanks, the one towards greater v first.
    pub flanks: [Flank; 2],
    /// Where the piece lies along the groove.
    pub along_mm: (f64, f64),
}

/// What one flank bears on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flank {
    /// The bar or a finished face.
    pub surface: Surface,
    /// A flat, or a round.
    pub round: bool,
    /// Ends of the stretch on which it bears; one point on a round.
    pub ends_mm: [(f64, f64); 2],
}

/// Where a jaw looks from: section, direction of the jaw in it, sign of the turn from there towards greater v, spindle
/// axis in the section, piece along the groove.
#[derive(Debug, Clone, Copy)]
pub struct Looks<'a> {
    /// Section of the piece.
    pub section: &'a Section,
    /// Direction of the jaw, rad.
    pub direction: f64,
    /// +1: counter-clockwise from the direction is greater v.
    pub sign: f64,
    /// The spindle axis in the section; nought across the groove where v counts from the part's origin.
    pub axis: Point,
    /// Which way the groove runs.
    pub groove: Groove,
    /// Where the piece lies along the groove.
    pub along_mm: (f64, f64),
}

/// How a vee of this kind would lie; `None`: the piece does not lie squarely in it.
pub fn laid(
    task: &Task,
    kind: usize,
    looks: &Looks,
    surface: impl Fn(f64, f64, bool) -> Surface,
) -> Option<(VeeOn, Surface)> {
    let vee = task.vees.get(kind)?;
    let lean = FRAC_PI_2 - vee.half_rad;
    let directions = [1.0, -1.0].map(|to| looks.direction + looks.sign * to * lean);
    let found = directions.map(|direction| looks.section.support(direction));
    let [Some(first), Some(second)] = found else { return None };
    // At least one flat, or nothing gives the angle and a bare jaw would do.
    let corner = |bears: &Bears| matches!(bears, Bears::Corner(_));
    if corner(&first.bearing) || corner(&second.bearing) {
        return None;
    }
    if [first, second].iter().all(|found| matches!(found.bearing, Bears::Round { .. })) {
        return None;
    }
    let from_axis = |at: usize, extent_mm: f64| {
        let (sin, cos) = directions[at].sin_cos();
        extent_mm - (looks.axis.x * cos + looks.axis.y * sin) + vee.packing_mm
    };
    let (out_mm, at_mm) =
        holding::groove_bottom_mm(from_axis(0, first.extent_mm), from_axis(1, second.extent_mm), vee.half_rad);
    let half = vee.width_mm / 2.0;
    let flank = |bears: &Bears, at: usize, extent_mm: f64| {
        let ends_mm = match bears {
            Bears::Round { at, .. } => [looks.place(*at); 2],
            Bears::Flat { from, to } => within(looks.place(*from), looks.place(*to), (at_mm - half, at_mm + half))?,
            Bears::Corner(_) => return None,
        };
        let round = matches!(bears, Bears::Round { .. });
        let least = task.rules.least_on_flank_mm;
        let enough = if round {
            (ends_mm[0].1 - at_mm).abs() + least / 2.0 <= half
        } else {
            (ends_mm[1].0 - ends_mm[0].0).hypot(ends_mm[1].1 - ends_mm[0].1) >= least
        };
        enough.then(|| Flank { surface: surface(directions[at].rem_euclid(TAU), extent_mm, !round), round, ends_mm })
    };
    let flanks = [flank(&first.bearing, 0, first.extent_mm)?, flank(&second.bearing, 1, second.extent_mm)?];
    let finished = flanks.iter().map(|flank| flank.surface).find(|surface| matches!(surface, Surface::Face(_)));
    let on = VeeOn { kind, groove: looks.groove, out_mm, at_mm, flanks, along_mm: looks.along_mm };
    Some((on, finished.unwrap_or(Surface::Bar)))
}

impl Looks<'_> {
    /// (out, v) of a point of the section.
    fn place(&self, point: Point) -> (f64, f64) {
        let (sin, cos) = self.direction.sin_cos();
        let (x, y) = (point.x - self.axis.x, point.y - self.axis.y);
        (x * cos + y * sin, self.sign * (y * cos - x * sin))
    }
}

/// The part of a stretch that lies so far across.
fn within(from: (f64, f64), to: (f64, f64), (low, high): (f64, f64)) -> Option<[(f64, f64); 2]> {
    let at = |v: f64| {
        let share = ((v - from.1) / (to.1 - from.1)).clamp(0.0, 1.0);
        (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1))
    };
    let outside = from.1.max(to.1) <= low || from.1.min(to.1) >= high;
    (!outside).then(|| [at(low), at(high)])
}

/// Whether there are vees enough for every jaw that needs one.
pub fn enough(task: &Task, sides: &[Side]) -> bool {
    let laid = sides.iter().filter_map(on).map(|vee| vee.kind);
    let mut needed = vec![0; task.vees.len()];
    laid.for_each(|kind| needed[kind] += 1);
    needed.iter().zip(&task.vees).all(|(needed, vee)| *needed <= vee.count)
}

/// The vee on the jaw of a side, if there is one.
pub fn on(side: &Side) -> Option<&VeeOn> {
    match &side.bearing {
        Bearing::Vee(vee) => Some(vee),
        Bearing::Area(_) | Bearing::Across { .. } | Bearing::Along { .. } => None,
    }
}

/// How many vees a lie needs.
pub fn count(lie: &Lie) -> usize {
    lie.sides.iter().filter_map(on).count()
}

/// From the spindle axis to the face of the jaw behind a vee.
pub fn reach_mm(task: &Task, vee: &VeeOn) -> f64 {
    vee.out_mm + kind(task, vee).behind_groove_mm()
}

/// Its kind.
pub fn kind<'a>(task: &'a Task, vee: &VeeOn) -> &'a VeeFacts {
    &task.vees[vee.kind]
}

/// The bite that lets the jaw back the whole block of a vee that lies across.
pub fn needed_bite_mm(task: &Task, lie: &Lie, vee: &VeeOn) -> f64 {
    match vee.groove {
        Groove::Across => vee.at_mm + kind(task, vee).width_mm / 2.0 - lie.back_mm,
        Groove::Along => task.rules.least_bite_mm,
    }
}

/// Whether every vee lies on its jaw with all that the cut may press it with: no part of a block that lies across
/// stands over the jaw's front, with something to spare, or runs into the chuck face or a ledge; one along the spindle finds
/// room above a ledge; a flank's push lands on the jaw while no point lifts.
pub fn backed(task: &Task, lie: &Lie, depth: &Depth) -> bool {
    let front = lie.top_mm - depth.stick_out_mm;
    // A block stands on the jaw's face, above its ledge if it has one.
    let back = front - task.chuck.bears_mm();
    lie.sides.iter().filter_map(on).all(|vee| {
        let half = kind(task, vee).width_mm / 2.0;
        let jaw = match vee.groove {
            Groove::Across => (back - vee.at_mm, front - vee.at_mm),
            Groove::Along => (-task.chuck.jaw_width_mm / 2.0 - vee.at_mm, task.chuck.jaw_width_mm / 2.0 - vee.at_mm),
        };
        let short = task.chuck.step.is_none() || kind(task, vee).length_mm <= task.chuck.bears_mm() + 1e-9;
        let whole = vee.groove == Groove::Along && short
            || vee.groove == Groove::Across
                && (jaw.0 <= 1e-9 - half && jaw.1 >= half + task.rules.spare_stick_out_mm - 1e-9);
        let lands = lands_mm(task, vee) / holding::numbers().needed_lift.value;
        whole && jaw.0.max(-half) <= -lands && jaw.1.min(half) >= lands
    })
}

/// How far from its middle a vee is pressed when one flank carries all.
fn lands_mm(task: &Task, vee: &VeeOn) -> f64 {
    let kind = kind(task, vee);
    let across = vee.flanks.iter().map(|flank| ((flank.ends_mm[0].1 + flank.ends_mm[1].1) / 2.0 - vee.at_mm).abs());
    across.map(|across| holding::push_lands_mm(across, kind.behind_groove_mm(), kind.half_rad)).fold(0.0, f64::max)
}

/// Corners of what each flank bears on, out, n and w, with the flank's normal into the work, out and v.
pub struct Pressed {
    /// (out, n, w) in order round the patch.
    pub corners: Vec<(f64, f64, f64)>,
    /// (out, v) of the unit normal into the work.
    pub inward: (f64, f64),
}

/// What both flanks bear on: between jaw front and back, within half the width of the jaw's nose.
pub fn patches(task: &Task, vee: &VeeOn, front: f64, half_nose: f64) -> [Pressed; 2] {
    let facts = kind(task, vee);
    let along = match vee.groove {
        Groove::Across => {
            let half = half_nose.min(facts.length_mm / 2.0);
            (vee.along_mm.0.max(-half), vee.along_mm.1.min(half))
        }
        // Flush with the jaw front, as far back as vee and jaw go.
        Groove::Along => {
            let long = facts.length_mm.min(task.chuck.bears_mm());
            (vee.along_mm.0.max(front - long), vee.along_mm.1.min(front))
        }
    };
    let (sin, cos) = facts.half_rad.sin_cos();
    let one = |flank: &Flank, to: f64| {
        let [from, end] = flank.ends_mm;
        let place = |(out, v): (f64, f64), along: f64| match vee.groove {
            Groove::Across => (out, v, along),
            Groove::Along => (out, along, v),
        };
        let mut corners = vec![place(from, along.0), place(from, along.1)];
        if !flank.round {
            corners.extend([place(end, along.1), place(end, along.0)]);
        }
        Pressed { corners, inward: (-sin, -to * cos) }
    };
    [one(&vee.flanks[0], 1.0), one(&vee.flanks[1], -1.0)]
}

/// Contact points of a jaw that bears through a vee; `place` turns (out, n, w) into a point, `turn` (out, n, w) into a
/// direction. Each flank takes half.
pub fn seeds(
    vee: &VeeOn,
    patches: &[Pressed; 2],
    place: impl Fn((f64, f64, f64)) -> Vector3<f64>,
    turn: impl Fn((f64, f64, f64)) -> Vector3<f64>,
) -> Vec<ContactSeed> {
    let flank = |patch: &Pressed| {
        let corners: Vec<Vector3<f64>> = patch.corners.iter().map(|&corner| place(corner)).collect();
        let (out, v) = patch.inward;
        let inward = turn(match vee.groove {
            Groove::Across => (out, v, 0.0),
            Groove::Along => (out, 0.0, v),
        });
        let points = holding::patch_points(&corners);
        points
            .into_iter()
            .map(move |(at_mm, share)| ContactSeed { at_mm, inward, share: share / 2.0 })
            .collect::<Vec<_>>()
    };
    patches.iter().flat_map(flank).collect()
}

/// Normal forces of both flanks together for a push of the jaw, N, the friction that keeps the work from going in taken off.
pub fn flanks_n(task: &Task, vee: &VeeOn, push_n: f64) -> f64 {
    let kind = kind(task, vee);
    2.0 * holding::flank_force_n(push_n, kind.half_rad, kind.friction)
}

/// What the flank that bears on less of the work bears on, mm²; a line counts as nothing.
pub fn bears_over_mm2(task: &Task, vee: &VeeOn, front: f64, half_nose: f64) -> f64 {
    let area = |patch: &Pressed| match patch.corners.as_slice() {
        [one, other, far, _] => {
            let long = (other.1 - one.1).hypot(other.2 - one.2);
            long * (far.0 - other.0).hypot(far.1 - other.1).hypot(far.2 - other.2)
        }
        _ => 0.0,
    };
    patches(task, vee, front, half_nose).iter().map(area).fold(f64::MAX, f64::min)
}

/// Stiffness of the block itself between jaw and work, N/mm: what lies behind the groove, over the jaw's nose.
pub fn stiffness_n_mm(task: &Task, vee: &VeeOn, half_nose: f64) -> f64 {
    let kind = kind(task, vee);
    let area = match vee.groove {
        Groove::Across => kind.width_mm * (2.0 * half_nose).min(kind.length_mm),
        Groove::Along => kind.width_mm.min(2.0 * half_nose) * kind.length_mm.min(task.chuck.bears_mm()),
    };
    task.rules.vee_modulus_mpa * area / kind.height_mm
}

/// How wide the widest vee is along the chuck's face, mm; 0: there is none.
pub fn widest_mm(task: &Task, lie: &Lie) -> f64 {
    let wide = |vee: &VeeOn| match vee.groove {
        Groove::Across => kind(task, vee).length_mm,
        Groove::Along => kind(task, vee).width_mm,
    };
    lie.sides.iter().filter_map(on).map(wide).fold(0.0, f64::max)
}
