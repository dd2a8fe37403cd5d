//! First slip: by what factor may the cut grow before a jaw slips, a point slips, a point lifts off.

use nalgebra::{Vector3, Vector4, Vector6};

use super::grip::Bearing;
use super::{CutLoad, Grip, Held, Wrench};

/// Factors on the cut at one tool position; `None`: without limit, 0: slips without any cut.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Slip {
    /// Until a whole jaw slips.
    pub jaw: Option<f64>,
    /// Which jaw that is.
    pub jaw_number: Option<u8>,
    /// Until a single point slips.
    pub point: Option<f64>,
    /// Until a point leaves its jaw.
    pub lift: Option<f64>,
}

impl Grip {
    /// First slip under a cut and the weight of the work.
    pub fn first_slip(&self, cut: &CutLoad) -> Slip {
        self.first_slip_under(&cut.cut(), &cut.weight())
    }

    /// First slip under a load that grows and one that does not.
    pub fn first_slip_under(&self, growing: &Wrench, constant: &Wrench) -> Slip {
        let ((growing, pushed), constant) = (self.felt(growing), self.about_reference(constant));
        let least = |bearings: &[Bearing], exit: fn(&Carried) -> Option<f64>| {
            let loads = [Some(growing), pushed].into_iter().flatten();
            let factors = loads.flat_map(|load| {
                bearings.iter().filter_map(move |bearing| {
                    exit(&bearing.under(&load, &constant)).map(|factor| (factor, bearing.jaw))
                })
            });
            factors.min_by(|one, other| one.0.total_cmp(&other.0))
        };
        let jaw = least(&self.jaws, Carried::slips_at);
        Slip {
            jaw: jaw.map(|(factor, _)| factor),
            jaw_number: jaw.map(|(_, number)| number),
            point: least(&self.points, Carried::slips_at).map(|(factor, _)| factor),
            lift: least(&self.points, Carried::lifts_at).map(|(factor, _)| factor),
        }
    }
}

impl Grip {
    /// What a whole jaw carries under a cut and the weight of the work, along its push and beside it; `None`: it does
    /// not bear.
    pub fn jaw_carries(&self, jaw: u8, cut: &CutLoad) -> Option<Carried> {
        self.jaws.iter().find(|bearing| bearing.jaw == jaw).map(|bearing| self.carried(bearing, cut))
    }

    /// Force of a whole jaw on the work under a cut and its weight, N: its push and its friction together; `None`: it
    /// does not bear.
    pub fn jaw_force_n(&self, jaw: u8, cut: &CutLoad) -> Option<Vector3<f64>> {
        let points = self.held().iter().zip(&self.points).filter(|(held, _)| held.contact.jaw == jaw);
        let force = |(held, bearing): (&Held, &Bearing)| {
            let carried = self.carried(bearing, cut);
            let both = carried.standing + carried.growing;
            held.contact.inward * both[0] + both.fixed_rows::<3>(1)
        };
        points.map(force).reduce(|sum, force| sum + force)
    }

    /// The same where the jaw slips first: at a vee that is on the jaw or in the flanks.
    pub fn jaw_slips(&self, jaw: u8, cut: &CutLoad) -> Option<Carried> {
        let factor = |carried: &Carried| carried.slips_at().unwrap_or(f64::INFINITY);
        let own = self.jaws.iter().filter(|bearing| bearing.jaw == jaw).flat_map(|bearing| self.carries(bearing, cut));
        own.min_by(|one, other| factor(one).total_cmp(&factor(other)))
    }

    /// What each point of a jaw carries, without a seat and, where there is one that is pressed, with it.
    pub fn points_carry(&self, jaw: u8, cut: &CutLoad) -> Vec<Carried> {
        let own = self.points.iter().filter(|bearing| bearing.jaw == jaw);
        own.flat_map(|bearing| self.carries(bearing, cut)).collect()
    }

    /// Under the cut as it is, and as the jaws feel it where a seat pushes.
    fn carries(&self, bearing: &Bearing, cut: &CutLoad) -> Vec<Carried> {
        let ((growing, pushed), constant) = (self.felt(&cut.cut()), self.about_reference(&cut.weight()));
        [Some(growing), pushed].into_iter().flatten().map(|load| bearing.under(&load, &constant)).collect()
    }

    /// Under the cut with or without a seat, as a jaw slips sooner.
    fn carried(&self, bearing: &Bearing, cut: &CutLoad) -> Carried {
        let ((growing, pushed), constant) = (self.felt(&cut.cut()), self.about_reference(&cut.weight()));
        let load = pushed.filter(|_| self.seat_counts(cut)).unwrap_or(growing);
        bearing.under(&load, &constant)
    }
}

