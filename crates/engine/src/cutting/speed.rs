//! Cutting speeds: the published table, what a manual lathe takes of it, shares for finishing and interruption.

use std::sync::OnceLock;

use serde::Deserialize;

use super::material::{Material, Speeds};
use super::number::{Sourced, tool_material};
use crate::shop::ToolMaterial;

/// What a cut is for, as far as its speed goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Duty {
    /// Taking metal off.
    Rough,
    /// Size and surface.
    Finish,
}

/// A row of the speed table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PublishedSpeed {
    /// Name of the material.
    pub material: String,
    /// What the edge is made of.
    #[serde(deserialize_with = "tool_material")]
    pub tool: ToolMaterial,
    /// Cutting speed as published, m/min.
    pub speed_m_min: f64,
    /// Published for rigid machines with coolant: a manual lathe takes [`light_lathe_share`] of it.
    pub production: bool,
    /// Where it comes from.
    pub source: String,
}

/// Cutting speed for a material and a tool on a manual lathe, m/min, before shares; `None`: not known.
///
/// Production speeds are already lowered by [`light_lathe_share`]; speeds of the job's own stay as given.
pub fn table_speed(material: &Material, tool: ToolMaterial) -> Option<f64> {
    material.speeds.of(tool)
}

/// The published row behind a table speed.
pub fn published_speed(material: &str, tool: ToolMaterial) -> Option<&'static PublishedSpeed> {
    table().speed.iter().find(|row| row.material == material && row.tool == tool)
}

/// Where the share of a light manual lathe comes from.
pub fn light_lathe_source() -> &'static str {
    &table().light_lathe_share.source
}

/// What a light manual lathe takes of a production speed.
pub fn light_lathe_share() -> f64 {
    table().light_lathe_share.value
}

/// Share of the table speed taken in interrupted cuts, and where it comes from.
pub fn speed_share_source(tool: ToolMaterial) -> (f64, &'static str) {
    let row = share_row(tool);
    (row.interrupted, &row.source)
}

/// Share of the table speed for a duty, lower where the edge leaves the metal and strikes it again.
pub fn speed_share(tool: ToolMaterial, duty: Duty, interrupted: bool) -> f64 {
    let row = share_row(tool);
    let duty_share = match duty {
        Duty::Rough => row.rough,
        Duty::Finish => row.finish,
    };
    if interrupted { duty_share * row.interrupted } else { duty_share }
}

/// Every tool's speed for a material of the table, lowered for a manual lathe.
pub(super) fn table_speeds(material: &str) -> Speeds {
    let lowered = |row: &PublishedSpeed| row.speed_m_min * if row.production { light_lathe_share() } else { 1.0 };
    Speeds::each(|tool| published_speed(material, tool).map(lowered))
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    light_lathe_share: Sourced,
    speed: Vec<PublishedSpeed>,
    share: Vec<ShareRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ShareRow {
    #[serde(deserialize_with = "tool_material")]
    tool: ToolMaterial,
    rough: f64,
    finish: f64,
    interrupted: f64,
    source: String,
}

fn share_row(tool: ToolMaterial) -> &'static ShareRow {
    table()
        .share
        .iter()
        .find(|row| row.tool == tool)
        .expect("the test of this file finds a row for every tool material")
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../data/speeds.toml"))
            .expect("the table is compiled in and read by the tests of this file")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::{material, materials};

    #[test]
    fn rows_are_sorted_unique_sourced_and_name_materials_that_exist() {
        let key = |row: &PublishedSpeed| (row.material.clone(), row.tool);
        assert!(table().speed.windows(2).all(|pair| key(&pair[0]) < key(&pair[1])));
        assert_eq!(table().speed.len(), materials().len() * ToolMaterial::ALL.len());
        for row in &table().speed {
            assert!(material(&row.material).is_some(), "{}", row.material);
            assert!((5.0..=400.0).contains(&row.speed_m_min) && row.source.len() > 10, "{row:?}");
        }
    }

    #[test]
    fn shares_are_in_range_for_every_tool() {
        let tools: Vec<ToolMaterial> = table().share.iter().map(|row| row.tool).collect();
        assert_eq!(tools, ToolMaterial::ALL);
        for row in &table().share {
            assert!(row.rough == 1.0 && (1.0..=1.3).contains(&row.finish) && (0.7..=0.9).contains(&row.interrupted));
            assert!(row.source.contains("common practice, no source"));
        }
        let share = &table().light_lathe_share;
        assert!(share.least <= share.value && share.value <= share.most && share.source.len() > 10);
    }

    #[test]
    fn an_ordinary_case_comes_out_ordinary() {
        // Shop practice: C45 at about 100 to 115 m/min with plain carbide, 26 to 30 with HSS (common practice, no source).
        let steel = material("medium-carbon-steel").unwrap();
        assert!((100.0..=115.0).contains(&table_speed(steel, ToolMaterial::CarbideUncoated).unwrap()));
        assert!((26.0..=30.0).contains(&table_speed(steel, ToolMaterial::Hss).unwrap()));
        assert_eq!(speed_share(ToolMaterial::CarbideUncoated, Duty::Rough, true), 0.75);
        assert_eq!(speed_share(ToolMaterial::Hss, Duty::Rough, true), 0.85);
    }
}
