//! The interior-point method for the fixed structure of a hold: six motions, one level per limit.
//!
//! In the motion's own form the problem is `minimise Σ N_g z_g − v·w₀ + Λ κ` over a motion `v` and levels
//! `z_g` with `z_g + v_n,i ≥ μ_i |v_t,i|` at every point, `z_g ≥ 0` (free where the sum is kept) and
//! `κ = 1 − v·w ≥ 0`; the multipliers of its cones are the contact forces, `Λ − x_κ` is the factor. `Λ` is
//! above the factor by a motion tried before, so it never binds. Mehrotra's predictor and corrector with
//! Nesterov-Todd scaling; the levels drop out of the Newton system, which leaves 6 × 6.

use nalgebra::{Cholesky, Matrix6, Vector6};

use super::cone::{Scaling, Triple, dot as dot3, product, quotient, way_out};
use super::system::{Load, Six, System, dot};

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
/// How much of the way to the border a step may go.
const OF_THE_WAY: f64 = 0.99;

impl Solved {
    /// Whether the forces balance the load.
    pub fn balanced(&self) -> bool {
        self.residual <= BALANCED
    }

    /// Whether factor and bound agree.
    pub fn closed(&self) -> bool {
        self.gap() <= CLOSED * self.at_most.abs().max(1e-6)
    }

    /// How far factor and bound are apart; no distance counts for forces that do not balance.
    fn gap(&self) -> f64 {
        if self.balanced() { self.at_most - self.factor } else { f64::INFINITY }
    }
}

