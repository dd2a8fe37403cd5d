//! What the hands do, in order, with passes, stops and cautions in their places.

use engine::hands::Signal;
use engine::plan::{Hand, SetUp};
use engine::quantity::Units;
use maud::{Markup, html};

use super::head::caution;
use super::passes::{kind, reading};
use super::reading_table::reading_table;

/// Numbered steps; a caution stands above the step that it belongs to.
pub fn hands(set_up: &SetUp, units: Units) -> Markup {
    html! {
        section.hands {
            h4 { "In order" }
            @for says in elsewhere(set_up) { (caution(says)) }
            ol.steps {
                @for hand in &set_up.hands {
                    @match hand {
                        Hand::Do { does, why } => li { (step(does, why.as_deref())) },
                        Hand::Passes { from, to } => li.cut {
                            @for (at, pass) in set_up.passes.iter().enumerate().take(*to).skip(*from) {
                                p.pass { span.name { "Pass " (at + 1) } " " span.dial { (reading(&pass.dial)) } " " span.kind { (kind(pass)) } }
                            }
                        },
                        Hand::Stop(index) => li.stop { (stop(set_up, *index, units)) },
                    }
                }
            }
        }
    }
}

/// Cautions of the set-up that no step carries.
pub fn elsewhere(set_up: &SetUp) -> impl Iterator<Item = &String> {
    let stands = |caution: &&String| {
        set_up.hands.iter().any(|hand| matches!(hand, Hand::Do { why: Some(why), .. } if why == *caution))
    };
    set_up.cautions.iter().filter(move |caution| !stands(caution))
}

/// A step; a reason that opens with a signal word is a caution and comes first.
pub fn step(does: &str, why: Option<&str>) -> Markup {
    let signal = why.filter(|why| Signal::of(why).is_some());
    let reason = why.filter(|why| Signal::of(why).is_none());
    html! {
        @if let Some(says) = signal { (caution(says)) }
        p { (does) @if let Some(why) = reason { span.why { " (" (why.trim_end_matches('.')) ")" } } }
    }
}

/// A stop to measure.
pub fn stop(set_up: &SetUp, index: usize, units: Units) -> Markup {
    html! {
        @if let Some(measure) = set_up.measure.get(index) {
            p { strong.signal { "STOP." } " Spindle at rest. Measure " (measure.says(units)) "." }
            @if let Some(now) = set_up.expected(measure, units) { p.now { (now) } }
            @if let Some(table) = &measure.table { (reading_table(table, units)) }
        }
    }
}
