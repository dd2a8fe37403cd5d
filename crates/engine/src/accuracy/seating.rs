//! How true the work sits: the slope of a face cut in a set-up, against what its bearings and jaws are like.
//!
//! The jaws of a chuck follow the work along their push until they press; what is left to them is their slope along
//! the spindle. The work takes the slope that strains all bearings least: `min Σ κ_j (u_j·σ − r_j)²`, where κ_j is the
//! stiffness of jaw j's points against tipping, u_j its outward direction, and r_j the slope of its face less that of
//! the surface on it. A seat behind counts like jaws in both directions. A direction that nothing resists keeps what
//! the eye set.

use nalgebra::{Matrix2, Vector2, Vector3};

/// What is touched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    /// A finished face.
    Face(u8),
    /// The bar's skin.
    Bar,
    /// An end as sawn: 0 front, 1 back.
    Sawn(u8),
}

/// A jaw as it bears.
#[derive(Debug, Clone, PartialEq)]
pub struct JawBears {
    /// On what.
    pub on: On,
    /// Stiffness of its corner points along the push, N/mm each, with their place along the spindle, mm.
    pub points: Vec<(f64, f64)>,
    /// Soft packing lies between.
    pub packed: bool,
}

/// What the work is tapped back against.
#[derive(Debug, Clone, PartialEq)]
pub struct Behind {
    /// What touches the seat.
    pub on: On,
    /// From the middle to the edge of the seat, along X and Y, mm; 0: a line or an edge that squares nothing that way.
    pub half_mm: [f64; 2],
    /// The pair of parallels between; `None`: the chuck's own face.
    pub parallels: Option<PairOfParallels>,
    /// Stiffness while it is tapped down, N/mm.
    pub stiffness_n_mm: f64,
}

/// Two parallels on either side of the middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairOfParallels {
    /// They lie apart along X (0) or Y (1).
    pub across: usize,
    /// From the middle of one to the middle of the other, mm.
    pub apart_mm: f64,
}

/// One set-up as the error chain needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct Seating {
    /// The face that is cut.
    pub face: u8,
    /// X, Y, Z of the set-up in the part's frame.
    pub axes: [Vector3<f64>; 3],
    /// What each jaw bears on, in order round the chuck from X.
    pub jaws: Vec<JawBears>,
    /// The seat.
    pub behind: Option<Behind>,
    /// The finished side that the eye squares or angles it from, where no jaw and no seat does.
    pub eye_from: Option<u8>,
}

/// How the slope of the new face follows its bearings: `σ = Σ jaw_j r_j + seat r_s + eye e`.
#[derive(Debug, Clone, PartialEq)]
pub struct Gains {
    /// Of each jaw's slope.
    pub jaws: Vec<Vector2<f64>>,
    /// Of the seat's slope.
    pub seat: Matrix2<f64>,
    /// Of what the eye set.
    pub eye: Matrix2<f64>,
}

/// What the eye sets counts as this share of the stiffest direction: so little that any bearing overrules it.
const EYE_SHARE: f64 = 1e-6;

impl JawBears {
    /// Stiffness against tipping along the spindle, N·mm per rad: of a bed as even as what its corners or ends stand
    /// for, a third of their own. A sawn end, behind soft packing that evens it, has none.
    pub fn tipping(&self) -> f64 {
        let (sum, middle) = self.middle();
        let squares = sum > 0.0 && !matches!(self.on, On::Sawn(_));
        if squares { self.points.iter().map(|(k, z)| k * (z - middle).powi(2)).sum::<f64>() / 3.0 } else { 0.0 }
    }

    /// Slope that equal scatter of each point's gap gives, per mm of it; 0 where the points lie at one height.
    pub fn slope_per_mm(&self) -> f64 {
        let (_, middle) = self.middle();
        let arms: f64 = self.points.iter().map(|(k, z)| k * (z - middle).powi(2)).sum();
        if arms <= 0.0 {
            return 0.0;
        }
        self.points.iter().map(|(k, z)| (k * (z - middle)).powi(2)).sum::<f64>().sqrt() / arms
    }

    /// Length along the spindle over which it bears, mm.
    pub fn long_mm(&self) -> f64 {
        let ends = self
            .points
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, z)| (low.min(*z), high.max(*z)));
        (ends.1 - ends.0).max(0.0)
    }

    fn middle(&self) -> (f64, f64) {
        let sum: f64 = self.points.iter().map(|(k, _)| k).sum();
        (sum, self.points.iter().map(|(k, z)| k * z).sum::<f64>() / sum)
    }
}

impl Behind {
    /// Stiffness against tipping, N·mm per rad, along X and Y: of an even bed, or of one on each of two parallels.
    fn tipping(&self) -> Matrix2<f64> {
        Matrix2::from_diagonal(&Vector2::new(self.arm_squared(0), self.arm_squared(1))) * self.stiffness_n_mm
    }

