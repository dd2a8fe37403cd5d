//! Deciding by the same gauge: what it lets through, what it turns away, and guard bands inside the limits.

use super::aim::{Band, Scrap, aim_repeated};
use super::unusable::{Unusable, price, spread};
use crate::accuracy::{above as chance_above, below as chance_below, between as chance_between, density};

/// A gauge that decides: what reads inside the limits less a guard on each side is passed as good.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauge {
    /// Standard uncertainty of a reading, mm.
    pub uncertainty_mm: f64,
    /// How far inside the limit beyond which it is scrap a reading must lie, mm.
    pub guard_scrap_mm: f64,
    /// How far inside the limit that another pass mends, mm.
    pub guard_again_mm: f64,
}

impl Gauge {
    /// The same guard on both sides.
    pub fn guarded(uncertainty_mm: f64, guard_mm: f64) -> Gauge {
        Gauge { uncertainty_mm, guard_scrap_mm: guard_mm, guard_again_mm: guard_mm }
    }
}

/// What the gauge says of a piece and what it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// Read as good, and good.
    pub good: f64,
    /// Read as having too much left on, whatever it is: another pass.
    pub again: f64,
    /// Read as scrap, whatever it is.
    pub scrap: f64,
    /// Read as good, and outside its limits.
    pub escapes: f64,
}

/// What things cost, in passes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prices {
    /// A piece thrown away.
    pub scrap_passes: f64,
    /// A bad piece passed as good.
    pub escape_passes: f64,
}

impl Prices {
    /// Prices that can be reckoned with.
    ///
    /// # Errors
    /// A price that is none.
    pub fn new(scrap_passes: f64, escape_passes: f64) -> Result<Prices, Unusable> {
        Ok(Prices {
            scrap_passes: price("the price of scrap", scrap_passes)?,
            escape_passes: price("the price of a bad piece passed as good", escape_passes)?,
        })
    }
}

impl Judged {
    /// Expected cost in passes when every further pass is as this one: `(P_r + K P_s + E P_e)/(1 − P_r)`.
    pub fn cost(&self, prices: &Prices) -> f64 {
        (self.again + prices.scrap_passes * self.scrap + prices.escape_passes * self.escapes)
            / (self.good + self.scrap + self.escapes)
    }
}

/// What a gauge makes of pieces whose true size is normal about `aim_mm`.
pub fn judged(band: &Band, aim_mm: f64, spread_mm: f64, gauge: &Gauge) -> Judged {
    let (low_guard, high_guard) = match band.scrap {
        Scrap::Under => (gauge.guard_scrap_mm, gauge.guard_again_mm),
        Scrap::Over => (gauge.guard_again_mm, gauge.guard_scrap_mm),
    };
    let (low, high) = (band.least_mm + low_guard, band.most_mm - high_guard);
    let read = spread_mm.hypot(gauge.uncertainty_mm);
    let (below, above) = (chance_below((low - aim_mm) / read), chance_above((high - aim_mm) / read));
    let accepted = if low < high { chance_between((low - aim_mm) / read, (high - aim_mm) / read) } else { 0.0 };
    let u = gauge.uncertainty_mm;
    let passes = |size_mm: f64| {
        let seen = density((size_mm - aim_mm) / spread_mm) / spread_mm;
        if low < high { seen * chance_between((low - size_mm) / u, (high - size_mm) / u) } else { 0.0 }
    };
    let good = integral(passes, band, (aim_mm, spread_mm, u));
    let (again, scrap) = match band.scrap {
        Scrap::Under => (above, below),
        Scrap::Over => (below, above),
    };
    Judged { good: good.min(accepted), again, scrap, escapes: (accepted - good).max(0.0) }
}

