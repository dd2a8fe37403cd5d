//! Makes many pieces and says how they came out.

use super::dice::Dice;
use super::inspect::{self, Measured};
use super::make::{Method, Spoiled, make};
use super::noise::Noises;
use super::recipe::Recipe;

/// Middle, spread and quantiles of a number over the pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Series {
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub spread: f64,
    /// At `SHARES`.
    pub quantiles: [f64; 3],
    /// At 0, 1, 2 to 100 in a hundred.
    hundredths: [f64; 101],
}

impl Series {
    /// Shares of the pieces at which quantiles are told.
    pub const SHARES: [f64; 3] = [0.05, 0.5, 0.95];

    /// Of numbers, at least one.
    pub fn of(mut values: Vec<f64>) -> Self {
        let count = values.len() as f64;
        let mean = values.iter().sum::<f64>() / count;
        let spread = (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (count - 1.0).max(1.0)).sqrt();
        values.sort_by(f64::total_cmp);
        let at = |share: f64| between(&values, share);
        let hundredths = std::array::from_fn(|hundredth| at(hundredth as f64 / 100.0));
        Series { mean, spread, quantiles: Self::SHARES.map(at), hundredths }
    }

    /// The value that this share of the pieces does not pass.
    pub fn at(&self, share: f64) -> f64 {
        between(&self.hundredths, share.clamp(0.0, 1.0))
    }
}

/// At a share of the way through sorted values.
fn between(sorted: &[f64], share: f64) -> f64 {
    let place = share * (sorted.len() - 1) as f64;
    let (low, part) = (place.floor() as usize, place.fract());
    sorted[low] + (sorted[(low + 1).min(sorted.len() - 1)] - sorted[low]) * part
}

/// How one want came out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Least local size, or the zone.
    pub least: Series,
    /// Greatest local size, or the zone.
    pub most: Series,
    /// Half way between the two.
    pub middle: Series,
    /// Share of pieces that are as wanted.
    pub chance: f64,
}

/// How a lot of pieces came out.
#[derive(Debug, Clone, PartialEq)]
pub struct Lot {
    /// Pieces made and measured.
    pub pieces: usize,
    /// Pieces that could not be made: what should have been on a pad was not.
    pub spoiled: usize,
    /// In the order of the recipe's wants.
    pub wants: Vec<Seen>,
    /// Share of pieces that are all right.
    pub chance: f64,
    /// Least share of springs that touched in any set-up of any piece.
    pub least_touching: f64,
}

impl Lot {
    /// Standard error of a share seen in this lot, never under that of half a piece.
    pub fn error_of(&self, chance: f64) -> f64 {
        let count = self.pieces as f64;
        (chance * (1.0 - chance) / count).sqrt().max(0.5 / count)
    }
}

/// Makes one lot. The same seed throws the same errors for either method, so that lots can be compared piece by piece.
pub fn lot(recipe: &Recipe, noises: &Noises, seed: u64, pieces: usize, method: Method) -> Lot {
    let mut dice = Dice::new(seed);
    let (mut rows, mut spoiled, mut least_touching): (Vec<Vec<Measured>>, usize, f64) = (Vec::new(), 0, 1.0);
    for _ in 0..pieces {
        let throw = noises.throw(recipe, &mut dice);
        let made = make(recipe, &throw, method);
        let measured = made.and_then(|made| {
            least_touching = made.touching.iter().copied().fold(least_touching, f64::min);
            inspect::all(recipe, &made.solid).ok_or(Spoiled::NothingThere(recipe.set_ups.len()))
        });
        match measured {
            Ok(row) => rows.push(row),
            Err(_) => spoiled += 1,
        }
    }
    let of = |want: usize, pick: fn(&Measured) -> f64| Series::of(rows.iter().map(|row| pick(&row[want])).collect());
    let share = |good: &dyn Fn(&Vec<Measured>) -> bool| {
        rows.iter().filter(|row| good(row)).count() as f64 / rows.len().max(1) as f64
    };
    let wants = (0..if rows.is_empty() { 0 } else { recipe.wants.len() })
        .map(|want| Seen {
            least: of(want, |measured| measured.least),
            most: of(want, |measured| measured.most),
            middle: of(want, |measured| (measured.least + measured.most) / 2.0),
            chance: share(&|row| inspect::good(&recipe.wants[want], &row[want])),
        })
        .collect();
    let chance = share(&|row| recipe.wants.iter().zip(row).all(|(want, measured)| inspect::good(want, measured)));
    Lot { pieces: rows.len(), spoiled, wants, chance, least_touching }
}
