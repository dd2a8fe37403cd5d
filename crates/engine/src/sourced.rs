//! Numbers of the world as the tables of a room keep them: each with its unit and where it comes from.

use serde::Deserialize;
use serde::de::DeserializeOwned;

/// A number, its unit and where it comes from.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sourced {
    /// The number.
    pub value: f64,
    /// Its unit; "1": none.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
}

/// The rows of a table that is compiled in. A test beside each of its callers reads it by `checked`.
pub fn table<T: DeserializeOwned>(text: &str) -> T {
    toml::from_str(text).expect("a table compiled in is well-formed: a test beside its reader reads it")
}

/// The rows of such a table by their names, each of them positive and sourced, the file sorted and no name twice.
#[cfg(test)]
pub fn checked(text: &str) -> std::collections::BTreeMap<String, Sourced> {
    let rows: std::collections::BTreeMap<String, Sourced> = table(text);
    // The reader keeps no order: the file itself is asked.
    let heads: Vec<&str> = text.lines().filter(|line| line.starts_with('[')).collect();
    assert!(heads.is_sorted_by(|one, other| one < other), "{heads:?}");
    assert_eq!(heads.len(), rows.len());
    for (name, row) in &rows {
        assert!(row.value.is_finite() && row.value > 0.0, "{name}");
        assert!(row.source.len() > 8 && !row.unit.is_empty(), "{name} has no source or no unit");
    }
    rows
}
