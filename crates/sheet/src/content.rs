//! What a sheet shows, as data for the template.

use engine::plan::Plan;
use engine::quantity::Units;
use serde_json::{Value, json};

use crate::figures::Album;
use crate::letters::{self, Lacking};
use crate::press::Files;
use crate::setting::{Room, Setting};
use crate::{forecast, inspection, overview, reading_tables, reasons, scales, set_up, working};
use engine::quantity::bare::several;

/// Data and pictures of all plans, and the letters that the fonts lack.
pub(crate) fn files(plans: &[Plan], setting: &Setting) -> (Files, Lacking) {
    let room = Room::of(setting.paper);
    let mut album = Album::default();
    let of = plans.len();
    let variants: Vec<Value> =
        plans.iter().zip(1..).map(|(plan, number)| variant(plan, number, of, &room, &mut album)).collect();
    let data = json!({
        "title": plans.first().map_or("", |plan| plan.title.as_str()),
        "us": plans.first().is_some_and(|plan| plan.units == Units::Inch),
        "date": setting.date.as_deref(),
        "room": {
            "paper": room.paper_mm, "side": room.side_mm, "top": room.top_mm, "foot": room.foot_mm,
        },
        "with_working": !setting.without_working,
        "class": (of > 1).then(|| class(plans)),
        "variants": variants,
    });
    let data = letters::fit(data, &mut album.lacking);
    let (mut files, lacking) = album.close();
    files.insert("plan.json".to_string(), data.to_string().into_bytes());
    (files, lacking)
}

fn variant(plan: &Plan, number: usize, of: usize, room: &Room, album: &mut Album) -> Value {
    let scales = scales::scales(plan, room);
    json!({
        "title": plan.title,
        "lathe": (of > 1).then(|| json!({
            "label": format!("Lathe {number} of {of}"),
            "name": plan.asked.lathe,
        })),
        "overview": overview::value(plan, room, album),
        "reasons": reasons::value(plan),
        "set_ups": plan.set_ups.iter().zip(overview::minutes_of(plan))
            .map(|(set_up, minutes)| set_up::value(set_up, minutes, plan, &scales, album)).collect::<Vec<_>>(),
        "tables": reading_tables::value(plan),
        "working": working::value(plan, album),
        "forecast": forecast::value(plan),
        "inspection": inspection::value(plan),
    })
}

/// One job on several lathes, at a glance.
fn class(plans: &[Plan]) -> Vec<Value> {
    let row = |(plan, number): (&Plan, usize)| {
        let possible = !plan.set_ups.is_empty();
        let (does, minutes) = if possible {
            (several(plan.set_ups.len(), "set-up"), format!("{:.0}", plan.minutes.total()))
        } else {
            ("not possible".to_string(), String::new())
        };
        json!({ "number": number.to_string(), "lathe": plan.asked.lathe, "chuck": plan.asked.chuck, "does": does, "minutes": minutes })
    };
    plans.iter().zip(1..).map(row).collect()
}
