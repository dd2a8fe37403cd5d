//! What nobody gave, and what the search did.

use engine::plan::{Outcome, Plan};
use engine::quantity::bare::count;
use maud::{Markup, html};

/// One row a value, with where it comes from; then the search.
pub fn assumed(plan: &Plan) -> Markup {
    html! {
        section aria-labelledby="assumed" {
            h3 #assumed { "Assumed" }
            @if plan.assumed.is_empty() {
                p { "Nothing: job and shop gave every value." }
            } @else {
                p { "Neither job nor shop gave these. Write yours into the text, and they are used." }
                dl.assumed {
                    @for row in &plan.assumed {
                        dt { (row.what) }
                        dd { strong { (row.value) } span.source { " " (row.source) } }
                    }
                }
            }
        }
        @if plan.search.examined > 0 {
            section aria-labelledby="search" { h3 #search { "How the order was found" } p { (search(plan)) } }
        }
    }
}

fn search(plan: &Plan) -> String {
    let search = &plan.search;
    let proven = match (&plan.outcome, search.proven_best) {
        (Outcome::Planned, true) => "none of them takes fewer minutes by these sums",
        (Outcome::Planned, false) => "not all were looked at, so a quicker one may exist",
        (Outcome::Impossible(_), true) => "no order leads to the finished part",
        (Outcome::Impossible(_), false) => "not all were looked at, but none of those leads to the finished part",
    };
    let possible = if search.plans_possible.is_finite() {
        count(search.plans_possible)
    } else {
        "more than can be counted".into()
    };
    format!(
        "{possible} orders and holds are possible, {} were looked at, {} cut off; {proven}.",
        search.examined, search.cut_off
    )
}
