//! One set-up: pictures, how the piece is held, passes, what the hands do.

use engine::plan::{JawPlan, Plan, SetUp};
use engine::quantity::Units;
use engine::quantity::show::{length, on_hand};
use serde_json::{Value, json};

use crate::figures::Album;
use crate::setting::Room;
use crate::{hands, passes};
use engine::quantity::bare::{bare, factor, rpm};

/// Between two pictures side by side, mm.
const BETWEEN_MM: f64 = 4.0;
/// Width of the chuck seen from the tailstock, as a share; the view from the side is the wider one.
const LEFT_SHARE: f64 = 0.44;

/// How much paper the pictures of a set-up take: the template takes the first with which steps and pictures lie on
/// two facing pages.
struct Sizes {
    /// Height of the two views of the chuck, as a share of the text's height.
    view_share: f64,
    /// Height of the piece before and after, likewise.
    before_after_share: f64,
}

const SIZES: [Sizes; 5] = [
    Sizes { view_share: 0.42, before_after_share: 0.18 },
    Sizes { view_share: 0.34, before_after_share: 0.16 },
    Sizes { view_share: 0.3, before_after_share: 0.15 },
    Sizes { view_share: 0.26, before_after_share: 0.14 },
    Sizes { view_share: 0.24, before_after_share: 0.14 },
];

/// All that its pages show.
pub(crate) fn value(set_up: &SetUp, plan: &Plan, room: &Room, album: &mut Album) -> Value {
    let units = plan.units;
    json!({
        "heading": format!("Set-up {} of {}: cut {}", set_up.number, plan.set_ups.len(), set_up.cuts_faces.join(", ")),
        "kind": format!("Set-up {} of {}", set_up.number, plan.set_ups.len()),
        "minutes": format!("about {:.0} minutes", set_up.minutes.total()),
        "pictures": SIZES.iter().map(|sizes| pictures(set_up, plan, sizes, room, album)).collect::<Vec<_>>(),
        "facts": facts(set_up, units),
        "units": units.name(),
        "passes": passes::value(set_up, units),
        "notes": set_up.notes,
        "cautions": hands::cautions_elsewhere(set_up),
        "hands": hands::value(set_up, units),
        "measure": hands::measured_elsewhere(set_up, units),
    })
}

fn pictures(set_up: &SetUp, plan: &Plan, sizes: &Sizes, room: &Room, album: &mut Album) -> Value {
    let left_mm = (room.width_mm() - BETWEEN_MM) * LEFT_SHARE;
    let right_mm = room.width_mm() - BETWEEN_MM - left_mm;
    let view_mm = room.height_mm() * sizes.view_share;
    let before_after_mm = [left_mm, room.height_mm() * sizes.before_after_share];
    json!({
        "left": left_mm,
        "right": right_mm,
        "chuck": album.take(&drawing::chuck_view(plan, set_up, [left_mm, view_mm])),
        "side": album.take(&drawing::side_view(plan, set_up, [right_mm, view_mm])),
        "before_after": album.take(&drawing::before_after(plan, set_up, before_after_mm)),
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
        fact("Seat", seat(set_up, units)),
        fact("Bite", length(set_up.bite_mm, units)),
        fact("Stick-out", stick_out),
        fact("Speed", format!("{} rpm", rpm(set_up.speed.set_rpm))),
        fact("Hold", held(set_up)),
    ]);
    facts
}

/// Jaws that stay, then jaws that are set, each with what it bears on.
fn jaws(set_up: &SetUp, units: Units) -> Vec<[String; 2]> {
    let group = |kept: bool, does: &str| {
        let of = set_up.jaws.iter().filter(|jaw| jaw.kept == kept).map(|jaw| bears(jaw, units));
        let of: Vec<String> = of.collect();
        (!of.is_empty()).then(|| format!("{}: {does}", of.join(", ")))
    };
    let groups = [group(true, "leave alone"), group(false, "set")].into_iter().flatten();
    groups.enumerate().map(|(at, says)| fact(if at == 0 { "Jaws" } else { "" }, says)).collect()
}

/// "2 on A, packing 1.00 mm".
fn bears(jaw: &JawPlan, units: Units) -> String {
    let on = jaw.bears();
    let packing =
        if jaw.packing_mm > 0.0 { format!(" with {} packing", on_hand(jaw.packing_mm, units)) } else { String::new() };
    format!("{} on {on}{packing}", jaw.jaw)
}

fn fact(word: &str, is: String) -> [String; 2] {
    [word.to_string(), is]
}

fn seat(set_up: &SetUp, units: Units) -> String {
    let Some(seat) = &set_up.seat else { return "none: the depth is set by hand".to_string() };
    let face = seat.bears();
    if seat.packing_mm > 0.0 {
        format!("{face} on {} parallels, drawn out before the start", on_hand(seat.packing_mm, units))
    } else {
        format!("{face} on the {}", seat.on)
    }
}

fn held(set_up: &SetUp) -> String {
    let hold = &set_up.hold;
    match hold.slip_factor {
        Some(has) => {
            format!("holds in this calculation with a factor of {} against {:.1} needed", factor(has), hold.required)
        }
        None => format!("no slip found in this calculation; a factor of {:.1} is needed", hold.required),
    }
}
