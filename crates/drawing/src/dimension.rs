//! Dimensions after ISO 129-1: numbers above an unbroken line, along it, read from below and from the right.

use crate::figure::{Anchor, Dimension, Text, TextKind};
use crate::lettering::{self, SMALL_MM, above_mm, box_height_mm, width_mm};
use crate::vector::Flat;

/// Length of an arrow, mm.
pub const ARROW_MM: f64 = 2.5;
/// Half the width of an arrow at its foot, mm: 15 degrees.
pub const ARROW_HALF_MM: f64 = 0.33;
/// From one dimension line to the next, mm: a number stands between them.
pub const ROW_MM: f64 = 4.4;
/// Extension lines go this far past the dimension line, mm.
const PAST_MM: f64 = 0.6;
/// Arrows that stand outside have lines this long, mm.
const OUTSIDE_MM: f64 = 4.0;
/// Space between a line and the box of the number over it, mm.
const GAP_MM: f64 = 0.3;
/// From the end of the measured stretch to a number beyond it, mm: past the extension line, or past an arrow outside.
const BEYOND_MM: [f64; 2] = [1.2, ARROW_MM + 0.7];

/// Which way a dimension line runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Left to right.
    Level,
    /// Upwards.
    Upright,
}

/// Where the number stands: always above the line, seen as it is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Over its middle.
    Over,
    /// Before it, the line drawn on below the number.
    Before,
    /// After it, likewise.
    After,
}

/// What is to be dimensioned, mm of paper.
#[derive(Debug, Clone)]
pub struct Measured<'a> {
    /// Which way.
    pub way: Way,
    /// The measured stretch: x (or y, upper end first is not asked) of its ends.
    pub ends: [f64; 2],
    /// y (or x) of the dimension line.
    pub at: f64,
    /// Where the extension lines begin; `None`: no line.
    pub from: [Option<f64>; 2],
    /// The value, mm of the real thing.
    pub value_mm: f64,
    /// What the number says.
    pub says: &'a str,
    /// Where it stands.
    pub place: Place,
}

/// Whether a number fits over its line.
pub fn fits_over(length_mm: f64, says: &str) -> bool {
    length_mm >= width_mm(says, SMALL_MM) + 1.0 && !stands_outside(length_mm)
}

/// Over the line where the number fits there, else this place.
pub fn place_of(length_mm: f64, says: &str, beyond: Place) -> Place {
    if fits_over(length_mm, says) { Place::Over } else { beyond }
}

/// Whether arrows find no room between the ends.
fn stands_outside(length_mm: f64) -> bool {
    // A length at the limit must come out the same however it was added up.
    length_mm < 2.4 * ARROW_MM - 1e-6
}

/// From the end of the measured stretch to a number beyond it, mm.
fn beyond_mm(length_mm: f64) -> f64 {
    BEYOND_MM[usize::from(stands_outside(length_mm))]
}

/// How far arrows and number reach before and after the measured stretch, mm.
pub fn reaches_past(length_mm: f64, says: &str, place: Place) -> [f64; 2] {
    let arrow = if stands_outside(length_mm) { OUTSIDE_MM } else { 0.0 };
    let number = beyond_mm(length_mm) + width_mm(says, SMALL_MM) + GAP_MM;
    match place {
        Place::Over => [arrow; 2],
        Place::Before => [number.max(arrow), arrow],
        Place::After => [arrow, number.max(arrow)],
    }
}

/// The dimension with its lines, arrows and number.
pub fn dimension(measured: &Measured) -> Dimension {
    let [from, to] = ordered(measured.ends);
    let width = width_mm(measured.says, SMALL_MM);
    let beyond = beyond_mm(to - from);
    let outside = stands_outside(to - from);
    let mut stretch = if outside { (from - OUTSIDE_MM, to + OUTSIDE_MM) } else { (from, to) };
    let start = match measured.place {
        Place::Over => (from + to - width) / 2.0,
        Place::Before => from - beyond - width,
        Place::After => to + beyond,
    };
    match measured.place {
        Place::Over => {}
        Place::Before => stretch.0 = stretch.0.min(start),
        Place::After => stretch.1 = stretch.1.max(start + width),
    }
    let point = |along: f64, across: f64| match measured.way {
        Way::Level => [along, across],
        // Along runs upwards, which is against y.
        Way::Upright => [across, -along],
    };
    let extension = |at: usize| {
        measured.from[at].map(|begin| {
            let end = measured.at + PAST_MM * (measured.at - begin).signum();
            [point(ordered(measured.ends)[at], begin), point(ordered(measured.ends)[at], end)]
        })
    };
    Dimension {
        ends_mm: [point(from, measured.at), point(to, measured.at)],
        value_mm: measured.value_mm,
        extensions_mm: (0..2).filter_map(extension).collect(),
        lines_mm: vec![[point(stretch.0, measured.at), point(stretch.1, measured.at)]],
        outside,
        text: number(measured, start),
    }
}

/// The number, beginning at this place along the line.
fn number(measured: &Measured, start: f64) -> Text {
    let across = measured.at - over_mm();
    let text = match measured.way {
        Way::Level => lettering::from_left(TextKind::Number, measured.says, SMALL_MM, [start, across]),
        Way::Upright => lettering::upright(TextKind::Number, measured.says, SMALL_MM, [across, -start]),
    };
    let anchor = match measured.place {
        Place::Over => Anchor::Middle,
        Place::Before => Anchor::End,
        Place::After => Anchor::Start,
    };
    Text { anchor, ..text }
}

/// Room that a number takes over its line, mm.
pub fn over_line_mm() -> f64 {
    GAP_MM + box_height_mm(SMALL_MM) + 0.3
}

/// Room that the ends of extension lines take past the dimension line, mm.
pub fn past_line_mm() -> f64 {
    PAST_MM + 0.3
}

/// From a line to the middle of a number over it, mm.
fn over_mm() -> f64 {
    // The box reaches further below the middle of the capitals than they do.
    box_height_mm(SMALL_MM) - above_mm(SMALL_MM) + SMALL_MM / 2.0 + GAP_MM
}

/// Ends in rising order. An upright stretch is given by y, which falls as it rises.
fn ordered([a, b]: [f64; 2]) -> [f64; 2] {
    [a.min(b), a.max(b)]
}

/// The three corners of an arrow with its tip here, pointing this way.
pub fn arrow(tip: Flat, [x, y]: Flat) -> [Flat; 3] {
    let foot = [tip[0] - x * ARROW_MM, tip[1] - y * ARROW_MM];
    let half = [-y * ARROW_HALF_MM, x * ARROW_HALF_MM];
    [tip, [foot[0] + half[0], foot[1] + half[1]], [foot[0] - half[0], foot[1] - half[1]]]
}
