//! A depth split into cuts that a person can count on this dial.

use super::practice::least_last_rough;
use super::ring::Dial;
use crate::quantity::{Units, show};

/// Numbers of marks that count well, best first.
const COUNTABLE: [u64; 6] = [100, 50, 25, 20, 10, 5];
/// More cuts than this is no plan for a person.
const MOST_CUTS: u64 = 500;
/// Marks; what is nearer than this to a whole mark lies on it, the rest is noise of the arithmetic.
const ON_A_MARK: f64 = 1e-6;

/// What is to come off, and what bounds each cut; all in mm, square to the surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// From the touch-off to the finished surface.
    pub total_mm: f64,
    /// The finishing cut as one would like it.
    pub finish_mm: f64,
    /// The finishing cut is never rounded to less than this.
    pub least_finish_mm: f64,
    /// No cut is deeper: force, power, hold, tool and chip allow no more.
    pub deepest_mm: f64,
    /// The first cut goes at least so deep, under scale or skin; 0: no skin.
    pub least_first_mm: f64,
    /// No cut is thinner: the tool would rub.
    pub least_mm: f64,
}

/// What a cut is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutKind {
    /// Taking metal off.
    Rough,
    /// Size and surface.
    Finish,
}

/// One cut, on whole marks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// Depth of this cut, mm.
    pub depth_mm: f64,
    /// Depth from the touch-off after it, mm.
    pub total_mm: f64,
    /// Depth of this cut in marks.
    pub marks: u64,
    /// Marks from the touch-off after it.
    pub total_marks: u64,
    /// What it is for.
    pub kind: CutKind,
}

/// Why a depth cannot be split as wanted; lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SplitFault {
    /// A value that is no depth: which, and what it is.
    NotADepth(&'static str, f64),
    /// The total is less than half a mark: total, mark.
    LessThanAMark(f64, f64),
    /// The deepest cut allowed is less than one mark: deepest, mark.
    MarkTooCoarse(f64, f64),
    /// The total is past the slide's travel: total, most depth.
    BeyondTravel(f64, f64),
    /// The thinnest cut that the tool takes is deeper than the deepest allowed: least, deepest.
    ThinnestOverDeepest(f64, f64),
    /// The finishing cut is deeper than the deepest allowed: least finish, deepest.
    FinishTooDeep(f64, f64),
    /// Getting under the skin asks a deeper cut than is allowed: skin, deepest.
    SkinTooDeep(f64, f64),
    /// The whole depth does not get under the skin: total, skin.
    NotUnderTheSkin(f64, f64),
    /// The whole depth is thinner than the tool can take: total, least.
    TooThin(f64, f64),
    /// No division keeps every cut between the thinnest and the deepest: least, deepest.
    NoDivision(f64, f64),
    /// More cuts than a person would take: total, deepest.
    TooManyCuts(f64, f64),
}

/// Splits a depth into rough cuts that feel alike and a finishing cut, every total on a mark.
///
/// As few cuts as the deepest allows; rough cuts of a number of marks that counts well, so long as
/// that costs no cut; the odd remainder last before finishing. The finishing cut is the nearest mark to the one asked; it
/// changes further, by as little as will do, only where the rest could not be cut otherwise.
pub fn split(wanted: &Wanted, dial: &Dial) -> Result<Vec<Cut>, SplitFault> {
    let bounds = Bounds::new(wanted, dial)?;
    let finish = bounds.finish(dial.in_marks(wanted.finish_mm));
    if bounds.total <= finish {
        return Ok(laid_out(&[], bounds.total, dial));
    }
    let finish = bounds.workable_finish(finish).ok_or(SplitFault::NoDivision(wanted.least_mm, wanted.deepest_mm))?;
    let rest = bounds.total - finish;
    if rest.div_ceil(bounds.deepest) >= MOST_CUTS {
        return Err(SplitFault::TooManyCuts(wanted.total_mm, wanted.deepest_mm));
    }
    Ok(laid_out(&bounds.rough(rest), finish, dial))
}

/// Fewest cuts that take a depth off when none is deeper than the deepest; `None` for what is no
/// depth or needs more cuts than anyone takes.
///
/// The dial may ask one more, since it rounds the deepest cut down to a mark.
pub fn cuts_needed(depth_mm: f64, deepest_mm: f64) -> Option<u32> {
    let cuts = (depth_mm / deepest_mm - 1e-9).ceil();
    (depth_mm >= 0.0 && deepest_mm > 0.0 && cuts <= MOST_CUTS as f64).then_some(cuts.max(0.0) as u32)
}

