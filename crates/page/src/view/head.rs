//! Head of the plan: can it be done, what is asked, in which order, what to heed.

use drawing::{Figure, Projection, bar_and_part, order_strip, order_strip_in_rows, part_drawing};
use engine::hands::Signal;
use engine::plan::{Outcome, Plan};
use engine::quantity::show::{length, mass};
use maud::{Markup, html};

use super::picture::strip;
use super::{answer_of, forecast, sentence};

/// Room for the drawing of the part, mm.
const PART_ROOM_MM: [f64; 2] = [185.0, 120.0];
/// Room for the strip of set-ups, mm.
const STRIP_ROOM_MM: [f64; 2] = [185.0, 80.0];
/// Room for either on a phone of 320 px, mm.
const NARROW_ROOM_MM: [f64; 2] = [76.0, 160.0];

/// Title and answer.
pub fn head(plan: &Plan) -> Markup {
    let possible = plan.outcome == Outcome::Planned;
    html! {
        header.head {
            h2 { (plan.title) }
            p.verdict.not[!possible] { (answer_of(plan)) }
            @if possible {
                p.share {
                    (format!("{:.0} min handling, {:.0} min cutting, {:.0} min measuring.", plan.minutes.handling,
                        plan.minutes.cutting, plan.minutes.measuring))
                }
                @if let Some(forecast) = forecast::of(plan) {
                    p.share { (sentence(&forecast.says())) " " a href="#forecast" { "How true it will come out" } }
                }
                p.buttons { a.button href="#machine-1-0" { "At the machine, step by step" } }
            }
        }
    }
}

/// The question, with the drawing of the part; where nothing is planned the part laid over the bar.
pub fn what_is_asked(plan: &Plan) -> Markup {
    let possible = plan.outcome == Outcome::Planned;
    html! {
        section aria-labelledby="asked" {
            h3 #asked { "What is asked" }
            (super::asked::asked(plan))
            @if possible {
                (in_rooms(|room_mm| part_drawing(plan, Projection::usual(plan.units), room_mm), PART_ROOM_MM))
            } @else {
                (in_rooms(|room_mm| bar_and_part(plan, room_mm), PART_ROOM_MM))
            }
            (bar(plan))
        }
    }
}

/// A figure for a wide screen and for a phone.
fn in_rooms(figure: impl Fn([f64; 2]) -> Figure, room_mm: [f64; 2]) -> Markup {
    strip(&figure(room_mm), figure(NARROW_ROOM_MM))
}

/// What the bar weighs, and which would do.
fn bar(plan: &Plan) -> Markup {
    let stock = &plan.stock;
    let [corners, least, long] = [stock.least_round_mm, stock.least_round_with_allowance_mm, stock.least_length_mm]
        .map(|value| length(value, plan.units));
    html! {
        dl.facts {
            dt { @if stock.form == "round" { "Would do" } @else { "A round would do" } }
            dd { "round " (least) ", " (long) " long, with the usual allowance; the finished corners alone take " (corners) }
            dt { "Metal" }
            dd { (mass(stock.mass_kg, plan.units)) ", of which " (format!("{:.0} %", stock.used_share * 100.0)) " becomes the part" }
        }
    }
}

/// The order as a strip, and in words.
pub fn order(plan: &Plan) -> Markup {
    html! {
        @if !plan.set_ups.is_empty() {
            section aria-labelledby="order" {
                h3 #order { "The order" }
                (strip(&order_strip(plan, STRIP_ROOM_MM), order_strip_in_rows(plan, NARROW_ROOM_MM, plan.set_ups.len())))
                ol.order {
                    @for set_up in &plan.set_ups {
                        li { a href=(format!("#set-up-{}", set_up.number)) { "cut " (set_up.cuts_faces.join(", ")) } }
                    }
                }
            }
        }
    }
}

/// Cautions for the whole job, before the first set-up.
pub fn read_first(plan: &Plan) -> Markup {
    let (with_signal, sentences): (Vec<&String>, Vec<&String>) =
        plan.cautions.iter().partition(|caution| Signal::of(caution).is_some());
    html! {
        @if !plan.cautions.is_empty() {
            section.first aria-labelledby="first" {
                h3 #first { "Read first" }
                ul.plain { @for sentence in sentences { li { (sentence) } } }
                @for says in with_signal { (caution(says)) }
            }
        }
    }
}

/// A caution with its signal word standing out.
pub fn caution(text: &str) -> Markup {
    let (word, says) = text.split_once(':').unwrap_or(("", text));
    let class = Signal::of(text).map_or("caution", |signal| match signal {
        Signal::Danger => "caution danger",
        Signal::Warning => "caution warning",
        Signal::Caution => "caution",
        Signal::Notice => "caution notice",
    });
    html! { p class=(class) { @if !word.is_empty() { strong { (word) ":" } " " } (says.trim()) } }
}
