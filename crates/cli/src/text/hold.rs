//! How the piece is held, and how well in this calculation.

use engine::plan::{Assumed, JawPlan, SetUp};
use engine::quantity::Units;
use engine::quantity::bare::bare;
use engine::quantity::show::{length, on_hand};

use super::page::Page;
use engine::quantity::column::aligned;

/// Words of an assumed value that bear on the hold.
const OF_THE_HOLD: [&str; 6] = ["clamp", "friction", "jaw", "packing", "stiffness", "low share"];

/// Jaws, seat, bite, stick-out, factors.
pub fn print(set_up: &SetUp, units: Units, page: &mut Page) {
    jaws(&set_up.jaws, units, page);
    page.entry("Seat", &set_up.seat_says(units));
    stands_out(set_up, units, page);
    if let Some(marks) = set_up.marks_say() {
        page.entry("Marks", &marks);
    }
    factors(set_up, units, page);
}

/// What every hold of the plan rests on and nobody gave: once, at the first set-up.
pub fn assumed(assumed: &[Assumed], page: &mut Page) {
    let bears = |row: &&Assumed| OF_THE_HOLD.iter().any(|word| row.what.to_lowercase().contains(word));
    let rows: Vec<String> = assumed.iter().filter(bears).map(|row| format!("{} {}", row.what, row.value)).collect();
    if !rows.is_empty() {
        page.entry("", &format!("assumed: {}", rows.join("; ")));
    }
}

fn jaws(jaws: &[JawPlan], units: Units, page: &mut Page) {
    let on = column(jaws, |jaw| format!("on {}", jaw.bears()));
    let contact = column(jaws, |jaw| jaw.contact.name().to_string());
    let packing = aligned(&jaws.iter().map(|jaw| packed(jaw, units)).collect::<Vec<_>>());
    let kept = jaws.iter().map(|jaw| if jaw.kept { "LEAVE ALONE" } else { "set" });
    for (index, kept) in kept.enumerate() {
        let row = format!("jaw {}  {}  {}  {}  {kept}", jaws[index].jaw, on[index], contact[index], packing[index]);
        let label = if index == 0 { "Jaws" } else { "" };
        page.line(format!("{label:11}{row}").trim_end());
    }
}

fn packed(jaw: &JawPlan, units: Units) -> String {
    if jaw.packing_mm > 0.0 { format!("packing {}", on_hand(jaw.packing_mm, units)) } else { "bare".to_string() }
}

/// Texts of one width.
fn column(jaws: &[JawPlan], text: impl Fn(&JawPlan) -> String) -> Vec<String> {
    let texts: Vec<String> = jaws.iter().map(text).collect();
    let width = texts.iter().map(|text| text.chars().count()).max().unwrap_or(0);
    texts.into_iter().map(|text| format!("{text:width$}")).collect()
}

fn stands_out(set_up: &SetUp, units: Units, page: &mut Page) {
    let out = &set_up.stick_out;
    page.entry("Bite", &length(set_up.bite_mm, units));
    page.entry(
        "Stick-out",
        &format!(
            "{} set; {} least, {} most (jaw front to raw top)",
            length(out.set_mm, units),
            bare(out.least_mm, units),
            bare(out.most_mm, units)
        ),
    );
}

fn factors(set_up: &SetUp, units: Units, page: &mut Page) {
    let hold = &set_up.hold;
    page.entry("Hold", &format!("holds in this calculation with {} against {:.1} needed", hold.has(), hold.required));
    page.entry("", &format!("limit: {}", hold.binding));
    let further = hold.further();
    if !further.is_empty() {
        page.entry("", &further.join("; "));
    }
    page.entry("", &hold.counted(units));
    if let Some(firmer) = hold.firmer_says().filter(|_| hold.weak) {
        page.entry("", &firmer);
    }
    for says in hold.carries(units) {
        page.entry("", &says);
    }
    for check in &hold.hand_checks {
        page.entry("", &format!("by hand: {check}"));
    }
}
