//! How this shop's sizes scatter, and what scrap costs it, where it has found that out.

use crate::quantity::{Angle, Length};

/// Standard deviations and minutes; `None`: assumed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Scatter {
    /// Of a touch-off.
    pub touch_off: Option<Length>,
    /// Of the bar's surface where it is touched off, against where it was measured.
    pub bar: Option<Length>,
    /// Of a finished face on its seat.
    pub seat: Option<Length>,
    /// Error of the screw as a share of the travel since the touch-off.
    pub screw: Option<f64>,
    /// Of a finishing cut whatever its depth.
    pub cut: Option<Length>,
    /// Error of dial and spring of a finishing cut as a share of its depth.
    pub cut_share: Option<f64>,
    /// Lean of work that only the eye squares.
    pub by_eye: Option<Angle>,
    /// Tilt of the chuck's face.
    pub chuck_face: Option<Angle>,
    /// Dirt left at a point of a wiped bearing.
    pub dirt: Option<Length>,
    /// Unevenness of packing along a jaw.
    pub packing: Option<Length>,
    /// Parallels of a pair against each other.
    pub parallels: Option<Length>,
    /// Roughness about what feed and nose give, as a share.
    pub roughness: Option<f64>,
    /// Lean of a sawn end.
    pub sawn_end: Option<Angle>,
    /// Lean of the bar's skin under a jaw.
    pub skin: Option<Angle>,
    /// Tapped down, at the edge of the seat.
    pub tapped: Option<Length>,
    /// Minutes until a new blank lies at the lathe, its price in minutes included.
    pub new_blank_minutes: Option<f64>,
}
