//! The weakest moment: the least last hold over all cuts, radii and angles, proven between the angles tried.
//!
//! Loads that a grip carries form a convex set. At one factor the load of a cut runs round an ellipse as the
//! tool goes round the work, so an arc of it lies inside the triangle of its two ends and the point where
//! their tangents meet: what carries these three carries all between. Arcs whose three factors are not good
//! enough are halved until the proven least is as near to the least found as asked. The same convexity leaves
//! the radii between two out, since at one angle the load changes evenly with the radius, and a cut that is
//! only partly in the metal, which is a share of the whole one.

use super::solver::Until;
use super::{LastHold, LastHoldFault, LastHoldFound};
use crate::holding::load::harmonics;
use crate::holding::{SteadyLoad, TurnCut, Wrench};

/// How the weakest moment is sought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeakestSearch {
    /// Arcs that a turn is first parted into, 3 or more.
    pub first_arcs: u32,
    /// By what share the proven least may stay below the least found.
    pub share: f64,
    /// Halvings of one arc at most.
    pub most_halvings: u32,
    /// Where to look first: cut and angle of the tool, degrees. A good guess saves work and changes no answer.
    pub guess: Option<(usize, f64)>,
}

/// The weakest moment of all cuts.
#[derive(Debug, Clone, PartialEq)]
pub struct WeakestMoment {
    /// Least factor found, with its forces and motion.
    pub found: LastHoldFound,
    /// No angle, radius or cut among those given has less than this.
    pub at_least: f64,
    /// Which of the cuts, from 0.
    pub cut: usize,
    /// Angle of the tool from jaw 1, degrees, counter-clockwise seen from the tailstock.
    pub angle_deg: f64,
    /// Loadings solved.
    pub solved: u32,
}

impl Default for WeakestSearch {
    /// Six arcs to begin with and a proof to one in a hundred: far nearer than friction is known.
    fn default() -> Self {
        WeakestSearch { first_arcs: 6, share: 1e-2, most_halvings: 16, guess: None }
    }
}

/// Mean, cosine and sine part of cut and weight.
struct Round {
    cut: [Wrench; 3],
    constant: [Wrench; 3],
}

/// Part of a turn, with the least factor that proves it.
#[derive(Debug, Clone, Copy)]
struct Arc {
    cut: usize,
    from_rad: f64,
    to_rad: f64,
    /// Factors at its ends; of a first arc not asked for, since they lie between its own meeting point and the next.
    ends: Option<[f64; 2]>,
    least: f64,
    halvings: u32,
}

struct Search<'a> {
    hold: &'a LastHold,
    rounds: Vec<Round>,
    /// Least factor so far, its cut and angle.
    best: Option<(f64, usize, f64)>,
    solved: u32,
}

/// A loading that carries this many times the least found so far is not looked into further.
const ENOUGH: f64 = 1.0 + 1e-6;
/// Gap of a loading while the search goes on; the weakest is solved to the end.
const ROUGH_GAP: f64 = 1e-5;

impl LastHold {
    /// The least factor over these cuts, each all the way round; `None` without cuts.
    pub fn weakest(
        &self,
        cuts: &[TurnCut],
        steady: &[SteadyLoad],
        how: &WeakestSearch,
    ) -> Result<Option<WeakestMoment>, LastHoldFault> {
        let rounds: Vec<Round> = cuts.iter().map(|cut| Round::of(cut, steady)).collect();
        let mut search = Search { hold: self, rounds, best: None, solved: 0 };
        if let Some((cut, angle_deg)) = how.guess.filter(|(cut, _)| *cut < cuts.len()) {
            search.at(cut, angle_deg.to_radians())?;
        }
        let arcs = search.first_arcs(how.first_arcs.max(3))?;
        let at_least = search.close_in(arcs, how)?;
        search.told(at_least)
    }
}

