//! Friction between jaw and work.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::job::Surface;
use crate::shop::JawSurface;

/// Skin of the work under a jaw, as the friction tables part it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WorkSkin {
    /// Sawn, hot-rolled, cast.
    Unmachined,
    /// Drawn, turned, faced: rough to medium.
    Machined,
    /// Ground or finely finished.
    Fine,
}

/// Metal of the work, as the friction tables part it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WorkMetal {
    /// Steel.
    Steel,
    /// Aluminium alloys.
    Aluminium,
    /// Brass and bronze.
    Brass,
    /// Cast iron.
    CastIron,
}

impl From<Surface> for WorkSkin {
    fn from(surface: Surface) -> WorkSkin {
        match surface {
            Surface::HotRolled | Surface::Cast => WorkSkin::Unmachined,
            Surface::Drawn | Surface::Turned => WorkSkin::Machined,
            Surface::Ground => WorkSkin::Fine,
        }
    }
}

/// Friction coefficient of a jaw on bare work: the least of the published tables, times the metal's share.
pub fn friction(jaw: JawSurface, work: WorkSkin, material_share: f64) -> f64 {
    material_share * table().steel.iter().find(|row| row.is(jaw, work)).map_or(0.0, |row| least(&row.published))
}

/// Share of the friction of steel that a metal has.
pub fn metal_share(metal: WorkMetal) -> f64 {
    table().metal.iter().find(|row| row.metal == metal_name(metal)).map_or(0.0, |row| least(&row.published))
}

/// The least share of any metal: for a metal that nobody named.
pub fn least_metal_share() -> f64 {
    table().metal.iter().map(|row| least(&row.published)).fold(1.0, f64::min)
}

/// Friction coefficient of soft packing in a wet shop.
pub fn packing_friction() -> f64 {
    table().packing.friction
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    steel: Vec<SteelRow>,
    metal: Vec<MetalRow>,
    packing: PackingRow,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SteelRow {
    jaw: String,
    work: String,
    published: Vec<f64>,
    #[cfg_attr(not(test), expect(dead_code, reason = "read by the test of the table"))]
    source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MetalRow {
    metal: String,
    published: Vec<f64>,
    #[cfg_attr(not(test), expect(dead_code, reason = "read by the test of the table"))]
    source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PackingRow {
    friction: f64,
    #[cfg_attr(not(test), expect(dead_code, reason = "read by the test of the table"))]
    source: String,
}

impl SteelRow {
    fn is(&self, jaw: JawSurface, work: WorkSkin) -> bool {
        self.jaw == jaw_name(jaw) && self.work == skin_name(work)
    }
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../data/friction.toml")).expect("the built-in table is read by a test")
    })
}

fn least(published: &[f64]) -> f64 {
    published.iter().copied().fold(f64::INFINITY, f64::min)
}

/// A soft jaw has no row of its own in the tables: its steel face is as smooth as a ground one.
fn jaw_name(jaw: JawSurface) -> &'static str {
    match jaw {
        JawSurface::HardSmooth | JawSurface::Soft => "smooth",
        JawSurface::HardSerrated => "serrated",
    }
}

fn skin_name(work: WorkSkin) -> &'static str {
    match work {
        WorkSkin::Unmachined => "unmachined",
        WorkSkin::Machined => "machined",
        WorkSkin::Fine => "fine",
    }
}

fn metal_name(metal: WorkMetal) -> &'static str {
    match metal {
        WorkMetal::Steel => "steel",
        WorkMetal::Aluminium => "aluminium",
        WorkMetal::Brass => "brass",
        WorkMetal::CastIron => "cast iron",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_sorted_unique_in_range_and_sourced() {
        let table = table();
        let keys: Vec<_> = table.steel.iter().map(|row| (&row.jaw, &row.work)).collect();
        assert!(keys.is_sorted_by(|one, other| one < other), "{keys:?}");
        let metals: Vec<_> = table.metal.iter().map(|row| &row.metal).collect();
        assert!(metals.is_sorted_by(|one, other| one < other), "{metals:?}");
        assert!(
            table
                .steel
                .iter()
                .all(|row| row.source.len() > 8 && row.published.iter().all(|&mu| (0.05..=0.5).contains(&mu)))
        );
        assert!(
            table.metal.iter().all(|row| row.source.len() > 8 && row.published.iter().all(|&s| 0.5 < s && s <= 1.0))
        );
        assert!(
            table.steel.iter().all(|row| !row.published.is_empty())
                && table.metal.iter().all(|row| !row.published.is_empty())
        );
        assert!(table.packing.source.len() > 8 && (0.05..0.5).contains(&table.packing.friction));
    }

    #[test]
    fn every_jaw_on_every_skin_has_a_row() {
        for jaw in [JawSurface::HardSmooth, JawSurface::HardSerrated, JawSurface::Soft] {
            for skin in [WorkSkin::Unmachined, WorkSkin::Machined, WorkSkin::Fine] {
                assert!(friction(jaw, skin, 1.0) > 0.0, "{jaw:?} {skin:?}");
            }
        }
        for metal in [WorkMetal::Steel, WorkMetal::Aluminium, WorkMetal::Brass, WorkMetal::CastIron] {
            assert!(metal_share(metal) > 0.0, "{metal:?}");
        }
    }

    #[test]
    fn rougher_work_and_teeth_hold_better() {
        for jaw in [JawSurface::HardSmooth, JawSurface::HardSerrated] {
            let of = |skin| friction(jaw, skin, 1.0);
            assert!(of(WorkSkin::Fine) < of(WorkSkin::Machined) && of(WorkSkin::Machined) < of(WorkSkin::Unmachined));
        }
        assert!(
            friction(JawSurface::HardSmooth, WorkSkin::Fine, 1.0)
                < friction(JawSurface::HardSerrated, WorkSkin::Fine, 1.0)
        );
    }
}
