//! Causes: what share of a check's spread comes from which source. Exact where the check is a sum of noises; for a
//! zone, the share in the variance of its values about their middle.

use super::carried::{Coefficients, add};
use super::chain::{Chain, SetUp, Stands};
use super::check::{Check, Cone, Judged};
use super::noise::Noise;

/// A source of error as a person would name it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// The face of a jaw, from 0.
    JawFace(u8),
    /// Regripping a jaw, in whichever set-ups.
    Regrip,
    /// Dirt on what bears.
    Dirt,
    /// Packing of uneven thickness.
    Packing,
    /// The bar's skin and sawn ends.
    Skin,
    /// What only the eye set.
    Eye,
    /// The seat: tapping down, parallels, the chuck's face.
    Seat,
    /// The spindle's axial slip.
    AxialSlip,
    /// The cross slide out of square.
    CrossSlide,
    /// The last cut: edge, dial, spring.
    Cut,
    /// The gauge.
    Gauge,
    /// Touching off.
    TouchOff,
    /// Roughness of the cut.
    Roughness,
}

/// A cause with its share of a check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// Which.
    pub of: Cause,
    /// From 0 to 1; all shares of a check make 1.
    pub share: f64,
}

impl Cause {
    /// As a person would name it.
    pub fn words(self) -> String {
        match self {
            Cause::JawFace(jaw) => return format!("tilt of jaw {}", jaw + 1),
            Cause::Regrip => "gripping anew",
            Cause::Dirt => "dirt on what bears",
            Cause::Packing => "packing of uneven thickness",
            Cause::Skin => "the bar's skin and sawn ends",
            Cause::Eye => "what only the eye squares",
            Cause::Seat => "tapping down on the seat",
            Cause::AxialSlip => "axial slip of the spindle",
            Cause::CrossSlide => "cross slide out of square",
            Cause::Cut => "the last cut: edge, dial, spring",
            Cause::Gauge => "the gauge",
            Cause::TouchOff => "touching off",
            Cause::Roughness => "roughness of the cut",
        }
        .to_string()
    }

    /// Which cause a noise counts to; `None`: no draw at all.
    pub fn of(noise: Noise) -> Option<Cause> {
        Some(match noise {
            Noise::Known => return None,
            Noise::JawFace(jaw) => Cause::JawFace(jaw),
            Noise::ChuckFace(_) | Noise::Tapped(..) | Noise::Parallels(_) => Cause::Seat,
            Noise::AxialSlip(_) => Cause::AxialSlip,
            Noise::CrossSlide => Cause::CrossSlide,
            Noise::Roughness => Cause::Roughness,
            Noise::Gauge(_) => Cause::Gauge,
            Noise::Sawn(..) | Noise::Skin(..) | Noise::SkinBehind(..) => Cause::Skin,
            Noise::Regrip(..) => Cause::Regrip,
            Noise::Dirt(..) => Cause::Dirt,
            Noise::Packing(..) => Cause::Packing,
            Noise::Eye(..) => Cause::Eye,
            Noise::Cut(_) => Cause::Cut,
            Noise::TouchOff(_) => Cause::TouchOff,
        })
    }
}

/// The causes of every check, the greatest first; empty where nothing spreads it.
pub fn causes(start: &Chain, set_ups: &[(SetUp, Stands)], checks: &[Check], by: (Cone, f64)) -> Vec<Vec<Share>> {
    let mut basis = Coefficients::default();
    let mut chain = start.clone();
    set_ups.iter().for_each(|(set_up, stands)| chain.cut(&mut basis, set_up, stands));
    checks.iter().map(|check| of_check(check, &chain, &mut basis, by)).collect()
}

fn of_check(check: &Check, chain: &Chain, basis: &mut Coefficients, (cone, roughness): (Cone, f64)) -> Vec<Share> {
    let mut rows: Vec<Vec<f64>> = check.rows.iter().map(|row| row.carried(chain, basis, cone, roughness)).collect();
    // Where values go round about a row, the two to either side along each direction.
    for turn in &check.turns {
        for (sum, sign) in turn.sums.iter().flat_map(|sum| [(sum, 1.0), (sum, -1.0)]) {
            let mut beside = rows.get(turn.about).cloned().unwrap_or_default();
            add(&mut beside, sign, &sum.carried(chain, basis, cone, roughness));
            rows.push(beside);
        }
    }
    if let Judged::Zone { .. } = check.judged {
        // What all values have in common moves no zone.
        let mut mean = Vec::new();
        rows.iter().for_each(|row| add(&mut mean, 1.0 / rows.len() as f64, row));
        rows.iter_mut().for_each(|row| add(row, -1.0, &mean));
    }
    let mut shares: Vec<Share> = Vec::new();
    for (at, &noise) in basis.noises.iter().enumerate() {
        let variance: f64 = rows.iter().map(|row| row.get(at).map_or(0.0, |part| part * part)).sum();
        let Some(of) = Cause::of(noise).filter(|_| variance > 0.0) else { continue };
        match shares.iter_mut().find(|share| share.of == of) {
            Some(share) => share.share += variance,
            None => shares.push(Share { of, share: variance }),
        }
    }
    let all: f64 = shares.iter().map(|share| share.share).sum();
    shares.iter_mut().for_each(|share| share.share /= all);
    shares.sort_by(|one, other| other.share.total_cmp(&one.share).then(one.of.cmp(&other.of)));
    shares
}
