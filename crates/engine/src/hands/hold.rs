//! Putting the piece in the jaws and tightening them.

use super::View;
use super::caution::{Caution, Signal};
use super::steps::Steps;
use super::words::{self, by_eye, jaws};
use crate::plan::{ContactKind, JawPlan, Seat, SetUp};
use crate::quantity::show::{length, on_hand};

/// From open jaws to a piece that is held, the key on the bench and nothing loose behind it.
pub(super) fn grip(view: &View, steps: &mut Steps) {
    seat(view, steps);
    jaw_front_to_seat(view, steps);
    open(view, steps);
    put_in(view, steps);
    past_the_widest_line(view.set_up, steps);
    by_hand_depth(view, steps);
    true_up(view, steps);
    tap_down(view.set_up, steps);
    tighten(view, steps);
    key_out(view, steps);
    clear_out(view, steps);
    check_stick_out(view, steps);
}

fn seat(view: &View, steps: &mut Steps) {
    let Some(height) = view.set_up.seat.as_ref().and_then(parallels) else { return };
    let height = on_hand(height, view.units);
    steps.does(format!(
        "Stand an equal pair of {height} parallels on the chuck face, one each side of the hole, clear of the jaws."
    ));
}

/// A size measured over a jaw front is worth what is known of that front.
fn jaw_front_to_seat(view: &View, steps: &mut Steps) {
    if view.set_up.measure.iter().all(|measure| measure.over_jaws_mm.is_none()) {
        return;
    }
    let Some(seat) = &view.set_up.seat else { return };
    let down_to = if parallels(seat).is_some() { "the parallels" } else { "the chuck face" };
    let bite = length(view.set_up.bite_mm, view.units);
    steps.because(
        format!("Read the depth gauge from a jaw front down to {down_to}, near {bite}; mark that jaw, write it down."),
        "the size is later measured from that jaw front",
    );
}

fn open(view: &View, steps: &mut Steps) {
    let kept = numbers(view.set_up, |jaw| jaw.kept);
    let loosened = numbers(view.set_up, |jaw| !jaw.kept);
    if !view.facts.independent {
        steps.does("Open the jaws to take the work.");
    } else if kept.is_empty() {
        let rings = by_reach(view);
        steps.does(format!("Set the jaws by the rings on the chuck face, measured from its middle: {rings}."));
    } else if loosened.is_empty() {
        steps.does(format!("Leave {} alone.", jaws(&kept)));
    } else {
        steps.because(
            format!("Loosen only {}. Leave {} alone.", jaws(&loosened), jaws(&kept)),
            "the jaws left alone hold the place",
        );
    }
}

fn by_reach(view: &View) -> String {
    let groups = grouped(&view.set_up.jaws, |jaw| by_eye(jaw.reach_mm, view.units));
    let parts: Vec<String> = groups.iter().map(|(reach, which)| format!("{} at {reach}", jaws(which))).collect();
    words::list(&parts)
}

fn put_in(view: &View, steps: &mut Steps) {
    let set_up = view.set_up;
    let bears = grouped(&set_up.jaws, |jaw| bearing(&jaw.bears_on));
    let parts: Vec<String> = bears.iter().map(|(on, which)| format!("{} on {on}", jaws(which))).collect();
    let up = words::faces(&set_up.cuts_faces);
    steps.does(format!("Put the work in, {up} towards you: {}{}.", words::list(&parts), seated_on(set_up)));
    for (packing, which) in grouped(&packed(&set_up.jaws), |jaw| on_hand(jaw.packing_mm, view.units)) {
        steps.because(
            format!("Lay {packing} {} under {}, flush with the jaw fronts.", view.facts.packing, jaws(&which)),
            "a bare jaw marks a finished flat",
        );
    }
}

/// "; C on the parallels": what is turned to the chuck, where it is a finished face.
fn seated_on(set_up: &SetUp) -> String {
    match &set_up.seat {
        Some(seat) if seat.face != "bar" => {
            let on = if parallels(seat).is_some() { "parallels" } else { "chuck face" };
            format!("; {} on the {on}", seat.face)
        }
        _ => String::new(),
    }
}