/// What bounds the cuts, in whole marks: least <= deepest <= total is not implied.
struct Bounds {
    total: u64,
    deepest: u64,
    least: u64,
    least_finish: u64,
    first: u64,
}

impl Bounds {
    fn new(wanted: &Wanted, dial: &Dial) -> Result<Bounds, SplitFault> {
        depths(wanted)?;
        let Wanted { total_mm, least_finish_mm, deepest_mm, least_first_mm, least_mm, .. } = *wanted;
        let bounds = Bounds {
            total: dial.nearest_marks(total_mm).ok_or(SplitFault::NotADepth("total depth", total_mm))?,
            deepest: down(deepest_mm, dial),
            least: up(least_mm, dial).max(1),
            least_finish: up(least_finish_mm.max(least_mm), dial).max(1),
            first: up(least_first_mm, dial),
        };
        let most_mm = dial.most_depth_mm.unwrap_or(f64::INFINITY);
        let faults = [
            (bounds.total == 0, SplitFault::LessThanAMark(total_mm, dial.mark_depth_mm)),
            (bounds.deepest == 0, SplitFault::MarkTooCoarse(deepest_mm, dial.mark_depth_mm)),
            (dial.depth_of_mm(bounds.total) > most_mm + 1e-9, SplitFault::BeyondTravel(total_mm, most_mm)),
            (bounds.least > bounds.deepest, SplitFault::ThinnestOverDeepest(least_mm, deepest_mm)),
            (bounds.least_finish > bounds.deepest, SplitFault::FinishTooDeep(least_finish_mm, deepest_mm)),
            (bounds.first > bounds.deepest, SplitFault::SkinTooDeep(least_first_mm, deepest_mm)),
            (bounds.total < bounds.first, SplitFault::NotUnderTheSkin(total_mm, least_first_mm)),
            (bounds.total < bounds.least, SplitFault::TooThin(total_mm, least_mm)),
        ];
        match faults.into_iter().find(|(stands, _)| *stands) {
            Some((_, fault)) => Err(fault),
            None => Ok(bounds),
        }
    }

    /// The finishing cut: the mark nearest to the one asked.
    fn finish(&self, asked: f64) -> u64 {
        let nearest = asked.min(self.deepest as f64).round() as u64;
        nearest.clamp(self.least_finish, self.deepest)
    }

    /// The finishing cut nearest to this one that leaves a rest which can be cut.
    fn workable_finish(&self, finish: u64) -> Option<u64> {
        let thickest = self.deepest.min(self.total);
        (0..=self.total)
            .flat_map(|change| [Some(finish + change), finish.checked_sub(change)])
            .flatten()
            .find(|&marks| self.least_finish <= marks && marks <= thickest && self.can_rough(self.total - marks))
    }

    /// Whether fewest cuts can take this off, none too thin, the first under the skin.
    fn can_rough(&self, rest: u64) -> bool {
        let cuts = rest.div_ceil(self.deepest);
        cuts == 0 || rest >= self.first.max(self.least) + (cuts - 1) * self.least
    }

    /// Rough cuts in order; `can_rough` holds.
    fn rough(&self, rest: u64) -> Vec<u64> {
        let cuts = rest.div_ceil(self.deepest);
        let alike = self.alike(rest, cuts);
        match alike.first() {
            Some(&first) if first < self.first => {
                let skin = self.under_the_skin(rest, cuts);
                let mut all = vec![skin];
                all.extend(self.alike(rest - skin, (rest - skin).div_ceil(self.deepest)));
                all
            }
            _ => alike,
        }
    }

    /// First cut where the others would stay in the skin: it leaves enough for those.
    fn under_the_skin(&self, rest: u64, cuts: u64) -> u64 {
        let most = self.deepest.min(rest - (cuts - 1) * self.least);
        COUNTABLE
            .iter()
            .map(|&step| self.first.next_multiple_of(step))
            .find(|&marks| marks <= most)
            .unwrap_or(self.first)
    }

