//! Given numbers that are hard to believe: noticed at the head of the plan, or refused as a slip of the pen.

use super::Gaps;
use crate::dial::{self, Dial};
use crate::holding;
use crate::job::Job;
use crate::problem::Source;
use crate::quantity::show;
use crate::shop::{Chuck, ClampingForce, Lathe, Shop};

/// The torque on the key, and the force of a jaw, against what hands and chucks of that size give.
pub(super) fn chuck(job: &Job, shop: &Shop, chuck: &Chuck, gaps: &mut Gaps) {
    let Some(force) = &chuck.clamping_force else { return };
    let at = shop.chucks.iter().position(|other| other.name == chuck.name).unwrap_or(0);
    let refused = gaps.problems.len();
    if let Some((screw, torque_nm)) = holding::key(force) {
        locked_screw(&screw, at, gaps);
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

/// Friction of packing above what an oily shop can count on.
pub(super) fn packing_friction(material: &str, friction: f64, gaps: &mut Gaps) {
    let most = &holding::numbers().packing_friction_noticed;
    if friction > most.value {
        gaps.notices.push(format!(
            "NOTICE: the shop gives packing of {material} a friction of {friction}; soft metal with a film of oil has 0.10 \
             to 0.18, and more than {} is only found clean and dry: the hold here rests on it.",
            most.value
        ));
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
    }
}

fn jaw_force(job: &Job, chuck: &Chuck, force: &ClampingForce, at: usize, gaps: &mut Gaps) {
    let numbers = holding::numbers();
    let force_n = holding::nominal_force_n(force);
    let usual_n = holding::highest_usual_force_n(chuck.kind, crate::quantity::Plain::plain(chuck.body));
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
}
