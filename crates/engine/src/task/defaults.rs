//! The table of defaults and rule numbers, each row with its source.

use std::sync::OnceLock;

use serde::Deserialize;

/// A row of `data/defaults.toml`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// What it is.
    pub name: String,
    /// The number, in `unit`.
    pub value: f64,
    /// Unit of the number.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    row: Vec<Row>,
}

fn rows() -> &'static [Row] {
    static ROWS: OnceLock<Vec<Row>> = OnceLock::new();
    ROWS.get_or_init(|| {
        toml::from_str::<Table>(include_str!("../../data/defaults.toml"))
            .expect("the embedded table is read by a test")
            .row
    })
}

/// The row of that name. The names are those of the table; a test asks for each one used.
pub fn default(name: &str) -> &'static Row {
    let at = rows().binary_search_by(|row| row.name.as_str().cmp(name));
    &rows()[at.unwrap_or_else(|_| unreachable!("no default named {name}"))]
}

/// Where the number of that name comes from.
pub fn source_of(name: &str) -> &'static str {
    &default(name).source
}

/// The number of the row of that name.
pub fn number(name: &str) -> f64 {
    default(name).value
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sorted_unique_in_range_and_sourced() {
        assert!(rows().windows(2).all(|pair| pair[0].name < pair[1].name));
        for row in rows() {
            assert!(row.value.is_finite() && row.value >= 0.0, "{}", row.name);
            assert!(row.source.len() > 8, "{} has no source", row.name);
            assert!(["mm", "um", "1", "deg", "min", "kg", "MPa"].contains(&row.unit.as_str()), "{}", row.unit);
        }
    }

    #[test]
    fn every_default_named_in_the_engine_stands_in_the_table() {
        let sources = [
            include_str!("lathe.rs"),
            include_str!("chuck.rs"),
            include_str!("tool.rs"),
            include_str!("rules.rs"),
            include_str!("handling.rs"),
            include_str!("taken.rs"),
        ];
        for name in sources.iter().flat_map(|text| asked_for(text)) {
            assert!(rows().iter().any(|row| row.name == name), "no default named {name}");
        }
    }

    /// The names between quotes after `default(` and `number(`, also when passed on by `or_default`.
    fn asked_for(text: &str) -> Vec<&str> {
        ["default(\"", "number(\"", "assume(\""]
            .iter()
            .flat_map(|call| text.match_indices(call).map(move |(at, found)| &text[at + found.len()..]))
            .filter_map(|rest| rest.split('"').next())
            .collect()
    }
}
