//! The piece in the jaws: contact points of every jaw, and what the holding room says of them.

use nalgebra::Vector3;

use super::bored::bored_jaw;
use super::lie::{Bearing, Lie, Side, Surface};
use super::overhang::overhang;
use super::seat::seat_points;
use super::vee::{self, VeeOn};
use super::window::Depth;
use crate::holding::{
    self, Centre, ContactSeed, Grip, GripFault, JawGrip, Overhang, SeatPoint, SteadyLoad, TurnCut, WorkSkin,
    in_series_n_mm,
};
use crate::plan::Force3;
use crate::shape::Piece;
use crate::task::Task;

/// How many angles of the tool a turn is judged at.
pub const ANGLES: u32 = 72;

/// The piece held: everything that does not depend on the cut.
#[derive(Debug, Clone)]
pub struct Hold {
    /// Contact points, springs, preload.
    pub grip: Grip,
    /// Points of a seat that stays behind the work.
    pub seat: Vec<SeatPoint>,
    /// What stands out of the jaws, as a beam.
    pub overhang: Overhang,
    /// Middle of the mass in the set-up's frame, before the cut.
    pub mass_centre_mm: Vector3<f64>,
    /// Weight of the work.
    pub weight_n: f64,
    /// Turning force of the unbalance at the set-up's speed, N, as a steady load.
    pub steady: Vec<SteadyLoad>,
    /// Force of each jaw counted on at speed.
    pub counted_n: f64,
    /// Force of all jaws together.
    pub all_jaws_n: f64,
    /// Least friction of any jaw.
    pub least_friction: f64,
    /// Least distance from the spindle axis at which a jaw grips.
    pub gripped_radius_mm: f64,
    /// A tailstock centre, and the grip of the jaws alone.
    pub centre: Option<(Centre, Grip)>,
}

/// What the classical hand formulas say: how many times the cut is carried.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandCheck {
    /// Against turning in the jaws.
    pub torque: f64,
    /// Against being pushed along the spindle.
    pub push: f64,
    /// Against being levered out.
    pub lever: f64,
    /// Arm of the levering: from the middle of the bite to the cut, mm.
    pub arm_mm: f64,
}

/// Packing between this side and its jaw, mm: on finished faces and sawn ends, none on the bar's skin.
pub fn packing_mm(task: &Task, side: &Side) -> f64 {
    if let Some(on) = vee::on(side) {
        return vee::kind(task, on).packing_mm;
    }
    match side.surface {
        Surface::Bar => 0.0,
        Surface::Sawn | Surface::Face(_) => task.packing.thickness_mm,
    }
}

/// From the spindle axis to the jaw's face.
pub fn reach_mm(task: &Task, side: &Side) -> f64 {
    vee::on(side).map_or_else(|| side.out_mm + packing_mm(task, side), |on| vee::reach_mm(task, on))
}

/// Middle of the mass in the set-up's frame (before the piece is turned to its jaws), and the unbalance.
pub fn mass(task: &Task, piece: &Piece, lie: &Lie, depth: &Depth) -> (Vector3<f64>, f64, f64) {
    let kg = piece.mass_kg(task.material.density_kg_m3);
    let centre = piece.mass_centre_mm().map_or(Vector3::zeros(), Vector3::from);
    let along = |axis: usize| lie.axes[axis].dot(&centre);
    let front = lie.top_mm - depth.stick_out_mm;
    let at = Vector3::new(along(0) - lie.axis_mm.0, along(1) - lie.axis_mm.1, along(2) - front);
    (at, kg, kg * at.x.hypot(at.y))
}

/// Holds the piece at this speed.
pub fn hold(task: &Task, piece: &Piece, lie: &Lie, depth: &Depth, rpm: f64) -> Result<Hold, GripFault> {
    let counted_n = task.chuck.counted_force_n(rpm);
    let (mass_centre_mm, kg, unbalance_kg_mm) = mass(task, piece, lie, depth);
    let steady = unbalance(mass_centre_mm, unbalance_kg_mm, rpm);
    let jaws: Vec<JawGrip> = (0..lie.sides.len())
        .map(|at| {
            let jaw = jaw_grip(task, lie, depth, at, counted_n);
            bored_over(task, piece, lie, depth, (at, jaw))
        })
        .collect();
    let vees: Vec<u8> = (1..).zip(&lie.sides).filter(|(_, side)| vee::on(side).is_some()).map(|(jaw, _)| jaw).collect();
    let seat = seat_points(task, piece, lie, depth);
    let grip = Grip::through_vees(&jaws, &vees, &steady)?.seated(&seat);
    let least = |of: &dyn Fn(&Side) -> f64| lie.sides.iter().map(of).fold(f64::MAX, f64::min);
    Ok(Hold {
        all_jaws_n: counted_n * lie.sides.len() as f64,
        least_friction: least(&|side| friction(task, side)),
        gripped_radius_mm: least(&|side| side.out_mm),
        centre: None,
        grip,
        seat,
        overhang: overhang(task, piece, lie, depth),
        mass_centre_mm,
        weight_n: kg * holding::GRAVITY_M_S2,
        steady,
        counted_n,
    })
}

