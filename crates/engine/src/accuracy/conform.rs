//! Deciding with uncertainty: does a size conform, seen through a reading that is not exact?
//!
//! ISO 14253-1 (guard bands) and JCGM 106:2012 (chance of conformance, global risks), both from memory. Everything is
//! normal; lengths in mm. A limit that is not there is infinite.

use super::normal::{between, density, quantile};

/// What is known of a value: the best estimate and its standard uncertainty, mm. An uncertainty of 0 is knowing it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known {
    /// Best estimate.
    pub value_mm: f64,
    /// Standard uncertainty or standard deviation, not negative.
    pub u_mm: f64,
}

/// From a lower to an upper limit, mm; either may be infinite.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Lower limit.
    pub lower_mm: f64,
    /// Upper limit.
    pub upper_mm: f64,
}

/// What may be said after a reading (ISO 14253-1).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Conformance is shown: the reading lies inside the limits by the guard band.
    Conforms,
    /// The reading lies within a guard band of a limit: neither is shown.
    Undecided,
    /// Non-conformance is shown: the reading lies outside the limits by the guard band.
    DoesNot,
}

/// Chances over all pieces of a process (JCGM 106, 9.5): each of all pieces made, not of those accepted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Risks {
    /// Bad, and accepted: the risk of who gets the piece, R_C.
    pub accept_bad: f64,
    /// Good, and rejected: the risk of who makes it, R_P.
    pub reject_good: f64,
    /// Accepted, good or bad.
    pub accepted: f64,
    /// Good, accepted or not.
    pub good: f64,
}

impl Band {
    /// Whether a value lies inside, limits included.
    pub fn holds(&self, value_mm: f64) -> bool {
        (self.lower_mm..=self.upper_mm).contains(&value_mm)
    }

    /// Chance that something known lies inside.
    fn chance_of(&self, known: Known) -> f64 {
        if known.u_mm <= 0.0 {
            return f64::from(u8::from(self.holds(known.value_mm)));
        }
        between((self.lower_mm - known.value_mm) / known.u_mm, (self.upper_mm - known.value_mm) / known.u_mm)
    }
}

/// Chance that the true value lies inside the limits (JCGM 106, 7.4): p_c = Φ((T_U − y)/u) − Φ((T_L − y)/u). `known` is
/// the reading itself where nothing was known before it, else what [`after_reading`] gives.
pub fn chance_within(known: Known, limits: Band) -> f64 {
    limits.chance_of(known)
}

/// What is known after a reading of what was known before (JCGM 106, 7.2; normal with normal): the mean of both,
/// weighted by 1/u². One that is exact wins; of two exact ones the reading.
pub fn after_reading(before: Known, reading: Known) -> Known {
    if reading.u_mm <= 0.0 || before.u_mm <= 0.0 {
        return if reading.u_mm <= 0.0 { reading } else { before };
    }
    if before.u_mm.is_infinite() {
        return reading;
    }
    let (weight, other) = (before.u_mm.powi(-2), reading.u_mm.powi(-2));
    let all = weight + other;
    Known { value_mm: (weight * before.value_mm + other * reading.value_mm) / all, u_mm: all.sqrt().recip() }
}

/// How many standard uncertainties hold a one-sided chance: 1.645 for 0.95. Over 0, under 1.
pub fn quantile_of_chance(chance: f64) -> f64 {
    quantile(chance)
}

/// Guard band beside one limit, mm, at which a reading shows conformance with this chance: Φ⁻¹(chance) u
/// (ISO 14253-1:2017; 0.95 unless agreed otherwise). The older rule, k = 2, is a chance of 0.977.
pub fn guard_mm(u_mm: f64, chance: f64) -> f64 {
    quantile(chance) * u_mm
}

/// The limits drawn in by a guard band, or let out by a negative one; `None`: nothing is left between.
pub fn guarded(limits: Band, guard_mm: f64) -> Option<Band> {
    let band = Band { lower_mm: limits.lower_mm + guard_mm, upper_mm: limits.upper_mm - guard_mm };
    (band.lower_mm <= band.upper_mm).then_some(band)
}

/// What a reading shows, with a guard band on both sides of each limit (ISO 14253-1). Who must prove has the
/// uncertainty against them: the maker needs `Conforms`, the buyer who sends back `DoesNot`.
pub fn verdict(reading_mm: f64, limits: Band, guard_mm: f64) -> Verdict {
    let outside = Band { lower_mm: limits.lower_mm - guard_mm, upper_mm: limits.upper_mm + guard_mm };
    if guarded(limits, guard_mm).is_some_and(|inside| inside.holds(reading_mm)) {
        Verdict::Conforms
    } else if outside.holds(reading_mm) {
        Verdict::Undecided
    } else {
        Verdict::DoesNot
    }
}

