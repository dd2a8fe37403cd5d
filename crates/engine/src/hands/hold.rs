//! Putting the piece in the jaws and tightening them.

use super::caution::{Caution, Signal};
use super::steps::Steps;
use super::words::{self, degrees, jaws, opened_by_eye};
use super::{View, vee};
use crate::plan::{ContactKind, JawPlan, Seat, SetUp, UNFINISHED, stands};
use crate::quantity::show::{length, on_hand};

/// From a piece on the bench to one that is held, the key beside it and nothing loose behind it.
pub(super) fn grip(view: &View, steps: &mut Steps) {
    set_jaws(view, steps);
    seat(view, steps);
    jaw_front_to_seat(view, steps);
    vee::lay(view, steps);
    put_in(view, steps);
    past_the_widest_line(view.set_up, steps);
    close_lightly(view, steps);
    true_up(view, steps);
    stand_at_its_angle(view, steps);
    tighten(view, steps);
    clear_out(view, steps);
    check_stick_out(view, steps);
}

/// Where the jaws go; those that the taking-out has loosened and that bear at the same distance only close again.
fn set_jaws(view: &View, steps: &mut Steps) {
    let jaws_now = &view.set_up.jaws;
    let Some(last) = view.before.last().filter(|_| view.facts.independent && jaws_now.iter().any(|jaw| jaw.kept))
    else {
        return set_all_jaws(view, steps);
    };
    let reach = |jaw: &JawPlan| opened_by_eye(jaw.reach_mm, view.units);
    let stood = |jaw: &JawPlan| last.jaws.iter().any(|was| was.jaw == jaw.jaw && reach(was) == reach(jaw));
    let (same, moved): (Vec<JawPlan>, Vec<JawPlan>) = jaws_now.iter().filter(|jaw| !jaw.kept).cloned().partition(stood);
    let same: Vec<u8> = same.iter().map(|jaw| jaw.jaw).collect();
    let only = if same.len() == 1 { "is only loosened and closes" } else { "are only loosened and close" };
    let sets: Vec<String> =
        grouped(&moved, reach).iter().map(|(reach, which)| format!("{} to {reach}", jaws(which))).collect();
    match (sets.is_empty(), same.is_empty()) {
        (true, true) => {}
        (true, false) => steps.does(format!("{} {only} again at the same distance.", capital(&jaws(&same)))),
        (false, true) => steps.does(format!("Set {} from the middle by the rings.", words::list(&sets))),
        (false, false) => steps.does(format!(
            "Set {} from the middle by the rings; {} {only} again at the same distance.",
            words::list(&sets),
            jaws(&same)
        )),
    }
}

fn set_all_jaws(view: &View, steps: &mut Steps) {
    if view.facts.independent {
        let rings = by_reach(view);
        steps.does(format!("Set the jaws by the rings on the chuck face, measured from its middle: {rings}."));
    } else {
        steps.does("Open the jaws to take the work.");
    }
}

fn by_reach(view: &View) -> String {
    let groups = grouped(&view.set_up.jaws, |jaw| opened_by_eye(jaw.reach_mm, view.units));
    let parts: Vec<String> = groups.iter().map(|(reach, which)| format!("{} at {reach}", jaws(which))).collect();
    words::list(&parts)
}

/// Parallels on an upright chuck face, and what keeps them there.
fn seat(view: &View, steps: &mut Steps) {
    let Some(seat) = &view.set_up.seat else { return };
    if let Some(out_mm) = seat.stop_mm {
        return steps.because(
            format!("Set the stop in the spindle: its end {}. Lock it.", stands(out_mm, view.units)),
            "the work is tapped back against it every time; it turns with the spindle and must not shake loose",
        );
    }
    let Some(height) = parallels(seat) else { return };
    let (height, place) = (on_hand(height, view.units), place_of_parallels(seat));
    let stand = format!("an equal pair of {height} parallels on the chuck face, {place}");
    if !steps.first_time("parallels") {
        steps.does(format!("Power off, spindle locked or in low gear. Stand {stand}; grease behind them."));
        return;
    }
    steps.does("Power off at the main switch; lock the spindle against turning or put it in its lowest gear.");
    steps.because(
        format!("Stand {stand}; keep them there with a dab of grease behind each, or by hand."),
        "the chuck face is upright: they fall over, and in a chuck that turns the work falls too",
    );
}

fn place_of_parallels(seat: &Seat) -> String {
    match seat.along {
        Some((one, other)) => {
            format!("lying across the hole past jaws {one} and {other}, one each side of the middle, under no jaw")
        }
        None => "one each side of the middle, clear of the jaws".to_string(),
    }
}

