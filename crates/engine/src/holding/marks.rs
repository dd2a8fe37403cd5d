//! Jaw marks: a smooth jaw along a round bar (Hertz, after Johnson, Contact Mechanics, ch. 4), a flat jaw, teeth.

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

/// What a jaw leaves on the surface under it, the least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MarkGrade {
    /// Nothing to be seen.
    None,
    /// A line where the jaw's edge was: the edge of a flat punch presses without limit.
    Witness,
    /// A burnished line, about the first micrometre.
    Burnish,
    /// A dent that can be felt.
    Dent,
    /// The teeth of the jaw.
    Teeth,
}

impl MarkGrade {
    /// Its name in the JSON.
    pub fn name(self) -> &'static str {
        match self {
            MarkGrade::None => "none",
            MarkGrade::Witness => "witness line",
            MarkGrade::Burnish => "burnish",
            MarkGrade::Dent => "dent",
            MarkGrade::Teeth => "teeth",
        }
    }
}

/// Mean over greatest pressure of a line contact: the pressure is half an ellipse.
const MEAN_OVER_PEAK: f64 = PI / 4.0;

/// Greatest pressure of a line at which yield begins, MPa: `1.67 Y` (Tresca).
pub fn line_limit_mpa(yield_mpa: f64) -> f64 {
    numbers().line_onset_over_yield.value * yield_mpa
}

/// Mean pressure on a flat at which yield begins, MPa: about `1.1 Y`.
pub fn flat_limit_mpa(yield_mpa: f64) -> f64 {
    numbers().mark_flat_onset_over_yield.value * yield_mpa
}

/// Mean pressure at which a metal flows under a blunt press, MPa: its hardness, `3 Y` (Tabor).
pub fn flow_mpa(yield_mpa: f64) -> f64 {
    numbers().mark_flow_over_yield.value * yield_mpa
}

/// Mean pressure at which a flat rigid strip sinks in, MPa: `(2 + π) k` (Prandtl), k = Y/2 by Tresca.
pub fn strip_flow_mpa(yield_mpa: f64) -> f64 {
    (2.0 + PI) * yield_mpa / 2.0
}

/// Mark of a line, by its greatest pressure.
pub fn line_grade(peak_mpa: f64, yield_mpa: f64) -> MarkGrade {
    by_mean(peak_mpa <= line_limit_mpa(yield_mpa), MEAN_OVER_PEAK * peak_mpa, yield_mpa)
}

/// Mark of even pressure on a flat, without the edges of the jaw.
pub fn flat_grade(mean_mpa: f64, yield_mpa: f64) -> MarkGrade {
    by_mean(mean_mpa <= flat_limit_mpa(yield_mpa), mean_mpa, yield_mpa)
}

/// How deep teeth of 90 degrees sink in, mm: `N/(2 H L tan 45°)`, L the length of all ridges. N, MPa, mm.
pub fn tooth_depth_mm(force_n: f64, hardness_mpa: f64, ridges_mm: f64) -> f64 {
    force_n / (2.0 * hardness_mpa * ridges_mm)
}

fn by_mean(elastic: bool, mean_mpa: f64, yield_mpa: f64) -> MarkGrade {
    if elastic {
        MarkGrade::None
    } else if mean_mpa <= numbers().mark_burnish_most_over_yield.value * yield_mpa {
        MarkGrade::Burnish
    } else {
        MarkGrade::Dent
    }
}
