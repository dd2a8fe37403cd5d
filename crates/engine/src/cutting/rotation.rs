//! Turns and travel: spindle speed, cutting speed, feed and the time of a pass.

use std::f64::consts::PI;

/// Spindle speed for a cutting speed at a diameter, `n = 1000 v_c / (π D)`, rpm; 0 without a diameter.
pub fn rpm_for(speed_m_min: f64, diameter_mm: f64) -> f64 {
    if diameter_mm > 0.0 { 1000.0 * speed_m_min / (PI * diameter_mm) } else { 0.0 }
}

/// Cutting speed at a diameter, `v_c = π D n / 1000`, m/min.
pub fn speed_m_min(rpm: f64, diameter_mm: f64) -> f64 {
    PI * diameter_mm * rpm / 1000.0
}

/// Feed per revolution of a slide that moves at a steady rate, mm; 0 when the spindle stands.
pub fn feed_mm_per_rev(rate_mm_per_min: f64, rpm: f64) -> f64 {
    if rpm > 0.0 { rate_mm_per_min / rpm } else { 0.0 }
}

/// Time of a travel at a feed per revolution, `L / (f n)`, minutes; infinite when nothing moves.
pub fn pass_minutes(travel_mm: f64, feed_mm: f64, rpm: f64) -> f64 {
    let rate = feed_mm * rpm;
    if rate > 0.0 { travel_mm.abs() / rate } else { f64::INFINITY }
}

/// Time of a facing pass between two radii at one spindle speed, minutes; add the approach to the outer one.
pub fn facing_minutes(start_radius_mm: f64, end_radius_mm: f64, feed_mm: f64, rpm: f64) -> f64 {
    pass_minutes(start_radius_mm - end_radius_mm, feed_mm, rpm)
}

/// Time of a facing pass when the spindle follows the cutting speed, `π (r1² − r2²) / (1000 f v_c)`, minutes.
///
/// A manual lathe cannot do it; it shows what facing at one speed costs.
pub fn facing_minutes_at_speed(start_radius_mm: f64, end_radius_mm: f64, feed_mm: f64, speed_m_min: f64) -> f64 {
    let rate = 1000.0 * feed_mm * speed_m_min;
    if rate > 0.0 { PI * (start_radius_mm.powi(2) - end_radius_mm.powi(2)).abs() / rate } else { f64::INFINITY }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_standing_spindle_never_ends_a_pass() {
        assert_eq!(pass_minutes(10.0, 0.1, 0.0), f64::INFINITY);
        assert_eq!(rpm_for(100.0, 0.0), 0.0);
        assert_eq!(feed_mm_per_rev(10.0, 0.0), 0.0);
    }

    proptest! {
        #[test]
        fn speed_and_turns_undo_each_other(speed in 1.0..900.0f64, diameter in 0.5..900.0f64) {
            prop_assert!((speed_m_min(rpm_for(speed, diameter), diameter) / speed - 1.0).abs() < 1e-12);
        }

        #[test]
        fn facing_at_one_speed_is_never_quicker(r1 in 10.0..300.0f64, share in 0.0..0.99f64, feed in 0.02..1.0f64, v in 10.0..200.0f64) {
            let rpm = rpm_for(v, 2.0 * r1);
            prop_assert!(facing_minutes(r1, r1 * share, feed, rpm) >= facing_minutes_at_speed(r1, r1 * share, feed, v) * (1.0 - 1e-12));
        }
    }
}
