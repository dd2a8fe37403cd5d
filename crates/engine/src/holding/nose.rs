//! Noses of jaws that close on small work: bevelled, so that neighbours do not meet.

use std::f64::consts::{PI, TAU};

/// Half the width of a jaw's nose, mm, with the front of the jaw at `reach[at]` from the spindle axis and its
/// neighbours at theirs. A nose is bevelled to the line on which it would meet its neighbour, 45 degrees with four jaws
/// (common practice, no source), and bears over what is left: with four jaws the least reach of its two neighbours,
/// `(r' - r cos θ) / sin θ` with θ between jaws, never more than half the jaw.
pub fn nose_half_mm(jaw_width_mm: f64, reach_mm: &[f64], at: usize) -> f64 {
    let (half, jaws) = (jaw_width_mm / 2.0, reach_mm.len());
    // Two jaws stand opposite and never meet; a lone one has no neighbour.
    if jaws < 3 || at >= jaws {
        return half;
    }
    let (sin, cos) = (TAU / jaws as f64).sin_cos();
    let to = |other: usize| ((reach_mm[other] - reach_mm[at] * cos) / sin).max(0.0);
    half.min(to((at + 1) % jaws)).min(to((at + jaws - 1) % jaws))
}

/// How much wider, mm to each side, a bevelled nose is for each mm behind its front: 1 with four jaws.
pub fn nose_widens(jaws: usize) -> f64 {
    if jaws < 3 { 0.0 } else { (PI / jaws as f64).tan() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Plane geometry: fronts of four jaws at 5 mm close a square of 10; of three, a triangle whose half side is r√3.
    #[test]
    fn noses_close_the_polygon_of_their_fronts() {
        assert!((nose_half_mm(26.0, &[5.0; 4], 0) - 5.0).abs() < 1e-12);
        assert!((nose_half_mm(26.0, &[5.0; 3], 1) - 5.0 * 3f64.sqrt()).abs() < 1e-12);
        assert!((nose_half_mm(26.0, &[5.0; 6], 5) - 5.0 / 3f64.sqrt()).abs() < 1e-12);
        assert!((nose_widens(4) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn no_nose_is_wider_than_its_jaw_or_than_its_nearer_neighbour_stands() {
        assert_eq!(nose_half_mm(26.0, &[30.0, 20.0, 30.0, 20.0], 0), 13.0);
        assert!((nose_half_mm(26.0, &[30.0, 6.0, 30.0, 7.0], 0) - 6.0).abs() < 1e-12);
        assert_eq!(nose_half_mm(26.0, &[5.0, 5.0], 0), 13.0);
        assert_eq!(nose_half_mm(26.0, &[], 3), 13.0);
    }
}
