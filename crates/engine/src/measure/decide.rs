//! One reading at the stop before a finishing cut: what to set, what it will then measure, with which chances; and
//! what two rules of thumb would set.

use super::aim::{Band, Chances, leaves_a_chip};
use super::belief::{Belief, Reading, cut_spread_mm};
use super::guard::{Gauge, Prices, aim_by_gauge, judged, next_mark_from_mm};
use super::numbers::numbers;
use super::unusable::{Unusable, number, spread};
use crate::accuracy::density;

/// A cut that is set in whole marks of a dial, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// What a mark of the dial moves.
    pub mark_mm: f64,
    /// What else comes off than the dial moves, whatever is set: spring of the last rough cut that comes out.
    pub comes_off_mm: f64,
    /// Relative error of dial and spring.
    pub share: f64,
    /// What scatters whatever the depth, standard deviation.
    pub scatter_mm: f64,
    /// Thinnest cut that the edge takes.
    pub least_mm: f64,
    /// Deepest cut that this set-up was worked out for.
    pub deepest_mm: f64,
}

/// A stop before a finishing cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// The limits of the size.
    pub band: Band,
    /// What the size is believed to be before it is measured.
    pub expected: Belief,
    /// Standard uncertainty of the gauge, mm.
    pub gauge_mm: f64,
    /// The cut to come.
    pub cut: Cut,
    /// Marks that the plan sets on, were nothing measured.
    pub planned_marks: u64,
    /// Price of scrap in passes.
    pub scrap_passes: f64,
}

/// What a setting gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting {
    /// Marks to set on from where the dial stands.
    pub marks: u64,
    /// What they move, mm.
    pub depth_mm: f64,
    /// The size that then comes out.
    pub comes_out: Belief,
    /// What may come of it.
    pub chances: Chances,
}

/// What to do with a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Advice {
    /// Set this and cut.
    Cut(Setting),
    /// Deeper than any cut of the set-up was worked out for: so many marks first, then measure again.
    TooDeep(u64),
    /// What is left on is less than the edge takes: the tool once more across at the same number.
    SpringPass(Setting),
    /// It measures within its limits already: every further cut takes it nearer to scrap.
    ToSize(Setting),
    /// It is more likely than not beyond the limit that nothing mends: the chance of that.
    Gone(f64),
    /// Too far from what is expected to be believed unasked: by so many standard deviations.
    MeasureAgain(f64),
}

/// The rule of a stop, worked out once: a reading then costs next to nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// The stop.
    pub stop: Stop,
    /// The size to go for, mm: what costs least when the gauge decides whether it is good.
    pub aim_mm: f64,
    /// No setting may let it come out beyond this on average, mm: there a mark more costs less.
    pub next_mark_from_mm: f64,
    /// Standard deviation of what comes out, by the cut as planned, mm.
    pub spread_mm: f64,
    /// What is just beyond the limit that can be mended has no chip left on for another pass.
    pub spring_pass: bool,
}

impl Rule {
    /// Works the rule of a stop out.
    ///
    /// # Errors
    /// What is no number, spread, price or mark.
    pub fn new(stop: Stop) -> Result<Rule, Unusable> {
        let stop = stop.checked()?;
        let (band, gauge) = (&stop.band, Gauge::guarded(stop.gauge_mm, 0.0));
        let spring_pass = !leaves_a_chip(band, stop.cut.least_mm);
        let prices = stop.prices(spring_pass)?;
        let known_mm = stop.known(stop.expected.mean_mm).spread_mm;
        let spread_mm = cut_spread_mm(known_mm, stop.cut.share, stop.planned_mm(), stop.cut.scatter_mm);
        let aim_mm = aim_by_gauge(band, spread_mm, &gauge, &prices)?;
        let from_mm = next_mark_from_mm(band, (aim_mm, stop.cut.mark_mm), spread_mm, &gauge, &prices);
        Ok(Rule { stop, aim_mm, next_mark_from_mm: from_mm, spread_mm, spring_pass })
    }

    /// What to do with a reading that is to be believed only if it lies where one is expected.
    pub fn decide(&self, size_mm: f64) -> Advice {
        let off = self.stop.expected.spreads_off(&self.stop.reading(size_mm));
        // A reading that is no number lies nowhere.
        if off.is_nan() || off > numbers().asked_spreads.value {
            return Advice::MeasureAgain(off);
        }
        self.advise(&self.stop.known(size_mm))
    }

