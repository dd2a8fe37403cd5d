//! The order and the holds that take the fewest minutes per good piece: branch and bound over the search's states.
//!
//! `J = (T + T_stock) / P`: T minutes of the plan, P the share of sample pieces that keep every requirement; a
//! scrapped piece starts again from new stock. P of a part of a plan can only fall, T to the end is known exactly
//! from the search for minutes, so that `(spent + to go + stock) / P so far` bounds every plan that goes on from
//! there. All plans are judged on the same sample pieces. The plan that a machinist expects stands until one is
//! better by more than plans count as alike.

use std::collections::BTreeMap;
use std::rc::Rc;

use nalgebra::Vector3;

use super::blank::Done;
use super::checks::Cut;
use super::quality::{Made, SEED, by, start};
use super::search::{Chosen, Jaws, NEED_MINUTES, Sought, States, to_cut};
use super::sits::{set_up, shapes, stands};
use super::way::{Custom, Way};
use crate::accuracy::{Chain, Cone, FaceShape, Samples, SetUp, Stands};
use crate::job::Seek;
use crate::plan::PerGood;
use crate::task::Task;

/// Pieces on which plans are compared.
const PIECES: u32 = 512;
/// Other pieces on which the winner is compared with the expected plan.
const AGAIN: u32 = 2048;
/// So many set-ups are tried at most beyond the expected plan, so that an answer comes in bounded time.
const MOST_TRIED: u64 = 600;

/// A plan begun.
#[derive(Clone)]
struct Begun<'a> {
    done: Done,
    jaws: Jaws,
    stands: Option<Stands>,
    chain: Chain,
    cut: Cut<'a>,
    good: Rc<[bool]>,
    set_ups: Vec<Chosen>,
    spent: f64,
}

/// The search with what it has learnt.
pub(super) struct Best<'s, 'a> {
    states: &'s mut States<'a>,
    sought: Sought<'s>,
    expected: Vec<Chosen>,
    task: &'a Task,
    samples: Samples,
    by: (Cone, f64),
    shapes: Vec<(FaceShape, Vector3<f64>)>,
    known: BTreeMap<usize, (Rc<Way>, Rc<SetUp>)>,
    /// Minutes that stand for broken rules of the trade in the best plan.
    needs: f64,
    stock_minutes: f64,
    best: f64,
    /// The same of the expected plan.
    expected_minutes: f64,
    plan: Vec<Chosen>,
    least_open: f64,
    tried: u64,
    /// Whether what cannot be better is left out.
    cuts_off: bool,
}

impl<'s, 'a> Best<'s, 'a> {
    /// Starts from the plan that a machinist expects; `fewest` are the least minutes of any plan.
    pub fn new(states: &'s mut States<'a>, expected: &[Chosen], fewest: f64, sought: &Sought<'s>) -> Best<'s, 'a> {
        let task = states.task;
        let mut best = Best {
            task,
            samples: Samples::new(PIECES, SEED),
            by: by(task),
            shapes: shapes(task),
            known: BTreeMap::new(),
            needs: (fewest / NEED_MINUTES).floor() * NEED_MINUTES,
            stock_minutes: task.scatter.new_blank_minutes,
            best: f64::INFINITY,
            expected_minutes: f64::INFINITY,
            plan: Vec::new(),
            least_open: f64::INFINITY,
            tried: 0,
            cuts_off: true,
            states,
            sought: sought.clone(),
            expected: if sought.allows(expected) { expected.to_vec() } else { Vec::new() },
        };
        best.start_from(expected);
        best.expected_minutes = best.best;
        sought.known.iter().for_each(|plan| best.start_from(plan));
        best.tried = 0;
        best
    }

    /// Takes a plan for the best so far where it is, by more than plans count as alike.
    fn start_from(&mut self, plan: &[Chosen]) {
        if plan.is_empty() || !self.sought.allows(plan) {
            return;
        }
        let begun = plan.iter().fold(self.nothing(), |begun, chosen| self.with(&begun, chosen));
        let worth = self.worth(begun.spent, &begun.good);
        if self.plan.is_empty() || worth < self.bar() {
            (self.best, self.plan) = (worth, begun.set_ups);
        }
    }

