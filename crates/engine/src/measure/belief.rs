//! What is believed of a size while the piece is on the machine: a normal, narrower after every reading.

use super::unusable::{Unusable, number, spread};

/// A size that is not known for certain, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Belief {
    /// Where it most likely is.
    pub mean_mm: f64,
    /// Standard deviation.
    pub spread_mm: f64,
}

/// What a gauge reads, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The size that it shows.
    pub size_mm: f64,
    /// Standard uncertainty of the reading.
    pub uncertainty_mm: f64,
}

impl Reading {
    /// A reading that can be reckoned with.
    ///
    /// # Errors
    /// A size that is no number, an uncertainty of nothing or less.
    pub fn new(size_mm: f64, uncertainty_mm: f64) -> Result<Reading, Unusable> {
        Ok(Reading {
            size_mm: number("the reading", size_mm)?,
            uncertainty_mm: spread("the gauge's uncertainty", uncertainty_mm)?,
        })
    }

    /// The mean of readings of one gauge. Its uncertainty stays that of one: what the gauge has wrong it has wrong
    /// each time, and of the two only the scatter shrinks. `None`: no reading.
    pub fn mean(readings: &[Reading]) -> Option<Reading> {
        let uncertainty_mm = readings.iter().map(|reading| reading.uncertainty_mm).reduce(f64::max)?;
        let sum_mm: f64 = readings.iter().map(|reading| reading.size_mm).sum();
        Some(Reading { size_mm: sum_mm / readings.len() as f64, uncertainty_mm })
    }
}

impl Belief {
    /// A belief that can be reckoned with.
    ///
    /// # Errors
    /// A mean that is no number, a spread of nothing or less.
    pub fn new(mean_mm: f64, spread_mm: f64) -> Result<Belief, Unusable> {
        Ok(Belief { mean_mm: number("the size", mean_mm)?, spread_mm: spread("the spread of the size", spread_mm)? })
    }

    /// What a reading alone says, where nothing is believed before.
    pub fn of(reading: &Reading) -> Belief {
        Belief { mean_mm: reading.size_mm, spread_mm: reading.uncertainty_mm }
    }

    /// The belief after a reading: both weighed by the inverse of their variances (conjugate rule of the normal;
    /// JCGM 106:2012, 7.2, from memory).
    pub fn after(&self, reading: &Reading) -> Belief {
        let weight = self.weight_of(reading.uncertainty_mm);
        Belief {
            mean_mm: self.mean_mm + weight * (reading.size_mm - self.mean_mm),
            spread_mm: reading.uncertainty_mm * weight.sqrt(),
        }
    }

    /// How much of a reading's difference the belief takes over, 0 to 1: `K = v/(v + R)` of Kalman's filter.
    pub fn weight_of(&self, uncertainty_mm: f64) -> f64 {
        let ratio = uncertainty_mm / self.spread_mm;
        1.0 / (1.0 + ratio * ratio)
    }

    /// Standard deviation of what such a gauge will read.
    pub fn read_spread_mm(&self, uncertainty_mm: f64) -> f64 {
        self.spread_mm.hypot(uncertainty_mm)
    }

    /// By how many standard deviations a reading lies off what was expected of it.
    pub fn spreads_off(&self, reading: &Reading) -> f64 {
        (reading.size_mm - self.mean_mm).abs() / self.read_spread_mm(reading.uncertainty_mm)
    }

    /// The belief after something random was added, of this standard deviation: a part further on, a new grip.
    pub fn drifted(&self, by_mm: f64) -> Belief {
        Belief { spread_mm: self.spread_mm.hypot(by_mm), ..*self }
    }
}

/// Standard deviations of independent things, together (GUM 5.1.2).
pub fn together(spreads_mm: &[f64]) -> f64 {
    spreads_mm.iter().fold(0.0, |sum: f64, spread_mm| sum.hypot(*spread_mm))
}

/// Standard deviation of the size after a cut, mm: what was not known of the size before, an error of dial and
/// spring that grows with the depth, and what scatters whatever the depth. `s = √(s_m² + (s_b d)² + s_r²)`.
pub fn cut_spread_mm(before_mm: f64, share: f64, depth_mm: f64, scatter_mm: f64) -> f64 {
    together(&[before_mm, share * depth_mm, scatter_mm])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn what_is_no_spread_is_refused_in_words() {
        for hostile in [0.0, -0.01, f64::NAN, f64::INFINITY] {
            assert!(Belief::new(36.0, hostile).is_err() && Reading::new(36.0, hostile).is_err(), "{hostile}");
        }
        let says = Reading::new(36.0, 0.0).expect_err("no gauge is without").to_string();
        assert!(says.starts_with("the gauge's uncertainty is 0 mm; a spread above zero"), "{says}");
        assert!(Belief::new(f64::NAN, 0.01).expect_err("no size").to_string().contains("no number"));
    }

    #[test]
    fn readings_of_one_gauge_keep_its_uncertainty() {
        let readings = [36.31, 36.33].map(|mm| Reading::new(mm, 0.008).expect("sound"));
        let mean = Reading::mean(&readings).expect("two");
        assert!((mean.size_mm - 36.32).abs() < 1e-12 && mean.uncertainty_mm == 0.008);
        assert_eq!(Reading::mean(&[]), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig { rng_seed: proptest::test_runner::RngSeed::Fixed(81), ..ProptestConfig::default() })]

        /// Between the two, narrower than either; in whichever order two readings come.
        #[test]
        fn a_reading_narrows(mean in -1.0..1.0f64, s in 1e-4..1.0f64, y in -1.0..1.0f64, u in 1e-4..1.0f64, z in -1.0..1.0f64) {
            let (before, reading) = (Belief::new(mean, s).unwrap(), Reading::new(y, u).unwrap());
            let after = before.after(&reading);
            prop_assert!(after.spread_mm < s && after.spread_mm < u);
            prop_assert!(after.mean_mm >= mean.min(y) - 1e-12 && after.mean_mm <= mean.max(y) + 1e-12);
            let again = Reading::new(z, u / 2.0).unwrap();
            let (one, other) = (after.after(&again), before.after(&again).after(&reading));
            prop_assert!((one.mean_mm - other.mean_mm).abs() < 1e-9 && (one.spread_mm - other.spread_mm).abs() < 1e-9);
        }
    }
}
