//! Jaw marks: a smooth flat jaw along a round bar (Hertz, after Johnson, Contact Mechanics, ch. 4).

use std::f64::consts::PI;

use super::numbers::numbers;

/// Pressure under a line contact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePressure {
    /// Greatest pressure p₀, MPa.
    pub peak_mpa: f64,
    /// Half the width of the line, b, mm.
    pub half_width_mm: f64,
}

/// Modulus of the pair, E*, MPa: `1/E* = (1 − ν₁²)/E₁ + (1 − ν₂²)/E₂`. Each is (E in MPa, ν).
pub fn contact_modulus_mpa(one: (f64, f64), other: (f64, f64)) -> f64 {
    let softness = |(modulus, poisson): (f64, f64)| (1.0 - poisson * poisson) / modulus;
    1.0 / (softness(one) + softness(other))
}

/// `p₀ = √(w E*/(π R))`, `b = √(4 w R/(π E*))`. Load per length N/mm, radius of the bar mm, E* MPa.
pub fn line_pressure(load_n_mm: f64, radius_mm: f64, contact_modulus_mpa: f64) -> LinePressure {
    LinePressure {
        peak_mpa: (load_n_mm * contact_modulus_mpa / (PI * radius_mm)).sqrt(),
        half_width_mm: (4.0 * load_n_mm * radius_mm / (PI * contact_modulus_mpa)).sqrt(),
    }
}

/// Load per length, N/mm, at which yield begins below the line: `p₀ = 1.67 Y` (Tresca).
pub fn onset_load_n_mm(yield_mpa: f64, radius_mm: f64, contact_modulus_mpa: f64) -> f64 {
    let onset_mpa = numbers().line_onset_over_yield.value * yield_mpa;
    onset_mpa * onset_mpa * PI * radius_mm / contact_modulus_mpa
}
