//! The proof of a last hold, checked from points, limits and loads alone: it does not know the solver.

use nalgebra::Vector3;

use super::{LastHold, LastHoldFound, PressLimit, Wrench};

/// How well the forces carry the load, and what the motion proves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Certificate {
    /// Out of balance, as a share of the greatest limit (moments by the grip's reach).
    pub out_of_balance: f64,
    /// By how much a friction cone is left, as a share of the greatest limit.
    pub beyond_friction: f64,
    /// By how much a limit is passed or a kept sum missed, as a share of the greatest limit.
    pub beyond_limit: f64,
    /// The factor that no forces carry, by the motion alone.
    pub no_more_than: f64,
}

/// Checks what was found under these loads.
pub fn certify(hold: &LastHold, growing: &Wrench, constant: &Wrench, found: &LastHoldFound) -> Certificate {
    let greatest = hold.limits().iter().map(PressLimit::force_n).fold(0.0, f64::max);
    Certificate {
        out_of_balance: out_of_balance(hold, growing, constant, found) / greatest,
        beyond_friction: beyond_friction(hold, found) / greatest,
        beyond_limit: beyond_limit(hold, found) / greatest,
        no_more_than: no_more_than(hold, growing, constant, found),
    }
}

impl Certificate {
    /// Whether the forces carry the load and the motion lets no more, to these shares.
    pub fn proves(&self, found: &LastHoldFound, share: f64) -> bool {
        let carried = self.out_of_balance <= share && self.beyond_friction <= share && self.beyond_limit <= share;
        carried && self.no_more_than - found.factor <= share * self.no_more_than.abs().max(1.0)
    }
}

fn out_of_balance(hold: &LastHold, growing: &Wrench, constant: &Wrench, found: &LastHoldFound) -> f64 {
    let mut force = growing.force_n * found.factor + constant.force_n;
    let mut moment = growing.moment_n_mm * found.factor + constant.moment_n_mm;
    let mut reach = 1.0f64;
    for (point, pressed) in hold.points().iter().zip(&found.forces_n) {
        force += pressed;
        moment += point.at_mm.cross(pressed);
        reach = reach.max(point.at_mm.norm());
    }
    force.norm().max(moment.norm() / reach)
}

fn beyond_friction(hold: &LastHold, found: &LastHoldFound) -> f64 {
    let beyond = |(point, pressed): (&super::PressPoint, &Vector3<f64>)| {
        let normal = point.inward.dot(pressed);
        let along = (pressed - point.inward * normal).norm();
        (along - point.friction * normal).max(-normal)
    };
    hold.points().iter().zip(&found.forces_n).map(beyond).fold(0.0, f64::max)
}

fn beyond_limit(hold: &LastHold, found: &LastHoldFound) -> f64 {
    let mut sums = vec![0.0; hold.limits().len()];
    for (point, pressed) in hold.points().iter().zip(&found.forces_n) {
        sums[point.limit] += point.inward.dot(pressed);
    }
    let beyond = |(sum, limit): (f64, &PressLimit)| match limit {
        PressLimit::AtMost(most) => sum - most,
        PressLimit::Kept(kept) => (sum - kept).abs(),
    };
    sums.into_iter().zip(hold.limits()).map(beyond).fold(0.0, f64::max)
}

/// Work of the contacts at their best in the motion, less what the constant load does, for each unit of work
/// of the growing load. A motion in which the growing load does no work proves nothing.
fn no_more_than(hold: &LastHold, growing: &Wrench, constant: &Wrench, found: &LastHoldFound) -> f64 {
    let motion = found.motion;
    let work = |load: &Wrench| load.force_n.dot(&motion.shift) + load.moment_n_mm.dot(&motion.turn);
    let mut most: Vec<Option<f64>> = vec![None; hold.limits().len()];
    for point in hold.points() {
        let moved = motion.shift + motion.turn.cross(&point.at_mm);
        let into = point.inward.dot(&moved);
        let resisted = point.friction * (moved - point.inward * into).norm() - into;
        let so_far = &mut most[point.limit];
        *so_far = Some(so_far.map_or(resisted, |best| best.max(resisted)));
    }
    let best = |(most, limit): (Option<f64>, &PressLimit)| match limit {
        PressLimit::AtMost(force_n) => most.map_or(0.0, |most| most.max(0.0) * force_n),
        PressLimit::Kept(force_n) => most.map_or(0.0, |most| most * force_n),
    };
    let resisted: f64 = most.into_iter().zip(hold.limits()).map(best).sum();
    let done = work(growing);
    if done > 0.0 { (resisted - work(constant)) / done } else { f64::INFINITY }
}
