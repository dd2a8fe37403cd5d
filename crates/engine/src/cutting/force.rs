//! The cutting force: Kienzle's law on the mean chip, with its corrections, in three directions.

use super::chip::{Chip, Edge, chip};
use super::material::{Family, Material};
use super::number::{edge_row, numbers};
use crate::plan::Force3;

/// Which of the published forces is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// Likely: the table of modern tests, a sharp edge. Holding is judged with it.
    Likely,
    /// To be on the safe side of: the higher table, a worn edge. Power and torque are judged with it.
    Safe,
}

/// Force of the cut, N, for a depth and a feed per revolution in mm.
///
/// `F_c = k_c1.1 h^(−m_c) A K` (Kienzle 1952), A and h of [`chip`]. `K = K_γ K_tool K_wear`: rake 1.5 %
/// per degree from the rake of the table; HSS 1.2; a worn edge 1.3 at [`Level::Safe`]. No correction for
/// cutting speed (see [`speed_factor`]) and none at all on a material of the job's own.
/// A normal force `ρ F_c` in the reference plane acts square to Colwell's chord: `F_f = ρ F_c sin χ`,
/// `F_p = ρ F_c cos χ`. Measured for h of about 0.05 to 2 mm; used down to 0.01 mm, below which k_c is
/// held, so that a vanishing cut needs a vanishing force. Published tables differ by about ±25 %.
pub fn force(material: &Material, edge: &Edge, depth_mm: f64, feed_mm: f64, level: Level) -> Force3 {
    let chip = chip(edge, depth_mm, feed_mm);
    let cutting = specific_force_mpa(material, edge, &chip, level) * chip.area_mm2;
    let normal = normal_force_share() * cutting;
    Force3 { cutting, feed: normal * chip.chord_rad.sin(), passive: normal * chip.chord_rad.cos() }
}

/// Specific cutting force `k_c = k_c1.1 h^(−m_c)`, MPa, for a mean thickness in mm (Kienzle).
///
/// Held at its value for 0.01 mm where the chip is thinner.
pub fn kienzle_mpa(kc11_mpa: f64, mc: f64, thickness_mm: f64) -> f64 {
    kc11_mpa * thickness_mm.max(numbers().least_chip_mm.value).powf(-mc)
}

/// ρ: the normal force in the reference plane as a share of F_c.
pub fn normal_force_share() -> f64 {
    numbers().normal_force_share.value
}

/// Factor on k_c for the cutting speed in m/min, 1 at 100 m/min, carbide (Paucksch).
///
/// Known for 20 to 600 m/min, held constant beyond. Not applied by [`force`].
pub fn speed_factor(speed_m_min: f64) -> f64 {
    let rows = &numbers().speed_force;
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else { return 1.0 };
    if speed_m_min.is_nan() {
        return 1.0;
    }
    let speed = speed_m_min.clamp(first.from_m_min, last.to_m_min);
    let row = rows.iter().find(|row| speed <= row.to_m_min).unwrap_or(last);
    row.factor * speed.powf(-row.exponent)
}

fn specific_force_mpa(material: &Material, edge: &Edge, chip: &Chip, level: Level) -> f64 {
    let (kc11, mc, table_rake_deg, wear) = match level {
        Level::Likely => (material.kc11_mpa, material.mc, material.rake_deg, 1.0),
        Level::Safe => (material.kc11_high_mpa, material.mc_high, material.high_rake_deg, numbers().wear.value),
    };
    let plain = kienzle_mpa(kc11, mc, chip.mean_thickness_mm);
    if material.family == Family::Own {
        return plain;
    }
    plain * rake_factor(edge.rake_rad, table_rake_deg) * edge_row(edge.tool).force_factor * wear
}

