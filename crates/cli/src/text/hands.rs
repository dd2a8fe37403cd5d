//! What the hands do, in order, with passes, stops and cautions in their places.

use std::ops::Range;

use engine::hands::Signal;
use engine::plan::{Hand, SetUp};
use engine::quantity::Units;

use super::page::Page;
use super::reading;
use engine::quantity::column::aligned;

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
            Hand::Passes { from, to } => passes(&mark, *from..*to, (&dial, set_up.set_by_a_table()), page),
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

fn passes(mark: &str, taken: Range<usize>, (dial, by_table): (&[String], Option<usize>), page: &mut Page) {
    let mut mark = mark.to_string();
    for pass in taken {
        let reading = dial.get(pass).map_or("", String::as_str);
        // The number of this pass is not to be dialled before the table is read.
        let says = match by_table == Some(pass) {
            true => format!("PASS {:<3} by the table; near {reading}", pass + 1),
            false => format!("PASS {:<3} [ {reading} ]", pass + 1),
        };
        page.item(&mark, &says);
        mark = "    ".to_string();
    }
}

fn stop(set_up: &SetUp, mark: &str, index: usize, units: Units, page: &mut Page) {
    if let Some(measure) = set_up.measure.get(index) {
        let now = set_up.expected(measure, units).map(|now| format!(" {now}"));
        let what = measure.says(units);
        page.item(mark, &format!("STOP. Spindle at rest. Measure {what}.{}", now.unwrap_or_default()));
        if let Some(table) = &measure.table {
            reading::table(table, units, page);
        }
    }
}
