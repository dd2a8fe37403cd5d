//! A quantity that hangs on noises, carried through the chain in one of two ways that the chain does not tell apart:
//! by its coefficients, one per noise, or by its values, one per sample piece.

use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::{Arc, PoisonError, RwLock};

use statrs::function::erf::erfc_inv;

use super::causes::Cause;
use super::noise::Noise;

/// Coefficients or values; a shorter one goes on with noughts.
pub type Carried = Vec<f64>;

/// Adds `weight` times `what`.
pub fn add(sum: &mut Carried, weight: f64, what: &[f64]) {
    if weight == 0.0 {
        return;
    }
    if sum.len() < what.len() {
        sum.resize(what.len(), 0.0);
    }
    for (to, from) in sum.iter_mut().zip(what) {
        *to += weight * from;
    }
}

/// What stands for a noise of standard deviation 1.
pub trait Basis {
    /// Its coefficients or values.
    fn unit(&mut self, noise: Noise) -> Rc<[f64]>;
}

/// Noises as they are met, each with a coefficient of its own.
#[derive(Debug, Default)]
pub struct Coefficients {
    /// In the order of the coefficients.
    pub noises: Vec<Noise>,
}

impl Basis for Coefficients {
    fn unit(&mut self, noise: Noise) -> Rc<[f64]> {
        let at = self.noises.iter().position(|known| *known == noise).unwrap_or_else(|| {
            self.noises.push(noise);
            self.noises.len() - 1
        });
        let mut unit = vec![0.0; at + 1];
        unit[at] = 1.0;
        unit.into()
    }
}

/// Pieces drawn by a scrambled Sobol sequence (Owen scrambling by hashing, Burley 2020), the seed stated.
#[derive(Debug, Clone)]
pub struct Samples {
    count: u32,
    seed: u32,
    quieter: Vec<(Cause, f64)>,
    known: BTreeMap<Noise, Rc<[f64]>>,
}

impl Samples {
    /// So many pieces (at most 65,536), best a power of two.
    pub fn new(count: u32, seed: u32) -> Samples {
        Samples { count: count.clamp(1, 1 << 16), seed, quieter: Vec::new(), known: BTreeMap::new() }
    }

    /// The same pieces with the noises of some causes times a factor each: what would come out if they were weaker.
    pub fn quieter(self, causes: &[(Cause, f64)]) -> Samples {
        Samples { quieter: causes.to_vec(), known: BTreeMap::new(), ..self }
    }

    /// How many.
    pub fn count(&self) -> usize {
        self.count as usize
    }
}

impl Basis for Samples {
    fn unit(&mut self, noise: Noise) -> Rc<[f64]> {
        let (count, seed) = (self.count, self.seed);
        let quieter = &self.quieter;
        Rc::clone(self.known.entry(noise).or_insert_with(|| {
            let drawn = draws(noise, count, seed);
            let cause = Cause::of(noise).map(Cause::of_every_jaw);
            match quieter.iter().find(|(quiet, _)| Some(quiet.of_every_jaw()) == cause) {
                Some((_, factor)) => drawn.iter().map(|draw| draw * factor).collect(),
                None => drawn,
            }
        }))
    }
}

/// Draws of the default seed are the same for every plan of a process: they are kept, up to so many numbers.
const MOST_KEPT: usize = 1 << 22;

type Kept = BTreeMap<(u32, u32, u32), Arc<[f64]>>;

static KEPT: RwLock<Kept> = RwLock::new(Kept::new());

fn draws(noise: Noise, count: u32, seed: u32) -> Rc<[f64]> {
    if noise == Noise::Known {
        return (0..count).map(|_| 1.0).collect();
    }
    let key = (noise.dimension(), count, seed);
    let known = KEPT.read().unwrap_or_else(PoisonError::into_inner).get(&key).cloned();
    let drawn = known.unwrap_or_else(|| {
        let drawn = drawn(noise.dimension(), count, seed);
        let mut kept = KEPT.write().unwrap_or_else(PoisonError::into_inner);
        if (kept.len() + 1) * (count as usize) <= MOST_KEPT {
            kept.insert(key, Arc::clone(&drawn));
        }
        drawn
    });
    Rc::from(&drawn[..])
}

fn drawn(dimension: u32, count: u32, seed: u32) -> Arc<[f64]> {
    let (at, padding) = (dimension % sobol_burley::NUM_DIMENSIONS, dimension / sobol_burley::NUM_DIMENSIONS);
    let seed = seed.wrapping_add(padding.wrapping_mul(0x9e37_79b9));
    // The sequence gives multiples of 2⁻²⁴ from 0: half a step on, so that the ends are as far from 0 as from 1.
    let share = |index: u32| f64::from(sobol_burley::sample(index, at, seed)) + 2f64.powi(-25);
    (0..count).map(|index| quantile(share(index))).collect()
}

/// Of the standard normal, for a share between 0 and 1; in one go, since there are millions of them.
fn quantile(share: f64) -> f64 {
    -std::f64::consts::SQRT_2 * erfc_inv(2.0 * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn draws_of_a_noise_are_standard_normal_and_repeatable() {
        let (mut one, mut again) = (Samples::new(4096, 7), Samples::new(4096, 7));
        for noise in [Noise::JawFace(1), Noise::Cut(3), Noise::Dirt(11, 2)] {
            let drawn = one.unit(noise);
            let mean = drawn.iter().sum::<f64>() / 4096.0;
            let square = drawn.iter().map(|x| x * x).sum::<f64>() / 4096.0;
            assert!(mean.abs() < 2e-3 && (square - 1.0).abs() < 5e-3, "{noise:?} {mean} {square}");
            assert_eq!(drawn, again.unit(noise));
        }
    }

    #[test]
    fn two_noises_do_not_go_together() {
        let mut samples = Samples::new(4096, 7);
        let pairs = [
            (Noise::JawFace(0), Noise::JawFace(1)),
            (Noise::Cut(0), Noise::Cut(4)),
            (Noise::Regrip(3, 0), Noise::Regrip(7, 0)),
        ];
        for (a, b) in pairs {
            let (one, other) = (samples.unit(a), samples.unit(b));
            let together = one.iter().zip(other.iter()).map(|(x, y)| x * y).sum::<f64>() / 4096.0;
            assert!(together.abs() < 0.05, "{a:?} {b:?} {together}");
        }
    }

    #[test]
    fn quantiles_are_those_of_the_table() {
        // Standard normal table (any handbook): 0.975 at 1.959964, 0.99 at 2.326348.
        assert!((quantile(0.975) - 1.959_964).abs() < 1e-6);
        assert!((quantile(0.01) + 2.326_348).abs() < 1e-6);
    }
}
