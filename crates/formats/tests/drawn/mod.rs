//! Pieces drawn from the audit's rows by a general library's generator and normal distribution, sharing no code with the
//! engine's forecast.
#![allow(dead_code, reason = "each test that uses this needs a part of it")]

use engine::plan::{LinearCheck, LinearRow};
use rand::rngs::StdRng;
use rand::{Rng, RngExt, SeedableRng};

/// Pieces drawn.
pub const PIECES: u32 = 20_000;
const SEED: u64 = 11;

/// Standard normal by the polar method (Marsaglia and Bray 1964).
fn normal(dice: &mut impl Rng) -> f64 {
    loop {
        let (u, v) = (dice.random_range(-1.0..1.0f64), dice.random_range(-1.0..1.0f64));
        let square = u * u + v * v;
        if square > 0.0 && square < 1.0 {
            return u * (-2.0 * square.ln() / square).sqrt();
        }
    }
}

/// Whether a piece with these noises keeps a requirement.
fn keeps(check: &LinearCheck, noises: &[f64]) -> bool {
    let value = |row: &LinearRow| {
        row.constant_mm + row.coefficients_mm.iter().zip(noises).map(|(part, noise)| part * noise).sum::<f64>()
    };
    let turned = check.turns.iter().flat_map(|turn| {
        let (about, [one, other]) = (value(&check.rows[turn.about]), [0, 1].map(|at| value(&turn.sums[at])));
        [about + one.hypot(other), about - one.hypot(other)]
    });
    let values = check.rows.iter().map(value).chain(turned);
    let (low, high) =
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
    match check.zone_form_mm {
        Some(form) => high - low + form <= check.most_mm,
        None => high <= check.most_mm && check.least_mm.is_none_or(|least| low >= least),
    }
}

/// Share of pieces that keep each requirement, and all; noises times these factors.
pub fn shares(checks: &[&LinearCheck], factors: &[f64]) -> (Vec<f64>, f64) {
    let mut dice = StdRng::seed_from_u64(SEED);
    let (mut each, mut all) = (vec![0u32; checks.len()], 0u32);
    for _ in 0..PIECES {
        let noises: Vec<f64> = factors.iter().map(|factor| factor * normal(&mut dice)).collect();
        let kept: Vec<bool> = checks.iter().map(|check| keeps(check, &noises)).collect();
        each.iter_mut().zip(&kept).for_each(|(count, kept)| *count += u32::from(*kept));
        all += u32::from(kept.iter().all(|kept| *kept));
    }
    let share = |count: u32| f64::from(count) / f64::from(PIECES);
    (each.into_iter().map(share).collect(), share(all))
}

/// Share of pieces that keep all.
pub fn share_of_all(checks: &[&LinearCheck], factors: &[f64]) -> f64 {
    shares(checks, factors).1
}
