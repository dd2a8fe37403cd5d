//! UK and US forms of the trade's words, by the job's units.

use crate::quantity::Units;
use crate::quantity::show::length_to;

/// The words that differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Words {
    /// Of the height of the spindle axis.
    pub centre: &'static str,
    /// What turns the jaw screws.
    pub key: &'static str,
    /// What becomes of a key that is forgotten.
    pub key_thrown: &'static str,
    /// The upper slide.
    pub depth_slide: &'static str,
    /// What is cut off.
    pub chips: &'static str,
}

impl Words {
    /// UK words for millimetres, US words for inches.
    pub fn of(units: Units) -> Words {
        match units {
            Units::Mm => Words {
                centre: "centre",
                key: "chuck key",
                key_thrown: "WARNING: a chuck key left in the chuck is thrown at the first turn.",
                depth_slide: "top slide",
                chips: "swarf",
            },
            Units::Inch => Words {
                centre: "center",
                key: "chuck wrench",
                key_thrown: "WARNING: a chuck wrench left in the chuck is thrown at the first turn.",
                depth_slide: "compound rest",
                chips: "chips",
            },
        }
    }
}

/// How far jaws are opened, set by the rings or a rule: whole millimetres, hundredths of an inch, upwards so that
/// the work goes in.
pub(super) fn opened_by_eye(value_mm: f64, units: Units) -> String {
    let (step_mm, places) = if units == Units::Mm { (1.0, 0) } else { (0.254, 2) };
    length_to((value_mm / step_mm - 1e-6).ceil() * step_mm, units, places)
}

/// An angle, to a tenth of a degree where it is no whole one.
pub(super) fn degrees(value: f64) -> String {
    format!("{} deg", (value * 10.0).round() / 10.0)
}

/// A speed of the plate.
pub(super) fn rpm(value: f64) -> String {
    if value.fract().abs() < 0.05 { format!("{value:.0} rpm") } else { format!("{value:.1} rpm") }
}

/// "1", "1 and 3", "1, 2 and 4".
pub(super) fn list<T: ToString>(items: &[T]) -> String {
    let items: Vec<String> = items.iter().map(T::to_string).collect();
    match items.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    }
}

/// "jaw 2" or "jaws 1 and 3".
pub(super) fn jaws(numbers: &[u8]) -> String {
    format!("{} {}", if numbers.len() == 1 { "jaw" } else { "jaws" }, list(numbers))
}

/// "face C" or "faces C and D".
pub(super) fn faces(letters: &[String]) -> String {
    format!("{} {}", if letters.len() == 1 { "face" } else { "faces" }, list(letters))
}
