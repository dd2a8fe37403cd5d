//! Limits by the code of a fit, "h8" or "H7", after ISO 286.

use std::fmt;

use super::fit_table::{self, DeviationRow, GradeRow, Side};

/// The largest size of the tables, mm.
pub const MOST_MM: f64 = 500.0;

/// A tolerance class of ISO 286: the letters of the fundamental deviation and the standard tolerance grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fit {
    /// The shaft's letters, small, as the table has them.
    letters: &'static str,
    /// Capital letters: an internal feature.
    hole: bool,
    /// Place of the grade in the table: 0 is IT01, 1 is IT0, 2 is IT1.
    grade: usize,
}

/// Limit deviations from the nominal size, mm, positive outwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deviations {
    /// Upper limit less nominal: es or ES.
    pub upper_mm: f64,
    /// Lower limit less nominal: ei or EI.
    pub lower_mm: f64,
}

/// Why a code gives no limits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FitFault {
    /// Byte of the code at which it stops making sense.
    pub at: usize,
    /// What is wrong.
    pub says: String,
    /// What would be accepted.
    pub accepts: String,
}

impl Fit {
    /// Reads a code: letters, then the grade, "h8", "JS7", "h01". Small letters are for shafts and other outside sizes,
    /// capitals for holes.
    ///
    /// # Errors
    /// Letters or a grade that ISO 286 has not got, at the byte where they begin.
    pub fn read(code: &str) -> Result<Fit, FitFault> {
        let at = code.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(code.len());
        let (written, digits) = code.split_at(at);
        let small = written.to_ascii_lowercase();
        let Some(letters) = fit_table::letters().find(|letters| *letters == small) else {
            let says = if written.is_empty() {
                "a fit begins with its letters".to_string()
            } else {
                format!("no fit has the letter `{written}`")
            };
            let known: Vec<&str> = fit_table::letters().collect();
            return Err(FitFault { at: 0, says, accepts: format!("{}; then a grade, as in h8", known.join(", ")) });
        };
        let Some(grade) = fit_table::grades().iter().position(|row| row.name == digits) else {
            let says = if digits.is_empty() {
                format!("`{written}` has no grade")
            } else {
                format!("`{digits}` is no standard tolerance grade")
            };
            return Err(FitFault { at, says, accepts: format!("01, 0, or 1 to 18 behind the letter: {written}8") });
        };
        Ok(Fit { letters, hole: written.starts_with(|c: char| c.is_ascii_uppercase()), grade })
    }

    /// Whether it is for a hole or a slot: written in capitals.
    pub fn is_hole(&self) -> bool {
        self.hole
    }

    /// The same letters and grade for a shaft or another outside size.
    pub fn of_outside(self) -> Fit {
        Fit { hole: false, ..self }
    }

    /// Limit deviations for a nominal size of over 0 to 500 mm (ISO 286-1). A range is over its lower end up to and
    /// including its upper: 120 belongs to 80-120. Symmetrical deviations are half of the grade, not rounded (editions
    /// differ on odd ones).
    ///
    /// # Errors
    /// A size beyond the tables, a letter or grade that is not used at that size.
    pub fn limits(&self, nominal_mm: f64) -> Result<Deviations, FitFault> {
        let width_um = self.width_um(self.grade, nominal_mm)?;
        let (upper_um, lower_um) = match (self.letters, self.hole) {
            ("js", _) => (width_um / 2.0, -width_um / 2.0),
            (_, true) => self.hole_um(nominal_mm, width_um)?,
            (_, false) => self.shaft_um(nominal_mm, width_um)?,
        };
        Ok(Deviations { upper_mm: upper_um / 1000.0, lower_mm: lower_um / 1000.0 })
    }

    /// es and ei of a shaft, µm.
    fn shaft_um(&self, nominal_mm: f64, width_um: f64) -> Result<(f64, f64), FitFault> {
        let (side, um) = self.fundamental_um(nominal_mm)?;
        Ok(match side {
            Side::Upper => (um, um - width_um),
            Side::Lower => (um + width_um, um),
        })
    }

    /// ES and EI of a hole, µm: rules of ISO 286-1 from the shaft of the same letters, then the exceptions.
    fn hole_um(&self, nominal_mm: f64, width_um: f64) -> Result<(f64, f64), FitFault> {
        let name = self.grade_row().name.as_str();
        if let Some(upper_um) = fit_table::hole_exception(self.letters, name, nominal_mm) {
            return Ok((upper_um, upper_um - width_um));
        }
        if self.letters == "j" {
            return Err(self.unused(nominal_mm, "J6, J7 or J8; JS for a band to both sides"));
        }
        let (side, um) = self.fundamental_um(nominal_mm)?;
        if side == Side::Upper {
            return Ok((width_um - um, -um));
        }
        let upper_um = self.tight_hole_um(nominal_mm, um)?;
        Ok((upper_um, upper_um - width_um))
    }

