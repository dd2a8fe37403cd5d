//! What must be said about a dial in words: bands under a mark, whole turns, paint, travel, backlash.

use super::advance::set_over_for_depth_rad;
use super::practice::{backlash_when_not_given, fine_set_over_ratio, paint_off_noticed, wind_back_turns};
use super::reading::{Reading, counted};
use super::ring::Dial;
use crate::quantity::{Units, show};
use crate::shop::DialUnit;

/// Opens a note that damages work when nobody heeds it.
pub const NOTICE: &str = "NOTICE: ";
/// Half a micrometre: no hand sets it and no gauge of a shop reads it.
const NO_DIFFERENCE_MM: f64 = 5e-4;

/// All notes that apply to a depth of cut and, where given, to the width of its band (both mm),
/// in the job's units; how to approach a number comes last and always.
pub fn notes(dial: &Dial, depth_mm: f64, band_mm: Option<f64>, units: Units) -> Vec<String> {
    let band = band_mm.and_then(|band_mm| band_note(dial, depth_mm, band_mm));
    [
        travel_note(dial, depth_mm, units),
        whole_turns_note(&dial.reading(depth_mm)),
        unit_note(dial, depth_mm, units),
        paint_and_screw_note(dial),
        band,
        Some(approach_note(dial)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// A band narrower than a mark cannot be set by this dial; its width as depth and the depth of all cuts, mm.
pub fn band_note(dial: &Dial, depth_mm: f64, band_mm: f64) -> Option<String> {
    let marks = dial.in_marks(band_mm);
    (marks > 0.0 && marks < 1.0).then(|| {
        let share = if marks < 0.1 { "under 0.1".to_string() } else { format!("{marks:.1}") };
        format!("the whole band is {share} of a mark: this dial cannot set it; {}", finer(dial, depth_mm, marks))
    })
}

/// A depth of whole turns, at which the dial reads zero again.
pub fn whole_turns_note(reading: &Reading) -> Option<String> {
    (reading.turns > 0 && reading.reading == 0.0).then(|| {
        format!(
            "the target is exactly {}: the dial then reads zero again, as at the start; count the turns",
            counted(reading.turns)
        )
    })
}

/// Paint and screw that disagree: by how much, in an inch or 25 mm counted.
pub fn paint_and_screw_note(dial: &Dial) -> Option<String> {
    let too_much = dial.paint_over_screw() - 1.0;
    (too_much.abs() > 1e-6).then(|| {
        let places = dial.places() + 1;
        let own = |mm: f64| format!("{:.places$} {}", dial.in_own_unit(mm), dial.unit_name());
        let counted_mm = if dial.unit == DialUnit::Inch { 25.4 } else { 25.0 };
        let real_mm = counted_mm / (1.0 + too_much);
        let opens = if too_much.abs() > paint_off_noticed() { NOTICE } else { "" };
        format!(
            "{opens}the ring counts {} of travel in a turn, the screw moves {}: the paint claims {:.1} % too {}; {} counted is \
             {}; depths here follow the screw",
            own(dial.painted_travel_mm),
            own(dial.travel_per_turn_mm),
            too_much.abs() * 100.0,
            if too_much > 0.0 { "much" } else { "little" },
            own(counted_mm),
            own(real_mm),
        )
    })
}

/// A depth past the slide's travel.
pub fn travel_note(dial: &Dial, depth_mm: f64, units: Units) -> Option<String> {
    let most_mm = dial.most_depth_mm?;
    (depth_mm > most_mm).then(|| {
        format!(
            "{} deep is past the slide's travel, which is enough for {}",
            show::length(depth_mm, units),
            show::length(most_mm, units)
        )
    })
}

/// How to come to a number: from one side, backlash taken up.
pub fn approach_note(dial: &Dial) -> String {
    let (backlash_mm, given) = match dial.backlash_mm {
        Some(mm) => (mm, "backlash is"),
        None => (backlash_when_not_given().value, "backlash is not given, taken as"),
    };
    let turns = backlash_mm / dial.travel_per_turn_mm;
    let marks = (turns * f64::from(dial.marks_per_turn) - 1e-6).ceil().max(0.0);
    let places = dial.places();
    format!(
        "come to every number winding in, never back to it; gone past it, wind back {} ({given} {:.places$} {}, {marks} \
         mark{}), then in again to the number",
        wind_back(turns),
        dial.in_own_unit(backlash_mm),
        dial.unit_name(),
        if marks == 1.0 { "" } else { "s" },
    )
}

/// The side on which backlash lies in a bore.
pub fn boring_note(dial: &Dial) -> String {
    format!(
        "in a bore the tool moves outwards to cut deeper, so the backlash lies on the other side: wind in {} past the \
         number and come out to it; set zero only after that",
        wind_back(dial.backlash_mm.unwrap_or(backlash_when_not_given().value) / dial.travel_per_turn_mm)
    )
}

/// A depth in the units that the dial does not have, or between its marks: both shown, and what rounding to a mark
/// does.
pub fn unit_note(dial: &Dial, depth_mm: f64, units: Units) -> Option<String> {
    let same = matches!((dial.unit, units), (DialUnit::Mm, Units::Mm) | (DialUnit::Inch, Units::Inch));
    let reading = dial.reading(depth_mm);
    let off = reading.left_over_mm.abs() >= NO_DIFFERENCE_MM;
    (reading.marks > 0 && (!same || off)).then(|| {
        let asked = show::fine_length(depth_mm, units);
        let given = show::fine_length(reading.exact_depth_mm, units);
        format!("{asked} asked; the nearest mark gives {given}: {}", off_by(reading.left_over_mm, units))
    })
}

fn off_by(left_over_mm: f64, units: Units) -> String {
    let difference = show::fine_length(left_over_mm.abs(), units);
    match left_over_mm {
        off if off.abs() < NO_DIFFERENCE_MM => "no difference to speak of".to_string(),
        short if short > 0.0 => format!("{difference} short"),
        _ => format!("{difference} too deep"),
    }
}

/// What sets a band that the dial cannot: the slide set over, if it is not yet and that is enough.
fn finer(dial: &Dial, depth_mm: f64, band_marks: f64) -> String {
    let share = fine_set_over_ratio();
    // Set over, the slide advances so much less of its travel.
    let reaches = dial.most_depth_mm.is_none_or(|most_mm| depth_mm <= share * most_mm);
    let indicator = "an indicator on the slide".to_string();
    match set_over_for_depth_rad(share).map(f64::to_degrees) {
        Some(degrees) if dial.set_over_rad == 0.0 && band_marks >= share && reaches => format!(
            "set the top slide over so that it advances {share} of its travel ({degrees:.2} degrees from along the bed \
             when facing, {:.2} when turning), or use {indicator}",
            90.0 - degrees
        ),
        _ => format!("use {indicator}"),
    }
}

/// "half a turn", or as many as the backlash asks and a bit.
fn wind_back(backlash_turns: f64) -> String {
    let step = wind_back_turns();
    let turns = ((backlash_turns / step).floor() + 1.0) * step;
    match turns {
        0.5 => "half a turn".to_string(),
        1.0 => "1 turn".to_string(),
        _ => format!("{turns:.1} turns"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dial::ring::tests::{metric, thousandths};
    use crate::quantity::{degrees, inch, mm};
    use crate::shop::Slide;

    fn dial(slide: &Slide) -> Dial {
        Dial::new(slide).expect("sound")
    }

    #[test]
    fn a_band_under_a_mark_is_refused_with_a_way_out() {
        let dial = dial(&thousandths(0.1));
        // 20 f7: 0.021 on diameter (ISO 286-2, from memory).
        let note = band_note(&dial, 1.0, 0.021 / 2.0).expect("under a mark");
        assert!(
            note.starts_with("the whole band is 0.4 of a mark: this dial cannot set it; set the top slide over"),
            "{note}"
        );
        assert!(note.contains("84.26 degrees from along the bed when facing, 5.74 when turning"), "{note}");
        assert_eq!(band_note(&dial, 1.0, 0.03), None);
        let fine = band_note(&dial, 1.0, 0.001).expect("under a mark");
        assert_eq!(
            fine,
            "the whole band is under 0.1 of a mark: this dial cannot set it; use an indicator on the slide"
        );
        for hostile in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(band_note(&dial, 1.0, hostile), None);
        }
    }

    #[test]
    fn a_slide_already_set_over_is_not_set_over_again() {
        let mut slide = thousandths(0.1);
        slide.set_over = degrees(84.26);
        assert!(
            band_note(&dial(&slide), 1.0, 0.001).expect("under a mark").ends_with("; use an indicator on the slide")
        );
    }

    #[test]
    fn whole_turns_are_said() {
        let dial = dial(&thousandths(0.125));
        let note = whole_turns_note(&dial.reading(0.125 * 25.4)).expect("one turn");
        assert!(note.contains("exactly 1 turn: the dial then reads zero again"), "{note}");
        assert_eq!(whole_turns_note(&dial.reading(0.0)), None);
        assert_eq!(whole_turns_note(&dial.reading(0.126 * 25.4)), None);
    }

    #[test]
    fn paint_that_claims_too_much_is_said_per_inch() {
        let mut slide = thousandths(0.04);
        slide.screw = Some(mm(1.0));
        assert_eq!(
            paint_and_screw_note(&dial(&slide)).expect("they disagree"),
            "the ring counts 0.0400 in of travel in a turn, the screw moves 0.0394 in: the paint claims 1.6 % too much; \
             1.0000 in counted is 0.9843 in; depths here follow the screw"
        );
        slide.screw = Some(inch(0.04));
        assert_eq!(paint_and_screw_note(&dial(&slide)), None);
    }

    #[test]
    fn travel_is_compared_as_depth() {
        let mut slide = metric(0.02, 3.0);
        slide.travel = Some(mm(90.0));
        slide.set_over = degrees(60.0);
        let note = travel_note(&dial(&slide), 50.0, Units::Mm).expect("45 mm of depth");
        assert_eq!(note, "50.00 mm deep is past the slide's travel, which is enough for 45.00 mm");
        assert_eq!(travel_note(&dial(&slide), 44.0, Units::Mm), None);
        assert_eq!(travel_note(&dial(&metric(0.02, 3.0)), 500.0, Units::Mm), None);
    }

    #[test]
    fn backlash_is_taken_up_from_one_side() {
        let mut slide = thousandths(0.1);
        slide.backlash = Some(mm(0.1));
        assert_eq!(
            approach_note(&dial(&slide)),
            "come to every number winding in, never back to it; gone past it, wind back half a turn (backlash is 0.004 in, \
             4 marks), then in again to the number"
        );
        let coarse = approach_note(&dial(&metric(0.02, 1.0)));
        assert!(coarse.contains("wind back 1 turn (backlash is not given, taken as 0.50 mm, 25 marks)"), "{coarse}");
        assert!(boring_note(&dial(&slide)).contains("wind in half a turn past the number and come out to it"));
    }

    #[test]
    fn a_metric_depth_on_an_inch_dial_shows_both() {
        let dial = dial(&thousandths(0.1));
        // 1.10 / 25.4 = 0.0433; 43 marks are 1.0922 mm.
        assert_eq!(
            unit_note(&dial, 1.1, Units::Mm).expect("other unit"),
            "1.100 mm asked; the nearest mark gives 1.092 mm: 0.008 mm short"
        );
        // Its own unit is silent on a mark, and speaks between two: 1.1 mm = 0.043 31 in.
        assert_eq!(unit_note(&dial, 1.0922, Units::Inch), None);
        assert_eq!(
            unit_note(&dial, 1.1, Units::Inch).expect("between marks"),
            "0.0433 in asked; the nearest mark gives 0.0430 in: 0.0003 in short"
        );
        assert_eq!(unit_note(&dial, f64::NAN, Units::Mm), None);
    }

    #[test]
    fn all_notes_together_end_with_the_approach() {
        let all = notes(&dial(&thousandths(0.125)), 3.175, Some(0.01), Units::Mm);
        assert_eq!(all.len(), 4);
        assert!(all.last().is_some_and(|note| note.starts_with("come to every number winding in")));
    }
}
