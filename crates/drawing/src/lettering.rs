//! Lettering: its size, and the box that a text fills for certain.

use std::sync::OnceLock;

use engine::quantity::Units;
use engine::quantity::show;
use ttf_parser::Face;

use crate::figure::{Anchor, Text, TextKind};
use crate::vector::Flat;

/// Height of capitals, mm: the least that a sheet beside a machine may have.
pub const SMALL_MM: f64 = 2.5;
/// Height of capitals for what must be seen first, mm.
pub const LARGE_MM: f64 = 3.5;
/// Distance of lines, mm.
pub const LINE_MM: f64 = 4.4;

/// Height of capitals in DejaVu Sans, em (its OS/2 table: 1493 of 2048).
const CAPITAL_EM: f64 = 0.729;
/// Width counted for a letter that DejaVu Sans does not have: no fallback is wider than this.
const FOREIGN_EM: f64 = 1.25;
/// From the base line up to the top of the highest letter, em.
const ABOVE_EM: f64 = 0.76;
/// From the base line down to the lowest, em.
const BELOW_EM: f64 = 0.24;
/// Letters whose widths are kept: Latin, Greek, Cyrillic.
const FREQUENT_LETTERS: std::ops::Range<char> = '\0'..'\u{500}';
/// The longest name of a face that stands on a picture.
const LONGEST_NAME: usize = 8;

/// Size of the font, mm, for this height of capitals.
pub fn em_mm(height_mm: f64) -> f64 {
    height_mm / CAPITAL_EM
}

/// How wide a text in the usual weight is, mm.
pub fn width_mm(says: &str, height_mm: f64) -> f64 {
    width_in_mm(says, height_mm, false)
}

/// How wide a text is, mm; strong ones are wider.
pub fn width_in_mm(says: &str, height_mm: f64, strong: bool) -> f64 {
    let em: f64 = says.chars().map(|letter| advance_em(letter, strong).unwrap_or(FOREIGN_EM)).sum();
    em * em_mm(height_mm)
}

/// Whether every letter is one of DejaVu Sans, so that the width is that of its letters and no guess.
pub fn is_measured(says: &str, strong: bool) -> bool {
    says.chars().all(|letter| advance_em(letter, strong).is_some())
}

/// Advance width of a letter of DejaVu Sans Condensed, em (the font's hmtx table); `None`: it has no such letter.
fn advance_em(letter: char, strong: bool) -> Option<f64> {
    static FREQUENT: OnceLock<[Vec<Option<f64>>; 2]> = OnceLock::new();
    // A plan asks for some ten thousand widths: those of the alphabets in use are read from the font once.
    let frequent =
        FREQUENT.get_or_init(|| [false, true].map(|strong| FREQUENT_LETTERS.map(|l| font_em(l, strong)).collect()));
    match frequent[usize::from(strong)].get(letter as usize) {
        Some(em) => *em,
        None => font_em(letter, strong),
    }
}

/// The same, from the font.
fn font_em(letter: char, strong: bool) -> Option<f64> {
    static FACES: OnceLock<[Option<Face<'static>>; 2]> = OnceLock::new();
    let files = || [dejavu::sans_condensed::regular(), dejavu::sans_condensed::bold()];
    let faces = FACES.get_or_init(|| files().map(|file| Face::parse(file, 0).ok()));
    let face = faces[usize::from(strong)].as_ref()?;
    let advance = face.glyph_hor_advance(face.glyph_index(letter)?)?;
    Some(f64::from(advance) / f64::from(face.units_per_em()))
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

/// The same in the heavy weight.
pub fn centred_strong(kind: TextKind, says: &str, height_mm: f64, [x, y]: Flat) -> Text {
    let text = centred(kind, says, height_mm, [x, y]);
    let half = width_in_mm(says, height_mm, true) / 2.0;
    let frame_mm = [x - half, text.frame_mm[1], x + half, text.frame_mm[3]];
    Text { frame_mm, strong: true, ..text }
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

/// The same text, never broken between lines.
pub fn unbroken(says: &str) -> String {
    says.replace(' ', "\u{a0}")
}

/// Words broken into lines no wider than this.
pub fn wrapped(says: &str, height_mm: f64, widest_mm: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    // A hard space holds a number to its unit.
    for word in says.split([' ', '\t', '\n']).filter(|word| !word.is_empty()) {
        let joined = lines.last().map(|line| format!("{line} {word}"));
        match (joined, lines.last_mut()) {
            (Some(joined), Some(line)) if width_mm(&joined, height_mm) <= widest_mm => *line = joined,
            _ => lines.push(cut_to(word, height_mm, false, widest_mm)),
        }
    }
    lines
}

/// Words too long for a line are cut off.
pub fn cut_to(says: &str, height_mm: f64, strong: bool, widest_mm: f64) -> String {
    // A hair more, so that words measured once are not cut for what binary numbers lack.
    if width_in_mm(says, height_mm, strong) <= widest_mm + 1e-9 {
        return says.to_string();
    }
    let mut cut = String::new();
    for c in says.chars() {
        if width_in_mm(&format!("{cut}{c}…"), height_mm, strong) > widest_mm {
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
    fn widths_are_those_of_the_font() {
        // Advance widths of DejaVu Sans Condensed 2.37, of 2048 to the em: its hmtx table, read with a program of its own
        // from the fonts of a Linux system.
        let widths = [
            ('0', false, 1172.0),
            ('.', false, 585.0),
            ('±', false, 1544.0),
            ('A', false, 1260.0),
            ('m', false, 1795.0),
            ('i', false, 512.0),
            ('0', true, 1282.0),
            ('W', true, 2033.0),
            (':', true, 737.0),
        ];
        for (letter, strong, units) in widths {
            let width = width_in_mm(&letter.to_string(), 1.0, strong) / em_mm(1.0);
            assert!((width - units / 2048.0).abs() < 1e-9, "{letter}: {}", width * 2048.0);
        }
        assert!(is_measured("36.00 ±0.05 mm …", false) && !is_measured("名", false));
    }

    #[test]
    fn figures_are_tabular_in_both_weights() {
        for strong in [false, true] {
            let widths: Vec<f64> = ('0'..='9').map(|digit| width_in_mm(&digit.to_string(), 2.5, strong)).collect();
            assert!(widths.iter().all(|width| (width - widths[0]).abs() < 1e-12), "{widths:?}");
        }
    }

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
