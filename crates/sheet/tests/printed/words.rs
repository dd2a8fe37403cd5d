//! What stands on a sheet, read back: numbers as they are, no word lost.

use engine::plan::{FacePlace, Hand, Measure, Outcome, SetUp};
use engine::quantity::Units;
use engine::quantity::limits::{about, limits};
use sheet::Paper;

use crate::bench::{self, Copy, DATE, flat};

fn set_up_words(copy: &Copy, number: u32) -> String {
    let kind = format!("Set-up {number} of {}", copy.plan.set_ups.len());
    copy.words_of(&copy.pages_of(&kind))
}

pub fn every_dial_reading_stands_in_the_table_and_at_its_step(copy: &Copy) {
    for set_up in &copy.plan.set_ups {
        let words = set_up_words(copy, set_up.number);
        for pass in &set_up.passes {
            // Both ways of reading, and in each the table and the step.
            let dial = pass.dial.as_str();
            assert!(words.matches(&dial).count() >= 4, "{}: {dial} in {words}", copy.called());
        }
    }
}

pub fn a_stop_before_the_last_pass_says_what_is_near_and_has_no_box_to_tick(copy: &Copy) {
    for set_up in &copy.plan.set_ups {
        let words = copy.read_of(&copy.pages_of(&format!("Set-up {} of {}", set_up.number, copy.plan.set_ups.len())));
        let stops = words.split("STOP. Spindle at rest. ").skip(1);
        for (hand, stop) in set_up.hands.iter().filter_map(|hand| stop_of(hand, set_up)).zip(stops) {
            let now = set_up.expected(hand, copy.plan.units);
            let line = &stop[..stop.find("Initials").unwrap()];
            assert_eq!(line.contains(" ok"), now.is_none(), "{}: {line}", copy.called());
            assert_eq!(line.contains(" now. Measure"), now.is_some(), "{}: {line}", copy.called());
            let sum = line.contains("seat") && line.contains("+ face");
            assert_eq!(sum, hand.over_jaws_mm.is_some(), "{}: {line}", copy.called());
            // The number is the engine's own: it stands in its sentence too.
            let near = line.split("ear ").nth(1).and_then(|rest| rest.split(" now").next());
            assert!(now.is_none_or(|now| now.contains(near.unwrap())), "{}: {line}", copy.called());
        }
    }
}

fn stop_of<'a>(hand: &Hand, set_up: &'a SetUp) -> Option<&'a Measure> {
    match hand {
        Hand::Stop(at) => set_up.measure.get(*at),
        _ => None,
    }
}

pub fn minutes_are_the_same_on_the_overview_and_over_each_set_up(copy: &Copy) {
    let all = copy.laid[0].lines().map(flat).find(|line| line.starts_with("Minutes ")).unwrap();
    for (set_up, minutes) in copy.plan.set_ups.iter().zip(all.split(' ').skip(1)) {
        assert!(
            set_up_words(copy, set_up.number).contains(&format!("about {minutes} minutes")),
            "{}: {all}",
            copy.called()
        );
    }
}

pub fn every_size_stands_in_the_report_with_its_limits_and_none_is_rounded_outwards(copy: &Copy) {
    let report = copy.laid.last().unwrap();
    let unit_mm = if copy.plan.units.name() == "in" { 25.4 } else { 1.0 };
    for size in &copy.plan.scene.sizes {
        let pair = format!("{} to {}", size.between[0], size.between[1]);
        let line = report.lines().map(flat).find(|line| line.contains(&pair)).unwrap_or_else(|| panic!("{pair}"));
        let after = line.split(&pair).nth(1).unwrap();
        let numbers: Vec<f64> = after.split(' ').filter_map(|word| word.parse().ok()).take(3).collect();
        let [nominal, least, most] = [0, 1, 2].map(|at| numbers[at] * unit_mm);
        // No more than 1 % of the band may be lost in showing, and 0.0005 in nominal.
        let band = size.plus_mm + size.minus_mm;
        assert!((nominal - size.nominal_mm).abs() < 0.0005 * 25.4, "{}: {line}", copy.called());
        for (shown, is) in [(least, size.nominal_mm - size.minus_mm), (most, size.nominal_mm + size.plus_mm)] {
            assert!((shown - is).abs() <= band * 0.01 + 1e-9, "{}: {line}: {shown} for {is}", copy.called());
        }
    }
}

