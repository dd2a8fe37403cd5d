//! What the shop measures with.

use crate::quantity::Length;

/// A measuring tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// Its name in the shop.
    pub name: String,
    /// What one mark or digit counts.
    pub graduation: Length,
    /// Least and most that it measures; `None`: not limited.
    pub range: Option<(Length, Length)>,
    /// Standard uncertainty of a reading.
    pub uncertainty: Option<Length>,
    /// Whether it reaches the size while the piece sits in the chuck.
    pub fits_in_chuck: bool,
}
