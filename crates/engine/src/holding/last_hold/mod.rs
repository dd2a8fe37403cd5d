//! Last hold: by what factor may the cut grow before no contact forces can balance it any more.
//!
//! `maximise λ` over contact forces `f_i = n_i N_i + T_i` with `Σ f_i + λ w + w₀ = 0` (six components),
//! `|T_i| ≤ μ_i N_i`, `N_i ≥ 0`, and a limit on the sum of the normal forces of each jaw, pair or seat: the
//! force optimisation of Boyd and Wegbreit (2007) with the load factor as the unknown. Coulomb friction is
//! not associated (Drucker 1953), so this is an upper bound on what holds: it warns and never permits.

mod certificate;
mod cone;
mod rule;
mod six;
mod solver;
mod system;
mod weakest;

pub use certificate::{Certificate, certify};
pub use rule::HoldRule;
pub use weakest::{WeakestMoment, WeakestSearch};

use nalgebra::Vector3;
use thiserror::Error;

use super::Wrench;
use solver::Until;
use system::System;

/// A point that may press on the work and rub on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressPoint {
    /// Where, mm.
    pub at_mm: Vector3<f64>,
    /// Unit normal into the work.
    pub inward: Vector3<f64>,
    /// Friction coefficient μ, 0 or more.
    pub friction: f64,
    /// Which of the limits its normal force counts for.
    pub limit: usize,
}

/// What the normal forces of the points that name it come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PressLimit {
    /// At most this, N: a jaw never presses harder than it was tightened ("upper" rule); the strength of a seat.
    AtMost(f64),
    /// Exactly this, N: opposed jaws hold their place, one gains what the other loses ("pair" rule).
    Kept(f64),
}

/// Points and limits, ready to be asked about loads.
#[derive(Debug, Clone)]
pub struct LastHold {
    points: Vec<PressPoint>,
    limits: Vec<PressLimit>,
    system: System,
}

/// Why a hold cannot be asked.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LastHoldFault {
    /// Nothing bears.
    #[error("no point bears on the work")]
    NoPoints,
    /// A point with a value that is not a number or out of range.
    #[error("point {point}: its {what} cannot be used")]
    Point {
        /// Which point, from 1.
        point: usize,
        /// Which value.
        what: &'static str,
    },
    /// A limit that is not a number or not positive.
    #[error("limit {limit}: its force cannot be used")]
    Limit {
        /// Which limit, from 1.
        limit: usize,
    },
    /// A sum that is to be kept by no point at all.
    #[error("limit {limit}: its force is to be kept, and no point counts for it")]
    NobodyKeeps {
        /// Which limit, from 1.
        limit: usize,
    },
    /// A load that is not a number, or no load at all.
    #[error("the load cannot be used")]
    Load,
}

/// How the work would start to go: `u + θ × p` moves each point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// Of the origin.
    pub shift: Vector3<f64>,
    /// About the origin, rad for each unit of shift.
    pub turn: Vector3<f64>,
}

/// What ends the hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LastHoldEnd {
    /// No balance beyond the factor.
    Gives,
    /// Nothing resists the motion: factor 0.
    Free,
    /// Not even what acts without the cut is balanced: factor 0.
    Loose,
    /// The method did not close in on one value: `factor` is carried, `at_most` is not exceeded.
    Open,
}

/// The last hold under one load.
#[derive(Debug, Clone, PartialEq)]
pub struct LastHoldFound {
    /// Factor that the forces below carry.
    pub factor: f64,
    /// Factor that no forces carry, by the motion below.
    pub at_most: f64,
    /// Force of each point on the work at the factor, N.
    pub forces_n: Vec<Vector3<f64>>,
    /// The motion in which the hold gives way, scaled so that the growing load does work 1 in it.
    pub motion: Motion,
    /// What ends it.
    pub end: LastHoldEnd,
    /// Iterations used.
    pub iterations: u32,
}

/// A bound of no more than this, as a load of so many greatest limits, is none.
const NOUGHT: f64 = 1e-9;

impl LastHold {
    /// Checks points and limits, and prepares them.
    pub fn new(points: &[PressPoint], limits: &[PressLimit]) -> Result<LastHold, LastHoldFault> {
        check_points(points, limits.len())?;
        check_limits(points, limits)?;
        let system = System::of(points, limits);
        Ok(LastHold { points: points.to_vec(), limits: limits.to_vec(), system })
    }