    /// The plan that is sought, and how far that is proven; no set-ups where there is none.
    pub fn seek(mut self) -> (Vec<Chosen>, PerGood) {
        let nothing = self.nothing();
        self.go_on(&nothing);
        let tried = self.tried;
        let least_minutes = (self.sought.seek == Seek::Balanced).then(|| self.least_open.min(self.best));
        // What won on these pieces may have been lucky on them: other pieces must say the same.
        let expected = self.expected.clone();
        if !expected.is_empty() && self.best < self.expected_minutes && !self.is_better(&expected) {
            (self.plan, self.best) = (expected, self.expected_minutes);
        }
        let made = self.plan.clone().iter().fold(self.nothing(), |begun, chosen| self.with(&begun, chosen));
        let share = self.share(&made.good);
        let minutes = worth(Seek::Balanced, (made.spent - self.needs, self.stock_minutes), share);
        (self.plan, PerGood { minutes, compared_minutes: minutes, least_minutes, tried })
    }

    fn share(&self, good: &[bool]) -> f64 {
        good.iter().filter(|&&good| good).count() as f64 / good.len() as f64
    }

    /// Whether the plan is better than the expected one by more than alike on pieces that it was not chosen by.
    fn is_better(&self, expected: &[Chosen]) -> bool {
        let again = |plan: &[Chosen]| {
            let minutes: f64 = plan.iter().map(|chosen| self.states.cost(chosen)).sum();
            let share = Made::of(self.task, plan, Vec::new()).forecast(AGAIN, SEED.wrapping_add(1)).all.share;
            worth(self.sought.seek, (minutes - self.needs, self.stock_minutes), share)
        };
        again(&self.plan) <= again(expected) * (1.0 - self.task.rules.like_plan_minutes)
    }

