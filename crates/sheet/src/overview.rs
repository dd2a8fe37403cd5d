//! The overview: what is asked, whether it can be done, in which order, and what to read first.

use drawing::{Figure, Projection, Scale};
use engine::plan::{Outcome, Plan, apportioned};
use engine::quantity::show::{length, mass};
use serde_json::{Value, json};

use crate::caution;
use crate::figures::Album;
use crate::forecast;
use crate::setting::Room;
use engine::quantity::bare::several;

/// Width of the part's drawing where the bar stands beside it, as a share of the text's width.
const PART_SHARE: f64 = 0.58;
/// Height of the part's drawing, as a share of the text's height.
const PART_HEIGHT_SHARE: f64 = 0.32;
/// Heights of the strip of set-ups, as shares of the text's height.
const STRIP_SHARES: [f64; 9] = [0.46, 0.4, 0.35, 0.31, 0.27, 0.24, 0.21, 0.18, 0.15];
/// Widths and heights of the part's drawing with the facts, as shares of the text's.
const PART_SHARES: [[f64; 2]; 12] = [
    [1.0, PART_HEIGHT_SHARE],
    [1.0, 0.27],
    [1.0, 0.22],
    [1.0, 0.17],
    [0.7, PART_HEIGHT_SHARE],
    [0.7, 0.24],
    [0.66, PART_HEIGHT_SHARE],
    [0.66, 0.27],
    [0.62, 0.27],
    [0.62, 0.22],
    [PART_SHARE, PART_HEIGHT_SHARE],
    [PART_SHARE, 0.22],
];
/// The part this wide on paper, and in the strip, can be read well: more is welcome, but not at the cost of the other, mm.
const READ_WELL_MM: [f64; 2] = [45.0, 30.0];
/// Less wide than this they tell nothing, mm: such a picture counts for a tenth.
const TOLD_APART_MM: [f64; 2] = [10.0, 8.5];

/// Between two pictures side by side, mm.
const BETWEEN_MM: f64 = 4.0;

/// All that its page shows.
pub(crate) fn value(plan: &Plan, room: &Room, album: &mut Album) -> Value {
    let part_mm = [room.width_mm() * PART_SHARE, room.height_mm() * PART_HEIGHT_SHARE];
    let bar_mm = [room.width_mm() * (1.0 - PART_SHARE) - BETWEEN_MM, part_mm[1]];
    let planned = !plan.set_ups.is_empty();
    json!({
        "answer": answer(plan),
        "comes": forecast::sentence(plan),
        "facts": facts(plan),
        "part": album.take(&drawing::part_drawing(plan, Projection::usual(plan.units), part_mm)),
        "bar": plan.set_ups.is_empty().then(|| album.take(&drawing::bar_and_part(plan, bar_mm))),
        "ways": if planned { ways(plan, room, album) } else { Vec::new() },
        "order": plan.set_ups.iter().zip(minutes_of(plan)).map(|(set_up, minutes)| json!({
            "set_up": set_up.number.to_string(),
            "cut": set_up.cuts_faces.join(", "),
            "passes": set_up.passes.len().to_string(),
            "minutes": minutes.to_string(),
        })).collect::<Vec<_>>(),
        "cautions": plan.cautions.iter().map(|text| caution::value(text)).collect::<Vec<_>>(),
    })
}

/// Ways of sharing the page between part and strip; the sheet takes the one of most worth that has room.
fn ways(plan: &Plan, room: &Room, album: &mut Album) -> Vec<Value> {
    let part = |[width, height]: [f64; 2]| {
        let room_mm = [room.width_mm() * width, room.height_mm() * height];
        drawing::part_drawing(plan, Projection::usual(plan.units), room_mm)
    };
    let strip = |share: f64| drawing::order_strip(plan, [room.width_mm(), room.height_mm() * share]);
    let mut take = |figure: Figure| (album.take(&figure), figure.scale);
    let parts: Vec<(Value, Scale)> = unlike(PART_SHARES.map(part)).into_iter().map(&mut take).collect();
    let strips: Vec<(Value, Scale)> = unlike(STRIP_SHARES.map(strip)).into_iter().map(&mut take).collect();
    let pairs = parts.iter().flat_map(|part| strips.iter().map(move |strip| (part, strip)));
    pairs
        .map(|((part, large), (strip, small))| {
            json!({ "part": part, "strip": strip, "worth": worth(plan, *large, *small) })
        })
        .collect()
}

