//! One reading at the stop before a finishing cut: what to set, what it will then measure, with which chances; and
//! what two rules of thumb would set.

use super::aim::{Band, Chances, aim_repeated, keep_a_chip};
use super::belief::{Belief, Reading, cut_spread_mm};
use super::numbers::numbers;
use super::unusable::{Unusable, number, price, spread};

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

impl Stop {
    /// A stop that can be reckoned with.
    ///
    /// # Errors
    /// What is no number, spread, price or mark.
    pub fn checked(self) -> Result<Stop, Unusable> {
        Band::new(self.band.least_mm, self.band.most_mm, self.band.scrap)?;
        Belief::new(self.expected.mean_mm, self.expected.spread_mm)?;
        spread("the gauge's uncertainty", self.gauge_mm)?;
        spread("the scatter of the cut", self.cut.scatter_mm)?;
        price("the price of scrap", self.scrap_passes)?;
        for value in [self.cut.comes_off_mm, self.cut.share, self.cut.least_mm, self.cut.deepest_mm] {
            number("a number of the cut", value)?;
        }
        if number("a mark of the dial", self.cut.mark_mm)? > 0.0 {
            Ok(self)
        } else {
            Err(Unusable::Mark(self.cut.mark_mm))
        }
    }

    /// A reading of this stop's gauge.
    pub fn reading(&self, size_mm: f64) -> Reading {
        Reading { size_mm, uncertainty_mm: self.gauge_mm }
    }

    /// What to do with a reading that is to be believed only if it lies where one is expected.
    pub fn decide(&self, size_mm: f64) -> Advice {
        let reading = self.reading(size_mm);
        let off = self.expected.spreads_off(&reading);
        // A reading that is no number lies nowhere.
        if off.is_nan() || off > numbers().asked_spreads.value {
            return Advice::MeasureAgain(off);
        }
        self.advise(&self.expected.after(&reading))
    }

    /// What to do when so much is known of the size.
    pub fn advise(&self, now: &Belief) -> Advice {
        let as_it_is = self.setting(now, 0);
        if as_it_is.chances.scrap > 0.5 {
            return Advice::Gone(as_it_is.chances.scrap);
        }
        let best = self.best(now);
        if best.marks as f64 * self.cut.mark_mm > self.cut.deepest_mm * (1.0 + 1e-9) {
            return Advice::TooDeep(self.first_of_two(&best));
        }
        if self.left_on_mm(now) >= self.cut.least_mm || self.cost(&best) < self.cost(&as_it_is) {
            return Advice::Cut(best);
        }
        if as_it_is.chances.good > 0.5 { Advice::ToSize(as_it_is) } else { Advice::SpringPass(as_it_is) }
    }

    /// From the size as it is to the aim, mm, as a depth of the dial.
    fn left_on_mm(&self, now: &Belief) -> f64 {
        self.band.scrap.cut_goes() * (self.aim_mm(now) - now.mean_mm) - self.cut.comes_off_mm
    }

    /// The size to go for, mm.
    pub fn aim_mm(&self, now: &Belief) -> f64 {
        let middle = self.band.scrap.cut_goes() * (self.band.middle_mm() - now.mean_mm);
        let spread_mm = cut_spread_mm(now.spread_mm, self.cut.share, middle.max(0.0), self.cut.scatter_mm);
        let aim_mm = aim_repeated(&self.band, spread_mm, self.scrap_passes).unwrap_or(self.band.middle_mm());
        keep_a_chip(&self.band, aim_mm, self.cut.least_mm).aim_mm
    }

    /// The cheapest of the marks about the aim that leave the edge a chip; of two that cost alike the lesser, from
    /// which another pass is left.
    fn best(&self, now: &Belief) -> Setting {
        let mark_mm = self.cut.mark_mm;
        let least = (self.cut.least_mm / mark_mm - 1e-9).ceil().max(1.0);
        let nearest = (self.left_on_mm(now) / mark_mm).floor().clamp(least, MOST_MARKS);
        let around = [nearest - 1.0, nearest, nearest + 1.0, nearest + 2.0];
        let settings = around.iter().filter(|&&marks| marks >= least).map(|&marks| self.setting(now, marks as u64));
        settings.min_by(|a, b| self.cost(a).total_cmp(&self.cost(b))).unwrap_or_else(|| self.setting(now, least as u64))
    }

    fn cost(&self, setting: &Setting) -> f64 {
        setting.chances.cost_repeated(self.scrap_passes)
    }

    /// Half of a cut that is too deep, or as deep as the set-up allows, whichever is less, in marks.
    fn first_of_two(&self, whole: &Setting) -> u64 {
        let most = (self.cut.deepest_mm / self.cut.mark_mm + 1e-9).floor();
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

    /// What is known of the size after a reading.
    pub fn known(&self, size_mm: f64) -> Belief {
        self.expected.after(&self.reading(size_mm))
    }

    /// The chances over all readings that may be expected: of this program's rule, of the last cut by the dial, of
    /// measuring once and cutting the rest.
    pub fn rules(&self) -> Rules {
        let [mut ours, mut by_the_dial, mut cut_the_rest] = [Chances::default(); 3];
        let read_mm = self.expected.read_spread_mm(self.gauge_mm);
        let weights: f64 = (0..NODES).map(|node| weight(place(node))).sum();
        for z in (0..NODES).map(place) {
            let (size_mm, share) = (self.expected.mean_mm + z * read_mm, weight(z) / weights);
            let now = self.known(size_mm);
            ours.add(self.chances_of(&self.advise(&now), &now), share);
            by_the_dial.add(self.by_the_dial(&now).chances, share);
            cut_the_rest.add(self.cut_the_rest(&now, size_mm).chances, share);
        }
        Rules { ours, by_the_dial, cut_the_rest }
    }

    fn chances_of(&self, advice: &Advice, now: &Belief) -> Chances {
        match advice {
            Advice::Cut(setting) | Advice::SpringPass(setting) | Advice::ToSize(setting) => setting.chances,
            Advice::TooDeep(_) => self.best(now).chances,
            Advice::Gone(_) | Advice::MeasureAgain(_) => self.setting(now, 0).chances,
        }
    }

    /// Whether no reading of the gauge tells inside from outside: its two-spread band is wider than the limits. Then
    /// the uncertainty of one that would do, mm, by the share of the band that a gauge may take.
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

fn weight(z: f64) -> f64 {
    super::normal::density(z)
}
