//! Loads on the work: the cut, its weight, and what stays with the work.

use std::ops::{Add, Mul, Sub};

use nalgebra::{Vector3, Vector6};

use crate::plan::Force3;

/// A force and a moment about the origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wrench {
    /// Force, N.
    pub force_n: Vector3<f64>,
    /// Moment about the origin, N·mm.
    pub moment_n_mm: Vector3<f64>,
}

/// A load that is fixed to the work: unbalance, thrust of a centre.
#[derive(Debug, Clone, PartialEq)]
pub struct SteadyLoad {
    /// What it is.
    pub what: String,
    /// Where it acts, mm.
    pub at_mm: Vector3<f64>,
    /// Force on the work, N.
    pub force_n: Vector3<f64>,
}

/// The cut and the weight at one moment of a turn; the slip factor multiplies the cut only.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutLoad {
    /// Where the tool is, mm.
    pub at_mm: Vector3<f64>,
    /// Force of the tool on the work, N.
    pub force_n: Vector3<f64>,
    /// Weight, N.
    pub weight_n: Vector3<f64>,
    /// Where the mass is centred, mm.
    pub mass_centre_mm: Vector3<f64>,
}

/// A facing cut that goes round the work: everything but the angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurnCut {
    /// Distance of the tool from the spindle axis, mm.
    pub radius_mm: f64,
    /// Height of the tool over the jaw fronts, mm.
    pub height_mm: f64,
    /// Components of the cutting force, N.
    pub force: Force3,
    /// Weight of the work, N.
    pub weight_n: f64,
    /// Where the mass is centred, mm.
    pub mass_centre_mm: Vector3<f64>,
}

impl Wrench {
    /// No load.
    pub fn none() -> Wrench {
        Wrench { force_n: Vector3::zeros(), moment_n_mm: Vector3::zeros() }
    }

    /// Of a force at a point.
    pub fn of_force(at_mm: &Vector3<f64>, force_n: &Vector3<f64>) -> Wrench {
        Wrench { force_n: *force_n, moment_n_mm: at_mm.cross(force_n) }
    }

    /// Force, then moment about another point.
    pub(super) fn about(&self, point_mm: &Vector3<f64>) -> Vector6<f64> {
        let moment = self.moment_n_mm - point_mm.cross(&self.force_n);
        Vector6::new(self.force_n.x, self.force_n.y, self.force_n.z, moment.x, moment.y, moment.z)
    }
}

impl Add for Wrench {
    type Output = Wrench;
    fn add(self, other: Wrench) -> Wrench {
        Wrench { force_n: self.force_n + other.force_n, moment_n_mm: self.moment_n_mm + other.moment_n_mm }
    }
}

impl Sub for Wrench {
    type Output = Wrench;
    fn sub(self, other: Wrench) -> Wrench {
        self + other * -1.0
    }
}

impl Mul<f64> for Wrench {
    type Output = Wrench;
    fn mul(self, factor: f64) -> Wrench {
        Wrench { force_n: self.force_n * factor, moment_n_mm: self.moment_n_mm * factor }
    }
}

/// A load that turns with the tool is `mean + cos φ · first + sin φ · second`: three angles give it whole.
pub(super) fn harmonics<L>(load: impl Fn(f64, f64) -> L) -> [L; 3]
where
    L: Copy + Add<Output = L> + Sub<Output = L> + Mul<f64, Output = L>,
{
    let (ahead, behind, aside) = (load(1.0, 0.0), load(-1.0, 0.0), load(0.0, 1.0));
    let mean = (ahead + behind) * 0.5;
    [mean, (ahead - behind) * 0.5, aside - mean]
}

impl CutLoad {
    /// The cut alone.
    pub fn cut(&self) -> Wrench {
        Wrench::of_force(&self.at_mm, &self.force_n)
    }

    /// The weight alone.
    pub fn weight(&self) -> Wrench {
        Wrench::of_force(&self.mass_centre_mm, &self.weight_n)
    }
}

impl TurnCut {
    /// The load with the tool at this angle from jaw 1, degrees, counter-clockwise seen from the tailstock.
    pub fn at_angle(&self, angle_deg: f64) -> CutLoad {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        self.at_direction(cos, sin)
    }

    /// The work turns counter-clockwise and is cut against that: `−F_c e_t − F_f e_r − F_p e_z` acts on it.
    /// The work comes down on the tool, so down is `+e_t` at the tool, whatever the angle.
    pub(super) fn at_direction(&self, cos: f64, sin: f64) -> CutLoad {
        let outward = Vector3::new(cos, sin, 0.0);
        let onward = Vector3::new(-sin, cos, 0.0);
        let axial = Vector3::z();
        CutLoad {
            at_mm: outward * self.radius_mm + axial * self.height_mm,
            force_n: -onward * self.force.cutting - outward * self.force.feed - axial * self.force.passive,
            weight_n: onward * self.weight_n,
            mass_centre_mm: self.mass_centre_mm,
        }
    }
}
