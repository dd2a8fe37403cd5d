//! The interior-point method for the fixed structure of a hold: six motions, one level per limit.
//!
//! In the motion's own form the problem is `minimise Σ N_g z_g − v·w₀ + Λ κ` over a motion `v` and levels
//! `z_g` with `z_g + v_n,i ≥ μ_i |v_t,i|` at every point, `z_g ≥ 0` (free where the sum is kept) and
//! `κ = 1 − v·w ≥ 0`; the multipliers of its cones are the contact forces, `Λ − x_κ` is the factor. `Λ` is
//! above the factor by a motion tried before, so it never binds. Mehrotra's predictor and corrector with
//! Nesterov-Todd scaling; the levels drop out of the Newton system, which leaves 6 × 6.
#![allow(clippy::needless_range_loop, reason = "one index runs through several arrays at once")]

use super::cone::{Scaling, Triple, dot as dot3, product, quotient, way_out};
use super::six::{Factor, Six, add, add_square, dot};
use super::system::{Load, System};

/// What the method ends with, without units.
#[derive(Debug, Clone)]
pub struct Solved {
    /// λ of the forces.
    pub factor: f64,
    /// λ that no forces exceed, by the motion.
    pub at_most: f64,
    /// Forces: normal, tangents over μ.
    pub forces: Vec<Triple>,
    /// The motion, `v·w = 1`.
    pub motion: Six,
    /// Out of balance, in units of force.
    pub residual: f64,
    /// Newton steps.
    pub iterations: u32,
}

/// The gap aimed at, as a share of the factor.
const GAP: f64 = 1e-9;
/// A gap up to this share still counts as closed.
const CLOSED: f64 = 1e-8;
/// Out of balance by no more than this share of the greatest limit.
const BALANCED: f64 = 1e-9;
/// Newton steps at most; 8 to 14 are usual.
const MOST_STEPS: u32 = 60;
/// Refinements of one direction at most.
const MOST_REFINEMENTS: u32 = 2;
/// How much of the way to the border a step may go.
const OF_THE_WAY: f64 = 0.99;
/// No step goes farther than a whole one.
const FARTHEST: f64 = 1.0 / OF_THE_WAY;

impl Solved {
    /// Whether the forces balance the load.
    pub fn balanced(&self) -> bool {
        self.residual <= BALANCED
    }

    /// Whether factor and bound agree.
    pub fn closed(&self) -> bool {
        self.gap() <= CLOSED * self.at_most.abs().max(1e-3)
    }

    /// How far factor and bound are apart; no distance counts for forces that do not balance.
    fn gap(&self) -> f64 {
        if self.balanced() { self.at_most - self.factor } else { f64::INFINITY }
    }
}

/// When a search may end.
#[derive(Debug, Clone, Copy)]
pub struct Until {
    /// Forces that carry this factor and more are enough.
    pub enough: f64,
    /// Gap between factor and bound, as a share of the factor.
    pub gap: f64,
}

impl Until {
    /// To the last digit that counts.
    pub const EXACT: Until = Until { enough: f64::INFINITY, gap: GAP };
}

/// Solves for one load.
pub fn solve(system: &System, load: &Load, until: Until) -> Solved {
    let mut state = State::start(system, load);
    let mut desk = Desk::new(system);
    let mut best: Option<Solved> = None;
    let mut iterations = 0;
    while iterations < MOST_STEPS && !state.done(until) && state.step(&mut desk) {
        iterations += 1;
        if state.nearly() {
            let solved = state.solved(iterations);
            if best.as_ref().is_none_or(|best| solved.gap() < best.gap()) {
                best = Some(solved);
            }
        }
    }
    let last = state.solved(iterations);
    best.filter(|best| !last.closed() && last.gap() > best.gap()).unwrap_or(last)
}

/// One point and its multipliers.
#[derive(Debug, Clone, Copy)]
struct Pair {
    slack: Triple,
    force: Triple,
}

struct State<'a> {
    system: &'a System,
    load: &'a Load,
    /// Λ.
    above: f64,
    motion: Six,
    levels: Vec<f64>,
    points: Vec<Pair>,
    /// Multipliers of `z_g ≥ 0`: what a limit has left.
    spare: Vec<f64>,
    kappa: f64,
    x_kappa: f64,
    /// `c − Mᵀ x` of motion and levels.
    out: Six,
    out_levels: Vec<f64>,
    gap: f64,
    degree: f64,
}