/// A size measured over a jaw front is worth what is known of that front; it stays put where the jaw is left alone.
fn jaw_front_to_seat(view: &View, steps: &mut Steps) {
    if view.set_up.measure.iter().all(|measure| measure.over_jaws_mm.is_none()) {
        return;
    }
    let Some(seat) = &view.set_up.seat else { return };
    let down_to = match parallels(seat) {
        Some(_) => "the parallels, pressed home",
        None => on_what(seat, "the step of that jaw"),
    };
    let bite = length(view.set_up.bite_mm, view.units);
    let jaw = view.set_up.jaws.iter().find(|jaw| jaw.kept).or(view.set_up.jaws.first()).map_or(1, |jaw| jaw.jaw);
    steps.because(
        format!("Read the depth gauge from the front of jaw {jaw} down to {down_to}, near {bite}; write it down."),
        "the size is later this reading and the one from the same front to the new face",
    );
}

fn put_in(view: &View, steps: &mut Steps) {
    let set_up = view.set_up;
    let bears = grouped(&set_up.jaws, |jaw| jaw.bears().to_string());
    let parts: Vec<String> = bears.iter().map(|(on, which)| format!("{} on {on}", jaws(which))).collect();
    let up = words::faces(&set_up.cuts_faces);
    steps.does(format!("Put the work in, {up} towards you: {}{}.", words::list(&parts), seated_on(set_up)));
    for (packing, which) in grouped(&packed(&set_up.jaws), |jaw| on_hand(jaw.packing_mm, view.units)) {
        let lay = format!("Lay {packing} {} under {}, flush with the jaw fronts", view.facts.packing, jaws(&which));
        steps.in_full_once(
            format!("{lay}: under a lower jaw with the work, under an upper one once the work is lightly nipped."),
            "a bare jaw marks a finished flat",
            format!("{lay}, the upper one last."),
        );
    }
}

/// "; C on the parallels": what is turned to the chuck, where it is a finished face.
fn seated_on(set_up: &SetUp) -> String {
    match &set_up.seat {
        Some(seat) if !UNFINISHED.contains(&seat.face.as_str()) => {
            let on = if parallels(seat).is_some() { "the parallels" } else { on_what(seat, "the steps of the jaws") };
            format!("; {} on {on}", seat.face)
        }
        _ => String::new(),
    }
}

fn past_the_widest_line(set_up: &SetUp, steps: &mut Steps) {
    let across = numbers(set_up, |jaw| jaw.contact == ContactKind::LineAcross);
    if !across.is_empty() {
        steps.because(
            format!(
                "See that {} {} past the widest line of the round.",
                jaws(&across),
                if across.len() == 1 { "reaches" } else { "reach" }
            ),
            "jaws that end short of it squeeze the work out",
        );
    }
}

/// Nipped before anything else is done to it, then brought to its depth.
fn close_lightly(view: &View, steps: &mut Steps) {
    let nip = nip(view);
    match view.set_up.seat.as_ref().map(parallels) {
        Some(Some(_)) if on_sawn_end(view.set_up) => steps.because(
            format!("{nip}. Tap the work back with a soft hammer until it stops against a parallel."),
            "a sawn end squares nothing: the jaws along the bar do, and the parallels only set how far it stands out",
        ),
        Some(Some(_)) => steps.in_full_once(
            format!("{nip}. Tap the work down with a soft hammer until neither parallel moves."),
            "what does not lie on its seat does not come out parallel to it",
            format!("{nip}. Tap the work down until neither parallel moves."),
        ),
        Some(None) => steps.does(format!("{nip}. Tap the work back with a soft hammer until it rings solid.")),
        None => {
            let set = length(view.set_up.stick_out.set_mm, view.units);
            steps.because(
                format!("{nip}. Set the work by hand to stand {set} out of the jaws, square to them by a try square."),
                "nothing lies behind the work here: only your eye and the square place it",
            );
        }
    }
}

fn on_sawn_end(set_up: &SetUp) -> bool {
    set_up.seat.as_ref().is_some_and(|seat| seat.face == "sawn end")
}

/// The jaws that hold the place are not touched, and what carries the work's weight closes first.
fn nip(view: &View) -> String {
    let moved = moved(view);
    match (view.facts.independent, moved.len()) {
        (false, _) => "Hold the work and close the jaws lightly".to_string(),
        (true, 1) => format!("Hold the work and close {} lightly", jaws(&moved)),
        (true, some) if some < view.set_up.jaws.len() => {
            format!("Hold the work and close {} lightly, the lowest first", jaws(&moved))
        }
        (true, _) => "Hold the work and close the jaws lightly, the lowest first".to_string(),
    }
}

