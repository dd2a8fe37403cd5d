//! Sizes with their limits: as many places as they carry, and no limit rounded outwards.

use super::bare::bare;
use super::show::{in_units, length, length_to};
use super::{Units, show};

/// Most places: a hundred-thousandth of an inch, a hundredth of a micrometre.
const MOST_PLACES: usize = 5;
/// What may be lost in showing a value, as a share of its band.
const LOST_SHARE: f64 = 0.01;
/// What of a band may be lost in showing both of its limits inwards, as a share of it.
const LOST_BAND: f64 = 0.05;
/// What binary numbers may lack to a whole count of the last place.
const NOISE: f64 = 1e-6;

/// Places for lengths that belong to a band, all mm: no fewer than usual; those that all of them carry,
/// or else enough that none is shown wrong by more than 1 % of the band; five at most.
pub fn places(lengths_mm: &[f64], band_mm: f64, units: Units) -> usize {
    let allowed = LOST_SHARE * in_units(band_mm.abs(), units);
    let near = |&places: &usize| lost(lengths_mm, places, units) / scale(places) <= allowed;
    let fewest = || (show::usual_places(units)..=MOST_PLACES).find(near);
    carried(lengths_mm, units).or_else(fewest).unwrap_or(MOST_PLACES)
}

/// Places that all of these lengths carry, all mm; `None`: more than a drawing has.
fn carried(lengths_mm: &[f64], units: Units) -> Option<usize> {
    (show::usual_places(units)..=most_carried(units)).find(|&places| lost(lengths_mm, places, units) <= NOISE)
}

/// What showing these lengths to so many places changes in one of them at most, in counts of the last place.
fn lost(lengths_mm: &[f64], places: usize, units: Units) -> f64 {
    let losses = lengths_mm.iter().map(|&length_mm| lost_in_last_place(in_units(length_mm, units), places));
    losses.fold(0.0, f64::max)
}

/// A length fine enough for the band that it serves, both mm; as usual where there is no band.
pub fn length_within(length_mm: f64, band_mm: f64, units: Units) -> String {
    if band_mm == 0.0 || !(length_mm + band_mm).is_finite() {
        return length(length_mm, units);
    }
    length_to(length_mm, units, places(&[length_mm], band_mm, units))
}

/// A deviation that was worked out, to so many places and never more than it is: 0.3879 mm is "0.387 mm". What would be
/// shown as nothing gets the places that it needs.
pub fn inwards(length_mm: f64, places: usize, units: Units) -> String {
    let count = (in_units(length_mm, units) * scale(places) + NOISE).floor();
    if !(1.0..1e15).contains(&count) {
        return length_within(length_mm, length_mm, units);
    }
    format!("{:.places$} {}", count / scale(places), units.name())
}

/// A size with its deviations and limits: "36.00 mm +0.05 -0.05 (35.95 to 36.05)"; `plus_mm` is added
/// for the upper limit, `minus_mm` taken off for the lower; neither: the size alone.
pub fn limits(nominal_mm: f64, plus_mm: f64, minus_mm: f64, units: Units) -> String {
    let Some((counted, places)) = Counted::for_limits(nominal_mm, plus_mm, minus_mm, units) else {
        return length(nominal_mm, units);
    };
    let text = |count: f64| format!("{:.places$}", count / scale(places));
    let [above, below] = deviations([counted.above, -counted.below], show::usual_places(units), places);
    let (least, most) = (counted.nominal - counted.below, counted.nominal + counted.above);
    format!("{} {} {above} {below} ({} to {})", text(counted.nominal), units.name(), text(least), text(most))
}

/// Nominal, least and most as [`limits`] shows them, without their unit.
pub fn nominal_least_most(nominal_mm: f64, plus_mm: f64, minus_mm: f64, units: Units) -> [String; 3] {
    match Counted::for_limits(nominal_mm, plus_mm, minus_mm, units) {
        None => std::array::from_fn(|_| bare(nominal_mm, units)),
        Some((Counted { nominal, above, below }, places)) => {
            [nominal, nominal - below, nominal + above].map(|count| format!("{:.places$}", count / scale(places)))
        }
    }
}

