//! One set-up: pictures, how the piece is held, passes, what the hands do.

use engine::plan::{JawPlan, Plan, SetUp};
use engine::quantity::Units;
use engine::quantity::show::{length, on_hand};
use serde_json::{Value, json};

use crate::figures::Album;
use crate::scales::OneScale;
use crate::{hands, passes};
use engine::quantity::bare::{bare, factor};

/// All that its pages show; the minutes are those of the overview.
pub(crate) fn value(set_up: &SetUp, minutes: u64, plan: &Plan, scales: &[OneScale], album: &mut Album) -> Value {
    let units = plan.units;
    json!({
        "heading": format!("Set-up {} of {}: cut {}", set_up.number, plan.set_ups.len(), set_up.cuts_faces.join(", ")),
        "kind": format!("Set-up {} of {}", set_up.number, plan.set_ups.len()),
        "minutes": format!("about {minutes} minutes"),
        "pictures": scales.iter().flat_map(|scale| scale.pictures(set_up, plan, album)).collect::<Vec<_>>(),
        "facts": facts(set_up, units),
        "units": units.name(),
        "passes": passes::value(set_up, units),
        "notes": set_up.notes,
        "cautions": hands::cautions_elsewhere(set_up),
        "hands": hands::value(set_up, units),
        "measure": hands::measured_elsewhere(set_up, units),
    })
}

/// What the hands need at hand: a word, and what it is here.
fn facts(set_up: &SetUp, units: Units) -> Vec<[String; 2]> {
    let out = &set_up.stick_out;
    let stick_out = format!(
        "{} set; {} least, {} most (jaw front to raw top)",
        length(out.set_mm, units),
        bare(out.least_mm, units),
        bare(out.most_mm, units)
    );
    let mut facts = jaws(set_up, units);
    facts.extend([
        fact("Seat", set_up.seat_says(units)),
        fact("Bite", length(set_up.bite_mm, units)),
        fact("Stick-out", stick_out),
        fact("Hold", held(set_up)),
    ]);
    facts
}

/// Jaws that stay, then jaws that are loosened or set, each with what it bears on, in the words of the pictures.
fn jaws(set_up: &SetUp, units: Units) -> Vec<[String; 2]> {
    let group = |does: &str| {
        let mut places: Vec<(String, Vec<String>)> = Vec::new();
        for jaw in set_up.jaws.iter().filter(|jaw| drawing::handling(set_up, jaw) == does) {
            let bears = bears(jaw, units);
            match places.iter_mut().find(|(same, _)| *same == bears) {
                Some((_, jaws)) => jaws.push(jaw.jaw.to_string()),
                None => places.push((bears, vec![jaw.jaw.to_string()])),
            }
        }
        let places: Vec<String> = places.iter().map(|(bears, jaws)| format!("{} {bears}", listed(jaws))).collect();
        (!places.is_empty()).then(|| format!("{}: {does}", places.join(", ")))
    };
    let groups = ["leave alone", "loosen", "set"].into_iter().filter_map(group);
    groups.enumerate().map(|(at, says)| fact(if at == 0 { "Jaws" } else { "" }, says)).collect()
}

/// "1, 2 and 3".
fn listed(jaws: &[String]) -> String {
    match jaws.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => jaws.concat(),
    }
}

/// "on A with 1.00 mm packing".
fn bears(jaw: &JawPlan, units: Units) -> String {
    let on = jaw.bears();
    let packing =
        if jaw.packing_mm > 0.0 { format!(" with {} packing", on_hand(jaw.packing_mm, units)) } else { String::new() };
    format!("on {on}{packing}")
}

fn fact(word: &str, is: String) -> [String; 2] {
    [word.to_string(), is]
}

fn held(set_up: &SetUp) -> String {
    let hold = &set_up.hold;
    match hold.slip_factor {
        Some(has) => {
            format!("factor {} in this calculation, {:.1} needed", factor(has), hold.required)
        }
        None => format!("no slip found in this calculation, factor {:.1} needed", hold.required),
    }
}
