//! What cannot be reckoned with, in words.

use thiserror::Error;

/// A number with which nothing can be decided.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum Unusable {
    /// A length that is no number.
    #[error("{0} is no number")]
    NoNumber(&'static str),
    /// A spread of nothing or less: what has no spread needs no measuring, and nothing has none.
    #[error("{0} is {1} mm; a spread above zero is wanted, nothing is known without one")]
    Spread(&'static str, f64),
    /// Limits the wrong way round, or no band between them: least and most, mm.
    #[error("the limits are {0} to {1} mm; the least must be less than the most")]
    Limits(f64, f64),
    /// A price that is none.
    #[error("{0} is {1}; a price above zero is wanted")]
    Price(&'static str, f64),
    /// A mark of the dial that moves nothing, mm.
    #[error("a mark of the dial moves {0} mm; more than zero is wanted")]
    Mark(f64),
}

/// The number itself if it is one.
pub(super) fn number(what: &'static str, value: f64) -> Result<f64, Unusable> {
    if value.is_finite() { Ok(value) } else { Err(Unusable::NoNumber(what)) }
}

/// A spread above zero.
pub(super) fn spread(what: &'static str, value_mm: f64) -> Result<f64, Unusable> {
    if number(what, value_mm)? > 0.0 { Ok(value_mm) } else { Err(Unusable::Spread(what, value_mm)) }
}

/// A price above zero.
pub(super) fn price(what: &'static str, value: f64) -> Result<f64, Unusable> {
    if number(what, value)? > 0.0 { Ok(value) } else { Err(Unusable::Price(what, value)) }
}
