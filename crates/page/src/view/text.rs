//! A text to be edited, its lines numbered, faulty ones marked.

use std::collections::BTreeSet;

use engine::problem::Source;
use maud::{Markup, html};

use crate::fault::Placed;

/// A text with its heading; `folded`: opened when asked for.
pub fn editor(name: &str, heading: &str, about: &str, text: &str, lines: &Markup, folded: bool) -> Markup {
    let id = format!("{name}-text");
    html! {
        details.text id=(format!("{name}-as-text")) open[!folded] {
            summary { (heading) }
            label for=(id) { (about) }
            div.editor {
                pre.lines id=(format!("{name}-lines")) aria-hidden="true" { (lines) }
                textarea id=(id) name=(name) rows="18" spellcheck="false" autocapitalize="off" wrap="off"
                    aria-describedby="faults" { "\n" (text) }
            }
        }
    }
}

/// The numbers of the lines, one below the other.
pub fn lines(text: &str, faults: &[Placed], of: Source) -> Markup {
    /// More lines than a job has are not numbered.
    const MOST: usize = 3000;
    let bad: BTreeSet<usize> =
        faults.iter().filter(|fault| fault.source == of).filter_map(|fault| fault.line).collect();
    let count = (text.matches('\n').count() + 1).min(MOST);
    html! {
        @for line in 1..=count {
            @if bad.contains(&line) { b { "! " (line) } "\n" } @else { (line) "\n" }
        }
    }
}
