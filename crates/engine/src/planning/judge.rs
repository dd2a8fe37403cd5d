//! Whether cuts hold: first slip of a jaw, with a sharp edge and with a worn one, and of a point; lift; spring at the tool.

use super::cuts::DepthBinding;
use super::facing::CannotFace;
use super::feeds::{Feeds, feed_of};
use super::hold::{ANGLES, Hold};
use super::surface::spring;
use super::work::Work;
use crate::cutting::Level;
use crate::dial::{Cut, CutKind};
use crate::holding::{self, TurnCut, Worst, WorstSlip, machine_spring_um};
use crate::task::Task;

/// Least factors over all cuts of a set-up, each with the cut it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LeastSlip {
    /// A jaw slips.
    pub jaw: Option<(usize, Worst)>,
    /// A jaw slips under the force of a worn edge by the higher table.
    pub worn: Option<(usize, Worst)>,
    /// A point slips in the finishing cut.
    pub point: Option<Worst>,
    /// A point lifts.
    pub lift: Option<(usize, Worst)>,
}

/// A judgement that fell short: by which share of what is needed.
pub struct Short {
    /// Value over what is needed; under 1.
    pub share: f64,
    /// What falls short.
    pub binding: DepthBinding,
    value: f64,
    needed: f64,
}

impl Short {
    /// In a reason's numbers, for the deepest cut tried.
    pub fn says(&self, depth_mm: f64) -> CannotFace {
        match self.binding {
            DepthBinding::Spring => CannotFace::Springs(self.value, self.needed),
            DepthBinding::Worn => CannotFace::SlipsWorn(self.value, self.needed, depth_mm),
            _ => CannotFace::Slips(self.value, self.needed, depth_mm),
        }
    }
}

/// Judges every cut of a set-up: jaw slip, lift, spring; point slip in the finishing cut.
pub fn judge(work: &Work, held: &Hold, cuts: &[Cut], feeds: Feeds) -> Result<LeastSlip, Short> {
    let mut least = LeastSlip::default();
    for (at, cut) in cuts.iter().enumerate() {
        judge_cut(work, held, (at, cut), feeds, &mut least)?;
    }
    Ok(least)
}

fn judge_cut(
    work: &Work,
    held: &Hold,
    (at, cut): (usize, &Cut),
    feeds: Feeds,
    least: &mut LeastSlip,
) -> Result<(), Short> {
    let numbers = holding::numbers();
    let finishing = cut.kind == CutKind::Finish;
    let force = work.force(cut.depth_mm, feed_of(cut, feeds), Level::Likely);
    let turn = held.turn_cut(work.radius_mm(cut.total_mm), work.height_mm(cut.total_mm), force);
    let worst = worst_of(held, &turn, finishing);
    let short = |worst: Option<Worst>, needed: f64, binding| match worst {
        Some(worst) if worst.factor < needed => {
            Err(Short { share: worst.factor / needed, binding, value: worst.factor, needed })
        }
        _ => Ok(()),
    };
    by_hand(work, held, &turn)?;
    short(worst.jaw, work.required, DepthBinding::Slip)?;
    let high = work.force(cut.depth_mm, feed_of(cut, feeds), Level::Safe);
    let worn = held.grip.worst_jaw_over_turn(&TurnCut { force: high, ..turn }, ANGLES);
    short(worn, numbers.needed_worn.value, DepthBinding::Worn)?;
    short(worst.lift, numbers.needed_lift.value, DepthBinding::Lift)?;
    if finishing {
        short(worst.point, numbers.needed_finishing_point.value, DepthBinding::Slip)?;
        least.point = worst.point;
    } else {
        let spring = spring_um(work.task, held, &turn);
        let most = numbers.most_spring_um.value;
        if spring > most {
            return Err(Short { share: most / spring, binding: DepthBinding::Spring, value: spring, needed: most });
        }
    }
    keep_least(&mut least.jaw, at, worst.jaw);
    keep_least(&mut least.worn, at, worn);
    keep_least(&mut least.lift, at, worst.lift);
    Ok(())
}

/// The classical hand formulas must carry the cut at least once.
fn by_hand(work: &Work, held: &Hold, turn: &TurnCut) -> Result<(), Short> {
    let hand = held.by_hand(turn.radius_mm, turn.height_mm + work.depth.bite_mm / 2.0, turn.force);
    // The procedure of VDI 3106: the grip left at speed drives the cut with its factor (`permitted_rpm`).
    let driving = (hand.torque, holding::numbers().needed_continuous.value);
    let levering = (hand.lever, work.task.rules.hand_check);
    let (value, needed) = if driving.0 / driving.1 < levering.0 / levering.1 { driving } else { levering };
    if value < needed {
        Err(Short { share: value / needed, binding: DepthBinding::Hand, value, needed })
    } else {
        Ok(())
    }
}

/// Least factors of a turn; the single points are asked for in the finishing cut only.
fn worst_of(held: &Hold, turn: &TurnCut, finishing: bool) -> WorstSlip {
    if finishing {
        return held.grip.worst_over_turn(turn, ANGLES);
    }
    WorstSlip {
        jaw: held.grip.worst_jaw_over_turn(turn, ANGLES),
        point: None,
        lift: held.grip.worst_lift_over_turn(turn, ANGLES),
    }
}

fn keep_least(least: &mut Option<(usize, Worst)>, at: usize, found: Option<Worst>) {
    if let Some(found) = found
        && least.is_none_or(|(_, so_far)| found.factor < so_far.factor)
    {
        *least = Some((at, found));
    }
}

/// How far a cut springs work and tool apart along the spindle, in jaws, overhang and machine: the most over the turn
/// and from the farthest corner to the middle, either way, µm.
pub fn spring_um(task: &Task, held: &Hold, turn: &TurnCut) -> f64 {
    let machine_um = machine_spring_um(turn.force.passive, task.lathe.stiffness_n_um);
    spring(held, turn).most(machine_um, turn.radius_mm, ANGLES).moved_um.abs()
}
