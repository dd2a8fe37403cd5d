//! The order of faces and holds that takes the fewest minutes, found by exhaustion of all states.
//!
//! A state is the set of finished faces and where the jaws stand; what a set-up costs depends on
//! nothing else. The least minutes from every state to the end are exact, so the best plan is proven.
//! Among the plans within 2 % of it the one that a machinist expects is taken.

use std::collections::{BTreeMap, HashMap};
use std::rc::Rc;

use super::best::Best;
use super::binding::{Step, binding};
use super::blank::{Done, has};
use super::facing::CannotFace;
use super::last_hold::{LastHoldJudged, last_hold};
use super::reasons;
use super::twins::Twins;
use super::way::{Custom, Refusal, Way, ways};
use super::window::SeatOn;
use crate::job::Seek;
use crate::part::Place;
use crate::plan::{PerGood, Search};
use crate::task::Task;

/// A set-up chosen: the way, turned so that jaw 1 stands at this side.
#[derive(Debug, Clone)]
pub struct Chosen {
    /// The way.
    pub way: Rc<Way>,
    /// Jaw j (from 0) bears on side (j + turn) mod number of jaws.
    pub turn: usize,
    /// Jaws left alone since the set-up before, from 0.
    pub kept: Vec<usize>,
    /// Minutes of getting the piece into this set-up.
    pub set_up_minutes: f64,
    /// The second opinion on the grip; worked out for the plan that is taken.
    pub last_hold: Option<LastHoldJudged>,
}

impl Chosen {
    /// The state after it: finished faces, and where the jaws stand.
    pub(super) fn after(&self, done: Done, task: &Task) -> (Done, Jaws) {
        (done | (1 << self.way.facing.lie.face), Jaws::of(task, &self.way, self.turn))
    }
}

/// Which plan is sought.
#[derive(Debug, Clone)]
pub(super) struct Sought<'p> {
    /// What the best order is.
    pub seek: Seek,
    /// The plan is to take other set-ups than these; empty: any will do.
    pub other_than: &'p [Chosen],
    /// Plans known beforehand: where one is allowed, what is found is no worse.
    pub known: &'p [Vec<Chosen>],
}

impl Sought<'_> {
    /// What the job asks for.
    pub fn of(task: &Task) -> Self {
        Sought { seek: task.order.seek, other_than: &[], known: &[] }
    }

    /// Whether a plan is none of those that are not wanted: the same set-ups with the piece turned count as one plan.
    pub fn allows(&self, plan: &[Chosen]) -> bool {
        plan.len() != self.other_than.len() || !alike(plan, self.other_than)
    }
}

/// Whether two plans take the same ways in the same order.
pub(super) fn alike(one: &[Chosen], other: &[Chosen]) -> bool {
    one.len() == other.len() && one.iter().zip(other).all(|(one, other)| Rc::ptr_eq(&one.way, &other.way))
}

/// What the search found.
#[derive(Debug, Clone)]
pub struct Found {
    /// The set-ups in order; empty: none.
    pub set_ups: Vec<Chosen>,
    /// What was looked at.
    pub search: Search,
    /// Minutes per good piece of the plan; `None`: no plan, or too many faces to look at all.
    pub per_good: Option<PerGood>,
    /// When nothing works: faces that could not be cut where most was done, with the reasons.
    pub blocked: Vec<(usize, Refusal)>,
}

/// A set-up that breaks a rule of the trade counts as so many minutes: as few of them as can be.
pub(super) const NEED_MINUTES: f64 = 1e4;
/// Up to so many faces to cut every state is looked at; beyond, the first plan in the trade's order is taken.
pub const MOST_FACES: u32 = 10;
/// Up to so many faces to cut what binds is sought beyond the refusals that were met.
const MOST_FREED: u32 = 8;
/// So many pairs of state and face are worked out at most, so that an answer comes in bounded time; ten faces
/// have 5,120.
const MOST_WAYS: usize = 6_000;

/// The fewest minutes that any order and hold takes; the plan lies within 2 % of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fewest {
    /// Rules of the trade broken where nothing else works, counted before minutes.
    pub needs: u32,
    /// Handling, cutting and measuring.
    pub minutes: f64,
}

/// The fewest minutes of any order and hold; `None`: there is none, or too many faces to look at all.
pub fn fewest(task: &Task) -> Option<Fewest> {
    [Custom::Trade, Custom::Need].into_iter().find_map(|custom| fewest_by(task, custom))
}

fn fewest_by(task: &Task, custom: Custom) -> Option<Fewest> {
    let mut states = States::new(task, custom, to_cut(task));
    let best = states.minutes_to_go(0, &Jaws(Vec::new()));
    let needs = (best / NEED_MINUTES).floor();
    (best.is_finite() && states.exact).then_some(Fewest { needs: needs as u32, minutes: best - needs * NEED_MINUTES })
}

