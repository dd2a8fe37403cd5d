//! The overview: what is asked, whether it can be done, in which order, and what to read first.

use drawing::Projection;
use engine::plan::{Outcome, Plan};
use engine::quantity::show::{length, mass};
use serde_json::{Value, json};

use crate::caution;
use crate::figures::Album;
use crate::setting::Room;
use engine::quantity::bare::several;

/// Width of the part's drawing where the bar stands beside it, as a share of the text's width.
const PART_SHARE: f64 = 0.58;
/// Height of the part's drawing, as a share of the text's height.
const PART_HEIGHT_SHARE: f64 = 0.32;
/// Height of the part's drawing on a page for notes, as a share of the text's height.
const ALONE_HEIGHT_SHARE: f64 = 0.5;
/// Heights of the strip of set-ups, as shares of the text's height, the roomiest first: the sheet takes the first that
/// leaves the overview on its page.
const STRIP_SHARES: [f64; 5] = [0.46, 0.34, 0.24, 0.19, 0.16];
/// Widths and heights of the part's drawing with the facts, as shares of the text's, the roomiest first.
const PART_SHARES: [[f64; 2]; 4] =
    [[1.0, PART_HEIGHT_SHARE], [1.0, 0.22], [0.7, PART_HEIGHT_SHARE], [PART_SHARE, PART_HEIGHT_SHARE]];

/// Between two pictures side by side, mm.
const BETWEEN_MM: f64 = 4.0;

/// All that its page shows.
pub(crate) fn value(plan: &Plan, room: &Room, album: &mut Album) -> Value {
    let part_mm = [room.width_mm() * PART_SHARE, room.height_mm() * PART_HEIGHT_SHARE];
    let bar_mm = [room.width_mm() * (1.0 - PART_SHARE) - BETWEEN_MM, part_mm[1]];
    let alone_mm = [room.width_mm(), room.height_mm() * ALONE_HEIGHT_SHARE];
    let planned = !plan.set_ups.is_empty();
    let ways = PART_SHARES.iter().flat_map(|part| STRIP_SHARES.iter().map(move |strip| (part, strip)));
    let ways: Vec<Value> = ways
        .filter(|_| planned)
        .map(|(part, strip)| {
            let part_mm = [room.width_mm() * part[0], room.height_mm() * part[1]];
            let strip_mm = [room.width_mm(), room.height_mm() * strip];
            json!({
                "part": album.take(&drawing::part_drawing(plan, Projection::usual(plan.units), part_mm)),
                "strip": album.take(&drawing::order_strip(plan, strip_mm)),
            })
        })
        .collect();
    json!({
        "answer": answer(plan),
        "facts": facts(plan),
        "part": album.take(&drawing::part_drawing(plan, Projection::usual(plan.units), part_mm)),
        "alone": planned.then(|| album.take(&drawing::part_drawing(plan, Projection::usual(plan.units), alone_mm))),
        "bar": plan.set_ups.is_empty().then(|| album.take(&drawing::bar_and_part(plan, bar_mm))),
        "ways": ways,
        "order": plan.set_ups.iter().zip(minutes_of(plan)).map(|(set_up, minutes)| json!({
            "set_up": set_up.number.to_string(),
            "cut": set_up.cuts_faces.join(", "),
            "passes": set_up.passes.len().to_string(),
            "minutes": minutes.to_string(),
        })).collect::<Vec<_>>(),
        "cautions": plan.cautions.iter().map(|text| caution::value(text)).collect::<Vec<_>>(),
    })
}

/// Whole minutes of each set-up that add up to the whole minutes of the heading.
pub(crate) fn minutes_of(plan: &Plan) -> Vec<u64> {
    let all: Vec<f64> = plan.set_ups.iter().map(|set_up| set_up.minutes.total()).collect();
    apportioned(&all, plan.minutes.total())
}

/// Whole numbers that add up to the rounded whole: each is cut off, and what is missing goes to the largest remainders.
fn apportioned(parts: &[f64], whole: f64) -> Vec<u64> {
    let mut counts: Vec<u64> = parts.iter().map(|part| part.max(0.0).floor() as u64).collect();
    let missing = (whole.max(0.0).round() as u64).saturating_sub(counts.iter().sum());
    let mut by_remainder: Vec<usize> = (0..parts.len()).collect();
    by_remainder.sort_by(|&one, &other| parts[other].fract().total_cmp(&parts[one].fract()));
    by_remainder.into_iter().take(usize::try_from(missing).unwrap_or(0)).for_each(|at| counts[at] += 1);
    counts
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
    let part = std::iter::once(asked.part.clone()).chain(asked.requirements.iter().cloned());
    let fact = |word: &str, is: Vec<String>| json!({ "word": word, "is": is });
    vec![
        fact("Part", part.collect()),
        fact("Bar", vec![asked.stock.clone(), asked.material.clone()]),
        fact(least_word(plan), vec![least(plan)]),
        fact("Metal", vec![metal(plan)]),
        fact("Lathe", vec![asked.lathe.clone()]),
        fact("Chuck", vec![asked.chuck.clone()]),
        fact("Tool", vec![asked.tool.clone()]),
    ]
}

fn least_word(plan: &Plan) -> &'static str {
    if plan.stock.form == "round" { "Least bar" } else { "Least round" }
}

fn least(plan: &Plan) -> String {
    let stock = &plan.stock;
    let [least, long, corners] = [stock.least_round_with_allowance_mm, stock.least_length_mm, stock.least_round_mm]
        .map(|value| length(value, plan.units));
    format!("round {least}, {long} long; round the corners {corners}")
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