    /// This many cuts, alike but for the last.
    fn alike(&self, rest: u64, cuts: u64) -> Vec<u64> {
        if cuts <= 1 {
            return if cuts == 0 { Vec::new() } else { vec![rest] };
        }
        COUNTABLE.iter().chain(&[1]).find_map(|&step| self.alike_by(step, rest, cuts)).unwrap_or_else(|| {
            // No odd remainder thick enough: spread it, one mark each on the first cuts.
            (0..cuts).map(|cut| rest / cuts + u64::from(cut < rest % cuts)).collect()
        })
    }

    /// All but the last a multiple of `step`, the last no deeper and not much thinner.
    fn alike_by(&self, step: u64, rest: u64, cuts: u64) -> Option<Vec<u64>> {
        let each = rest.div_ceil(cuts).next_multiple_of(step);
        let last = rest.checked_sub((cuts - 1) * each)?;
        let thick_enough = last >= self.least && last as f64 >= least_last_rough() * each as f64;
        (each <= self.deepest && thick_enough).then(|| {
            let mut all = vec![each; cuts as usize - 1];
            all.push(last);
            all
        })
    }
}

fn depths(wanted: &Wanted) -> Result<(), SplitFault> {
    let above_zero =
        [("total depth", wanted.total_mm), ("finishing cut", wanted.finish_mm), ("deepest cut", wanted.deepest_mm)];
    let not_below_zero = [
        ("least finishing cut", wanted.least_finish_mm),
        ("least first cut", wanted.least_first_mm),
        ("thinnest cut", wanted.least_mm),
    ];
    for (what, mm) in above_zero.into_iter().chain(not_below_zero) {
        if !mm.is_finite() || mm < 0.0 {
            return Err(SplitFault::NotADepth(what, mm));
        }
    }
    match above_zero.into_iter().find(|(_, mm)| *mm == 0.0) {
        Some((what, mm)) => Err(SplitFault::NotADepth(what, mm)),
        None => Ok(()),
    }
}

fn up(mm: f64, dial: &Dial) -> u64 {
    // A float too large saturates, which the bounds then refuse.
    (dial.in_marks(mm) - ON_A_MARK).ceil().max(0.0) as u64
}

fn down(mm: f64, dial: &Dial) -> u64 {
    // Deeper than any total is no bound any more; kept small so that sums stay in range.
    (dial.in_marks(mm) + ON_A_MARK).floor().min(1e9) as u64
}

fn laid_out(rough: &[u64], finish: u64, dial: &Dial) -> Vec<Cut> {
    let kinds = rough.iter().map(|&marks| (marks, CutKind::Rough)).chain([(finish, CutKind::Finish)]);
    kinds
        .scan(0, |total_marks, (marks, kind)| {
            *total_marks += marks;
            let (depth_mm, total_mm) = (dial.depth_of_mm(marks), dial.depth_of_mm(*total_marks));
            Some(Cut { depth_mm, total_mm, marks, total_marks: *total_marks, kind })
        })
        .collect()
}

impl SplitFault {
    /// What is wrong, in words, with value and limit in the job's units.
    pub fn says(&self, units: Units) -> String {
        let length = |mm: f64| show::fine_length(mm, units);
        match *self {
            SplitFault::NotADepth(what, mm) => format!("{what} of {mm} mm is no depth"),
            SplitFault::LessThanAMark(total, mark) => {
                format!("{} to come off is less than half a mark of the dial ({})", length(total), length(mark))
            }
            SplitFault::MarkTooCoarse(deepest, mark) => {
                format!("no cut may be deeper than {}, and one mark of the dial is {}", length(deepest), length(mark))
            }
            SplitFault::BeyondTravel(total, most) => {
                format!("{} to come off, and the slide travels for {}", length(total), length(most))
            }
            SplitFault::ThinnestOverDeepest(least, deepest) => {
                format!(
                    "the tool takes no cut thinner than {}, and none deeper than {} is allowed",
                    length(least),
                    length(deepest)
                )
            }
            SplitFault::FinishTooDeep(finish, deepest) => {
                format!(
                    "a finishing cut of {} is asked, and no cut may be deeper than {}",
                    length(finish),
                    length(deepest)
                )
            }
            SplitFault::SkinTooDeep(skin, deepest) => {
                format!(
                    "the first cut must go {} deep to get under the skin, and none deeper than {} is allowed",
                    length(skin),
                    length(deepest)
                )
            }
            SplitFault::NotUnderTheSkin(total, skin) => {
                format!("{} to come off does not get under a skin of {}", length(total), length(skin))
            }
            SplitFault::TooThin(total, least) => {
                format!("{} to come off, and the tool takes no cut thinner than {}", length(total), length(least))
            }
            SplitFault::NoDivision(least, deepest) => {
                format!("no division keeps every cut between {} and {}", length(least), length(deepest))
            }
            SplitFault::TooManyCuts(total, deepest) => {
                format!("{} in cuts of {} at most is more than {MOST_CUTS} cuts", length(total), length(deepest))
            }
        }
    }
}

