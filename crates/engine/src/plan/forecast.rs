//! What will come out: chances and causes.

use super::Assumed;

/// The forecast of a plan.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Forecast {
    /// Every requirement.
    pub qualities: Vec<Quality>,
    /// All of them together.
    pub chance: Chance,
    /// Minutes per good piece: those of the plan and of new stock over the chance, on the pieces that plans were
    /// compared on; infinite where none of them is good. `None`: too many faces to look at every order.
    pub per_good: Option<PerGood>,
    /// Parts drawn.
    pub pieces: u32,
    /// The seed of the draws.
    pub seed: u32,
    /// The spreads that it starts from and the shop did not give.
    pub from: Vec<Assumed>,
}

/// What a good piece costs by the plan that is taken, and how far the search proves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PerGood {
    /// Minutes per good piece.
    pub minutes: f64,
    /// No order, hold or turn of the piece takes less than this: what the search proved.
    pub least_minutes: f64,
    /// Set-ups tried with their errors.
    pub tried: u64,
}

/// A share of parts with its standard error.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Chance {
    /// From 0 to 1.
    pub share: f64,
    /// Standard error.
    pub error: f64,
}

/// One requirement as it will come out.
#[derive(Debug, Clone, PartialEq)]
pub struct Quality {
    /// In words: "C square to A".
    pub requirement: String,
    /// "size", "distance", "parallel", "square", "angle", "flat", "position", "rough".
    pub kind: &'static str,
    /// Lower limit, mm; 0 for the width of a zone.
    pub lower_mm: f64,
    /// Upper limit, mm; the width of a zone.
    pub upper_mm: f64,
    /// Where the limits come from.
    pub from: String,
    /// Mean of what will be measured, mm.
    pub middle_mm: f64,
    /// Its standard deviation, mm.
    pub spread_mm: f64,
    /// How many parts keep it.
    pub chance: Chance,
    /// Sources of its spread, the greatest first; shares make 1.
    pub causes: Vec<CauseShare>,
}

/// A source of error with its share in the spread of a requirement.
#[derive(Debug, Clone, PartialEq)]
pub struct CauseShare {
    /// In words: "tilt of jaw 2".
    pub of: String,
    /// From 0 to 1.
    pub share: f64,
}
