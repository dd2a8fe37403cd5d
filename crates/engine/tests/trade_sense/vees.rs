//! Vees between jaws and corners: that the work fits them, and that the jaw backs them.

use std::f64::consts::{FRAC_PI_2, PI};

use engine::plan::{ContactKind, Hand, JawPlan, SetUp, VeePlan};
use engine::quantity::Plain;

use crate::case::{Case, Found, Moment, NEAR_MM};
use crate::data;
use crate::rule;
use crate::rule::{Findings, Rule};
use crate::solid::Meets;

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T69",
            corners_fit_their_vees,
            |case| each_vee(case, |_, vee| vee.angle_deg -= 7.0),
            "a vee only on a corner that fits it, and where our geometry puts it",
            "every jaw with a `vee` finds a corner; square to each flank (direction of the jaw, a quarter turn less half of `angle_deg` either way) our section has a flat or a round, a flat at least under one; `groove_mm` and `reach_mm` are those of the lines in which our section meets the flanks (within 10 um; our round has corners)",
            "geometry"
        ),
        rule!(
            "T70",
            hard_vees_are_packed,
            |case| {
                each_vee(case, |jaw, vee| {
                    jaw.packing_mm = 0.0;
                    vee.material = "hardened steel".to_string();
                });
            },
            "no hard vee bare on the work",
            "a `vee` of steel has `packing_mm` > 0 on its flanks, and every other without packing is of a metal that flows before the work, so that the jaw's `mark` is \"none\"",
            "common practice, no source"
        ),
        rule!(
            "T71",
            jaws_back_their_vees,
            |case| each_vee(case, |_, vee| vee.at_mm += 9.0),
            "a vee lies on its jaw with all of its back",
            "groove across the jaw: `at_mm` + half of `width_mm` is at least the spare stick-out (data) below the jaw front, `at_mm` - half of `width_mm` no lower than the chuck face; groove along the spindle: its middle lies on the jaw",
            "common practice, no source: what stands over a jaw tips, and meets the tool"
        ),
        rule!(
            "T72",
            vees_are_on_hand,
            |case| case.shop.vees.iter_mut().for_each(|vee| vee.count = 0),
            "vees are on hand",
            "every `vee` is one of the shop's, by material, angle, width, height and length, and no set-up uses more of a kind than there are",
            "the shop's own list"
        ),
        rule!(
            "T73",
            loose_vees_are_looked_at,
            |case| case.plan.set_ups.iter_mut().for_each(|set_up| set_up.hands.clear()),
            "whoever lays a vee is told which way round, and pulls at it before the start",
            "a set-up with a `vee` has a step that lays it, back on the jaw and open side to the work, and a step that says \"Pull at\" with it before the first pass; that step, a caution or a reason says that what is loose flies out",
            "common practice, no source"
        ),
    ]
}

fn each_vee(case: &mut Case, change: fn(&mut JawPlan, &mut VeePlan)) {
    for jaw in case.plan.set_ups.iter_mut().flat_map(|set_up| &mut set_up.jaws) {
        if let Some(mut vee) = jaw.vee.take() {
            change(jaw, &mut vee);
            jaw.vee = Some(vee);
        }
    }
}

/// Jaws with a vee, each with what our geometry finds there.
fn with_vees(case: &Case) -> impl Iterator<Item = (&SetUp, &Moment, &JawPlan, &VeePlan, &Found)> {
    case.held().flat_map(|(set_up, moment, jaws)| {
        let jaws = set_up.jaws.iter().zip(jaws);
        jaws.filter_map(move |(jaw, found)| jaw.vee.as_ref().map(|vee| (set_up, moment, jaw, vee, found)))
    })
}

