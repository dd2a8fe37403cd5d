//! What the hands do, in order, with passes, stops and cautions in their places.

use engine::hands::Signal;
use engine::plan::{Hand, Measure, SetUp};
use engine::quantity::Units;
use engine::quantity::limits::length_within;
use engine::quantity::show::length;

use super::column::aligned;
use super::measuring;
use super::page::Page;

/// Numbered steps; a caution stands above the step that it belongs to.
pub fn print(set_up: &SetUp, units: Units, page: &mut Page) {
    page.blank();
    page.line("In order");
    elsewhere(set_up, page);
    let dial = aligned(&set_up.passes.iter().map(|pass| pass.dial.clone()).collect::<Vec<_>>());
    for (index, hand) in set_up.hands.iter().enumerate() {
        let mark = format!("{:>3}.", index + 1);
        match hand {
            Hand::Do { does, why } => step(&mark, does, why.as_deref(), page),
            Hand::Passes { from, to } => passes(&mark, *from, &dial, *to, page),
            Hand::Stop(index) => stop(set_up, &mark, *index, units, page),
        }
    }
}

/// Cautions of the set-up that no step carries.
fn elsewhere(set_up: &SetUp, page: &mut Page) {
    let stands = |caution: &String| {
        set_up.hands.iter().any(|hand| matches!(hand, Hand::Do { why: Some(why), .. } if why == caution))
    };
    for caution in set_up.cautions.iter().filter(|caution| !stands(caution)) {
        page.item("   !", caution);
    }
}

fn step(mark: &str, does: &str, why: Option<&str>, page: &mut Page) {
    match why {
        Some(caution) if Signal::of(caution).is_some() => {
            page.item("   !", caution);
            page.item(mark, does);
        }
        Some(why) => page.item(mark, &format!("{does} ({})", why.trim_end_matches('.'))),
        None => page.item(mark, does),
    }
}

fn passes(mark: &str, from: usize, dial: &[String], to: usize, page: &mut Page) {
    let mut mark = mark.to_string();
    for pass in from..to {
        let reading = dial.get(pass).map_or("", String::as_str);
        page.item(&mark, &format!("PASS {:<3} [ {reading} ]", pass + 1));
        mark = "    ".to_string();
    }
}

fn stop(set_up: &SetUp, mark: &str, index: usize, units: Units, page: &mut Page) {
    if let Some(measure) = set_up.measure.get(index) {
        let now = still_on(set_up, measure).map(|more| expected_now(measure, more, units));
        let what = measuring::what(measure, units);
        page.item(mark, &format!("STOP. Spindle at rest. Measure {what}.{}", now.unwrap_or_default()));
    }
}

/// What the gauge should read with the last pass still on.
fn expected_now(measure: &Measure, still_on_mm: f64, units: Units) -> String {
    let now = |when_to_size: f64| length(when_to_size + still_on_mm, units);
    match measure.over_jaws_mm {
        Some(over) => {
            let to_size = length_within(over, measure.plus_mm + measure.minus_mm, units);
            format!(" The gauge reads near {} now, {to_size} when to size.", now(over))
        }
        // The cut aims at the middle of the limits.
        None => format!(" Near {} now.", now(measure.nominal_mm + (measure.plus_mm - measure.minus_mm) / 2.0)),
    }
}

/// What the last pass has still to take, where the stop stands before it.
fn still_on(set_up: &SetUp, measure: &Measure) -> Option<f64> {
    let before = measure.when.starts_with("before");
    set_up.passes.last().filter(|_| before).map(|pass| pass.depth_mm)
}
