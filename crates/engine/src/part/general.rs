//! General tolerances of ISO 2768: what holds where the drawing gives a size, an angle or a face no limits of its own.

use std::fmt;
use std::sync::OnceLock;

use serde::Deserialize;

/// Classes of ISO 2768 that a drawing names, as "mK".
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct General {
    /// Part 1: sizes and angles. `None`: the drawing names none.
    pub sizes: Option<SizeClass>,
    /// Part 2: form and place. `None`: the drawing names none.
    pub geometry: Option<GeometryClass>,
}

/// Tolerance class of ISO 2768-1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SizeClass {
    /// Fine, f.
    Fine,
    /// Medium, m.
    Medium,
    /// Coarse, c.
    Coarse,
    /// Very coarse, v.
    VeryCoarse,
}

/// Tolerance class of ISO 2768-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GeometryClass {
    /// The finest.
    H,
    /// The middle one.
    K,
    /// The coarsest.
    L,
}

impl General {
    /// Reads "m", "K", "mK", each also with "ISO 2768-" before it.
    ///
    /// # Errors
    /// The first letter that names no class, with its byte in the text.
    pub fn read(text: &str) -> Result<General, (usize, char)> {
        let mut general = General::default();
        let start = text.len() - text.trim_start().len();
        let from = ["ISO 2768-", "ISO 2768 -", "ISO2768-"].iter().find(|head| text[start..].starts_with(**head));
        let start = start + from.map_or(0, |head| head.len());
        let letters: Vec<(usize, char)> =
            text[start..].char_indices().map(|(at, letter)| (start + at, letter)).collect();
        for &(at, letter) in letters.iter().filter(|(_, letter)| !letter.is_whitespace()) {
            let sizes = SizeClass::ALL.into_iter().find(|class| class.letter() == letter);
            let geometry = GeometryClass::ALL.into_iter().find(|class| class.letter() == letter);
            match (sizes, geometry) {
                (Some(class), None) if general == General::default() => general.sizes = Some(class),
                (None, Some(class)) if general.geometry.is_none() => general.geometry = Some(class),
                _ => return Err((at, letter)),
            }
        }
        if general == General::default() { Err((text.len(), ' ')) } else { Ok(general) }
    }
}

impl fmt::Display for General {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "ISO 2768-")?;
        self.sizes.map_or(Ok(()), |class| write!(out, "{}", class.letter()))?;
        self.geometry.map_or(Ok(()), |class| write!(out, "{}", class.letter()))
    }
}

impl SizeClass {
    /// From fine to very coarse.
    pub const ALL: [SizeClass; 4] = [SizeClass::Fine, SizeClass::Medium, SizeClass::Coarse, SizeClass::VeryCoarse];

    /// Its letter on a drawing.
    pub fn letter(self) -> char {
        match self {
            SizeClass::Fine => 'f',
            SizeClass::Medium => 'm',
            SizeClass::Coarse => 'c',
            SizeClass::VeryCoarse => 'v',
        }
    }

    /// Permissible deviation of a linear size, plus and minus, mm (ISO 2768-1 table 1, sizes 0.5 to 4000 mm; a smaller
    /// or larger one takes the nearest range). `None`: the class has none at that size.
    pub fn linear_mm(self, size_mm: f64) -> Option<f64> {
        tables().linear.at(self.letter(), size_mm)
    }

    /// Permissible deviation of an angle, plus and minus, degrees, by the length of the shorter leg, mm (ISO
    /// 2768-1 table 3).
    pub fn angular_deg(self, shorter_leg_mm: f64) -> Option<f64> {
        tables().angular.at(self.letter(), shorter_leg_mm).map(|minutes| minutes / 60.0)
    }
}

impl GeometryClass {
    /// From fine to coarse.
    pub const ALL: [GeometryClass; 3] = [GeometryClass::H, GeometryClass::K, GeometryClass::L];

    /// Its letter on a drawing.
    pub fn letter(self) -> char {
        match self {
            GeometryClass::H => 'H',
            GeometryClass::K => 'K',
            GeometryClass::L => 'L',
        }
    }

    /// Flatness, mm, by the longer side of the face, mm, up to 3000 (ISO 2768-2 table 1).
    pub fn flat_mm(self, longer_side_mm: f64) -> Option<f64> {
        tables().flat.at(self.letter(), longer_side_mm)
    }

    /// Perpendicularity, mm, by the length of the shorter leg of the right angle, mm, up to 3000 (ISO 2768-2 table 2).
    pub fn square_mm(self, shorter_leg_mm: f64) -> Option<f64> {
        tables().square.at(self.letter(), shorter_leg_mm)
    }

