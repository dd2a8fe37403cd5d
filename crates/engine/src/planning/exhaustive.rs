//! The witness of the order search: every order, hold and turn of the piece, one after another.
//!
//! Nothing is cut off, no state is remembered and no set-up is taken for the twin of another, so that it
//! can disagree with the search. Only what a set-up takes is worked out once for each set of finished
//! faces. The work grows as the factorial of the faces.

use std::collections::BTreeMap;

use super::blank::{Done, has};
use super::search::{Fewest, to_cut};
use super::way::{Custom, Way, ways_alone};
use crate::task::Task;

/// What trying every order found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exhausted {
    /// Whole plans tried, turns of the piece counted.
    pub plans: u64,
    /// The fewest minutes among them; `None`: no order works.
    pub fewest: Option<Fewest>,
}

/// Tries every order and hold that the trade's rules allow, or where they leave none, what need allows.
/// Jaw 1 of the first set-up is fixed, since turning a whole plan only renames the jaws.
pub fn exhaustive(task: &Task) -> Exhausted {
    let by_the_rules = exhaustive_by(task, Custom::Trade);
    if by_the_rules.fewest.is_some() { by_the_rules } else { exhaustive_by(task, Custom::Need) }
}

fn exhaustive_by(task: &Task, custom: Custom) -> Exhausted {
    let all = to_cut(task);
    let mut steps = BTreeMap::new();
    collect(task, custom, (0, all), &mut steps);
    let mut trial = Trial { task, all, steps: &steps, found: Exhausted { plans: 0, fewest: None } };
    trial.go_on(0, None, Fewest { needs: 0, minutes: 0.0 });
    trial.found
}

/// A set-up as the orders see it.
struct Step {
    after: Done,
    minutes: f64,
    needs: u32,
    /// Where the jaws stand, in the steps of the search, for every turn of the piece.
    standing: Vec<Vec<i64>>,
}

fn collect(task: &Task, custom: Custom, (done, all): (Done, Done), steps: &mut BTreeMap<Done, Vec<Step>>) {
    if done == all || steps.contains_key(&done) {
        return;
    }
    let left = (0..task.faces.len()).filter(|&face| has(all & !done, face));
    let found: Vec<Step> = left
        .flat_map(|face| {
            let ways = ways_alone(task, custom, (done, face)).unwrap_or_default();
            ways.into_iter().map(move |way| step(task, &way, done | (1 << face)))
        })
        .collect();
    let next: Vec<Done> = found.iter().map(|step| step.after).collect();
    steps.insert(done, found);
    for after in next {
        collect(task, custom, (after, all), steps);
    }
}

fn step(task: &Task, way: &Way, after: Done) -> Step {
    let stands: Vec<i64> = way.reach_mm.iter().map(|reach| (reach / task.rules.jaw_stands_mm).round() as i64).collect();
    let turned = |turn: usize| stands.iter().cycle().skip(turn).take(stands.len()).copied().collect();
    Step {
        after,
        minutes: way.own_minutes.total(),
        needs: u32::from(way.facing.depth.shallow) + u32::from(way.sawn_ends),
        standing: (0..stands.len()).map(turned).collect(),
    }
}

struct Trial<'a> {
    task: &'a Task,
    all: Done,
    steps: &'a BTreeMap<Done, Vec<Step>>,
    found: Exhausted,
}

impl<'a> Trial<'a> {
    fn go_on(&mut self, done: Done, before: Option<&'a [i64]>, spent: Fewest) {
        if done == self.all {
            self.finished(spent);
            return;
        }
        let steps = self.steps;
        for step in steps.get(&done).into_iter().flatten() {
            let turns = if before.is_none() { 1 } else { step.standing.len() };
            for standing in &step.standing[..turns] {
                let minutes = spent.minutes + step.minutes + self.getting_in(before, standing);
                self.go_on(step.after, Some(standing), Fewest { needs: spent.needs + step.needs, minutes });
            }
        }
    }

    fn finished(&mut self, spent: Fewest) {
        self.found.plans += 1;
        let better = self
            .found
            .fewest
            .is_none_or(|best| spent.needs < best.needs || spent.needs == best.needs && spent.minutes < best.minutes);
        if better {
            self.found.fewest = Some(spent);
        }
    }

    /// The piece is turned when a jaw may stay where it was, else set up anew. Chucks with an odd number
    /// of jaws have no opposed pairs: taking the piece out moves them all.
    fn getting_in(&self, before: Option<&[i64]>, now: &[i64]) -> f64 {
        let minutes = &self.task.minutes;
        let stays = before.is_some_and(|before| {
            before.len() == now.len()
                && now.len().is_multiple_of(2)
                && before.iter().zip(now).any(|(was, is)| was == is)
        });
        if stays { minutes.turn_piece } else { minutes.set_up }
    }
}