fn true_up(view: &View, steps: &mut Steps) {
    let along = !view.set_up.jaws.is_empty()
        && view.set_up.jaws.iter().all(|jaw| matches!(jaw.contact, ContactKind::LineAlong | ContactKind::Bored));
    let free = view.set_up.jaws.iter().all(|jaw| !jaw.kept);
    if along && free && view.facts.independent {
        let again =
            if view.set_up.seat.is_some() { "; tap it back once more" } else { "; check how far it stands out" };
        steps.does(format!(
            "Spindle in neutral, power off: turn the chuck by hand and move opposed jaws, nipped all the while, \
             until the bar runs true by eye{again}."
        ));
    }
}

/// A side gripped on the round beside finished sides that nothing bears on: only the setting gives its angle.
fn stand_at_its_angle(view: &View, steps: &mut Steps) {
    let Some(angle) = &view.set_up.angle else { return };
    let (flat, jaw) = (&angle.flat, angle.beside_jaw);
    let (looks, by) = if angle.looks_to_chuck {
        ("the chuck", "a bevel protractor or an angle block on the chuck face")
    } else {
        ("you", "a bevel protractor to the jaw fronts")
    };
    steps.because(
        format!(
            "Turn the work in the jaws until {flat}, looking towards {looks} on the side of jaw {jaw}, stands at {} to \
             the chuck face: {by}. Tap down again; look again when the jaws are tight.",
            degrees(angle.to_chuck_face_deg)
        ),
        "nothing bears on a finished side here: this setting alone gives the angle between the flats",
    );
}

fn tighten(view: &View, steps: &mut Steps) {
    let round = round(view, &moved(view));
    if steps.first_time("key out") {
        steps.because(round, "a second round takes up what the first one loosened");
        key_out(view, steps);
    } else {
        steps.does(format!("{round} Take the {} out before your hand leaves it.", view.words().key));
    }
}

/// The jaws that are moved for this set-up; all of them where the plan names none.
fn moved(view: &View) -> Vec<u8> {
    let moved = numbers(view.set_up, |jaw| !jaw.kept);
    if moved.is_empty() { numbers(view.set_up, |_| true) } else { moved }
}

/// Once more round the jaws, after the first cut has shaken them in.
pub(super) fn retighten(view: &View, steps: &mut Steps) {
    steps.because(again_round(view), "the first cut shakes the work down in its jaws");
}

/// The same in words alone.
pub(super) fn again_round(view: &View) -> String {
    let moved = moved(view);
    let round = match (view.facts.independent, moved.len() == view.set_up.jaws.len()) {
        (false, _) => "Tighten at each pinion once more".to_string(),
        (true, true) => format!("Go round the jaws once more, {}", crosswise(&moved)),
        (true, false) => format!("Tighten {} once more", jaws(&moved)),
    };
    format!("{round}. Take the {} out.", view.words().key)
}

fn round(view: &View, moved: &[u8]) -> String {
    let how = view.facts.tight_with.map_or_else(String::new, |how| format!(", {how}"));
    let tight =
        view.facts.tight_torque.as_ref().map_or_else(String::new, |torque| format!(" Tight is {torque} on the key."));
    if !view.facts.independent {
        return format!("Tighten at each pinion in turn, twice round{how}.{tight}");
    }
    if moved.len() == view.set_up.jaws.len() {
        return format!(
            "Go round the jaws twice, crosswise, {}: first firm, then tight{how}.{tight}",
            crosswise(moved)
        );
    }
    format!("Tighten {} in turns, twice round{how}; leave the others alone.{tight}", jaws(moved))
}

fn key_out(view: &View, steps: &mut Steps) {
    steps.because(format!("Take the {} out before your hand leaves it.", view.words().key), view.words().key_thrown);
}

fn clear_out(view: &View, steps: &mut Steps) {
    let behind = view.set_up.seat.as_ref().and_then(parallels).is_some();
    let packed = !packed(&view.set_up.jaws).is_empty();
    let vees = vee::jaws_with(view.set_up);
    if !vees.is_empty() {
        return vee::clear_out(view, behind, packed, steps);
    }
    let out = "Draw both parallels out and count them back on the bench.";
    let pull = "Pull at each piece of packing: none may move.";
    let flies = |what: &str| Caution::new(Signal::Warning, format!("{what} flies out when the chuck turns."));
    match (behind, packed) {
        (true, false) => steps.careful(out, flies("a parallel left behind the work")),
        (false, true) => steps.careful(pull, flies("packing that no jaw traps")),
        (true, true) => {
            steps.careful(format!("{out} {pull}"), flies("whatever no jaw traps, parallel or packing,"));
        }
        (false, false) => {}
    }
}