/// Pictures each once: many rooms give the same.
fn unlike(figures: impl IntoIterator<Item = Figure>) -> Vec<Figure> {
    let mut kept: Vec<Figure> = Vec::new();
    for figure in figures {
        if !kept.contains(&figure) {
            kept.push(figure);
        }
    }
    kept
}

/// How well part and strip are read: each counts by its width on paper up to what can be read well, and a little beyond.
fn worth(plan: &Plan, part: Scale, strip: Scale) -> f64 {
    let wide_mm = plan.stock.least_round_mm.max(1.0);
    let shown = [part, strip].map(|scale| wide_mm * scale.ratio());
    let tells = |at: usize| if shown[at] < TOLD_APART_MM[at] { 0.1 } else { 1.0 };
    let well = (0..2).map(|at| (shown[at] / READ_WELL_MM[at]).min(1.0) * tells(at));
    well.product::<f64>() + shown.iter().sum::<f64>() / 1e4
}

/// Whole minutes of each set-up that add up to the whole minutes of the heading.
pub(crate) fn minutes_of(plan: &Plan) -> Vec<u64> {
    let all: Vec<f64> = plan.set_ups.iter().map(|set_up| set_up.minutes.total()).collect();
    apportioned(&all, plan.minutes.total())
}

fn answer(plan: &Plan) -> String {
    match &plan.outcome {
        Outcome::Planned => {
            let minutes = &plan.minutes;
            let kinds = apportioned(&[minutes.handling, minutes.cutting, minutes.measuring], minutes.total());
            format!(
                "Possible: {}, about {:.0} minutes ({} handling, {} cutting, {} measuring).",
                several(plan.set_ups.len(), "set-up"),
                minutes.total(),
                kinds[0],
                kinds[1],
                kinds[2]
            )
        }
        Outcome::Impossible(reasons) => format!("Not possible as asked: {}.", several(reasons.len(), "reason")),
    }
}

fn facts(plan: &Plan) -> Vec<Value> {
    let asked = &plan.asked;
    let beyond = asked.limits.iter().chain(&asked.requirements).cloned();
    let part = std::iter::once(asked.part.clone()).chain(beyond);
    let chosen = plan.stock_choice.as_ref().filter(|choice| choice.best.is_some());
    let chosen = chosen.map(|choice| format!("chosen: {}", choice.says));
    let bar = [asked.stock.clone(), asked.material.clone()].into_iter().chain(chosen);
    let fact = |word: &str, is: Vec<String>| json!({ "word": word, "is": is });
    vec![
        fact("Part", part.collect()),
        fact("Bar", bar.collect()),
        fact(least_word(plan), vec![least(plan)]),
        fact("Metal", vec![metal(plan)]),
        fact("Lathe", vec![asked.lathe.clone()]),
        fact("Chuck", vec![asked.chuck.clone()]),
        fact("Tool", vec![asked.tool.clone()]),
    ]
}

fn least_word(plan: &Plan) -> &'static str {
    if plan.stock.form == "round" { "Would do" } else { "A round would do" }
}

fn least(plan: &Plan) -> String {
    let stock = &plan.stock;
    let [least, long, corners] = [stock.least_round_with_allowance_mm, stock.least_length_mm, stock.least_round_mm]
        .map(|value| length(value, plan.units));
    format!("round {least}, {long} long, with the usual allowance; the finished corners alone take {corners}")
}

fn metal(plan: &Plan) -> String {
    let stock = &plan.stock;
    format!("{}, of which {:.0} % becomes the part", mass(stock.mass_kg, plan.units), stock.used_share * 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_minutes_add_up_to_the_whole() {
        // Largest remainders by hand: 12.4 + 11.4 + 13.6 = 37.4, cut off 36, one is missing, 0.6 is the largest.
        assert_eq!(apportioned(&[12.4, 11.4, 13.6], 37.4), [12, 11, 14]);
        assert_eq!(apportioned(&[0.5, 0.5, 0.5, 0.5], 2.0), [1, 1, 0, 0]);
        assert_eq!(apportioned(&[], 0.0), Vec::<u64>::new());
    }
}
