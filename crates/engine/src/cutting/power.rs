//! Power, torque and the metal that comes off.

/// Power at the edge, `P_c = F_c v_c / 60`, W, for a force in N and a cutting speed in m/min.
pub fn power_w(force_n: f64, speed_m_min: f64) -> f64 {
    force_n * speed_m_min / 60.0
}

/// Torque about the spindle, `M = F_c r / 1000`, N m, for a force in N at a radius in mm.
pub fn torque_nm(force_n: f64, radius_mm: f64) -> f64 {
    force_n * radius_mm / 1000.0
}

/// Metal removed while the edge is in it, `Q = 1000 v_c f a_p`, mm³/min.
///
/// The cutting speed belongs to the middle of the depth for the true volume, to the outside by convention.
pub fn removal_mm3_per_min(speed_m_min: f64, feed_mm: f64, depth_mm: f64) -> f64 {
    1000.0 * speed_m_min * feed_mm * depth_mm
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::speed_m_min;

    #[test]
    fn power_is_torque_times_turning() {
        let (force_n, radius_mm, rpm) = (1300.0, 24.0, 400.0);
        let by_torque = torque_nm(force_n, radius_mm) * rpm * std::f64::consts::TAU / 60.0;
        assert!((power_w(force_n, speed_m_min(rpm, 2.0 * radius_mm)) - by_torque).abs() < 1e-9);
    }
}