fn check_stick_out(view: &View, steps: &mut Steps) {
    let out = &view.set_up.stick_out;
    let [least, set, most] = [out.least_mm, out.set_mm, out.most_mm].map(|value| length(value, view.units));
    let short = if_short(view);
    steps.in_full_once(
        format!("Check the stick-out, jaw front to raw top: {set}; {least} to {most} will do.{short}"),
        "less brings the tool to the jaws, more leaves too little in them",
        format!("Check the stick-out: {set}; {least} to {most} will do.{short}"),
    );
}

/// What to do where the stick-out comes out under its least: said where there is next to nothing to spare.
fn if_short(view: &View) -> String {
    let out = &view.set_up.stick_out;
    if out.set_mm - out.least_mm >= view.facts.spare_stick_out_mm - 1e-9 {
        return String::new();
    }
    let more = match view.set_up.seat.as_ref() {
        Some(seat) if seat.packing_mm > 0.0 => "put the next thicker parallels behind and check again",
        Some(seat) if seat.stop_mm.is_some() => "set the stop out as much",
        Some(seat) if seat.on == "jaw step" => "look for a chip on the steps of the jaws",
        Some(_) => "put the thinnest parallels behind and check again",
        None => "draw the work out as much",
    };
    format!(" If it is less, {more}: only {} is to spare.", length((out.set_mm - out.least_mm).max(0.0), view.units))
}

/// What the work is tapped back against, where that is no pair of parallels.
fn on_what(seat: &Seat, steps: &'static str) -> &'static str {
    match seat.on {
        "jaw step" => steps,
        "stop" => "the end of the stop",
        _ => "the chuck face",
    }
}

/// Height of the parallels, where the seat is a pair of them.
fn parallels(seat: &Seat) -> Option<f64> {
    (seat.packing_mm > 0.0).then_some(seat.packing_mm)
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

pub(super) fn packed(jaws: &[JawPlan]) -> Vec<JawPlan> {
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

/// Out of the jaws for good: those that the next set-up leaves alone stay as they are; `maybe_back`: no more of
/// them are loosened than the piece needs, so that it could go back as it was.
pub(super) fn let_go(view: &View, next: Option<&SetUp>, maybe_back: bool, steps: &mut Steps) {
    let [kept, loosened] = [true, false].map(|kept| next.map(|next| numbers(next, |jaw| jaw.kept == kept)));
    let (kept, loosened) = (kept.unwrap_or_default(), loosened.unwrap_or_default());
    if let Some(which) = to_take_out(view).filter(|_| maybe_back) {
        let frees = which.iter().all(|jaw| !kept.contains(jaw));
        return let_go_of(view, if frees { &which } else { &loosened }, steps);
    }
    if view.facts.independent && !kept.is_empty() && !loosened.is_empty() {
        return let_go_of(view, &loosened, steps);
    }
    steps.does("Spindle at rest: hold the piece, loosen the jaws, take it out.");
}

fn let_go_of(view: &View, loosened: &[u8], steps: &mut Steps) {
    let left = numbers(view.set_up, |jaw| !loosened.contains(&jaw.jaw));
    steps.because(
        format!("Spindle at rest: loosen only {}, take the piece out; leave {} alone.", jaws(loosened), jaws(&left)),
        "the jaws left alone hold the place",
    );
}

/// The jaws that were moved for this set-up, or the second half of them where all were.
fn to_take_out(view: &View) -> Option<Vec<u8>> {
    let moved = moved(view);
    let half = view.set_up.jaws.len().div_ceil(2);
    let all = moved.len() == view.set_up.jaws.len();
    let which: Vec<u8> = if all { moved.into_iter().skip(half).collect() } else { moved };
    (view.facts.independent && !which.is_empty()).then_some(which)
}

/// Back into the jaws after measuring outside them.
pub(super) fn put_back(view: &View, steps: &mut Steps) {
    let seat = match view.set_up.seat.as_ref() {
        Some(seat) if parallels(seat).is_some() => {
            ", the parallels behind it again: all wiped, tapped down,".to_string()
        }
        Some(seat) => format!(" on {}: all wiped, tapped down,", on_what(seat, "the steps of the jaws")),
        None => " to the same stick-out: all wiped, the face just cut true to an indicator turned by hand,".to_string(),
    };
    let vees = vee::jaws_with(view.set_up);
    let seat = if vees.is_empty() { seat } else { format!(", the vees on {} as before{seat}", jaws(&vees)) };
    let does = format!("Put the piece back as it was{seat}");
    let does = match to_take_out(view) {
        Some(which) => format!("{does} {} tight, twice round.", jaws(&which)),
        None => format!("{does} tightened twice round."),
    };
    steps.because(does, "a new grip never repeats the old one");
    key_out(view, steps);
    clear_out(view, steps);
}
