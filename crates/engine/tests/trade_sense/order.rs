//! The order: which face when, what squares it, which jaws stay, how many minutes.

use engine::plan::{ContactKind, Outcome, UNFINISHED};
use engine::quantity::Plain;

use crate::case::Case;
use crate::jaws::each;
use crate::rule;
use crate::rule::{Findings, Rule};

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T01",
            each_face_is_cut_once,
            |case| {
                case.plan.set_ups.pop();
            },
            "every face that is asked for is cut, and none twice; one that stays as the bar has it never",
            "the `cuts_faces` of all set-ups together are the part's faces less those left, each once",
            "follows from the drawing"
        ),
        rule!(
            "T13",
            kept_jaws_stand_where_they_stood,
            |case| each(case, |set_up| {
                let by = f64::from(set_up.number);
                set_up.jaws.iter_mut().for_each(|jaw| {
                    jaw.kept = true;
                    jaw.reach_mm += by;
                });
            }),
            "jaws left alone are not moved",
            "a jaw with `kept` has, within 0.05 mm, the `reach_mm` that it had in the set-up before; in the first none is kept; the hands say to leave it alone",
            "geometry; 0.05 mm is less than a jaw screw gives in a few degrees of the key"
        ),
        rule!(
            "T14",
            one_jaw_of_a_pair_lets_go,
            |case| each(case, |set_up| set_up.jaws.iter_mut().for_each(|jaw| jaw.kept = true)),
            "two opposed jaws are never both left alone when the piece is turned",
            "of each opposed pair at most one is `kept`; with a chuck whose jaws move together none",
            "geometry: the piece could not come out"
        ),
        rule!(
            "T17",
            a_finished_flat_squares_what_it_can,
            |case| each(case, |set_up| {
                set_up.jaws.iter_mut().for_each(|jaw| jaw.bears_on = "bar".to_string());
                set_up.bite_mm = 1.0;
                set_up.seat = None;
            }),
            "a finished flat squares what it can: never by eye once one exists",
            "where a finished face stands square to the new one or opposite to it (our own angles), some jaw or the seat bears on a finished face; a round along the spindle in the whole length of all jaws is squared by them, as the first end was",
            "common practice, no source; \"reference only machined faces\" in college material on the milling vice, carried over"
        ),
        rule!(
            "T49",
            impossible_plans_say_why,
            |case| {
                if let Outcome::Impossible(reasons) = &mut case.plan.outcome {
                    reasons.clear();
                }
            },
            "a plan that cannot be has at least one reason with value, limit and way out, and no set-ups",
            "outcome `impossible`: every reason names a rule, a place, words, a finite value and limit that differ, a unit and a way out; `set_ups` empty, minutes nought",
            "project's rule"
        ),
        rule!(
            "T50",
            minutes_add_up,
            |case| case.plan.minutes.handling += 1.0,
            "minutes add up",
            "the plan's minutes are the sums of the set-ups'; a set-up's cutting is the sum of its passes'; measuring is minutes of one measurement x how many; handling covers turning or setting, touching off and going back for every pass",
            "follows from the shop's own minutes"
        ),
        rule!(
            "T51",
            the_order_is_proven_best,
            |case| case.plan.search.proven_best = false,
            "the order is proven best where every order can be looked at",
            "planned, up to ten faces: `proven_best`, `plans_possible` >= 1, `examined` >= number of set-ups",
            "project's rule"
        ),
        rule!(
            "T52",
            the_metal_adds_up,
            |case| each(case, |set_up| set_up.removed_mm3 *= 1.01),
            "what all set-ups remove is the bar less the part",
            "the sum of `removed_mm3` is, within 0.2 % of the bar, its volume less that of the piece after all faces, by our own section; `stock.volume_mm3` likewise",
            "geometry"
        ),
    ]
}

fn each_face_is_cut_once(case: &Case, found: &mut Findings) {
    if !case.planned() {
        return;
    }
    let mut asked: Vec<&str> = case.faces.iter().filter(|face| face.cut).map(|face| face.name.as_str()).collect();
    let mut cut: Vec<&str> =
        case.plan.set_ups.iter().flat_map(|set_up| &set_up.cuts_faces).map(String::as_str).collect();
    asked.sort_unstable();
    cut.sort_unstable();
    found.check(asked == cut, || format!("asked {asked:?}, cut {cut:?}"));
}

