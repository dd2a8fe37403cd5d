//! How far the cut pushes work and machine apart.

use nalgebra::Vector3;

use super::{Grip, Wrench};

impl Grip {
    /// Movement of the work at the tool, along the spindle towards the chuck, µm: `−e_z · J_tool K⁻¹ w`.
    pub fn spring_um(&self, tool_at_mm: &Vector3<f64>, force_n: &Vector3<f64>) -> f64 {
        let load = Wrench::of_force(tool_at_mm, force_n);
        -self.movement_mm(tool_at_mm, &load).z * 1000.0
    }
}

/// Movement of the tool away from the work by the machine's own spring, µm: passive force N over N/µm.
pub fn machine_spring_um(passive_n: f64, stiffness_n_um: f64) -> f64 {
    passive_n / stiffness_n_um
}

/// Stiffness of two springs in series, N/mm: jaw and packing.
pub fn in_series_n_mm(one_n_mm: f64, other_n_mm: f64) -> f64 {
    one_n_mm * other_n_mm / (one_n_mm + other_n_mm)
}
