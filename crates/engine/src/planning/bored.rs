//! Soft jaws bored to a round held along the spindle: what of them bears, and what is said of it.

use nalgebra::Vector3;

use super::facing::Facing;
use super::lie::{Bearing, CannotLie, Lie, Side};
use super::marks::contact_modulus_mpa;
use super::search::Chosen;
use super::window::Depth;
use crate::holding::{self, Bore, BoreFit, ContactSeed};
use crate::plan::ContactKind;
use crate::quantity::{Plain, show};
use crate::shape::{Bearing as Bears, Piece};
use crate::shop::JawBore;
use crate::task::Task;

/// A bored jaw on the round of a side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoredJaw {
    /// Work and bore.
    pub bore: Bore,
    /// What bears.
    pub fit: BoreFit,
    /// From where to where round the work, from the middle of the jaw, as the side's w runs, rad.
    arc_rad: [f64; 2],
    /// Length along the spindle, from the part's origin, mm.
    n_mm: (f64, f64),
}

/// How the jaw of a side bears on a round under this force; `None`: it is not bored, or finds no round along it.
pub fn bored_jaw(
    task: &Task,
    piece: &Piece,
    lie: &Lie,
    depth: &Depth,
    (at, force_n): (usize, f64),
) -> Option<BoredJaw> {
    let Bearing::Along { n_mm, .. } = lie.sides[at].bearing else { return None };
    let bored = task.chuck.bored?;
    let angle = std::f64::consts::TAU * at as f64 / lie.sides.len() as f64;
    let out = lie.axes[0] * angle.cos() + lie.axes[1] * angle.sin();
    let Bears::Round { radius_mm, left_rad, right_rad, .. } = piece.section.support(out.y.atan2(out.x))?.bearing else {
        return None;
    };
    let front = lie.top_mm - depth.stick_out_mm;
    let n_mm = (n_mm.0.max(front - task.chuck.jaw_length_mm), n_mm.1.min(front));
    // Neighbours share the round between them.
    let most_rad = std::f64::consts::PI / lie.sides.len() as f64;
    let half_mm = (task.chuck.jaw_width_mm / 2.0).min(radius_mm * most_rad.sin());
    let bore = Bore { work_radius_mm: radius_mm, bore_radius_mm: bore_radius_mm(bored, radius_mm), half_mm };
    let length_mm = n_mm.1 - n_mm.0;
    if length_mm <= 0.0 {
        return None;
    }
    let fit = bore.fit(force_n / length_mm, contact_modulus_mpa(task));
    let half_rad = bore.half_rad();
    Some(BoredJaw { bore, fit, arc_rad: [-right_rad.min(half_rad), left_rad.min(half_rad)], n_mm })
}

fn bore_radius_mm(bored: JawBore, work_radius_mm: f64) -> f64 {
    match bored {
        JawBore::Work => work_radius_mm,
        JawBore::Diameter(diameter) => diameter.plain() / 2.0,
    }
}

impl BoredJaw {
    /// Its points: along the spindle at both ends of every line round the arc, each pushed on square to the round.
    pub fn contacts(
        &self,
        side: &Side,
        (outward, tangent): (Vector3<f64>, Vector3<f64>),
        front: f64,
    ) -> Vec<ContactSeed> {
        let lines: Vec<(f64, f64)> = match self.fit {
            BoreFit::Whole => holding::arc_points(self.arc_rad).to_vec(),
            BoreFit::Middle(_) => vec![(0.0, 1.0)],
            BoreFit::Edges => self.arc_rad.map(|angle| (angle, 0.5)).to_vec(),
        };
        let radius_mm = self.bore.work_radius_mm;
        let w_mm = if let Bearing::Along { w_mm, .. } = side.bearing { w_mm } else { 0.0 };
        let centre = outward * (side.out_mm - radius_mm) + tangent * (w_mm * side.sign);
        let point = |(angle, share): (f64, f64), n: f64| {
            let normal = outward * angle.cos() + tangent * (angle.sin() * side.sign);
            let at_mm = centre + normal * radius_mm + Vector3::z() * (n - front);
            ContactSeed { at_mm, inward: -normal, share: share / 2.0 }
        };
        lines.into_iter().flat_map(|line| [self.n_mm.0, self.n_mm.1].map(|n| point(line, n))).collect()
    }

    /// From where to where round the work it bears, from the middle of the jaw, rad.
    pub fn arc_rad(&self) -> [f64; 2] {
        self.arc_rad
    }

