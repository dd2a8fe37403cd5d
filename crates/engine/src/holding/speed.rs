//! What speed does to the jaws' force.

use std::f64::consts::PI;

/// Outward pull of a turning mass, N: `m r ω²`. kg, mm, turns a minute.
pub fn centrifugal_force_n(mass_kg: f64, radius_mm: f64, speed_rpm: f64) -> f64 {
    mass_kg * radius_mm / 1000.0 * turning_rad_s(speed_rpm).powi(2)
}

/// Force of all jaws to set at standstill, N: `S_sp (F_spz + F_c)`, gripped from outside.
pub fn force_to_set_n(needed_n: f64, centrifugal_n: f64, set_factor: f64) -> f64 {
    set_factor * (needed_n + centrifugal_n)
}

/// Speed at which the jaws still press with the force needed, rpm:
/// `n = 30/π √((F_sp0 − F_needed)/Σ m r)`; nought when even standing still is too little.
pub fn permitted_speed_rpm(all_jaws_n: f64, needed_n: f64, moment_kg_m: f64) -> f64 {
    let spare_n = all_jaws_n - needed_n;
    if spare_n > 0.0 { 30.0 / PI * (spare_n / moment_kg_m).sqrt() } else { 0.0 }
}

/// Speed at which the jaws' pull takes two thirds of their force, rpm (the reference speed of DIN 6386,
/// told at second hand); the mark on the chuck goes before it.
pub fn reference_speed_rpm(all_jaws_n: f64, moment_kg_m: f64) -> f64 {
    permitted_speed_rpm(all_jaws_n, all_jaws_n / 3.0, moment_kg_m)
}

pub(super) fn turning_rad_s(speed_rpm: f64) -> f64 {
    speed_rpm * PI / 30.0
}
