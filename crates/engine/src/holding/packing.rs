//! Packing between jaw and work: what it is made of, and whether it flows before the work marks.

use std::sync::OnceLock;

use serde::Deserialize;

use super::marks::{flow_mpa, line_limit_mpa};
use super::numbers::numbers;

/// A metal for packing.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PackingMetal {
    /// What it is.
    pub name: String,
    words: Vec<String>,
    /// Strength at which it flows, the high end of what is usual, MPa.
    pub yield_mpa: f64,
    /// Where that comes from.
    pub source: String,
}

/// What lies under jaws on finished faces where nobody says more: the row of that name.
pub const USUAL_PACKING: &str = "soft copper";

/// Whether packing keeps the work from being marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shield {
    /// It flows first and is thick enough.
    Protects,
    /// The work yields before it flows.
    TooHard,
    /// It flows first, but an edge or a chip comes through.
    TooThin,
}

/// The row that a name in the shop means: all of its words are in the name, the most of them.
pub fn packing_metal(name: &str) -> Option<&'static PackingMetal> {
    let lower = name.to_lowercase();
    let words: Vec<&str> = lower.split(|sign: char| !sign.is_alphanumeric()).map(usual).collect();
    let meant = |row: &&PackingMetal| row.words.iter().all(|word| words.contains(&word.as_str()));
    // Of equals the harder, which protects less.
    let rank = |row: &&PackingMetal| (row.words.len(), row.yield_mpa as i64);
    table().iter().filter(meant).max_by_key(rank)
}

/// All rows, by name.
pub fn packing_metals() -> &'static [PackingMetal] {
    table()
}

/// Packing protects if it flows (3 Y of the packing) before the work yields under a line (1.67 Y of the work), and is
/// not so thin that an edge comes through.
pub fn shield(packing_yield_mpa: f64, thickness_mm: f64, work_yield_mpa: f64) -> Shield {
    if flow_mpa(packing_yield_mpa) >= line_limit_mpa(work_yield_mpa) {
        Shield::TooHard
    } else if thickness_mm < numbers().packing_thickness_least_mm.value {
        Shield::TooThin
    } else {
        Shield::Protects
    }
}

/// Pressure that a layer squeezed between rigid faces passes on before it flows out, MPa: `2 k (1 + w/(4 t))`, k = Y/2
/// (Prandtl's layer, rough faces, w over several t). Wide and thin packing is not soft.
pub fn squeezed_mpa(yield_mpa: f64, width_mm: f64, thickness_mm: f64) -> f64 {
    yield_mpa * (1.0 + width_mm / (4.0 * thickness_mm))
}

fn usual(word: &str) -> &str {
    match word {
        "annealed" => "soft",
        "aluminum" => "aluminium",
        other => other,
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    packing: Vec<PackingMetal>,
}

fn table() -> &'static [PackingMetal] {
    static TABLE: OnceLock<Vec<PackingMetal>> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str::<Table>(include_str!("../../data/packing.toml"))
            .expect("the built-in table is read by a test")
            .packing
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_sorted_unique_in_range_and_sourced() {
        assert!(table().is_sorted_by(|one, other| one.name < other.name));
        assert!(table().iter().all(|row| row.source.len() > 8 && !row.words.is_empty()));
        assert!(table().iter().all(|row| (10.0..1000.0).contains(&row.yield_mpa)));
    }

    #[test]
    fn a_name_of_the_trade_finds_its_row() {
        for (name, row) in [
            ("soft copper", "soft copper"),
            ("Annealed copper sheet", "soft copper"),
            ("copper", "copper sheet, temper not said"),
            ("half-hard brass", "half-hard brass"),
            ("hard half brass", "half-hard brass"),
            ("brass shim", "brass sheet, temper not said"),
            ("soft aluminum", "soft aluminium"),
            ("hard brass", "hard brass"),
        ] {
            assert_eq!(packing_metal(name).map(|found| found.name.as_str()), Some(row), "{name}");
        }
        for name in ["card", "", "felt", "Kupfer"] {
            assert_eq!(packing_metal(name), None, "{name}");
        }
    }

    #[test]
    fn every_row_is_found_by_its_own_words() {
        for row in table() {
            assert_eq!(packing_metal(&row.words.join(" ")), Some(row));
        }
        assert!(table().iter().any(|row| row.name == USUAL_PACKING));
    }
}
