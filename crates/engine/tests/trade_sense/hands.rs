//! What the hands do, in words: locks, key, guard, parallels, first start.

use engine::plan::{Hand, SetUp};
use engine::quantity::Plain;

use crate::case::Case;
use crate::jaws::each;
use crate::rule;
use crate::rule::{Findings, Rule};

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T06",
            parallels_are_out_and_counted_before_the_start,
            |case| drop_steps(case, "parallels out"),
            "parallels are out and counted before the spindle turns",
            "seat on parallels: between every step that puts them in and the next start or pass a step draws both out and counts them",
            "common practice, no source"
        ),
        rule!(
            "T32",
            the_carriage_is_locked_for_every_face,
            |case| drop_steps(case, "Lock the carriage"),
            "the carriage is locked for every face",
            "in every set-up a step with \"Lock the carriage\" stands before the ring is set to 0 and before the first pass",
            "common practice, no source; public lathe texts say so of facing"
        ),
        rule!(
            "T33",
            the_key_is_out_before_every_start,
            |case| drop_steps(case, " out before your hand"),
            "the key is out before every start",
            "between every step that sets or tightens a jaw and the next start or pass a step takes the key out",
            "makers' manuals of lathes and chucks"
        ),
        rule!(
            "T34",
            the_first_start_is_the_lowest_speed,
            |case| drop_steps(case, "hut the guard"),
            "the first start is the lowest speed, guard shut, after one turn by hand",
            "in the hands of every set-up: one full turn by hand, guard, first start with the lowest of `speeds`, in this order, before the first pass",
            "makers' manuals of lathes; US Navy and Army training texts"
        ),
        rule!(
            "T35",
            the_work_is_looked_at_after_the_first_cut,
            |case| drop_steps(case, "chalk line"),
            "the work is looked at and the jaws gone round after the first cut, and the dial zeroed again",
            "two or more passes: between pass 1 and the next a stop to look; then jaws tightened and touched off again, unless the piece comes out there anyway and is put back and touched off",
            "common practice, no source"
        ),
        rule!(
            "T43",
            burrs_go_before_the_next_grip,
            |case| drop_steps(case, "eburr"),
            "burrs go before the next grip, and jaws and work are wiped",
            "from the second set-up on a step deburrs, at the end of the set-up before or before the jaws are set; in every set-up one wipes jaws and work before they are tightened",
            "college and wikibook pages on deburring and clamping"
        ),
        rule!(
            "T57",
            every_pass_is_taken_once_and_every_stop_made,
            |case| each(case, |set_up| set_up.hands.retain(|hand| !matches!(hand, Hand::Passes { .. }))),
            "the hands take every pass once, in order, and stop for every measure",
            "the `Passes` of the hands cover the passes without gap or overlap; every `measure` has its `Stop` once",
            "project's rule"
        ),
    ]
}

/// Texts of the steps, in order.
pub fn steps(set_up: &SetUp) -> Vec<&str> {
    set_up
        .hands
        .iter()
        .map(|hand| match hand {
            Hand::Do { does, .. } => does.as_str(),
            _ => "",
        })
        .collect()
}

fn drop_steps(case: &mut Case, with: &str) {
    for set_up in &mut case.plan.set_ups {
        set_up.hands.retain(|hand| !matches!(hand, Hand::Do { does, .. } if does.contains(with)));
    }
}

/// Where the first of these texts stands.
fn first(set_up: &SetUp, holds: impl Fn(&str) -> bool) -> usize {
    steps(set_up).iter().position(|step| holds(step)).unwrap_or(usize::MAX)
}

fn first_pass(set_up: &SetUp) -> usize {
    set_up.hands.iter().position(|hand| matches!(hand, Hand::Passes { .. })).unwrap_or(usize::MAX)
}

/// Whether the spindle turns under power in this step.
fn turns(hand: &Hand) -> bool {
    match hand {
        Hand::Do { does, .. } => does.contains("First start") || does.contains("start again"),
        Hand::Passes { .. } => true,
        Hand::Stop(_) => false,
    }
}

/// What was begun and not ended when the spindle turns.
fn left_open(set_up: &SetUp, begins: fn(&str) -> bool, ends: fn(&str) -> bool) -> Option<usize> {
    let mut open = false;
    set_up.hands.iter().position(|hand| {
        if let Hand::Do { does, .. } = hand {
            open |= begins(does);
            open &= !ends(does);
        }
        open && turns(hand)
    })
}

fn parallels_are_out_and_counted_before_the_start(case: &Case, found: &mut Findings) {
    for set_up in
        case.plan.set_ups.iter().filter(|set_up| set_up.seat.as_ref().is_some_and(|seat| seat.packing_mm > 0.0))
    {
        let puts_in =
            |step: &str| step.contains("Stand an equal pair") || step.contains("the parallels behind it again");
        let open = left_open(set_up, puts_in, |step| step.contains("parallels out") && step.contains("count"));
        let told = first(set_up, puts_in) < first_pass(set_up);
        found.check(told && open.is_none(), || format!("set-up {}: parallels in at step {open:?}", set_up.number));
    }
}

