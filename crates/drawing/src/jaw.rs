//! What a jaw is beyond its plain face: the ledge under the work, the arc it is bored to, how it is turned.
//!
//! Places are out from the spindle axis and across the jaw, counter-clockwise, mm of the real thing.

use engine::plan::{ContactKind, JawPlan, Plan, SetUp, Stretch};
use engine::quantity::show;

use crate::held;
use crate::vector::{Flat, turn};

/// Where a jaw is bored: part of a circle about this place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bore {
    /// Middle of the bore.
    pub centre_mm: Flat,
    /// Half of what it is bored to.
    pub radius_mm: f64,
    /// Half of the round in it.
    pub work_radius_mm: f64,
    /// Half the width over which it is bored, about the middle of the jaw.
    pub half_mm: f64,
}

impl Bore {
    /// Angles from the jaw's own direction to its clockwise and its counter-clockwise edge, about a middle on its
    /// radius, rad.
    pub fn ends_rad(&self, radius_mm: f64) -> [f64; 2] {
        [-self.half_mm, self.half_mm].map(|edge| ((edge - self.centre_mm[1]) / radius_mm).clamp(-1.0, 1.0).asin())
    }

    /// How far out its clockwise and its counter-clockwise edge lie.
    pub fn edges_out_mm(&self) -> [f64; 2] {
        self.ends_rad(self.radius_mm).map(|angle| self.centre_mm[0] + self.radius_mm * angle.cos())
    }

    /// Middle of the round that lies in it.
    pub fn work_centre_mm(&self, jaw: &JawPlan) -> Flat {
        [jaw.reach_mm - self.work_radius_mm, self.centre_mm[1]]
    }
}

/// The bore of a jaw over its nose, where it is bored and finds a round along the spindle.
pub fn bore(plan: &Plan, set_up: &SetUp, jaw: &JawPlan, nose_mm: f64) -> Option<Bore> {
    let diameter = match jaw.contact {
        ContactKind::Bored | ContactKind::LineAlong => plan.scene.chuck.bored_mm,
        _ => return None,
    };
    if jaw.contact != ContactKind::Bored && diameter.is_none() {
        return None;
    }
    let work_radius_mm = round_radius_mm(set_up, jaw)?;
    let radius_mm = diameter.map_or(work_radius_mm, |diameter| diameter / 2.0);
    // Neighbours share the round between them.
    let share_rad = std::f64::consts::PI / set_up.jaws.len().max(3) as f64;
    let half_mm = nose_mm.min(radius_mm.min(work_radius_mm) * share_rad.sin());
    let deep = |radius: f64| (radius * radius - half_mm * half_mm).max(0.0).sqrt();
    // A larger bore touches with its middle, a smaller one with its edges.
    let work_out_mm = jaw.reach_mm - work_radius_mm;
    let out_mm = if radius_mm >= work_radius_mm {
        jaw.reach_mm - radius_mm
    } else {
        work_out_mm + deep(work_radius_mm) - deep(radius_mm)
    };
    Some(Bore { centre_mm: [out_mm, held::touches_at(set_up, jaw)], radius_mm, work_radius_mm, half_mm })
}

/// Radius of the round that a jaw finds; `None`: it finds none.
fn round_radius_mm(set_up: &SetUp, jaw: &JawPlan) -> Option<f64> {
    let angle = held::direction_rad(set_up, jaw);
    let frame = &set_up.held.frame;
    let out: [f64; 3] = std::array::from_fn(|at| frame.axes[0][at] * angle.cos() + frame.axes[1][at] * angle.sin());
    let towards = out[1].atan2(out[0]);
    set_up.held.before.outline.iter().find_map(|stretch| match *stretch {
        Stretch::Arc { radius_mm, start_rad, sweep_rad, .. } if turn(start_rad, towards) <= sweep_rad => {
            Some(radius_mm)
        }
        _ => None,
    })
}

/// From the edge of a jaw's ledge to its face, out from the spindle axis, and how far below the jaw fronts it lies, mm.
pub fn ledge_mm(plan: &Plan, jaw: &JawPlan) -> Option<(f64, f64, f64)> {
    let ledge = plan.scene.chuck.ledge?;
    Some((jaw.reach_mm - ledge.width_mm, jaw.reach_mm, ledge.below_front_mm))
}

/// The edge of a jaw's ledge from where it comes out from under packing or face, round its tip, to the other side; its
/// tip is bevelled where its neighbours' stand near, as their noses are.
pub fn ledge_edge(plan: &Plan, set_up: &SetUp, jaw: &JawPlan) -> Vec<Flat> {
    let Some((tip, _, _)) = ledge_mm(plan, jaw) else { return Vec::new() };
    let tips: Vec<f64> = set_up.jaws.iter().map(|jaw| ledge_mm(plan, jaw).map_or(0.0, |(tip, ..)| tip)).collect();
    let half = plan.scene.chuck.jaw_width_mm / 2.0;
    let at = usize::from(jaw.jaw.saturating_sub(1));
    let narrow = engine::holding::nose_half_mm(plan.scene.chuck.jaw_width_mm, &tips, at);
    let widens = engine::holding::nose_widens(set_up.jaws.len());
    let end = held::surface_mm(jaw).max(tip);
    let bevel = if widens > 0.0 { ((half - narrow) / widens).min(end - tip) } else { 0.0 };
    let wide = narrow + bevel * widens;
    let side = |to: f64| [[end, to * wide], [tip + bevel, to * wide], [tip, to * narrow]];
    let mut edge: Vec<Flat> = side(-1.0).to_vec();
    edge.extend(side(1.0).into_iter().rev());
    edge.dedup_by(|one, other| (one[0] - other[0]).hypot(one[1] - other[1]) < 1e-9);
    edge
}

/// What is said of the jaws below a picture besides what each bears on.
pub fn words(plan: &Plan, set_up: &SetUp) -> Vec<String> {
    let (chuck, units) = (&plan.scene.chuck, plan.units);
    let turned = chuck.reversed.then(|| "jaws turned end for end".to_string());
    let ledge = chuck.ledge.map(|ledge| {
        let (width, below) = (show::length(ledge.width_mm, units), show::length(ledge.below_front_mm, units));
        format!("ledge of each jaw {width} wide, {below} below its front")
    });
    let round = set_up.jaws.iter().find_map(|jaw| bore(plan, set_up, jaw, chuck.jaw_width_mm / 2.0));
    let bored = round.map(|bore| format!("jaws bored to {}", show::fine_length(2.0 * bore.radius_mm, units)));
    turned.into_iter().chain(ledge).chain(bored).collect()
}
