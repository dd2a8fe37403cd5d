//! One set-up, as the work goes.

use engine::plan::{Plan, SetUp};

use super::number::rpm;
use super::page::Page;
use super::{hands, hold, measuring, passes};

/// Hold, speed, passes, measuring, hands.
pub fn print(set_up: &SetUp, plan: &Plan, page: &mut Page) {
    title(set_up, plan.set_ups.len(), page);
    hold::print(set_up, plan, page);
    speed(set_up, page);
    passes::print(&set_up.passes, plan.units, page);
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
    let most = format!("{:.0} rpm at most: {}", speed.most_rpm.floor(), speed.binding);
    page.entry("Speed", &format!("{} rpm ({most})", rpm(speed.set_rpm)));
}