    /// Width of what it spans, mm.
    pub fn width_mm(&self) -> f64 {
        self.bore.work_radius_mm * (self.arc_rad[1].sin() - self.arc_rad[0].sin())
    }

    /// How far along the spindle it bears, mm.
    pub fn length_mm(&self) -> f64 {
        self.n_mm.1 - self.n_mm.0
    }
}

/// The jaw of a side at the high end of its force.
pub fn pressed(task: &Task, facing: &Facing, at: usize) -> Option<BoredJaw> {
    bored_jaw(task, &facing.piece, &facing.lie, &facing.depth, (at, task.chuck.high_force_n))
}

/// The jaw of a side at the force that counts.
pub fn counted(task: &Task, facing: &Facing, at: usize) -> Option<BoredJaw> {
    bored_jaw(task, &facing.piece, &facing.lie, &facing.depth, (at, facing.hold.counted_n))
}

/// How the jaw of a side bears, as the plan tells it.
pub fn contact(task: &Task, facing: &Facing, at: usize) -> ContactKind {
    match counted(task, facing, at) {
        Some(BoredJaw { fit: BoreFit::Whole, .. }) => ContactKind::Bored,
        _ => facing.lie.sides[at].kind,
    }
}

/// What jaws bored to a diameter cannot hold: a flat or a round lying across, which the bore does not fit, and a round
/// so much thicker that it would rest on the edges of the bore alone.
pub fn check(task: &Task, sides: &[Side]) -> Result<(), CannotLie> {
    let Some(JawBore::Diameter(bore)) = task.chuck.bored else { return Ok(()) };
    let bore_mm = bore.plain();
    if sides.iter().any(|side| !matches!(side.bearing, Bearing::Along { .. })) {
        return Err(CannotLie::BoredRound(bore_mm));
    }
    let thickest_mm = sides.iter().map(|side| 2.0 * side.out_mm).fold(0.0, f64::max);
    let most_mm = holding::numbers().bore_under_most_mm.value;
    if thickest_mm - bore_mm > most_mm { Err(CannotLie::BoredSmall(bore_mm, thickest_mm)) } else { Ok(()) }
}

/// What is said of the jaws' bore at the head of the plan.
pub fn notice(task: &Task, chosen: &[Chosen]) -> Option<String> {
    match task.chuck.bored? {
        JawBore::Work => to_be_made(task, chosen),
        JawBore::Diameter(_) => chosen.iter().find_map(|chosen| bears_in_part(task, &chosen.way.facing)),
    }
}

/// Jaws that are reckoned as made to the work have to be made so.
fn to_be_made(task: &Task, chosen: &[Chosen]) -> Option<String> {
    let facing = &chosen.first()?.way.facing;
    let size = show::fine_length(2.0 * facing.hold.gripped_radius_mm, task.units);
    let how = match facing.lie.sides.first()?.bearing {
        Bearing::Along { .. } => format!("bored to {size}"),
        Bearing::Area(_) | Bearing::Across { .. } | Bearing::Vee(_) => {
            format!("cut to the flats that they hold, {size} apart")
        }
    };
    Some(format!(
        "NOTICE: {}: every hold here reckons with soft jaws made to the work: {how}, in this chuck, tightened on a ring or \
         plug while they are cut, their edges broken. Check that a piece bears over the whole width of each jaw.",
        task.chuck.name
    ))
}

/// Jaws whose bore does not lie on the work over their width.
fn bears_in_part(task: &Task, facing: &Facing) -> Option<String> {
    let jaws = (0..facing.lie.sides.len()).filter_map(|at| counted(task, facing, at));
    let jaw = jaws.into_iter().find(|jaw| jaw.fit != BoreFit::Whole)?;
    let [bore, work] =
        [jaw.bore.bore_radius_mm, jaw.bore.work_radius_mm].map(|mm| show::fine_length(2.0 * mm, task.units));
    let bears = match jaw.fit {
        BoreFit::Edges => "with the edges of their bore alone, which mark it and break down".to_string(),
        BoreFit::Middle(half_mm) => {
            format!("with a strip {} wide along their middle", show::length(2.0 * half_mm, task.units))
        }
        BoreFit::Whole => return None,
    };
    Some(format!(
        "NOTICE: {}: its soft jaws are bored to {bore} and bear on work of {work} {bears}. Bore them to the work, \
         tightened on a ring or plug while they are cut; then they bear over their width.",
        task.chuck.name
    ))
}
