//! What is to be mended, at the top, each leading to its field or its line.

use engine::problem::Source;
use engine::quantity::bare::several;
use maud::{Markup, html};

use crate::fault::Placed;
use crate::field::{self, id};

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

/// What a new job still lacks, without blame: nobody has filled in anything yet.
pub fn to_fill_in(faults: &[Placed]) -> Markup {
    html! {
        section.fill-in aria-label="To fill in" {
            p {
                "Fill in: "
                @for (at, fault) in faults.iter().enumerate() {
                    @if at > 0 { "; " }
                    @match (fault.field(), field::called(&fault.key)) {
                        (Some(of), Some(name)) => a href=(format!("#{}", id(of))) { (name) },
                        _ => (fault.words()),
                    }
                }
                "."
            }
        }
    }
}

fn one(fault: &Placed) -> Markup {
    html! {
        @if let Some(field) = fault.field() { a href=(format!("#{}", id(field))) { (fault.words()) } }
        @else { span { (fault.words()) } }
        @if !fault.accepts.is_empty() && !at_its_field(fault) { span.accepts { " " (fault.reads()) } }
        @if let Some(line) = fault.line { " " (to_line(fault.source, line)) }
    }
}

/// A long list of what would be accepted is read once, at its field.
fn at_its_field(fault: &Placed) -> bool {
    const LONG: usize = 160;
    fault.field().is_some() && fault.accepts.len() > LONG
}

fn to_line(source: Source, line: usize) -> Markup {
    let (name, words) = match source {
        Source::Job => ("job", "Line"),
        Source::Shop => ("shop", "Shop, line"),
    };
    html! { a.line href=(format!("#{name}-text")) data-text=(name) data-line=(line) { (words) " " (line) } }
}
