//! The worst of a whole turn: the tool goes round the work and the least factor counts.

use nalgebra::{Vector4, Vector6};

use super::grip::Bearing;
use super::load::harmonics;
use super::slip::Carried;
use super::{Grip, TurnCut};

/// A least factor and where it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// On the cut.
    pub factor: f64,
    /// Angle of the tool from jaw 1, degrees, counter-clockwise seen from the tailstock.
    pub angle_deg: f64,
    /// Which jaw.
    pub jaw: u8,
}

/// Least factors of a turn; `None`: without limit.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct WorstSlip {
    /// Until a whole jaw slips.
    pub jaw: Option<Worst>,
    /// Until a single point slips.
    pub point: Option<Worst>,
    /// Until a point leaves its jaw.
    pub lift: Option<Worst>,
}

impl Grip {
    /// Least factors with the tool at so many angles, evenly round from jaw 1.
    pub fn worst_over_turn(&self, cut: &TurnCut, angles: u32) -> WorstSlip {
        let turning = self.turning(cut);
        let mut worst = WorstSlip { jaw: self.worst_jaw(&turning, cut, angles), ..WorstSlip::default() };
        for point in &self.points {
            turning.around(point, angles, |carried, angle_deg| {
                keep(&mut worst.point, point.jaw, angle_deg, carried, Carried::sticks_up_to, Carried::slips_at);
                keep(&mut worst.lift, point.jaw, angle_deg, carried, Carried::bears_up_to, Carried::lifts_at);
            });
        }
        self.pushed_round(cut, angles, |growing, constant, angle_deg| {
            for point in &self.points {
                let carried = &point.under(growing, constant);
                keep(&mut worst.point, point.jaw, angle_deg, carried, Carried::sticks_up_to, Carried::slips_at);
                keep(&mut worst.lift, point.jaw, angle_deg, carried, Carried::bears_up_to, Carried::lifts_at);
            }
        });
        worst
    }

    /// The jaw factor alone, several times quicker.
    pub fn worst_jaw_over_turn(&self, cut: &TurnCut, angles: u32) -> Option<Worst> {
        self.worst_jaw(&self.turning(cut), cut, angles)
    }

    /// The lift factor alone: only normal forces are needed for it.
    pub fn worst_lift_over_turn(&self, cut: &TurnCut, angles: u32) -> Option<Worst> {
        let turning = self.turning(cut);
        let mut worst = None;
        for point in &self.points {
            turning.pressing(point, angles, |carried, angle_deg| {
                keep(&mut worst, point.jaw, angle_deg, carried, Carried::bears_up_to, Carried::lifts_at);
            });
        }
        self.pushed_round(cut, angles, |growing, constant, angle_deg| {
            for point in &self.points {
                let carried = &point.under(growing, constant);
                keep(&mut worst, point.jaw, angle_deg, carried, Carried::bears_up_to, Carried::lifts_at);
            }
        });
        worst
    }

    fn worst_jaw(&self, turning: &Turning, cut: &TurnCut, angles: u32) -> Option<Worst> {
        let mut worst = None;
        for jaw in &self.jaws {
            turning.around(jaw, angles, |carried, angle_deg| {
                keep(&mut worst, jaw.jaw, angle_deg, carried, Carried::sticks_up_to, Carried::slips_at);
            });
        }
        self.pushed_round(cut, angles, |growing, constant, angle_deg| {
            for jaw in &self.jaws {
                let carried = &jaw.under(growing, constant);
                keep(&mut worst, jaw.jaw, angle_deg, carried, Carried::sticks_up_to, Carried::slips_at);
            }
        });
        worst
    }

    fn turning(&self, cut: &TurnCut) -> Turning {
        Turning {
            cut: harmonics(|cos, sin| self.about_reference(&cut.at_direction(cos, sin).cut())),
            weight: harmonics(|cos, sin| self.about_reference(&cut.at_direction(cos, sin).weight())),
        }
    }
}

/// Mean, cosine and sine part of cut and weight.
struct Turning {
    cut: [Vector6<f64>; 3],
    weight: [Vector6<f64>; 3],
}

impl Turning {
    /// Shows what one bearing carries at every angle, degrees.
    fn around(&self, bearing: &Bearing, angles: u32, mut show: impl FnMut(&Carried, f64)) {
        let angles = angles.max(1);
        let step_deg = 360.0 / f64::from(angles);
        let (step_sin, step_cos) = step_deg.to_radians().sin_cos();
        let cut = self.cut.map(|part| bearing.response * part);
        let weight = self.weight.map(|part| bearing.response * part);
        let still = bearing.standing + weight[0];
        let (mut cos, mut sin) = (1.0, 0.0);
        for index in 0..angles {
            let standing = turned(&still, &weight, cos, sin);
            let growing = turned(&cut[0], &cut, cos, sin);
            show(&Carried { standing, growing, friction: bearing.friction }, step_deg * f64::from(index));
            (cos, sin) = (cos * step_cos - sin * step_sin, sin * step_cos + cos * step_sin);
        }
    }
}

impl Turning {
    /// As `around`, with the normal forces alone.
    fn pressing(&self, bearing: &Bearing, angles: u32, mut show: impl FnMut(&Carried, f64)) {
        let angles = angles.max(1);
        let step_deg = 360.0 / f64::from(angles);
        let (step_sin, step_cos) = step_deg.to_radians().sin_cos();
        let normal = bearing.response.row(0);
        let cut = self.cut.map(|part| (normal * part).x);
        let weight = self.weight.map(|part| (normal * part).x);
        let still = bearing.standing[0] + weight[0];
        let (mut cos, mut sin) = (1.0, 0.0);
        for index in 0..angles {
            let standing = Vector4::new(still + weight[1] * cos + weight[2] * sin, 0.0, 0.0, 0.0);
            let growing = Vector4::new(cut[0] + cut[1] * cos + cut[2] * sin, 0.0, 0.0, 0.0);
            show(&Carried { standing, growing, friction: bearing.friction }, step_deg * f64::from(index));
            (cos, sin) = (cos * step_cos - sin * step_sin, sin * step_cos + cos * step_sin);
        }
    }
}

/// Factors nearer than this, as a share, are the same: the smaller angle is then named.
const TIE: f64 = 1e-9;

/// Looks for a root only where the least factor so far no longer holds.
#[inline]
fn keep(
    worst: &mut Option<Worst>,
    jaw: u8,
    angle_deg: f64,
    carried: &Carried,
    holds_up_to: impl Fn(&Carried, f64) -> bool,
    exit: impl Fn(&Carried) -> Option<f64>,
) {
    if worst.is_some_and(|so_far| holds_up_to(carried, so_far.factor * (1.0 + TIE))) {
        return;
    }
    if let Some(factor) = exit(carried) {
        *worst = Some(worse(*worst, Worst { factor, angle_deg, jaw }));
    }
}

fn turned(mean: &Vector4<f64>, parts: &[Vector4<f64>; 3], cos: f64, sin: f64) -> Vector4<f64> {
    mean + parts[1] * cos + parts[2] * sin
}

fn worse(so_far: Option<Worst>, found: Worst) -> Worst {
    match so_far {
        Some(so_far) if found.factor > so_far.factor * (1.0 + TIE) => so_far,
        Some(so_far) if found.factor >= so_far.factor * (1.0 - TIE) && found.angle_deg >= so_far.angle_deg => so_far,
        _ => found,
    }
}