    fn nothing(&self) -> Begun<'a> {
        Begun {
            done: 0,
            jaws: Jaws(Vec::new()),
            stands: None,
            chain: start(self.task),
            cut: Cut::new(self.task, self.shapes.clone(), Vec::new()),
            good: vec![true; self.samples.count()].into(),
            set_ups: Vec::new(),
            spent: 0.0,
        }
    }

    /// What is sought, the less the better: minutes per good piece, or minutes, or pieces made for a good one.
    fn worth(&self, minutes: f64, good: &[bool]) -> f64 {
        let share = self.share(good);
        worth(self.sought.seek, (minutes - self.needs, self.stock_minutes), share)
    }

    /// A bound from which on nothing is looked for: what is better by less counts as alike.
    fn bar(&self) -> f64 {
        self.best * (1.0 - self.task.rules.like_plan_minutes)
    }

    fn go_on(&mut self, begun: &Begun<'a>) {
        let mut steps: Vec<(f64, Chosen)> = Vec::new();
        for step in self.states.every_step(begun.done, &begun.jaws) {
            let after = step.after(begun.done, self.task);
            let minutes = begun.spent + self.states.cost(&step) + self.states.minutes_to_go(after.0, &after.1);
            if minutes - self.needs < NEED_MINUTES {
                steps.push((minutes, step));
            }
        }
        if !self.cuts_off {
            steps.into_iter().for_each(|(_, step)| self.try_out(begun, &step));
            return;
        }
        // Stable: among equals the one that a machinist thinks of first.
        steps.sort_by(|one, other| one.0.total_cmp(&other.0));
        for (minutes, step) in steps {
            let bound = self.worth(minutes, &begun.good);
            if bound >= self.bar() || self.tried >= MOST_TRIED {
                self.least_open = self.least_open.min(bound);
                continue;
            }
            let next = self.with(begun, &step);
            let bound = self.worth(minutes, &next.good);
            if bound >= self.bar() {
                self.least_open = self.least_open.min(bound);
            } else if next.done == self.states.all {
                if self.sought.allows(&next.set_ups) {
                    (self.best, self.plan) = (bound, next.set_ups);
                }
            } else {
                self.go_on(&next);
            }
        }
    }

    /// Goes on with a step whatever can come of it: the witness of what is cut off.
    fn try_out(&mut self, begun: &Begun<'a>, step: &Chosen) {
        let next = self.with(begun, step);
        if next.done != self.states.all {
            self.go_on(&next);
            return;
        }
        let worth = self.worth(next.spent, &next.good);
        if worth < self.best {
            (self.best, self.plan) = (worth, next.set_ups);
        }
    }

    /// The least of what is sought over every order, hold and turn of the piece, none left out, on the same pieces, and
    /// how many set-ups were tried with their errors for it.
    pub fn without_cutting_off(mut self) -> (f64, u64) {
        self.cuts_off = false;
        let nothing = self.nothing();
        self.go_on(&nothing);
        (self.best, self.tried)
    }

    /// The plan with one set-up more: its errors, and which sample pieces are still good.
    fn with(&mut self, begun: &Begun<'a>, chosen: &Chosen) -> Begun<'a> {
        self.tried += 1;
        let mut next = begun.clone();
        let set_up = self.set_up(&chosen.way);
        let stands = stands(chosen, begun.stands.as_ref());
        next.chain.cut(&mut self.samples, &set_up, &stands);
        next.cut.add(&chosen.way, &set_up);
        let mut good = begun.good.to_vec();
        for check in next.cut.checks(Some(chosen.way.facing.lie.face)) {
            let valued = check.valued(&next.chain, &mut self.samples, self.by.0, self.by.1);
            good.iter_mut().enumerate().for_each(|(piece, good)| *good = *good && valued.good(piece));
        }
        next.good = good.into();
        next.spent += self.states.cost(chosen);
        (next.done, next.jaws) = chosen.after(begun.done, self.task);
        next.stands = Some(stands);
        next.set_ups.push(chosen.clone());
        next
    }

    fn set_up(&mut self, way: &Rc<Way>) -> Rc<SetUp> {
        let (task, shapes) = (self.task, &self.shapes);
        // Looked up by its address while it is kept alive here; the order of addresses decides nothing.
        let known = self
            .known
            .entry(Rc::as_ptr(way) as usize)
            .or_insert_with(|| (Rc::clone(way), Rc::new(set_up(task, way, &shapes[way.facing.lie.face]))));
        Rc::clone(&known.1)
    }
}

/// Minutes of a plan and of new stock, and the share of good pieces, as one number that is to be least: balanced,
/// minutes per good piece; quickest, minutes; truest, pieces made for a good one, minutes only between equals.
fn worth(seek: Seek, (minutes, stock_minutes): (f64, f64), share: f64) -> f64 {
    /// So small that no minutes make up for a good piece.
    const BETWEEN_EQUALS: f64 = 1e-9;
    match seek {
        Seek::Balanced => (minutes + stock_minutes) / share,
        Seek::Quickest => minutes,
        Seek::Truest => (1.0 + BETWEEN_EQUALS * minutes) / share,
    }
}

/// The least minutes for a good piece over every order, hold and turn of the piece, one after another, on the pieces that
/// plans are compared on, and how many set-ups that took: the witness of the search. `None`: no plan, or too many faces.
/// Last holds are not asked for. The work grows as the factorial of the faces.
pub fn exhaustive_per_good(task: &Task) -> Option<(f64, u64)> {
    [Custom::Trade, Custom::Need].into_iter().find_map(|custom| {
        let mut states = States::new(task, custom, to_cut(task));
        let fewest = states.minutes_to_go(0, &Jaws(Vec::new()));
        (fewest.is_finite() && states.exact)
            .then(|| Best::new(&mut states, &[], fewest, &Sought::of(task)).without_cutting_off())
    })
}