/// Solves for one load.
pub fn solve(system: &System, load: &Load) -> Solved {
    let mut state = State::start(system, load);
    let mut best: Option<Solved> = None;
    let mut iterations = 0;
    while iterations < MOST_STEPS && !state.done() && state.step() {
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
    motion: Vector6<f64>,
    levels: Vec<f64>,
    points: Vec<Pair>,
    /// Multipliers of `z_g ≥ 0`: what a limit has left.
    spare: Vec<f64>,
    kappa: f64,
    x_kappa: f64,
    /// `c − Mᵀ x` of motion and levels.
    out: Vector6<f64>,
    out_levels: Vec<f64>,
    gap: f64,
    degree: f64,
}

/// A Newton direction.
struct Direction {
    motion: Vector6<f64>,
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

/// The Newton matrix with the levels eliminated.
struct Newton {
    factor: Cholesky<f64, nalgebra::Const<6>>,
    /// Coupling of motion and level.
    coupling: Vec<Vector6<f64>>,
    level: Vec<f64>,
}

impl Newton {
    /// Eliminates the levels, solves for the motion, and puts it back.
    fn solve(&self, side: &Vector6<f64>, side_levels: &[f64]) -> (Vector6<f64>, Vec<f64>) {
        let groups = side_levels.len();
        let mut side = *side;
        for group in 0..groups {
            side -= self.coupling[group] * (side_levels[group] / self.level[group]);
        }
        let motion = self.factor.solve(&side);
        let level = |group: usize| (side_levels[group] - self.coupling[group].dot(&motion)) / self.level[group];
        (motion, (0..groups).map(level).collect())
    }
}

impl<'a> State<'a> {
    fn start(system: &'a System, load: &'a Load) -> State<'a> {
        let share = |group: usize| system.limits[group] / (system.counts[group] + if system.kept[group] { 0.0 } else { 1.0 });
        let points = system.limit_of.iter().map(|&group| Pair { slack: [1.0, 0.0, 0.0], force: [share(group), 0.0, 0.0] });
        let above = 1.5 * first_bound(system, load).max(1e-6);
        let mut state = State {
            system,
            load,
            above,
            motion: Vector6::zeros(),
            levels: vec![1.0; system.limits.len()],
            points: points.collect(),
            spare: (0..system.limits.len()).map(|group| if system.kept[group] { 0.0 } else { share(group) }).collect(),
            kappa: 1.0,
            x_kappa: above / 2.0,
            out: Vector6::zeros(),
            out_levels: vec![0.0; system.limits.len()],
            gap: 0.0,
            degree: 1.0 + system.rows.len() as f64 + system.kept.iter().filter(|kept| !**kept).count() as f64,
        };
        state.measure();
        state
    }

    /// Slacks, residuals and gap of the present point.
    fn measure(&mut self) {
        let (growing, constant) = (Vector6::from(self.load.growing), Vector6::from(self.load.constant));
        self.kappa = 1.0 - growing.dot(&self.motion);
        self.out = -constant - growing * (self.above - self.x_kappa);
        self.out_levels.copy_from_slice(&self.system.limits);
        self.gap = self.kappa * self.x_kappa;
        let motion: Six = self.motion.into();
        for ((point, rows), &group) in self.points.iter_mut().zip(&self.system.rows).zip(&self.system.limit_of) {
            point.slack = [self.levels[group] + dot(&rows[0], &motion), dot(&rows[1], &motion), dot(&rows[2], &motion)];
            let force = point.force;
            for at in 0..6 {
                self.out[at] -= rows[0][at] * force[0] + rows[1][at] * force[1] + rows[2][at] * force[2];
            }
            self.out_levels[group] -= force[0];
            self.gap += dot3(&point.slack, &force);
        }
        for group in 0..self.levels.len() {
            if !self.system.kept[group] {
                self.out_levels[group] -= self.spare[group];
                self.gap += self.spare[group] * self.levels[group];
            }
        }
    }

    fn residual(&self) -> f64 {
        self.out_levels.iter().map(|part| part.abs()).fold(self.out.amax(), f64::max)
    }

    fn done(&self) -> bool {
        let factor = self.above - self.x_kappa;
        self.residual() <= BALANCED / 10.0 && self.gap <= GAP * factor.abs().max(1e-9)
    }

    /// Balanced, and near enough to be worth keeping should rounding spoil the rest.
    fn nearly(&self) -> bool {
        self.residual() <= BALANCED && self.gap <= 100.0 * CLOSED * (self.above - self.x_kappa).abs()
    }

    /// One predictor and corrector; `false` where no step is possible any more.
    fn step(&mut self) -> bool {
        let scalings: Vec<Scaling> = self.points.iter().map(|point| Scaling::of(&point.slack, &point.force)).collect();
        let Some(newton) = self.newton(&scalings) else { return false };
        let ahead = self.direction(&newton, &scalings, &self.predictor());
        let (way_y, way_x) = self.ways(&ahead);
        let mean = self.gap / self.degree;
        let left = (self.gap_after(&ahead, way_y.min(1.0), way_x.min(1.0)) / self.gap).clamp(0.0, 1.0);
        let centring = left * left * left * mean;
        let aim = self.corrector(&scalings, &ahead, centring);
        let rough = self.direction(&newton, &scalings, &aim);
        let once = self.refined(&newton, &scalings, &aim, rough);
        let onward = if self.residual() > BALANCED / 100.0 { self.refined(&newton, &scalings, &aim, once) } else { once };
        let (way_y, way_x) = self.ways(&onward);
        self.go(&onward, (OF_THE_WAY * way_y).min(1.0), (OF_THE_WAY * way_x).min(1.0));
        self.motion.iter().all(|part| part.is_finite()) && self.gap.is_finite() && self.gap > 0.0
    }

    fn newton(&self, scalings: &[Scaling]) -> Option<Newton> {
        let groups = self.levels.len();
        let mut matrix = [[0.0f64; 6]; 6];
        let mut coupling = vec![[0.0f64; 6]; groups];
        let mut level: Vec<f64> = (0..groups)
            .map(|group| if self.system.kept[group] { 0.0 } else { self.spare[group] / self.levels[group] })
            .collect();
        for ((scaling, rows), &group) in scalings.iter().zip(&self.system.rows).zip(&self.system.limit_of) {
            let (share, u) = scaling.inverse_square();
            let [normal, one, other] = rows;
            let mut along = [0.0f64; 6];
            for at in 0..6 {
                along[at] = u[0] * normal[at] + u[1] * one[at] + u[2] * other[at];
            }
            for row in 0..6 {
                let (a, n, t, b) =
                    (2.0 * share * along[row], share * normal[row], share * one[row], share * other[row]);
                for column in 0..6 {
                    matrix[row][column] += a * along[column] - n * normal[column] + t * one[column] + b * other[column];
                }
            }
            for at in 0..6 {
                coupling[group][at] += share * (2.0 * u[0] * along[at] - normal[at]);
            }
            level[group] += share * (2.0 * u[0] * u[0] - 1.0);
        }
        let stiff = self.x_kappa / self.kappa;
        for row in 0..6 {
            for column in 0..6 {
                matrix[row][column] += stiff * self.load.growing[row] * self.load.growing[column];
            }
        }
        for group in 0..groups {
            let (part, along) = (1.0 / level[group], &coupling[group]);
            for row in 0..6 {
                for column in 0..6 {
                    matrix[row][column] -= part * along[row] * along[column];
                }
            }
        }
        let mut matrix = Matrix6::from_fn(|row, column| matrix[row][column]);
        let most = matrix.diagonal().amax();
        for free in &self.system.free {
            let free = Vector6::from(*free);
            matrix += free * free.transpose() * most;
        }
        let factor = factored(matrix, most)?;
        Some(Newton { factor, coupling: coupling.into_iter().map(Vector6::from).collect(), level })
    }

    /// Straight for the optimum: `d = −λ`, so `p = −x`.
    fn predictor(&self) -> Aim {
        Aim {
            points: self.points.iter().map(|point| point.force.map(|part| -part)).collect(),
            spare: self.spare.iter().map(|part| -part).collect(),
            kappa: -self.x_kappa,
        }
    }

    /// `d = λ \ (σμ e − λ∘λ − (W⁻¹Δs)∘(WΔx))`.
    fn corrector(&self, scalings: &[Scaling], ahead: &Direction, centring: f64) -> Aim {
        let point = |((scaling, slack), force): ((&Scaling, &Triple), &Triple)| {
            let squared = product(&scaling.point, &scaling.point);
            let cross = product(&scaling.undo(slack), &scaling.apply(force));
            let aim = [centring - squared[0] - cross[0], -squared[1] - cross[1], -squared[2] - cross[2]];
            scaling.undo(&quotient(&scaling.point, &aim))
        };
        let line = |slack: f64, force: f64, moved: f64, gained: f64| (centring - moved * gained) / slack - force;
        Aim {
            points: scalings.iter().zip(&ahead.slacks).zip(&ahead.forces).map(point).collect(),
            spare: (0..self.levels.len())
                .map(|group| line(self.levels[group], self.spare[group], ahead.levels[group], ahead.spare[group]))
                .collect(),
            kappa: line(self.kappa, self.x_kappa, ahead.kappa, ahead.x_kappa),
        }
    }

    /// Solves `H Δy = Mᵀ p − r`, then `Δs = M Δy`, `Δx = p − W⁻² Δs`.
    fn direction(&self, newton: &Newton, scalings: &[Scaling], aim: &Aim) -> Direction {
        let groups = self.levels.len();
        let growing = Vector6::from(self.load.growing);
        let mut side = -self.out - growing * aim.kappa;
        let mut side_levels: Vec<f64> = (0..groups)
            .map(|group| if self.system.kept[group] { 0.0 } else { aim.spare[group] } - self.out_levels[group])
            .collect();
        for ((p, rows), &group) in aim.points.iter().zip(&self.system.rows).zip(&self.system.limit_of) {
            for at in 0..6 {
                side[at] += rows[0][at] * p[0] + rows[1][at] * p[1] + rows[2][at] * p[2];
            }
            side_levels[group] += p[0];
        }
        let (motion, levels) = newton.solve(&side, &side_levels);
        self.along(motion, levels, scalings, aim)
    }

    /// Rounding grows with the scaling; what it leaves out of balance is solved for once more.
    fn refined(&self, newton: &Newton, scalings: &[Scaling], aim: &Aim, rough: Direction) -> Direction {
        let (mut left, mut left_levels) = (self.out, self.out_levels.clone());
        left += Vector6::from(self.load.growing) * rough.x_kappa;
        for ((force, rows), &group) in rough.forces.iter().zip(&self.system.rows).zip(&self.system.limit_of) {
            for at in 0..6 {
                left[at] -= rows[0][at] * force[0] + rows[1][at] * force[1] + rows[2][at] * force[2];
            }
            left_levels[group] -= force[0];
        }
        for group in 0..left_levels.len() {
            left_levels[group] = rough.spare[group] - left_levels[group];
        }
        let (motion, levels) = newton.solve(&-left, &left_levels);
        let levels = levels.iter().zip(&rough.levels).map(|(more, level)| more + level).collect();
        self.along(motion + rough.motion, levels, scalings, aim)
    }

    fn along(&self, motion: Vector6<f64>, levels: Vec<f64>, scalings: &[Scaling], aim: &Aim) -> Direction {
        let six: Six = motion.into();
        let slack = |(rows, &group): (&[Six; 3], &usize)| {
            [levels[group] + dot(&rows[0], &six), dot(&rows[1], &six), dot(&rows[2], &six)]
        };
        let slacks: Vec<Triple> = self.system.rows.iter().zip(&self.system.limit_of).map(slack).collect();
        let force = |((scaling, slack), p): ((&Scaling, &Triple), &Triple)| {
            let (share, u) = scaling.inverse_square();
            let twice = 2.0 * dot3(&u, slack);
            [
                p[0] - share * (twice * u[0] - slack[0]),
                p[1] - share * (twice * u[1] + slack[1]),
                p[2] - share * (twice * u[2] + slack[2]),
            ]
        };
        let kappa = -dot(&self.load.growing, &six);
        Direction {
            forces: scalings.iter().zip(&slacks).zip(&aim.points).map(force).collect(),
            spare: (0..levels.len())
                .map(|group| match self.system.kept[group] {
                    true => 0.0,
                    false => aim.spare[group] - self.spare[group] / self.levels[group] * levels[group],
                })
                .collect(),
            x_kappa: aim.kappa - self.x_kappa / self.kappa * kappa,
            kappa,
            motion,
            levels,
            slacks,
        }
    }

    /// How far motion and forces may go.
    fn ways(&self, along: &Direction) -> (f64, f64) {
        let line = |from: f64, by: f64| if by < 0.0 { -from / by } else { f64::INFINITY };
        let (mut way_y, mut way_x) = (line(self.kappa, along.kappa), line(self.x_kappa, along.x_kappa));
        for ((point, slack), force) in self.points.iter().zip(&along.slacks).zip(&along.forces) {
            way_y = way_y.min(way_out(&point.slack, slack));
            way_x = way_x.min(way_out(&point.force, force));
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
            gap += line(self.levels[group], along.levels[group], self.spare[group], along.spare[group])
                * f64::from(u8::from(!self.system.kept[group]));
        }
        gap
    }

    fn go(&mut self, along: &Direction, way_y: f64, way_x: f64) {
        self.motion += along.motion * way_y;
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
        let motion: Six = (self.motion * part).into();
        let at_most = bound(self.system, self.load, &motion);
        Solved {
            factor: self.above - self.x_kappa,
            at_most,
            forces: self.points.iter().map(|point| point.force).collect(),
            motion,
            residual: self.residual(),
            iterations,
        }
    }
}

/// Near the end rounding can leave the matrix short of positive definite: a little is then added to its
/// diagonal, and the refinement takes it out again.
fn factored(matrix: Matrix6<f64>, most: f64) -> Option<Cholesky<f64, nalgebra::Const<6>>> {
    let stiffened = |share: f64| Cholesky::new(matrix + Matrix6::identity() * (share * most));
    [0.0, 1e-14, 1e-12, 1e-10].into_iter().find_map(stiffened)
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
    let growing = Vector6::from(load.growing);
    let straight = bound(system, load, &load.growing);
    let Some(factor) = Cholesky::new(system.stiffness) else { return straight };
    let sprung = factor.solve(&growing);
    let work = sprung.dot(&growing);
    if work > 0.0 { straight.min(bound(system, load, &(sprung / work).into())) } else { straight }
}