    /// ES of a hole K to ZC, µm: −ei, and up to grade 8 (K, M, N) or 7 (P to ZC) above 3 mm Delta more, the difference
    /// of two neighbouring grades.
    fn tight_hole_um(&self, nominal_mm: f64, ei_um: f64) -> Result<f64, FitFault> {
        let loose = matches!(self.letters, "k" | "m" | "n");
        let (small, last) = (nominal_mm <= 3.0, if loose { "8" } else { "7" });
        let fine = fit_table::grades().iter().position(|row| row.name == last).is_some_and(|last| self.grade <= last);
        if small || !fine {
            return match self.letters {
                // The coarse K is in the table up to 3 mm only, the coarse N has ES 0 above.
                "k" if !small => Err(self.unused(nominal_mm, "K8 or finer")),
                "n" if !small => Ok(0.0),
                _ => Ok(-ei_um),
            };
        }
        let first = fit_table::grades().iter().position(|row| row.name == "3").unwrap_or(0);
        if self.grade < first {
            return Err(self.unused(nominal_mm, "grade 3 or coarser"));
        }
        let delta_um = self.width_um(self.grade, nominal_mm)? - self.width_um(self.grade - 1, nominal_mm)?;
        // The shaft k of grades 3 and 8 lies on the nominal; the hole K is counted from the one of grades 4 to 7.
        let ei_um = if self.letters == "k" { k_um(nominal_mm).unwrap_or(ei_um) } else { ei_um };
        Ok(delta_um - ei_um)
    }

    /// The fundamental deviation of the shaft, µm, and which limit it is.
    fn fundamental_um(&self, nominal_mm: f64) -> Result<(Side, f64), FitFault> {
        let own = |row: &&DeviationRow| row.letters == self.letters;
        let of_grade = |row: &&DeviationRow| fit_table::covers(row, self.grade);
        let at_size = |row: &DeviationRow| Some((row.limit, row.um_at(nominal_mm)?));
        let rows = fit_table::shafts();
        rows.iter().filter(own).filter(of_grade).find_map(at_size).ok_or_else(|| {
            let sizes =
                rows.iter().filter(own).filter(of_grade).map(|row| format!("over {} to {} mm", row.over, row.to));
            let sizes: Vec<String> = sizes.collect();
            if sizes.is_empty() {
                self.unused(nominal_mm, "another grade or letter")
            } else {
                self.unused(nominal_mm, &format!("sizes {}", sizes.join(", ")))
            }
        })
    }

    /// Width of a grade at a size, µm.
    fn width_um(&self, grade: usize, nominal_mm: f64) -> Result<f64, FitFault> {
        let row = &fit_table::grades()[grade];
        row.um_at(nominal_mm).ok_or_else(|| {
            let (says, accepts) = if nominal_mm > MOST_MM {
                (
                    format!("the tables of ISO 286 end at {MOST_MM} mm; {} mm is asked", shown(nominal_mm)),
                    "plus and minus in mm",
                )
            } else {
                (format!("grade {} is not used at {} mm", row.name, shown(nominal_mm)), "a finer grade")
            };
            FitFault { at: 0, says, accepts: accepts.to_string() }
        })
    }

    fn unused(&self, nominal_mm: f64, accepts: &str) -> FitFault {
        let says = format!("{self} is not used at {} mm", shown(nominal_mm));
        FitFault { at: 0, says, accepts: accepts.to_string() }
    }

    fn grade_row(&self) -> &'static GradeRow {
        &fit_table::grades()[self.grade]
    }
}

/// A size for a message, without the noise of other units.
fn shown(size_mm: f64) -> f64 {
    (size_mm * 1e6).round() / 1e6
}

/// ei of the shaft k in grades 4 to 7, µm.
fn k_um(nominal_mm: f64) -> Option<f64> {
    let grade = fit_table::grades().iter().position(|row| row.name == "6")?;
    let rows = fit_table::shafts().iter();
    rows.filter(|row| row.letters == "k" && fit_table::covers(row, grade)).find_map(|row| row.um_at(nominal_mm))
}

impl fmt::Display for Fit {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letters = if self.hole { self.letters.to_ascii_uppercase() } else { self.letters.to_string() };
        write!(out, "{letters}{}", self.grade_row().name)
    }
}

/// Width of a standard tolerance grade, "7" for IT7, at a size over 0 to 500 mm, µm; `None`: not in the table.
pub fn grade_um(name: &str, nominal_mm: f64) -> Option<f64> {
    fit_table::grades().iter().find(|row| row.name == name)?.um_at(nominal_mm)
}

