//! Why a job cannot be done, and what would free it.

use engine::plan::Reason;
use engine::quantity::Units;

use super::page::Page;

/// Every reason with its value, its limit and a way out.
pub fn print(reasons: &[Reason], units: Units, page: &mut Page) {
    page.blank();
    page.line("WHY NOT");
    for (index, reason) in reasons.iter().enumerate() {
        page.item(&format!("{:>3}.", index + 1), &format!("{} ({}): {}", reason.place, reason.rule, reason.says));
        if let Some([here, limit]) = reason.compared(units) {
            page.item("    ", &format!("{here} here, against a limit of {limit}."));
        }
        page.item("    ", &format!("Way out: {}", reason.way_out));
    }
}
