//! The tables of ISO 286 (`data/fits.toml`).

use std::sync::OnceLock;

use serde::Deserialize;

/// A size is the end of a range within this, mm: 18 mm that came through other units is 18 mm.
const SAME_MM: f64 = 1e-9;

/// Which limit a fundamental deviation is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Side {
    Upper,
    Lower,
}

/// Which division of the sizes a row follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Ranges {
    Main,
    Split,
}

/// A standard tolerance grade over the sizes.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GradeRow {
    pub name: String,
    over: f64,
    um: Vec<f64>,
    #[cfg_attr(not(test), expect(dead_code, reason = "for people and the table's test"))]
    source: String,
}

/// A fundamental deviation of shafts, for some grades, over the sizes.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DeviationRow {
    pub letters: String,
    pub limit: Side,
    /// First and last grade.
    grades: [String; 2],
    ranges: Ranges,
    pub over: f64,
    pub to: f64,
    um: Vec<f64>,
    #[cfg_attr(not(test), expect(dead_code, reason = "for people and the table's test"))]
    source: String,
}

/// A hole that follows no rule.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct HoleRow {
    letters: String,
    grade: String,
    over: f64,
    to: f64,
    upper_um: Vec<f64>,
    #[cfg_attr(not(test), expect(dead_code, reason = "for people and the table's test"))]
    source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    main: Vec<f64>,
    split: Vec<f64>,
    grade: Vec<GradeRow>,
    shaft: Vec<DeviationRow>,
    hole: Vec<HoleRow>,
}

impl GradeRow {
    /// Width at a size, µm; `None` where the grade is not used.
    pub fn um_at(&self, size_mm: f64) -> Option<f64> {
        at(&table().main, (self.over, f64::INFINITY), &self.um, size_mm)
    }
}

impl DeviationRow {
    /// Deviation at a size, µm; `None` where the letter is not used.
    pub fn um_at(&self, size_mm: f64) -> Option<f64> {
        at(self.ends(), (self.over, self.to), &self.um, size_mm)
    }

    fn ends(&self) -> &'static [f64] {
        match self.ranges {
            Ranges::Main => &table().main,
            Ranges::Split => &table().split,
        }
    }
}

/// The value of the range that holds a size; values begin with the range that `over` opens or lies in.
fn at(ends: &[f64], (over, to): (f64, f64), values: &[f64], size_mm: f64) -> Option<f64> {
    if !(size_mm > over + SAME_MM && size_mm <= to + SAME_MM) {
        return None;
    }
    let range = ends.iter().position(|&end| size_mm <= end + SAME_MM)?;
    let first = ends.iter().filter(|&&end| end <= over).count();
    values.get(range - first).copied()
}

/// The grades, IT01 first.
pub(super) fn grades() -> &'static [GradeRow] {
    &table().grade
}

/// The fundamental deviations of shafts.
pub(super) fn shafts() -> &'static [DeviationRow] {
    &table().shaft
}

/// The letters that there are, in order of the alphabet, `js` among them.
pub(super) fn letters() -> impl Iterator<Item = &'static str> {
    let rows = shafts().iter().map(|row| row.letters.as_str());
    let mut before = "";
    rows.chain(["js"]).filter(move |letters| std::mem::replace(&mut before, letters) != *letters)
}

/// Whether a row counts for the grade at this place of the table.
pub(super) fn covers(row: &DeviationRow, grade: usize) -> bool {
    let place = |name: &String| grades().iter().position(|row| row.name == *name);
    place(&row.grades[0]).is_some_and(|first| first <= grade) && place(&row.grades[1]).is_some_and(|last| grade <= last)
}

/// ES of a hole that follows no rule, µm.
pub(super) fn hole_exception(letters: &str, grade: &str, size_mm: f64) -> Option<f64> {
    let own = |row: &&HoleRow| row.letters.eq_ignore_ascii_case(letters) && row.grade == grade;
    let rows = table().hole.iter().filter(own);
    rows.into_iter().find_map(|row| at(&table().main, (row.over, row.to), &row.upper_um, size_mm))
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../data/fits.toml")).expect("the embedded table is read by a test")
    })
}

#[cfg(test)]
mod tests {
    use super::super::fit::tolerance_factor_um;
    use super::*;

    #[test]
    fn rows_are_sourced_and_have_a_value_for_each_of_their_ranges() {
        let table = table();
        for ends in [&table.main, &table.split] {
            assert!(ends.windows(2).all(|pair| pair[0] < pair[1]) && ends.last() == Some(&500.0));
        }
        assert!(table.main.iter().all(|end| table.split.contains(end)));
        assert_eq!(table.grade.len(), 20);
        assert!(table.grade.iter().all(|row| row.um.len() == 13 && row.source.len() > 8));
        for row in &table.shaft {
            let ends = row.ends();
            let within = ends.iter().filter(|&&end| end > row.over && end <= row.to).count();
            assert_eq!(row.um.len(), within, "{}", row.letters);
            assert!(ends.contains(&row.to) && row.source.len() > 8);
            assert!(row.grades.iter().all(|name| table.grade.iter().any(|grade| grade.name == *name)));
        }
        for row in &table.hole {
            let within = table.main.iter().filter(|&&end| end > row.over && end <= row.to).count();
            assert!(row.upper_um.len() == within && row.source.len() > 8, "{}", row.letters);
        }
    }

    #[test]
    fn widths_grow_with_size_and_grade() {
        let table = table();
        for row in &table.grade {
            assert!(row.um.windows(2).all(|pair| pair[0] <= pair[1]), "IT{}", row.name);
        }
        for pair in table.grade.windows(2) {
            assert!(pair[0].um.iter().zip(&pair[1].um).all(|(fine, coarse)| fine < coarse), "IT{}", pair[1].name);
        }
        for row in table.shaft.iter().filter(|row| row.letters != "j") {
            assert!(row.um.windows(2).all(|pair| pair[0].abs() <= pair[1].abs()), "{}", row.letters);
        }
    }

    /// IT5 to IT18 are 7 to 2500 times the factor i; the table is rounded from that, up to a sixth off.
    #[test]
    fn the_grades_lie_near_the_formula() {
        const TIMES: [f64; 14] =
            [7.0, 10.0, 16.0, 25.0, 40.0, 64.0, 100.0, 160.0, 250.0, 400.0, 640.0, 1000.0, 1600.0, 2500.0];
        let table = table();
        for (row, times) in table.grade[6..].iter().zip(TIMES) {
            let mut over = 1.0;
            for (&to, &um) in table.main.iter().zip(&row.um) {
                let formula = times * tolerance_factor_um(over, to);
                assert!((um / formula - 1.0).abs() < 0.16, "IT{} at {to}: {um} against {formula}", row.name);
                over = to;
            }
        }
    }

    /// `p` is IT7 and 0 to 5 µm more (ISO 286-1, from memory), `m` is IT7 less IT6.
    #[test]
    fn letters_hang_together_as_their_rules_say() {
        let um = |letters: &str| &table().shaft.iter().find(|row| row.letters == letters).expect(letters).um;
        let grade = |name: &str| &table().grade.iter().find(|row| row.name == name).expect(name).um;
        for at in 0..13 {
            let more = um("p")[at] - grade("7")[at];
            assert!((-4.0..=5.0).contains(&more), "p in range {at}: {more}");
            let off = um("m")[at] - (grade("7")[at] - grade("6")[at]);
            assert!(off.abs() <= 2.0, "m in range {at}: {off}");
        }
        let order: Vec<&str> = letters().collect();
        assert_eq!(order.len(), 28);
        assert_eq!(order.last(), Some(&"js"));
    }
}
