//! Why a job cannot be done, and what would free it.

use engine::plan::Reason;
use engine::quantity::Units;
use maud::{Markup, html};

/// Every reason with its value, its limit and a way out.
pub fn reasons(reasons: &[Reason], units: Units) -> Markup {
    html! {
        section.reasons aria-labelledby="why-not" {
            h3 #why-not { "Why not" }
            ol {
                @for reason in reasons {
                    li {
                        p { strong { (reason.place) ": " } (reason.says) }
                        @if let Some([here, limit]) = reason.compared(units) {
                            p.against { strong { (here) } " here, against a limit of " strong { (limit) } "." }
                        }
                        p.way-out { strong { "Way out: " } (reason.way_out) }
                    }
                }
            }
        }
    }
}