/// What a step is worked out on, kept from step to step.
struct Desk {
    scalings: Vec<Scaling>,
    newton: Newton,
    aim: Aim,
    ahead: Direction,
    onward: Direction,
    side_levels: Vec<f64>,
}

/// A Newton direction.
struct Direction {
    motion: Six,
    levels: Vec<f64>,
    slacks: Vec<Triple>,
    forces: Vec<Triple>,
    spare: Vec<f64>,
    kappa: f64,
    x_kappa: f64,
}

/// What is asked of the scaled products: `p = W⁻¹ d` for every cone.
struct Aim {
    points: Vec<Triple>,
    spare: Vec<f64>,
    kappa: f64,
}

/// The Newton matrix with the levels eliminated, as its Cholesky factor.
struct Newton {
    factor: Factor,
    /// Coupling of motion and level.
    coupling: Vec<Six>,
    level: Vec<f64>,
}

impl Desk {
    fn new(system: &System) -> Desk {
        let (points, groups) = (system.rows.len(), system.limits.len());
        Desk {
            scalings: Vec::with_capacity(points),
            newton: Newton { factor: Factor::default(), coupling: vec![[0.0; 6]; groups], level: vec![0.0; groups] },
            aim: Aim { points: vec![[0.0; 3]; points], spare: vec![0.0; groups], kappa: 0.0 },
            ahead: Direction::new(points, groups),
            onward: Direction::new(points, groups),
            side_levels: vec![0.0; groups],
        }
    }
}

impl Direction {
    fn new(points: usize, groups: usize) -> Direction {
        Direction {
            motion: [0.0; 6],
            levels: vec![0.0; groups],
            slacks: vec![[0.0; 3]; points],
            forces: vec![[0.0; 3]; points],
            spare: vec![0.0; groups],
            kappa: 0.0,
            x_kappa: 0.0,
        }
    }
}

impl Newton {
    /// Eliminates the levels, solves for the motion, and puts it back: what comes out is added.
    fn add_solution(&self, mut side: Six, side_levels: &[f64], motion: &mut Six, levels: &mut [f64]) {
        for (group, along) in self.coupling.iter().enumerate() {
            add(&mut side, -side_levels[group] / self.level[group], along);
        }
        let solution = self.factor.solve(side);
        for (group, along) in self.coupling.iter().enumerate() {
            levels[group] += (side_levels[group] - dot(along, &solution)) / self.level[group];
        }
        add(motion, 1.0, &solution);
    }
}

