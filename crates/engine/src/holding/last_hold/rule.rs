//! From jaws as they grip to points and limits: the "upper" and the "pair" rule.

use nalgebra::Vector3;

use super::{LastHold, LastHoldFault, PressLimit, PressPoint};
use crate::holding::grip::OPPOSED_COSINE;
use crate::holding::vee::mean_push;
use crate::holding::{CENTRE, Contact, Grip, JawGrip};

/// What the jaws' forces may come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HoldRule {
    /// No jaw presses harder than it was tightened.
    Upper,
    /// Jaws that press back against one another keep the sum of their forces.
    Pair,
}

/// A jaw with the points at which it may press.
struct Jaw {
    clamping_n: f64,
    push: Vector3<f64>,
    points: Vec<(Vector3<f64>, Vector3<f64>, f64)>,
    centre: bool,
}

impl LastHold {
    /// The jaws' points that take a share, and one limit for each jaw or for each set of opposed jaws.
    pub fn of_jaws(jaws: &[JawGrip], rule: HoldRule) -> Result<LastHold, LastHoldFault> {
        let jaw = |jaw: &JawGrip| {
            let seeds = jaw.contacts.iter().filter(|seed| seed.share > 0.0);
            Jaw::new(jaw.clamping_n, seeds.map(|seed| (seed.at_mm, seed.inward.normalize(), jaw.friction)).collect())
        };
        of(&jaws.iter().map(jaw).collect::<Vec<_>>(), rule)
    }
}

impl Grip {
    /// The last hold of the points that bear, every jaw tightened to this force, N, a centre pressing up to its thrust.
    pub fn last_hold(&self, clamping_n: f64, rule: HoldRule) -> Result<LastHold, LastHoldFault> {
        let mut numbers: Vec<u8> = self.held().iter().map(|held| held.contact.jaw).collect();
        numbers.sort_unstable();
        numbers.dedup();
        let point = |contact: &Contact| (contact.at_mm, contact.inward, contact.friction);
        let jaw = |&number: &u8| {
            let held = self.held().iter().filter(|held| held.contact.jaw == number);
            let points = held.map(|held| point(&held.contact)).collect();
            match self.thrust_n.filter(|_| number == CENTRE) {
                Some(thrust_n) => Jaw { centre: true, ..Jaw::new(thrust_n, points) },
                None if self.vees.contains(&number) => Jaw::new(clamping_n, points).through_a_vee(),
                None => Jaw::new(clamping_n, points),
            }
        };
        of(&numbers.iter().map(jaw).collect::<Vec<_>>(), rule)
    }
}

impl Jaw {
    fn new(clamping_n: f64, points: Vec<(Vector3<f64>, Vector3<f64>, f64)>) -> Jaw {
        let push: Vector3<f64> = points.iter().map(|(_, inward, _)| inward).sum();
        Jaw { clamping_n, push: push.try_normalize(0.0).unwrap_or_else(Vector3::zeros), points, centre: false }
    }

    /// Flanks that lean from the push may together press harder than the jaw does, and no more than so that normal forces
    /// and friction together never push harder than it: `Σ N ≤ F/(cos β + μ sin β)`, the least lean β counting.
    fn through_a_vee(self) -> Jaw {
        let Some(push) = mean_push(self.points.iter().map(|(_, inward, _)| *inward)) else { return self };
        let most = |(_, inward, friction): &(Vector3<f64>, Vector3<f64>, f64)| {
            let along = inward.dot(&push).min(1.0);
            along + friction * (1.0 - along * along).sqrt()
        };
        if self.points.iter().all(|(_, inward, _)| *inward == self.points[0].1) {
            return self;
        }
        let share = self.points.iter().map(most).fold(0.0, f64::max);
        Jaw { clamping_n: self.clamping_n / share, ..self }
    }
}

fn of(jaws: &[Jaw], rule: HoldRule) -> Result<LastHold, LastHoldFault> {
    let limit_of = match rule {
        HoldRule::Upper => (0..jaws.len()).collect(),
        HoldRule::Pair => opposed(jaws),
    };
    let mut forces = vec![0.0; limit_of.iter().max().map_or(0, |most| most + 1)];
    jaws.iter().zip(&limit_of).for_each(|(jaw, &limit)| forces[limit] += jaw.clamping_n);
    // Nothing presses back against a centre with which it could keep a sum: the jaws' friction takes its thrust.
    let limit = |(at, force_n): (usize, f64)| match rule {
        HoldRule::Pair if !jaws.iter().zip(&limit_of).any(|(jaw, &limit)| limit == at && jaw.centre) => {
            PressLimit::Kept(force_n)
        }
        _ => PressLimit::AtMost(force_n),
    };
    let limits: Vec<PressLimit> = forces.into_iter().enumerate().map(limit).collect();
    let points = |(jaw, &limit): (&Jaw, &usize)| -> Vec<PressPoint> {
        let point = |&(at_mm, inward, friction)| PressPoint { at_mm, inward, friction, limit };
        jaw.points.iter().map(point).collect()
    };
    LastHold::new(&jaws.iter().zip(&limit_of).flat_map(points).collect::<Vec<_>>(), &limits)
}

/// Numbers the sets of jaws that press back against one another, each by its first jaw.
fn opposed(jaws: &[Jaw]) -> Vec<usize> {
    let mut set_of: Vec<usize> = Vec::new();
    let mut sets = 0;
    for (at, jaw) in jaws.iter().enumerate() {
        let earlier = jaws[..at].iter().position(|before| before.push.dot(&jaw.push) < OPPOSED_COSINE);
        let set = earlier.map_or(sets, |before| set_of[before]);
        sets = sets.max(set + 1);
        set_of.push(set);
    }
    set_of
}