/// The faces that are to be cut.
pub(super) fn to_cut(task: &Task) -> Done {
    task.faces.iter().enumerate().filter(|(_, face)| face.cut).fold(0, |set, (at, _)| set | (1 << at))
}

/// Finds the order: by the trade's rules, or where they leave none, with what need allows.
pub fn search(task: &Task) -> Found {
    let by_the_rules = search_by(task, Custom::Trade);
    if !by_the_rules.set_ups.is_empty() {
        return by_the_rules;
    }
    let by_need = search_by(task, Custom::Need);
    if by_need.set_ups.is_empty() { by_the_rules } else { by_need }
}

fn search_by(task: &Task, custom: Custom) -> Found {
    let mut states = States::new(task, custom, to_cut(task));
    let set_ups = states.plan_that_holds(&Sought::of(task));
    let blocked = if set_ups.is_empty() { states.binding() } else { Vec::new() };
    let search = Search {
        plans_possible: if states.exact { states.plans(0) } else { f64::NAN },
        examined: states.examined,
        cut_off: states.cut_off,
        proven_best: states.exact,
    };
    let per_good = states.per_good;
    Found { set_ups, search, per_good, blocked }
}

/// Where each jaw stands, in steps so small that a jaw on the same step is left alone; empty before the first set-up.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Jaws(pub(super) Vec<i64>);

impl Jaws {
    fn of(task: &Task, way: &Way, turn: usize) -> Jaws {
        let jaws = way.reach_mm.len();
        Jaws(
            (0..jaws)
                .map(|jaw| (way.reach_mm[(jaw + turn) % jaws] / task.rules.jaw_stands_mm).round() as i64)
                .collect(),
        )
    }

    /// Jaws that need not move: of each opposed pair one at most, since the other lets the piece go.
    fn kept(&self, next: &Jaws) -> Vec<usize> {
        let jaws = next.0.len();
        if self.0.len() != jaws || jaws % 2 == 1 {
            return Vec::new();
        }
        (0..jaws / 2)
            .filter_map(|pair| [pair, pair + jaws / 2].into_iter().find(|&jaw| self.0[jaw] == next.0[jaw]))
            .collect()
    }
}

type WaysOf = Result<Vec<Rc<Way>>, Rc<Vec<Refusal>>>;

pub(super) struct States<'a> {
    pub(super) task: &'a Task,
    custom: Custom,
    pub(super) all: Done,
    /// Every state is looked at; otherwise only the first that works in the trade's order.
    pub(super) exact: bool,
    ways: BTreeMap<(Done, usize), WaysOf>,
    to_go: HashMap<(Done, Jaws), f64>,
    plans: BTreeMap<Done, f64>,
    twins: Twins,
    examined: u64,
    cut_off: u64,
    per_good: Option<PerGood>,
    /// Last holds worked out, by the address of the way, which is kept alive beside it.
    judged: BTreeMap<usize, (Rc<Way>, LastHoldJudged)>,
}

impl<'a> States<'a> {
    pub(super) fn new(task: &'a Task, custom: Custom, all: Done) -> Self {
        let exact = all.count_ones() <= MOST_FACES;
        let (ways, to_go, plans) = (BTreeMap::new(), HashMap::new(), BTreeMap::new());
        States {
            task,
            custom,
            all,
            exact,
            ways,
            to_go,
            plans,
            twins: Twins::default(),
            examined: 0,
            cut_off: 0,
            per_good: None,
            judged: BTreeMap::new(),
        }
    }

    fn ways(&mut self, done: Done, face: usize) -> WaysOf {
        let (task, custom, twins) = (self.task, self.custom, &mut self.twins);
        if self.ways.len() >= MOST_WAYS {
            return Err(Rc::new(Vec::new()));
        }
        self.ways
            .entry((done, face))
            .or_insert_with(|| match ways(task, twins, custom, (done, face)) {
                Ok(found) => Ok(found.into_iter().map(Rc::new).collect()),
                Err(why) => Err(Rc::new(why)),
            })
            .clone()
    }

    fn left(&self, done: Done) -> impl Iterator<Item = usize> + use<> {
        let left = self.all & !done;
        (0..Done::BITS as usize).filter(move |&face| has(left, face))
    }

    /// Least minutes from a state to the finished part; infinite: there is no way.
    pub(super) fn minutes_to_go(&mut self, done: Done, jaws: &Jaws) -> f64 {
        if done == self.all {
            return 0.0;
        }
        let key = (done, jaws.clone());
        if let Some(&known) = self.to_go.get(&key) {
            self.cut_off += 1;
            return known;
        }
        let mut least = f64::INFINITY;
        for step in self.steps(done, jaws) {
            self.examined += 1;
            let after = step.after(done, self.task);
            let rest = self.minutes_to_go(after.0, &after.1);
            least = least.min(self.cost(&step) + rest);
            if !self.exact && least.is_finite() {
                break;
            }
        }
        self.to_go.insert(key, least);
        least
    }

