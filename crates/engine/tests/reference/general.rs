//! The same question put to a general cone solver, written from the statement of the problem alone.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettings, DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SecondOrderConeT, SolverStatus,
    SupportedConeT, ZeroConeT,
};
use engine::holding::{LastHold, PressLimit, Wrench};
use nalgebra::Vector3;

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Answer {
    /// Greatest factor.
    Factor(f64),
    /// Greatest factor, though the solver stopped short of the accuracy asked of it.
    Near(f64),
    /// No factor at all: what acts without the cut is not balanced.
    Impossible,
    /// The solver gave up.
    Unknown,
}

/// One row of `A x + s = b`.
struct Row {
    entries: Vec<(usize, f64)>,
    right: f64,
}

struct Rows {
    rows: Vec<Row>,
    cones: Vec<SupportedConeT<f64>>,
}

/// Variables: three force components of every point along x, y, z, in units of the greatest limit; the factor.
pub fn solve(hold: &LastHold, growing: &Wrench, constant: &Wrench) -> Answer {
    let mut solver = build(hold, growing, constant);
    solver.solve();
    let last = solver.solution.x.len() - 1;
    let factor = solver.solution.x[last] * unit(hold) / size(hold, growing);
    match solver.solution.status {
        SolverStatus::Solved => Answer::Factor(factor),
        SolverStatus::AlmostSolved | SolverStatus::InsufficientProgress => Answer::Near(factor),
        SolverStatus::PrimalInfeasible => Answer::Impossible,
        _ => Answer::Unknown,
    }
}

/// The problem, ready to be solved; apart, so that a benchmark can leave the building out.
pub fn build(hold: &LastHold, growing: &Wrench, constant: &Wrench) -> DefaultSolver<f64> {
    let factor = 3 * hold.points().len();
    let mut rows = balance(hold, growing, constant, factor);
    add_limits(hold, &mut rows);
    add_friction(hold, &mut rows);
    let (matrix, right) = matrix(&rows, factor + 1);
    let mut goal = vec![0.0; factor + 1];
    goal[factor] = -1.0;
    let none = CscMatrix::zeros((factor + 1, factor + 1));
    DefaultSolver::new(&none, &goal, &matrix, &right, &rows.cones, settings()).expect("a well-formed problem")
}

fn settings() -> DefaultSettings<f64> {
    DefaultSettingsBuilder::default()
        .verbose(false)
        .tol_gap_abs(1e-10)
        .tol_gap_rel(1e-10)
        .tol_feas(1e-10)
        .build()
        .expect("plain settings")
}

/// Greatest limit, N.
fn unit(hold: &LastHold) -> f64 {
    hold.limits().iter().map(PressLimit::force_n).fold(0.0, f64::max)
}

/// Farthest point from the origin, mm.
fn reach(hold: &LastHold) -> f64 {
    hold.points().iter().map(|point| point.at_mm.norm()).fold(1.0, f64::max)
}

/// Size of a load, N, with moments by the reach.
fn size(hold: &LastHold, load: &Wrench) -> f64 {
    (load.force_n.norm_squared() + (load.moment_n_mm / reach(hold)).norm_squared()).sqrt()
}

/// `Σ f + λ w + w₀ = 0`, six rows.
fn balance(hold: &LastHold, growing: &Wrench, constant: &Wrench, factor: usize) -> Rows {
    let (reach, unit, size) = (reach(hold), unit(hold), size(hold, growing));
    let six = |load: &Wrench| {
        let moment = load.moment_n_mm / reach;
        [load.force_n.x, load.force_n.y, load.force_n.z, moment.x, moment.y, moment.z]
    };
    let (growing, constant) = (six(growing), six(constant));
    let row = |component: usize| {
        let mut entries = vec![(factor, growing[component] / size)];
        for (at, point) in hold.points().iter().enumerate() {
            for axis in 0..3 {
                let along = Vector3::ith(axis, 1.0);
                let entry =
                    if component < 3 { along[component] } else { (point.at_mm / reach).cross(&along)[component - 3] };
                entries.push((3 * at + axis, entry));
            }
        }
        Row { entries, right: -constant[component] / unit }
    };
    Rows { rows: (0..6).map(row).collect(), cones: vec![ZeroConeT(6)] }
}

/// `Σ n·f = N` or `Σ n·f ≤ N`.
fn add_limits(hold: &LastHold, rows: &mut Rows) {
    for (number, limit) in hold.limits().iter().enumerate() {
        let counted = hold.points().iter().enumerate().filter(|(_, point)| point.limit == number);
        let entries: Vec<(usize, f64)> =
            counted.flat_map(|(at, point)| (0..3).map(move |axis| (3 * at + axis, point.inward[axis]))).collect();
        if entries.is_empty() {
            continue;
        }
        rows.rows.push(Row { entries, right: limit.force_n() / unit(hold) });
        rows.cones.push(match limit {
            PressLimit::AtMost(_) => NonnegativeConeT(1),
            PressLimit::Kept(_) => ZeroConeT(1),
        });
    }
}

/// `|f − n n·f| ≤ μ n·f`; without friction `f = n n·f`, `n·f ≥ 0`.
fn add_friction(hold: &LastHold, rows: &mut Rows) {
    for (at, point) in hold.points().iter().enumerate() {
        let normal = |share: f64| (0..3).map(move |axis| (3 * at + axis, -share * point.inward[axis]));
        let along = |component: usize| {
            let entry = move |axis: usize| {
                f64::from(u8::from(axis == component)) - point.inward[component] * point.inward[axis]
            };
            (0..3).map(move |axis| (3 * at + axis, -entry(axis)))
        };
        let with_friction = point.friction > 0.0;
        let share = if with_friction { point.friction } else { 1.0 };
        rows.rows.push(Row { entries: normal(share).collect(), right: 0.0 });
        rows.rows.extend((0..3).map(|component| Row { entries: along(component).collect(), right: 0.0 }));
        match with_friction {
            true => rows.cones.push(SecondOrderConeT(4)),
            false => rows.cones.extend([NonnegativeConeT(1), ZeroConeT(3)]),
        }
    }
}

fn matrix(rows: &Rows, columns: usize) -> (CscMatrix<f64>, Vec<f64>) {
    let (mut at_row, mut at_column, mut values, mut right) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for (number, row) in rows.rows.iter().enumerate() {
        right.push(row.right);
        for &(column, value) in &row.entries {
            at_row.push(number);
            at_column.push(column);
            values.push(value);
        }
    }
    (CscMatrix::new_from_triplets(rows.rows.len(), columns, at_row, at_column, values), right)
}
