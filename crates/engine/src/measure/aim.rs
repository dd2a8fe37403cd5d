//! The size to go for with the next cut: metal left on can be taken off by another pass, metal taken off is gone.

use super::unusable::{Unusable, number, price, spread};
use crate::accuracy::{above as chance_above, below as chance_below, between as chance_between};

/// Which side of the limits cannot be mended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scrap {
    /// Under the least: an outside size, which cuts make smaller.
    Under,
    /// Over the most: a bore, which cuts make larger.
    Over,
}

impl Scrap {
    /// Which way a cut moves the size: −1 smaller, 1 larger.
    pub fn cut_goes(self) -> f64 {
        match self {
            Scrap::Under => -1.0,
            Scrap::Over => 1.0,
        }
    }
}

/// Limits of a size, mm, and which side of them is scrap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Least.
    pub least_mm: f64,
    /// Most.
    pub most_mm: f64,
    /// The side that cannot be mended.
    pub scrap: Scrap,
}

/// What may come of a cut; the three add up to 1.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Chances {
    /// Inside the limits.
    pub good: f64,
    /// Too much left on: another pass.
    pub again: f64,
    /// Too much off.
    pub scrap: f64,
}

impl Chances {
    /// Expected cost in passes of one cut that is judged and left: another pass costs 1, scrap `scrap_passes`.
    pub fn cost_once(&self, scrap_passes: f64) -> f64 {
        self.again + scrap_passes * self.scrap
    }

    /// Expected cost in passes beyond the first when every further pass is as this one:
    /// `J = (P_r + K P_s)/(1 − P_r)`.
    pub fn cost_repeated(&self, scrap_passes: f64) -> f64 {
        self.cost_once(scrap_passes) / (self.good + self.scrap)
    }

    /// Scrap in the end when every further pass is as this one.
    pub fn scrap_in_the_end(&self) -> f64 {
        self.scrap / (self.good + self.scrap)
    }

    /// Passes until it is good or scrap, the first included.
    pub fn passes(&self) -> f64 {
        1.0 / (self.good + self.scrap)
    }
}

impl Band {
    /// Limits that can be reckoned with.
    ///
    /// # Errors
    /// Limits that are no numbers, or the wrong way round.
    pub fn new(least_mm: f64, most_mm: f64, scrap: Scrap) -> Result<Band, Unusable> {
        let (least_mm, most_mm) = (number("the least limit", least_mm)?, number("the most limit", most_mm)?);
        if least_mm < most_mm {
            Ok(Band { least_mm, most_mm, scrap })
        } else {
            Err(Unusable::Limits(least_mm, most_mm))
        }
    }

    /// Middle of the limits.
    pub fn middle_mm(&self) -> f64 {
        self.least_mm + (self.most_mm - self.least_mm) / 2.0
    }

    /// Distance between the limits.
    pub fn width_mm(&self) -> f64 {
        self.most_mm - self.least_mm
    }

    /// What may come of a cut whose size is normal about a mean.
    pub fn chances(&self, mean_mm: f64, spread_mm: f64) -> Chances {
        let (low, high) = ((self.least_mm - mean_mm) / spread_mm, (self.most_mm - mean_mm) / spread_mm);
        let (under, over, good) = (chance_below(low), chance_above(high), chance_between(low, high));
        match self.scrap {
            Scrap::Under => Chances { good, again: over, scrap: under },
            Scrap::Over => Chances { good, again: under, scrap: over },
        }
    }

    /// A size so far towards the side that another pass mends.
    pub(super) fn mendable_mm(&self, from_middle_mm: f64) -> f64 {
        self.middle_mm() - self.scrap.cut_goes() * from_middle_mm
    }
}

/// Best aim of a cut that is judged and left, mm: `a = (L + U)/2 + s² ln K/(U − L)`, where another pass costs 1 and
/// scrap K passes. Exact.
///
/// # Errors
/// A spread or a price that is none.
pub fn aim_once(band: &Band, spread_mm: f64, scrap_passes: f64) -> Result<f64, Unusable> {
    let (s, k) = (spread("the spread of the cut", spread_mm)?, price("the price of scrap", scrap_passes)?);
    Ok(band.mendable_mm(s * s * k.ln() / band.width_mm()))
}

/// Best aim when every piece with too much left on gets another pass with the same aim, mm: the root of
/// `a = (L + U)/2 + s²/(U − L) ln[K (1 − P_r)/(1 + K P_s)]`, bracketed and halved to the last digit. One aim is best
/// for every pass (Golhar and Pollock 1986 for the canning problem; for rework of one feature Dodd, Scanlan, Marsh and
/// Wiseall: abstracts read, proofs not).
///
/// # Errors
/// A spread or a price that is none.
pub fn aim_repeated(band: &Band, spread_mm: f64, scrap_passes: f64) -> Result<f64, Unusable> {
    let (s, k) = (spread("the spread of the cut", spread_mm)?, price("the price of scrap", scrap_passes)?);
    // In spreads from the middle, towards the side that can be mended: everything is of order one.
    let half = band.width_mm() / (2.0 * s);
    let slope = |a: f64| 2.0 * half * a - k.ln() - chance_below(half - a).ln() + (k * chance_below(-half - a)).ln_1p();
    Ok(band.mendable_mm(s * root(slope, half.max(1.0))))
}

/// Where a function that goes from negative to positive crosses nought; sought outwards in doubling steps, then
/// halved until two neighbouring numbers are left.
fn root(function: impl Fn(f64) -> f64, step: f64) -> f64 {
    /// Doublings of a step: past this every number is too large for one.
    const DOUBLINGS: i32 = 1000;
    let outwards = |sign: f64| {
        (0..DOUBLINGS)
            .map(|n| sign * step * 2f64.powi(n))
            .find(|&at| sign * function(at) > 0.0)
            .unwrap_or(sign * f64::MAX)
    };
    let (mut low, mut high) = (outwards(-1.0), outwards(1.0));
    loop {
        let middle = low + (high - low) / 2.0;
        if middle <= low || middle >= high {
            return middle;
        }
        if function(middle) < 0.0 { low = middle } else { high = middle }
    }
}