    /// What to do when so much is known of the size.
    pub fn advise(&self, now: &Belief) -> Advice {
        let (stop, as_it_is) = (&self.stop, self.stop.setting(now, 0));
        if as_it_is.chances.scrap > 0.5 {
            return Advice::Gone(as_it_is.chances.scrap);
        }
        let marks = (self.left_on_mm(now) / stop.cut.mark_mm - NO_PART_OF_A_MARK).ceil().clamp(0.0, MOST_MARKS) as u64;
        let best = stop.setting(now, marks);
        if best.depth_mm > stop.cut.deepest_mm * (1.0 + 1e-9) {
            return Advice::TooDeep(stop.first_of_two(&best));
        }
        if marks > 0 && best.depth_mm >= stop.cut.least_mm {
            return Advice::Cut(best);
        }
        // As thin as the edge takes, if that is better than what is there.
        let thinnest = stop.setting(now, stop.thinnest_marks());
        if self.costs(&thinnest) < self.costs(&as_it_is) {
            return Advice::Cut(thinnest);
        }
        if as_it_is.chances.good > 0.5 { Advice::ToSize(as_it_is) } else { Advice::SpringPass(as_it_is) }
    }

    /// From the size as it is to the farthest that a cut may leave it, as a depth of the dial, mm.
    fn left_on_mm(&self, now: &Belief) -> f64 {
        let goes = self.stop.band.scrap.cut_goes();
        goes * (self.next_mark_from_mm - now.mean_mm) - self.stop.cut.comes_off_mm
    }

    /// What is not cut is judged as it is: a pass without a chip is not repeated for ever.
    fn costs(&self, setting: &Setting) -> f64 {
        setting.chances.cost_once(self.stop.scrap_passes)
    }

    /// What a measurement before the cut saves a piece, in passes, against the cut by the dial, its own price not
    /// counted. Less than that price: the limits are so wide that the dial alone does it.
    pub fn measuring_saves(&self) -> f64 {
        let by_the_dial = self.stop.by_the_dial(&self.stop.expected).comes_out;
        self.expected_cost(by_the_dial.mean_mm, by_the_dial.spread_mm) - self.expected_cost(self.aim_mm, self.spread_mm)
    }

    /// Expected cost in passes beyond the first of a cut whose size is normal about a mean, the gauge deciding; every
    /// further pass goes by the rule.
    fn expected_cost(&self, mean_mm: f64, spread_mm: f64) -> f64 {
        let (stop, gauge) = (&self.stop, Gauge::guarded(self.stop.gauge_mm, 0.0));
        let Ok(prices) = stop.prices(self.spring_pass) else { return f64::INFINITY };
        let further = judged(&stop.band, self.aim_mm, self.spread_mm, &gauge).cost(&prices);
        let found = judged(&stop.band, mean_mm, spread_mm, &gauge);
        found.again * (1.0 + further) + prices.scrap_passes * found.scrap + prices.escape_passes * found.escapes
    }

    /// The chances over all readings that may be expected: of this rule, of the last cut by the dial, of measuring once
    /// and cutting the rest.
    pub fn rules(&self) -> Rules {
        let [mut ours, mut by_the_dial, mut cut_the_rest] = [Chances::default(); 3];
        let read_mm = self.stop.expected.read_spread_mm(self.stop.gauge_mm);
        let weights: f64 = (0..NODES).map(|node| density(place(node))).sum();
        for z in (0..NODES).map(place) {
            let (size_mm, share) = (self.stop.expected.mean_mm + z * read_mm, density(z) / weights);
            let now = self.stop.known(size_mm);
            ours.add(self.chances_of(&self.advise(&now), &now), share);
            by_the_dial.add(self.stop.by_the_dial(&now).chances, share);
            cut_the_rest.add(self.stop.cut_the_rest(&now, size_mm).chances, share);
        }
        Rules { ours, by_the_dial, cut_the_rest }
    }