/// Global risks (JCGM 106, 9.5) of a process whose true values are `process`, seen with a standard uncertainty
/// `reading_u_mm`, accepted where the reading lies in `accept`; `None` accepts nothing. By Gauss quadrature between the
/// kinks, to about 1e-12. No chance is left out: what lies beyond 9 standard deviations is less than 1e-18.
pub fn risks(process: Known, reading_u_mm: f64, limits: Band, accept: Option<Band>) -> Risks {
    let good = limits.chance_of(process);
    let Some(accept) = accept else {
        return Risks { accept_bad: 0.0, reject_good: good, accepted: 0.0, good };
    };
    let seen = |true_mm: f64| accept.chance_of(Known { value_mm: true_mm, u_mm: reading_u_mm });
    if process.u_mm <= 0.0 {
        let accepted = seen(process.value_mm);
        let (accept_bad, reject_good) =
            if limits.holds(process.value_mm) { (0.0, 1.0 - accepted) } else { (accepted, 0.0) };
        return Risks { accept_bad, reject_good, accepted, good };
    }
    let made = |true_mm: f64| density((true_mm - process.value_mm) / process.u_mm) / process.u_mm;
    let bands = kinks(process, reading_u_mm, limits, accept);
    let over = |inside: bool, of: &dyn Fn(f64) -> f64| -> f64 {
        let panels = bands.windows(2).filter(|panel| limits.holds((panel[0] + panel[1]) / 2.0) == inside);
        panels.map(|panel| gauss(panel[0], panel[1], of)).sum()
    };
    let accept_bad = over(false, &|at| made(at) * seen(at));
    // Rejected is summed by itself: 1 − accepted would lose the digits of a small chance.
    let rejected = |at: f64| {
        if reading_u_mm <= 0.0 {
            return 1.0 - seen(at);
        }
        between(f64::NEG_INFINITY, (accept.lower_mm - at) / reading_u_mm)
            + between((accept.upper_mm - at) / reading_u_mm, f64::INFINITY)
    };
    let reject_good = over(true, &|at| made(at) * rejected(at));
    let both = Known { u_mm: process.u_mm.hypot(reading_u_mm), ..process };
    Risks { accept_bad, reject_good, accepted: accept.chance_of(both), good }
}

/// Ends of the panels: the limits, and whole standard deviations about the process and about the acceptance limits.
fn kinks(process: Known, reading_u_mm: f64, limits: Band, accept: Band) -> Vec<f64> {
    const FARTHEST: i32 = 9;
    let about = |middle: f64, step: f64| (-FARTHEST..=FARTHEST).map(move |times| middle + f64::from(times) * step);
    let mut ends: Vec<f64> = about(process.value_mm, process.u_mm).collect();
    let (least, most) = (ends[0], ends[ends.len() - 1]);
    ends.extend(about(accept.lower_mm, reading_u_mm).chain(about(accept.upper_mm, reading_u_mm)));
    ends.extend([limits.lower_mm, limits.upper_mm]);
    ends.retain(|end| (least..=most).contains(end));
    ends.sort_by(f64::total_cmp);
    ends.dedup();
    ends
}

/// Gauss-Legendre nodes and weights on [-1, 1], 12 points, the positive half (Abramowitz and Stegun, table 25.4).
const GAUSS: [(f64, f64); 6] = [
    (0.125_233_408_511_468_9, 0.249_147_045_813_402_8),
    (0.367_831_498_998_180_2, 0.233_492_536_538_354_8),
    (0.587_317_954_286_617_4, 0.203_167_426_723_065_9),
    (0.769_902_674_194_304_7, 0.160_078_328_543_346_2),
    (0.904_117_256_370_474_9, 0.106_939_325_995_318_4),
    (0.981_560_634_246_719_2, 0.047_175_336_386_511_8),
];

fn gauss(from: f64, to: f64, of: &dyn Fn(f64) -> f64) -> f64 {
    let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
    half * GAUSS.iter().map(|(at, weight)| weight * (of(middle - half * at) + of(middle + half * at))).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    const LIMITS: Band = Band { lower_mm: -0.02, upper_mm: 0.02 };

    fn process(u_mm: f64) -> Known {
        Known { value_mm: 0.003, u_mm }
    }

    #[test]
    fn the_four_chances_of_a_piece_add_up() {
        for (spread, gauge) in [(0.01, 0.005), (0.01, 1e-7), (1e-7, 0.005), (0.0, 0.004), (0.01, 0.0), (0.05, 0.05)] {
            for guard in [0.0, 0.004, -0.006] {
                let it = risks(process(spread), gauge, LIMITS, guarded(LIMITS, guard));
                let off = it.accepted - (it.good - it.reject_good + it.accept_bad);
                assert!(off.abs() < 1e-11, "{spread} {gauge} {guard}: {off:e}");
            }
        }
    }

    #[test]
    fn an_exact_gauge_makes_no_mistake_at_the_limits() {
        let it = risks(process(0.01), 0.0, LIMITS, Some(LIMITS));
        assert!(it.accept_bad.abs() < 1e-15 && it.reject_good.abs() < 1e-15);
        let none = risks(process(0.01), 0.03, LIMITS, guarded(LIMITS, 0.03));
        assert_eq!((none.accept_bad, none.accepted), (0.0, 0.0));
        assert_eq!(none.reject_good, none.good);
    }

    #[test]
    fn one_sided_limits_work() {
        let upper = Band { lower_mm: f64::NEG_INFINITY, upper_mm: 0.02 };
        let it = risks(process(0.01), 0.005, upper, guarded(upper, 0.005));
        assert!((it.accepted - (it.good - it.reject_good + it.accept_bad)).abs() < 1e-12);
        assert!(it.accept_bad > 0.0 && it.reject_good > it.accept_bad);
    }

    #[test]
    fn readings_near_a_limit_decide_nothing() {
        let say = |reading| verdict(reading, LIMITS, 0.008);
        assert_eq!(
            (say(0.0), say(0.015), say(-0.025), say(0.03)),
            (Verdict::Conforms, Verdict::Undecided, Verdict::Undecided, Verdict::DoesNot)
        );
        // A guard wider than the limits leaves nothing that conforms.
        assert_eq!(verdict(0.0, LIMITS, 0.021), Verdict::Undecided);
    }

    #[test]
    fn what_is_known_better_counts_more() {
        let prior = Known { value_mm: 50.262, u_mm: 0.012 };
        let exact = Known { value_mm: 50.25, u_mm: 0.0 };
        assert_eq!(after_reading(prior, exact), exact);
        assert_eq!(after_reading(exact, prior), exact);
        let vague = Known { value_mm: 0.0, u_mm: f64::INFINITY };
        assert_eq!(after_reading(vague, prior), prior);
    }
}