/// Integral over the limits, by Gauss and Legendre in panels no wider than the narrower of the two spreads.
fn integral(function: impl Fn(f64) -> f64, band: &Band, (aim_mm, spread_mm, gauge_mm): (f64, f64, f64)) -> f64 {
    /// Beyond so many spreads nothing is left to a double.
    const REACH: f64 = 9.0;
    /// A panel this wide, in spreads, is exact to about 1e-9 with eight points.
    const PANEL: f64 = 2.0;
    const MOST_PANELS: f64 = 2000.0;
    let (low, high) = (band.least_mm.max(aim_mm - REACH * spread_mm), band.most_mm.min(aim_mm + REACH * spread_mm));
    if low >= high {
        return 0.0;
    }
    let panels = ((high - low) / (PANEL * spread_mm.min(gauge_mm))).ceil().clamp(1.0, MOST_PANELS);
    let half = (high - low) / panels / 2.0;
    (0..panels as u32)
        .map(|panel| {
            let middle = low + half * (2.0 * f64::from(panel) + 1.0);
            EIGHT
                .iter()
                .map(|(at, weight)| weight * (function(middle - half * at) + function(middle + half * at)))
                .sum::<f64>()
        })
        .sum::<f64>()
        * half
}

/// Points and weights of eight-point Gauss and Legendre quadrature, one half (Abramowitz and Stegun, table 25.4, from
/// memory; a test integrates with them what has a closed form).
const EIGHT: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];

/// The aim that costs least when this gauge decides, mm.
///
/// # Errors
/// A spread that is none.
pub fn aim_by_gauge(band: &Band, spread_mm: f64, gauge: &Gauge, prices: &Prices) -> Result<f64, Unusable> {
    spread("the spread of the cut", spread_mm)?;
    spread("the gauge's uncertainty", gauge.uncertainty_mm)?;
    let cost = |from_middle_mm: f64| judged(band, band.mendable_mm(from_middle_mm), spread_mm, gauge).cost(prices);
    // Limits so wide that nothing goes wrong about the middle: there is no least to find.
    let gauge_apart_mm = aim_repeated(band, spread_mm, prices.scrap_passes)?;
    if judged(band, gauge_apart_mm, spread_mm, gauge).cost(prices) < NOTHING {
        return Ok(gauge_apart_mm);
    }
    let half = band.width_mm() / 2.0;
    let reach = 3.0 * spread_mm.hypot(gauge.uncertainty_mm);
    // Beyond the limit of scrap there is no aim: where all goes wrong the cost only asks to throw the work away at once.
    Ok(band.mendable_mm(cheapest(cost, -half, half + reach, 16)))
}

/// The size from which on one mark more costs less, mm, as far towards the side that can be mended as a cut that comes
/// out there on average may lie: with it and with a mark beyond it costs the same. About half a mark from the aim, less
/// the more scrap costs.
pub fn next_mark_from_mm(
    band: &Band,
    (aim_mm, mark_mm): (f64, f64),
    spread_mm: f64,
    gauge: &Gauge,
    prices: &Prices,
) -> f64 {
    let away_mm = -band.scrap.cut_goes();
    let cost = |size_mm: f64| judged(band, size_mm, spread_mm, gauge).cost(prices);
    let dearer = |over_mm: f64| {
        let here_mm = aim_mm + away_mm * over_mm;
        let saved = cost(here_mm) - cost(here_mm - away_mm * mark_mm);
        // Where neither costs anything the nearer to the aim is taken.
        if saved.abs() < NOTHING { over_mm > mark_mm / 2.0 } else { saved > 0.0 }
    };
    let (mut low, mut high) = (0.0, mark_mm);
    for _ in 0..HALVINGS {
        let middle = low + (high - low) / 2.0;
        if dearer(middle) { high = middle } else { low = middle }
    }
    aim_mm + away_mm * low
}

/// A cost, in passes, that nobody meets in a working life.
const NOTHING: f64 = 1e-6;
/// A mark halved so often is less than anything that a hand or a gauge tells apart.
const HALVINGS: u32 = 10;