    fn chances_of(&self, advice: &Advice, now: &Belief) -> Chances {
        match advice {
            Advice::Cut(setting) | Advice::SpringPass(setting) | Advice::ToSize(setting) => setting.chances,
            // Measured again between the two cuts it comes out as one that is cut at once.
            Advice::TooDeep(_) => self.stop.band.chances(self.aim_mm, self.spread_mm),
            Advice::Gone(_) | Advice::MeasureAgain(_) => self.stop.setting(now, 0).chances,
        }
    }
}

impl Stop {
    /// A stop that can be reckoned with.
    fn checked(self) -> Result<Stop, Unusable> {
        Band::new(self.band.least_mm, self.band.most_mm, self.band.scrap)?;
        Belief::new(self.expected.mean_mm, self.expected.spread_mm)?;
        spread("the gauge's uncertainty", self.gauge_mm)?;
        spread("the scatter of the cut", self.cut.scatter_mm)?;
        for value in [self.cut.comes_off_mm, self.cut.share, self.cut.least_mm, self.cut.deepest_mm] {
            number("a number of the cut", value)?;
        }
        if number("a mark of the dial", self.cut.mark_mm)? > 0.0 {
            Ok(self)
        } else {
            Err(Unusable::Mark(self.cut.mark_mm))
        }
    }

    /// Prices in passes; where another pass begins with a spring pass, it is two.
    fn prices(&self, spring_pass: bool) -> Result<Prices, Unusable> {
        let again = if spring_pass { 2.0 } else { 1.0 };
        let scrap_passes = self.scrap_passes / again;
        Prices::new(scrap_passes, numbers().escape_over_scrap.value * scrap_passes)
    }

    fn planned_mm(&self) -> f64 {
        self.planned_marks as f64 * self.cut.mark_mm
    }

    /// A reading of this stop's gauge.
    pub fn reading(&self, size_mm: f64) -> Reading {
        Reading { size_mm, uncertainty_mm: self.gauge_mm }
    }

    /// What is known of the size after a reading.
    pub fn known(&self, size_mm: f64) -> Belief {
        self.expected.after(&self.reading(size_mm))
    }

    fn thinnest_marks(&self) -> u64 {
        (self.cut.least_mm / self.cut.mark_mm - NO_PART_OF_A_MARK).ceil().clamp(1.0, MOST_MARKS) as u64
    }

    /// Half of a cut that is too deep, or as deep as the set-up allows, whichever is less, in marks.
    fn first_of_two(&self, whole: &Setting) -> u64 {
        let most = (self.cut.deepest_mm / self.cut.mark_mm + NO_PART_OF_A_MARK).floor();
        (whole.marks as f64 / 2.0).ceil().min(most).max(1.0) as u64
    }

    /// What so many marks give.
    pub fn setting(&self, now: &Belief, marks: u64) -> Setting {
        let depth_mm = marks as f64 * self.cut.mark_mm;
        // Without a cut the size stays what it is; nothing is added to what is not known of it.
        let comes_out = if marks == 0 {
            *now
        } else {
            Belief {
                mean_mm: now.mean_mm + self.band.scrap.cut_goes() * (depth_mm + self.cut.comes_off_mm),
                spread_mm: cut_spread_mm(now.spread_mm, self.cut.share, depth_mm, self.cut.scatter_mm),
            }
        };
        Setting { marks, depth_mm, comes_out, chances: self.band.chances(comes_out.mean_mm, comes_out.spread_mm) }
    }

    /// Rule of thumb: take the last cut by the dial, as planned, whatever it measures.
    pub fn by_the_dial(&self, now: &Belief) -> Setting {
        self.setting(now, self.planned_marks)
    }

    /// Rule of thumb: believe the reading and cut what is over the middle of the limits, to the nearest mark.
    pub fn cut_the_rest(&self, now: &Belief, size_mm: f64) -> Setting {
        let rest_mm = self.band.scrap.cut_goes() * (self.band.middle_mm() - size_mm);
        self.setting(now, (rest_mm / self.cut.mark_mm).round().clamp(0.0, MOST_MARKS) as u64)
    }

    /// Whether no reading of the gauge tells inside from outside: two of its standard uncertainties either way are
    /// wider than the limits. Then the uncertainty of a gauge that would do, mm, by the share of the band that one may
    /// take.
    pub fn finer_gauge_mm(&self, reading_share: f64) -> Option<f64> {
        let width_mm = self.band.width_mm();
        (4.0 * self.gauge_mm > width_mm).then_some(reading_share * width_mm / 2.0)
    }
}

