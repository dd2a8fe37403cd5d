//! Lettering: its size, and the box that a text fills for certain.

use engine::quantity::Units;
use engine::quantity::show;

use crate::figure::{Anchor, Text, TextKind};
use crate::vector::Flat;

/// Height of capitals, mm: the least that a sheet beside a machine may have.
pub const SMALL_MM: f64 = 2.5;
/// Height of capitals for what must be seen first, mm.
pub const LARGE_MM: f64 = 3.5;
/// Distance of lines, mm.
pub const LINE_MM: f64 = 4.4;

/// Height of capitals in DejaVu Sans Mono, em (its OS/2 table: 1493 of 2048).
const CAPITAL_EM: f64 = 0.729;
/// Width of every character of DejaVu Sans Mono, em (its hmtx table: 1233 of 2048).
const CHARACTER_EM: f64 = 0.602;
/// Width counted for a character of a script that the font may not have: no fallback is wider than this.
const FOREIGN_EM: f64 = 1.25;
/// From the base line up to the top of the highest letter, em.
const ABOVE_EM: f64 = 0.76;
/// From the base line down to the lowest, em.
const BELOW_EM: f64 = 0.24;
/// The longest name of a face that stands on a picture.
const LONGEST_NAME: usize = 8;

/// Size of the font, mm, for this height of capitals.
pub fn em_mm(height_mm: f64) -> f64 {
    height_mm / CAPITAL_EM
}

/// How wide a text is, mm.
pub fn width_mm(says: &str, height_mm: f64) -> f64 {
    let em: f64 = says.chars().map(|c| if c as u32 <= 0x2fff { CHARACTER_EM } else { FOREIGN_EM }).sum();
    em * em_mm(height_mm)
}

/// How high the box of a text is, mm.
pub fn box_height_mm(height_mm: f64) -> f64 {
    (ABOVE_EM + BELOW_EM) * em_mm(height_mm)
}

/// From the box's top to the base line, mm.
pub fn above_mm(height_mm: f64) -> f64 {
    ABOVE_EM * em_mm(height_mm)
}

/// A text with its left end at x and the middle of its capitals at y.
pub fn from_left(kind: TextKind, says: &str, height_mm: f64, [x, y]: Flat) -> Text {
    let base = y + height_mm / 2.0;
    let em = em_mm(height_mm);
    let frame_mm = [x, base - ABOVE_EM * em, x + width_mm(says, height_mm), base + BELOW_EM * em];
    Text { says: says.to_string(), frame_mm, height_mm, strong: false, upright: false, anchor: Anchor::Start, kind }
}

/// A text with the middle of its capitals at this point.
pub fn centred(kind: TextKind, says: &str, height_mm: f64, [x, y]: Flat) -> Text {
    let text = from_left(kind, says, height_mm, [x - width_mm(says, height_mm) / 2.0, y]);
    Text { anchor: Anchor::Middle, ..text }
}

/// A text turned a quarter anticlockwise, its lower end at y, the middle of its capitals at x.
pub fn upright(kind: TextKind, says: &str, height_mm: f64, [x, y]: Flat) -> Text {
    let base = x + height_mm / 2.0;
    let em = em_mm(height_mm);
    let frame_mm = [base - ABOVE_EM * em, y - width_mm(says, height_mm), base + BELOW_EM * em, y];
    Text { says: says.to_string(), frame_mm, height_mm, strong: false, upright: true, anchor: Anchor::Start, kind }
}

/// A name short enough to stand on a picture.
pub fn short(name: &str) -> String {
    if name.chars().count() <= LONGEST_NAME {
        return name.to_string();
    }
    name.chars().take(LONGEST_NAME - 1).chain(['…']).collect()
}

/// A length in the plan's units, with the unit.
pub fn length(value_mm: f64, units: Units) -> String {
    show::length(value_mm, units)
}

/// A length in the plan's units, without the unit.
pub fn bare(value_mm: f64, units: Units) -> String {
    let text = length(value_mm, units);
    text.trim_end_matches(units.name()).trim_end().to_string()
}

/// Words broken into lines no wider than this.
pub fn wrapped(says: &str, height_mm: f64, widest_mm: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in says.split_whitespace() {
        let joined = lines.last().map(|line| format!("{line} {word}"));
        match (joined, lines.last_mut()) {
            (Some(joined), Some(line)) if width_mm(&joined, height_mm) <= widest_mm => *line = joined,
            _ => lines.push(cut_to(word, height_mm, widest_mm)),
        }
    }
    lines
}

/// A word too long for a line is cut off.
fn cut_to(word: &str, height_mm: f64, widest_mm: f64) -> String {
    if width_mm(word, height_mm) <= widest_mm {
        return word.to_string();
    }
    let mut cut = String::new();
    for c in word.chars() {
        if width_mm(&format!("{cut}{c}…"), height_mm) > widest_mm {
            break;
        }
        cut.push(c);
    }
    cut.push('…');
    cut
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_words_and_lines_never_leave_their_room() {
        let lines =
            wrapped("a name of nearly three hundred letters aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", 2.5, 40.0);
        assert!(lines.len() > 2);
        assert!(lines.iter().all(|line| width_mm(line, 2.5) <= 40.0), "{lines:?}");
        assert_eq!(short("left"), "left");
        assert_eq!(short("left-hand side"), "left-ha…");
    }
}
