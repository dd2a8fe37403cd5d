//! A size with its limits.

use super::Fit;
use crate::quantity::Length;

/// A size and its limits: `size + plus` above, `size - minus` below.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sized {
    /// Nominal size.
    pub size: Length,
    /// Added for the upper limit; may be negative. `None`: the drawing gives none.
    pub plus: Option<Length>,
    /// Taken off for the lower limit; may be negative.
    pub minus: Option<Length>,
    /// The fit from which both limits come, where the drawing gives one.
    pub fit: Option<Fit>,
}

impl Sized {
    /// The middle of the limits, which is what a cut aims at; the size itself where the drawing gives none.
    pub fn aim(&self) -> Length {
        let above = self.plus.unwrap_or_default();
        let below = self.minus.unwrap_or_default();
        self.size + (above - below) / 2.0
    }

    /// A size to which the drawing gives no limits.
    pub fn bare(size: Length) -> Self {
        Sized { size, plus: None, minus: None, fit: None }
    }
}