pub fn every_requirement_and_angle_has_its_line_in_the_report(copy: &Copy) {
    let report = copy.laid.last().unwrap();
    let all = flat(report);
    for asked in &copy.plan.asked.requirements {
        let first = asked.split(' ').take(3).collect::<Vec<_>>().join(" ");
        assert!(all.contains(&first), "{}: {asked} in {report}", copy.called());
    }
    let sides = copy.plan.scene.faces.iter().filter(|face| matches!(face.place, FacePlace::Side { .. })).count();
    // A prism of more sides than four has an angle between any two neighbours; the corners of a block are square.
    let angles = all.matches("angle ").count();
    assert!(sides == 4 || angles == sides, "{}: {angles} angles of {sides} sides", copy.called());
}

pub fn every_measurement_and_step_stands_on_its_set_up_s_pages(copy: &Copy) {
    for set_up in &copy.plan.set_ups {
        let words = set_up_words(copy, set_up.number);
        for hand in &set_up.hands {
            let Hand::Do { does, why } = hand else { continue };
            assert!(words.contains(&flat(does)), "{}: {does} in {words}", copy.called());
            let why = why.as_deref().unwrap_or_default();
            assert!(words.contains(flat(why).trim_end_matches('.')), "{}: {why}", copy.called());
        }
        for measure in &set_up.measure {
            let size = if measure.over_bar { about } else { limits };
            let size = size(measure.nominal_mm, measure.plus_mm, measure.minus_mm, copy.plan.units);
            for part in [&size, &measure.what, &measure.gauge] {
                assert!(words.contains(&flat(part)), "{}: {part} in {words}", copy.called());
            }
        }
    }
}

pub fn every_caution_is_read_back_and_a_step_carries_one_at_most(copy: &Copy) {
    let overview = copy.words_of(&[1]);
    if copy.plan.outcome == Outcome::Planned {
        for caution in &copy.plan.cautions {
            assert!(overview.contains(&flat(caution)), "{}: {caution} in {overview}", copy.called());
        }
    }
    for set_up in &copy.plan.set_ups {
        assert!(set_up.cautions.len() <= 3);
        let words = set_up_words(copy, set_up.number);
        for caution in &set_up.cautions {
            assert!(words.contains(&flat(caution)), "{}: {caution} in {words}", copy.called());
        }
    }
}

pub fn title_date_and_page_m_of_n_stand_on_every_page(copy: &Copy) {
    assert!(copy.words_of(&[1]).contains(&flat(&copy.plan.title)));
    let of = copy.laid.len();
    for (at, page) in copy.laid.iter().enumerate() {
        let block: Vec<&str> = page.trim_end().lines().rev().take(4).collect();
        let block = flat(&block.into_iter().rev().collect::<Vec<_>>().join(" "));
        assert!(block.ends_with(&format!("{} of {of}", at + 1)), "{}: {block}", copy.called());
        assert!(block.contains(DATE) && block.contains(&flat(&copy.plan.title)), "{}: {block}", copy.called());
    }
}

/// Scenario of our own: a slipper for a lock gate, all sizes in fractions of an inch.
const IN_FRACTIONS: &str = r#"title = "Slipper for a lock gate"
units = "inch"
[stock]
form = "round"
diameter = "1 3/8 in"
length = "1 5/16 in"
material = "low-carbon-steel"
surface = "drawn"
[part]
kind = "block"
width = { size = "7/8", plus = "4 thou", minus = "4 thou" }
height = { size = "3/4", plus = "4 thou", minus = "4 thou" }
length = { size = "1 1/16", plus = "8 thou", minus = "8 thou" }
"#;

#[test]
fn fractions_of_an_inch_come_back_as_they_are() {
    let copy = bench::copy("fractions", bench::plan(IN_FRACTIONS), Paper::Letter);
    let words = copy.words_of(&[1]);
    for size in ["1 3/8 in", "1 5/16 in"] {
        assert!(words.contains(size), "{size} in {words}");
    }
    assert!(!words.contains("13/8") && !words.contains("15/16 in long"), "{words}");
    let shoe = bench::copy("shoe", bench::short("bell-frame-shoe"), Paper::A4);
    assert!(shoe.words_of(&[1]).contains("2 1/4 in"));
}