fn past_the_widest_line(set_up: &SetUp, steps: &mut Steps) {
    let across = numbers(set_up, |jaw| jaw.contact == ContactKind::LineAcross);
    if !across.is_empty() {
        steps.because(
            format!("See that {} reach past the widest line of the round.", jaws(&across)),
            "jaws that end short of it squeeze the work out",
        );
    }
}

fn by_hand_depth(view: &View, steps: &mut Steps) {
    if view.set_up.seat.is_none() {
        let set = length(view.set_up.stick_out.set_mm, view.units);
        steps.because(
            format!("Set the work by hand to stand {set} out of the jaws, square to them by a try square."),
            "nothing lies behind the work here: only your eye and the square place it",
        );
    }
}

fn true_up(view: &View, steps: &mut Steps) {
    let along =
        !view.set_up.jaws.is_empty() && view.set_up.jaws.iter().all(|jaw| jaw.contact == ContactKind::LineAlong);
    let free = view.set_up.jaws.iter().all(|jaw| !jaw.kept);
    if along && free && view.facts.independent {
        steps.does("Turn the chuck by hand and move opposed jaws until the bar runs true by eye.");
    }
}

fn tap_down(set_up: &SetUp, steps: &mut Steps) {
    match set_up.seat.as_ref().map(parallels) {
        Some(Some(_)) => steps.because(
            "Close the jaws lightly and tap the work down with a soft hammer until neither parallel moves.",
            "what does not lie on its seat does not come out parallel to it",
        ),
        Some(None) => {
            steps.does("Close the jaws lightly and tap the work back with a soft hammer until it rings solid.")
        }
        None => {}
    }
}

fn tighten(view: &View, steps: &mut Steps) {
    let moved = numbers(view.set_up, |jaw| !jaw.kept);
    steps.because(round(view, &moved), "a second round takes up what the first one loosened");
}

/// Once more round the jaws, after the first cut has shaken them in.
pub(super) fn retighten(view: &View, steps: &mut Steps) {
    let moved = numbers(view.set_up, |jaw| !jaw.kept);
    let round = match (view.facts.independent, moved.len() == view.set_up.jaws.len()) {
        (false, _) => "Tighten at each pinion once more".to_string(),
        (true, true) => format!("Go round the jaws once more, {}", crosswise(&moved)),
        (true, false) => format!("Tighten {} once more", jaws(&moved)),
    };
    steps.because(
        format!("{round}. Take the {} out.", view.words().key),
        "the first cut shakes the work down in its jaws",
    );
}

fn round(view: &View, moved: &[u8]) -> String {
    if !view.facts.independent {
        return "Tighten at each pinion in turn, twice round.".to_string();
    }
    if moved.len() == view.set_up.jaws.len() {
        return format!("Go round the jaws twice, crosswise, {}: first firm, then tight.", crosswise(moved));
    }
    format!("Tighten {} in turns, twice round; leave the others alone.", jaws(moved))
}

pub(super) fn key_out(view: &View, steps: &mut Steps) {
    steps.because(
        format!("Take the {} out before your hand leaves it.", view.words().key),
        "WARNING: left in the chuck it is thrown at the first turn.",
    );
}

fn clear_out(view: &View, steps: &mut Steps) {
    let behind = view.set_up.seat.as_ref().and_then(parallels).is_some();
    let packed = !packed(&view.set_up.jaws).is_empty();
    let out = "Draw both parallels out and count them back on the bench.";
    let pull = "Pull at each piece of packing: none may move.";
    let flies = |what: &str| Caution::new(Signal::Warning, format!("{what} flies out when the chuck turns."));
    match (behind, packed) {
        (true, false) => steps.careful(out, flies("a parallel left behind the work")),
        (false, true) => steps.careful(pull, flies("packing that no jaw traps")),
        (true, true) => {
            steps.careful(out, flies("whatever no jaw traps, parallel or packing,"));
            steps.does(pull);
        }
        (false, false) => {}
    }
}

fn check_stick_out(view: &View, steps: &mut Steps) {
    let out = &view.set_up.stick_out;
    let [least, set, most] = [out.least_mm, out.set_mm, out.most_mm].map(|value| length(value, view.units));
    steps.because(
        format!("Check the stick-out, jaw front to raw top: {set}; {least} to {most} will do."),
        "less brings the tool to the jaws, more leaves too little in them",
    );
}

