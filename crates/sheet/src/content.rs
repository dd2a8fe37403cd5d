//! What a sheet shows, as data for the template.

use engine::plan::Plan;
use engine::quantity::Units;
use serde_json::{Value, json};

use crate::figures::Album;
use crate::letters::{self, Lacking};
use crate::press::Files;
use crate::setting::{Room, Setting};
use crate::{inspection, overview, reasons, set_up, working};
use engine::quantity::bare::several;

/// Letters of a title in the title block of every page.
const SHORT_TITLE: usize = 52;
/// Letters of it where the lathe stands beside it.
const SHORTER_TITLE: usize = 36;
/// Letters of a lathe's name there.
const SHORT_NAME: usize = 32;
/// Letters of a date there.
const SHORT_DATE: usize = 24;

/// Data and pictures of all plans, and the letters that the fonts lack.
pub(crate) fn files(plans: &[Plan], setting: &Setting) -> (Files, Lacking) {
    let room = Room::of(setting.paper);
    let mut album = Album::default();
    let of = plans.len();
    let variants: Vec<Value> =
        plans.iter().zip(1..).map(|(plan, number)| variant(plan, number, of, &room, &mut album)).collect();
    let data = json!({
        "title": plans.first().map_or("", |plan| plan.title.as_str()),
        "short_title": plans.first().map_or_else(String::new, |plan| shortened(&plan.title, SHORT_TITLE)),
        "us": plans.first().is_some_and(|plan| plan.units == Units::Inch),
        "date": setting.date.as_deref().map(|date| shortened(date, SHORT_DATE)),
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
    json!({
        "title": plan.title,
        "short_title": shortened(&plan.title, if of > 1 { SHORTER_TITLE } else { SHORT_TITLE }),
        "lathe": (of > 1).then(|| json!({
            "label": format!("Lathe {number} of {of}"),
            "name": shortened(&plan.asked.lathe, SHORT_NAME),
        })),
        "overview": overview::value(plan, room, album),
        "reasons": reasons::value(plan),
        "set_ups": plan.set_ups.iter().map(|set_up| set_up::value(set_up, plan, room, album)).collect::<Vec<_>>(),
        "working": working::value(plan),
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

fn shortened(text: &str, most: usize) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() <= most {
        return text;
    }
    let kept: String = text.chars().take(most - 1).collect();
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_text_is_shortened_and_says_so() {
        assert_eq!(shortened("Guide  block\n", 20), "Guide block");
        assert_eq!(shortened("Guide block for a gate", 12), "Guide block…");
        assert_eq!(shortened(&"x".repeat(300), 44).chars().count(), 44);
    }
}
