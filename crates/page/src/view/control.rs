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
        let after = if self.has_unit(key) { "" } else { after };
        let unit = (!after.is_empty()).then(|| format!("{}-unit", id(key)));
        self.entry(
            key,
            label,
            unit.as_deref(),
            html! {
                @if let Some(unit) = &unit { span.unit id=(unit) { (after) } }
            },
        )
    }

    /// A field with what stands behind it; `unit`: the id of what names the unit that a bare number takes.
    fn entry(&self, key: &str, label: &str, unit: Option<&str>, behind: Markup) -> Markup {
        let (id, fault) = (id(key), self.fault(key));
        html! {
            div.field id=(format!("{id}-box")) {
                label for=(id) { (label) }
                span.entry {
                    input id=(id) name=(key) type="text" value=(self.shown(key)) spellcheck="false" autocapitalize="off"
                        aria-invalid=[fault.is_some().then_some("true")] aria-describedby=[self.about(key, unit)];
                    (behind)
                }
                (self.complaint(key))
            }
        }
    }

    /// What is written with its own unit needs none behind it.
    fn has_unit(&self, key: &str) -> bool {
        self.shown(key).ends_with(|letter: char| letter.is_alphabetic() || "\"″°".contains(letter))
    }

    /// A field to choose in; a value that is none of the choices is shown as it is written.
    pub fn chosen(&self, key: &str, label: &str, choices: &[Choice]) -> Markup {
        let (id, value, fault) = (id(key), self.shown(key), self.fault(key));
        let known = choices.iter().any(|choice| choice.value == value);
        html! {
            div.field id=(format!("{id}-box")) {
                label for=(id) { (label) }
                select id=(id) name=(key) aria-invalid=[fault.is_some().then_some("true")]
                    aria-describedby=[self.about(key, None)] {
                    @if !known { option value=(value) selected { @if value.is_empty() { "choose" } @else { (value) } } }
                    @for choice in choices {
                        option value=(choice.value) selected[choice.value == value] { (choice.says) }
                    }
                }
                (self.complaint(key))
            }
        }
    }

    /// A size and its limits, side by side, behind them the unit that their bare numbers take.
    pub fn sized(&self, key: &str, label: &str, after: &str) -> Markup {
        let parts =
            [("size", label), ("plus", "plus"), ("minus", "minus")].map(|(part, says)| (format!("{key}.{part}"), says));
        let unit = format!("{}-unit", id(key));
        let bare = |key: &str| !self.has_unit(key);
        html! {
            div.sized role="group" aria-label=(label) {
                @for (part, says) in &parts { (self.entry(part, says, bare(part).then_some(unit.as_str()), html! {})) }
                @if parts.iter().any(|(part, _)| bare(part)) { span.unit id=(unit) { (after) } }
            }
        }
    }

    fn fault(&self, key: &str) -> Option<&Placed> {
        self.faults.iter().find(|fault| fault.field() == Some(key))
    }

    fn about(&self, key: &str, unit: Option<&str>) -> Option<String> {
        let fault = self.fault(key).map(|_| format!("{}-fault", id(key)));
        let names: Vec<String> = unit.map(str::to_string).into_iter().chain(fault).collect();
        (!names.is_empty()).then(|| names.join(" "))
    }

    fn complaint(&self, key: &str) -> Markup {
        html! {
            @if let Some(fault) = self.fault(key) {
                p.fault id=(format!("{}-fault", id(key))) {
                    (fault.words()) @if !fault.accepts.is_empty() { span.accepts { " " (fault.reads()) } }
                }
            }
        }
    }
}
