//! What is seen: the page as a whole, and the parts of it that a new answer changes.

mod asked;
mod assumed;
mod control;
mod document;
mod faults;
mod form;
mod hands;
mod head;
mod hold;
mod machine;
mod passes;
mod picture;
mod plan;
mod reading_table;
mod reasons;
mod set_up;
mod text;
mod working;

use engine::plan::{Outcome, Plan};
use engine::quantity::bare::several;
use maud::Markup;

use crate::asked::Texts;
use crate::planned::Planned;

pub use document::{document, refusal, working_page};
pub use machine::cards;
pub use set_up::set_up;
pub use working::workings;

/// The parts of the page that hang on the texts.
pub struct Parts {
    /// What came out, in one sentence.
    pub answer: String,
    /// The fields; `None`: the text does not read as TOML, so that they stay as they were.
    pub fields: Option<Markup>,
    /// What is to be mended.
    pub faults: Markup,
    /// Numbers of the job's lines, faulty ones marked.
    pub job_lines: Markup,
    /// The same of the shop.
    pub shop_lines: Markup,
    /// The plan; `None`: there is none.
    pub plan: Option<Markup>,
    /// What the sheet could not print of it; mostly empty.
    pub lacks: String,
}

/// Which set-ups of a plan are rendered, and which have only their place.
#[derive(Debug, Clone, Copy)]
pub enum Drawn<'n> {
    /// Every one.
    All,
    /// Those of these numbers.
    Only(&'n [u32]),
}

/// Renders the parts.
pub fn parts(texts: &Texts, planned: &Planned, drawn: Drawn<'_>) -> Parts {
    let new = texts.is_untouched();
    let faults = if new { &[][..] } else { &planned.faults };
    Parts {
        answer: if new { "No plan yet: fill in the job.".to_string() } else { answer(planned) },
        fields: form::fields(texts, planned, faults),
        faults: if new { faults::to_fill_in(&planned.faults) } else { faults::list(faults) },
        job_lines: text::lines(&texts.job, faults, engine::problem::Source::Job),
        shop_lines: text::lines(&texts.shop, &planned.faults, engine::problem::Source::Shop),
        plan: planned.plan.as_ref().map(|plan| plan::plan(plan, drawn)),
        lacks: lacks(texts, planned),
    }
}

/// Looked for only where there can be any: plain letters are in every font.
fn lacks(texts: &Texts, planned: &Planned) -> String {
    let plain = texts.job.is_ascii() && texts.shop.is_ascii();
    planned.plan.as_ref().filter(|_| !plain).and_then(sheet::lacking).unwrap_or_default()
}

/// "Possible: 6 set-ups, about 84 min."
fn answer(planned: &Planned) -> String {
    match &planned.plan {
        Some(plan) => answer_of(plan),
        None => format!("No plan yet: {} to mend first.", several(planned.faults.len(), "thing")),
    }
}

fn answer_of(plan: &Plan) -> String {
    match &plan.outcome {
        Outcome::Planned => {
            format!("Possible: {}, about {:.0} min.", several(plan.set_ups.len(), "set-up"), plan.minutes.total())
        }
        Outcome::Impossible(reasons) => format!("Not possible as asked: {}.", several(reasons.len(), "reason")),
    }
}
