//! A round in jaws bored to it, or nearly: what bears, and with which pressure.
//!
//! Two cylinders, one in the other, are Hertz's line contact with the relative radius `R R_b/(R_b − R)` for that of the
//! bar (Johnson, Contact Mechanics, ch. 4): a jaw bored a little larger bears over the strip that its force flattens,
//! over its whole width where that strip would be wider than the jaw.

use super::marks::line_pressure;

/// What of a bored jaw bears on a round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoreFit {
    /// Its whole width.
    Whole,
    /// Bored larger than the work: a strip along the middle of the jaw, half so wide, mm.
    Middle(f64),
    /// Bored smaller than the work: both edges of its bore.
    Edges,
}

/// A round and the bore that it lies in, as it is pressed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bore {
    /// Radius of the work, mm.
    pub work_radius_mm: f64,
    /// Radius that the jaws are bored to, mm.
    pub bore_radius_mm: f64,
    /// Half the width of the jaw's front, mm.
    pub half_mm: f64,
}

impl Bore {
    /// Radius of the round that presses on a flat as work and bore press on one another, mm; without end where they
    /// are alike: `1/|1/R − 1/R_b|`.
    pub fn relative_radius_mm(&self) -> f64 {
        1.0 / (1.0 / self.work_radius_mm - 1.0 / self.bore_radius_mm).abs()
    }

    /// What bears under so many N on each mm along the spindle. A gap that the load closes over the whole jaw by Hertz
    /// counts for nothing, whether the bore is the larger or the work.
    pub fn fit(&self, load_n_mm: f64, contact_modulus_mpa: f64) -> BoreFit {
        let relative_mm = self.relative_radius_mm();
        let strip_mm = if relative_mm.is_finite() {
            line_pressure(load_n_mm, relative_mm, contact_modulus_mpa).half_width_mm
        } else {
            f64::INFINITY
        };
        if strip_mm >= self.half_mm {
            BoreFit::Whole
        } else if self.bore_radius_mm > self.work_radius_mm {
            BoreFit::Middle(strip_mm)
        } else {
            BoreFit::Edges
        }
    }

    /// Half the angle that the jaw spans of the work, rad.
    pub fn half_rad(&self) -> f64 {
        (self.half_mm / self.work_radius_mm).min(1.0).asin()
    }
}

/// Points round an arc from one angle to another, each with its share of the jaw's force: both ends and the middle, by
/// the width that falls to each as the jaw pushes (an even pressure along the push).
pub fn arc_points([from_rad, to_rad]: [f64; 2]) -> [(f64, f64); 3] {
    let middle_rad = (from_rad + to_rad) / 2.0;
    let bounds = [from_rad, (from_rad + middle_rad) / 2.0, (middle_rad + to_rad) / 2.0, to_rad].map(f64::sin);
    let whole = bounds[3] - bounds[0];
    let share = |part: usize| if whole > 0.0 { (bounds[part + 1] - bounds[part]) / whole } else { 1.0 / 3.0 };
    [(from_rad, share(0)), (middle_rad, share(1)), (to_rad, share(2))]
}

/// Mean pressure of a jaw on the width that it spans, MPa: force over projected area, as for a bush on its pin.
pub fn bearing_mpa(force_n: f64, width_mm: f64, length_mm: f64) -> f64 {
    force_n / (width_mm * length_mm)
}

/// Greatest pressure under a stiff jaw on a round that it fits, pressed by `p = p₀ cos θ` over its arc, MPa:
/// `p₀ = N/(R L (α + sin α cos α))`; over half the round `4/π` times the mean on the projected area.
pub fn cosine_peak_mpa(force_n: f64, radius_mm: f64, length_mm: f64, half_rad: f64) -> f64 {
    force_n / (radius_mm * length_mm * (half_rad + half_rad.sin() * half_rad.cos()))
}

/// How many times its push the normal forces under such a jaw come to, and so its friction: `4 sin α/(2 α + sin 2α)`,
/// as for the long shoe of a brake (Shigley, Mechanical Engineering Design, brakes). Not counted on.
pub fn shoe_gain(half_rad: f64) -> f64 {
    if half_rad == 0.0 { 1.0 } else { 4.0 * half_rad.sin() / (2.0 * half_rad + (2.0 * half_rad).sin()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bore(work_mm: f64, bore_mm: f64) -> Bore {
        Bore { work_radius_mm: work_mm / 2.0, bore_radius_mm: bore_mm / 2.0, half_mm: 7.0 }
    }

    #[test]
    fn a_few_hundredths_close_and_tenths_do_not() {
        let fit = |bore_mm| bore(40.0, bore_mm).fit(325.0, 113_622.0);
        assert_eq!(fit(40.0), BoreFit::Whole);
        assert_eq!(fit(40.04), BoreFit::Whole);
        assert_eq!(fit(39.96), BoreFit::Whole);
        assert!(matches!(fit(40.3), BoreFit::Middle(half) if half > 1.0 && half < 7.0), "{:?}", fit(40.3));
        assert_eq!(fit(39.7), BoreFit::Edges);
    }

    #[test]
    fn shares_of_an_arc_make_a_whole_and_lie_alike_to_both_sides() {
        for half in [1e-6, 0.3, 1.0, 1.5] {
            let [one, middle, other] = arc_points([-half, half]);
            assert!((one.1 + middle.1 + other.1 - 1.0).abs() < 1e-12 && (one.1 - other.1).abs() < 1e-12);
            assert!(middle.0.abs() < 1e-15 && middle.1 >= 0.5 - 1e-12 && one.1 > 0.0, "{half}");
        }
    }

    /// The bore grows to a flat: Hertz of the bar alone.
    #[test]
    fn a_jaw_without_a_bore_is_a_flat_one() {
        let flat = Bore { bore_radius_mm: f64::INFINITY, ..bore(40.0, 40.0) };
        assert!((flat.relative_radius_mm() - 20.0).abs() < 1e-12);
        assert!((shoe_gain(1e-5) - 1.0).abs() < 1e-9 && shoe_gain(0.0) == 1.0);
    }
}
