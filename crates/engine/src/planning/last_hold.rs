//! The last hold of a set-up: the second opinion on a grip that first slip permits.

use super::facing::Facing;
use super::feeds::feed_of;
use super::work::Work;
use crate::cutting::Level;
use crate::dial::Cut;
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
    // First slip is a good guess: the pass and the angle at which it is least.
    let slips = facing.slip.jaw;
    let corner = |pass: usize| cuts.iter().position(|(at, turn)| *at == pass && turn.radius_mm > 0.0);
    let guess = slips.and_then(|(pass, worst)| Some((corner(pass)?, worst.angle_deg)));
    let how = WeakestSearch { guess, ..WeakestSearch::default() };
    let weakest = asked.and_then(|hold| hold.weakest(&turns, &held.steady, &how)).ok().flatten();
    let at = weakest.as_ref().and_then(|weakest| cuts.get(weakest.cut));
    let (pass, radius_mm) = at.map_or((0, 0.0), |(pass, turn)| (*pass, turn.radius_mm));
    let over_slip = holding::numbers().last_hold_over_slip.value;
    LastHoldJudged { weakest, pass, radius_mm, needed: over_slip * facing.required }
}

/// The loadings that can be the worst: at one force the load changes evenly with the tool's radius and height
/// together, so that of all places of the tool the corners of their convex hull stand for the rest
/// (`holding::last_hold::weakest`). The places of a pass run from the spindle axis to the farthest corner.
fn loadings(task: &Task, tool: &ToolFacts, facing: &Facing) -> Vec<(usize, TurnCut)> {
    let work = Work::new(task, tool, &facing.piece, &facing.lie, &facing.depth);
    let of = |(pass, cut): (usize, &Cut)| {
        let force = work.force(cut.depth_mm, feed_of(cut, facing.feeds), Level::Likely);
        (pass, facing.hold.turn_cut(work.radius_mm(cut.total_mm), work.height_mm(cut.total_mm), force))
    };
    let corners: Vec<(usize, TurnCut)> = facing.cuts.iter().enumerate().map(of).collect();
    let alike = corners.chunk_by(|(_, one), (_, other)| one.force == other.force);
    alike.flat_map(|passes| [outermost(passes), at_the_axis(passes)].concat()).collect()
}

/// The farthest corners that no two others outreach; heights fall from pass to pass.
fn outermost(passes: &[(usize, TurnCut)]) -> Vec<(usize, TurnCut)> {
    let mut kept: Vec<(usize, TurnCut)> = Vec::new();
    for next in passes {
        while let [.., (_, before), (_, last)] = kept.as_slice() {
            let along = (last.height_mm - before.height_mm) / (next.1.height_mm - before.height_mm);
            let between = before.radius_mm + along * (next.1.radius_mm - before.radius_mm);
            if last.radius_mm > between {
                break;
            }
            kept.pop();
        }
        kept.push(*next);
    }
    kept
}

fn at_the_axis(passes: &[(usize, TurnCut)]) -> Vec<(usize, TurnCut)> {
    let ends = if passes.len() > 1 { vec![passes[0], passes[passes.len() - 1]] } else { passes.to_vec() };
    ends.into_iter().map(|(pass, turn)| (pass, TurnCut { radius_mm: 0.0, ..turn })).collect()
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

    fn place(pass: usize, radius_mm: f64, height_mm: f64) -> (usize, TurnCut) {
        let force = crate::plan::Force3 { cutting: 900.0, feed: 300.0, passive: 200.0 };
        (pass, TurnCut { radius_mm, height_mm, force, weight_n: 0.0, mass_centre_mm: Vector3::zeros() })
    }

    #[test]
    fn a_corner_inside_the_hull_of_the_others_is_left_out_and_no_other() {
        let passes = [place(0, 20.0, 12.0), place(1, 21.0, 10.0), place(2, 25.0, 8.0), place(3, 26.0, 6.0)];
        let kept: Vec<usize> = outermost(&passes).iter().map(|(pass, _)| *pass).collect();
        assert_eq!(kept, [0, 2, 3]);
        assert_eq!(at_the_axis(&passes).iter().map(|(pass, _)| *pass).collect::<Vec<_>>(), [0, 3]);
        assert_eq!(at_the_axis(&passes[..1]).len(), 1);
    }

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
