//! Jaws and packing: what bears on what, with which packing, and whether the jaws can stand so.

use engine::plan::{ContactKind, UNFINISHED};
use engine::quantity::Plain;

use crate::case::{Case, NEAR_MM};
use crate::data;
use crate::rule;
use crate::rule::{Findings, Rule};

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T02",
            no_bare_jaw_on_a_finished_flat,
            |case| each_jaw(case, |jaw| jaw.packing_mm = 0.0),
            "no bare jaw on a finished flat",
            "every jaw with `bears_on` a letter, and every jaw that our geometry finds on a cut face, has `packing_mm` > 0, or a `vee`, of which T70 judges the metal",
            "common practice, no source"
        ),
        rule!(
            "T03",
            packing_is_on_hand,
            |case| each_jaw(case, |jaw| jaw.packing_mm *= 1.37),
            "packing is on hand",
            "every `packing_mm` > 0 is a thickness of the shop's packing; where the shop lists none, the assumed one, and `assumed` says so",
            "common practice, no source"
        ),
        rule!(
            "T04",
            packing_is_equal_across,
            |case| {
                for set_up in &mut case.plan.set_ups {
                    set_up.jaws[0].packing_mm += 0.5;
                }
            },
            "packing on opposed jaws is equal, so that the work stays in the middle",
            "where opposed jaws are both packed their `packing_mm` are equal",
            "common practice, no source"
        ),
        rule!(
            "T07",
            jaws_reach_past_the_widest_line,
            |case| each(case, |set_up| set_up.bite_mm *= 0.4),
            "jaws reach past the widest line of a round lying across",
            "`contact` \"line across\": `bite_mm` >= height of the round's widest line above the back of the piece, from our own section of the piece, + 2 mm",
            "statics: else the jaw's end pushes outwards and friction alone holds, tan a <= mu; the 2 mm are a choice (data)"
        ),
        rule!(
            "T12",
            jaws_open_far_enough,
            |case| case.shop.chucks[0].opening.1 = engine::quantity::mm(12.0),
            "a jaw opens and closes as far as it can and no farther",
            "the sum of `reach_mm` of opposed jaws (twice one reach with three jaws) lies within the chuck's `opening`",
            "plate of the chuck (shop)"
        ),
        rule!(
            "T15",
            every_jaw_finds_what_the_plan_says,
            |case| {
                each_jaw(case, |jaw| jaw.reach_mm += 1.0);
                for moment in &mut case.moments {
                    moment.jaws = None;
                }
            },
            "every jaw finds what the plan says, and never a corner",
            "some way of laying our own piece in the jaws gives every jaw the surface, the contact and the distance (`reach_mm` less packing, within 2 um) of the plan; a corner is no contact but through a `vee`, of which T69 judges how it lies",
            "geometry; a jaw on an edge: common practice, no source"
        ),
        rule!(
            "T16",
            sawn_ends_are_never_held_bare,
            |case| each_jaw(case, |jaw| jaw.packing_mm = 0.0),
            "a sawn end is held through packing, never bare: it is no flat",
            "every jaw that our geometry finds on an end not yet cut has `packing_mm` > 0",
            "common practice, no source"
        ),
        rule!(
            "T47",
            neighbouring_jaws_do_not_touch,
            |case| {
                case.shop.chucks[0].jaw.width = engine::quantity::mm(150.0);
                case.shop.chucks[0].opening.0 = engine::quantity::mm(150.0);
            },
            "neighbouring jaws, closed on the piece, do not touch",
            "two jaws a quarter turn apart overlap when both reaches are less than half the width of the nose (the jaw's width, or the least opening where the plate says that the chuck closes to less: then the noses are bevelled); three jaws when a corner passes the line half way to the next, reach < width / (2 tan 60°)",
            "geometry"
        ),
    ]
}

pub fn each(case: &mut Case, change: fn(&mut engine::plan::SetUp)) {
    case.plan.set_ups.iter_mut().for_each(change);
}

fn each_jaw(case: &mut Case, change: fn(&mut engine::plan::JawPlan)) {
    case.plan.set_ups.iter_mut().flat_map(|set_up| &mut set_up.jaws).for_each(change);
}

fn no_bare_jaw_on_a_finished_flat(case: &Case, found: &mut Findings) {
    for (set_up, moment) in case.steps() {
        for (at, jaw) in set_up.jaws.iter().enumerate() {
            let ours = moment.jaws.as_ref().and_then(|jaws| jaws[at].face);
            if !UNFINISHED.contains(&jaw.bears_on.as_str()) || ours.is_some() {
                found.check(jaw.packing_mm > 0.0 || jaw.vee.is_some(), || {
                    format!("set-up {}: jaw {} bare on {}", set_up.number, jaw.jaw, jaw.bears_on)
                });
            }
        }
    }
}