impl std::fmt::Display for SplitFault {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.says(Units::Mm))
    }
}

impl std::error::Error for SplitFault {}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::dial::notes;
    use crate::dial::ring::tests::{metric, thousandths};
    use crate::quantity::{degrees, mm};
    use crate::shop::{DialUnit, Reads, Slide};

    const THOU: f64 = 0.0254;

    fn dial(slide: &Slide) -> Dial {
        Dial::new(slide).expect("sound")
    }

    /// Wanted in thousandths: total, finish, deepest, first, least.
    fn wanted([total, finish, deepest, first, least]: [f64; 5]) -> Wanted {
        Wanted {
            total_mm: total * THOU,
            finish_mm: finish * THOU,
            least_finish_mm: least * THOU,
            deepest_mm: deepest * THOU,
            least_first_mm: first * THOU,
            least_mm: least * THOU,
        }
    }

    fn marks(numbers: [f64; 5]) -> Vec<u64> {
        let cuts = split(&wanted(numbers), &dial(&thousandths(0.1))).expect("can be split");
        cuts.iter().map(|cut| cut.marks).collect()
    }

    // Worked by hand from the rule in `split`, not from its output.
    #[test]
    fn rough_cuts_count_well_and_the_odd_one_goes_last() {
        assert_eq!(marks([433.0, 10.0, 150.0, 0.0, 2.0]), [150, 150, 123, 10]);
        assert_eq!(marks([433.0, 10.0, 120.0, 0.0, 2.0]), [120, 120, 120, 63, 10]);
        assert_eq!(marks([310.0, 10.0, 100.0, 0.0, 2.0]), [100, 100, 100, 10]);
    }

    #[test]
    fn a_sliver_is_not_left_for_the_end() {
        // 203 in 3 cuts of at most 100: 100 + 100 + 3 would count well and feel wrong.
        assert_eq!(marks([213.0, 10.0, 100.0, 0.0, 2.0]), [75, 75, 53, 10]);
    }

    #[test]
    fn a_remainder_too_thin_is_spread() {
        // 10 in cuts of at most 3: 3 + 3 + 3 + 1 has an odd one under half.
        assert_eq!(marks([16.0, 6.0, 6.0, 0.0, 1.0]), [5, 5, 6]);
        assert_eq!(marks([12.0, 2.0, 3.0, 0.0, 1.0]), [3, 3, 2, 2, 2]);
    }

    #[test]
    fn the_first_cut_goes_under_the_skin() {
        // 100 in two would be 50 + 50; a skin of 62 asks 75 first.
        assert_eq!(marks([110.0, 10.0, 80.0, 62.0, 5.0]), [75, 25, 10]);
        assert_eq!(marks([110.0, 10.0, 62.0, 62.0, 5.0]), [62, 38, 10]);
    }

    #[test]
    fn little_metal_is_one_finishing_cut() {
        assert_eq!(marks([8.0, 10.0, 50.0, 0.0, 2.0]), [8]);
        // 2 would be left for a rough cut of 5 at least: the finishing cut takes it.
        assert_eq!(marks([12.0, 10.0, 50.0, 0.0, 5.0]), [12]);
        // 4 would be left: the finishing cut gives one.
        assert_eq!(marks([14.0, 10.0, 50.0, 0.0, 5.0]), [5, 9]);
    }

    #[test]
    fn a_finishing_cut_off_the_marks_is_the_nearest_mark() {
        // 0.3 mm is 11.8 thousandths: 12 is the nearest mark; 0.25 mm is 9.84: 10.
        assert_eq!(marks([100.0, 0.3 / THOU, 50.0, 0.0, 2.0]), [50, 38, 12]);
        assert_eq!(marks([100.0, 0.25 / THOU, 50.0, 0.0, 2.0]), [50, 40, 10]);
    }

    #[test]
    fn faults_say_value_and_limit() {
        let dial = dial(&thousandths(0.1));
        let fault = |numbers| split(&wanted(numbers), &dial).expect_err("cannot be split");
        assert!(matches!(fault([0.3, 10.0, 50.0, 0.0, 2.0]), SplitFault::LessThanAMark(..)));
        assert!(matches!(fault([100.0, 10.0, 0.5, 0.0, 0.0]), SplitFault::MarkTooCoarse(..)));
        assert!(matches!(fault([100.0, 10.0, 50.0, 60.0, 2.0]), SplitFault::SkinTooDeep(..)));
        assert!(matches!(fault([30.0, 10.0, 50.0, 40.0, 2.0]), SplitFault::NotUnderTheSkin(..)));
        assert!(matches!(fault([3.0, 10.0, 50.0, 0.0, 5.0]), SplitFault::TooThin(..)));
        assert!(matches!(fault([100.0, 10.0, 6.0, 0.0, 8.0]), SplitFault::ThinnestOverDeepest(..)));
        assert!(matches!(fault([9000.0, 1.0, 1.0, 0.0, 1.0]), SplitFault::TooManyCuts(..)));
        assert_eq!(
            fault([100.0, 10.0, 50.0, 60.0, 2.0]).says(Units::Inch),
            "the first cut must go 0.0600 in deep to get under the skin, and none deeper than 0.0500 in is allowed"
        );
    }

    #[test]
    fn the_slide_does_not_travel_further_than_it_can() {
        let mut slide = thousandths(0.1);
        slide.travel = Some(mm(2.0));
        let fault = split(&wanted([100.0, 10.0, 50.0, 0.0, 2.0]), &dial(&slide)).expect_err("past the travel");
        assert!(matches!(fault, SplitFault::BeyondTravel(..)));
    }

    #[test]
    fn hostile_numbers_are_faults() {
        let dial = dial(&thousandths(0.1));
        for place in 0..6 {
            for value in [-1.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
                let mut numbers = [5.0, 0.3, 0.2, 2.0, 0.5, 0.05];
                numbers[place] = value;
                let [total_mm, finish_mm, least_finish_mm, deepest_mm, least_first_mm, least_mm] = numbers;
                let wanted = Wanted { total_mm, finish_mm, least_finish_mm, deepest_mm, least_first_mm, least_mm };
                // A deepest or finishing cut without end is a bound that does not bind.
                let no_bound = value == 1e300 && (place == 3 || place == 1);
                assert_eq!(split(&wanted, &dial).is_ok(), no_bound, "{wanted:?}");
            }
        }
    }

    #[test]
    fn cuts_are_counted_without_a_dial() {
        assert_eq!(cuts_needed(3.0, 1.0), Some(3));
        assert_eq!(cuts_needed(0.3, 0.1), Some(3));
        assert_eq!(cuts_needed(3.01, 1.0), Some(4));
        assert_eq!(cuts_needed(0.0, 1.0), Some(0));
        for (depth, deepest) in [(f64::NAN, 1.0), (1.0, 0.0), (1.0, -1.0), (-1.0, 1.0), (1e300, 1.0), (1.0, f64::NAN)] {
            assert_eq!(cuts_needed(depth, deepest), None);
        }
    }

    fn any_wanted() -> impl Strategy<Value = Wanted> {
        (0.01_f64..20.0, 0.01_f64..1.0, 0.0_f64..0.3, 0.05_f64..4.0, 0.0_f64..2.0, 0.0_f64..0.2).prop_map(
            |(total_mm, finish_mm, least_finish_mm, deepest_mm, least_first_mm, least_mm)| Wanted {
                total_mm,
                finish_mm,
                least_finish_mm,
                deepest_mm,
                least_first_mm,
                least_mm,
            },
        )
    }

    proptest! {
        #[test]
        fn every_split_keeps_its_bounds(wanted in any_wanted(), inch in any::<bool>()) {
            let dial = dial(&if inch { thousandths(0.125) } else { metric(0.02, 3.0) });
            let Ok(cuts) = split(&wanted, &dial) else { return Ok(()) };
            let (mark, mut total) = (dial.mark_depth_mm, 0);
            for (index, cut) in cuts.iter().enumerate() {
                total += cut.marks;
                prop_assert_eq!(total, cut.total_marks);
                prop_assert!((cut.total_mm / mark - total as f64).abs() < 1e-6);
                prop_assert!((cut.depth_mm / mark - cut.marks as f64).abs() < 1e-6);
                prop_assert!(cut.depth_mm <= wanted.deepest_mm + 1e-6);
                prop_assert!(cut.depth_mm >= wanted.least_mm - 1e-6);
                prop_assert_eq!(cut.kind == CutKind::Finish, index + 1 == cuts.len());
            }
            prop_assert_eq!(Some(total), dial.nearest_marks(wanted.total_mm));
            prop_assert!(cuts[0].depth_mm >= wanted.least_first_mm - 1e-6);
            let thin_total = wanted.total_mm <= wanted.finish_mm.max(wanted.least_finish_mm) * 1.2 + mark;
            let finish_mm = cuts.last().map_or(0.0, |cut| cut.depth_mm);
            prop_assert!(thin_total || finish_mm >= wanted.least_finish_mm - 1e-6);
        }

        #[test]
        fn no_number_makes_it_panic(
            ring in any::<[f64; 5]>(), asked in any::<[f64; 6]>(), inch in any::<bool>(), sound in any::<bool>(),
        ) {
            let unit = if inch { DialUnit::Inch } else { DialUnit::Mm };
            let slide = if sound { metric(0.02, 3.0) } else {
                Slide {
                    graduation: mm(ring[0]), per_turn: mm(ring[0] * 50.0), unit, reads: Reads::Diameter,
                    screw: Some(mm(ring[1])), travel: Some(mm(ring[2])), backlash: Some(mm(ring[3])),
                    set_over: degrees(ring[4] % 90.0),
                }
            };
            let Ok(dial) = Dial::new(&slide) else { return Ok(()) };
            let [total_mm, finish_mm, least_finish_mm, deepest_mm, least_first_mm, least_mm] = asked;
            let wanted = Wanted { total_mm, finish_mm, least_finish_mm, deepest_mm, least_first_mm, least_mm };
            if let Err(fault) = split(&wanted, &dial) {
                prop_assert!(!fault.says(Units::Inch).is_empty());
            }
            prop_assert!(!notes(&dial, total_mm, Some(finish_mm), Units::Mm).is_empty());
        }

        #[test]
        fn no_cut_is_wasted(wanted in any_wanted()) {
            let dial = dial(&metric(0.02, 3.0));
            let Ok(cuts) = split(&wanted, &dial) else { return Ok(()) };
            let deepest = (wanted.deepest_mm / 0.02 + 1e-6).floor() as u64;
            let rough: u64 = cuts.iter().filter(|cut| cut.kind == CutKind::Rough).map(|cut| cut.marks).sum();
            prop_assert!(cuts.len() as u64 - 1 <= rough.div_ceil(deepest));
            let fewest = cuts_needed(wanted.total_mm - wanted.finish_mm, wanted.deepest_mm);
            prop_assert!(fewest.is_none_or(|fewest| cuts.len() as u32 + 1 >= fewest));
        }

        #[test]
        fn a_bound_that_leaves_room_always_gives_a_split(total in 1.0_f64..20.0, deepest in 0.5_f64..3.0) {
            let wanted = Wanted {
                total_mm: total, finish_mm: 0.3, least_finish_mm: 0.1, deepest_mm: deepest, least_first_mm: 0.0, least_mm: 0.05,
            };
            prop_assert!(split(&wanted, &dial(&metric(0.02, 3.0))).is_ok());
        }

        #[test]
        fn the_same_pitch_in_mm_and_inch_gives_the_same_depths(wanted in any_wanted()) {
            let mut twin = thousandths(0.1);
            (twin.graduation, twin.per_turn, twin.unit) = (mm(0.0254), mm(2.54), DialUnit::Mm);
            match (split(&wanted, &dial(&thousandths(0.1))), split(&wanted, &dial(&twin))) {
                (Ok(ours), Ok(theirs)) => {
                    prop_assert_eq!(ours.len(), theirs.len());
                    for (one, other) in ours.iter().zip(&theirs) {
                        prop_assert_eq!(one.marks, other.marks);
                        prop_assert!((one.total_mm - other.total_mm).abs() < 1e-9);
                    }
                }
                (ours, theirs) => prop_assert_eq!(ours.is_ok(), theirs.is_ok()),
            }
        }
    }
}
