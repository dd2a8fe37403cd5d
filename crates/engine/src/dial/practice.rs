//! What is taken for granted at a dial: rows of `data/dial.toml`, each with its source.

use std::sync::OnceLock;

use serde::Deserialize;

/// One value that nobody has to give, with where it comes from.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Practice {
    /// What it is, words joined by hyphens.
    pub name: String,
    /// The value, in `unit`.
    pub value: f64,
    /// The least that would make sense, in `unit`.
    pub least: f64,
    /// The most that would make sense, in `unit`.
    pub most: f64,
    /// "mm", "turn" or "1".
    pub unit: String,
    /// Where it comes from.
    pub source: String,
}

/// Free turn of a screw whose backlash nobody gave, as travel in mm, with its source.
pub fn backlash_when_not_given() -> &'static Practice {
    row("backlash-when-not-given")
}

/// Share of its dial that a slide set over for fine advance moves.
pub(super) fn fine_set_over_ratio() -> f64 {
    row("fine-set-over-ratio").value
}

/// Least share of the other rough cuts that the odd one before finishing has.
pub(super) fn least_last_rough() -> f64 {
    row("least-last-rough-cut").value
}

/// Share by which paint and screw may disagree before it is noticed.
pub fn paint_off_noticed() -> f64 {
    row("paint-off-noticed").value
}

/// Times by which paint and screw may disagree before one of them is taken for mistaken.
pub fn paint_off_refused() -> f64 {
    row("paint-off-refused").value
}

/// Turns to wind back after going too far.
pub(super) fn wind_back_turns() -> f64 {
    row("wind-back-turns").value
}

fn row(name: &str) -> &'static Practice {
    table()
        .iter()
        .find(|row| row.name == name)
        .expect("the table compiled in holds every name asked for, a test sees to it")
}

fn table() -> &'static [Practice] {
    #[derive(Deserialize)]
    struct Table {
        row: Vec<Practice>,
    }
    static TABLE: OnceLock<Vec<Practice>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let table: Table = toml::from_str(include_str!("../../data/dial.toml"))
            .expect("the table compiled in is well-formed, a test reads it");
        table.row
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sorted_unique_in_range_and_sourced() {
        assert!(table().windows(2).all(|two| two[0].name < two[1].name));
        for row in table() {
            assert!(row.least <= row.value && row.value <= row.most, "{}", row.name);
            assert!(row.source.len() > 20 && ["mm", "turn", "1"].contains(&row.unit.as_str()), "{}", row.name);
        }
    }

    #[test]
    fn every_value_asked_for_is_there() {
        assert_eq!(backlash_when_not_given().unit, "mm");
        let shares = [fine_set_over_ratio(), least_last_rough(), wind_back_turns()];
        let paint = [paint_off_noticed() + 1.0, paint_off_refused()];
        assert!(paint[0] < paint[1]);
        assert_eq!(shares.len() + paint.len(), table().len() - 1);
    }
}