fn kept_jaws_stand_where_they_stood(case: &Case, found: &mut Findings) {
    for (at, set_up) in case.plan.set_ups.iter().enumerate() {
        for jaw in set_up.jaws.iter().filter(|jaw| jaw.kept) {
            let before = at.checked_sub(1).map(|before| &case.plan.set_ups[before]);
            let stood = before.and_then(|set_up| set_up.jaws.iter().find(|other| other.jaw == jaw.jaw));
            let stands = stood.is_some_and(|stood| (stood.reach_mm - jaw.reach_mm).abs() <= 0.05);
            // Said where the piece is let go, which may be at the end of the set-up before.
            let said = before.into_iter().chain([set_up]).flat_map(crate::hands::steps);
            let told = said.map(|step| step.to_lowercase()).any(|step| {
                step.split("leave ")
                    .skip(1)
                    .any(|rest| rest.split(" alone").next().is_some_and(|which| which.contains(&jaw.jaw.to_string())))
            });
            found.check(stands && told, || {
                format!(
                    "set-up {}: jaw {} kept at {:.3}, stood at {:?}, told {told}",
                    set_up.number,
                    jaw.jaw,
                    jaw.reach_mm,
                    stood.map(|stood| stood.reach_mm)
                )
            });
        }
    }
}

fn one_jaw_of_a_pair_lets_go(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        let jaws = &set_up.jaws;
        let right = match jaws.len() {
            4 => (0..2).all(|pair| !(jaws[pair].kept && jaws[pair + 2].kept)),
            _ => jaws.iter().all(|jaw| !jaw.kept),
        };
        found.check(right, || format!("set-up {}: both jaws of a pair are left alone", set_up.number));
    }
}

fn a_finished_flat_squares_what_it_can(case: &Case, found: &mut Findings) {
    for (set_up, moment) in case.steps() {
        let new = case.faces[moment.face].side;
        let squares = |at: &usize| match (new, case.faces[*at].side) {
            (Some(a), Some(b)) => (a - b).cos().abs() < 1e-6 || (a - b).cos() < -1.0 + 1e-9,
            _ => true,
        };
        if moment.done.iter().any(squares) {
            let jaw = set_up.jaws.iter().any(|jaw| !UNFINISHED.contains(&jaw.bears_on.as_str()));
            let seat = set_up.seat.as_ref().is_some_and(|seat| !UNFINISHED.contains(&seat.face.as_str()));
            // An end of work held along the spindle for the length of the jaws, or as deep as it is thick, is squared
            // by the jaws on its own sides.
            let across = set_up.jaws.iter().any(|jaw| jaw.contact == ContactKind::LineAcross);
            let end = moment.face < 2 && !across;
            let gripped = gripped(set_up);
            let along = end && set_up.bite_mm >= case.chuck().jaw.length.plain().min(gripped) - 1e-6;
            found.check(jaw || seat || along, || {
                format!("set-up {}: {:?} squared by eye, {:?} stand", set_up.number, set_up.cuts_faces, moment.done)
            });
        }
    }
}

fn impossible_plans_say_why(case: &Case, found: &mut Findings) {
    let Outcome::Impossible(reasons) = &case.plan.outcome else { return };
    let whole = |reason: &engine::plan::Reason| {
        let words = [reason.rule, &reason.place, &reason.says, reason.unit, &reason.way_out];
        let numbers = reason.value.is_finite() && reason.limit.is_finite() && reason.value != reason.limit;
        words.iter().all(|text| !text.trim().is_empty()) && numbers
    };
    for reason in reasons {
        found.check(whole(reason), || format!("{reason:?}"));
    }
    let minutes = case.plan.minutes.total();
    found.check(!reasons.is_empty() && case.plan.set_ups.is_empty() && minutes == 0.0, || {
        format!("{} reasons, {} set-ups, {minutes} min", reasons.len(), case.plan.set_ups.len())
    });
}

