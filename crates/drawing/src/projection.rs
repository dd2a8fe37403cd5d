//! First and third angle, and their sign.

use engine::quantity::Units;

/// How views are laid out round the first one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Projection {
    /// The view from the right lies on the left, the view from above lies below.
    FirstAngle,
    /// The view from the right lies on the right, the view from above lies above.
    ThirdAngle,
}

impl Projection {
    /// Third angle for inches, first for millimetres.
    pub fn usual(units: Units) -> Projection {
        match units {
            Units::Mm => Projection::FirstAngle,
            Units::Inch => Projection::ThirdAngle,
        }
    }
}
