//! How numbers are shown: in the job's units, no more digits than the hand can use.

use super::{Length, Plain};

/// The units in which a job is written and its plan speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Millimetres, UK words.
    Mm,
    /// Inches, US words.
    Inch,
}

impl Units {
    /// The short name beside a number.
    pub fn name(self) -> &'static str {
        match self {
            Units::Mm => "mm",
            Units::Inch => "in",
        }
    }
}

/// A length in the job's units: two places in mm, three in inches.
pub fn show_length(length: Length, units: Units) -> String {
    match units {
        Units::Mm => format!("{:.2} mm", length.plain()),
        Units::Inch => format!("{:.3} in", length.plain() / 25.4),
    }
}