/// K_γ: less force for each degree of rake more than that of the table; rad, degrees.
pub fn rake_factor(rake_rad: f64, table_rake_deg: f64) -> f64 {
    let range = numbers().rake_range_deg.value;
    let more_deg = rake_rad.to_degrees() - table_rake_deg;
    if more_deg.is_nan() { 1.0 } else { 1.0 - numbers().rake_per_degree.value * more_deg.clamp(-range, range) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::{material, materials};
    use crate::shop::ToolMaterial;
    use proptest::prelude::*;

    fn edge(kappa_deg: f64, nose_mm: f64, tool: ToolMaterial) -> Edge {
        Edge { kappa_rad: kappa_deg.to_radians(), nose_mm, rake_rad: 0.0, tool }
    }

    #[test]
    fn nothing_cut_needs_no_force() {
        let steel = material("medium-carbon-steel").unwrap();
        assert_eq!(force(steel, &edge(75.0, 0.8, ToolMaterial::Hss), 0.0, 0.1, Level::Safe), Force3::default());
        let least = force(steel, &edge(75.0, 0.8, ToolMaterial::Hss), 1e-9, 1e-9, Level::Safe);
        assert!(least.cutting > 0.0 && least.cutting < 1e-6);
    }

    #[test]
    fn the_safe_force_is_never_below_the_likely_one() {
        for row in materials() {
            for tool in ToolMaterial::ALL {
                for depth in [0.02, 0.1, 0.5, 1.0, 2.5, 6.0] {
                    for feed in [0.01, 0.05, 0.1, 0.3, 1.0] {
                        let edge = edge(75.0, 0.8, tool);
                        let (likely, safe) = (
                            force(row, &edge, depth, feed, Level::Likely),
                            force(row, &edge, depth, feed, Level::Safe),
                        );
                        assert!(safe.cutting > likely.cutting, "{} {depth} {feed}", row.name);
                    }
                }
            }
        }
    }

    #[test]
    fn rake_lowers_the_force_and_stops_doing_so() {
        assert!((rake_factor(10f64.to_radians(), 0.0) - 0.85).abs() < 1e-12);
        assert!((rake_factor(0.0, 6.0) - 1.09).abs() < 1e-12);
        assert_eq!(rake_factor(1.5, 0.0), rake_factor(0.5, 0.0));
        assert_eq!(rake_factor(f64::NAN, 0.0), 1.0);
    }

    #[test]
    fn slow_carbide_needs_more_force_and_one_hundred_is_the_measure() {
        assert!((speed_factor(100.0) - 1.0).abs() < 1e-3);
        assert!(speed_factor(30.0) > 1.15 && speed_factor(30.0) < 1.25);
        assert_eq!(speed_factor(1.0), speed_factor(20.0));
        assert_eq!(speed_factor(f64::NAN), 1.0);
    }

    #[test]
    fn the_nose_costs_ordinary_roughing_little_against_the_textbook() {
        // 2.5 mm at 0.1 mm, 75 degrees, nose 0.8: k_c1.1 (f sin kappa)^-m_c f a_p, worked out apart: 627.1 N.
        let steel = material("medium-carbon-steel").unwrap();
        let ours = force(steel, &edge(75.0, 0.8, ToolMaterial::CarbideUncoated), 2.5, 0.1, Level::Likely).cutting;
        assert!((1.03..1.05).contains(&(ours / 627.1)), "{ours}");
    }

    proptest! {
        #[test]
        fn force_grows_with_depth_and_feed(
            row in 0..materials().len(), kappa in 30.0..100.0f64, nose in 0.0..3.0f64, depth in 0.005..8.0f64,
            feed in 0.005..2.0f64, more in 1.001..2.0f64,
        ) {
            let (row, edge) = (&materials()[row], edge(kappa, nose, ToolMaterial::CarbideCoated));
            for level in [Level::Likely, Level::Safe] {
                let base = force(row, &edge, depth, feed, level).cutting;
                prop_assert!(force(row, &edge, depth * more, feed, level).cutting > base);
                prop_assert!(force(row, &edge, depth, feed * more, level).cutting > base);
            }
        }

        #[test]
        fn the_two_in_the_plane_are_the_normal_force(
            kappa in 30.0..90.0f64, nose in 0.0..3.0f64, depth in 0.005..8.0f64, feed in 0.005..2.0f64,
        ) {
            let steel = material("low-alloy-steel").unwrap();
            let it = force(steel, &edge(kappa, nose, ToolMaterial::CarbideCoated), depth, feed, Level::Likely);
            prop_assert!((it.feed.hypot(it.passive) / it.cutting / normal_force_share() - 1.0).abs() < 1e-12);
            prop_assert!(it.feed > 0.0 && it.passive >= -1e-9);
        }

        #[test]
        fn force_scales_as_kienzle_says(
            nose in 0.2..2.0f64, depth in 0.2..4.0f64, feed in 0.1..0.8f64, scale in 1.0..4.0f64,
        ) {
            let steel = material("medium-carbon-steel").unwrap();
            let small = force(steel, &edge(75.0, nose, ToolMaterial::Hss), depth, feed, Level::Likely).cutting;
            let large = force(steel, &edge(75.0, nose * scale, ToolMaterial::Hss), depth * scale, feed * scale, Level::Likely).cutting;
            prop_assert!((large / small / scale.powf(2.0 - steel.mc) - 1.0).abs() < 1e-9);
        }
    }
}
