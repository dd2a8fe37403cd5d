//! What is seen: the page as a whole, and the parts of it that a new answer changes.

mod asked;
mod assumed;
mod control;
mod document;
mod faults;
mod forecast;
mod form;
mod hands;
mod head;
mod hold;
mod kept;
mod machine;
mod passes;
mod picture;
mod plan;
mod reading_table;
mod reasons;
mod set_up;
mod stock_choice;
mod text;
mod weighed;
mod working;

use engine::plan::{Chance, Outcome, Plan, SetUp, Weighed};
use engine::quantity::bare::several;
use maud::Markup;

use crate::asked::{Seen, Texts};
use crate::planned::Planned;

pub use document::{bars_page, document, refusal, working_page};
pub use forecast::comes_later as forecast_comes_later;
pub use stock_choice::beside as bars;

use kept::{kept, kept_text};

/// The forecast in its place.
pub fn forecast(plan: &Plan) -> Markup {
    kept(forecast::whole(plan))
}

/// Every step of every set-up at the machine.
pub fn cards(plan: &Plan) -> Markup {
    kept(machine::cards(plan))
}

/// One set-up.
pub fn set_up(set_up: &SetUp, plan: &Plan) -> Markup {
    kept(set_up::set_up(set_up, plan))
}

/// The workings of a set-up, or of the whole plan.
pub fn workings(plan: &Plan, set_up: u32) -> Markup {
    kept(working::workings(plan, set_up))
}

/// Other orders beside the plan, and what would help.
pub fn weighed(of: Option<&Weighed>) -> Markup {
    kept(weighed::whole(of))
}

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

/// Which parts of a plan are rendered, and which have only their place.
#[derive(Debug, Clone, Copy)]
pub enum Drawn<'n> {
    /// Every one.
    All,
    /// What is in sight, and not there already.
    Only(&'n Seen),
}

/// Renders the parts.
pub fn parts(texts: &Texts, planned: &Planned, drawn: Drawn<'_>) -> Parts {
    let new = texts.is_untouched();
    let faults = if new { &[][..] } else { &planned.faults };
    Parts {
        answer: if new { "No plan yet: fill in the job.".to_string() } else { kept_text(&answer(planned, was(drawn))) },
        fields: form::fields(texts, planned, faults),
        faults: if new { faults::to_fill_in(&planned.faults) } else { faults::list(faults) },
        job_lines: text::lines(&texts.job, faults, engine::problem::Source::Job),
        shop_lines: text::lines(&texts.shop, &planned.faults, engine::problem::Source::Shop),
        plan: planned.plan.as_ref().map(|plan| kept(plan::plan(plan, drawn))),
        lacks: lacks(texts, planned),
    }
}

/// Looked for only where there can be any: plain letters are in every font.
fn lacks(texts: &Texts, planned: &Planned) -> String {
    let plain = texts.job.is_ascii() && texts.shop.is_ascii();
    planned.plan.as_ref().filter(|_| !plain).and_then(sheet::lacking).unwrap_or_default()
}

/// The chance that a plan keeps all that is asked, from 0 to 1; `None`: it has no forecast.
pub fn share(plan: &Plan) -> Option<f64> {
    forecast::of(plan).map(|forecast| forecast.chance.share)
}

/// The same of the plan before, as the browser remembers it.
fn was(drawn: Drawn<'_>) -> Option<f64> {
    match drawn {
        Drawn::All => None,
        Drawn::Only(seen) => seen.was.filter(|was| (0.0..=1.0).contains(was)),
    }
}

/// "Possible: 6 set-ups, about 84 min; 84 of 100 pieces good, was 79."
fn answer(planned: &Planned, was: Option<f64>) -> String {
    match &planned.plan {
        Some(plan) => match forecast::of(plan) {
            Some(forecast) => {
                format!("{}; {}.", answer_of(plan).trim_end_matches('.'), beside(forecast.chance, was))
            }
            None => answer_of(plan),
        },
        None => format!("No plan yet: {} to mend first.", several(planned.faults.len(), "thing")),
    }
}

/// The chance of all, the one before beside it where it reads otherwise.
fn beside(chance: Chance, was: Option<f64>) -> String {
    let now = chance.of_100();
    let was = was.map(|share| Chance { share, error: 0.0 }.of_100()).filter(|was| *was != now);
    let before = was.map(|was| format!(", was {was}")).unwrap_or_default();
    format!("{now} of 100 pieces good{before}")
}

/// "Possible: 6 set-ups, about 84 min."
fn answer_of(plan: &Plan) -> String {
    match &plan.outcome {
        Outcome::Planned => {
            format!("Possible: {}, about {:.0} min.", several(plan.set_ups.len(), "set-up"), plan.minutes.total())
        }
        Outcome::Impossible(reasons) => format!("Not possible as asked: {}.", several(reasons.len(), "reason")),
    }
}

/// A sentence from words: a capital first, a stop last.
fn sentence(words: &str) -> String {
    let (first, rest) = words.split_at(words.chars().next().map_or(0, char::len_utf8));
    format!("{}{rest}.", first.to_uppercase())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn old_stands_beside_new_where_they_read_otherwise() {
        let chance = Chance { share: 0.849, error: 0.001 };
        assert_eq!(beside(chance, None), "84 of 100 pieces good");
        assert_eq!(beside(chance, Some(0.791)), "84 of 100 pieces good, was 79");
        assert_eq!(beside(chance, Some(0.0)), "84 of 100 pieces good, was none");
        // 84.1 and 84.9 are both written 84.
        assert_eq!(beside(chance, Some(0.841)), "84 of 100 pieces good");
    }
}