fn packing_is_on_hand(case: &Case, found: &mut Findings) {
    let there = case.packings();
    let listed = !case.shop.packing.is_empty() || case.plan.assumed.iter().any(|row| row.what.contains("packing"));
    for set_up in &case.plan.set_ups {
        for jaw in set_up.jaws.iter().filter(|jaw| jaw.packing_mm > 0.0) {
            let known = there.iter().any(|at| (at - jaw.packing_mm).abs() < 1e-9);
            found.check(known && listed, || {
                format!("set-up {}: {} mm under jaw {}, on hand {there:?}", set_up.number, jaw.packing_mm, jaw.jaw)
            });
        }
    }
}

fn packing_is_equal_across(case: &Case, found: &mut Findings) {
    for set_up in case.plan.set_ups.iter().filter(|set_up| set_up.jaws.len() == 4) {
        for pair in 0..2 {
            let (one, other) = (&set_up.jaws[pair], &set_up.jaws[pair + 2]);
            if one.packing_mm > 0.0 && other.packing_mm > 0.0 {
                found.check((one.packing_mm - other.packing_mm).abs() < 1e-9, || {
                    format!("set-up {}: {} mm against {} mm", set_up.number, one.packing_mm, other.packing_mm)
                });
            }
        }
    }
}

fn jaws_reach_past_the_widest_line(case: &Case, found: &mut Findings) {
    let past = data::default("past the widest line");
    for (set_up, _, jaws) in case.held() {
        for jaw in jaws.iter().filter(|jaw| jaw.kind == Some(ContactKind::LineAcross)) {
            found.check(set_up.bite_mm >= jaw.at_height + past - NEAR_MM, || {
                format!(
                    "set-up {}: bite {:.2}, widest line {:.2} above the back",
                    set_up.number, set_up.bite_mm, jaw.at_height
                )
            });
        }
    }
}

fn jaws_open_far_enough(case: &Case, found: &mut Findings) {
    let (least, most) = (case.chuck().opening.0.plain(), case.chuck().opening.1.plain());
    for set_up in &case.plan.set_ups {
        let count = set_up.jaws.len();
        for at in 0..count {
            let opposed = if count == 4 { (at + 2) % 4 } else { at };
            let between = set_up.jaws[at].reach_mm + set_up.jaws[opposed].reach_mm;
            found.check((least - NEAR_MM..=most + NEAR_MM).contains(&between), || {
                format!("set-up {}: {between:.2} between jaws, opening {least} to {most}", set_up.number)
            });
        }
    }
}

fn every_jaw_finds_what_the_plan_says(case: &Case, found: &mut Findings) {
    for (set_up, moment) in case.steps() {
        found.check(moment.jaws.is_some(), || {
            let jaws: Vec<String> = set_up
                .jaws
                .iter()
                .map(|jaw| format!("{} {} {:.3}", jaw.bears_on, jaw.contact.name(), jaw.reach_mm - jaw.packing_mm))
                .collect();
            format!("set-up {} ({:?}): no way of lying gives {jaws:?}", set_up.number, set_up.cuts_faces)
        });
    }
}

fn sawn_ends_are_never_held_bare(case: &Case, found: &mut Findings) {
    for (set_up, _, jaws) in case.held() {
        for (plan, jaw) in set_up.jaws.iter().zip(jaws).filter(|(_, jaw)| jaw.end && jaw.face.is_none()) {
            found.check(plan.packing_mm > 0.0, || {
                format!("set-up {}: jaw {} bare on a sawn end, {:.1} from the axis", set_up.number, plan.jaw, jaw.out)
            });
        }
    }
}

fn neighbouring_jaws_do_not_touch(case: &Case, found: &mut Findings) {
    // A chuck that its plate says closes to less than a jaw's width has bevelled noses.
    let half = case.chuck().jaw.width.plain().min(case.chuck().opening.0.plain()) / 2.0;
    for set_up in &case.plan.set_ups {
        let count = set_up.jaws.len();
        for at in 0..count {
            let (here, next) = (set_up.jaws[at].reach_mm, set_up.jaws[(at + 1) % count].reach_mm);
            let apart = match count {
                4 => here.max(next) >= half,
                _ => here >= half / 3f64.sqrt(),
            };
            found.check(apart, || {
                format!("set-up {}: jaws at {here:.2} and {next:.2}, half the width {half:.2}", set_up.number)
            });
        }
    }
}
