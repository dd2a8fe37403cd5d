//! The formulas: rows of `data/formulas.toml`, each with its source, its place in `docs/model.md` and its symbols.

use std::sync::OnceLock;

use serde::Deserialize;

use super::expr::{Expr, Symbol};
use super::notation::read_equation;

/// A formula as the plan uses it.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// Its name: "cutting force, likely".
    pub name: String,
    /// As it is written in the table.
    pub written: String,
    /// What it gives.
    pub left: Symbol,
    /// How.
    pub right: Expr,
    /// Unit of what it gives; "1": none.
    pub unit: String,
    /// Where it comes from, and where it holds.
    pub source: String,
    /// Heading in `docs/model.md` under which it is explained.
    pub section: String,
    /// What its symbols mean, in the order of the right side.
    pub symbols: Vec<Meaning>,
}

/// What a symbol of a formula means.
#[derive(Debug, Clone, PartialEq)]
pub struct Meaning {
    /// The symbol.
    pub symbol: Symbol,
    /// In words.
    pub says: String,
    /// Unit that its value has in the formula; "1": none.
    pub unit: String,
}

impl Formula {
    /// The meaning of a symbol, by how the notation writes it.
    pub fn meaning(&self, written: &str) -> Option<&Meaning> {
        self.symbols.iter().find(|meaning| meaning.symbol.written == written)
    }
}

/// Every formula, sorted by name.
pub fn formulas() -> &'static [Formula] {
    static FORMULAS: OnceLock<Vec<Formula>> = OnceLock::new();
    FORMULAS.get_or_init(|| {
        let table: Table = toml::from_str(include_str!("../../data/formulas.toml"))
            .expect("the table is compiled in and read by the tests of this file");
        table.row.into_iter().map(Formula::from).collect()
    })
}

/// The formula of that name.
pub fn formula(name: &str) -> Option<&'static Formula> {
    let at = formulas().binary_search_by(|row| row.name.as_str().cmp(name)).ok()?;
    Some(&formulas()[at])
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    row: Vec<Row>,
}

/// A symbol is written "symbol: words [unit]".
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    formula: String,
    unit: String,
    section: String,
    symbols: Vec<String>,
    source: String,
}

impl From<Row> for Formula {
    fn from(row: Row) -> Formula {
        let (left, right) =
            read_equation(&row.formula).expect("the table is compiled in and read by the tests of this file");
        Formula {
            symbols: row.symbols.iter().map(|text| meaning(text)).collect(),
            name: row.name,
            written: row.formula,
            left,
            right,
            unit: row.unit,
            source: row.source,
            section: row.section,
        }
    }
}

fn meaning(text: &str) -> Meaning {
    let (symbol, rest) = text.split_once(": ").unwrap_or((text, ""));
    let (says, unit) = rest.strip_suffix(']').and_then(|rest| rest.rsplit_once(" [")).unwrap_or((rest, "1"));
    Meaning { symbol: Symbol::new(symbol), says: says.to_string(), unit: unit.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    const UNITS: [&str; 23] = [
        "1", "1/deg", "MPa", "N", "N m", "N/um", "N2", "W", "deg", "kg", "kg mm", "kg/m3", "m/min", "m/s2", "min",
        "mm", "mm/s", "mm2", "mm3", "rad", "rpm", "um", "um/N",
    ];

    #[test]
    fn rows_are_sorted_unique_and_sourced() {
        assert!(formulas().windows(2).all(|pair| pair[0].name < pair[1].name));
        for row in formulas() {
            assert!(row.source.len() > 10, "{}: {:?}", row.name, row.source);
            assert!(UNITS.contains(&row.unit.as_str()), "{}: {}", row.name, row.unit);
        }
    }

    #[test]
    fn every_symbol_is_explained_once_and_no_other() {
        for row in formulas() {
            let used: Vec<&Symbol> = row.right.symbols();
            let told: Vec<&Symbol> = row.symbols.iter().map(|meaning| &meaning.symbol).collect();
            assert_eq!(used, told, "{}", row.name);
            for meaning in &row.symbols {
                assert!(meaning.says.len() > 3, "{}: {}", row.name, meaning.symbol.written);
                assert!(UNITS.contains(&meaning.unit.as_str()), "{}: {}", row.name, meaning.unit);
            }
        }
    }

    #[test]
    fn every_section_is_a_heading_of_the_model() {
        let model = include_str!("../../../../docs/model.md");
        for row in formulas() {
            let heading = format!("## {}", row.section);
            let found = model.lines().any(|line| line == heading || line.starts_with(&format!("{heading} (")));
            assert!(found, "{}: {}", row.name, row.section);
        }
    }
}