    /// Parallelism, mm: the larger of the width between the limits of the size and the flatness of the face
    /// (ISO 2768-2, 5.1.3).
    pub fn parallel_mm(self, size_band_mm: f64, longer_side_mm: f64) -> Option<f64> {
        self.flat_mm(longer_side_mm).map(|flat_mm| flat_mm.max(size_band_mm))
    }

    /// Symmetry, mm, by the length of the shorter feature, mm, up to 3000 (ISO 2768-2 table 3). Asked of features that
    /// lie within others, as a slot does; a plain prism has none.
    pub fn symmetric_mm(self, shorter_mm: f64) -> Option<f64> {
        tables().symmetric.at(self.letter(), shorter_mm)
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    class: char,
    over: f64,
    upto: f64,
    values: Vec<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    to: Vec<f64>,
    #[cfg_attr(not(test), expect(dead_code, reason = "for people and the table's test"))]
    source: String,
    row: Vec<Row>,
}

impl Table {
    fn at(&self, class: char, size_mm: f64) -> Option<f64> {
        let row = self.row.iter().find(|row| row.class == class)?;
        // Within rounding: 18 mm that came through other units is 18 mm.
        const SAME_MM: f64 = 1e-9;
        if !(size_mm > row.over + SAME_MM && size_mm <= row.upto + SAME_MM) {
            return None;
        }
        // A size over the last range takes its value where the row reaches so far.
        let range = self.to.iter().position(|&to| size_mm <= to + SAME_MM).unwrap_or(self.to.len() - 1);
        let first = self.to.iter().filter(|&&to| to <= row.over).count();
        row.values.get(range - first).copied()
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Tables {
    linear: Table,
    angular: Table,
    flat: Table,
    square: Table,
    symmetric: Table,
}

fn tables() -> &'static Tables {
    static TABLES: OnceLock<Tables> = OnceLock::new();
    TABLES.get_or_init(|| {
        toml::from_str(include_str!("../../data/general_tolerances.toml"))
            .expect("the embedded table is read by a test")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all() -> [(&'static Table, &'static str); 5] {
        let tables = tables();
        [
            (&tables.linear, "fmcv"),
            (&tables.angular, "fmcv"),
            (&tables.flat, "HKL"),
            (&tables.square, "HKL"),
            (&tables.symmetric, "HKL"),
        ]
    }

    #[test]
    fn tables_are_sorted_sourced_and_have_every_class_from_fine_to_coarse() {
        for (table, classes) in all() {
            assert!(table.to.windows(2).all(|pair| pair[0] < pair[1]) && table.source.len() > 8);
            assert_eq!(table.row.iter().map(|row| row.class).collect::<String>(), classes);
            for row in &table.row {
                let within = table.to.iter().filter(|&&to| to > row.over && to <= row.upto).count();
                assert_eq!(row.values.len(), within, "class {}", row.class);
            }
            for &size in &table.to {
                let values: Vec<f64> = classes.chars().filter_map(|class| table.at(class, size)).collect();
                assert!(values.windows(2).all(|pair| pair[0] <= pair[1]), "{size}: {values:?}");
            }
        }
    }

    #[test]
    fn classes_read_as_drawings_write_them() {
        let read = |text| General::read(text).map(|general| general.to_string());
        assert_eq!(read("mK"), Ok("ISO 2768-mK".to_string()));
        assert_eq!(read("ISO 2768-fH"), Ok("ISO 2768-fH".to_string()));
        assert_eq!((read("c"), read("L")), (Ok("ISO 2768-c".to_string()), Ok("ISO 2768-L".to_string())));
        for (text, fault) in [("mX", (1, 'X')), ("Km", (1, 'm')), ("mm", (1, 'm')), ("", (0, ' ')), ("mK-E", (2, '-'))]
        {
            assert_eq!(General::read(text), Err(fault), "{text}");
        }
    }

    #[test]
    fn a_class_without_a_value_at_a_size_says_so() {
        assert_eq!(SizeClass::VeryCoarse.linear_mm(3.0), None);
        assert_eq!(SizeClass::Fine.linear_mm(2000.1), None);
        assert_eq!(SizeClass::Medium.linear_mm(0.2), Some(0.1));
        assert_eq!(GeometryClass::K.flat_mm(3000.5), None);
        assert_eq!(GeometryClass::H.parallel_mm(0.1, 50.0), Some(0.1));
        assert_eq!(GeometryClass::H.parallel_mm(0.05, 50.0), Some(0.1));
    }
}
