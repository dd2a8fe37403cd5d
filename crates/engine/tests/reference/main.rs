//! Last hold and minimum zone beside a general cone solver from the registry (clarabel): random sets, seed stated.
#![allow(missing_docs)]

mod contacts;
mod creep;
mod general;
mod seat;
mod zones;

use contacts::{Case, Dice};
use engine::holding::{LastHold, LastHoldEnd, LastHoldFound, Wrench, certify};
use general::Answer;

/// Equal to this share; below a thousandth, to this absolutely: the general solver stops at about 1e-8.
const EQUAL: f64 = 1e-7;

/// The general solver stopped at less than the accuracy asked of it.
const NEAR: f64 = 1e-5;

fn solve(case: &Case) -> (LastHold, LastHoldFound) {
    let hold = LastHold::new(&case.points, &case.limits).expect("a plain hold");
    let found = hold.under(&case.growing, &case.constant).expect("a plain load");
    (hold, found)
}

/// What differs from the general solver's answer, or is not proven.
fn fault(case: &Case) -> Option<String> {
    let (hold, found) = solve(case);
    let certificate = certify(&hold, &case.growing, &case.constant, &found);
    let theirs = general::solve(&hold, &case.growing, &case.constant);
    let proven = match found.end {
        LastHoldEnd::Gives => certificate.proves(&found, 1e-7),
        LastHoldEnd::Free | LastHoldEnd::Loose => found.factor == 0.0,
        // Kept sums that cannot balance one another: nothing to prove, and nothing is held.
        LastHoldEnd::Open => found.factor == 0.0 && theirs == Answer::Impossible,
    };
    let same = match theirs {
        Answer::Factor(factor) => (factor.max(0.0) - found.factor).abs() <= EQUAL * found.factor.max(1.0),
        Answer::Impossible => found.factor == 0.0,
        Answer::Near(factor) => proven && (factor.max(0.0) - found.factor).abs() <= NEAR * found.factor.max(1.0),
        Answer::Unknown => proven,
    };
    (!same || !proven).then(|| {
        format!(
            "theirs {theirs:?}, ours {} to {}, {:?} in {} steps, {certificate:?}",
            found.factor, found.at_most, found.end, found.iterations
        )
    })
}

fn all_agree(name: &str, count: u64, make: impl Fn(&mut Dice) -> Case) {
    let faults: Vec<String> = (0..count)
        .filter_map(|seed| fault(&make(&mut Dice::new(seed))).map(|says| format!("{name}, seed {seed}: {says}")))
        .collect();
    assert!(faults.is_empty(), "{} of {count}:\n{}", faults.len(), faults[..faults.len().min(8)].join("\n"));
}

#[test]
fn blocks_and_rounds_in_jaws_agree() {
    all_agree("jaws", 1500, contacts::in_jaws);
}

#[test]
fn contacts_anywhere_agree() {
    all_agree("anywhere", 1500, contacts::anywhere);
}

#[test]
fn degenerate_contacts_are_answered_as_what_they_are() {
    all_agree("degenerate", 1000, contacts::degenerate);
}

#[test]
fn loads_that_stay_agree() {
    all_agree("constant loads", 1000, contacts::with_constant_load);
}

/// Closed form: two points on one line cannot resist a moment about it.
#[test]
fn a_line_of_points_turns_freely() {
    let mut case = contacts::in_jaws(&mut Dice::new(1));
    case.points.iter_mut().for_each(|point| point.at_mm = point.at_mm.component_mul(&nalgebra::Vector3::x()));
    case.growing = Wrench { force_n: nalgebra::Vector3::zeros(), moment_n_mm: nalgebra::Vector3::x() };
    let (_, found) = solve(&case);
    assert_eq!((found.factor, found.end), (0.0, LastHoldEnd::Free));
}

/// The least found over the whole turn is no more than any angle's, and the proven least is not above any.
#[test]
fn the_weakest_moment_is_below_every_angle() {
    use engine::holding::{TurnCut, WeakestSearch};
    use engine::plan::Force3;
    for seed in 0..60 {
        let mut dice = Dice::new(400 + seed);
        let case = contacts::in_jaws(&mut dice);
        let hold = LastHold::new(&case.points, &case.limits).expect("a plain hold");
        let cut = |dice: &mut Dice| TurnCut {
            radius_mm: dice.between(2.0, 40.0),
            height_mm: dice.between(1.0, 60.0),
            force: Force3 {
                cutting: dice.between(100.0, 2000.0),
                feed: dice.between(20.0, 900.0),
                passive: dice.between(20.0, 900.0),
            },
            weight_n: dice.between(0.0, 40.0),
            mass_centre_mm: nalgebra::Vector3::new(dice.between(-3.0, 3.0), dice.between(-3.0, 3.0), -5.0),
        };
        let cuts = [cut(&mut dice), cut(&mut dice), cut(&mut dice)];
        let how = WeakestSearch::default();
        let weakest = hold.weakest(&cuts, &[], &how).expect("plain loads").expect("there are cuts");
        // Angles that the search does not use, and radii between nought and the cut's own.
        for cut in &cuts {
            for step in 0..90 {
                let inner = TurnCut { radius_mm: cut.radius_mm * f64::from(step % 3) / 2.0, ..*cut };
                for turn in [cut, &inner] {
                    let load = turn.at_angle(4.0 * f64::from(step) + 1.3);
                    let factor = hold.under(&load.cut(), &load.weight()).expect("a plain load").factor;
                    let whole = turn.radius_mm == cut.radius_mm;
                    if whole {
                        assert!(
                            factor >= weakest.at_least * (1.0 - 1e-7),
                            "seed {seed}, {step}: {factor}, {weakest:?}"
                        );
                    }
                }
            }
        }
        let near = weakest.at_least >= weakest.found.factor * (1.0 - how.share) - 1e-9;
        assert!(near, "seed {seed}: {} to {}", weakest.at_least, weakest.found.factor);
    }
}