/// The limits of a size in mm to a micrometre, rounded inwards, without their unit: "47.346 to 47.904".
pub fn limits_in_mm(nominal_mm: f64, plus_mm: f64, minus_mm: f64) -> String {
    let inwards = |limit_mm: f64, sense: f64| sense * (sense * limit_mm * 1000.0 - NOISE).ceil() / 1000.0;
    format!("{:.3} to {:.3}", inwards(nominal_mm - minus_mm, 1.0), inwards(nominal_mm + plus_mm, -1.0))
}

/// A size as a drawing has it, without its unit: "36.00 ±0.05", "45.00 0 -0.10"; a limit of nothing is "0" without a
/// sign (ISO 129-1), equal ones carry both signs; in inches size and limits have the same number of places (ASME Y14.5,
/// general rules of inch dimensions; both from memory).
pub fn toleranced(nominal_mm: f64, plus_mm: f64, minus_mm: f64, units: Units) -> String {
    let Some((counted, places)) = Counted::for_limits(nominal_mm, plus_mm, minus_mm, units) else {
        return bare(nominal_mm, units);
    };
    let nominal = format!("{:.places$}", counted.nominal / scale(places));
    let least = if units == Units::Inch { places } else { show::usual_places(units) };
    let [above, below] = deviations([counted.above, -counted.below], least, places);
    match (above.strip_prefix('+'), below.strip_prefix('-')) {
        (Some(up), Some(down)) if up == down => format!("{nominal} ±{up}"),
        _ => format!("{nominal} {above} {below}"),
    }
}

/// A size that no drawing gives, with how far it may be off: nominal to the usual places, deviations cut to them.
pub fn about(nominal_mm: f64, plus_mm: f64, minus_mm: f64, units: Units) -> String {
    let places = show::usual_places(units);
    let per_count_mm = mm_per(units) / scale(places);
    // Rounded as `length` rounds it, so that the two never differ in the last place.
    let shown = format!("{:.places$}", in_units(nominal_mm, units));
    let nominal_mm = shown.parse().map_or(nominal_mm, |count: f64| count / in_units(1.0, units));
    // A count at least: nobody is asked for nothing.
    let cut = |deviation_mm: f64| (deviation_mm / per_count_mm + NOISE).floor().max(1.0) * per_count_mm;
    limits(nominal_mm, cut(plus_mm), cut(minus_mm), units)
}

fn mm_per(units: Units) -> f64 {
    1.0 / in_units(1.0, units)
}

/// Nominal and deviations as whole counts of the last place shown.
struct Counted {
    nominal: f64,
    above: f64,
    below: f64,
}

impl Counted {
    /// A size with its limits in the fewest places that show all its numbers nearly enough and leave nearly all of the
    /// band, five at most; `None`: there are no limits.
    fn for_limits(nominal_mm: f64, plus_mm: f64, minus_mm: f64, units: Units) -> Option<(Self, usize)> {
        let none = plus_mm == 0.0 && minus_mm == 0.0;
        if none || ![nominal_mm, plus_mm, minus_mm].iter().all(|value| value.is_finite()) {
            return None;
        }
        let all = [nominal_mm, plus_mm, minus_mm, nominal_mm + plus_mm, nominal_mm - minus_mm];
        let band = in_units(plus_mm + minus_mm, units);
        let shown = |places: usize| (Counted::of(all, places, units), places);
        let [most, least] = [all[3], all[4]].map(|limit_mm| in_units(limit_mm, units));
        let kept = |(counted, places): &(Self, usize)| {
            let [nominal, above, below] = [counted.nominal, counted.above, counted.below];
            let inwards =
                nominal + above <= most * scale(*places) + NOISE && nominal - below >= least * scale(*places) - NOISE;
            inwards && (above + below) / scale(*places) >= (1.0 - LOST_BAND) * band
        };
        // Both limits go inwards, so that what is kept of the band says whether places are enough.
        let fewest = carried(&all, units).unwrap_or_else(|| show::usual_places(units));
        Some((fewest..=MOST_PLACES).map(shown).find(kept).unwrap_or_else(|| shown(fewest.max(MOST_PLACES))))
    }

