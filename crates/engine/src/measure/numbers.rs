//! Numbers of the room: how finishing cuts and touch-offs scatter, what scrap costs. Each with its source
//! (`data/measure.toml`); a shop gives its own.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::sourced::{Sourced, table};

const TABLE: &str = include_str!("../../data/measure.toml");

/// Numbers of the room; spreads are standard deviations.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasureNumbers {
    /// A reading so many spreads off what is expected is asked about.
    pub asked_spreads: Sourced,
    /// Bar as drawn, turned or ground under the first touch-off, against where it was measured.
    pub bright_skin_mm: Sourced,
    /// Error of dial and spring of a finishing cut, as a share of its depth.
    pub cut_error_share: Sourced,
    /// Scatter of a finishing cut whatever its depth.
    pub cut_scatter_mm: Sourced,
    /// What a bad piece passed as good costs, over what scrap costs.
    pub escape_over_scrap: Sourced,
    /// Minutes until a new blank lies at the lathe.
    pub new_blank_minutes: Sourced,
    /// How well the spring that is worked out is known, as a share of it.
    pub spring_error_share: Sourced,
    /// Bar as rolled or cast under the first touch-off.
    pub rough_skin_mm: Sourced,
    /// Price of scrap in passes where no minutes are known.
    pub scrap_passes: Sourced,
    /// Error of the screw as a share of the travel since the touch-off.
    pub screw_error_share: Sourced,
    /// How true a finished face comes down on its seat.
    pub seat_scatter_mm: Sourced,
    /// Scatter of a touch-off.
    pub touch_off_scatter_mm: Sourced,
}

/// The numbers.
pub fn numbers() -> &'static MeasureNumbers {
    static NUMBERS: OnceLock<MeasureNumbers> = OnceLock::new();
    NUMBERS.get_or_init(|| table(TABLE))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_number_is_in_range_and_sourced_and_the_file_is_sorted() {
        for (name, row) in crate::sourced::checked(TABLE) {
            let most = match row.unit.as_str() {
                "mm" => 0.2,
                "min" => 120.0,
                "1" => 100.0,
                unit => panic!("{name}: unit {unit}"),
            };
            assert!(row.value <= most, "{name}");
            assert!(row.source.len() > 20, "{name} has no source");
        }
        assert!(numbers().cut_error_share.value < 0.2 && numbers().screw_error_share.value < 0.01);
    }
}
