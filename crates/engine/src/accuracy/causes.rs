//! Causes: what share of a check's spread comes from which source. Exact where the check is a sum of noises; for a
//! zone, the share in the variance of its values about their middle.

use super::carried::{Coefficients, add};
use super::chain::{Chain, SetUp, Stands};
use super::check::{Check, Cone, Judged, Row};
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

    /// The same cause for all jaws together.
    pub fn of_every_jaw(self) -> Cause {
        if let Cause::JawFace(_) = self { Cause::JawFace(0) } else { self }
    }

    /// The same in words: "tilt of the jaws".
    pub fn words_of_every_jaw(self) -> String {
        if let Cause::JawFace(_) = self { "tilt of the jaws".to_string() } else { self.words() }
    }

    /// What a person can do to halve it.
    pub fn halved_by(self) -> &'static str {
        match self {
            Cause::JawFace(_) => "gripping faces of the jaws trued to half their tilt",
            Cause::Regrip => {
                "jaws closed by turns a little at a time, the flat checked with an indicator: half the lean of a new grip"
            }
            Cause::Dirt => "jaws, packing and flats wiped and stoned: half the dirt",
            Cause::Packing => "packing side by side out of one strip, measured: half as uneven",
            Cause::Skin => "a bar with half the lean of skin and sawn ends: drawn or turned, sawn squarer",
            Cause::Eye => "work set with an indicator where now the eye sets it: half the lean",
            Cause::Seat => "work tapped down until feelers are held at every corner: half the lean on the seat",
            Cause::AxialSlip => {
                "half the axial slip: spindle bearings looked at by someone qualified, after the maker's manual"
            }
            Cause::CrossSlide => "cross slide half as far out of square, after the maker's manual",
            Cause::Cut => {
                "a new corner or a freshly honed edge, and the last two cuts alike: half the scatter of the last cut"
            }
            Cause::Gauge => "a gauge of half the uncertainty",
            Cause::TouchOff => "touching off with thin paper or an indicator: half the scatter",
            Cause::Roughness => "a new corner or a freshly honed nose, and an even feed: half the scatter of roughness",
        }
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

/// Every value that is looked at as a sum of noises.
#[derive(Debug, Clone, PartialEq)]
pub struct Linear {
    /// The noises, each a standard normal; `Known` stands for 1.
    pub noises: Vec<Noise>,
    /// Of each check.
    pub checks: Vec<LinearRows>,
}

/// The values of a check as coefficients in mm; a shorter list goes on with noughts.
#[derive(Debug, Clone, PartialEq)]
pub struct LinearRows {
    /// Of each row.
    pub rows: Vec<Vec<f64>>,
    /// Of the values that go round about a row: its place, and the two sums.
    pub turns: Vec<(usize, [Vec<f64>; 2])>,
}

/// The values of every check as coefficients of the noises.
pub fn linear(start: &Chain, set_ups: &[(SetUp, Stands)], checks: &[Check], (cone, roughness): (Cone, f64)) -> Linear {
    let mut basis = Coefficients::default();
    let mut chain = start.clone();
    set_ups.iter().for_each(|(set_up, stands)| chain.cut(&mut basis, set_up, stands));
    let mut carried = |row: &Row| row.carried(&chain, &mut basis, cone, roughness);
    let mut of = |check: &Check| LinearRows {
        rows: check.rows.iter().map(&mut carried).collect(),
        turns: check.turns.iter().map(|turn| (turn.about, [0, 1].map(|at| carried(&turn.sums[at])))).collect(),
    };
    let checks = checks.iter().map(&mut of).collect();
    Linear { noises: basis.noises, checks }
}

/// The causes of every check, the greatest first; empty where nothing spreads it.
pub fn causes(checks: &[Check], linear: &Linear) -> Vec<Vec<Share>> {
    let of = |(check, rows): (&Check, &LinearRows)| of_check(check, rows, &linear.noises);
    checks.iter().zip(&linear.checks).map(of).collect()
}

fn of_check(check: &Check, LinearRows { rows, turns }: &LinearRows, noises: &[Noise]) -> Vec<Share> {
    let mut rows = rows.clone();
    // Where values go round about a row, the two to either side along each direction.
    for (about, sums) in turns {
        for (sum, sign) in sums.iter().flat_map(|sum| [(sum, 1.0), (sum, -1.0)]) {
            let mut beside = rows.get(*about).cloned().unwrap_or_default();
            add(&mut beside, sign, sum);
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
    for (at, &noise) in noises.iter().enumerate() {
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