fn corners_fit_their_vees(case: &Case, found: &mut Findings) {
    for (set_up, moment, jaw, vee, ours) in with_vees(case) {
        let says = |what: &str| format!("set-up {}: jaw {}: {what}: {vee:?}", set_up.number, jaw.jaw);
        let Some(direction) = ours.direction else {
            found.check(false, || says("a vee on an end"));
            continue;
        };
        found.check(ours.kind.is_none() && jaw.contact == ContactKind::Vee, || says("no corner there"));
        let half = (vee.angle_deg / 2.0).to_radians();
        let flanks = [1.0, -1.0].map(|side| direction + side * (FRAC_PI_2 - half));
        let meets = flanks.map(|flank| moment.piece.meets(flank));
        found.check(meets.iter().all(|meets| *meets != Meets::Corner), || says("a flank on a corner"));
        found.check(meets.iter().any(|meets| matches!(meets, Meets::Flat(_))), || says("no flank on a flat"));
        let middle = |angle: f64| (moment.piece.reach(angle) - moment.piece.reach(angle + PI)) / 2.0;
        // Where the spindle axis passes: half way between jaws that face one another.
        let axis = match ours.up {
            Some(up) => middle(up + FRAC_PI_2) * if (direction - up).sin() > 0.0 { 1.0 } else { -1.0 },
            None => middle(direction),
        };
        let reach = |at: usize| moment.piece.reach(flanks[at]) + jaw.packing_mm;
        let groove = (reach(0) + reach(1)) / (2.0 * half.sin()) - axis;
        let behind = vee.height_mm - vee.width_mm / (2.0 * half.tan());
        found.check((groove - vee.groove_mm).abs() < 5.0 * NEAR_MM, || says(&format!("groove at {groove:.3}")));
        found.check((groove + behind - jaw.reach_mm).abs() < 5.0 * NEAR_MM, || {
            says(&format!("the jaw stands at {:.3}, not {:.3}", jaw.reach_mm, groove + behind))
        });
    }
}

fn hard_vees_are_packed(case: &Case, found: &mut Findings) {
    for (set_up, _, jaw, vee, _) in with_vees(case) {
        let soft = jaw.mark.as_ref().is_some_and(|mark| mark.grade == "none") && !vee.material.contains("steel");
        found.check(jaw.packing_mm > 0.0 || soft, || {
            format!("set-up {}: jaw {}: {} bare, mark {:?}", set_up.number, jaw.jaw, vee.material, jaw.mark)
        });
    }
}

fn jaws_back_their_vees(case: &Case, found: &mut Findings) {
    let (jaw, spare) = (&case.chuck().jaw, data::default("spare stick-out"));
    let (long, wide) = (jaw.length.plain(), jaw.width.plain());
    for (set_up, _, jaw, vee, _) in with_vees(case) {
        let (top, bottom) = (vee.at_mm + vee.width_mm / 2.0, vee.at_mm - vee.width_mm / 2.0);
        let lies = if vee.along_spindle {
            vee.at_mm.abs() < wide / 2.0
        } else {
            top <= 1e-6 - spare && bottom >= -long - 1e-6
        };
        found.check(lies, || {
            format!("set-up {}: jaw {}: from {bottom:.2} to {top:.2}, jaw {long} by {wide}", set_up.number, jaw.jaw)
        });
    }
}

fn vees_are_on_hand(case: &Case, found: &mut Findings) {
    let near = |one: f64, other: f64| (one - other).abs() < 1e-6;
    for set_up in &case.plan.set_ups {
        let used: Vec<&VeePlan> = set_up.jaws.iter().filter_map(|jaw| jaw.vee.as_ref()).collect();
        for vee in &used {
            let kind = case.shop.vees.iter().find(|kind| {
                kind.material == vee.material
                    && near(kind.angle.plain().to_degrees(), vee.angle_deg)
                    && near(kind.width.plain(), vee.width_mm)
                    && near(kind.height.plain(), vee.height_mm)
                    && near(kind.length.plain(), vee.length_mm)
            });
            let count = used.iter().filter(|other| (other.width_mm, other.angle_deg) == (vee.width_mm, vee.angle_deg));
            let enough = kind.is_some_and(|kind| count.count() <= kind.count as usize);
            found.check(enough, || format!("set-up {}: {vee:?} is not on hand so often", set_up.number));
        }
    }
}

fn loose_vees_are_looked_at(case: &Case, found: &mut Findings) {
    for set_up in case.plan.set_ups.iter().filter(|set_up| set_up.jaws.iter().any(|jaw| jaw.vee.is_some())) {
        let before = set_up.hands.iter().take_while(|hand| !matches!(hand, Hand::Passes { .. }));
        let steps: Vec<&str> = before
            .filter_map(|hand| if let Hand::Do { does, .. } = hand { Some(does.as_str()) } else { None })
            .collect();
        let lays = steps.iter().any(|step| step.contains("vee") && step.contains("Back flat on the jaw, open side"));
        let pulls = steps.iter().any(|step| step.contains("Pull at") && step.contains("vee"));
        let reasons =
            set_up.hands.iter().filter_map(|hand| if let Hand::Do { why, .. } = hand { why.as_ref() } else { None });
        let steps_warn = steps.iter().any(|step| step.contains("vee") && step.contains("flies out"));
        let warns = steps_warn
            || set_up.cautions.iter().chain(reasons).any(|text| text.contains("vee") && text.contains("flies out"));
        found.check(lays && pulls && warns, || format!("set-up {}: {lays} {pulls} {warns}", set_up.number));
    }
}