    pub(super) fn cost(&self, step: &Chosen) -> f64 {
        let way = &step.way;
        let needs = [way.facing.depth.shallow, way.sawn_ends].into_iter().filter(|&need| need).count();
        step.set_up_minutes + way.own_minutes.total() + NEED_MINUTES * needs as f64
    }

    /// Steps from a state, in the order in which a machinist would think of them; of turns that leave the jaws
    /// standing alike one.
    fn steps(&mut self, done: Done, jaws: &Jaws) -> Vec<Chosen> {
        self.steps_turned(done, jaws, false)
    }

    /// The same with every turn of the piece: which jaw bears on what matters to the errors.
    pub(super) fn every_step(&mut self, done: Done, jaws: &Jaws) -> Vec<Chosen> {
        self.steps_turned(done, jaws, true)
    }

    fn steps_turned(&mut self, done: Done, jaws: &Jaws, all: bool) -> Vec<Chosen> {
        let mut steps = Vec::new();
        for face in self.left(done).filter(|&face| self.may_be_next(done, face)).collect::<Vec<_>>() {
            let Ok(found) = self.ways(done, face) else { continue };
            for way in found.into_iter().filter(|way| self.sits_as_asked(way)) {
                steps.extend(self.turned(jaws, &way, all));
            }
        }
        steps.sort_by_key(|step| self.rank(done, step));
        steps
    }

    /// Whether the job lets a face come next: those it names first come first, in its order.
    fn may_be_next(&self, done: Done, face: usize) -> bool {
        self.task.order.first.get(done.count_ones() as usize).is_none_or(|&first| first == face)
    }

    /// Whether a way has the seat that the job asks for.
    fn sits_as_asked(&self, way: &Way) -> bool {
        way.facing.depth.seat != SeatOn::Nothing || !self.task.order.seated.contains(&way.facing.lie.face)
    }

    /// The turns of the piece in the jaws: the one that leaves most jaws alone, and one only of those
    /// that leave the jaws standing alike (the others are its twins).
    fn turned(&self, jaws: &Jaws, way: &Rc<Way>, all: bool) -> Vec<Chosen> {
        let mut standing: Vec<Jaws> = Vec::new();
        let mut turned = Vec::new();
        for turn in 0..way.reach_mm.len() {
            let next = Jaws::of(self.task, way, turn);
            if !all && standing.contains(&next) || (jaws.0.is_empty() && turn > 0) {
                continue;
            }
            let kept = jaws.kept(&next);
            let minutes = &self.task.minutes;
            let set_up_minutes = if kept.is_empty() { minutes.set_up } else { minutes.turn_piece };
            turned.push(Chosen { way: Rc::clone(way), turn, kept, set_up_minutes, last_hold: None });
            standing.push(next);
        }
        turned
    }

    /// What a machinist expects first: ends before sides, the face opposite a single finished one, a seat,
    /// jaws left alone, then the letters.
    fn rank(&self, done: Done, step: &Chosen) -> (bool, bool, bool, std::cmp::Reverse<usize>, usize, usize) {
        let face = step.way.facing.lie.face;
        let place = self.task.faces[face].place;
        let opposite_done = self.task.faces[face].across.is_some_and(|across| has(done, across.opposite));
        (
            matches!(place, Place::Side(_)),
            !opposite_done,
            step.way.facing.depth.seat == SeatOn::Nothing,
            std::cmp::Reverse(step.kept.len()),
            face,
            step.turn,
        )
    }

    /// The expected plan among those within 2 % of the fewest minutes.
    fn expected_plan(&mut self, best: f64) -> Vec<Chosen> {
        let needs = (best / NEED_MINUTES).floor() * NEED_MINUTES;
        let most = best + self.task.rules.like_plan_minutes * (best - needs) + 1e-9;
        let (mut done, mut jaws, mut spent) = (0, Jaws(Vec::new()), 0.0);
        let mut plan = Vec::new();
        while done != self.all {
            let next = self.steps(done, &jaws).into_iter().find_map(|step| {
                let after = step.after(done, self.task);
                let total = spent + self.cost(&step) + self.minutes_to_go(after.0, &after.1);
                (total <= most).then_some((step, after))
            });
            let Some((step, after)) = next else { return Vec::new() };
            spent += self.cost(&step);
            (done, jaws) = after;
            plan.push(step);
        }
        plan
    }