impl Hold {
    /// The same with a centre set in the end that stands out.
    pub fn propped(self, centre: Centre) -> Result<Hold, GripFault> {
        let grip = self.grip.with_centre(&centre, &self.steady)?;
        Ok(Hold { centre: Some((centre, self.grip)), grip, ..self })
    }

    /// The classical hand formulas for a cut at this radius and arm.
    pub fn by_hand(&self, radius_mm: f64, arm_mm: f64, force: Force3) -> HandCheck {
        let (friction, all_n, gripped) = (self.least_friction, self.all_jaws_n, self.gripped_radius_mm);
        HandCheck {
            torque: holding::torque_factor(friction, all_n, gripped, force.cutting * radius_mm),
            push: holding::push_out_factor(friction, all_n, force.passive),
            // A centre bears what would lever: the formula knows none.
            lever: match self.centre {
                Some(_) => f64::INFINITY,
                None => holding::lever_out_factor(friction, all_n, 2.0 * gripped, force.cutting, arm_mm),
            },
            arm_mm,
        }
    }

    /// The load of a cut that goes round the work.
    pub fn turn_cut(&self, radius_mm: f64, height_mm: f64, force: Force3) -> TurnCut {
        TurnCut { radius_mm, height_mm, force, weight_n: self.weight_n, mass_centre_mm: self.mass_centre_mm }
    }
}

/// Turning force that an unbalance may have at a speed, N: that of the lathe's share, of the balance grade, the less.
pub fn unbalance_most_n(task: &Task, piece_kg: f64, rpm: f64) -> f64 {
    let numbers = holding::numbers();
    let rotor_kg = task.lathe.rotor_mass_kg + piece_kg;
    let by_grade = holding::permitted_unbalance_kg_mm(numbers.balance_grade_mm_s.value, rotor_kg, rpm);
    let by_weight = numbers.unbalance_share_of_lathe.value * task.lathe.mass_kg * holding::GRAVITY_M_S2;
    holding::unbalance_force_n(by_grade, rpm).min(by_weight)
}

fn unbalance(mass_centre: Vector3<f64>, unbalance_kg_mm: f64, rpm: f64) -> Vec<SteadyLoad> {
    // Under a milligram metre the piece runs true; its direction would be noise.
    if unbalance_kg_mm < 1e-6 {
        return Vec::new();
    }
    let outward = Vector3::new(mass_centre.x, mass_centre.y, 0.0).normalize();
    let force = holding::unbalance_force_n(unbalance_kg_mm, rpm);
    vec![SteadyLoad { what: "unbalance".to_string(), at_mm: mass_centre, force_n: outward * force }]
}

fn jaw_grip(task: &Task, lie: &Lie, depth: &Depth, at: usize, clamping_n: f64) -> JawGrip {
    let side = &lie.sides[at];
    let angle = std::f64::consts::TAU * at as f64 / lie.sides.len() as f64;
    let (sin, cos) = angle.sin_cos();
    let (outward, tangent) = (Vector3::new(cos, sin, 0.0), Vector3::new(-sin, cos, 0.0));
    let front = lie.top_mm - depth.stick_out_mm;
    let half_mm = nose_mm(task, lie, at);
    let turn = |(out, n, w): (f64, f64, f64)| outward * out + tangent * (w * side.sign) + Vector3::z() * n;
    let place = |(n, w): (f64, f64)| turn((side.out_mm, n - front, w));
    let corners: Vec<Vector3<f64>> = patch(task, side, front, half_mm).into_iter().map(place).collect();
    let seeds = || -> Vec<ContactSeed> {
        let points = holding::patch_points(&corners).into_iter();
        points.map(|(at_mm, share)| ContactSeed { at_mm, inward: -outward, share }).collect()
    };
    let through = |on: &VeeOn| {
        let patches = vee::patches(task, on, front, half_mm);
        vee::seeds(on, &patches, |(out, n, w)| turn((out, n - front, w)), turn)
    };
    let stiffness = stiffness_n_mm(task, side, half_mm);
    JawGrip {
        jaw: at as u8 + 1,
        clamping_n: vee::on(side).map_or(clamping_n, |on| vee::flanks_n(task, on, clamping_n)),
        contacts: vee::on(side).map_or_else(seeds, through),
        normal_stiffness_n_mm: stiffness,
        tangential_stiffness_n_mm: stiffness * holding::numbers().tangential_ratio.value,
        friction: friction(task, side),
    }
}