/// Whether a piece just beyond the limit that can be mended has a chip left on: a further pass as thin as the edge takes
/// lands no nearer to scrap than the middle of the limits. Where it has not, the tool is only passed across again at the
/// same number (a spring pass), which takes what work and tool sprang apart.
pub fn leaves_a_chip(band: &Band, least_chip_mm: f64) -> bool {
    least_chip_mm <= band.width_mm() / 2.0
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn band(least: f64, most: f64) -> Band {
        Band::new(least, most, Scrap::Under).expect("sound")
    }

    #[test]
    fn limits_the_wrong_way_round_are_refused_in_words() {
        for (least, most) in [(1.0, 1.0), (2.0, 1.0), (f64::NAN, 1.0), (0.0, f64::INFINITY)] {
            assert!(Band::new(least, most, Scrap::Under).is_err(), "{least} {most}");
        }
        let says = Band::new(36.05, 35.95, Scrap::Under).expect_err("reversed").to_string();
        assert_eq!(says, "the limits are 36.05 to 35.95 mm; the least must be less than the most");
        for hostile in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(
                aim_once(&band(0.0, 1.0), hostile, 20.0).is_err()
                    && aim_repeated(&band(0.0, 1.0), 0.1, hostile).is_err()
            );
        }
    }

    #[test]
    fn a_chip_is_left_while_it_is_no_more_than_half_the_band() {
        let band = band(-0.02, 0.02);
        assert!(leaves_a_chip(&band, 0.0) && leaves_a_chip(&band, 0.02) && !leaves_a_chip(&band, 0.021));
    }

    /// The least of a cost by another method: a grid over all that could be, then the golden section.
    fn cheapest(cost: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
        let at = |step: i32| low + (high - low) * f64::from(step) / 2000.0;
        let best = (0..=2000).min_by(|&a, &b| cost(at(a)).total_cmp(&cost(at(b)))).expect("some");
        let (mut low, mut high) = (at(best - 1), at(best + 1));
        let golden = (5f64.sqrt() - 1.0) / 2.0;
        while high - low > 1e-12 * (1.0 + high.abs()) {
            let (a, b) = (high - golden * (high - low), low + golden * (high - low));
            if cost(a) <= cost(b) { high = b } else { low = a }
        }
        (low + high) / 2.0
    }

    proptest! {
        #![proptest_config(ProptestConfig { rng_seed: proptest::test_runner::RngSeed::Fixed(82), ..ProptestConfig::default() })]

        /// Both aims beside grid and golden section; a flat least is found no nearer than its costs tell apart.
        #[test]
        fn the_conditions_find_the_cheapest_aim(half in 0.5..12.0f64, k in 1.0..300.0f64) {
            let band = band(-half, half);
            let reach = half + 6.0;
            let once = cheapest(|a| band.chances(a, 1.0).cost_once(k), -reach, reach);
            let best = aim_once(&band, 1.0, k).unwrap();
            prop_assert!(band.chances(best, 1.0).cost_once(k) <= band.chances(once, 1.0).cost_once(k) * (1.0 + 1e-12));
            let again = cheapest(|a| band.chances(a, 1.0).cost_repeated(k), -reach, reach);
            let best = aim_repeated(&band, 1.0, k).unwrap();
            prop_assert!(band.chances(best, 1.0).cost_repeated(k) <= band.chances(again, 1.0).cost_repeated(k) * (1.0 + 1e-12));
            prop_assert!((best - again).abs() < 1e-5, "{best} {again}");
        }

        /// A bore is an outside size seen in a mirror.
        #[test]
        fn a_bore_mirrors(mid in -5.0..5.0f64, half in 0.01..1.0f64, s in 0.001..1.0f64, k in 1.0..100.0f64) {
            let out = band(mid - half, mid + half);
            let bore = Band { scrap: Scrap::Over, ..out };
            for aim in [aim_once, aim_repeated] {
                let (a, b) = (aim(&out, s, k).unwrap(), aim(&bore, s, k).unwrap());
                prop_assert!((a + b - 2.0 * mid).abs() < 1e-9 * (1.0 + a.abs()));
                let (one, other) = (out.chances(a, s), bore.chances(b, s));
                prop_assert!((one.good - other.good).abs() < 1e-9 && (one.scrap - other.scrap).abs() < 1e-9);
                prop_assert!((one.good + one.again + one.scrap - 1.0).abs() < 1e-12);
            }
        }

        /// Dearer scrap and a wider spread never move the aim towards scrap.
        #[test]
        fn dearer_scrap_moves_the_aim_away_from_it(half in 1.0..8.0f64, k in 1.0..100.0f64) {
            let band = band(-half, half);
            let at = |k: f64| aim_repeated(&band, 1.0, k).unwrap();
            prop_assert!(at(k * 1.5) >= at(k) - 1e-12);
            prop_assert!(at(k) <= aim_once(&band, 1.0, k).unwrap() + 1e-12);
        }

        /// Any numbers that are accepted give a number.
        #[test]
        fn nothing_accepted_gives_no_number(width in 1e-9..1e3f64, s in 1e-9..1e3f64, k in 1e-6..1e9f64) {
            let band = band(36.0, 36.0 + width);
            prop_assert!(aim_repeated(&band, s, k).unwrap().is_finite());
            prop_assert!(aim_once(&band, s, k).unwrap().is_finite());
        }
    }
}
