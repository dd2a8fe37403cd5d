//! Bending of a round bar that stands out of the jaws.

use std::f64::consts::PI;

/// Deflection at the loaded end, µm: `F l³ / (3 E I)` with `I = π d⁴/64` (Euler and Bernoulli). N, mm, MPa.
pub fn bending_um(force_n: f64, length_mm: f64, diameter_mm: f64, modulus_mpa: f64) -> f64 {
    let second_moment_mm4 = PI * diameter_mm.powi(4) / 64.0;
    force_n * length_mm.powi(3) / (3.0 * modulus_mpa * second_moment_mm4) * 1000.0
}

/// The same with shear, µm: `+ F l / (κ G A)`, `κ = 6 (1 + ν)/(7 + 6 ν)` (Timoshenko; κ after Cowper 1966),
/// needed when the bar stands out less than about four diameters.
pub fn bending_with_shear_um(force_n: f64, length_mm: f64, diameter_mm: f64, modulus_mpa: f64, poisson: f64) -> f64 {
    let shear_modulus_mpa = modulus_mpa / (2.0 * (1.0 + poisson));
    let area_mm2 = PI * diameter_mm * diameter_mm / 4.0;
    let kappa = 6.0 * (1.0 + poisson) / (7.0 + 6.0 * poisson);
    let shear_mm = force_n * length_mm / (kappa * shear_modulus_mpa * area_mm2);
    bending_um(force_n, length_mm, diameter_mm, modulus_mpa) + shear_mm * 1000.0
}
