//! Given numbers that are hard to believe: noticed at the head of the plan, or refused as a slip of the pen.

use super::Gaps;
use crate::dial::{self, Dial};
use crate::holding;
use crate::job::Job;
use crate::problem::Source;
use crate::quantity::{Plain, show};
use crate::shop::{Chuck, ClampingForce, Lathe, Shop};

/// What the shop gives of the chuck against what hands and chucks of that size give.
pub(super) fn chuck(job: &Job, shop: &Shop, chuck: &Chuck, gaps: &mut Gaps) {
    let at = shop.chucks.iter().position(|other| other.name == chuck.name).unwrap_or(0);
    mark(chuck, at, gaps);
    jaw_size(job, chuck, at, gaps);
    low_share(chuck, gaps);
    if let Some(force) = &chuck.clamping_force {
        clamping(job, chuck, force, at, gaps);
    }
}

fn clamping(job: &Job, chuck: &Chuck, force: &ClampingForce, at: usize, gaps: &mut Gaps) {
    let refused = gaps.problems.len();
    if let Some((screw, torque_nm)) = holding::key(force) {
        locked_screw(&screw, at, gaps);
        unwinding_screw(&screw, at, gaps);
        key_torque(job, chuck, torque_nm, at, gaps);
    }
    // A torque that is mistaken says all: the force only follows from it.
    if gaps.problems.len() == refused {
        jaw_force(job, chuck, force, at, gaps);
    }
}

/// The screw against the paint of the ring, both as travel in a turn.
pub(super) fn paint(job: &Job, lathe: &Lathe, at: usize, dial: &Dial, gaps: &mut Gaps) {
    let off = dial.paint_over_screw();
    let off = off.max(1.0 / off);
    if off > dial::paint_off_refused() {
        let [paint, screw] =
            [dial.painted_travel_mm, dial.travel_per_turn_mm].map(|mm| show::fine_length(mm, job.units));
        gaps.problem(
            Source::Shop,
            format!("lathe[{at}].depth_slide.screw"),
            format!("the screw moves {screw} in a turn, by the paint of the ring it is {paint}: one of them is mistaken"),
            "the travel of one turn, near what graduation and per_turn say; where the ring counts the diameter, reads = \
             \"diameter\" tells it"
                .to_string(),
        );
    } else if off > 1.0 + dial::paint_off_noticed() {
        let said = dial::paint_and_screw_note(dial).unwrap_or_default();
        gaps.notices.push(format!(
            "NOTICE: {}: {}: prove one turn with an indicator on the slide before the first cut.",
            lathe.name,
            said.trim_start_matches(dial::NOTICE)
        ));
    }
}

/// Lead and friction of a right angle together: no key turns such a screw.
fn locked_screw(screw: &holding::JawScrew, at: usize, gaps: &mut Gaps) {
    if screw.turns() {
        return;
    }
    let says = format!(
        "a screw {} mm thick of {} mm pitch with friction {} cannot be turned by its key",
        screw.pitch_diameter_mm, screw.pitch_mm, screw.friction
    );
    let accepts = "pitch and pitch diameter of the jaw's screw, such as 4 and 18, and friction near 0.15".to_string();
    gaps.problem(Source::Shop, format!("chuck[{at}].key"), says, accepts);
}

/// A thread so steep that it gives way as soon as the hand leaves the key.
fn unwinding_screw(screw: &holding::JawScrew, at: usize, gaps: &mut Gaps) {
    if !screw.unwinds() || !screw.turns() {
        return;
    }
    let [lead, rubbing] = [screw.lead_rad(), screw.rubbing_rad()].map(f64::to_degrees);
    let says = format!(
        "a screw {} mm thick of {} mm pitch unwinds by itself: its thread rises at {lead:.1} degrees, and friction {} \
         holds up to {rubbing:.1} degrees only",
        screw.pitch_diameter_mm, screw.pitch_mm, screw.friction
    );
    let accepts = "pitch and pitch diameter of the jaw's screw, such as 4 and 18, and friction near 0.15".to_string();
    gaps.problem(Source::Shop, format!("chuck[{at}].key"), says, accepts);
}

/// The speed marked on the chuck, and the one given beside it.
fn mark(chuck: &Chuck, at: usize, gaps: &mut Gaps) {
    let usual_rpm = holding::chuck_defaults(chuck.kind, chuck.body.plain()).most_rpm;
    let Some(marked_rpm) = chuck.marked_speed.map(Plain::plain) else {
        gaps.notices.push(format!(
            "NOTICE: {}: nobody gave the highest speed marked on the chuck: {usual_rpm:.0} rpm is taken, as an iron one \
             of that size bears. Read it off the chuck and give it with the chuck in the shop's file.",
            chuck.name
        ));
        return;
    };
    if marked_rpm > holding::numbers().chuck_mark_noticed_over_usual.value * usual_rpm {
        gaps.notices.push(format!(
            "NOTICE: {}: the shop gives {marked_rpm:.0} rpm as marked on the chuck; {usual_rpm:.0} rpm is usual for one \
             of that size: check that it is not ten times too high.",
            chuck.name
        ));
    }
    if let Some(interrupted_rpm) = chuck.interrupted_speed.map(Plain::plain)
        && interrupted_rpm > marked_rpm
    {
        let says = format!(
            "{interrupted_rpm:.0} rpm in interrupted cuts is above the {marked_rpm:.0} rpm marked on the chuck"
        );
        let accepts = format!("a speed up to {marked_rpm:.0} rpm, or none: then a share of the mark is taken");
        gaps.problem(Source::Shop, format!("chuck[{at}].interrupted_speed"), says, accepts);
    }
}

