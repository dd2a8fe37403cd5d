//! The plan in the order in which the work goes.

use engine::plan::{Outcome, Plan};
use maud::{Markup, html};

use super::{assumed, head, reasons, set_up, working};

/// The whole plan.
pub fn plan(plan: &Plan) -> Markup {
    html! {
        (head::head(plan))
        @if let Outcome::Impossible(reasons) = &plan.outcome { (reasons::reasons(reasons, plan.units)) }
        (head::what_is_asked(plan))
        (head::order(plan))
        (head::read_first(plan))
        @for set_up in &plan.set_ups { (set_up::set_up(set_up, plan)) }
        @if !plan.workings.is_empty() { (working::place(0)) }
        (assumed::assumed(plan))
    }
}
