//! What jaws do to a ring: a thin ring under equal loads spaced evenly (Timoshenko, Strength of Materials; Roark, table
//! 9.2, case 7, from memory). Inextensible bending; for walls thin against the radius.

use std::f64::consts::PI;

/// A ring in the jaws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Mean radius R, mm.
    pub radius_mm: f64,
    /// Radial thickness t, mm.
    pub wall_mm: f64,
    /// Length along the axis, mm.
    pub length_mm: f64,
    /// Modulus E, MPa.
    pub modulus_mpa: f64,
}

impl Ring {
    /// How far it goes in under each jaw, mm: `W R³/(2 E I) ((θ + s c)/(2 s²) − 1/θ)`, θ = π/jaws, s = sin θ, c = cos θ.
    pub fn in_at_jaw_mm(&self, jaws: u32, force_n: f64) -> f64 {
        let (theta, sin, cos) = half_gap(jaws);
        self.scale_mm(force_n) * ((theta + sin * cos) / (2.0 * sin * sin) - 1.0 / theta) / 2.0
    }

    /// How far it comes out midway between two jaws, mm: `W R³/(2 E I) (1/θ − (s + θ c)/(2 s²))`.
    pub fn out_between_mm(&self, jaws: u32, force_n: f64) -> f64 {
        let (theta, sin, cos) = half_gap(jaws);
        self.scale_mm(force_n) * (1.0 / theta - (sin + theta * cos) / (2.0 * sin * sin)) / 2.0
    }

    /// Out of round while it is held, as radius, peak to valley, mm; bored true so, it springs back by as much.
    pub fn out_of_round_mm(&self, jaws: u32, force_n: f64) -> f64 {
        self.in_at_jaw_mm(jaws, force_n) + self.out_between_mm(jaws, force_n)
    }

    /// `W R³/(E I)`, I = L t³/12.
    fn scale_mm(&self, force_n: f64) -> f64 {
        let second_moment_mm4 = self.length_mm * self.wall_mm.powi(3) / 12.0;
        force_n * self.radius_mm.powi(3) / (self.modulus_mpa * second_moment_mm4)
    }
}

/// Half the angle between two jaws, its sine and cosine; one jaw counts as two.
fn half_gap(jaws: u32) -> (f64, f64, f64) {
    let theta = PI / f64::from(jaws.max(2));
    (theta, theta.sin(), theta.cos())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_jaws_keep_it_rounder_and_it_goes_in_further_than_out() {
        let ring = Ring { radius_mm: 37.5, wall_mm: 5.0, length_mm: 30.0, modulus_mpa: 210_000.0 };
        let shape = |jaws| ring.out_of_round_mm(jaws, 12_000.0 / f64::from(jaws));
        assert!((2..12).all(|jaws| shape(jaws + 1) < shape(jaws)));
        assert!((2..12).all(|jaws| ring.in_at_jaw_mm(jaws, 1.0) > ring.out_between_mm(jaws, 1.0)));
    }
}
