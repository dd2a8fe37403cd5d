//! One piece, cut by a rule until its gauge passes it or it is thrown away.

use engine::measure::{Advice, Belief, Reading, Rule, Table};

use crate::dice::Dice;
use crate::shops::Shop;

/// How the next cut is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// The last cut as planned; what reads over afterwards is cut off.
    TheDial,
    /// What the gauge reads over the middle of the limits.
    TheRest,
    /// The program's rule, each reading decided.
    OurRule,
    /// The program's printed table for the first cut, its rule after that.
    OurTable,
}

/// Every rule, in the order of the table.
pub const ALL: [By; 4] = [By::TheDial, By::TheRest, By::OurRule, By::OurTable];

/// What became of a piece.
#[derive(Debug, Clone, Copy, Default)]
pub struct Fate {
    /// Cuts and spring passes.
    pub passes: f64,
    /// Measurements.
    pub measures: f64,
    /// Thrown away.
    pub scrap: f64,
    /// Passed as good and outside its limits.
    pub escapes: f64,
    /// Good the first time.
    pub first_time: f64,
}

/// Passes after which a person gives up; the piece counts as scrap.
const GIVES_UP: u32 = 8;

/// The chance of one piece, the same for every rule: where it is before the cut, and what errs at every cut and reading.
#[derive(Debug, Clone)]
pub struct Luck {
    before: f64,
    cuts: Vec<(f64, f64)>,
    readings: Vec<f64>,
}

impl Luck {
    /// Draws it.
    pub fn new(dice: &mut Dice) -> Luck {
        let mut normal = || (-2.0 * (1.0 - dice.share()).ln()).sqrt() * (std::f64::consts::TAU * dice.share()).cos();
        let cuts = (0..=GIVES_UP).map(|_| (normal(), normal())).collect();
        Luck { before: normal(), cuts, readings: (0..=3 * GIVES_UP).map(|_| normal()).collect() }
    }
}

/// A piece on the machine.
struct Piece<'a> {
    shop: &'a Shop,
    luck: &'a Luck,
    size_mm: f64,
    cuts: usize,
    readings: usize,
    /// Readings since the tool last took a chip: a piece that is measured until it reads well is not good for that.
    since_chip: Vec<f64>,
    fate: Fate,
}

/// Cuts one piece by a rule; `worth`: whether ours measures before the cut at all.
pub fn make(shop: &Shop, (rule, table, worth): (&Rule, &Table, bool), by: By, luck: &Luck) -> Fate {
    let size_mm = shop.is.expected.mean_mm + luck.before * shop.is.expected.spread_mm;
    let mut piece = Piece { shop, luck, size_mm, cuts: 0, readings: 0, since_chip: Vec::new(), fate: Fate::default() };
    let mut now = piece.first_cut((rule, table, worth), by);
    for pass in 1..=GIVES_UP {
        let Some(known) = now else { return piece.thrown_away() };
        let read_mm = piece.measure();
        // By thumb the last reading counts; by our rule all since the last chip.
        let reads_mm = if matches!(by, By::OurRule | By::OurTable) { piece.mean_mm() } else { read_mm };
        let band = &shop.believes.band;
        if reads_mm < band.least_mm - 1e-9 {
            // Nobody throws work away on one reading.
            let both_mm = (read_mm + piece.measure()) / 2.0;
            if both_mm < band.least_mm - 1e-9 {
                return piece.thrown_away();
            }
            return piece.passed(pass);
        }
        if reads_mm <= band.most_mm + 1e-9 {
            return piece.passed(pass);
        }
        now = piece.again(rule, by, &known, read_mm);
    }
    piece.thrown_away()
}

