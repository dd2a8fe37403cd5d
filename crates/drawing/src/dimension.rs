//! Dimensions after ISO 129-1: read from below and from the right, no number crossed by a line.

use crate::figure::{Anchor, Dimension, Text, TextKind};
use crate::lettering::{self, SMALL_MM, above_mm, box_height_mm, width_mm};
use crate::vector::Flat;

/// Length of an arrow, mm.
pub const ARROW_MM: f64 = 2.5;
/// Half the width of an arrow at its foot, mm: 15 degrees.
pub const ARROW_HALF_MM: f64 = 0.33;
/// Extension lines go this far past the dimension line, mm.
const PAST_MM: f64 = 1.0;
/// Arrows that stand outside have lines this long, mm.
const OUTSIDE_MM: f64 = 4.0;
/// The farthest that a level number longer than its line begins before it, mm.
const BEFORE_MM: f64 = 8.0;
/// Space between a line and the number after it, mm.
pub const GAP_MM: f64 = 1.0;
/// From the end of the measured stretch to a number beyond it, mm.
pub const BEYOND_MM: f64 = OUTSIDE_MM + GAP_MM;

/// Which way a dimension line runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Left to right.
    Level,
    /// Upwards.
    Upright,
}

/// Where the number stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// Over the middle of the line, seen as it is read.
    Over,
    /// Ends where the line begins.
    Before,
    /// Begins where the line ends.
    After,
    /// Past the ends of the extension lines, over the middle: for numbers longer than their line.
    Outside,
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
    length_mm >= width_mm(says, SMALL_MM) + 1.0 && length_mm >= 2.4 * ARROW_MM
}

/// The dimension with its lines, arrows and number.
pub fn dimension(measured: &Measured) -> Dimension {
    let [from, to] = ordered(measured.ends);
    let outside = to - from < 2.4 * ARROW_MM;
    let width = width_mm(measured.says, SMALL_MM);
    let mut stretch = if outside { (from - OUTSIDE_MM, to + OUTSIDE_MM) } else { (from, to) };
    let start = match measured.place {
        Place::Over => (from + to - width) / 2.0,
        Place::Outside => begins_outside(from, to, width, measured.way),
        Place::Before => {
            stretch.0 = from - OUTSIDE_MM;
            stretch.0 - GAP_MM - width
        }
        Place::After => {
            stretch.1 = to + OUTSIDE_MM;
            stretch.1 + GAP_MM
        }
    };
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

/// Where a number begins that is longer than its line: over its middle, but level no farther before it than leaves room
/// for an upright number there.
fn begins_outside(from: f64, to: f64, width: f64, way: Way) -> f64 {
    let middle = (from + to - width) / 2.0;
    if way == Way::Level { middle.max(from - BEFORE_MM) } else { middle }
}

/// How far a number longer than its line reaches past both ends of it, mm; arrows outside a short line count.
pub fn reaches_past(length_mm: f64, says: &str, way: Way) -> [f64; 2] {
    if fits_over(length_mm, says) {
        return [0.0; 2];
    }
    let width = width_mm(says, SMALL_MM);
    let start = begins_outside(0.0, length_mm, width, way);
    [-start, start + width - length_mm].map(|past| past.max(OUTSIDE_MM) + 1.0)
}

/// The number, beginning at this place along the line.
fn number(measured: &Measured, start: f64) -> Text {
    let across = measured.at
        + match (measured.place, measured.way) {
            (Place::Over, _) => -over_mm(),
            (Place::Outside, Way::Level) => outside_mm(),
            (Place::Outside, Way::Upright) => -over_mm() - PAST_MM,
            (Place::Before | Place::After, _) => 0.0,
        };
    let text = match measured.way {
        Way::Level => lettering::from_left(TextKind::Number, measured.says, SMALL_MM, [start, across]),
        Way::Upright => lettering::upright(TextKind::Number, measured.says, SMALL_MM, [across, -start]),
    };
    let anchor = match measured.place {
        Place::Over | Place::Outside => Anchor::Middle,
        Place::Before => Anchor::End,
        Place::After => Anchor::Start,
    };
    Text { anchor, ..text }
}

/// From a level line down to the middle of a number past the ends of the extension lines, mm.
fn outside_mm() -> f64 {
    PAST_MM + 0.5 + above_mm(SMALL_MM) - SMALL_MM / 2.0
}

/// Room that a number takes past its dimension line, mm.
pub fn past_line_mm() -> f64 {
    PAST_MM + 0.5 + box_height_mm(SMALL_MM) + 0.5
}

/// From a line to the middle of a number over it, mm.
pub fn over_mm() -> f64 {
    // The box reaches further below the middle of the capitals than they do.
    box_height_mm(SMALL_MM) - lettering::above_mm(SMALL_MM) + SMALL_MM / 2.0 + 0.5
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
