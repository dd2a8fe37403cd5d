//! Unbalance of work whose mass is centred off the spindle axis.

use std::f64::consts::PI;

use super::speed::{centrifugal_force_n, turning_rad_s};

/// Standard acceleration of gravity, m/s² (CGPM 1901, exact).
pub const GRAVITY_M_S2: f64 = 9.806_65;

/// Turning force of an unbalance, N: `U ω²`. kg·mm, rpm.
pub fn unbalance_force_n(unbalance_kg_mm: f64, speed_rpm: f64) -> f64 {
    centrifugal_force_n(1.0, unbalance_kg_mm, speed_rpm)
}

/// Distance of the mass centre from the axis, mm, of a rotor with this unbalance: `e = U/m`.
pub fn eccentricity_mm(unbalance_kg_mm: f64, rotor_kg: f64) -> f64 {
    unbalance_kg_mm / rotor_kg
}

/// Unbalance that a balance grade allows, kg·mm: `U = G m/ω` (ISO 21940-11). mm/s, kg, rpm.
pub fn permitted_unbalance_kg_mm(grade_mm_s: f64, rotor_kg: f64, speed_rpm: f64) -> f64 {
    grade_mm_s * rotor_kg / turning_rad_s(speed_rpm)
}

/// Speed up to which a rotor with this unbalance keeps a balance grade, rpm: `n = 30 G/(π e)`.
/// Without limit (infinite) when balanced.
pub fn grade_speed_rpm(unbalance_kg_mm: f64, rotor_kg: f64, grade_mm_s: f64) -> f64 {
    30.0 * grade_mm_s / (PI * eccentricity_mm(unbalance_kg_mm, rotor_kg))
}

/// Speed up to which the turning force stays under a share of the lathe's weight, rpm: `U ω² = share m g`.
/// Without limit (infinite) when balanced.
pub fn lathe_share_speed_rpm(unbalance_kg_mm: f64, lathe_kg: f64, share: f64) -> f64 {
    30.0 / PI * (share * lathe_kg * GRAVITY_M_S2 / (unbalance_kg_mm / 1000.0)).sqrt()
}