    /// Both limits inwards, so that nominal and deviations add up to what is shown and to nothing beyond.
    fn of([nominal, plus, minus, most, least]: [f64; 5], places: usize, units: Units) -> Self {
        let count = |mm: f64| in_units(mm, units) * scale(places);
        let (mut least_count, mut most_count) = ((count(least) - NOISE).ceil(), (count(most) + NOISE).floor());
        if most_count < least_count {
            // A band under the last place has no whole count in it.
            (least_count, most_count) = (count(least).round(), count(most).round());
        }
        let nominal = match (plus == 0.0, minus == 0.0) {
            (true, _) => most_count,
            (_, true) => least_count,
            _ => count(nominal).round(),
        };
        let (above, below) = (most_count - nominal, nominal - least_count);
        let (above, below) = if plus == minus { (above.min(below), above.min(below)) } else { (above, below) };
        Counted { nominal, above, below }
    }
}

/// Deviations with their signs, in the fewest places that both allow, no fewer than these.
fn deviations(counts: [f64; 2], least: usize, places: usize) -> [String; 2] {
    let whole = |&fewer: &usize| counts.iter().all(|count| count % scale(places - fewer) == 0.0);
    let shown = (least..places).find(whole).unwrap_or(places);
    counts.map(|count| {
        let text = format!("{:.shown$}", count.abs() / scale(places));
        match count {
            count if count > 0.0 => format!("+{text}"),
            count if count < 0.0 => format!("-{text}"),
            _ => "0".to_string(),
        }
    })
}

/// Places that a drawing may carry. More are chance in millimetres: marks of an inch dial have four.
fn most_carried(units: Units) -> usize {
    match units {
        Units::Mm => 3,
        // 1/64 in is 0.015 625 in.
        Units::Inch => 6,
    }
}

/// What rounding to so many places changes, in counts of the last one.
fn lost_in_last_place(value: f64, places: usize) -> f64 {
    let counts = value * scale(places);
    (counts - counts.round()).abs()
}

