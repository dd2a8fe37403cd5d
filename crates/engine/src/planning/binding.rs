//! What stands between a job and its plan: the fewest kinds of refusal without which an order would lead to the part.

use std::collections::{BTreeMap, BTreeSet};

use super::blank::Done;
use super::way::Refusal;

/// A step from a set of finished faces: the face, and what refuses it; nothing: it can be cut.
pub struct Step {
    /// The face.
    pub face: usize,
    /// Every alternative's refusal with its kind; `None`: the face can be cut.
    pub refused: Option<Vec<(&'static str, Refusal)>>,
}

/// Refused by the trade's order alone: what keeps the ends from being faced is the reason, not this.
const ONLY_WAITS: &str = "ends-first";
/// Most kinds freed together.
const MOST_TOGETHER: usize = 3;

type Kinds = BTreeSet<&'static str>;

/// The refusals that bind: of the smallest sets of kinds without which every face could be cut, all of them, where
/// they stand on the way to the finished part. Empty: no set of up to three kinds frees it.
pub fn binding(all: Done, steps: &mut impl FnMut(Done) -> Vec<Step>) -> Vec<(usize, Refusal)> {
    let mut tried: BTreeSet<Kinds> = BTreeSet::new();
    let mut sets: Vec<Kinds> = vec![Kinds::new()];
    for _ in 0..=MOST_TOGETHER {
        let mut larger: Vec<Kinds> = Vec::new();
        let mut found: Vec<(usize, Refusal)> = Vec::new();
        for freed in sets {
            let graph = Graph::explored(all, &freed, steps);
            graph.on_the_way(&freed, &mut found);
            for kind in graph.met.difference(&freed).filter(|kind| **kind != ONLY_WAITS) {
                let mut more = freed.clone();
                more.insert(kind);
                if tried.insert(more.clone()) {
                    larger.push(more);
                }
            }
        }
        if !found.is_empty() {
            return found;
        }
        sets = larger;
    }
    Vec::new()
}

/// The sets of finished faces that are reached when some kinds of refusal are freed.
struct Graph {
    all: Done,
    steps: BTreeMap<Done, Vec<Step>>,
    met: Kinds,
}

impl Graph {
    fn explored(all: Done, freed: &Kinds, steps: &mut impl FnMut(Done) -> Vec<Step>) -> Graph {
        let mut graph = Graph { all, steps: BTreeMap::new(), met: Kinds::new() };
        let mut open: Vec<Done> = vec![0];
        while let Some(done) = open.pop() {
            if done == all || graph.steps.contains_key(&done) {
                continue;
            }
            let here = steps(done);
            for step in &here {
                graph.met.extend(step.refused.iter().flatten().map(|(kind, _)| kind));
                if passable(step, freed) {
                    open.push(done | (1 << step.face));
                }
            }
            graph.steps.insert(done, here);
        }
        graph
    }

    /// The freed refusals from which the finished part can be reached.
    fn on_the_way(&self, freed: &Kinds, found: &mut Vec<(usize, Refusal)>) {
        let mut leads: BTreeSet<Done> = BTreeSet::from([self.all]);
        // A state holds more faces than those before it, hence a greater number.
        for (&done, steps) in self.steps.iter().rev() {
            if steps.iter().any(|step| passable(step, freed) && leads.contains(&(done | (1 << step.face)))) {
                leads.insert(done);
            }
        }
        if !leads.contains(&0) {
            return;
        }
        for (&done, steps) in &self.steps {
            for step in steps.iter().filter(|step| leads.contains(&(done | (1 << step.face)))) {
                let freed = step.refused.iter().flatten().filter(|(kind, _)| freed.contains(kind));
                found.extend(freed.map(|(_, refusal)| (step.face, refusal.clone())));
            }
        }
    }
}

fn passable(step: &Step, freed: &Kinds) -> bool {
    step.refused.as_ref().is_none_or(|refused| refused.iter().any(|(kind, _)| freed.contains(kind)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::planning::lie::CannotLie;

    fn corner() -> (&'static str, Refusal) {
        ("corner", Refusal::Lie(CannotLie::Corner(0.0)))
    }

    fn seat() -> (&'static str, Refusal) {
        ("seat", Refusal::Unsquared)
    }

    fn bite() -> (&'static str, Refusal) {
        ("bite", Refusal::Shallow(1.0, 2.0))
    }

    fn found(
        all: Done,
        refused: impl Fn(Done, usize) -> Option<Vec<(&'static str, Refusal)>>,
    ) -> Vec<(usize, Refusal)> {
        let faces = all.count_ones() as usize;
        let mut steps = |done: Done| {
            let left = (0..faces).filter(|face| done & (1 << face) == 0);
            left.map(|face| Step { face, refused: refused(done, face) }).collect()
        };
        binding(all, &mut steps)
    }

    /// Cut first, face 0 leaves face 1 on a corner; the order that avoids it lacks a seat.
    #[test]
    fn the_dead_end_and_the_order_that_would_avoid_it_are_both_told() {
        let told = found(0b11, |done, face| match (done, face) {
            (0b01, 1) => Some(vec![corner()]),
            (0b00, 1) => Some(vec![seat()]),
            _ => None,
        });
        let (at_1, refusals): (Vec<usize>, Vec<Refusal>) = told.into_iter().unzip();
        assert_eq!(at_1, [1, 1]);
        assert!(refusals.contains(&corner().1) && refusals.contains(&seat().1));
    }

    #[test]
    fn what_only_together_stands_in_the_way_is_told_together() {
        let told = found(0b11, |_, face| Some(vec![if face == 0 { seat() } else { bite() }]));
        assert!(told.contains(&(0, seat().1)) && told.contains(&(1, bite().1)));
    }

    /// A dead end beside the way is none of its reasons.
    #[test]
    fn what_frees_nothing_is_not_told() {
        let told = found(0b111, |done, face| match (done, face) {
            (_, 0) => Some(vec![seat()]),
            (0b110, _) | (0b010, 2) => Some(vec![corner()]),
            _ => None,
        });
        assert!(told.iter().all(|one| *one == (0, seat().1)) && !told.is_empty());
        assert!(found(0b1, |_, _| Some(Vec::new())).is_empty());
    }
}
