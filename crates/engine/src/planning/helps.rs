//! What would make more pieces good: each cause of error halved in turn, the hardest limit looser; and where most fail,
//! the fewest causes that stand in the way.

use super::quality::{Made, PIECES, SEED, words_of};
use super::weigh::Judged;
use crate::accuracy::{Cause, Judged as Limits};
use crate::plan::{self, Blocking, Chance, Help};
use crate::quantity::limits;
use crate::task::Task;

/// A change that brings less, as a share of all pieces, is not told.
const LEAST_HELP: f64 = 0.005;
/// So many changes are told at most.
const MOST_HELPS: usize = 4;
/// A looser limit is told that lets so many pieces keep this requirement.
const LOOSENED_TO: f64 = 0.98;
/// Where fewer are good, what stands in the way is sought; it is out of the way when as many are.
const MOST_FAIL: f64 = 0.5;
/// So many causes together are looked at.
const MOST_CAUSES: usize = 3;

/// Every cause, all jaws as one.
const CAUSES: [Cause; 13] = [
    Cause::JawFace(0),
    Cause::Regrip,
    Cause::Dirt,
    Cause::Packing,
    Cause::Skin,
    Cause::Eye,
    Cause::Seat,
    Cause::AxialSlip,
    Cause::CrossSlide,
    Cause::Cut,
    Cause::Gauge,
    Cause::TouchOff,
    Cause::Roughness,
];

/// Changes to the plan that is taken, the one that helps most first.
pub fn helps(task: &Task, taken: &Judged) -> Vec<Help> {
    let now = taken.forecast.all.share;
    let halved = CAUSES.map(|cause| (cause.halved_by().to_string(), share(&taken.made, &[(cause, 0.5)])));
    let mut found: Vec<(String, Chance)> =
        halved.into_iter().chain(looser(task, taken)).filter(|(_, chance)| chance.share - now >= LEAST_HELP).collect();
    // Stable: among equals in the order of the list.
    found.sort_by(|one, other| other.1.share.total_cmp(&one.1.share));
    found.truncate(MOST_HELPS);
    let help = |(change, chance): (String, Chance)| {
        let per_good_minutes = taken.per_good(task, chance.share);
        Help { change, chance, per_good_minutes }
    };
    found.into_iter().map(help).collect()
}

fn share(made: &Made, quieter: &[(Cause, f64)]) -> Chance {
    told(made.forecast_quieter(PIECES, SEED, quieter).all)
}

fn told(found: crate::accuracy::Chance) -> Chance {
    Chance { share: found.share, error: found.error }
}

/// The requirement that fewest pieces keep, with a limit that most would.
fn looser(task: &Task, taken: &Judged) -> Option<(String, Chance)> {
    let shares = taken.forecast.told.iter().map(|told| told.chance.share);
    let (at, share) = shares.enumerate().min_by(|one, other| one.1.total_cmp(&other.1))?;
    if share >= LOOSENED_TO {
        return None;
    }
    let check = &taken.made.checks()[at];
    let more_mm = taken.made.lacking_mm(at, LOOSENED_TO, (PIECES, SEED));
    let places = |mm: f64| (mm * 1000.0).ceil() / 1000.0;
    let more_mm = places(more_mm);
    let change = match check.judged {
        Limits::Zone { most, .. } => {
            let wide = limits::length_within(most + more_mm, most + more_mm, task.units);
            format!("\"{}\" within {wide}", words_of(task, check))
        }
        Limits::Within(..) => {
            let by = limits::length_within(more_mm, more_mm, task.units);
            format!("limits of \"{}\" wider by {by} either way", words_of(task, check))
        }
    };
    Some((change, told(taken.made.loosened(at, more_mm).forecast(PIECES, SEED).all)))
}

/// The fewest causes without which most pieces would be good; `None`: most are.
pub fn blocking(task: &Task, taken: &Judged) -> Option<Blocking> {
    if taken.forecast.all.share >= MOST_FAIL {
        return None;
    }
    let gone: Vec<(Cause, f64)> = CAUSES.map(|cause| (cause, 0.0)).to_vec();
    let without_any = taken.made.forecast_quieter(PIECES, SEED, &gone);
    if without_any.all.share < MOST_FAIL {
        let failing = taken.made.checks().iter().zip(&without_any.told);
        let fails = failing.filter(|(_, told)| told.chance.share < MOST_FAIL);
        let fails = fails.map(|(check, _)| format!("\"{}\"", words_of(task, check))).collect();
        return Some(Blocking { causes: Vec::new(), without: plan::Chance::default(), fails });
    }
    let (causes, without) = (1..=MOST_CAUSES).find_map(|count| {
        let sets = sets(&gone, count);
        let judged = sets.into_iter().map(|set| (share(&taken.made, &set), set));
        let best = judged.reduce(|best, next| if next.0.share > best.0.share { next } else { best });
        best.filter(|(chance, _)| chance.share >= MOST_FAIL).map(|(chance, set)| (set, chance))
    })?;
    let causes = causes.into_iter().map(|(cause, _)| cause.words_of_every_jaw()).collect();
    Some(Blocking { causes, without, fails: Vec::new() })
}

/// All sets of so many.
fn sets(of: &[(Cause, f64)], count: usize) -> Vec<Vec<(Cause, f64)>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let with = |(at, first): (usize, &(Cause, f64))| {
        sets(&of[at + 1..], count - 1).into_iter().map(|rest| [vec![*first], rest].concat()).collect::<Vec<_>>()
    };
    of.iter().enumerate().flat_map(with).collect()
}
