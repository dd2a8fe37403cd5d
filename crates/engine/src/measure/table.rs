//! The reading table that hangs beside the lathe: if it measures this, set that. Few rows, in steps that the gauge
//! shows.

use super::decide::{Advice, Rule, Setting, Stop};

/// Fewest and most rows.
pub const ROWS: (usize, usize) = (5, 9);

/// A row: a reading, and what to set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// The gauge shows this, mm.
    pub measures_mm: f64,
    /// What to set, and what comes of it.
    pub setting: Setting,
}

/// Rows by rising reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// The rows.
    pub rows: Vec<Row>,
    /// Between two rows: one mark more for each so much that it measures over the row of the lesser depth, mm;
    /// `None`: no two rows differ by more than a mark.
    pub mark_for_mm: Option<f64>,
}

/// The table of a rule, for a gauge with this graduation, mm. Rows lie on whole graduations, evenly about the reading
/// that is expected, as far as two spreads where nine rows reach so far; rows that are no cut are left out.
pub fn table(rule: &Rule, graduation_mm: f64) -> Table {
    let stop = &rule.stop;
    let step = row_step(stop, graduation_mm);
    let each_way = rows_each_way(stop, step * graduation_mm);
    // Round numbers are found faster than even ones about the middle.
    let middle = (stop.expected.mean_mm / (step * graduation_mm)).round() as i64;
    let rows: Vec<Row> = (middle - each_way..=middle + each_way)
        .map(|row| row as f64 * step * graduation_mm)
        .filter_map(|measures_mm| row(rule, measures_mm))
        .collect();
    let jumps = rows.windows(2).any(|two| two[0].setting.marks.abs_diff(two[1].setting.marks) > 1);
    Table { mark_for_mm: jumps.then(|| mark_for_mm(rule, (graduation_mm, step * graduation_mm))), rows }
}

fn row(rule: &Rule, measures_mm: f64) -> Option<Row> {
    match rule.decide(measures_mm) {
        Advice::Cut(setting) => Some(Row { measures_mm, setting }),
        _ => None,
    }
}

/// How far two spreads of the reading reach, mm.
fn reach_mm(stop: &Stop) -> f64 {
    2.0 * stop.expected.read_spread_mm(stop.gauge_mm)
}

/// Graduations from row to row: one, two or five times a power of ten, the least that covers the reach.
fn row_step(stop: &Stop, graduation_mm: f64) -> f64 {
    let each_way = (ROWS.1 / 2) as f64;
    let needed = reach_mm(stop) / (each_way * graduation_mm);
    let steps = (0..9).flat_map(|power| [1.0, 2.0, 5.0].map(|step| step * 10f64.powi(power)));
    // A table that reaches almost as far with a step that is half as wide is the better one.
    const ALMOST: f64 = 0.9;
    let mut steps = steps.filter(|step| *step >= ALMOST * needed);
    steps.next().unwrap_or(1e9)
}

fn rows_each_way(stop: &Stop, step_mm: f64) -> i64 {
    ((reach_mm(stop) / step_mm).ceil() as i64).clamp(ROWS.0 as i64 / 2, ROWS.1 as i64 / 2)
}

/// By how much more it must measure for one mark more, in steps that the gauge shows, mm: the nearest step, or the next
/// one up where the nearest would take a quarter of a mark too much by the next row.
fn mark_for_mm(rule: &Rule, (graduation_mm, row_mm): (f64, f64)) -> f64 {
    const TOO_MUCH: f64 = 0.25;
    let stop = &rule.stop;
    let exact_mm = stop.cut.mark_mm / stop.expected.weight_of(stop.gauge_mm);
    let nearest_mm = (exact_mm / graduation_mm).round().max(1.0) * graduation_mm;
    if row_mm / nearest_mm - row_mm / exact_mm <= TOO_MUCH {
        nearest_mm
    } else {
        (exact_mm / graduation_mm - 1e-9).ceil() * graduation_mm
    }
}