/// Chances of three rules, over all readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rules {
    /// Measure, then decide.
    pub ours: Chances,
    /// The last cut by the dial.
    pub by_the_dial: Chances,
    /// Measure once and cut the rest.
    pub cut_the_rest: Chances,
}

impl Chances {
    fn add(&mut self, other: Chances, share: f64) {
        self.good += share * other.good;
        self.again += share * other.again;
        self.scrap += share * other.scrap;
    }
}

/// What binary numbers lack to a whole mark.
const NO_PART_OF_A_MARK: f64 = 1e-9;
/// More marks than any slide has.
const MOST_MARKS: f64 = 1e6;
/// Readings at which the rules are weighed, evenly over what may be expected: settings go in steps, so that finer
/// rules of quadrature gain nothing.
const NODES: u32 = 241;

fn place(node: u32) -> f64 {
    /// Beyond so many spreads a reading is asked about, not cut by.
    const REACH: f64 = 4.0;
    REACH * (2.0 * f64::from(node) / f64::from(NODES - 1) - 1.0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::measure::aim::Scrap;

    /// 36 mm within ±0.05, 0.30 left on, a dial of 0.0254 mm a mark.
    pub fn stop() -> Stop {
        Stop {
            band: Band::new(35.95, 36.05, Scrap::Under).expect("sound"),
            expected: Belief::new(36.305, 0.05).expect("sound"),
            gauge_mm: 0.008,
            cut: Cut {
                mark_mm: 0.0254,
                comes_off_mm: 0.004,
                share: 0.02,
                scatter_mm: 0.008,
                least_mm: 0.05,
                deepest_mm: 2.3,
            },
            planned_marks: 12,
            scrap_passes: 15.0,
        }
    }

    fn rule() -> Rule {
        Rule::new(stop()).expect("sound")
    }

    #[test]
    fn the_aim_lies_between_the_middle_and_the_limit_that_is_mended() {
        let rule = rule();
        assert!(rule.aim_mm > 36.0 && rule.aim_mm < 36.03, "{rule:?}");
        assert!(rule.next_mark_from_mm > rule.aim_mm && rule.next_mark_from_mm < rule.aim_mm + 0.0254);
    }

    #[test]
    fn more_left_on_is_never_less_to_set() {
        let rule = rule();
        let mut before = 0;
        for step in 0..400 {
            let Advice::Cut(setting) = rule.decide(36.11 + 0.001 * f64::from(step)) else { continue };
            assert!(setting.marks >= before, "{setting:?}");
            before = setting.marks;
            let out = setting.comes_out.mean_mm;
            assert!(out <= rule.next_mark_from_mm + 1e-9 && out > rule.next_mark_from_mm - 0.0255, "{setting:?}");
        }
        assert!(before > 15);
    }

    #[test]
    fn a_reading_far_off_is_asked_about() {
        for far in [36.0, 35.9, 36.6, 1.4, f64::NAN, f64::INFINITY] {
            assert!(matches!(rule().decide(far), Advice::MeasureAgain(off) if off.is_nan() || off > 4.0), "{far}");
        }
    }

    #[test]
    fn what_is_known_decides_between_cut_spring_pass_to_size_and_gone() {
        let know = |mean| rule().advise(&Belief::new(mean, 0.004).expect("sound"));
        assert!(matches!(know(36.3), Advice::Cut(_)));
        // 0.012 over: no chip for the edge, but one of 0.05 lands well inside.
        assert!(matches!(know(36.062), Advice::Cut(setting) if setting.marks == 2));
        assert!(matches!(know(36.01), Advice::ToSize(_)));
        assert!(matches!(know(35.93), Advice::Gone(chance) if chance > 0.99));
        assert!(matches!(know(39.0), Advice::TooDeep(59)));
        // A band that a chip would cross: only the tool once more at the same number is left.
        let fine = Stop { band: Band::new(35.99, 36.01, Scrap::Under).expect("sound"), gauge_mm: 0.002, ..stop() };
        let rule = Rule::new(fine).expect("sound");
        assert!(rule.spring_pass);
        assert!(matches!(rule.advise(&Belief::new(36.015, 0.002).expect("sound")), Advice::SpringPass(_)));
    }

    #[test]
    fn the_chances_of_the_rules_add_up_and_ours_scraps_less_than_the_dial() {
        let rules = rule().rules();
        for chances in [rules.ours, rules.by_the_dial, rules.cut_the_rest] {
            assert!((chances.good + chances.again + chances.scrap - 1.0).abs() < 1e-9);
        }
        let cost = |chances: Chances| chances.cost_repeated(15.0);
        assert!(cost(rules.ours) < cost(rules.by_the_dial) && cost(rules.ours) < cost(rules.cut_the_rest));
        assert!(rules.ours.scrap < rules.by_the_dial.scrap);
    }

    #[test]
    fn measuring_is_worth_less_the_wider_the_limits() {
        let saves = |half: f64| {
            let band = Band::new(36.0 - half, 36.0 + half, Scrap::Under).expect("sound");
            Rule::new(Stop { band, ..stop() }).expect("sound").measuring_saves()
        };
        let [fine, usual, wide] = [0.05, 0.1, 0.3].map(saves);
        assert!(fine > 1.0 && usual < fine && wide.abs() < 1e-3, "{fine} {usual} {wide}");
    }

    #[test]
    fn a_gauge_too_coarse_for_the_band_is_told_with_one_that_would_do() {
        let coarse = Stop { gauge_mm: 0.03, ..stop() };
        let finer = coarse.finer_gauge_mm(0.25).expect("0.12 mm in a band of 0.10");
        assert!((finer - 0.0125).abs() < 1e-12);
        assert_eq!(stop().finer_gauge_mm(0.25), None);
        // It is still decided, however badly.
        assert!(Rule::new(coarse).expect("sound").aim_mm.is_finite());
    }

    #[test]
    fn what_no_stop_can_be_is_refused() {
        let mut hostile = vec![Stop { gauge_mm: 0.0, ..stop() }, Stop { scrap_passes: 0.0, ..stop() }];
        for number in [f64::NAN, 0.0, -1.0] {
            hostile.push(Stop { cut: Cut { mark_mm: number, ..stop().cut }, ..stop() });
            hostile.push(Stop { expected: Belief { mean_mm: 36.3, spread_mm: number }, ..stop() });
        }
        hostile.push(Stop { band: Band { least_mm: 36.05, most_mm: 35.95, scrap: Scrap::Under }, ..stop() });
        for stop in hostile {
            assert!(Rule::new(stop).is_err(), "{stop:?}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { rng_seed: proptest::test_runner::RngSeed::Fixed(83), cases: 200, ..ProptestConfig::default() })]

        /// Any stop that is accepted is decided, in whole marks, and a bore as an outside size in a mirror.
        #[test]
        fn any_stop_is_decided(half in 0.001..0.5f64, s in 0.001..0.2f64, u in 0.0005..0.1f64, mark in 0.001..0.1f64, k in 1.0..200.0f64, z in -3.9..3.9f64) {
            let outside = Stop {
                band: Band::new(-half, half, Scrap::Under).unwrap(),
                expected: Belief::new(0.3, s).unwrap(),
                gauge_mm: u,
                cut: Cut { mark_mm: mark, comes_off_mm: 0.002, share: 0.02, scatter_mm: 0.006, least_mm: 0.02, deepest_mm: 2.0 },
                planned_marks: (0.3 / mark).round() as u64,
                scrap_passes: k,
            };
            let bore = Stop {
                band: Band::new(-half, half, Scrap::Over).unwrap(),
                expected: Belief::new(-0.3, s).unwrap(),
                ..outside
            };
            let reads = 0.3 + z * s.hypot(u);
            let [one, other] = [(outside, reads), (bore, -reads)].map(|(stop, reads)| Rule::new(stop).unwrap().decide(reads));
            match (one, other) {
                (Advice::Cut(a), Advice::Cut(b)) => {
                    // A flat least is found as near as its costs tell apart: a mark more or less at the divide.
                    prop_assert!(a.marks.abs_diff(b.marks) <= 1);
                    prop_assert!((a.comes_out.mean_mm + b.comes_out.mean_mm).abs() < 1.001 * mark);
                }
                (a, b) => prop_assert_eq!(std::mem::discriminant(&a), std::mem::discriminant(&b)),
            }
        }
    }
}
