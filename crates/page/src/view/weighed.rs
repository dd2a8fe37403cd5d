//! Other orders beside the plan that is taken, to choose from, and what would help most.

use engine::plan::{Choice, Help, Plan, RunnerUp, Weighed};
use maud::{Markup, html};

use super::{Drawn, sentence};

/// What stands in the plan; its place only, where the browser is told later.
pub fn part(plan: &Plan, drawn: Drawn<'_>) -> Markup {
    match drawn {
        _ if plan.set_ups.is_empty() => html! {},
        Drawn::Only(_) => html! { section.weighed.waits #weighed {} },
        Drawn::All => whole(plan.weighed.as_ref()),
    }
}

/// The whole of it; an empty place where nothing was weighed.
pub fn whole(weighed: Option<&Weighed>) -> Markup {
    let Some(weighed) = weighed else { return html! { section.weighed #weighed {} } };
    html! {
        section.weighed #weighed aria-labelledby="weighed-title" {
            h3 #weighed-title { "Other orders, and what would help" }
            @if let Some(blocking) = &weighed.blocking { p { strong { (blocking.says()) } } }
            (choices(&weighed.choices))
            @if let Some(other) = &weighed.runner_up { (next_best(other)) }
            (helps(&weighed.helps))
        }
    }
}

const HEADS: [&str; 5] = ["Best for", "Order", "Minutes", "Good of 100", "Minutes for a good piece"];

fn choices(choices: &[Choice]) -> Markup {
    html! {
        div.scroll {
            table.stacked.orders {
                caption { "Plans to choose from, on the same pieces" }
                thead { tr { @for head in HEADS { th scope="col" { (head) } } th scope="col" { span.unseen { "Take it" } } } }
                tbody { @for choice in choices { (row(choice)) } }
            }
        }
    }
}

fn row(choice: &Choice) -> Markup {
    html! {
        tr {
            th scope="row" data-label=(HEADS[0]) { (best_for(choice)) }
            td data-label=(HEADS[1]) { (choice.order) }
            td.value data-label=(HEADS[2]) { (format!("{:.0}", choice.minutes)) }
            td.value data-label=(HEADS[3]) { (choice.chance.of_100()) }
            td.value data-label=(HEADS[4]) { (per_good(choice.per_good_minutes)) }
            td {
                @if choice.taken {
                    "this plan"
                } @else if let Some(seek) = choice.best_for.first() {
                    button.take type="button" data-seek=(seek) { "Take this order" }
                }
            }
        }
    }
}

/// The words of the field that chooses it.
fn best_for(choice: &Choice) -> String {
    let words = choice.best_for.iter().map(|seek| match *seek {
        "quickest" => "fewest minutes",
        "truest" => "most good pieces",
        _ => "fewest minutes for a good piece",
    });
    words.collect::<Vec<_>>().join("; ")
}

fn per_good(minutes: f64) -> String {
    if minutes.is_finite() { format!("{minutes:.0}") } else { "no end".to_string() }
}

fn next_best(other: &RunnerUp) -> Markup {
    html! { p { strong { "Next best: " } (other.plan.says()) ". Beside this plan: " (other.loses) "." } }
}

fn helps(helps: &[Help]) -> Markup {
    html! {
        @if !helps.is_empty() {
            p { "What would help most, one change at a time:" }
            ol.helps { @for help in helps { li { (sentence(&help.says())) } } }
        }
    }
}
