//! Why a job cannot be done, and what would free it.

use engine::plan::Reason;
use engine::quantity::Units;
use engine::quantity::show::{force, length};

use super::number::rpm;
use super::page::Page;

/// Every reason with its value, its limit and a way out.
pub fn print(reasons: &[Reason], units: Units, page: &mut Page) {
    page.blank();
    page.line("WHY NOT");
    for (index, reason) in reasons.iter().enumerate() {
        page.item(&format!("{:>3}.", index + 1), &format!("{} ({}): {}", reason.place, reason.rule, reason.says));
        page.item(
            "    ",
            &format!(
                "Here {}, the limit is {}.",
                value(reason, units, reason.value),
                value(reason, units, reason.limit)
            ),
        );
        page.item("    ", &format!("Way out: {}", reason.way_out));
    }
}

fn value(reason: &Reason, units: Units, value: f64) -> String {
    match reason.unit {
        "mm" => length(value, units),
        "n" => force(value, units),
        "rpm" => format!("{} rpm", rpm(value)),
        "1" => format!("{value:.2}"),
        other => format!("{value:.2} {other}"),
    }
}