fn minutes_add_up(case: &Case, found: &mut Findings) {
    if !case.planned() {
        return;
    }
    let sum = |part: fn(&engine::plan::Minutes) -> f64| -> f64 {
        case.plan.set_ups.iter().map(|set_up| part(&set_up.minutes)).sum()
    };
    let totals = [
        (case.plan.minutes.handling, sum(|minutes| minutes.handling)),
        (case.plan.minutes.cutting, sum(|minutes| minutes.cutting)),
        (case.plan.minutes.measuring, sum(|minutes| minutes.measuring)),
    ];
    for (plan, sum) in totals {
        found.check((plan - sum).abs() < 1e-6, || format!("plan {plan}, set-ups {sum}"));
    }
    let given = &case.shop.minutes;
    let or = |given: Option<f64>, name: &str| given.unwrap_or_else(|| crate::data::default(name));
    let turning = or(given.set_up, "minutes, set up").min(or(given.turn_piece, "minutes, turn piece"));
    for set_up in &case.plan.set_ups {
        let cutting: f64 = set_up.passes.iter().map(|pass| pass.minutes).sum();
        let measuring = or(given.measure, "minutes, measure") * set_up.measure.len() as f64;
        let handling = turning
            + or(given.touch_off, "minutes, touch off")
            + or(given.next_pass, "minutes, next pass") * (set_up.passes.len() - 1) as f64;
        let minutes = set_up.minutes;
        let right = (minutes.cutting - cutting).abs() < 1e-6
            && (minutes.measuring - measuring).abs() < 1e-6
            && minutes.handling >= handling - 1e-6;
        found.check(right, || format!("set-up {}: {minutes:?}, ours {handling} {cutting} {measuring}", set_up.number));
    }
}

fn the_order_is_proven_best(case: &Case, found: &mut Findings) {
    let faces = case.faces.iter().filter(|face| face.cut).count();
    if case.planned() && faces <= 10 {
        let search = case.plan.search;
        let looked = search.plans_possible >= 1.0 && search.examined >= faces as u64;
        found.check(search.proven_best && looked, || format!("{faces} faces: {search:?}"));
    }
}

fn the_metal_adds_up(case: &Case, found: &mut Findings) {
    if !case.planned() {
        return;
    }
    let bar = case.raw_bar().volume();
    let cut: Vec<usize> = (0..case.faces.len()).filter(|&at| case.faces[at].cut).collect();
    let removed: f64 = case.plan.set_ups.iter().map(|set_up| set_up.removed_mm3).sum();
    // A last cut that ends on a mark leaves up to half a mark on, or takes it off.
    let marks: f64 = cut.iter().map(|_| case.mark() / 2.0).sum::<f64>() * bar.powf(2.0 / 3.0) * 1.5;
    let asked = bar - case.piece_after(&cut).volume();
    found.check((removed - asked).abs() < 0.002 * bar + marks, || format!("removed {removed:.0}, ours {asked:.0}"));
    found.check((case.plan.stock.volume_mm3 / bar - 1.0).abs() < 1e-3, || {
        format!("bar of {:.0}, ours {bar:.0}", case.plan.stock.volume_mm3)
    });
    let round = crate::case::middle_of_limits(&case.job.part.length);
    found.check(case.plan.stock.least_length_mm >= round, || "the least length is less than the part".to_string());
}

/// The smaller size between opposed jaws, packing taken off; the diameter in a self-centring chuck.
fn gripped(set_up: &engine::plan::SetUp) -> f64 {
    let jaws = set_up.jaws.len();
    // A corner reaches no farther than the bottom of its groove.
    let bare = |jaw: &engine::plan::JawPlan| jaw.reach_mm - jaw.packing_mm;
    let out = |at: usize| set_up.jaws[at].vee.as_ref().map_or(bare(&set_up.jaws[at]), |vee| vee.groove_mm);
    let opposite = |at: usize| if jaws.is_multiple_of(2) { (at + jaws / 2) % jaws } else { at };
    (0..jaws).map(|at| out(at) + out(opposite(at))).fold(f64::MAX, f64::min)
}
