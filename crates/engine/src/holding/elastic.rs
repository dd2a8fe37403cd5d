//! Modulus and Poisson's ratio of work materials, by family (`data/elastic.toml`).

use std::sync::OnceLock;

use serde::Deserialize;

/// How a metal gives way elastically.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Elastic {
    /// Family of materials, as the material table names it.
    pub name: String,
    /// Modulus E, MPa.
    pub modulus_mpa: f64,
    /// Poisson's ratio ν.
    pub poisson: f64,
    /// Where both come from.
    pub source: String,
}

/// The row of a family; a family without one is taken for steel, the stiffest.
pub fn elastic(family: &str) -> &'static Elastic {
    let of = |name: &str| table().iter().find(|row| row.name == name);
    of(family).or_else(|| of("steel")).expect("a test sees to it that steel has a row")
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    metal: Vec<Elastic>,
}

fn table() -> &'static [Elastic] {
    static TABLE: OnceLock<Vec<Elastic>> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str::<Table>(include_str!("../../data/elastic.toml"))
            .expect("the built-in table is read by a test")
            .metal
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_sorted_unique_in_range_and_sourced_and_steel_is_the_stiffest() {
        assert!(table().is_sorted_by(|one, other| one.name < other.name));
        assert!(table().iter().all(|row| row.source.len() > 8 && (0.2..0.45).contains(&row.poisson)));
        let steel = elastic("steel");
        assert_eq!(steel.name, "steel");
        assert!(table().iter().all(|row| 0.0 < row.modulus_mpa && row.modulus_mpa <= steel.modulus_mpa));
        assert_eq!(elastic("unheard of"), steel);
    }
}