pub fn no_promise_is_printed(copy: &Copy) {
    let all: Vec<usize> = (1..=copy.laid.len()).collect();
    let words = copy.words_of(&all).to_lowercase();
    let each: Vec<&str> = words.split(|letter: char| !letter.is_alphabetic()).collect();
    assert!(!each.contains(&"safe") && !each.contains(&"guaranteed") && !words.contains("will hold"));
}

pub fn an_impossible_job_is_one_page_with_reasons_limits_and_ways_out(copy: &Copy) {
    let Outcome::Impossible(reasons) = &copy.plan.outcome else { panic!("{} is planned", copy.called()) };
    assert_eq!(copy.laid.len(), 1, "{}", copy.called());
    let words = copy.words_of(&[1]);
    for reason in reasons {
        for part in [&reason.says, &reason.way_out, &reason.place] {
            assert!(words.contains(&flat(part)), "{}: {part} in {words}", copy.called());
        }
    }
    assert!(words.contains("against a limit of"), "{words}");
}

/// What a person compares with an inch dial stands in inches beside the mm of the formula: 1 in = 25.4 mm.
pub fn lengths_of_an_inch_job_s_working_stand_in_inches_too(copy: &Copy) {
    if copy.plan.units != Units::Inch {
        return;
    }
    let words = copy.words_of(&copy.pages_of("Working"));
    let lengths: Vec<f64> =
        copy.plan.workings.iter().filter(|working| working.unit == "mm").map(|working| working.value).collect();
    assert!(lengths.len() > 2, "{lengths:?}");
    for mm in lengths {
        assert!(words.contains(&format!("({:.4} in)", mm / 25.4)), "{}: {mm} mm", copy.called());
    }
}

pub fn formulas_stand_with_their_sources(copy: &Copy) {
    let words = copy.words_of(&copy.pages_of("Working"));
    let names: Vec<&str> = copy.plan.workings.iter().map(|working| working.formula).collect();
    assert!(!names.is_empty());
    for name in names {
        assert!(words.contains(&format!(") {name}")), "{}: {name}", copy.called());
    }
    assert!(words.matches("Source: ").count() > 40, "{}", copy.called());
    for row in &copy.plan.assumed {
        // A cell's lines stand beside those of its neighbours: its words are looked for one by one.
        assert!(row.value.split_whitespace().all(|word| words.contains(word)), "{}: {row:?}", copy.called());
    }
}

/// The chance of all on the first page; every requirement that may fail in one table, row for row, beside the report or on
/// the page before it.
pub fn the_forecast_stands_on_the_overview_and_in_one_table(copy: &Copy) {
    let forecast = copy.plan.forecast.as_ref().unwrap();
    let says = forecast.says();
    let sentence = format!("{}{}.", says[..1].to_uppercase(), &says[1..]);
    assert!(copy.words_of(&[1]).contains(&sentence), "{}: {sentence}", copy.called());
    let own = copy.pages_of("Forecast");
    let pages = if own.is_empty() { copy.pages_of("Inspection report") } else { own };
    assert_eq!(pages.len(), 1, "{}: {pages:?}", copy.called());
    let words = copy.words_of(&pages);
    assert!(words.contains("How true it will come out"), "{}: {words}", copy.called());
    let (doubtful, sure) = forecast.doubtful();
    let units = copy.plan.units;
    for quality in doubtful {
        for cell in [quality.requirement.clone(), quality.asks(units), quality.chance.of_100()] {
            assert!(words.contains(&flat(&cell)), "{}: {cell} in {words}", copy.called());
        }
        // Longer cells run over lines, which reading across the row parts: every word is there.
        for word in quality.comes_out(units).split(' ').chain(quality.causes_say().split(' ')) {
            assert!(words.contains(word), "{}: {word} in {words}", copy.called());
        }
    }
    assert!(sure == 0 || words.contains(&format!("{sure} further requirement")), "{}: {words}", copy.called());
}