/// Height of the parallels, where the seat is a pair of them.
fn parallels(seat: &Seat) -> Option<f64> {
    (seat.packing_mm > 0.0).then_some(seat.packing_mm)
}

fn bearing(on: &str) -> String {
    if on == "bar" { "the bar".to_string() } else { on.to_string() }
}

fn packed(jaws: &[JawPlan]) -> Vec<JawPlan> {
    jaws.iter().filter(|jaw| jaw.packing_mm > 0.0).cloned().collect()
}

fn numbers(set_up: &SetUp, which: impl Fn(&JawPlan) -> bool) -> Vec<u8> {
    set_up.jaws.iter().filter(|jaw| which(jaw)).map(|jaw| jaw.jaw).collect()
}

/// Jaws that share a text, in the order in which the texts first appear.
fn grouped(jaws: &[JawPlan], text: impl Fn(&JawPlan) -> String) -> Vec<(String, Vec<u8>)> {
    let mut groups: Vec<(String, Vec<u8>)> = Vec::new();
    for jaw in jaws {
        let text = text(jaw);
        match groups.iter_mut().find(|(there, _)| *there == text) {
            Some((_, which)) => which.push(jaw.jaw),
            None => groups.push((text, vec![jaw.jaw])),
        }
    }
    groups
}

/// Opposed jaws one after the other: 1, 3, 2, 4. An odd number goes round as it lies.
fn crosswise(jaws: &[u8]) -> String {
    let half = jaws.len() / 2;
    let order: Vec<u8> = if jaws.len().is_multiple_of(2) {
        (0..half).flat_map(|at| [jaws[at], jaws[at + half]]).collect()
    } else {
        jaws.to_vec()
    };
    order.iter().map(u8::to_string).collect::<Vec<_>>().join(", ")
}

/// Out of the jaws to be measured, so that it finds its place again.
pub(super) fn take_out(view: &View, steps: &mut Steps) {
    match to_take_out(view) {
        Some(which) => steps.because(
            format!("Spindle at rest: to take the piece out loosen {} only.", jaws(&which)),
            "two neighbouring jaws left alone bring it back near its place",
        ),
        None => steps.does("Spindle at rest: take the piece out."),
    }
}

/// Out of the jaws for good: those that the next set-up leaves alone stay as they are.
pub(super) fn let_go(view: &View, steps: &mut Steps) {
    let loosened = view.next.map(|next| numbers(next, |jaw| !jaw.kept)).unwrap_or_default();
    let some_stay = loosened.len() < view.set_up.jaws.len() && !loosened.is_empty();
    if view.facts.independent && some_stay {
        steps.does(format!("Spindle at rest: take the piece out, loosening only {}.", jaws(&loosened)));
    } else {
        steps.does("Spindle at rest: take the piece out.");
    }
}

/// The jaws that were moved for this set-up, or the second half of them where all were.
fn to_take_out(view: &View) -> Option<Vec<u8>> {
    let moved = numbers(view.set_up, |jaw| !jaw.kept);
    let half = view.set_up.jaws.len().div_ceil(2);
    let all = moved.len() == view.set_up.jaws.len();
    let which: Vec<u8> = if all { moved.into_iter().skip(half).collect() } else { moved };
    (view.facts.independent && !which.is_empty()).then_some(which)
}

/// Back into the jaws after measuring outside them.
pub(super) fn put_back(view: &View, steps: &mut Steps) {
    let seat = match view.set_up.seat.as_ref().map(parallels) {
        Some(Some(_)) => ", the parallels behind it again",
        Some(None) => " on the chuck face",
        None => " to the same stick-out",
    };
    let does = format!("Put the piece back as it was{seat}: all wiped, tapped down,");
    let does = match to_take_out(view) {
        Some(which) => format!("{does} {} tight, twice round.", jaws(&which)),
        None => format!("{does} tightened twice round."),
    };
    steps.because(does, "a new grip never repeats the old one");
    key_out(view, steps);
    clear_out(view, steps);
}