    /// The factor on `growing` at which balance ends, with `constant` acting all the while.
    pub fn under(&self, growing: &Wrench, constant: &Wrench) -> Result<LastHoldFound, LastHoldFault> {
        self.up_to(growing, constant, Until::EXACT)
    }

    /// As `under`, but content with less: the forces found carry the factor told in any case.
    fn up_to(&self, growing: &Wrench, constant: &Wrench, until: Until) -> Result<LastHoldFound, LastHoldFault> {
        let load = self.system.load(growing, constant).ok_or(LastHoldFault::Load)?;
        if let Some(motion) = self.system.free_motion(&load) {
            return Ok(self.nothing(motion, LastHoldEnd::Free));
        }
        let solved = solver::solve(
            &self.system,
            &load,
            Until { enough: until.enough * load.size / self.system.force_n, ..until },
        );
        if solved.at_most < 0.0 || (!solved.balanced() && self.loose(constant)) {
            return Ok(self.nothing(self.system.motion(&solved.motion, &load), LastHoldEnd::Loose));
        }
        if solved.at_most <= NOUGHT && self.rests(&load) {
            return Ok(self.nothing(self.system.motion(&solved.motion, &load), LastHoldEnd::Gives));
        }
        Ok(self.found(&load, &solved))
    }

    /// The points.
    pub fn points(&self) -> &[PressPoint] {
        &self.points
    }

    /// The limits.
    pub fn limits(&self) -> &[PressLimit] {
        &self.limits
    }

    fn found(&self, load: &system::Load, solved: &solver::Solved) -> LastHoldFound {
        let part = self.system.force_n / load.size;
        let carried = if solved.balanced() { (solved.factor * part).max(0.0) } else { 0.0 };
        LastHoldFound {
            factor: carried,
            at_most: (solved.at_most * part).max(carried),
            forces_n: self.system.forces(&self.points, &solved.forces),
            motion: self.system.motion(&solved.motion, load),
            end: if solved.closed() { LastHoldEnd::Gives } else { LastHoldEnd::Open },
            iterations: solved.iterations,
        }
    }

    /// Whether no forces at all balance what acts without the cut: factor 0 is then carried for certain.
    fn rests(&self, load: &system::Load) -> bool {
        load.constant.iter().all(|part| *part == 0.0) && !self.system.kept.contains(&true)
    }

    fn nothing(&self, motion: Motion, end: LastHoldEnd) -> LastHoldFound {
        let forces_n = vec![Vector3::zeros(); self.points.len()];
        LastHoldFound { factor: 0.0, at_most: 0.0, forces_n, motion, end, iterations: 0 }
    }

    /// Whether the constant load alone is proven too much.
    fn loose(&self, constant: &Wrench) -> bool {
        let alone = self
            .system
            .load(constant, &Wrench::none())
            .map(|load| (solver::solve(&self.system, &load, Until::EXACT), load.size));
        alone.is_some_and(|(solved, size)| solved.at_most * self.system.force_n / size < 1.0)
    }
}

fn check_points(points: &[PressPoint], limits: usize) -> Result<(), LastHoldFault> {
    if points.is_empty() {
        return Err(LastHoldFault::NoPoints);
    }
    for (at, point) in points.iter().enumerate() {
        let usable = |what, is: bool| if is { Ok(()) } else { Err(LastHoldFault::Point { point: at + 1, what }) };
        usable("place", point.at_mm.iter().all(|part| part.is_finite()))?;
        usable("normal", (point.inward.norm() - 1.0).abs() < 1e-9)?;
        usable("friction", point.friction.is_finite() && point.friction >= 0.0)?;
        usable("limit", point.limit < limits)?;
    }
    Ok(())
}

fn check_limits(points: &[PressPoint], limits: &[PressLimit]) -> Result<(), LastHoldFault> {
    for (at, limit) in limits.iter().enumerate() {
        if !(limit.force_n().is_finite() && limit.force_n() > 0.0) {
            return Err(LastHoldFault::Limit { limit: at + 1 });
        }
        let kept = matches!(limit, PressLimit::Kept(_));
        if kept && !points.iter().any(|point| point.limit == at) {
            return Err(LastHoldFault::NobodyKeeps { limit: at + 1 });
        }
    }
    Ok(())
}

impl PressLimit {
    /// The force, N.
    pub fn force_n(&self) -> f64 {
        match self {
            PressLimit::AtMost(force_n) | PressLimit::Kept(force_n) => *force_n,
        }
    }
}
