//! One field of the form with its label, its unit and its fault.

use maud::{Markup, html};

use crate::asked::shown;
use crate::fault::Placed;
use crate::field::id;
use crate::written::Written;

/// What all fields need to know.
pub struct Sheet<'s> {
    /// The job's text.
    pub job: &'s Written,
    /// What is to be mended.
    pub faults: &'s [Placed],
}

/// Something to choose from: what is written, and what is read.
pub struct Choice {
    /// As it stands in the text; empty: the key is left out.
    pub value: String,
    /// In words.
    pub says: String,
}

impl Choice {
    /// Both.
    pub fn new(value: &str, says: &str) -> Self {
        Choice { value: value.to_string(), says: says.to_string() }
    }

    /// A word that says itself.
    pub fn word(value: &str) -> Self {
        Choice::new(value, value)
    }
}

impl Sheet<'_> {
    /// What a field shows now.
    pub fn shown(&self, key: &str) -> String {
        shown(self.job, key)
    }

    /// A field to type in.
    pub fn typed(&self, key: &str, label: &str, after: &str) -> Markup {
        let (id, fault) = (id(key), self.fault(key));
        // What is written with its own unit needs none behind it.
        let after =
            if self.shown(key).ends_with(|letter: char| letter.is_alphabetic() || letter == '"') { "" } else { after };
        let about = self.about(key, !after.is_empty());
        html! {
            div.field id=(format!("{id}-box")) {
                label for=(id) { (label) }
                span.entry {
                    input id=(id) name=(key) type="text" value=(self.shown(key)) spellcheck="false" autocapitalize="off"
                        aria-invalid=[fault.is_some().then_some("true")] aria-describedby=[about];
                    @if !after.is_empty() { span.unit id=(format!("{id}-unit")) { (after) } }
                }
                (self.complaint(key))
            }
        }
    }

    /// A field to choose in; a value that is none of the choices is shown as it is written.
    pub fn chosen(&self, key: &str, label: &str, choices: &[Choice]) -> Markup {
        let (id, value, fault) = (id(key), self.shown(key), self.fault(key));
        let known = choices.iter().any(|choice| choice.value == value);
        html! {
            div.field id=(format!("{id}-box")) {
                label for=(id) { (label) }
                select id=(id) name=(key) aria-invalid=[fault.is_some().then_some("true")]
                    aria-describedby=[self.about(key, false)] {
                    @if !known { option value=(value) selected { @if value.is_empty() { "choose" } @else { (value) } } }
                    @for choice in choices {
                        option value=(choice.value) selected[choice.value == value] { (choice.says) }
                    }
                }
                (self.complaint(key))
            }
        }
    }

    /// A size and its limits, side by side.
    pub fn sized(&self, key: &str, label: &str) -> Markup {
        let parts = [("size", label), ("plus", "plus"), ("minus", "minus")];
        html! {
            div.sized role="group" aria-label=(label) {
                @for (part, says) in parts { (self.typed(&format!("{key}.{part}"), says, "")) }
            }
        }
    }

    fn fault(&self, key: &str) -> Option<&Placed> {
        self.faults.iter().find(|fault| fault.field() == Some(key))
    }

    fn about(&self, key: &str, unit: bool) -> Option<String> {
        let (id, fault) = (id(key), self.fault(key).is_some());
        let names = [(unit, format!("{id}-unit")), (fault, format!("{id}-fault"))];
        let names: Vec<String> = names.into_iter().filter(|(there, _)| *there).map(|(_, name)| name).collect();
        (!names.is_empty()).then(|| names.join(" "))
    }

    fn complaint(&self, key: &str) -> Markup {
        html! {
            @if let Some(fault) = self.fault(key) {
                p.fault id=(format!("{}-fault", id(key))) {
                    (fault.says) @if !fault.accepts.is_empty() { span.accepts { " What is read: " (fault.accepts) "." } }
                }
            }
        }
    }
}