/// The standard tolerance factor i behind the grades, µm, for a range of sizes up to 500 mm:
/// `0.45 D^(1/3) + 0.001 D`, D the geometric mean of its ends (ISO 286-1). The table, not this, gives limits.
pub fn tolerance_factor_um(over_mm: f64, to_mm: f64) -> f64 {
    let mean_mm = (over_mm * to_mm).sqrt();
    0.45 * mean_mm.cbrt() + 0.001 * mean_mm
}

#[cfg(test)]
mod tests {
    use super::*;

    fn um(code: &str, size_mm: f64) -> (f64, f64) {
        let limits = Fit::read(code).expect(code).limits(size_mm).expect(code);
        let round = |mm: f64| (mm * 10_000.0).round() / 10.0;
        (round(limits.upper_mm), round(limits.lower_mm))
    }

    fn fault(code: &str, size_mm: f64) -> FitFault {
        match Fit::read(code) {
            Err(fault) => fault,
            Ok(fit) => fit.limits(size_mm).expect_err(code),
        }
    }

    #[test]
    fn a_code_reads_and_shows_as_it_is_written() {
        for code in ["h8", "H7", "js6", "JS7", "zc11", "h01", "cd5", "a13"] {
            assert_eq!(Fit::read(code).expect(code).to_string(), code);
        }
        assert!(Fit::read("H7").expect("H7").is_hole());
        assert_eq!(Fit::read("H7").expect("H7").of_outside().to_string(), "h7");
    }

    #[test]
    fn faults_say_where_and_what_instead() {
        assert_eq!((fault("i7", 20.0).at, fault("h", 20.0).at, fault("h19", 20.0).at), (0, 1, 1));
        assert!(fault("i7", 20.0).says.contains("letter `i`"));
        assert!(fault("h19", 20.0).accepts.contains("1 to 18"));
        assert!(fault("8", 20.0).says.contains("letters"));
        assert!(fault("h7", 500.1).says.contains("end at 500 mm"));
        assert!(fault("t6", 20.0).accepts.contains("over 24 to 500 mm"), "{:?}", fault("t6", 20.0));
        assert!(fault("h15", 0.8).says.contains("not used at 0.8 mm"));
        assert!(fault("a9", 1.0).accepts.contains("over 1"));
        assert!(fault("j9", 20.0).says.contains("j9 is not used"));
        for code in ["J9", "K9", "P2"] {
            assert!(fault(code, 20.0).says.contains(code), "{code}");
        }
        assert!(Fit::read("hé").is_err() && Fit::read("").is_err() && Fit::read("é8").is_err());
    }

    #[test]
    fn a_range_ends_with_its_upper_end() {
        assert_eq!(um("H7", 120.0), (35.0, 0.0));
        assert_eq!(um("H7", 120.01), (40.0, 0.0));
        assert_eq!((um("h9", 18.000_000_000_000_004), um("h9", 18.000_001)), ((0.0, -43.0), (0.0, -52.0)));
        assert_eq!((um("h7", 3.0), um("h7", 3.001)), ((0.0, -10.0), (0.0, -12.0)));
        assert_eq!((um("s6", 24.0), um("u6", 24.0), um("u6", 24.5)), ((48.0, 35.0), (54.0, 41.0), (61.0, 48.0)));
    }

    #[test]
    fn every_shaft_has_its_hole_and_both_are_as_wide_as_the_grade() {
        for letters in fit_table::letters() {
            for (grade, size) in [("5", 2.0), ("6", 12.0), ("7", 28.0), ("8", 70.0), ("9", 110.0), ("11", 480.0)] {
                for code in [format!("{letters}{grade}"), format!("{}{grade}", letters.to_ascii_uppercase())] {
                    let Ok(limits) = Fit::read(&code).expect(&code).limits(size) else { continue };
                    let width = grade_um(grade, size).expect("a grade") / 1000.0;
                    assert!((limits.upper_mm - limits.lower_mm - width).abs() < 1e-12, "{code} at {size}");
                }
            }
        }
    }

    #[test]
    fn holes_follow_the_rules_and_their_exceptions() {
        assert_eq!(um("M6", 300.0), (-9.0, -41.0));
        assert_eq!((um("N9", 2.0), um("N9", 20.0)), ((-4.0, -29.0), (0.0, -52.0)));
        assert_eq!((um("K8", 25.0), um("K6", 25.0), um("K6", 2.0)), ((10.0, -23.0), (2.0, -11.0), (0.0, -6.0)));
        assert_eq!((um("J7", 25.0), um("M8", 40.0)), ((12.0, -9.0), (5.0, -34.0)));
        // Coarser than IT7, P has no Delta.
        assert_eq!(um("P9", 25.0), (-22.0, -74.0));
    }
}
