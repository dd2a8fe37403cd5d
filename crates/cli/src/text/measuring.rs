//! What is measured, with what, when.

use engine::plan::Measure;
use engine::quantity::Units;
use engine::quantity::show::length;

use super::number::{bare, signed};
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
    format!("{}: {}; {}{out}", measure.what, limits(measure, units), measure.gauge)
}

fn limits(measure: &Measure, units: Units) -> String {
    let nominal = length(measure.nominal_mm, units);
    if measure.plus_mm == 0.0 && measure.minus_mm == 0.0 {
        return nominal;
    }
    let [least, most] =
        [measure.nominal_mm - measure.minus_mm, measure.nominal_mm + measure.plus_mm].map(|value| bare(value, units));
    let (above, below) = (signed(measure.plus_mm, units), signed(-measure.minus_mm, units));
    format!("{nominal} {above} {below} ({least} to {most})")
}
