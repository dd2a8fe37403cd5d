//! Numbers of the cut that belong to no single material, each with its source (`data/cutting.toml`).

use std::sync::OnceLock;

use serde::{Deserialize, Deserializer};

use super::life::Taylor;
use crate::shop::ToolMaterial;

/// A number with the range in which it may be believed and where it comes from.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sourced {
    /// The number.
    pub value: f64,
    /// The least that may be believed.
    pub least: f64,
    /// The most that may be believed.
    pub most: f64,
    /// Where it comes from.
    pub source: String,
}

/// Everything in the table.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Numbers {
    /// ρ: normal force in the reference plane over F_c.
    pub normal_force_share: Sourced,
    /// Thinnest chip for which k_c still rises, mm.
    pub least_chip_mm: Sourced,
    /// Change of k_c for each degree of rake.
    pub rake_per_degree: Sourced,
    /// How far from the table's rake the correction is believed, degrees.
    pub rake_range_deg: Sourced,
    /// Factor on k_c for a worn edge.
    pub wear: Sourced,
    /// Real over ideal roughness where nothing more is known.
    pub real_over_ideal_roughness: Sourced,
    /// Most feed over nose radius for which the nose alone makes the surface.
    pub nose_only_feed_share: Sourced,
    /// How far above a limit a listed step may lie.
    pub listed_tolerance: Sourced,
    /// Densities taken for steel, kg/m³.
    pub steel_density_kg_m3: Sourced,
    /// One row for each tool material.
    pub(super) edge: Vec<EdgeRow>,
    /// Force against cutting speed.
    pub(super) speed_force: Vec<SpeedForceRow>,
    /// Tool life.
    pub(super) taylor: Vec<TaylorRow>,
    /// Real over ideal roughness by cutting speed.
    pub(super) roughness_ratio: Vec<RatioRow>,
}

/// What depends on the tool material alone.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EdgeRow {
    #[serde(deserialize_with = "tool_material")]
    pub tool: ToolMaterial,
    pub force_factor: f64,
    pub least_finish_mm: f64,
    pub least_chip_um: f64,
    pub source: String,
}

/// Factor on k_c over a range of cutting speeds: `factor v^(-exponent)`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SpeedForceRow {
    pub from_m_min: f64,
    pub to_m_min: f64,
    pub factor: f64,
    pub exponent: f64,
    #[cfg_attr(not(test), expect(dead_code, reason = "read by people and by the test of the table"))]
    pub source: String,
}

/// Taylor's constants for a tool material on steel or on other work.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TaylorRow {
    #[serde(deserialize_with = "tool_material")]
    pub tool: ToolMaterial,
    pub work: Work,
    pub n: f64,
    pub c_m_min: f64,
    #[cfg_attr(not(test), expect(dead_code, reason = "read by people and by the test of the table"))]
    pub source: String,
}

impl TaylorRow {
    pub fn constants(&self) -> Taylor {
        Taylor { n: self.n, c_m_min: self.c_m_min }
    }
}

/// How Groover's table divides the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Work {
    Steel,
    Other,
}

/// Real over ideal roughness at one cutting speed.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RatioRow {
    pub work: Chips,
    pub speed_m_min: f64,
    pub ratio: f64,
    #[cfg_attr(not(test), expect(dead_code, reason = "read by people and by the test of the table"))]
    pub source: String,
}

/// How the chip comes off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Chips {
    Ductile,
    Brittle,
}

/// The table.
pub fn numbers() -> &'static Numbers {
    static NUMBERS: OnceLock<Numbers> = OnceLock::new();
    NUMBERS.get_or_init(|| {
        toml::from_str(include_str!("../../data/cutting.toml"))
            .expect("the table is compiled in and read by the tests of this file")
    })
}

/// Factor of a tool material on k_c, and where it comes from.
pub fn tool_force_factor(tool: ToolMaterial) -> (f64, &'static str) {
    let row = edge_row(tool);
    (row.force_factor, &row.source)
}

