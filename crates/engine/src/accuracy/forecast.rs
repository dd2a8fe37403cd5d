//! The forecast: of many parts made in the same way, how many pass each check, and all of them.

use super::carried::Samples;
use super::causes::Cause;
use super::chain::{Chain, SetUp, Stands};
use super::check::{Check, Cone, Valued};

/// A share of parts with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// From 0 to 1.
    pub share: f64,
    /// Standard error of the share, from independent scramblings.
    pub error: f64,
}

/// What a check comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Told {
    /// Mean of what would be written down, mm.
    pub middle: f64,
    /// Its standard deviation, mm.
    pub spread: f64,
    /// How many parts pass it.
    pub chance: Chance,
}

/// Every check, and all together.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// In the order of the checks.
    pub told: Vec<Told>,
    /// All of them.
    pub all: Chance,
    /// Pieces drawn.
    pub pieces: u32,
}

/// Scramblings, each independent of the others; their scatter is the error.
const SCRAMBLINGS: u32 = 8;

/// Makes `pieces` parts (shared among scramblings) by these set-ups and judges them.
pub fn forecast(
    start: &Chain,
    set_ups: &[(SetUp, Stands)],
    checks: &[Check],
    by: (Cone, f64),
    draws: (u32, u32),
) -> Forecast {
    forecast_quieter(start, set_ups, checks, by, draws, &[])
}

/// The same pieces with some causes weaker by a factor each.
pub fn forecast_quieter(
    start: &Chain,
    set_ups: &[(SetUp, Stands)],
    checks: &[Check],
    (cone, roughness_share): (Cone, f64),
    (pieces, seed): (u32, u32),
    quieter: &[(Cause, f64)],
) -> Forecast {
    let each = (pieces / SCRAMBLINGS).max(1);
    let runs: Vec<Run> = (0..SCRAMBLINGS)
        .map(|at| {
            let mut samples = Samples::new(each, seed.wrapping_add(at.wrapping_mul(0x85eb_ca6b))).quieter(quieter);
            let mut chain = start.clone();
            set_ups.iter().for_each(|(set_up, stands)| chain.cut(&mut samples, set_up, stands));
            run(&chain, &mut samples, checks, (cone, roughness_share))
        })
        .collect();
    let told = (0..checks.len()).map(|check| told(&runs, check)).collect();
    let all = chance(runs.iter().map(|run| run.all));
    Forecast { told, all, pieces: each * SCRAMBLINGS }
}

/// What one scrambling found.
struct Run {
    /// Of each check: mean and mean square of what is told, share that passes.
    checks: Vec<[f64; 3]>,
    all: f64,
}

fn run(chain: &Chain, samples: &mut Samples, checks: &[Check], (cone, roughness_share): (Cone, f64)) -> Run {
    let count = samples.count();
    let mut good = vec![true; count];
    let found = checks
        .iter()
        .map(|check| {
            let valued = check.valued(chain, samples, cone, roughness_share);
            judge(&valued, &mut good)
        })
        .collect();
    Run { checks: found, all: good.iter().filter(|&&good| good).count() as f64 / count as f64 }
}

fn judge(valued: &Valued, good: &mut [bool]) -> [f64; 3] {
    let mut sums = [0.0; 3];
    for (piece, good) in good.iter_mut().enumerate() {
        let (told, passes) = (valued.told(piece), valued.good(piece));
        *good &= passes;
        sums[0] += told;
        sums[1] += told * told;
        sums[2] += f64::from(u8::from(passes));
    }
    sums.map(|sum| sum / good.len() as f64)
}

fn told(runs: &[Run], check: usize) -> Told {
    let mean = |at: usize| runs.iter().map(|run| run.checks[check][at]).sum::<f64>() / runs.len() as f64;
    let middle = mean(0);
    Told {
        middle,
        spread: (mean(1) - middle * middle).max(0.0).sqrt(),
        chance: chance(runs.iter().map(|run| run.checks[check][2])),
    }
}

fn chance(shares: impl Iterator<Item = f64> + Clone) -> Chance {
    let count = shares.clone().count() as f64;
    let share = shares.clone().sum::<f64>() / count;
    let scatter = shares.map(|one| (one - share).powi(2)).sum::<f64>();
    Chance { share, error: (scatter / (count * (count - 1.0).max(1.0))).sqrt() }
}
