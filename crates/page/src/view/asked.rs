//! What is asked of what, with what.

use engine::plan::Plan;
use maud::{Markup, html};

/// As a list of names and values.
pub fn asked(plan: &Plan) -> Markup {
    let asked = &plan.asked;
    html! {
        dl.facts {
            dt { "Part" }
            dd { (asked.part) @for requirement in asked.limits.iter().chain(&asked.requirements) { br; (requirement) } }
            dt { "Bar" }
            dd { (asked.stock) "; " (asked.material) }
            dt { "With" }
            dd { (asked.lathe) "; " (asked.chuck) "; " (asked.tool) }
        }
    }
}