    /// The plan that is sought, every set-up of which has the last hold that is needed. A way that has not is refused
    /// and the search repeated: what is left is still searched to the end.
    pub(super) fn plan_that_holds(&mut self, sought: &Sought) -> Vec<Chosen> {
        loop {
            let best = self.minutes_to_go(0, &Jaws(Vec::new()));
            if !best.is_finite() {
                return Vec::new();
            }
            let expected = self.expected_plan(best);
            let mut plan = self.best_plan(expected, best, sought);
            let Some((done, weak)) = self.judge_last_hold(&mut plan) else { return plan };
            self.refuse(done, &weak);
        }
    }

    /// The plan of fewest minutes per good piece, where it is better than the expected one by more than alike.
    fn best_plan(&mut self, expected: Vec<Chosen>, fewest: f64, sought: &Sought) -> Vec<Chosen> {
        if expected.is_empty() || !self.exact {
            return if sought.other_than.is_empty() { expected } else { Vec::new() };
        }
        let (plan, per_good) = Best::new(self, &expected, fewest, sought).seek();
        self.per_good = Some(per_good);
        plan
    }

    /// Works the last hold of every set-up out; the first that has too little, with what is done before it.
    fn judge_last_hold(&mut self, plan: &mut [Chosen]) -> Option<(Done, Chosen)> {
        let (task, mut done) = (self.task, 0);
        for chosen in plan {
            let (way, facing) = (&chosen.way, &chosen.way.facing);
            // The order of addresses decides nothing.
            let known = self
                .judged
                .entry(Rc::as_ptr(way) as usize)
                .or_insert_with(|| (Rc::clone(way), last_hold(task, &task.tools[way.tool], facing)));
            let judged = known.1.clone();
            let enough = judged.enough();
            done |= if enough { 1 << facing.lie.face } else { 0 };
            chosen.last_hold = Some(judged);
            if !enough {
                return Some((done, chosen.clone()));
            }
        }
        None
    }

    fn refuse(&mut self, done: Done, weak: &Chosen) {
        let face = weak.way.facing.lie.face;
        let judged = weak.last_hold.as_ref();
        let (factor, needed) = judged.map_or((0.0, 0.0), |judged| (judged.factor(), judged.needed));
        if let Some(known) = self.ways.get_mut(&(done, face)) {
            let left: Vec<Rc<Way>> =
                known.iter().flatten().filter(|way| !Rc::ptr_eq(way, &weak.way)).cloned().collect();
            let refusal = Refusal::Face(CannotFace::LastHold(factor, needed));
            // Fewer every time, so that the search ends.
            let fewer = known.as_ref().is_ok_and(|known| left.len() < known.len());
            *known = if fewer && !left.is_empty() { Ok(left) } else { Err(Rc::new(vec![refusal])) };
        }
        self.to_go.clear();
        self.plans.clear();
    }

    /// How many orders and holds there are from a set of finished faces, turns in the jaws not counted.
    fn plans(&mut self, done: Done) -> f64 {
        if done == self.all {
            return 1.0;
        }
        if let Some(&known) = self.plans.get(&done) {
            return known;
        }
        let mut count = 0.0;
        for face in self.left(done) {
            if let Ok(found) = self.ways(done, face) {
                count += found.len() as f64 * self.plans(done | (1 << face));
            }
        }
        self.plans.insert(done, count);
        count
    }

    /// What binds: the fewest kinds of refusal without which an order would lead to the part; where that is not
    /// found, where the work came to a stop.
    fn binding(&mut self) -> Vec<(usize, Refusal)> {
        if self.all.count_ones() > MOST_FREED {
            return self.blocked();
        }
        let (all, task) = (self.all, self.task);
        let stopped = self.blocked();
        let mut steps = |done: Done| -> Vec<Step> {
            let refused = |found: WaysOf| {
                found.err().map(|why| why.iter().map(|one| (reasons::rule(task, one), one.clone())).collect())
            };
            self.left(done)
                .collect::<Vec<_>>()
                .into_iter()
                .map(|face| Step { face, refused: refused(self.ways(done, face)) })
                .collect()
        };
        let binding = binding(all, &mut steps);
        if binding.is_empty() { stopped } else { binding }
    }

    /// Where the work came to a stop: the faces that could not be cut there, each with its refusals,
    /// the states with most faces finished first.
    fn blocked(&mut self) -> Vec<(usize, Refusal)> {
        let mut stopped: Vec<Done> = self.ways.keys().map(|(done, _)| *done).collect();
        stopped.dedup();
        stopped.retain(|&done| self.left(done).all(|face| matches!(self.ways.get(&(done, face)), Some(Err(_)))));
        stopped.sort_by_key(|done| std::cmp::Reverse(done.count_ones()));
        let mut blocked = Vec::new();
        for done in stopped {
            for face in self.left(done) {
                if let Some(Err(refusals)) = self.ways.get(&(done, face)) {
                    blocked.extend(refusals.iter().map(|refusal| (face, refusal.clone())));
                }
            }
        }
        blocked
    }
}
