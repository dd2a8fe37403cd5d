//! The plan in the order in which the work goes.

use engine::plan::{Outcome, Plan};
use maud::{Markup, html};

use super::{Drawn, assumed, forecast, head, reasons, set_up, stock_choice, weighed, working};

/// The whole plan; what is not drawn has its place in it.
pub fn plan(plan: &Plan, drawn: Drawn<'_>) -> Markup {
    let is_drawn =
        |number| matches!(drawn, Drawn::All) || matches!(drawn, Drawn::Only(seen) if seen.in_sight.contains(&number));
    html! {
        (head::head(plan))
        @if let Outcome::Impossible(reasons) = &plan.outcome { (reasons::reasons(reasons, plan.units)) }
        (head::what_is_asked(plan))
        @if let Some(choice) = &plan.stock_choice { (stock_choice::chosen(choice, plan.units)) }
        (head::order(plan))
        (forecast::part(plan, drawn))
        (head::read_first(plan))
        (weighed::part(plan, drawn))
        @for set_up in &plan.set_ups {
            @if is_drawn(set_up.number) { (set_up::set_up(set_up, plan)) } @else { (set_up::place(set_up)) }
        }
        @if !plan.workings.is_empty() { (working::place(0)) }
        (assumed::assumed(plan))
    }
}
