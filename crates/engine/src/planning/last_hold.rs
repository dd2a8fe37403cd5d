//! The last hold of a set-up: the second opinion on a grip that first slip permits.

use super::facing::Facing;
use super::feeds::feed_of;
use super::work::Work;
use crate::cutting::Level;
use crate::holding::{self, HoldRule, Motion, TurnCut, WeakestMoment, WeakestSearch};
use crate::task::{Task, ToolFacts};
use nalgebra::Vector3;

/// The weakest moment over all passes, radii and angles, and the factor that it must have.
#[derive(Debug, Clone, PartialEq)]
pub struct LastHoldJudged {
    /// `None`: the grip could not be asked.
    pub weakest: Option<WeakestMoment>,
    /// The pass of the weakest moment, from 0.
    pub pass: usize,
    /// Distance of the tool from the spindle axis at it, mm.
    pub radius_mm: f64,
    /// Factor needed.
    pub needed: f64,
}

/// Which way the work goes when nothing balances the cut any more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GoesBy {
    /// Round the spindle in the jaws.
    Turning,
    /// Along the spindle.
    Pushing,
    /// About a line across: one side of it out of the jaws.
    Levering,
    /// Sideways against the jaws.
    Shoving,
}

impl LastHoldJudged {
    /// Factor that is carried at the weakest moment; 0 where the grip could not be asked.
    pub fn factor(&self) -> f64 {
        self.weakest.as_ref().map_or(0.0, |weakest| weakest.found.factor)
    }

    /// Whether it is as much as needed, proven for every angle.
    pub fn enough(&self) -> bool {
        self.weakest.as_ref().is_some_and(|weakest| weakest.at_least >= self.needed)
    }
}

/// Seeks the weakest moment of a set-up worked out.
pub fn last_hold(task: &Task, tool: &ToolFacts, facing: &Facing) -> LastHoldJudged {
    let cuts = loadings(task, tool, facing);
    let turns: Vec<TurnCut> = cuts.iter().map(|(_, turn)| *turn).collect();
    let held = &facing.hold;
    let asked = held.grip.last_hold(held.counted_n, HoldRule::Upper);
    let weakest = asked.and_then(|hold| hold.weakest(&turns, &held.steady, &WeakestSearch::default())).ok().flatten();
    let (pass, turn) = weakest.as_ref().map_or((0, turns[0]), |weakest| cuts[weakest.cut]);
    let over_slip = holding::numbers().last_hold_over_slip.value;
    LastHoldJudged { weakest, pass, radius_mm: turn.radius_mm, needed: over_slip * facing.required }
}

/// Every pass at the farthest corner and at the spindle axis. The radii between, and a tool that is only
/// partly in the metal, carry no more than these (`holding::last_hold::weakest`).
fn loadings(task: &Task, tool: &ToolFacts, facing: &Facing) -> Vec<(usize, TurnCut)> {
    let work = Work::new(task, tool, &facing.piece, &facing.lie, &facing.depth);
    let of = |(pass, cut): (usize, &crate::dial::Cut)| {
        let force = work.force(cut.depth_mm, feed_of(cut, facing.feeds), Level::Likely);
        let at = |radius_mm| (pass, facing.hold.turn_cut(radius_mm, work.height_mm(cut.total_mm), force));
        [at(work.radius_mm(cut.total_mm)), at(0.0)]
    };
    facing.cuts.iter().enumerate().flat_map(of).collect()
}

/// Reads a motion of the work as a person would tell it; lengths weighed by the size of the grip.
pub fn goes_by(motion: &Motion, gripped_mm: f64, bite_mm: f64) -> GoesBy {
    // The middle of the bite: a turn about a line there is levering alone.
    let middle = motion.shift + motion.turn.cross(&Vector3::new(0.0, 0.0, -bite_mm / 2.0));
    let parts = [
        (motion.turn.z.abs() * gripped_mm, GoesBy::Turning),
        (middle.z.abs(), GoesBy::Pushing),
        (motion.turn.x.hypot(motion.turn.y) * gripped_mm.max(bite_mm / 2.0), GoesBy::Levering),
        (middle.x.hypot(middle.y), GoesBy::Shoving),
    ];
    parts.into_iter().max_by(|one, other| one.0.total_cmp(&other.0)).map_or(GoesBy::Levering, |(_, by)| by)
}

impl GoesBy {
    /// In words, after "the work would".
    pub fn says(self) -> &'static str {
        match self {
            GoesBy::Turning => "turn in the jaws",
            GoesBy::Pushing => "be pushed along the spindle",
            GoesBy::Levering => "be levered out",
            GoesBy::Shoving => "be shoved aside between the jaws",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn motion(shift: [f64; 3], turn: [f64; 3]) -> Motion {
        Motion { shift: shift.into(), turn: turn.into() }
    }

    #[test]
    fn plain_motions_are_called_what_they_are() {
        assert_eq!(goes_by(&motion([0.0; 3], [0.0, 0.0, 1.0]), 20.0, 25.0), GoesBy::Turning);
        assert_eq!(goes_by(&motion([0.0, 0.0, 1.0], [0.0; 3]), 20.0, 25.0), GoesBy::Pushing);
        assert_eq!(goes_by(&motion([1.0, 0.0, 0.0], [0.0; 3]), 20.0, 25.0), GoesBy::Shoving);
        // About a line across at half the bite.
        assert_eq!(goes_by(&motion([12.5, 0.0, 0.0], [0.0, 1.0, 0.0]), 20.0, 25.0), GoesBy::Levering);
    }
}
