//! How this shop's sizes scatter, and what scrap costs it, where it has found that out.

use crate::quantity::Length;

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
    /// Minutes until a new blank lies at the lathe, its price in minutes included.
    pub new_blank_minutes: Option<f64>,
}