impl Table {
    /// Marks to set for a reading as a person goes by the table: the nearest row from which no more is taken, and
    /// between rows the marks that are said; no more than the next row. `None`: outside the table.
    pub fn marks_for(&self, stop: &Stop, size_mm: f64) -> Option<u64> {
        let goes = stop.band.scrap.cut_goes();
        // By how much more than a row it has left on.
        let over = |row: &Row| -goes * (size_mm - row.measures_mm);
        let half_step = self.rows.windows(2).map(|two| (two[1].measures_mm - two[0].measures_mm) / 2.0).next()?;
        let row = self.rows.iter().filter(|row| over(row) >= -1e-9).min_by(|a, b| over(a).total_cmp(&over(b)))?;
        let next = self.rows.iter().filter(|row| over(row) < -1e-9).max_by(|a, b| over(a).total_cmp(&over(b)));
        if next.is_none() && over(row) > half_step {
            return None;
        }
        let more = self.mark_for_mm.map_or(0.0, |for_mm| (over(row) / for_mm + 1e-9).floor());
        let marks = row.setting.marks + more as u64;
        Some(next.map_or(marks, |next| marks.min(next.setting.marks)))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::measure::aim::{Band, Scrap};
    use crate::measure::belief::Belief;
    use crate::measure::decide::Cut;

    fn rule(spread: f64, gauge: f64, mark: f64, scrap: Scrap) -> Rule {
        let away = -scrap.cut_goes();
        Rule::new(Stop {
            band: Band::new(35.95, 36.05, scrap).expect("sound"),
            expected: Belief::new(36.0 + away * 0.3, spread).expect("sound"),
            gauge_mm: gauge,
            cut: Cut {
                mark_mm: mark,
                comes_off_mm: 0.0,
                share: 0.02,
                scatter_mm: 0.006,
                least_mm: 0.02,
                deepest_mm: 2.0,
            },
            planned_marks: (0.3 / mark).round() as u64,
            scrap_passes: 20.0,
        })
        .expect("sound")
    }

    #[test]
    fn rows_are_few_on_the_gauges_marks_and_about_what_is_expected() {
        for (spread, gauge, graduation) in
            [(0.05, 0.008, 0.01), (0.01, 0.003, 0.01), (0.02, 0.02, 0.02), (0.2, 0.003, 0.001)]
        {
            let table = table(&rule(spread, gauge, 0.0254, Scrap::Under), graduation);
            assert!(
                (ROWS.0..=ROWS.1).contains(&table.rows.len()),
                "{spread} {gauge} {graduation}: {}",
                table.rows.len()
            );
            let on_marks =
                |row: &Row| (row.measures_mm / graduation - (row.measures_mm / graduation).round()).abs() < 1e-6;
            assert!(table.rows.iter().all(on_marks));
            assert!(table.rows.windows(2).all(|two| two[0].measures_mm < two[1].measures_mm));
            assert!(table.rows.windows(2).all(|two| two[0].setting.marks <= two[1].setting.marks));
        }
    }

    #[test]
    fn between_rows_the_table_says_how_many_marks_more() {
        let rule = rule(0.05, 0.003, 0.01, Scrap::Under);
        let table = table(&rule, 0.01);
        // Rows every 0.02 or 0.05 mm on a dial of hundredths: a mark for each hundredth.
        assert_eq!(table.mark_for_mm.map(|mm| (mm * 1000.0).round()), Some(10.0));
        let first = table.rows[0];
        assert_eq!(table.marks_for(&rule.stop, first.measures_mm), Some(first.setting.marks));
        assert_eq!(table.marks_for(&rule.stop, first.measures_mm - 0.01), None);
        assert_eq!(table.marks_for(&rule.stop, 40.0), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig { rng_seed: proptest::test_runner::RngSeed::Fixed(84), cases: 200, ..ProptestConfig::default() })]

        /// By the table hardly more is taken than by the rule itself; in a bore too.
        #[test]
        fn the_table_errs_towards_what_can_be_mended(spread in 0.005..0.1f64, gauge in 0.001..0.02f64, mark in 0.005..0.05f64, z in -2.0..2.0f64, bore: bool) {
            let rule = rule(spread, gauge, mark, if bore { Scrap::Over } else { Scrap::Under });
            let table = table(&rule, 0.01);
            let reads = rule.stop.expected.mean_mm + z * rule.stop.expected.read_spread_mm(gauge);
            if let (Some(marks), Advice::Cut(setting)) = (table.marks_for(&rule.stop, reads), rule.decide(reads)) {
                prop_assert!(marks <= setting.marks + 1, "{marks} {setting:?}");
            }
        }
    }
}
