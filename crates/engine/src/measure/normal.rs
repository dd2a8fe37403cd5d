//! The normal distribution: density and chance, both tails true.

use std::f64::consts::{PI, SQRT_2};

/// Density at `z` spreads from the middle.
pub fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}

/// Chance of less than `z` spreads from the middle, `Φ(z) = erfc(−z/√2)/2`: small chances keep their digits.
pub fn chance_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / SQRT_2)
}

/// Chance of more than `z` spreads from the middle.
pub fn chance_above(z: f64) -> f64 {
    chance_below(-z)
}

/// Chance between two numbers of spreads from the middle, taken on the side where nothing is lost.
pub fn chance_between(low: f64, high: f64) -> f64 {
    if low > 0.0 { chance_above(low) - chance_above(high) } else { chance_below(high) - chance_below(low) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tails_mirror_and_sum_to_one() {
        for z in [-9.0, -3.0, -0.5, 0.0, 0.7, 4.0, 30.0] {
            assert_eq!(chance_below(z), chance_above(-z));
            assert!((chance_below(z) + chance_above(z) - 1.0).abs() < 1e-15);
        }
        // Far out a difference from one would be lost: 6.22e-16 beyond eight spreads (from memory).
        assert!((chance_above(8.0) / 6.220_960_574_271_785e-16 - 1.0).abs() < 1e-9);
        assert!((chance_between(8.0, 9.0) / chance_between(-9.0, -8.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_density_is_the_slope_of_the_chance() {
        for z in [-2.0, -0.3, 0.0, 1.1, 3.0] {
            let slope = (chance_below(z + 1e-6) - chance_below(z - 1e-6)) / 2e-6;
            assert!((slope - density(z)).abs() < 1e-9, "{z}");
        }
    }
}
