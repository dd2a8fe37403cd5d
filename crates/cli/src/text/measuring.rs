//! What is measured, with what, when.

use engine::plan::Measure;
use engine::quantity::Units;
use engine::quantity::limits::{about, limits};

use super::page::Page;

/// One entry a measurement, numbered as the stops are.
pub fn print(measures: &[Measure], units: Units, page: &mut Page) {
    if measures.is_empty() {
        return;
    }
    page.blank();
    for (index, measure) in measures.iter().enumerate() {
        let label = if index == 0 { "Measure" } else { "" };
        page.entry(label, &format!("{}. {}; {}", index + 1, what(measure, units), measure.when));
    }
}

/// What, its limits, the gauge, and whether the piece comes out for it.
pub fn what(measure: &Measure, units: Units) -> String {
    let out = if measure.takes_out { ", piece out of the chuck" } else { "" };
    let size = if measure.over_bar { about } else { limits };
    let size = size(measure.nominal_mm, measure.plus_mm, measure.minus_mm, units);
    format!("{}: {size}; {}{out}", measure.what, measure.gauge)
}
