//! One set-up, as the work goes.

use drawing::{before_after, chuck_view, chuck_view_briefly, side_view};
use engine::plan::{Plan, SetUp};
use maud::{Markup, html};

use super::picture::{narrow, picture};
use super::{hands, hold, passes, working};

/// Room for a view of the chuck, mm: two stand side by side on paper at their true size.
const CHUCK_ROOM_MM: [f64; 2] = [90.0, 130.0];
/// Room for the same on a phone, where the jaws stand in words right below, mm.
const NARROW_CHUCK_ROOM_MM: [f64; 2] = [84.0, 110.0];
/// Room for the view from the side, mm.
const SIDE_ROOM_MM: [f64; 2] = [90.0, 130.0];
/// Room for the piece before and after, mm.
const PIECE_ROOM_MM: [f64; 2] = [190.0, 70.0];
/// Room for the same on a phone, mm.
const NARROW_PIECE_ROOM_MM: [f64; 2] = [76.0, 60.0];

/// Pictures, hold, passes, hands, measuring, working.
pub fn set_up(set_up: &SetUp, plan: &Plan) -> Markup {
    let id = format!("set-up-{}", set_up.number);
    html! {
        section.set-up id=(id) aria-labelledby=(format!("{id}-title")) tabindex="-1" {
            header {
                h3 id=(format!("{id}-title")) {
                    (format!("Set-up {} of {}: cut {}", set_up.number, plan.set_ups.len(), set_up.cuts_faces.join(", ")))
                }
                p.on-paper { (plan.title) }
                p.minutes { (format!("about {:.0} minutes", set_up.minutes.total())) }
            }
            div.pictures {
                (picture(&chuck_view(plan, set_up, CHUCK_ROOM_MM), "chuck wide"))
                (picture(&narrow(chuck_view_briefly(plan, set_up, NARROW_CHUCK_ROOM_MM)), "chuck narrow"))
                (picture(&side_view(plan, set_up, SIDE_ROOM_MM), "side"))
                (picture(&before_after(plan, set_up, PIECE_ROOM_MM), "piece wide"))
                (picture(&narrow(before_after(plan, set_up, NARROW_PIECE_ROOM_MM)), "piece narrow"))
            }
            (hold::hold(plan, set_up))
            (passes::passes(set_up, plan.units))
            (hands::hands(set_up, plan.units))
            (measures(set_up, plan))
            @if !set_up.workings.is_empty() { (working::place(set_up.number)) }
        }
    }
}

/// Where a set-up comes: the page shows what it showed there, veiled, until it does.
pub fn place(set_up: &SetUp) -> Markup {
    html! { section.set-up.waits id=(format!("set-up-{}", set_up.number)) tabindex="-1" {} }
}

fn measures(set_up: &SetUp, plan: &Plan) -> Markup {
    html! {
        @if !set_up.measure.is_empty() {
            section.measures {
                h4 { "Measure" }
                ol { @for measure in &set_up.measure { li { (measure.says(plan.units)) "; " (measure.when) "." } } }
            }
        }
    }
}