    /// Mean square of the distance of what bears from the middle, mm².
    fn arm_squared(&self, axis: usize) -> f64 {
        let half = self.half_mm[axis];
        match self.parallels {
            Some(pair) if pair.across == axis && half > 0.0 => {
                let (middle, half_width) = (pair.apart_mm / 2.0, half - pair.apart_mm / 2.0);
                middle * middle + half_width * half_width / 3.0
            }
            _ => half * half / 3.0,
        }
    }
}

impl Seating {
    /// Outward direction of a jaw by its place from X, in X and Y.
    pub fn outward(&self, at: usize) -> Vector2<f64> {
        let (sin, cos) = (std::f64::consts::TAU * at as f64 / self.jaws.len() as f64).sin_cos();
        Vector2::new(cos, sin)
    }

    /// How the new face follows what it sits on.
    pub fn gains(&self) -> Gains {
        let along = |at: usize, jaw: &JawBears| self.outward(at) * jaw.tipping();
        let seat = self.behind.as_ref().map_or_else(Matrix2::zeros, Behind::tipping);
        let bearings = self
            .jaws
            .iter()
            .enumerate()
            .fold(seat, |sum, (at, jaw)| sum + along(at, jaw) * self.outward(at).transpose());
        let trace = bearings.trace();
        let eye = Matrix2::identity() * if trace > 0.0 { EYE_SHARE * trace } else { 1.0 };
        let yields = (bearings + eye).try_inverse().unwrap_or_else(Matrix2::zeros);
        Gains {
            jaws: self.jaws.iter().enumerate().map(|(at, jaw)| yields * along(at, jaw)).collect(),
            seat: yields * seat,
            eye: yields * eye,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn jaw(on: On, long: f64) -> JawBears {
        JawBears { on, points: vec![(1e4, -long / 2.0), (1e4, long / 2.0)], packed: false }
    }

    fn seating(jaws: Vec<JawBears>, behind: Option<Behind>) -> Seating {
        Seating { face: 2, axes: [Vector3::x(), Vector3::y(), Vector3::z()], jaws, behind, eye_from: None }
    }

    #[test]
    fn one_flat_jaw_against_a_round_squares_the_face_alone() {
        let line = |on| JawBears { on, points: vec![(1e4, 3.0), (1e4, 3.0)], packed: false };
        let gains = seating(vec![jaw(On::Face(0), 20.0), line(On::Bar), line(On::Bar), line(On::Bar)], None).gains();
        assert!((gains.jaws[0] - Vector2::new(1.0, 0.0)).norm() < 1e-5, "{gains:?}");
        assert_eq!(gains.jaws[2].norm(), 0.0);
        assert!((gains.eye[(1, 1)] - 1.0).abs() < 1e-9, "nothing squares it about X: {gains:?}");
    }

    #[test]
    fn opposed_jaws_share_by_the_square_of_their_length() {
        let jaws = vec![jaw(On::Face(0), 20.0), jaw(On::Face(1), 20.0), jaw(On::Face(3), 10.0), jaw(On::Face(4), 20.0)];
        let gains = seating(jaws, None).gains();
        assert!((gains.jaws[0].x - 0.8).abs() < 1e-5 && (gains.jaws[2].x + 0.2).abs() < 1e-5, "{gains:?}");
    }

    #[test]
    fn a_stiff_seat_rules() {
        let behind = Behind { on: On::Face(4), half_mm: [18.0, 20.0], parallels: None, stiffness_n_mm: 1e6 };
        let gains = seating(
            vec![jaw(On::Face(0), 10.0), jaw(On::Face(1), 10.0), jaw(On::Face(3), 10.0), jaw(On::Face(5), 10.0)],
            Some(behind),
        )
        .gains();
        assert!(gains.seat[(0, 0)] > 0.98 && gains.seat[(1, 1)] > 0.99, "{gains:?}");
    }

    #[test]
    fn parallels_square_most_across_the_way_they_lie_apart() {
        // Two of 8 wide, middles 30 apart, 60 long, by hand: 15² + 8²/12 across, 60²/12 along.
        let parallels = Some(PairOfParallels { across: 1, apart_mm: 30.0 });
        let behind = Behind { on: On::Face(4), half_mm: [30.0, 19.0], parallels, stiffness_n_mm: 1.0 };
        let tipping = behind.tipping();
        assert!((tipping[(0, 0)] - 300.0).abs() < 1e-9 && (tipping[(1, 1)] - 230.333_333).abs() < 1e-6, "{tipping}");
    }

    #[test]
    fn nothing_at_all_leaves_it_to_the_eye() {
        let gains = seating(Vec::new(), None).gains();
        assert!((gains.eye[(0, 0)] - 1.0).abs() < 1e-9);
    }
}