impl Piece<'_> {
    fn measure(&mut self) -> f64 {
        let error_mm = self.luck.readings[self.readings] * self.shop.is.gauge_mm;
        self.readings += 1;
        self.fate.measures += 1.0;
        let reads_mm = ((self.size_mm + error_mm) / self.shop.graduation_mm).round() * self.shop.graduation_mm;
        self.since_chip.push(reads_mm);
        reads_mm
    }

    fn mean_mm(&self) -> f64 {
        self.since_chip.iter().sum::<f64>() / self.since_chip.len() as f64
    }

    fn cut(&mut self, marks: u64, first: bool) {
        let (cut, (share, scatter)) = (&self.shop.is.cut, self.luck.cuts[self.cuts]);
        let depth_mm = marks as f64 * cut.mark_mm;
        // The spring of the rough cut comes out once.
        let comes_off_mm = if first { cut.comes_off_mm } else { 0.0 };
        let moved_mm = depth_mm * (1.0 + share * cut.share) + comes_off_mm + scatter * cut.scatter_mm;
        // A tool that is only passed across again puts nothing on.
        self.size_mm -= if marks == 0 { moved_mm.max(0.0) } else { moved_mm };
        if marks > 0 {
            self.since_chip.clear();
        }
        self.cuts += 1;
        self.fate.passes += 1.0;
    }

    /// The first finishing cut; what is known after it, `None`: thrown away.
    fn first_cut(&mut self, (rule, table, worth): (&Rule, &Table, bool), by: By) -> Option<Belief> {
        let stop = &rule.stop;
        if by == By::TheDial || (by != By::TheRest && !worth) {
            self.cut(stop.planned_marks, true);
            return Some(stop.by_the_dial(&stop.expected).comes_out);
        }
        let reads_mm = self.measure();
        if by == By::TheRest {
            let set = stop.cut_the_rest(&stop.known(reads_mm), reads_mm);
            self.cut(set.marks, true);
            return Some(set.comes_out);
        }
        let printed = (by == By::OurTable).then(|| table.marks_for(stop, reads_mm)).flatten();
        if let Some(marks) = printed {
            self.cut(marks, true);
            return Some(stop.setting(&stop.known(reads_mm), marks).comes_out);
        }
        match rule.decide(reads_mm) {
            Advice::MeasureAgain(_) => {
                let both = [reads_mm, self.measure()].map(|mm| stop.reading(mm));
                self.do_as_told(rule, &Belief::of(&Reading::mean(&both)?), true)
            }
            _ => self.do_as_told(rule, &stop.known(reads_mm), true),
        }
    }

    fn do_as_told(&mut self, rule: &Rule, now: &Belief, first: bool) -> Option<Belief> {
        match rule.advise(now) {
            Advice::Cut(set) => {
                self.cut(set.marks, first);
                Some(set.comes_out)
            }
            Advice::TooDeep(marks) => {
                self.cut(marks, first);
                let known = rule.stop.setting(now, marks).comes_out;
                let reads_mm = self.measure();
                self.do_as_told(rule, &known.after(&rule.stop.reading(reads_mm)), false)
            }
            Advice::SpringPass(_) | Advice::ToSize(_) => {
                self.cut(0, first);
                Some(now.drifted(rule.stop.cut.scatter_mm))
            }
            Advice::Gone(_) | Advice::MeasureAgain(_) => None,
        }
    }

    /// Reads over its limits.
    fn again(&mut self, rule: &Rule, by: By, known: &Belief, reads_mm: f64) -> Option<Belief> {
        let stop = &rule.stop;
        let after = known.after(&stop.reading(reads_mm));
        match by {
            // By thumb what reads over is cut off, as thin as the edge takes at least.
            By::TheDial | By::TheRest => {
                let thinnest = (stop.cut.least_mm / stop.cut.mark_mm).ceil() as u64;
                let marks = stop.cut_the_rest(&after, reads_mm).marks.max(thinnest).max(1);
                self.cut(marks, false);
                Some(stop.setting(&after, marks).comes_out)
            }
            By::OurRule | By::OurTable => self.do_as_told(rule, &after, false),
        }
    }

    fn passed(mut self, pass: u32) -> Fate {
        let band = &self.shop.believes.band;
        if (band.least_mm..=band.most_mm).contains(&self.size_mm) {
            self.fate.first_time = if pass == 1 { 1.0 } else { 0.0 };
        } else {
            self.fate.escapes = 1.0;
        }
        self.fate
    }

    fn thrown_away(mut self) -> Fate {
        self.fate.scrap = 1.0;
        self.fate
    }
}