/// The guard, the same on both sides, that costs least with this aim, mm; 0 to half of the band.
pub fn cheapest_guard_mm(band: &Band, aim_mm: f64, spread_mm: f64, uncertainty_mm: f64, prices: &Prices) -> f64 {
    let cost = |guard_mm: f64| judged(band, aim_mm, spread_mm, &Gauge::guarded(uncertainty_mm, guard_mm)).cost(prices);
    let most = (band.width_mm() / 2.0).min(4.0 * uncertainty_mm);
    let found = cheapest(cost, 0.0, most, 8);
    if cost(found) < cost(0.0) { found } else { 0.0 }
}

/// The guard of the textbook, mm: with it a reading proves a size to 95 % against one limit (ISO 14253-1:2017, from
/// memory: `g = 1.645 u`), Φ⁻¹(0.95) times the standard uncertainty.
pub fn textbook_guard_mm(uncertainty_mm: f64) -> f64 {
    /// Φ⁻¹(0.95).
    const ONE_SIDED_95: f64 = 1.644_853_626_951_472_7;
    ONE_SIDED_95 * uncertainty_mm
}

/// The least of a cost: the best of a grid, then the golden section between its neighbours.
fn cheapest(cost: impl Fn(f64) -> f64, low: f64, high: f64, steps: u32) -> f64 {
    /// A least is flat: no hand sets and no gauge reads a share so small of the range.
    const NEAR: f64 = 2e-5;
    let golden = (5f64.sqrt() - 1.0) / 2.0;
    let at = |step: u32| low + (high - low) * f64::from(step) / f64::from(steps);
    let best = (0..=steps).min_by(|&a, &b| cost(at(a)).total_cmp(&cost(at(b)))).unwrap_or(0);
    let (mut a, mut b) = (at(best.saturating_sub(1)), at((best + 1).min(steps)));
    let stop = NEAR * (high - low);
    let (mut one, mut other) = (b - golden * (b - a), a + golden * (b - a));
    let (mut at_one, mut at_other) = (cost(one), cost(other));
    while b - a > stop {
        if at_one <= at_other {
            (b, other, at_other) = (other, one, at_one);
            one = b - golden * (b - a);
            at_one = cost(one);
        } else {
            (a, one, at_one) = (one, other, at_other);
            other = a + golden * (b - a);
            at_other = cost(other);
        }
    }
    a + (b - a) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn band() -> Band {
        Band::new(-0.02, 0.02, Scrap::Under).expect("sound")
    }

    #[test]
    fn what_is_judged_adds_up_to_one_and_the_quadrature_is_exact() {
        for (aim, s, u, guard) in [(0.0, 0.01, 0.005, 0.0), (0.01, 0.02, 0.0005, 0.005), (-0.05, 0.004, 0.02, 0.0)] {
            let found = judged(&band(), aim, s, &Gauge::guarded(u, guard));
            assert!((found.good + found.again + found.scrap + found.escapes - 1.0).abs() < 1e-9, "{found:?}");
        }
        // With a gauge far better than the cut what it passes is what is good.
        let found = judged(&band(), 0.003, 0.01, &Gauge::guarded(1e-6, 0.0));
        let plain = band().chances(0.003, 0.01);
        assert!((found.good - plain.good).abs() < 1e-3 && (found.again - plain.again).abs() < 1e-6);
        assert!(found.escapes < 1e-3);
    }

    #[test]
    fn a_guard_wider_than_the_band_passes_nothing() {
        let found = judged(&band(), 0.0, 0.01, &Gauge::guarded(0.01, 0.03));
        assert_eq!((found.good, found.escapes), (0.0, 0.0));
    }

    #[test]
    fn a_price_that_is_none_is_refused() {
        for hostile in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(Prices::new(hostile, 1.0).is_err() && Prices::new(1.0, hostile).is_err());
        }
        let prices = Prices::new(20.0, 40.0).expect("sound");
        assert!(aim_by_gauge(&band(), 0.0, &Gauge::guarded(0.005, 0.0), &prices).is_err());
        assert!(aim_by_gauge(&band(), 0.01, &Gauge::guarded(0.0, 0.0), &prices).is_err());
    }
}