/// A jaw that is bored to the round it finds bears over its width, or with edges or a strip.
fn bored_over(task: &Task, piece: &Piece, lie: &Lie, depth: &Depth, (at, jaw): (usize, JawGrip)) -> JawGrip {
    let Some(bored) = bored_jaw(task, piece, lie, depth, (at, jaw.clamping_n)) else { return jaw };
    let angle = std::f64::consts::TAU * at as f64 / lie.sides.len() as f64;
    let (sin, cos) = angle.sin_cos();
    let (outward, tangent) = (Vector3::new(cos, sin, 0.0), Vector3::new(-sin, cos, 0.0));
    let front = lie.top_mm - depth.stick_out_mm;
    JawGrip { contacts: bored.contacts(&lie.sides[at], (outward, tangent), front), ..jaw }
}

/// Half the width over which a jaw bears: its nose is bevelled where its neighbours stand nearer than half its width.
fn nose_mm(task: &Task, lie: &Lie, at: usize) -> f64 {
    let reach: Vec<f64> = lie.sides.iter().map(|side| reach_mm(task, side)).collect();
    holding::nose_half_mm(task.chuck.jaw_width_mm, &reach, at)
}

/// Corners (n, w) of what work and a jaw's nose, so wide to each side, have in common.
fn patch(task: &Task, side: &Side, front: f64, half: f64) -> Vec<(f64, f64)> {
    let back = front - task.chuck.jaw_length_mm;
    match &side.bearing {
        Bearing::Area(area) => {
            area.within_rectangle(back, front, -half, half).corners().iter().map(|point| (point.x, point.y)).collect()
        }
        Bearing::Across { n_mm, w_mm } => vec![(*n_mm, w_mm.0.max(-half)), (*n_mm, w_mm.1.min(half))],
        Bearing::Along { w_mm, n_mm } => vec![(n_mm.0.max(back), *w_mm), (n_mm.1.min(front), *w_mm)],
        // Its flanks have normals of their own.
        Bearing::Vee(_) => Vec::new(),
    }
}

/// What a jaw bears over: a line so long, or an area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BearsOver {
    /// Length, mm.
    Line(f64),
    /// Area, mm².
    Area(f64),
}

/// What work and the jaw of a side have in common.
pub fn bears_over(task: &Task, lie: &Lie, depth: &Depth, at: usize) -> BearsOver {
    let (side, front, half) = (&lie.sides[at], lie.top_mm - depth.stick_out_mm, nose_mm(task, lie, at));
    let back = front - task.chuck.jaw_length_mm;
    match &side.bearing {
        Bearing::Area(area) => BearsOver::Area(area.within_rectangle(back, front, -half, half).area()),
        Bearing::Across { w_mm, .. } => BearsOver::Line((w_mm.1.min(half) - w_mm.0.max(-half)).max(0.0)),
        Bearing::Along { n_mm, .. } => BearsOver::Line((n_mm.1.min(front) - n_mm.0.max(back)).max(0.0)),
        Bearing::Vee(on) => BearsOver::Area(vee::bears_over_mm2(task, on, front, half)),
    }
}

/// Stiffness of a jaw with its packing in series.
fn stiffness_n_mm(task: &Task, side: &Side, half_mm: f64) -> f64 {
    let thickness = packing_mm(task, side);
    let jaw = vee::on(side).map_or(task.chuck.stiffness_n_mm, |on| {
        in_series_n_mm(task.chuck.stiffness_n_mm, vee::stiffness_n_mm(task, on, half_mm))
    });
    if thickness == 0.0 {
        return jaw;
    }
    let area = 2.0 * half_mm * task.rules.least_bite_mm;
    in_series_n_mm(jaw, task.rules.packing_modulus_mpa * area / thickness)
}

/// The least friction of what lies between jaw and work.
pub fn friction(task: &Task, side: &Side) -> f64 {
    if let Some(on) = vee::on(side) {
        return vee::kind(task, on).friction;
    }
    match side.surface {
        Surface::Bar => {
            holding::friction(task.chuck.jaw_surface, WorkSkin::from(task.skin), task.material.friction_share)
        }
        Surface::Sawn | Surface::Face(_) => task.packing.friction,
    }
}
