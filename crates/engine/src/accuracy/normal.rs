//! The normal distribution, standard: mean 0, standard deviation 1.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Density at `z`.
pub fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}

/// Chance of a value below `z`, right to the last digits in either tail (through the complementary error function).
pub fn below(z: f64) -> f64 {
    0.5 * libm::erfc(-z * FRAC_1_SQRT_2)
}

/// Chance of a value above `z`, as good in the far tail as near the middle.
pub fn above(z: f64) -> f64 {
    below(-z)
}

/// Chance of a value from `a` to `b`; 0 where `b` is not above `a`. Taken on the side where both tails are small.
pub fn between(a: f64, b: f64) -> f64 {
    if b <= a {
        0.0
    } else if a > 0.0 {
        above(a) - above(b)
    } else {
        below(b) - below(a)
    }
}

/// The value that a chance `p` lies below; infinite at 0 and 1, not a number outside.
///
/// Abramowitz and Stegun 26.2.23 to 4.5e-4, then Halley's steps on [`below`] to the last digits.
pub fn quantile(p: f64) -> f64 {
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    if p == 0.0 || p == 1.0 {
        return if p == 0.0 { f64::NEG_INFINITY } else { f64::INFINITY };
    }
    if p > 0.5 {
        // 1 − p has no rounding here (Sterbenz).
        return -quantile(1.0 - p);
    }
    let t = (-2.0 * p.ln()).sqrt();
    let over = 2.515517 + t * (0.802853 + t * 0.010328);
    let under = 1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308));
    let mut z = over / under - t;
    for _ in 0..3 {
        let off = (below(z) - p) / density(z);
        z -= off / (1.0 + z * off / 2.0);
    }
    z
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_quantile_undoes_the_chance() {
        for p in [1e-300, 1e-12, 1e-4, 0.025, 0.3, 0.5, 0.8, 0.975, 0.999_999] {
            let back = below(quantile(p));
            assert!((back / p - 1.0).abs() < 1e-12, "{p}: {back}");
        }
        assert_eq!((quantile(0.0), quantile(1.0)), (f64::NEG_INFINITY, f64::INFINITY));
        assert!(quantile(-0.1).is_nan() && quantile(f64::NAN).is_nan());
    }

    #[test]
    fn far_tails_keep_their_digits() {
        assert!((between(8.0, 9.0) / (above(8.0) - above(9.0)) - 1.0).abs() < 1e-15 && between(8.0, 9.0) > 6e-16);
        assert_eq!((between(1.0, 1.0), between(2.0, 1.0)), (0.0, 0.0));
        assert_eq!(between(f64::NEG_INFINITY, f64::INFINITY), 1.0);
    }
}
