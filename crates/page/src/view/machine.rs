//! At the machine: one step at a time, large, to be read with the spindle at rest.

use engine::plan::{Hand, JawPlan, Plan, SetUp};
use engine::quantity::Units;
use engine::quantity::bare::rpm;
use engine::quantity::show::{feed, length, on_hand};
use maud::{Markup, html};

use super::hands;
use super::head::caution;
use super::passes::{kind, reading};

/// A step with what it is called.
struct Card {
    id: String,
    place: String,
    title: String,
    body: Markup,
}

/// Every step of every set-up, each leading to the one before and the one after.
pub fn cards(plan: &Plan) -> Markup {
    let cards: Vec<Card> = plan.set_ups.iter().flat_map(|set_up| of_set_up(set_up, plan)).collect();
    let link = |at: usize| cards.get(at).map(|card| format!("#{}", card.id));
    html! {
        @for (at, card) in cards.iter().enumerate() {
            (shown(card, at.checked_sub(1).and_then(link), link(at + 1)))
        }
    }
}

fn shown(card: &Card, before: Option<String>, after: Option<String>) -> Markup {
    html! {
        article.card id=(card.id) aria-labelledby=(format!("{}-title", card.id)) {
            p.place { (card.place) }
            p.outdated { "The job has changed since and does not read: this is its plan as it was before." }
            h2 id=(format!("{}-title", card.id)) { (card.title) }
            div.body { (card.body) }
            p.rest { "Read with the spindle at rest." }
            nav aria-label="Steps" {
                @if let Some(before) = before { a.step.back href=(before) { "Back" } } @else { span.step.none { "First step" } }
                a.step.leave href="#plan" { "Whole plan" }
                @if let Some(after) = after { a.step.next href=(after) { "Next" } } @else { span.step.none { "Last step" } }
            }
        }
    }
}

fn of_set_up(set_up: &SetUp, plan: &Plan) -> Vec<Card> {
    let mut steps: Vec<(String, Markup)> = vec![(first_title(set_up), first(set_up, plan.units))];
    for (index, hand) in set_up.hands.iter().enumerate() {
        let number = index + 1;
        match hand {
            Hand::Do { does, why } => steps.push((format!("Step {number}"), hands::step(does, why.as_deref()))),
            Hand::Passes { from, to } => {
                steps.extend((*from..*to).filter_map(|at| pass(set_up, plan.units, number, at)))
            }
            Hand::Stop(index) => steps.push((
                format!("Step {number}: stop and measure"),
                html! {
                    div.stop { (hands::stop(set_up, *index, plan.units)) }
                },
            )),
        }
    }
    let count = steps.len();
    let card = |(at, (title, body)): (usize, (String, Markup))| Card {
        id: format!("machine-{}-{at}", set_up.number),
        place: format!(
            "{}. Set-up {} of {}: cut {}. {} of {count}",
            plan.title,
            set_up.number,
            plan.set_ups.len(),
            set_up.cuts_faces.join(", "),
            at + 1
        ),
        title,
        body,
    };
    steps.into_iter().enumerate().map(card).collect()
}

fn first_title(set_up: &SetUp) -> String {
    format!("Set-up {}: cut {}", set_up.number, set_up.cuts_faces.join(", "))
}

/// What a set-up opens with: cautions that no step carries, the jaws in letters that an arm's length lets read, and
/// their picture.
fn first(set_up: &SetUp, units: Units) -> Markup {
    html! {
        @for says in hands::elsewhere(set_up) { (caution(says)) }
        ul.jaws { @for jaw in &set_up.jaws { li { (jaw_in_words(jaw, set_up.number == 1, units)) } } }
        div.picture data-of=(format!("set-up-{}", set_up.number)) {
            a href=(format!("#set-up-{}", set_up.number)) { "Its pictures are in the whole plan." }
        }
    }
}

fn jaw_in_words(jaw: &JawPlan, first: bool, units: Units) -> Markup {
    let packing = jaw.packing_mm > 0.0;
    html! {
        "Jaw " (jaw.jaw) " on " (jaw.bears()) @if packing { ", packing " (on_hand(jaw.packing_mm, units)) } ": "
        @if jaw.kept { strong { "leave alone" } } @else if first { "set" } @else { "loosen and set" }
    }
}

fn pass(set_up: &SetUp, units: Units, number: usize, at: usize) -> Option<(String, Markup)> {
    let pass = set_up.passes.get(at)?;
    let body = html! {
        p.reading { (reading(&pass.dial)) }
        p { (kind(pass)) ", " (length(pass.depth_mm, units)) " deep, " (length(pass.total_mm, units)) " together" }
        p { (rpm(pass.rpm)) " rpm, " (feed(pass.feed_mm_per_rev, units)) }
    };
    Some((format!("Step {number}: pass {} of {}", at + 1, set_up.passes.len()), body))
}
