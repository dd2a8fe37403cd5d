//! The worst of a whole turn: the tool goes round the work and the least factor counts.

use nalgebra::{Vector3, Vector4, Vector6};

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
            let round = turning.of(point);
            slips(&round, point.jaw, angles, &mut worst.point);
            lifts(&round, point.jaw, angles, &mut worst.lift);
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
        self.points.iter().for_each(|point| lifts(&turning.pressing(point), point.jaw, angles, &mut worst));
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
        self.jaws.iter().for_each(|jaw| slips(&turning.of(jaw), jaw.jaw, angles, &mut worst));
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
    /// What one bearing carries all round.
    fn of(&self, bearing: &Bearing) -> Round {
        let weight = self.weight.map(|part| bearing.response * part);
        Round {
            standing: [bearing.standing + weight[0], weight[1], weight[2]],
            growing: self.cut.map(|part| bearing.response * part),
            friction: bearing.friction,
        }
    }

    /// The same with the normal forces alone.
    fn pressing(&self, bearing: &Bearing) -> Round {
        let normal = bearing.response.row(0);
        let of = |part: Vector6<f64>| Vector4::new((normal * part).x, 0.0, 0.0, 0.0);
        let mut standing = self.weight.map(of);
        standing[0][0] += bearing.standing[0];
        Round { standing, growing: self.cut.map(of), friction: bearing.friction }
    }
}

/// Mean, cosine and sine part of what one bearing carries, without the cut and added by it.
struct Round {
    standing: [Vector4<f64>; 3],
    growing: [Vector4<f64>; 3],
    friction: f64,
}

impl Round {
    /// Shows what is carried at every angle, degrees.
    fn each(&self, angles: u32, mut show: impl FnMut(&Carried, f64)) {
        let angles = angles.max(1);
        let step_deg = 360.0 / f64::from(angles);
        let (step_sin, step_cos) = step_deg.to_radians().sin_cos();
        let (mut cos, mut sin) = (1.0, 0.0);
        for index in 0..angles {
            let at = |[mean, of_cos, of_sin]: &[Vector4<f64>; 3]| mean + of_cos * cos + of_sin * sin;
            let carried = Carried { standing: at(&self.standing), growing: at(&self.growing), friction: self.friction };
            show(&carried, step_deg * f64::from(index));
            (cos, sin) = (cos * step_cos - sin * step_sin, sin * step_cos + cos * step_sin);
        }
    }

    /// The parts with the cut times a factor.
    fn under(&self, factor: f64) -> [Vector4<f64>; 3] {
        std::array::from_fn(|part| self.standing[part] + self.growing[part] * factor)
    }

    /// Whether a bound proves that it sticks at every angle, without the cut and up to this factor.
    fn sticks_all_round(&self, factor: f64) -> bool {
        let squared = self.friction * self.friction;
        [self.standing, self.under(factor)].iter().all(|parts| presses(parts) && holds_back(parts, squared))
    }

    /// Whether it is pressed at every angle, without the cut and up to this factor.
    fn bears_all_round(&self, factor: f64) -> bool {
        [self.standing, self.under(factor)].iter().all(presses)
    }
}

/// Least normal force of a turn: mean less amplitude.
fn presses([mean, of_cos, of_sin]: &[Vector4<f64>; 3]) -> bool {
    mean[0] > of_cos[0].hypot(of_sin[0])
}

/// `μ² N² − |T|²` over a turn is a mean with a first and a second harmonic: it stays above nought where the mean is more
/// than both amplitudes together.
fn holds_back([mean, of_cos, of_sin]: &[Vector4<f64>; 3], squared: f64) -> bool {
    let of = |one: &Vector4<f64>, other: &Vector4<f64>| squared * one[0] * other[0] - tangent(one).dot(&tangent(other));
    let (cos_squared, sin_squared) = (of(of_cos, of_cos), of(of_sin, of_sin));
    let first = (2.0 * of(mean, of_cos)).hypot(2.0 * of(mean, of_sin));
    let second = ((cos_squared - sin_squared) / 2.0).hypot(of(of_cos, of_sin));
    of(mean, mean) + (cos_squared + sin_squared) / 2.0 > first + second
}

fn tangent(carried: &Vector4<f64>) -> Vector3<f64> {
    carried.fixed_rows::<3>(1).into_owned()
}

fn slips(round: &Round, jaw: u8, angles: u32, worst: &mut Option<Worst>) {
    if worst.is_none_or(|so_far| !round.sticks_all_round(so_far.factor * (1.0 + TIE))) {
        round.each(angles, |carried, angle_deg| {
            keep(worst, jaw, angle_deg, carried, Carried::sticks_up_to, Carried::slips_at);
        });
    }
}

fn lifts(round: &Round, jaw: u8, angles: u32, worst: &mut Option<Worst>) {
    if worst.is_none_or(|so_far| !round.bears_all_round(so_far.factor * (1.0 + TIE))) {
        round.each(angles, |carried, angle_deg| {
            keep(worst, jaw, angle_deg, carried, Carried::bears_up_to, Carried::lifts_at);
        });
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

fn worse(so_far: Option<Worst>, found: Worst) -> Worst {
    match so_far {
        Some(so_far) if found.factor > so_far.factor * (1.0 + TIE) => so_far,
        Some(so_far) if found.factor >= so_far.factor * (1.0 - TIE) && found.angle_deg >= so_far.angle_deg => so_far,
        _ => found,
    }
}
