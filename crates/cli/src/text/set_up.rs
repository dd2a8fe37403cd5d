//! One set-up, as the work goes.

use engine::plan::{Plan, SetUp};
use engine::quantity::Units;
use engine::quantity::bare::rpm;

use super::page::Page;
use super::{hands, hold, measuring, passes};

/// Hold, speed, passes, measuring, hands.
pub fn print(set_up: &SetUp, plan: &Plan, page: &mut Page) {
    title(set_up, plan.set_ups.len(), page);
    hold::print(set_up, plan.units, page);
    if set_up.number == 1 {
        hold::assumed(&plan.assumed, page);
    }
    speed(set_up, page);
    force(set_up, plan.units, page);
    passes::print(&set_up.passes, plan.units, page);
    notes(&set_up.notes, page);
    measuring::print(&set_up.measure, plan.units, page);
    hands::print(set_up, plan.units, page);
}

fn title(set_up: &SetUp, of: usize, page: &mut Page) {
    page.blank();
    page.rule('-');
    page.ends(
        &format!("SET-UP {} of {of}: cut {}", set_up.number, set_up.cuts_faces.join(", ")),
        &format!("{:.1} minutes", set_up.minutes.total()),
    );
    page.rule('-');
}

fn speed(set_up: &SetUp, page: &mut Page) {
    let speed = &set_up.speed;
    page.entry("Speed", &format!("{} rpm ({})", rpm(speed.set_rpm), speed.limit()));
}

fn force(set_up: &SetUp, units: Units, page: &mut Page) {
    page.entry("Force", &set_up.heaviest_force(units));
    page.entry("Power", &set_up.heaviest_power(units));
}

/// What must be known of dial and surface.
fn notes(notes: &[String], page: &mut Page) {
    if !notes.is_empty() {
        page.blank();
    }
    for (index, note) in notes.iter().enumerate() {
        page.entry(if index == 0 { "Note" } else { "" }, note);
    }
}
