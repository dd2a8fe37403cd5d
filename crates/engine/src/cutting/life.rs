//! How long an edge lasts, and what a job uses of it.

use super::material::{Family, Material};
use super::number::{Work, numbers};
use crate::shop::ToolMaterial;

/// Taylor's constants: `v T^n = C`, v and C in m/min, T in minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Taylor {
    /// Exponent n.
    pub n: f64,
    /// Cutting speed for a life of one minute, m/min.
    pub c_m_min: f64,
}

/// Taylor's constants for a tool material in a work material; feed about 0.25 mm, depth about 2.5 mm.
///
/// Groover's table knows steel (stainless counts as steel, at its own lower speeds) and "other than
/// steel", which means the free-cutting metals: `None` for titanium, plastics and own materials that
/// are not steel.
pub fn taylor(material: &Material, tool: ToolMaterial) -> Option<Taylor> {
    let work = match material.family {
        Family::CastIron | Family::Aluminium | Family::CopperAlloy => Work::Other,
        _ if material.is_steel() => Work::Steel,
        _ => return None,
    };
    numbers().taylor.iter().find(|row| row.tool == tool && row.work == work).map(|row| row.constants())
}

/// Taylor's constants through two tests: speeds in m/min, lives in minutes; `None` unless all differ and are above 0.
pub fn taylor_through(fast: (f64, f64), slow: (f64, f64)) -> Option<Taylor> {
    let ((v1, t1), (v2, t2)) = (fast, slow);
    let n = (v1 / v2).ln() / (t2 / t1).ln();
    (n.is_finite() && n > 0.0).then(|| Taylor { n, c_m_min: v1 * t1.powf(n) })
}

/// Life of an edge at a cutting speed, `T = (C/v)^(1/n)`, minutes; without end at no speed.
pub fn life_minutes(taylor: Taylor, speed_m_min: f64) -> f64 {
    if speed_m_min > 0.0 { (taylor.c_m_min / speed_m_min).powf(1.0 / taylor.n) } else { f64::INFINITY }
}

/// Cutting speed for a life in minutes, `v = C T^(−n)`, m/min.
pub fn speed_for_life(taylor: Taylor, minutes: f64) -> f64 {
    taylor.c_m_min * minutes.powf(-taylor.n)
}

/// Share of an edge's life that minutes in the metal use at a cutting speed.
///
/// Continuous cutting: interruption and scale shorten the life by an amount that no table gives.
pub fn edge_share(taylor: Taylor, speed_m_min: f64, minutes: f64) -> f64 {
    minutes / life_minutes(taylor, speed_m_min)
}

/// Life with another clearance angle over life with this one, for the same wear land: `tan α₂ / tan α₁` (rad).
pub fn life_for_clearance(from_rad: f64, to_rad: f64) -> f64 {
    to_rad.tan() / from_rad.tan()
}

/// Cutting speed that makes the most pieces, m/min, for a tool change in minutes.
///
/// `v = C / ((1/n − 1) T_t)^n` (Gilbert 1950).
pub fn speed_for_most_output(taylor: Taylor, change_minutes: f64) -> f64 {
    speed_for_life(taylor, (1.0 / taylor.n - 1.0) * change_minutes)
}

/// Cutting speed that costs least, m/min: price of a minute, price of an edge, tool change in minutes.
///
/// `v = C [n/(1−n) · C_o/(C_o T_t + C_t)]^n` (Gilbert 1950).
pub fn speed_for_least_cost(taylor: Taylor, minute_price: f64, edge_price: f64, change_minutes: f64) -> f64 {
    speed_for_life(taylor, (1.0 / taylor.n - 1.0) * (change_minutes + edge_price / minute_price))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::{material, materials, table_speed};
    use proptest::prelude::*;

    #[test]
    fn a_table_speed_leaves_an_edge_time_to_work() {
        for row in materials() {
            for tool in ToolMaterial::ALL {
                let Some(constants) = taylor(row, tool) else { continue };
                let life = life_minutes(constants, table_speed(row, tool).unwrap());
                assert!(life > 15.0, "{} {tool:?}: {life} minutes", row.name);
            }
        }
        assert_eq!(taylor(material("titanium-6-4").unwrap(), ToolMaterial::Hss), None);
        assert!(taylor(material("stainless-austenitic").unwrap(), ToolMaterial::Hss).is_some());
    }

    #[test]
    fn senseless_tests_give_no_constants() {
        assert_eq!(taylor_through((100.0, 10.0), (100.0, 10.0)), None);
        assert_eq!(taylor_through((-1.0, 10.0), (100.0, 20.0)), None);
        let steel = taylor(material("low-carbon-steel").unwrap(), ToolMaterial::Hss).unwrap();
        assert_eq!(life_minutes(steel, 0.0), f64::INFINITY);
        assert_eq!(edge_share(steel, 0.0, 5.0), 0.0);
    }

    proptest! {
        #[test]
        fn speed_and_life_undo_each_other(n in 0.08..0.6f64, c in 20.0..900.0f64, minutes in 1.0..300.0f64) {
            let constants = Taylor { n, c_m_min: c };
            prop_assert!((life_minutes(constants, speed_for_life(constants, minutes)) / minutes - 1.0).abs() < 1e-9);
        }
    }
}