fn the_carriage_is_locked_for_every_face(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        let lock = first(set_up, |step| step.contains("Lock the carriage"));
        let zero = first(set_up, |step| step.contains("ring to 0"));
        let right = lock < zero && zero < first_pass(set_up);
        found.check(right, || format!("set-up {}: lock at {lock}, zero at {zero}", set_up.number));
    }
}

fn the_key_is_out_before_every_start(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        let uses_key = |step: &str| {
            [
                "ighten",
                " tight",
                "Loosen",
                "loosen",
                "Set the jaws",
                "Open the jaws",
                "Go round the jaws",
                "move opposed jaws",
            ]
            .iter()
            .any(|word| step.contains(word))
        };
        let key_out =
            |step: &str| ["chuck key", "chuck wrench"].iter().any(|key| step.contains(&format!("Take the {key} out")));
        let used = first(set_up, uses_key) < first_pass(set_up);
        let open = left_open(set_up, uses_key, key_out);
        found.check(used && open.is_none(), || format!("set-up {}: key in at step {open:?}", set_up.number));
    }
}

fn the_first_start_is_the_lowest_speed(case: &Case, found: &mut Findings) {
    let lowest = case.lathe().speeds.iter().map(|speed| speed.plain()).fold(f64::MAX, f64::min);
    for set_up in &case.plan.set_ups {
        let by_hand = first(set_up, |step| step.contains("one full turn by hand"));
        let guard = first(set_up, |step| step.contains("hut the guard"));
        let start = first(set_up, |step| step.contains("First start") && step.contains(&format!("{lowest:.0} rpm")));
        // After its first time said in one step: then the turn by hand comes first in it.
        let in_order = by_hand < guard || by_hand == guard && turned_before_guard(steps(set_up).get(guard));
        let right = in_order && guard < start && start < first_pass(set_up);
        found.check(right, || {
            format!("set-up {}: by hand {by_hand}, guard {guard}, start at {lowest} {start}", set_up.number)
        });
    }
}

/// Whether a step names the turn by hand before the guard.
fn turned_before_guard<T: AsRef<str>>(step: Option<T>) -> bool {
    step.is_some_and(|step| {
        let at = |words: &str| step.as_ref().find(words);
        at("one full turn by hand").zip(at("hut the guard")).is_some_and(|(turn, guard)| turn < guard)
    })
}

fn the_work_is_looked_at_after_the_first_cut(case: &Case, found: &mut Findings) {
    for set_up in case.plan.set_ups.iter().filter(|set_up| set_up.passes.len() > 1) {
        let texts = steps(set_up);
        let begin = first_pass(set_up);
        let alone = matches!(set_up.hands.get(begin), Some(Hand::Passes { from: 0, to: 1 }));
        let next = (begin + 1..set_up.hands.len()).find(|&at| matches!(set_up.hands[at], Hand::Passes { .. }));
        let between = &texts[(begin + 1).min(texts.len())..next.unwrap_or(begin + 1).max(begin + 1).min(texts.len())];
        let says = |word: &str| between.iter().any(|step| step.contains(word));
        let gone_round = says("once more") || says("Put the piece back");
        let right = alone && says("Look at the chalk line") && gone_round && says("Touch off again");
        found.check(right, || format!("set-up {}: after the first cut {between:?}", set_up.number));
    }
}

fn burrs_go_before_the_next_grip(case: &Case, found: &mut Findings) {
    for (at, set_up) in case.plan.set_ups.iter().enumerate() {
        let wipe = first(set_up, |step| step.contains("Wipe the jaws"));
        let grip = first(set_up, |step| step.contains("Put the work in"));
        let burr = at == 0
            || first(set_up, |step| step.contains("eburr")) < grip
            || steps(&case.plan.set_ups[at - 1]).iter().any(|step| step.contains("eburr"));
        found.check(wipe < grip && burr, || format!("set-up {}: wipe {wipe}, grip {grip}, burr {burr}", set_up.number));
    }
}

fn every_pass_is_taken_once_and_every_stop_made(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        let taken: Vec<usize> = set_up
            .hands
            .iter()
            .filter_map(|hand| match hand {
                Hand::Passes { from, to } => Some(*from..*to),
                _ => None,
            })
            .flatten()
            .collect();
        let stops = |index: usize| set_up.hands.iter().filter(|hand| **hand == Hand::Stop(index)).count();
        let right =
            taken.iter().copied().eq(0..set_up.passes.len()) && (0..set_up.measure.len()).all(|at| stops(at) == 1);
        found.check(right, || format!("set-up {}: passes {taken:?} of {}", set_up.number, set_up.passes.len()));
    }
}