impl<'a> State<'a> {
    fn start(system: &'a System, load: &'a Load) -> State<'a> {
        let share = |group: usize| {
            let others = if system.kept[group] { 0.0 } else { 1.0 };
            system.limits[group] / (system.counts[group] + others)
        };
        let point = |&group: &usize| Pair { slack: [1.0, 0.0, 0.0], force: [share(group), 0.0, 0.0] };
        let above = 1.5 * first_bound(system, load).max(1e-6);
        let groups = system.limits.len();
        let mut state = State {
            system,
            load,
            above,
            motion: [0.0; 6],
            levels: vec![1.0; groups],
            points: system.limit_of.iter().map(point).collect(),
            spare: (0..groups).map(|group| if system.kept[group] { 0.0 } else { share(group) }).collect(),
            kappa: 1.0,
            x_kappa: above / 2.0,
            out: [0.0; 6],
            out_levels: vec![0.0; groups],
            gap: 0.0,
            degree: 1.0 + system.rows.len() as f64 + system.kept.iter().filter(|kept| !**kept).count() as f64,
        };
        state.measure();
        state
    }

    fn factor(&self) -> f64 {
        self.above - self.x_kappa
    }

    /// Slacks, residuals and gap of the present point.
    fn measure(&mut self) {
        self.kappa = 1.0 - dot(&self.load.growing, &self.motion);
        self.out = self.load.constant.map(|part| -part);
        let factor = self.factor();
        add(&mut self.out, -factor, &self.load.growing);
        self.out_levels.copy_from_slice(&self.system.limits);
        self.gap = self.kappa * self.x_kappa;
        for ((point, rows), &group) in self.points.iter_mut().zip(&self.system.rows).zip(&self.system.limit_of) {
            point.slack = across(rows, &self.motion, self.levels[group]);
            take_back(&mut self.out, rows, &point.force);
            self.out_levels[group] -= point.force[0];
            self.gap += dot3(&point.slack, &point.force);
        }
        for group in 0..self.levels.len() {
            // A kept sum has nothing spare.
            self.out_levels[group] -= self.spare[group];
            self.gap += self.spare[group] * self.levels[group];
        }
    }

    fn residual(&self) -> f64 {
        self.out.iter().chain(&self.out_levels).fold(0.0, |most, part| part.abs().max(most))
    }

    fn done(&self, until: Until) -> bool {
        // A factor of nought is never met to a share of itself: a millionth of the first bound is nought.
        let near = self.gap <= until.gap * self.factor().abs().max(1e-6 * self.above);
        (near || self.factor() >= until.enough) && self.residual() <= BALANCED / 10.0
    }

    /// Balanced, and near enough to be worth keeping should rounding spoil the rest.
    fn nearly(&self) -> bool {
        self.gap <= 100.0 * CLOSED * self.factor().abs() && self.residual() <= BALANCED
    }

    /// One predictor and corrector; `false` where no step is possible any more.
    fn step(&mut self, desk: &mut Desk) -> bool {
        desk.scalings.clear();
        desk.scalings.extend(self.points.iter().map(|point| Scaling::of(&point.slack, &point.force)));
        if !self.newton(desk) {
            return false;
        }
        self.predict(&mut desk.aim);
        self.direction(&desk.newton, &desk.scalings, &desk.aim, &mut desk.side_levels, &mut desk.ahead);
        let (way_y, way_x) = self.ways(&desk.ahead);
        let mean = self.gap / self.degree;
        let left = (self.gap_after(&desk.ahead, way_y.min(1.0), way_x.min(1.0)) / self.gap).clamp(0.0, 1.0);
        self.correct(&desk.scalings, &desk.ahead, left * left * left * mean, &mut desk.aim);
        self.direction(&desk.newton, &desk.scalings, &desk.aim, &mut desk.side_levels, &mut desk.onward);
        self.refine(desk);
        let (way_y, way_x) = self.ways(&desk.onward);
        self.go(&desk.onward, (OF_THE_WAY * way_y).min(1.0), (OF_THE_WAY * way_x).min(1.0));
        self.gap.is_finite() && self.gap > 0.0 && self.motion.iter().all(|part| part.is_finite())
    }

    fn newton(&self, desk: &mut Desk) -> bool {
        let Newton { factor, coupling, level } = &mut desk.newton;
        let mut matrix = [[0.0f64; 6]; 6];
        coupling.fill([0.0; 6]);
        for group in 0..level.len() {
            level[group] = if self.system.kept[group] { 0.0 } else { self.spare[group] / self.levels[group] };
        }
        for ((scaling, rows), &group) in desk.scalings.iter().zip(&self.system.rows).zip(&self.system.limit_of) {
            let (share, u) = scaling.inverse_square();
            let [normal, one, other] = rows;
            let mut along = [0.0f64; 6];
            for at in 0..6 {
                along[at] = u[0] * normal[at] + u[1] * one[at] + u[2] * other[at];
            }
            for row in 0..6 {
                let (a, n) = (2.0 * share * along[row], -share * normal[row]);
                let (t, b) = (share * one[row], share * other[row]);
                for column in 0..6 {
                    matrix[row][column] += a * along[column] + n * normal[column] + t * one[column] + b * other[column];
                }
            }
            add(&mut coupling[group], 2.0 * share * u[0], &along);
            add(&mut coupling[group], -share, normal);
            level[group] += share * (2.0 * u[0] * u[0] - 1.0);
        }
        add_square(&mut matrix, self.x_kappa / self.kappa, &self.load.growing);
        for (along, level) in coupling.iter().zip(level.iter()) {
            add_square(&mut matrix, -1.0 / level, along);
        }
        let most = (0..6).map(|at| matrix[at][at]).fold(0.0, f64::max);
        for free in &self.system.free {
            add_square(&mut matrix, most, free);
        }
        factor.set(&matrix, most)
    }

    /// Straight for the optimum: `d = −λ`, so `p = −x`.
    fn predict(&self, aim: &mut Aim) {
        for (p, point) in aim.points.iter_mut().zip(&self.points) {
            *p = point.force.map(|part| -part);
        }
        for (p, spare) in aim.spare.iter_mut().zip(&self.spare) {
            *p = -spare;
        }
        aim.kappa = -self.x_kappa;
    }

    /// `d = λ \ (σμ e − λ∘λ − (W⁻¹Δs)∘(WΔx))`.
    fn correct(&self, scalings: &[Scaling], ahead: &Direction, centring: f64, aim: &mut Aim) {
        let moved = ahead.slacks.iter().zip(&ahead.forces);
        for ((p, scaling), (slack, force)) in aim.points.iter_mut().zip(scalings).zip(moved) {
            let squared = product(&scaling.point, &scaling.point);
            let cross = product(&scaling.undo(slack), &scaling.apply(force));
            let d = [centring - squared[0] - cross[0], -squared[1] - cross[1], -squared[2] - cross[2]];
            *p = scaling.undo(&quotient(&scaling.point, &d));
        }
        let line = |slack: f64, force: f64, moved: f64, gained: f64| (centring - moved * gained) / slack - force;
        for group in 0..self.levels.len() {
            if !self.system.kept[group] {
                aim.spare[group] = line(self.levels[group], self.spare[group], ahead.levels[group], ahead.spare[group]);
            }
        }
        aim.kappa = line(self.kappa, self.x_kappa, ahead.kappa, ahead.x_kappa);
    }

    /// Solves `H Δy = Mᵀ p − r`, then `Δs = M Δy`, `Δx = p − W⁻² Δs`.
    fn direction(&self, newton: &Newton, scalings: &[Scaling], aim: &Aim, side_levels: &mut [f64], to: &mut Direction) {
        let mut side = self.out.map(|part| -part);
        add(&mut side, -aim.kappa, &self.load.growing);
        for group in 0..side_levels.len() {
            side_levels[group] = aim.spare[group] - self.out_levels[group];
        }
        for ((p, rows), &group) in aim.points.iter().zip(&self.system.rows).zip(&self.system.limit_of) {
            take_back(&mut side, rows, &p.map(|part| -part));
            side_levels[group] += p[0];
        }
        to.motion = [0.0; 6];
        to.levels.fill(0.0);
        newton.add_solution(side, side_levels, &mut to.motion, &mut to.levels);
        self.along(scalings, aim, to);
    }

    /// Rounding grows with the scaling; what it leaves out of balance is solved for once more.
    fn refine(&self, desk: &mut Desk) {
        for _ in 0..MOST_REFINEMENTS {
            let mut left = self.out;
            add(&mut left, desk.onward.x_kappa, &self.load.growing);
            desk.side_levels.copy_from_slice(&desk.onward.spare);
            for (side, out) in desk.side_levels.iter_mut().zip(&self.out_levels) {
                *side -= out;
            }
            for ((force, rows), &group) in desk.onward.forces.iter().zip(&self.system.rows).zip(&self.system.limit_of) {
                take_back(&mut left, rows, force);
                desk.side_levels[group] += force[0];
            }
            if left.iter().chain(&desk.side_levels).all(|part| part.abs() <= BALANCED / 1000.0) {
                return;
            }
            let onward = &mut desk.onward;
            let side = left.map(|part| -part);
            desk.newton.add_solution(side, &desk.side_levels, &mut onward.motion, &mut onward.levels);
            self.along(&desk.scalings, &desk.aim, onward);
        }
    }

    /// Slacks and multipliers that go with a motion and levels.
    fn along(&self, scalings: &[Scaling], aim: &Aim, to: &mut Direction) {
        for (at, (rows, &group)) in self.system.rows.iter().zip(&self.system.limit_of).enumerate() {
            let slack = across(rows, &to.motion, to.levels[group]);
            let (share, u) = scalings[at].inverse_square();
            let (twice, p) = (2.0 * dot3(&u, &slack), &aim.points[at]);
            to.slacks[at] = slack;
            to.forces[at] = [
                p[0] - share * (twice * u[0] - slack[0]),
                p[1] - share * (twice * u[1] + slack[1]),
                p[2] - share * (twice * u[2] + slack[2]),
            ];
        }
        for group in 0..to.levels.len() {
            if !self.system.kept[group] {
                to.spare[group] = aim.spare[group] - self.spare[group] / self.levels[group] * to.levels[group];
            }
        }
        to.kappa = -dot(&self.load.growing, &to.motion);
        to.x_kappa = aim.kappa - self.x_kappa / self.kappa * to.kappa;
    }

    /// How far motion and forces may go.
    fn ways(&self, along: &Direction) -> (f64, f64) {
        let line = |from: f64, by: f64| if by < 0.0 { (-from / by).min(FARTHEST) } else { FARTHEST };
        let (mut way_y, mut way_x) = (line(self.kappa, along.kappa), line(self.x_kappa, along.x_kappa));
        for ((point, slack), force) in self.points.iter().zip(&along.slacks).zip(&along.forces) {
            way_y = way_out(&point.slack, slack, way_y);
            way_x = way_out(&point.force, force, way_x);
        }
        for group in 0..self.levels.len() {
            if !self.system.kept[group] {
                way_y = way_y.min(line(self.levels[group], along.levels[group]));
                way_x = way_x.min(line(self.spare[group], along.spare[group]));
            }
        }
        (way_y, way_x)
    }

    fn gap_after(&self, along: &Direction, way_y: f64, way_x: f64) -> f64 {
        let line = |slack: f64, moved: f64, force: f64, gained: f64| (slack + way_y * moved) * (force + way_x * gained);
        let mut gap = line(self.kappa, along.kappa, self.x_kappa, along.x_kappa);
        for ((point, slack), force) in self.points.iter().zip(&along.slacks).zip(&along.forces) {
            for at in 0..3 {
                gap += line(point.slack[at], slack[at], point.force[at], force[at]);
            }
        }
        for group in 0..self.levels.len() {
            gap += line(self.levels[group], along.levels[group], self.spare[group], along.spare[group]);
        }
        gap
    }

    fn go(&mut self, along: &Direction, way_y: f64, way_x: f64) {
        add(&mut self.motion, way_y, &along.motion);
        for group in 0..self.levels.len() {
            self.levels[group] += way_y * along.levels[group];
            self.spare[group] += way_x * along.spare[group];
        }
        for (point, force) in self.points.iter_mut().zip(&along.forces) {
            for at in 0..3 {
                point.force[at] += way_x * force[at];
            }
        }
        self.x_kappa += way_x * along.x_kappa;
        self.measure();
    }

    fn solved(&self, iterations: u32) -> Solved {
        let work = 1.0 - self.kappa;
        let part = if work > 0.0 { 1.0 / work } else { 1.0 };
        let motion = self.motion.map(|of| of * part);
        Solved {
            factor: self.factor(),
            at_most: bound(self.system, self.load, &motion),
            forces: self.points.iter().map(|point| point.force).collect(),
            motion,
            residual: self.residual(),
            iterations,
        }
    }
}

