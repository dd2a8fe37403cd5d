//! One set-up, as the work goes.

use engine::plan::{Plan, SetUp};
use engine::quantity::Units;
use engine::quantity::show;

use super::number::rpm;
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
    // A step of the plate may pass the speed of the table by a hair (docs/model.md).
    let limit = if speed.set_rpm > speed.most_rpm {
        format!("the step nearest to {:.0} rpm", speed.most_rpm)
    } else {
        format!("{:.0} rpm at most", speed.most_rpm.floor())
    };
    page.entry("Speed", &format!("{} rpm ({limit}: {})", rpm(speed.set_rpm), speed.binding));
}

/// The heaviest cut: likely, and to be careful with; published tables differ by about a third.
fn force(set_up: &SetUp, units: Units, page: &mut Page) {
    let most = |of: fn(&engine::plan::Pass) -> f64| set_up.passes.iter().map(of).fold(0.0, f64::max);
    let likely = show::force(most(|pass| pass.force_n.cutting), units);
    let careful = show::force(most(|pass| pass.force_safe_n.cutting), units);
    let mean = show::power(most(|pass| pass.power_mean_w), units);
    let peak = show::power(most(|pass| pass.power_peak_w), units);
    let there = show::power(set_up.speed.edge_power_w, units);
    let over = most(|pass| pass.power_peak_w) > set_up.speed.edge_power_w;
    let borne = if over { "; for a part of a turn a motor bears half as much again" } else { "" };
    let text = if likely == careful {
        format!("{likely} in the heaviest cut, by the job's own values: no wear added")
    } else {
        format!("{likely} likely in the heaviest cut, {careful} with a worn edge by the higher table")
    };
    page.entry("Force", &text);
    page.entry("Power", &format!("{mean} mean over a turn, {peak} at the corners; the lathe gives {there}{borne}"));
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
