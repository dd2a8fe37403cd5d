//! A contact point between jaw and work, before and after tightening.

use nalgebra::{Matrix3, SMatrix, Vector3};

/// One jaw as it bears on the work.
#[derive(Debug, Clone, PartialEq)]
pub struct JawGrip {
    /// 1 to the number of jaws.
    pub jaw: u8,
    /// Force that it presses with, N: low end, less centrifugal loss. Where a vee spreads it, the sum of the flanks'
    /// normal forces.
    pub clamping_n: f64,
    /// Its points; shares are taken of their sum.
    pub contacts: Vec<ContactSeed>,
    /// Stiffness of the whole jaw along its push, N/mm, packing included.
    pub normal_stiffness_n_mm: f64,
    /// Stiffness of the whole jaw across its push, N/mm.
    pub tangential_stiffness_n_mm: f64,
    /// Friction coefficient μ, the least of what lies between jaw and work.
    pub friction: f64,
}

/// A point where a jaw bears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ContactSeed {
    /// Where, mm.
    pub at_mm: Vector3<f64>,
    /// Unit normal into the work.
    pub inward: Vector3<f64>,
    /// Share of the jaw's force and stiffness.
    pub share: f64,
}

/// A contact point with its springs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// 1 to the number of jaws.
    pub jaw: u8,
    /// Where, mm.
    pub at_mm: Vector3<f64>,
    /// Unit normal into the work.
    pub inward: Vector3<f64>,
    /// Stiffness along the normal, N/mm.
    pub normal_stiffness_n_mm: f64,
    /// Stiffness across it, N/mm.
    pub tangential_stiffness_n_mm: f64,
    /// Friction coefficient μ.
    pub friction: f64,
}

/// A contact that stays after tightening, with what it carries before cutting. Steady loads are not in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// The point.
    pub contact: Contact,
    /// Normal force on the work, N.
    pub preload_n: f64,
    /// Friction force on the work, N.
    pub preload_friction_n: Vector3<f64>,
}

impl Contact {
    /// Force of the springs per millimetre of movement of the point, N/mm.
    pub(super) fn springs(&self) -> Matrix3<f64> {
        let along = self.inward * self.inward.transpose();
        Matrix3::identity() * self.tangential_stiffness_n_mm
            + along * (self.normal_stiffness_n_mm - self.tangential_stiffness_n_mm)
    }

    /// How the point moves with the work: `d = u + θ × (p − reference)`.
    pub(super) fn carried(&self, reference: &Vector3<f64>) -> SMatrix<f64, 3, 6> {
        let mut moved = SMatrix::<f64, 3, 6>::zeros();
        moved.fixed_view_mut::<3, 3>(0, 0).fill_with_identity();
        moved.fixed_view_mut::<3, 3>(0, 3).copy_from(&-(self.at_mm - reference).cross_matrix());
        moved
    }
}