/// Jaws that no chuck of that size has.
fn jaw_size(job: &Job, chuck: &Chuck, at: usize, gaps: &mut Gaps) {
    let numbers = holding::numbers();
    let body_mm = chuck.body.plain();
    for (key, is, given_mm, share) in [
        ("width", "wide", chuck.jaw.width.plain(), &numbers.jaw_width_most_of_body),
        ("length", "long", chuck.jaw.length.plain(), &numbers.jaw_length_most_of_body),
    ] {
        let most_mm = share.value * body_mm;
        if given_mm > most_mm {
            let [given, body, most] = [given_mm, body_mm, most_mm].map(|mm| show::length(mm, job.units));
            let says = format!("a jaw {given} {is} on a chuck with a body of {body}: one of them is mistaken");
            gaps.problem(Source::Shop, format!("chuck[{at}].jaw.{key}"), says, format!("up to {most} for that body"));
        }
    }
}

/// A share that leaves next to nothing for how a chuck is tightened.
fn low_share(chuck: &Chuck, gaps: &mut Gaps) {
    let numbers = holding::numbers();
    let Some(share) = chuck.low_share else { return };
    if share > numbers.low_share_most_noticed.value {
        gaps.notices.push(format!(
            "NOTICE: {}: the shop counts on {share} of the clamping force; usual is {} by feel, {} with a torque wrench on \
             the key, {} measured: every hold here rests on that share.",
            chuck.name,
            numbers.low_share_by_feel.value,
            numbers.low_share_torque_wrench.value,
            numbers.low_share_measured.value
        ));
    }
}

/// Friction of packing above what an oily shop can count on, or so low that it is hardly meant.
pub(super) fn packing_friction(material: &str, friction: f64, gaps: &mut Gaps) {
    let numbers = holding::numbers();
    let given = format!(
        "NOTICE: the shop gives packing of {material} a friction of {friction}; soft metal with a film of oil has {:.2} to \
         {:.2}",
        numbers.packing_friction_oily_least.value, numbers.packing_friction_oily_most.value
    );
    if friction < numbers.packing_friction_least.value {
        gaps.notices.push(format!("{given}: check that it is not ten times too low."));
    }
    let most = numbers.packing_friction_noticed.value;
    if friction > most {
        gaps.notices
            .push(format!("{given}, and more than {most} is only found clean and dry: the hold here rests on it."));
    }
}

fn key_torque(job: &Job, chuck: &Chuck, torque_nm: f64, at: usize, gaps: &mut Gaps) {
    let numbers = holding::numbers();
    let [torque, most] =
        [torque_nm, numbers.hand_key_torque_most_nm.value].map(|torque_nm| show::torque(torque_nm, job.units));
    if torque_nm > numbers.hand_key_torque_mistaken_nm.value {
        let says = format!("{torque} on the key of a chuck: no arm gives that");
        let accepts =
            format!("the torque at which the jaws are tightened, with its unit; a hand gives about {most} at most");
        gaps.problem(Source::Shop, format!("chuck[{at}].key.torque"), says, accepts);
    } else if torque_nm > numbers.hand_key_torque_most_nm.value {
        gaps.notices.push(format!(
            "NOTICE: {}: the shop gives {torque} on the key, a hand about {most} at most: every force of a jaw here rests \
             on that torque.",
            chuck.name
        ));
    } else if torque_nm < numbers.hand_key_torque_least_nm.value {
        let usual_nm = holding::chuck_defaults(chuck.kind, chuck.body.plain()).key_torque_nm;
        gaps.notices.push(format!(
            "NOTICE: {}: the shop gives {torque} on the key; {} is usual for a chuck of that size: check the unit, every \
             force of a jaw here rests on that torque.",
            chuck.name,
            show::torque(usual_nm, job.units)
        ));
    }
}

fn jaw_force(job: &Job, chuck: &Chuck, force: &ClampingForce, at: usize, gaps: &mut Gaps) {
    let numbers = holding::numbers();
    let force_n = holding::nominal_force_n(force);
    let usual_n = holding::highest_usual_force_n(chuck.kind, chuck.body.plain());
    let [given, usual] = [force_n, usual_n].map(|force_n| show::force(force_n, job.units));
    let (key, from) = match force {
        ClampingForce::Each(_) => ("clamping_force", ""),
        ClampingForce::Key { .. } => ("key", ", reckoned from key and screw"),
    };
    if force_n > numbers.jaw_force_mistaken_over_usual.value * usual_n {
        let says = format!("{given} at each jaw{from}: hand chucks of that size give {usual} at most");
        let accepts = "the force of one jaw when it is tightened properly, with its unit".to_string();
        gaps.problem(Source::Shop, format!("chuck[{at}].{key}"), says, accepts);
    } else if force_n > numbers.jaw_force_noticed_over_usual.value * usual_n {
        gaps.notices.push(format!(
            "NOTICE: {}: the shop gives {given} at each jaw{from}; hand chucks of that size give {usual} at most: the hold \
             here rests on that force.",
            chuck.name
        ));
    }
    // A torque that is too small says all: the force only follows from it.
    let limp = holding::key(force).is_some_and(|(_, torque_nm)| torque_nm < numbers.hand_key_torque_least_nm.value);
    let least_n = holding::chuck_defaults(chuck.kind, chuck.body.plain()).clamping_n;
    if force_n < numbers.jaw_force_least_over_usual.value * least_n && !limp {
        gaps.notices.push(format!(
            "NOTICE: {}: the shop gives {given} at each jaw{from}; hand chucks of that size usually give {} to {usual}: check \
             the unit, the hold here rests on that force.",
            chuck.name,
            show::force(least_n, job.units)
        ));
    }
}