impl Bearing {
    /// What it carries under a load that grows and one that does not, both about the grip's reference.
    pub(super) fn under(&self, growing: &Vector6<f64>, constant: &Vector6<f64>) -> Carried {
        let standing = self.standing + self.response * constant;
        Carried { standing, growing: self.response * growing, friction: self.friction }
    }
}

/// What a point or a jaw carries, N: row 1 normal, rows 2 to 4 friction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Carried {
    /// Without the cut.
    pub standing: Vector4<f64>,
    /// Added by the cut at factor 1.
    pub growing: Vector4<f64>,
    /// Friction between jaw and work.
    pub friction: f64,
}

impl Carried {
    /// Factor at which `|T| = μ N`: least positive root of `a λ² + b λ + c = 0` with
    /// `a = |T'|² − μ² N'²`, `b = 2 (T₀·T' − μ² N₀ N')`, `c = |T₀|² − μ² N₀²`.
    pub fn slips_at(&self) -> Option<f64> {
        let (normal, growth) = (self.standing[0], self.growing[0]);
        let (sticking, pulling) = (self.standing.fixed_rows::<3>(1), self.growing.fixed_rows::<3>(1));
        let squared = self.friction * self.friction;
        let a = pulling.norm_squared() - squared * growth * growth;
        let half_b = sticking.dot(&pulling) - squared * normal * growth;
        let c = sticking.norm_squared() - squared * normal * normal;
        let sticks = normal > 0.0 && c < 0.0;
        if !sticks || !a.is_finite() || !half_b.is_finite() {
            return Some(0.0);
        }
        let discriminant = half_b * half_b - a * c;
        if discriminant < 0.0 {
            return None;
        }
        // Written so that nothing cancels; as c < 0, a bracket that is not positive means no root ahead.
        let bracket = half_b + discriminant.sqrt();
        Some(-c / bracket).filter(|factor| bracket > 0.0 && factor.is_finite())
    }

    /// Factor at which the normal force is gone.
    pub fn lifts_at(&self) -> Option<f64> {
        let (normal, growth) = (self.standing[0], self.growing[0]);
        let pressed = normal > 0.0;
        if !pressed || !growth.is_finite() {
            return Some(0.0);
        }
        Some(normal / -growth).filter(|factor| growth < 0.0 && factor.is_finite())
    }

    /// Whether it sticks without the cut and up to this factor. The friction cone is convex: what sticks
    /// at both ends sticks between.
    #[inline]
    pub(super) fn sticks_up_to(&self, factor: f64) -> bool {
        self.sticks(&self.standing) && self.sticks(&(self.standing + self.growing * factor))
    }

    /// Whether it is pressed without the cut and up to this factor.
    #[inline]
    pub(super) fn bears_up_to(&self, factor: f64) -> bool {
        self.standing[0] > 0.0 && self.standing[0] + self.growing[0] * factor > 0.0
    }

    fn sticks(&self, force: &Vector4<f64>) -> bool {
        let hold = self.friction * force[0];
        force[0] > 0.0 && force[1] * force[1] + force[2] * force[2] + force[3] * force[3] < hold * hold
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn carried(standing: [f64; 4], growing: [f64; 4], friction: f64) -> Carried {
        Carried { standing: Vector4::from(standing), growing: Vector4::from(growing), friction }
    }

    #[test]
    fn pure_pull_slips_at_friction_times_normal_force() {
        let pull = carried([8000.0, 0.0, 0.0, 0.0], [0.0, 1000.0, 0.0, 0.0], 0.2);
        assert_eq!(pull.slips_at(), Some(1.6));
    }

    #[test]
    fn a_load_inside_the_cone_has_no_limit() {
        assert_eq!(carried([8000.0, 0.0, 0.0, 0.0], [1000.0, 100.0, 0.0, 0.0], 0.2).slips_at(), None);
        assert_eq!(carried([8000.0, 0.0, 0.0, 0.0], [0.0; 4], 0.2).slips_at(), None);
    }

    #[test]
    fn what_slips_without_a_cut_has_factor_nought() {
        assert_eq!(carried([1000.0, 300.0, 0.0, 0.0], [0.0, -1.0, 0.0, 0.0], 0.2).slips_at(), Some(0.0));
        assert_eq!(carried([-1.0, 0.0, 0.0, 0.0], [1.0, 0.0, 0.0, 0.0], 0.2).lifts_at(), Some(0.0));
    }

    #[test]
    fn no_number_is_no_hold() {
        assert_eq!(carried([1000.0, 0.0, 0.0, 0.0], [f64::NAN, 0.0, 0.0, 0.0], 0.2).slips_at(), Some(0.0));
        assert_eq!(carried([f64::NAN, 0.0, 0.0, 0.0], [0.0; 4], 0.2).lifts_at(), Some(0.0));
    }
}
