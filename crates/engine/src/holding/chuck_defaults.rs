//! What to take for a chuck whose plate says nothing, by the size of its body. Low confidence: ask.

use std::sync::OnceLock;

use serde::Deserialize;

use super::numbers::numbers;
use crate::shop::ChuckKind;

/// Cautious values for an unknown chuck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChuckDefaults {
    /// Nominal force of each jaw at standstill, N; the low end of what is usual.
    pub clamping_n: f64,
    /// Usual torque on the key, N·m, of the next smaller row.
    pub key_torque_nm: f64,
    /// Mass of one jaw, kg.
    pub jaw_kg: f64,
    /// Highest speed, rpm, iron body.
    pub most_rpm: f64,
    /// Where they come from.
    pub source: &'static str,
}

/// Values for a chuck with a body of this diameter, mm. Between two rows the weaker force, the heavier jaw
/// and the lower speed are taken; outside the rows force goes with the square of the size, mass with the
/// cube, speed with its inverse (like bodies, like stress, like rim speed), never to the good side.
pub fn chuck_defaults(kind: ChuckKind, body_mm: f64) -> ChuckDefaults {
    let table = table();
    let smaller = table.body.iter().rev().find(|row| row.least_mm <= body_mm);
    let larger = table.body.iter().find(|row| body_mm <= row.most_mm);
    let (first, last) = (&table.body[0], &table.body[table.body.len() - 1]);
    let small = smaller.unwrap_or(first);
    let large = larger.unwrap_or(last);
    let shrink = (body_mm / small.least_mm).min(1.0);
    let grow = (body_mm / large.most_mm).max(1.0);
    ChuckDefaults {
        clamping_n: match kind {
            ChuckKind::Independent => small.force_low_n * shrink * shrink,
            ChuckKind::SelfCentring => table.self_centring.each_jaw_n(body_mm),
        },
        key_torque_nm: small.key_torque_nm,
        jaw_kg: large.jaw_kg * grow.powi(3),
        most_rpm: large.most_rpm / grow,
        source: match kind {
            ChuckKind::Independent => &small.source,
            ChuckKind::SelfCentring => &table.self_centring.source,
        },
    }
}

/// Highest usual force of a jaw of a hand chuck with a body of this diameter, N: of the next larger row; beyond the
/// rows with the square of the size, never less than the smallest row's.
pub fn highest_usual_force_n(kind: ChuckKind, body_mm: f64) -> f64 {
    let table = table();
    let last = &table.body[table.body.len() - 1];
    let large = table.body.iter().find(|row| body_mm <= row.most_mm).unwrap_or(last);
    let grown = |mm: f64| (body_mm / mm).max(1.0).powi(2);
    match kind {
        ChuckKind::Independent => large.force_high_n * grown(large.most_mm),
        ChuckKind::SelfCentring => {
            let own = &table.self_centring;
            own.all_jaws_n / own.jaws * grown(own.body_mm)
        }
    }
}

/// Distance of a jaw's mass from the spindle axis, mm, for a body of this diameter.
pub fn jaw_mass_radius_mm(body_mm: f64) -> f64 {
    numbers().jaw_mass_radius_share.value * body_mm / 2.0
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    body: Vec<BodyRow>,
    self_centring: SelfCentringRow,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct BodyRow {
    least_mm: f64,
    most_mm: f64,
    key_torque_nm: f64,
    force_low_n: f64,
    force_high_n: f64,
    jaw_kg: f64,
    most_rpm: f64,
    source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SelfCentringRow {
    body_mm: f64,
    jaws: f64,
    all_jaws_n: f64,
    source: String,
}

impl SelfCentringRow {
    fn each_jaw_n(&self, body_mm: f64) -> f64 {
        let shrink = (body_mm / self.body_mm).min(1.0);
        self.all_jaws_n / self.jaws * shrink * shrink
    }
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../data/chucks.toml")).expect("the built-in table is read by a test")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_sorted_in_range_and_sourced() {
        let rows = &table().body;
        assert!(rows.len() >= 2 && rows.iter().all(|row| row.least_mm <= row.most_mm && row.source.len() > 8));
        for pair in rows.windows(2) {
            assert!(pair[0].most_mm < pair[1].least_mm && pair[0].key_torque_nm < pair[1].key_torque_nm);
            assert!(pair[0].force_low_n < pair[1].force_low_n && pair[0].jaw_kg < pair[1].jaw_kg);
            assert!(pair[0].most_rpm > pair[1].most_rpm);
        }
        assert!(rows.iter().all(|row| 0.0 < row.force_low_n && row.force_low_n <= row.force_high_n));
        let own = &table().self_centring;
        assert!(own.jaws >= 2.0 && own.all_jaws_n > 0.0 && own.body_mm > 0.0 && own.source.len() > 8);
    }

    #[test]
    fn between_rows_the_cautious_side_is_taken() {
        let [small, between, large] = [200.0, 225.0, 250.0].map(|body| chuck_defaults(ChuckKind::Independent, body));
        assert_eq!(between.clamping_n, small.clamping_n);
        assert_eq!((between.jaw_kg, between.most_rpm), (large.jaw_kg, large.most_rpm));
    }

    #[test]
    fn the_highest_usual_force_is_that_of_the_next_larger_row() {
        let of = |body_mm| highest_usual_force_n(ChuckKind::Independent, body_mm);
        assert_eq!([80.0, 160.0, 180.0, 200.0, 630.0].map(of), [15_000.0, 15_000.0, 20_000.0, 20_000.0, 120_000.0]);
        assert_eq!(highest_usual_force_n(ChuckKind::SelfCentring, 100.0), 31_000.0 / 3.0);
    }

    #[test]
    fn outside_the_rows_nothing_gets_better() {
        let tiny = chuck_defaults(ChuckKind::Independent, 75.0);
        assert_eq!(tiny.clamping_n, chuck_defaults(ChuckKind::Independent, 150.0).clamping_n / 4.0);
        assert_eq!(tiny.most_rpm, chuck_defaults(ChuckKind::Independent, 150.0).most_rpm);
        let huge = chuck_defaults(ChuckKind::SelfCentring, 630.0);
        assert_eq!(huge.most_rpm, chuck_defaults(ChuckKind::Independent, 315.0).most_rpm / 2.0);
        assert_eq!(huge.clamping_n, chuck_defaults(ChuckKind::SelfCentring, 160.0).clamping_n);
    }
}
