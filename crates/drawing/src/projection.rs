//! First and third angle, and their sign.

use engine::quantity::Units;

use crate::board::Board;
use crate::figure::{Curve, LineKind, Part};
use crate::vector::Flat;

/// How views are laid out round the first one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Projection {
    /// The view from the left lies on the right, the view from above lies below.
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

    /// "first angle", "third angle".
    pub fn name(self) -> &'static str {
        match self {
            Projection::FirstAngle => "first angle",
            Projection::ThirdAngle => "third angle",
        }
    }
}

/// Width and height of the sign, mm.
pub const SIGN_MM: [f64; 2] = [17.0, 8.0];
/// Large and small diameter and length of the cone, mm: 2 to 1, as long as it is thick (ISO 5456-2, from memory).
const CONE_MM: [f64; 3] = [6.0, 3.0, 6.0];

/// The truncated cone in two views, ISO 5456-2; the small end is on the left of the cone's own view, and the circles
/// are what is seen on that end: on the right in first angle, on the left in third.
pub fn sign(board: &mut Board, projection: Projection, [left, top]: Flat) {
    let middle = top + SIGN_MM[1] / 2.0;
    let (cone, circles) = match projection {
        Projection::FirstAngle => (left + 0.5, left + 13.0),
        Projection::ThirdAngle => (left + 10.0, left + 4.0),
    };
    let [large, small, length] = CONE_MM;
    let corners = [
        [cone, middle - small / 2.0],
        [cone + length, middle - large / 2.0],
        [cone + length, middle + large / 2.0],
        [cone, middle + small / 2.0],
        [cone, middle - small / 2.0],
    ];
    board.polyline(LineKind::Wide, Part::Sign, &corners);
    for diameter in [large, small] {
        board.stroke(LineKind::Wide, Part::Sign, Curve::circle([circles, middle], diameter / 2.0));
    }
    let past = 1.0;
    let mut chain = |from: Flat, to: Flat| board.stroke(LineKind::Chain, Part::Sign, Curve::line(from, to));
    chain([cone - past, middle], [cone + length + past, middle]);
    chain([circles - large / 2.0 - past, middle], [circles + large / 2.0 + past, middle]);
    chain([circles, middle - large / 2.0 - past], [circles, middle + large / 2.0 + past]);
}
