//! What is to be mended, at the top, each leading to its field or its line.

use engine::problem::Source;
use engine::quantity::bare::several;
use maud::{Markup, html};

use crate::fault::Placed;
use crate::field::id;

/// The list; empty where there is nothing to mend.
pub fn list(faults: &[Placed]) -> Markup {
    html! {
        @if !faults.is_empty() {
            section.faults aria-label="To mend" {
                h3 { (several(faults.len(), "thing")) " to mend" }
                ul { @for fault in faults { li { (one(fault)) } } }
            }
        }
    }
}

fn one(fault: &Placed) -> Markup {
    html! {
        @if let Some(field) = fault.field() { a href=(format!("#{}", id(field))) { (fault.says) } }
        @else { span { (fault.says) } }
        @if !fault.accepts.is_empty() { span.accepts { " What is read: " (fault.accepts) "." } }
        @if let Some(line) = fault.line { " " (to_line(fault.source, line)) }
    }
}

fn to_line(source: Source, line: usize) -> Markup {
    let (name, words) = match source {
        Source::Job => ("job", "Line"),
        Source::Shop => ("shop", "Shop, line"),
    };
    html! { a.line href=(format!("#{name}-text")) data-text=(name) data-line=(line) { (words) " " (line) } }
}