/// `z + v_n`, `μ v_t` of a point in a motion.
#[inline]
fn across(rows: &[Six; 3], motion: &Six, level: f64) -> Triple {
    [level + dot(&rows[0], motion), dot(&rows[1], motion), dot(&rows[2], motion)]
}

/// Takes a point's forces out of six.
#[inline]
fn take_back(six: &mut Six, rows: &[Six; 3], force: &Triple) {
    for at in 0..6 {
        six[at] -= rows[0][at] * force[0] + rows[1][at] * force[1] + rows[2][at] * force[2];
    }
}

/// `Σ N_g max(0, max_i (μ_i |v_t,i| − v_n,i)) − v·w₀` for a motion with `v·w = 1`: no forces carry more.
fn bound(system: &System, load: &Load, motion: &Six) -> f64 {
    let mut levels: Vec<f64> = system.kept.iter().map(|kept| if *kept { f64::NEG_INFINITY } else { 0.0 }).collect();
    for (rows, &group) in system.rows.iter().zip(&system.limit_of) {
        let level = dot(&rows[1], motion).hypot(dot(&rows[2], motion)) - dot(&rows[0], motion);
        levels[group] = levels[group].max(level);
    }
    let resisted = levels.iter().zip(&system.limits).filter(|(level, _)| level.is_finite());
    resisted.map(|(level, limit)| level * limit).sum::<f64>() - dot(motion, &load.constant)
}

/// The better of two motions at hand: along the load, and as springs of equal stiffness would give way.
fn first_bound(system: &System, load: &Load) -> f64 {
    let straight = bound(system, load, &load.growing);
    let sprung = system.stiffness.solve(load.growing);
    let work = dot(&sprung, &load.growing);
    if work > 0.0 { straight.min(bound(system, load, &sprung.map(|of| of / work))) } else { straight }
}