impl Search<'_> {
    fn first_arcs(&mut self, count: u32) -> Result<Vec<Arc>, LastHoldFault> {
        let step = std::f64::consts::TAU / f64::from(count);
        let mut arcs = Vec::new();
        for cut in 0..self.rounds.len() {
            for index in 0..count {
                let (from, to) = (step * f64::from(index), step * f64::from(index + 1));
                arcs.push(self.arc(cut, from, to, None, 0)?);
            }
        }
        Ok(arcs)
    }

    /// Halves the worst arcs until none proves less than the least found, but for the share allowed. An arc that is
    /// halved has its ends asked, so that the arc beside it is proven too.
    fn close_in(&mut self, mut arcs: Vec<Arc>, how: &WeakestSearch) -> Result<f64, LastHoldFault> {
        let mut proven = f64::INFINITY;
        while let Some(arc) = take_least(&mut arcs) {
            let good = self.best.is_some_and(|(best, ..)| arc.least >= best * (1.0 - how.share));
            if good {
                return Ok(proven.min(arc.least));
            }
            if arc.halvings >= how.most_halvings {
                proven = proven.min(arc.least);
                continue;
            }
            let middle = (arc.from_rad + arc.to_rad) / 2.0;
            let there = self.at(arc.cut, middle)?;
            let [from, to] = match arc.ends {
                Some(ends) => ends,
                None => [self.at(arc.cut, arc.from_rad)?, self.at(arc.cut, arc.to_rad)?],
            };
            arcs.push(self.arc(arc.cut, arc.from_rad, middle, Some([from, there]), arc.halvings + 1)?);
            arcs.push(self.arc(arc.cut, middle, arc.to_rad, Some([there, to]), arc.halvings + 1)?);
        }
        Ok(proven)
    }

    /// The factor at an angle; kept where it is the least so far.
    fn at(&mut self, cut: usize, angle_rad: f64) -> Result<f64, LastHoldFault> {
        let (sin, cos) = angle_rad.sin_cos();
        let factor = self.solve(cut, cos, sin, ROUGH_GAP)?.factor;
        if self.best.is_none_or(|(best, ..)| factor < best) {
            self.best = Some((factor, cut, angle_rad));
        }
        Ok(factor)
    }

    fn arc(
        &mut self,
        cut: usize,
        from_rad: f64,
        to_rad: f64,
        ends: Option<[f64; 2]>,
        halvings: u32,
    ) -> Result<Arc, LastHoldFault> {
        let (sin, cos) = ((from_rad + to_rad) / 2.0).sin_cos();
        let outward = 1.0 / ((to_rad - from_rad) / 2.0).cos();
        let meeting = self.solve(cut, cos * outward, sin * outward, ROUGH_GAP)?.factor;
        let least = ends.into_iter().flatten().fold(meeting, f64::min);
        Ok(Arc { cut, from_rad, to_rad, ends, least, halvings })
    }

    fn solve(&mut self, cut: usize, cos: f64, sin: f64, gap: f64) -> Result<LastHoldFound, LastHoldFault> {
        self.solved += 1;
        let enough = self.best.map_or(f64::INFINITY, |(best, ..)| best * ENOUGH);
        let round = &self.rounds[cut];
        self.hold.up_to(&towards(&round.cut, cos, sin), &towards(&round.constant, cos, sin), Until { enough, gap })
    }

    /// The weakest moment found, solved to the end.
    fn told(&mut self, at_least: f64) -> Result<Option<WeakestMoment>, LastHoldFault> {
        let Some((_, cut, angle_rad)) = self.best else { return Ok(None) };
        let (sin, cos) = angle_rad.sin_cos();
        let round = &self.rounds[cut];
        let found = self.hold.under(&towards(&round.cut, cos, sin), &towards(&round.constant, cos, sin))?;
        let at_least = at_least.min(found.factor);
        Ok(Some(WeakestMoment { at_least, found, cut, angle_deg: angle_rad.to_degrees(), solved: self.solved }))
    }
}

impl Round {
    fn of(cut: &TurnCut, steady: &[SteadyLoad]) -> Round {
        let stays = steady.iter().fold(Wrench::none(), |sum, load| sum + Wrench::of_force(&load.at_mm, &load.force_n));
        let weight = |cos, sin| cut.at_direction(cos, sin).weight() + stays;
        Round { cut: harmonics(|cos, sin| cut.at_direction(cos, sin).cut()), constant: harmonics(weight) }
    }
}

fn towards(parts: &[Wrench; 3], cos: f64, sin: f64) -> Wrench {
    parts[0] + parts[1] * cos + parts[2] * sin
}

fn take_least(arcs: &mut Vec<Arc>) -> Option<Arc> {
    let least = (0..arcs.len()).min_by(|one, other| arcs[*one].least.total_cmp(&arcs[*other].least))?;
    Some(arcs.swap_remove(least))
}
