//! The overview: what is asked, whether it can be done, in which order, and what to read first.

use drawing::Projection;
use engine::plan::{Outcome, Plan};
use engine::quantity::show::{length, mass};
use serde_json::{Value, json};

use crate::caution;
use crate::figures::Album;
use crate::setting::Room;
use engine::quantity::bare::several;

/// Width of the part's drawing, as a share of the text's width.
const PART_SHARE: f64 = 0.58;
/// Height of the part's drawing, as a share of the text's height.
const PART_HEIGHT_SHARE: f64 = 0.32;
/// Height of the strip of set-ups, as a share of the text's height.
const STRIP_SHARE: f64 = 0.16;

/// Between two pictures side by side, mm.
const BETWEEN_MM: f64 = 4.0;

/// All that its page shows.
pub(crate) fn value(plan: &Plan, room: &Room, album: &mut Album) -> Value {
    let part_mm = [room.width_mm() * PART_SHARE, room.height_mm() * PART_HEIGHT_SHARE];
    let bar_mm = [room.width_mm() * (1.0 - PART_SHARE) - BETWEEN_MM, part_mm[1]];
    let strip_mm = [room.width_mm(), room.height_mm() * STRIP_SHARE];
    let strip = (!plan.set_ups.is_empty()).then(|| album.take(&drawing::order_strip(plan, strip_mm)));
    json!({
        "answer": answer(plan),
        "facts": facts(plan),
        "part": album.take(&drawing::part_drawing(plan, Projection::usual(plan.units), part_mm)),
        "bar": plan.set_ups.is_empty().then(|| album.take(&drawing::bar_and_part(plan, bar_mm))),
        "strip": strip,
        "order": plan.set_ups.iter().map(|set_up| json!({
            "set_up": set_up.number.to_string(),
            "cut": set_up.cuts_faces.join(", "),
            "passes": set_up.passes.len().to_string(),
            "minutes": format!("{:.0}", set_up.minutes.total()),
        })).collect::<Vec<_>>(),
        "cautions": plan.cautions.iter().map(|text| caution::value(text)).collect::<Vec<_>>(),
    })
}

fn answer(plan: &Plan) -> String {
    match &plan.outcome {
        Outcome::Planned => format!(
            "Possible: {}, about {:.0} minutes ({:.0} handling, {:.0} cutting, {:.0} measuring).",
            several(plan.set_ups.len(), "set-up"),
            plan.minutes.total(),
            plan.minutes.handling,
            plan.minutes.cutting,
            plan.minutes.measuring
        ),
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
