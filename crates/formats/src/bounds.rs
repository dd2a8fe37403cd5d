//! Limits within which a number of a file makes sense at all.
//!
//! These are no facts of the trade, only fences: nobody turns a block ten metres long by hand, so a
//! number beyond is a slip of the pen or of the unit.

use std::ops::Bound::{self, Excluded, Included};
use std::ops::RangeBounds;

/// Least and most, each in or out.
pub(crate) type Bounds = (Bound<f64>, Bound<f64>);

/// A length that must be there: over 0, under 10 m.
pub(crate) const LENGTH: Bounds = (Excluded(0.0), Excluded(10_000.0));
/// A length of bar or part: nothing thinner is held in a chuck.
pub(crate) const SIZE: Bounds = (Included(0.5), Excluded(10_000.0));
/// Depth of a finishing cut: under it the edge rubs, over it the cut is no finishing one.
pub(crate) const FINISHING_CUT: Bounds = from_to(0.02, 2.0);
/// The deepest cut that a job may wish for.
pub(crate) const DEEPEST_CUT: Bounds = from_to(0.05, 20.0);
/// Skin taken off a sawn end.
pub(crate) const CLEAN_UP: Bounds = from_to(0.0, 20.0);
/// Share of the table speed where the cut is interrupted.
pub(crate) const INTERRUPTED_SHARE: Bounds = from_to(0.1, 1.0);
/// A length that may be nothing.
pub(crate) const LENGTH_OR_ZERO: Bounds = (Included(0.0), Excluded(10_000.0));
/// A length that may be negative.
pub(crate) const SIGNED_LENGTH: Bounds = (Excluded(-10_000.0), Excluded(10_000.0));
/// How far something leans, degrees: nothing has no spread.
pub(crate) const SPREAD_ANGLE: Bounds = (Excluded(0.0), Included(5.0));
/// A standard deviation of a length, mm: nothing has none.
pub(crate) const SPREAD_LENGTH: Bounds = (Excluded(0.0), Included(10.0));
/// An error or play of a machine, mm.
pub(crate) const SMALL_LENGTH: Bounds = (Included(0.0), Included(10.0));
/// A feed, mm per revolution.
pub(crate) const FEED: Bounds = (Excluded(0.0), Included(10.0));
/// A share of a whole that is not nothing.
pub(crate) const SHARE: Bounds = (Excluded(0.0), Included(1.0));
/// An exponent m_c.
pub(crate) const EXPONENT: Bounds = (Included(0.0), Excluded(1.0));
/// A spindle speed, turns a minute.
pub(crate) const SPEED: Bounds = (Excluded(0.0), Included(20_000.0));
/// A motor, W.
pub(crate) const POWER: Bounds = (Excluded(0.0), Included(1e6));
/// A torque, N m.
pub(crate) const TORQUE: Bounds = (Excluded(0.0), Included(1e6));
/// A force, N.
pub(crate) const FORCE: Bounds = (Excluded(0.0), Included(1e6));
/// A mass, kg.
pub(crate) const MASS: Bounds = (Excluded(0.0), Included(1e6));
/// A stiffness, N/µm.
pub(crate) const STIFFNESS: Bounds = (Excluded(0.0), Included(1e5));
/// A small angle of a machine's error, degrees.
pub(crate) const SMALL_ANGLE: Bounds = (Included(-5.0), Included(5.0));
/// A spread of angles, degrees.
pub(crate) const SPREAD: Bounds = (Included(0.0), Included(5.0));
/// Plus and minus of an angle of a part, degrees.
pub(crate) const ANGLE_LIMIT: Bounds = (Excluded(0.0), Included(10.0));
/// A direction in the bar's section, degrees.
pub(crate) const ROUND: Bounds = (Included(0.0), Excluded(360.0));
/// The angle between the flanks of a vee, degrees.
pub(crate) const VEE_ANGLE: Bounds = from_to(60.0, 150.0);
/// A friction coefficient.
pub(crate) const FRICTION: Bounds = (Excluded(0.0), Included(1.0));
/// Minutes of handling.
pub(crate) const MINUTES: Bounds = (Included(0.0), Included(600.0));

/// Both limits in.
pub(crate) const fn from_to(least: f64, most: f64) -> Bounds {
    (Included(least), Included(most))
}

/// Whether the number lies within.
pub(crate) fn hold(bounds: &Bounds, value: f64) -> bool {
    bounds.contains(&value)
}

/// The limits in words, each divided by `per_unit`: "more than 0 and less than 10000".
pub(crate) fn words(bounds: &Bounds, per_unit: f64) -> String {
    let shown = |value: f64| short(value / per_unit);
    let low = match bounds.0 {
        Included(least) => format!("at least {}", shown(least)),
        Excluded(least) => format!("more than {}", shown(least)),
        Bound::Unbounded => "anything".to_string(),
    };
    match bounds.1 {
        Included(most) => format!("{low} and at most {}", shown(most)),
        Excluded(most) => format!("{low} and less than {}", shown(most)),
        Bound::Unbounded => low,
    }
}

/// Whole from a hundred up, else four places without idle zeros: a fence needs no more.
fn short(value: f64) -> String {
    if value.abs() >= 100.0 {
        return format!("{}", value.round());
    }
    format!("{}", (value * 1e4).round() / 1e4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_bounds_let_through_what_is_not_a_number() {
        for bounds in [LENGTH, LENGTH_OR_ZERO, SIGNED_LENGTH, SIZE, SHARE, MINUTES, FINISHING_CUT, CLEAN_UP] {
            assert!(!hold(&bounds, f64::NAN) && !hold(&bounds, f64::INFINITY) && !hold(&bounds, f64::NEG_INFINITY));
        }
        assert!(!hold(&LENGTH, 0.0) && hold(&LENGTH_OR_ZERO, 0.0));
        assert_eq!(words(&LENGTH, 1.0), "more than 0 and less than 10000");
        // 0.5 mm and 10 m in inches: 0.019 685, 393.7.
        assert_eq!(words(&SIZE, 25.4), "at least 0.0197 and less than 394");
    }
}
