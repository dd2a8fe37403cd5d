//! What is measured, with what, when.

use engine::plan::Measure;
use engine::quantity::Units;

use super::page::Page;

/// One entry a measurement, numbered as the stops are.
pub fn print(measures: &[Measure], units: Units, page: &mut Page) {
    if measures.is_empty() {
        return;
    }
    page.blank();
    for (index, measure) in measures.iter().enumerate() {
        let label = if index == 0 { "Measure" } else { "" };
        page.entry(label, &format!("{}. {}; {}", index + 1, measure.says(units), measure.when));
    }
}
