//! What makes a hold that is permitted firmer: one small change at a time, each worked out anew with the same order.

use super::facing::Facing;
use super::feeds::feed_of;
use super::hold::{ANGLES, hold};
use super::search::Chosen;
use super::window::{Depth, least_stick_out};
use super::work::Work;
use crate::cutting::Level;
use crate::dial::{Cut, CutKind};
use crate::holding;
use crate::plan::Firmer;
use crate::quantity::bare::rpm as bare_rpm;
use crate::quantity::show::length;
use crate::shop::JawSurface;
use crate::sourced::Sourced;
use crate::task::Task;

/// A deeper bite is worth telling from here on, mm.
const DEEPER_MM: f64 = 1.0;

/// The set-up with something changed.
struct Tried<'a> {
    facing: &'a Facing,
    task: Task,
    depth: Depth,
    rpm: f64,
    cuts: Vec<Cut>,
}

/// Every change that leaves more before a jaw slips, by the effort that it asks.
pub fn firmer(task: &Task, chosen: &Chosen) -> Vec<Firmer> {
    let facing = &chosen.way.facing;
    let Some((_, now)) = facing.slip.jaw else { return Vec::new() };
    let least = now.factor * holding::numbers().firmer_times.value;
    let changes = [
        shallower(task, facing),
        deeper(task, facing),
        slower(task, facing),
        share(task, facing, &holding::numbers().low_share_torque_wrench, "a torque wrench on the chuck key"),
        share(task, facing, &holding::numbers().low_share_measured, "jaw forces measured with a load cell"),
        serrated(task, facing),
    ];
    let told = |(says, tried): (String, Tried)| {
        let slip_factor = tried.slip_factor(chosen.way.tool)?;
        (slip_factor >= least).then_some(Firmer { says, slip_factor })
    };
    changes.into_iter().flatten().filter_map(told).collect()
}

impl Tried<'_> {
    fn same<'a>(task: &Task, facing: &'a Facing) -> Tried<'a> {
        let (task, cuts) = (task.clone(), facing.cuts.clone());
        Tried { facing, task, depth: facing.depth, rpm: facing.speed.set_rpm, cuts }
    }

    /// Least factor over the cuts and the turn; `None`: it cannot be held so, or nothing slips.
    fn slip_factor(&self, tool: usize) -> Option<f64> {
        let Facing { piece, lie, feeds, .. } = self.facing;
        let work = Work::new(&self.task, &self.task.tools[tool], piece, lie, &self.depth);
        let held = hold(&self.task, piece, lie, &self.depth, self.rpm).ok()?;
        let factor = |cut: &Cut| {
            let force = work.force(cut.depth_mm, feed_of(cut, *feeds), Level::Likely);
            let turn = held.turn_cut(work.radius_mm(cut.total_mm), work.height_mm(cut.total_mm), force);
            held.grip.worst_jaw_over_turn(&turn, ANGLES).map(|worst| worst.factor)
        };
        self.cuts.iter().filter_map(factor).min_by(f64::total_cmp)
    }
}

/// Twice as many cuts, half as deep; the finishing cut stays.
fn shallower<'a>(task: &Task, facing: &'a Facing) -> Option<(String, Tried<'a>)> {
    let deepest = facing.cuts.iter().filter(|cut| cut.kind == CutKind::Rough).map(|cut| cut.depth_mm);
    let deepest = deepest.max_by(f64::total_cmp)?;
    let halves = |cut: &Cut| match cut.kind {
        CutKind::Finish => vec![*cut],
        CutKind::Rough => {
            let half = Cut { depth_mm: cut.depth_mm / 2.0, ..*cut };
            vec![Cut { total_mm: cut.total_mm - half.depth_mm, ..half }, half]
        }
    };
    let cuts = facing.cuts.iter().flat_map(halves).collect();
    let says = format!("rough cuts half as deep, about {} at most", length(deepest / 2.0, task.units));
    Some((says, Tried { cuts, ..Tried::same(task, facing) }))
}

/// As deep in the jaws as the cut leaves room for, where it is not.
fn deeper<'a>(task: &Task, facing: &'a Facing) -> Option<(String, Tried<'a>)> {
    let depth = &facing.depth;
    let spare_mm =
        (depth.stick_out_mm - least_stick_out(task, &facing.lie)).min(task.chuck.jaw_length_mm - depth.bite_mm);
    if spare_mm < DEEPER_MM {
        return None;
    }
    let (bite_mm, stick_out_mm) = (depth.bite_mm + spare_mm, depth.stick_out_mm - spare_mm);
    let says = format!("a bite of {} instead of {}", length(bite_mm, task.units), length(depth.bite_mm, task.units));
    Some((says, Tried { depth: Depth { bite_mm, stick_out_mm, ..*depth }, ..Tried::same(task, facing) }))
}

/// The next slower speed of the plate: the jaws lose less, what is off the axis pulls less.
fn slower<'a>(task: &Task, facing: &'a Facing) -> Option<(String, Tried<'a>)> {
    let rpm = task.lathe.speeds_rpm.iter().copied().rfind(|rpm| *rpm < facing.speed.set_rpm)?;
    let says = format!("{} rpm instead of {}", bare_rpm(rpm), bare_rpm(facing.speed.set_rpm));
    Some((says, Tried { rpm, ..Tried::same(task, facing) }))
}

/// More of the jaws' force can be counted on.
fn share<'a>(task: &Task, facing: &'a Facing, share: &Sourced, how: &str) -> Option<(String, Tried<'a>)> {
    if share.value <= task.chuck.low_share {
        return None;
    }
    let mut tried = Tried::same(task, facing);
    tried.task.chuck.low_share = share.value;
    Some((how.to_string(), tried))
}

/// Toothed jaws where they bear on the bar's own skin, which they mark.
fn serrated<'a>(task: &Task, facing: &'a Facing) -> Option<(String, Tried<'a>)> {
    if task.chuck.jaw_surface == JawSurface::HardSerrated {
        return None;
    }
    let mut tried = Tried::same(task, facing);
    (tried.task.chuck.jaw_surface, tried.task.chuck.bored) = (JawSurface::HardSerrated, None);
    Some(("hard serrated jaws, which mark the bar".to_string(), tried))
}