fn scale(places: usize) -> f64 {
    10f64.powi(places as i32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_in_mm_are_not_rounded_outwards() {
        // 1.5 in +0.002 -0.002 by hand: 38.0492 and 38.1508.
        assert_eq!(limits_in_mm(38.1, 0.0508, 0.0508), "38.050 to 38.150");
        assert_eq!(limits_in_mm(36.0, 0.05, 0.05), "35.950 to 36.050");
    }

    #[test]
    fn the_limits_of_a_drawing_are_shown_as_it_gives_them() {
        // Drawings of our own; the limits are added up by hand.
        for (nominal, plus, minus, text) in [
            (1.5, 0.0003, 0.0, "1.5000 in +0.0003 0 (1.5000 to 1.5003)"),
            (1.5, 0.0005, 0.0005, "1.5000 in +0.0005 -0.0005 (1.4995 to 1.5005)"),
            (1.375, 0.002, 0.002, "1.375 in +0.002 -0.002 (1.373 to 1.377)"),
            (1.3125, 0.002, 0.002, "1.3125 in +0.002 -0.002 (1.3105 to 1.3145)"),
            (1.15625, 0.01, 0.01, "1.15625 in +0.010 -0.010 (1.14625 to 1.16625)"),
        ] {
            assert_eq!(limits(nominal * 25.4, plus * 25.4, minus * 25.4, Units::Inch), text);
        }
        for (nominal, plus, minus, text) in [
            (36.0, 0.05, 0.05, "36.00 mm +0.05 -0.05 (35.95 to 36.05)"),
            (40.0, 0.005, 0.005, "40.000 mm +0.005 -0.005 (39.995 to 40.005)"),
            (40.004, 0.013, 0.012, "40.004 mm +0.013 -0.012 (39.992 to 40.017)"),
            (45.0, 0.0, 0.1, "45.00 mm 0 -0.10 (44.90 to 45.00)"),
            (45.0, 0.05, -0.02, "45.00 mm +0.05 +0.02 (45.02 to 45.05)"),
            (36.0, 0.0, 0.0, "36.00 mm"),
        ] {
            assert_eq!(limits(nominal, plus, minus, Units::Mm), text);
        }
    }

    #[test]
    fn a_drawing_writes_equal_limits_once_and_nothing_as_nought() {
        // ISO 129-1 and ISO 406: "32 0 -0.02"; ASME Y14.5: .500 ±.005; from memory, the sizes are our own.
        for (nominal, plus, minus, text) in [
            (36.0, 0.05, 0.05, "36.00 ±0.05"),
            (45.0, 0.0, 0.1, "45.00 0 -0.10"),
            (45.0, 0.02, 0.0, "45.00 +0.02 0"),
            (40.0, 0.005, 0.005, "40.000 ±0.005"),
            (40.0, 0.3, 0.1, "40.00 +0.30 -0.10"),
            (45.0, 0.05, -0.02, "45.00 +0.05 +0.02"),
            (36.0, 0.0, 0.0, "36.00"),
        ] {
            assert_eq!(toleranced(nominal, plus, minus, Units::Mm), text);
        }
        for (nominal, plus, minus, text) in [
            (1.3125, 0.002, 0.002, "1.3125 ±0.0020"),
            (1.375, 0.0, 0.004, "1.375 0 -0.004"),
            (1.15625, 0.01, 0.005, "1.15625 +0.01000 -0.00500"),
        ] {
            assert_eq!(toleranced(nominal * 25.4, plus * 25.4, minus * 25.4, Units::Inch), text);
        }
        // 0.25 mm is 0.009 843 in: 0.009 in would give away a twelfth of it.
        assert_eq!(toleranced(1.875 * 25.4, 0.25, 0.25, Units::Inch), "1.8750 ±0.0098");
        // 36 mm is 1.417 323 in, 0.05 mm is 0.001 968 5 in: 0.002 in would be more than that, and both limits, 1.415 354
        // and 1.419 291, lie outside of 1.4154 and 1.4192.
        assert_eq!(toleranced(36.0, 0.05, 0.05, Units::Inch), "1.4173 ±0.0019");
        assert_eq!(nominal_least_most(36.0, 0.05, 0.05, Units::Inch), ["1.4173", "1.4154", "1.4192"]);
    }

    /// The numbers of a shown size: nominal, above, below, least, most.
    fn numbers(text: &str) -> Vec<f64> {
        let kept: String =
            text.chars().map(|c| if c.is_ascii_digit() || ".+-".contains(c) { c } else { ' ' }).collect();
        kept.split_whitespace().map(|word| word.parse().expect("a number")).collect()
    }

    #[test]
    fn no_limit_is_rounded_outwards_and_the_numbers_add_up() {
        for step in 0..4000_u32 {
            let nominal = 5.0 + f64::from(step) * 0.017_321;
            let (plus, minus) = (f64::from(step % 97) * 0.000_73, 0.004 + f64::from(step % 61) * 0.001_1);
            for (units, mm) in [(Units::Mm, 1.0), (Units::Inch, 25.4)] {
                let text = limits(nominal, plus, minus, units);
                let [shown, above, below, least, most] = numbers(&text)[..] else { panic!("{text}") };
                let noise = 1e-9;
                assert!(most * mm <= nominal + plus + 1e-6 && least * mm >= nominal - minus - 1e-6, "{text}");
                assert!((shown + above - most).abs() < noise && (shown + below - least).abs() < noise, "{text}");
                assert!(least < most, "{text}");
                // What is given away inwards is a twentieth at most, unless five places are too few for it.
                let band = (plus + minus) / mm;
                assert!(most - least >= 0.95 * band - noise || band < 2e-5 / 0.05, "{text} of {band}");
            }
        }
    }

    #[test]
    fn a_size_that_no_drawing_gives_is_told_in_usual_places() {
        // 32.025 lies a hair below in binary.
        assert!(about(32.025, 0.3, 0.3, Units::Mm).starts_with(&length(32.025, Units::Mm)));
        assert_eq!(about(47.6254, 0.3, 0.2149, Units::Mm), "47.63 mm +0.30 -0.21 (47.42 to 47.93)");
        // 47.6254 mm = 1.875 02 in, 0.3 mm = 0.011 81 in, 0.2149 mm = 0.008 46 in.
        assert_eq!(about(47.6254, 0.3, 0.2149, Units::Inch), "1.875 in +0.011 -0.008 (1.867 to 1.886)");
    }

    #[test]
    fn what_serves_a_band_is_fine_enough_for_it() {
        assert_eq!(length_within(0.254, 0.01, Units::Mm), "0.254 mm");
        assert_eq!(length_within(0.2541, 1.0, Units::Mm), "0.25 mm");
        assert_eq!(length_within(0.2541, 0.0, Units::Mm), "0.25 mm");
        assert_eq!(length_within(f64::NAN, 0.1, Units::Mm), "no number of mm");
        assert_eq!(limits(f64::INFINITY, 0.1, 0.1, Units::Mm), "no number of mm");
    }
}
