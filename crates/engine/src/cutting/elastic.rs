//! Elasticity of work metals, by family (`data/elastic.toml`).

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;

use super::Family;

/// How a work metal gives way.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Elastic {
    /// Modulus of elasticity E of the softest of the family, MPa: it bends more.
    pub modulus_mpa: f64,
    /// The same of the stiffest, MPa: a jaw presses harder on it.
    pub stiffest_mpa: f64,
    /// Poisson's ratio ν.
    pub poisson: f64,
    /// Where both come from.
    pub source: String,
}

/// The row of a family.
pub fn elastic(family: Family) -> &'static Elastic {
    table().get(name(family)).expect("every family has a row: a test asks for each")
}

fn name(family: Family) -> &'static str {
    match family {
        Family::Steel => "steel",
        Family::Stainless => "stainless",
        Family::CastIron => "cast iron",
        Family::Aluminium => "aluminium",
        Family::CopperAlloy => "copper alloy",
        Family::Titanium => "titanium",
        Family::Plastic => "plastic",
        Family::Own => "other",
    }
}

fn table() -> &'static BTreeMap<String, Elastic> {
    static TABLE: OnceLock<BTreeMap<String, Elastic>> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../data/elastic.toml")).expect("the built-in table is read by a test")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const FAMILIES: [Family; 8] = [
        Family::Steel,
        Family::Stainless,
        Family::CastIron,
        Family::Aluminium,
        Family::CopperAlloy,
        Family::Titanium,
        Family::Plastic,
        Family::Own,
    ];

    #[test]
    fn every_family_has_its_row_and_no_row_is_idle() {
        let asked: std::collections::BTreeSet<&str> = FAMILIES.iter().map(|&family| name(family)).collect();
        assert_eq!(asked, table().keys().map(String::as_str).collect());
    }

    #[test]
    fn rows_are_sorted_in_range_and_sourced() {
        let heads: Vec<String> = include_str!("../../data/elastic.toml")
            .lines()
            .filter(|line| line.starts_with('['))
            .map(|line| line.replace(['[', ']', '"'], ""))
            .collect();
        assert!(heads.is_sorted_by(|one, other| one < other) && heads.len() == table().len());
        for (name, row) in table() {
            assert!((1_000.0..250_000.0).contains(&row.modulus_mpa), "{name}");
            assert!((row.modulus_mpa..250_000.0).contains(&row.stiffest_mpa), "{name}");
            assert!((0.2..0.45).contains(&row.poisson), "{name}");
            assert!(row.source.len() > 8, "{name}");
        }
    }

    #[test]
    fn a_metal_of_the_job_bends_no_less_than_any_of_the_table() {
        let metals = FAMILIES.iter().filter(|family| !matches!(family, Family::Plastic | Family::Own));
        let least = metals.map(|&family| elastic(family).modulus_mpa).fold(f64::MAX, f64::min);
        assert!(elastic(Family::Own).modulus_mpa <= least);
    }
}
