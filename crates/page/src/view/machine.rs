//! At the machine: one step at a time, large, to be read with the spindle at rest.

use engine::plan::{Hand, JawPlan, Measure, Plan, SetUp};
use engine::quantity::Units;
use engine::quantity::bare::rpm;
use engine::quantity::limits::{length_within, limits};
use engine::quantity::show::{feed, length, on_hand};
use maud::{Markup, html};

use super::hands;
use super::head::caution;
use super::passes::{kind, reading};
use super::reading_table::reading_list;

/// A step with what it is called.
struct Card {
    id: String,
    place: Markup,
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
                    div.stop { (stop(set_up, *index, plan.units)) }
                },
            )),
        }
    }
    let count = steps.len();
    let card = |(at, (title, body)): (usize, (String, Markup))| Card {
        id: format!("machine-{}-{at}", set_up.number),
        place: html! {
            (plan.title) ". "
            span.whole { (format!("Set-up {} of {}: cut {}.", set_up.number, plan.set_ups.len(), set_up.cuts_faces.join(", "))) }
            " " span.whole { (format!("Screen {} of {count}", at + 1)) }
        },
        title,
        body,
    };
    steps.into_iter().enumerate().map(card).collect()
}

fn first_title(set_up: &SetUp) -> String {
    format!("Set-up {}: cut {}", set_up.number, set_up.cuts_faces.join(", "))
}

/// What a set-up opens with: cautions that no step carries, bite and stick-out, the jaws in letters that an arm's
/// length lets read, and their picture.
fn first(set_up: &SetUp, units: Units) -> Markup {
    html! {
        @for says in hands::elsewhere(set_up) { (caution(says)) }
        dl.sets {
            div { dt { "Bite" } dd { (length(set_up.bite_mm, units)) } }
            div { dt { "Stick-out" } dd { (length(set_up.stick_out.set_mm, units)) } }
        }
        ul.jaws { @for jaw in &set_up.jaws { li { (jaw_in_words(jaw, set_up.number == 1, units)) } } }
        (frame(set_up, "chuck"))
    }
}

/// Where a view of the set-up is shown; until then, or without a script, the way to it.
fn frame(set_up: &SetUp, view: &str) -> Markup {
    html! {
        div.picture data-of=(format!("set-up-{}", set_up.number)) data-view=(view) {
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

/// A stop: what the gauge reads stands by itself, the largest after the word.
fn stop(set_up: &SetUp, index: usize, units: Units) -> Markup {
    let Some(measure) = set_up.measure.get(index) else { return html! {} };
    let reads = reads(set_up, measure, units);
    html! {
        p { strong.signal { "STOP." } "Spindle at rest. Measure " (measure.what) "." }
        dl.aims {
            @for (says, reading) in &reads { div { dt { (says) } dd.large { (reading) } } }
            @if let Some(between) = between(measure, units) { div { dt { "Limits of the size" } dd.limits { (between) } } }
            div { dt { "With" } dd { (measure.gauge_says(units)) @if measure.takes_out { ", piece out of the chuck" } } }
        }
        @if measure.over_jaws_mm.is_some() { p { (FROM_THE_JAWS) } }
        @if let Some(table) = &measure.table { (reading_list(table, units)) }
    }
}

/// Why the gauge reads another number than the size.
const FROM_THE_JAWS: &str =
    "Read from the new face to the jaw front: the size is this reading and the one from jaw front to seat together.";

/// What the gauge reads now, where a pass is still on, and when the size is right.
fn reads(set_up: &SetUp, measure: &Measure, units: Units) -> Vec<(&'static str, String)> {
    // The cut aims at the middle of the limits.
    let middle_mm = measure.nominal_mm + (measure.plus_mm - measure.minus_mm) / 2.0;
    let to_size_mm = measure.over_jaws_mm.unwrap_or(middle_mm);
    let still_on = set_up.passes.last().filter(|_| measure.when.starts_with("before"));
    let now = still_on.map(|pass| ("Reads near this now", length(to_size_mm + pass.depth_mm, units)));
    let aim = if measure.over_bar { "Near" } else { "When to size" };
    let to_size = length_within(to_size_mm, measure.plus_mm + measure.minus_mm, units);
    now.into_iter().chain([(aim, to_size)]).collect()
}

/// "43.95 to 44.05 mm"; `None`: the size has no limits, or is none of the part's.
fn between(measure: &Measure, units: Units) -> Option<String> {
    let says = limits(measure.nominal_mm, measure.plus_mm, measure.minus_mm, units);
    let between = says.split_once('(')?.1.trim_end_matches(')').to_string();
    (!measure.over_bar).then(|| format!("{between} {}", units.name()))
}

fn pass(set_up: &SetUp, units: Units, number: usize, at: usize) -> Option<(String, Markup)> {
    let pass = set_up.passes.get(at)?;
    let body = html! {
        @if set_up.set_by_a_table() == Some(at) { p { strong { "Set it by the reading table of the stop; near" } } }
        p.reading { (reading(&pass.dial)) }
        p { (kind(pass)) ", " (length(pass.depth_mm, units)) " deep, total " (length(pass.total_mm, units)) }
        p { (rpm(pass.rpm)) " rpm, " (feed(pass.feed_mm_per_rev, units)) }
        @if let Some(next) = set_up.passes.get(at + 1) { p.then { "Then " (next.dial) } }
        (frame(set_up, "side"))
    };
    Some((format!("Step {number}: pass {} of {}", at + 1, set_up.passes.len()), body))
}
