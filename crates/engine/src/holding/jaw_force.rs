//! Force of a jaw: from the key to what may be counted on at speed.

use std::f64::consts::PI;

use super::numbers::numbers;
use super::speed::centrifugal_force_n;
use crate::quantity::Plain;
use crate::shop::ClampingForce;

/// The screw of an independent jaw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JawScrew {
    /// Pitch P, mm.
    pub pitch_mm: f64,
    /// Pitch diameter d₂, mm.
    pub pitch_diameter_mm: f64,
    /// Mean radius of the thrust shoulder r_c, mm.
    pub shoulder_radius_mm: f64,
    /// Friction in thread and at the shoulder.
    pub friction: f64,
    /// Half the thread angle β, degrees; 0: square thread.
    pub half_angle_deg: f64,
}

impl JawScrew {
    /// Torque per force, mm: `(d₂/2) tan(φ + ρ') + μ r_c`, `tan φ = P/(π d₂)`, `tan ρ' = μ/cos β`
    /// (power screws: Shigley, Mechanical Engineering Design).
    pub fn arm_mm(&self) -> f64 {
        let turned = (self.lead_rad() + self.rubbing_rad()).tan();
        self.pitch_diameter_mm / 2.0 * turned + self.friction * self.shoulder_radius_mm
    }

    /// Lead angle φ, rad.
    pub fn lead_rad(&self) -> f64 {
        (self.pitch_mm / (PI * self.pitch_diameter_mm)).atan()
    }

    /// Angle of friction in the thread ρ', rad.
    pub fn rubbing_rad(&self) -> f64 {
        (self.friction / self.half_angle_deg.to_radians().cos()).atan()
    }

    /// Force along the screw, N, at this torque on the key, N·m.
    pub fn force_n(&self, torque_nm: f64) -> f64 {
        torque_nm * 1000.0 / self.arm_mm()
    }

    /// Whether a key can turn it at all: beyond 90 degrees of lead and friction together nothing does.
    pub fn turns(&self) -> bool {
        let angle_rad = self.lead_rad() + self.rubbing_rad();
        angle_rad < PI / 2.0 && self.arm_mm() > 0.0
    }

    /// Whether its thread lets go by itself: lead angle above the angle of friction (textbook condition of
    /// self-locking, φ ≤ ρ'; Shigley, power screws).
    pub fn unwinds(&self) -> bool {
        self.lead_rad() > self.rubbing_rad()
    }

    /// The same screw with other friction.
    pub fn rubbed(&self, friction: f64) -> JawScrew {
        JawScrew { friction, ..*self }
    }

    /// Work got out over work put in: `P/(2 π arm)`.
    pub fn efficiency(&self) -> f64 {
        self.pitch_mm / (2.0 * PI * self.arm_mm())
    }
}

/// What a hand on the key makes of a jaw's screw: both ends of the bands of torque and friction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeyBand {
    /// Least torque, N·m.
    pub low_torque_nm: f64,
    /// Greatest friction in thread and shoulder.
    pub high_friction: f64,
    /// Least force of a jaw: least torque, greatest friction, N.
    pub low_n: f64,
    /// Greatest force of a jaw: greatest torque, least friction, N.
    pub high_n: f64,
}

/// The bands of a key turned by feel. Torque and friction lie apart from what is given by the shares of the data
/// table; where friction would lock the screw, the least force is nought.
pub fn key_band(screw: &JawScrew, torque_nm: f64) -> KeyBand {
    let (torque, friction) = (numbers().key_torque_spread_by_feel.value, numbers().screw_friction_spread.value);
    let low_torque_nm = torque_nm * (1.0 - torque);
    let high_friction = screw.friction * (1.0 + friction);
    let (dry, slippery) = (screw.rubbed(high_friction), screw.rubbed(screw.friction * (1.0 - friction)));
    let force_n = |screw: JawScrew, torque_nm: f64| if screw.turns() { screw.force_n(torque_nm) } else { 0.0 };
    KeyBand {
        low_torque_nm,
        high_friction,
        low_n: force_n(dry, low_torque_nm),
        high_n: force_n(slippery, torque_nm * (1.0 + torque)),
    }
}

/// Share of the screw's force that reaches the work, `1/(1 + 2 μ_g c/l)`: the jaw tips in its slot because it
/// grips at height c above the screw; l: guided length. Not in the nominal force: few shops know c and l,
/// and the low share covers it.
pub fn guide_share(friction: f64, height_over_screw_mm: f64, guided_length_mm: f64) -> f64 {
    1.0 / (1.0 + 2.0 * friction * height_over_screw_mm / guided_length_mm)
}

/// Nominal force of one jaw at standstill, N. A key is taken with the thread angle of the data row.
pub fn nominal_force_n(force: &ClampingForce) -> f64 {
    match *force {
        ClampingForce::Each(each) => each.plain(),
        ClampingForce::Key { .. } => key(force).map_or(0.0, |(screw, torque_nm)| screw.force_n(torque_nm)),
    }
}

/// The screw and the torque on its key, N m, where the force is given by them.
pub fn key(force: &ClampingForce) -> Option<(JawScrew, f64)> {
    match *force {
        ClampingForce::Each(_) => None,
        ClampingForce::Key { torque, pitch, pitch_diameter, shoulder_diameter, friction } => {
            let screw = JawScrew {
                pitch_mm: pitch.plain(),
                pitch_diameter_mm: pitch_diameter.plain(),
                shoulder_radius_mm: shoulder_diameter.plain() / 2.0,
                friction,
                half_angle_deg: numbers().thread_half_angle_deg.value,
            };
            Some((screw, torque.plain()))
        }
    }
}

/// Force of one jaw that may be counted on, N: nominal × low share − `m r ω²`, never below nought.
pub fn counted_force_n(nominal_n: f64, low_share: f64, jaw_kg: f64, jaw_radius_mm: f64, speed_rpm: f64) -> f64 {
    (nominal_n * low_share - centrifugal_force_n(jaw_kg, jaw_radius_mm, speed_rpm)).max(0.0)
}
