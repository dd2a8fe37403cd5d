//! From jaws as they grip to points and limits: the "upper" and the "pair" rule.

use nalgebra::Vector3;

use super::{LastHold, LastHoldFault, PressLimit, PressPoint};
use crate::holding::JawGrip;

/// What the jaws' forces may come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HoldRule {
    /// No jaw presses harder than it was tightened.
    Upper,
    /// Jaws that press back against one another keep the sum of their forces.
    Pair,
}

/// Two jaws press back against each other where their pushes are more than this apart, as a cosine.
const OPPOSED_COSINE: f64 = -0.25;

impl LastHold {
    /// The jaws' points that take a share, and one limit for each jaw or for each set of opposed jaws.
    pub fn of_jaws(jaws: &[JawGrip], rule: HoldRule) -> Result<LastHold, LastHoldFault> {
        let limit_of = match rule {
            HoldRule::Upper => (0..jaws.len()).collect(),
            HoldRule::Pair => opposed(jaws),
        };
        let count = limit_of.iter().max().map_or(0, |most| most + 1);
        let mut forces = vec![0.0; count];
        jaws.iter().zip(&limit_of).for_each(|(jaw, &limit)| forces[limit] += jaw.clamping_n);
        let limits: Vec<PressLimit> = match rule {
            HoldRule::Upper => forces.into_iter().map(PressLimit::AtMost).collect(),
            HoldRule::Pair => forces.into_iter().map(PressLimit::Kept).collect(),
        };
        let points: Vec<PressPoint> =
            jaws.iter().zip(&limit_of).flat_map(|(jaw, &limit)| points_of(jaw, limit)).collect();
        LastHold::new(&points, &limits)
    }
}

fn points_of(jaw: &JawGrip, limit: usize) -> impl Iterator<Item = PressPoint> + '_ {
    jaw.contacts.iter().filter(|seed| seed.share > 0.0).map(move |seed| PressPoint {
        at_mm: seed.at_mm,
        inward: seed.inward.normalize(),
        friction: jaw.friction,
        limit,
    })
}

/// Numbers the sets of jaws that press back against one another, each by its first jaw.
fn opposed(jaws: &[JawGrip]) -> Vec<usize> {
    let pushes: Vec<Vector3<f64>> = jaws.iter().map(push_of).collect();
    let mut set_of: Vec<usize> = Vec::new();
    let mut sets = 0;
    for at in 0..jaws.len() {
        let earlier = (0..at).find(|&before| pushes[before].dot(&pushes[at]) < OPPOSED_COSINE);
        let set = earlier.map_or(sets, |before| set_of[before]);
        sets = sets.max(set + 1);
        set_of.push(set);
    }
    set_of
}

fn push_of(jaw: &JawGrip) -> Vector3<f64> {
    let push: Vector3<f64> = jaw.contacts.iter().map(|seed| seed.inward.normalize() * seed.share).sum();
    push.try_normalize(0.0).unwrap_or_else(Vector3::zeros)
}
