//! How the piece is held, and how well in this calculation.

use drawing::{jaw_forces, surface_map, turn_plot};
use engine::plan::{HoldReport, JawPlan, Plan, SetUp};
use engine::quantity::Units;
use engine::quantity::bare::{self, rpm};
use engine::quantity::show::{length, on_hand};
use maud::{Markup, html};

use super::picture::{narrow, plot};
use super::sentence;

/// Room for the hold over one turn and for the map of the flat, mm.
const TURN_ROOM_MM: [f64; 2] = [76.0, 100.0];
/// Room for the forces of the jaws, mm: a usual piece at its own size, so that the arrows stand clear of one another.
const FORCES_ROOM_MM: [f64; 2] = [90.0, 130.0];
/// Room for the same on a phone, mm: its letters keep their size.
const NARROW_FORCES_ROOM_MM: [f64; 2] = [66.0, 100.0];

/// Jaws as a table, then seat, bite, stick-out, hold, speed and force in words.
pub fn hold(plan: &Plan, set_up: &SetUp) -> Markup {
    let units = plan.units;
    html! {
        section.hold {
            h4 { "Hold" }
            div.scroll {
                table.jaws.stacked {
                    thead { tr { th scope="col" { "jaw" } th scope="col" { "bears on" } th scope="col" { "how" } th scope="col" { "between" } th scope="col" { "move it?" } } }
                    tbody { @for jaw in &set_up.jaws { (row(jaw, set_up.number == 1, units)) } }
                }
            }
            dl.facts {
                dt { "Seat" } dd { (set_up.seat_says(units)) }
                dt { "Bite" } dd { strong.value { (length(set_up.bite_mm, units)) } }
                dt { "Stick-out" } dd { (stick_out(set_up, units)) }
                @if let Some(marks) = set_up.marks_say() { dt { "Marks" } dd { (marks) } }
                dt { "Holds" } dd { (holds(&set_up.hold)) }
                @if let Some(firmer) = set_up.hold.firmer_says().filter(|_| set_up.hold.weak) { dt { "Firmer" } dd { (firmer) } }
                dt { "Speed" } dd { (speed(set_up)) }
                dt { "Force" } dd { (set_up.heaviest_force(units)) }
                dt { "Power" } dd { (set_up.heaviest_power(units)) }
            }
            (more(plan, set_up))
        }
    }
}

fn row(jaw: &JawPlan, first: bool, units: Units) -> Markup {
    let packed = jaw.packing_mm > 0.0;
    html! {
        tr {
            th scope="row" data-label="jaw" { (jaw.jaw) }
            td data-label="bears on" { (jaw.bears()) }
            td data-label="how" { (jaw.contact.name()) }
            td data-label="between" { @if packed { "packing " (on_hand(jaw.packing_mm, units)) } @else { "bare" } }
            td data-label="move it?" { @if jaw.kept { strong { "leave alone" } } @else { @if first { "set" } @else { "loosen and set" } } }
        }
    }
}

fn stick_out(set_up: &SetUp, units: Units) -> Markup {
    let out = &set_up.stick_out;
    html! {
        strong.value { (length(out.set_mm, units)) } " set; "
        (bare::bare(out.least_mm, units)) " least, " (bare::bare(out.most_mm, units)) " most (the grey band in the section), from jaw front to raw top"
    }
}

fn holds(hold: &HoldReport) -> Markup {
    html! {
        "in this calculation with " strong { (hold.has()) } " against " (format!("{:.1}", hold.required)) " needed; limit: "
        (hold.binding)
    }
}

fn speed(set_up: &SetUp) -> Markup {
    let speed = &set_up.speed;
    html! {
        strong.value { (rpm(speed.set_rpm)) " rpm" }
        "; " (speed.limit())
    }
}

/// What only those who check will read.
fn more(plan: &Plan, set_up: &SetUp) -> Markup {
    let hold = &set_up.hold;
    html! {
        details.more {
            summary { "Checks of this hold, by hand and all round the turn" }
            ul {
                li { (sentence(&hold.counted(plan.units))) }
                @for says in hold.carries(plan.units) { li { (sentence(&says)) } }
                @for factor in hold.further() { li { (sentence(&factor)) } }
                @if let Some(firmer) = hold.firmer_says() { li { (sentence(&firmer)) } }
                @for check in &hold.hand_checks { li { (sentence(check)) } }
                @if let Some(surface) = &hold.surface { li { (sentence(&surface.says(plan.units))) } }
            }
            div.pictures {
                @if let Some(figure) = jaw_forces(plan, set_up, FORCES_ROOM_MM) { (plot(&figure, "forces wide")) }
                @if let Some(figure) = jaw_forces(plan, set_up, NARROW_FORCES_ROOM_MM) { (plot(&narrow(figure), "forces narrow")) }
                @if let Some(figure) = turn_plot(set_up, TURN_ROOM_MM) { (plot(&figure, "turn")) }
                @if let Some(figure) = surface_map(set_up, plan.units, TURN_ROOM_MM) { (plot(&figure, "surface")) }
            }
        }
    }
}