/// The row of a tool material.
pub(super) fn edge_row(tool: ToolMaterial) -> &'static EdgeRow {
    numbers()
        .edge
        .iter()
        .find(|row| row.tool == tool)
        .expect("the test of this file finds a row for every tool material")
}

/// Reads a tool material by its name in job and shop files.
pub(super) fn tool_material<'de, D: Deserializer<'de>>(from: D) -> Result<ToolMaterial, D::Error> {
    let name = String::deserialize(from)?;
    ToolMaterial::ALL
        .into_iter()
        .find(|tool| tool.name() == name)
        .ok_or_else(|| serde::de::Error::custom(format!("no tool material is called {name:?}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_number_lies_in_its_range_and_has_a_source() {
        let n = numbers();
        for row in [
            &n.normal_force_share,
            &n.least_chip_mm,
            &n.rake_per_degree,
            &n.rake_range_deg,
            &n.wear,
            &n.real_over_ideal_roughness,
            &n.nose_only_feed_share,
            &n.listed_tolerance,
            &n.steel_density_kg_m3,
        ] {
            assert!(row.least <= row.value && row.value <= row.most, "{row:?}");
            assert!(row.source.len() > 20, "{row:?}");
        }
    }

    #[test]
    fn there_is_one_edge_row_for_every_tool_material_in_order() {
        let tools: Vec<ToolMaterial> = numbers().edge.iter().map(|row| row.tool).collect();
        assert_eq!(tools, ToolMaterial::ALL);
        for row in &numbers().edge {
            assert!((0.8..=1.5).contains(&row.force_factor), "{row:?}");
            assert!((0.01..=0.5).contains(&row.least_finish_mm), "{row:?}");
            assert!((1.0..=20.0).contains(&row.least_chip_um), "{row:?}");
            assert!(row.source.len() > 20);
        }
    }

    #[test]
    fn speed_rows_follow_each_other_without_gap_or_jump() {
        let rows = &numbers().speed_force;
        for pair in rows.windows(2) {
            assert_eq!(pair[0].to_m_min, pair[1].from_m_min);
            let at = |row: &SpeedForceRow, v: f64| row.factor * v.powf(-row.exponent);
            let v = pair[0].to_m_min;
            assert!((at(&pair[0], v) - at(&pair[1], v)).abs() < 1e-3);
        }
        assert!(rows.iter().all(|row| row.from_m_min < row.to_m_min && row.source.len() > 8));
    }

    #[test]
    fn taylor_rows_are_unique_complete_and_in_range() {
        let rows = &numbers().taylor;
        for tool in ToolMaterial::ALL {
            for work in [Work::Steel, Work::Other] {
                assert_eq!(rows.iter().filter(|row| row.tool == tool && row.work == work).count(), 1);
            }
        }
        // Ranges of n: HSS 0.08 to 0.20, carbide 0.2 to 0.5, coated up to 0.6 (Kalpakjian Table 21.3, from memory).
        for row in rows {
            let range = if row.tool == ToolMaterial::Hss { 0.08..=0.20 } else { 0.2..=0.6 };
            assert!(range.contains(&row.n) && (20.0..=3000.0).contains(&row.c_m_min), "{row:?}");
            assert!(row.source.len() > 8);
        }
    }

    #[test]
    fn roughness_ratios_fall_with_speed() {
        for chips in [Chips::Ductile, Chips::Brittle] {
            let rows: Vec<&RatioRow> = numbers().roughness_ratio.iter().filter(|row| row.work == chips).collect();
            assert!(!rows.is_empty());
            assert!(rows.windows(2).all(|w| w[0].speed_m_min < w[1].speed_m_min && w[0].ratio > w[1].ratio));
            assert!(rows.iter().all(|row| (1.0..=3.0).contains(&row.ratio) && row.source.len() > 8));
        }
    }
}
