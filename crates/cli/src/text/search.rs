//! What the search for the order did.

use engine::plan::{Outcome, Plan};
use engine::quantity::bare::count;

use super::page::Page;

/// One sentence, where there was a search.
pub fn print(plan: &Plan, page: &mut Page) {
    let search = &plan.search;
    if search.examined == 0 {
        return;
    }
    let proven = match (&plan.outcome, search.proven_best) {
        (Outcome::Planned, true) if plan.forecast.is_some() => {
            "how far the one taken is proven the best stands at the forecast"
        }
        (Outcome::Planned, true) => "none of them takes fewer minutes by these sums",
        (Outcome::Planned, false) => "not all were looked at, so a quicker one may exist",
        (Outcome::Impossible(_), true) => "no order leads to the finished part",
        (Outcome::Impossible(_), false) => "not all were looked at, but none of those leads to the finished part",
    };
    page.blank();
    page.entry(
        "SEARCH",
        &format!(
            "{} orders and holds possible, {} looked at, {} cut off; {proven}.",
            possible(search.plans_possible),
            search.examined,
            search.cut_off
        ),
    );
}

fn possible(plans: f64) -> String {
    if plans.is_finite() { count(plans) } else { "more than can be counted".to_string() }
}
