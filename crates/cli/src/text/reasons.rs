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
        if is_measured(reason) {
            let [here, limit] = [reason.value, reason.limit].map(|number| value(reason, units, number));
            page.item("    ", &format!("Here {here}, the limit is {limit}."));
        }
        page.item("    ", &format!("Way out: {}", reason.way_out));
    }
}

/// A reason that is a yes or a no carries nought and one: nothing to show.
fn is_measured(reason: &Reason) -> bool {
    let counts = |number: f64| number == 0.0 || number == 1.0;
    reason.unit != "1" || !(counts(reason.value) && counts(reason.limit))
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
