//! A dial reading taken apart, so that a column of them stands with its points under one another.

use serde_json::{Value, json};

/// The parts of a reading: what stands before its last number, that number's whole and broken part, its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Parts<'a> {
    before: &'a str,
    whole: &'a str,
    broken: &'a str,
    after: &'a str,
}

/// As the template sets it: `before` in pieces, digits apart from words.
pub(crate) fn value(dial: &str) -> Value {
    let parts = parts(dial);
    json!({
        "text": dial,
        "before": pieces(parts.before),
        "whole": parts.whole,
        "broken": parts.broken,
        "after": parts.after,
    })
}

/// Splits at the last number; without one, all of it stands before.
fn parts(dial: &str) -> Parts<'_> {
    let Some(last) = dial.rfind(|letter: char| letter.is_ascii_digit()) else {
        return Parts { before: dial, whole: "", broken: "", after: "" };
    };
    let end = last + 1;
    let of_number = |letter: char| letter.is_ascii_digit() || letter == '.';
    let start = end - dial[..end].chars().rev().take_while(|&letter| of_number(letter)).count();
    let number = &dial[start..end];
    let (whole, broken) = number.split_at(number.find('.').unwrap_or(number.len()));
    Parts { before: &dial[..start], whole, broken, after: &dial[end..] }
}

/// "2 turns + " as digits and words, in order.
fn pieces(text: &str) -> Vec<Value> {
    let mut pieces: Vec<(String, bool)> = Vec::new();
    for letter in text.chars() {
        let digit = letter.is_ascii_digit();
        match pieces.last_mut() {
            Some((piece, is)) if *is == digit => piece.push(letter),
            _ => pieces.push((letter.to_string(), digit)),
        }
    }
    pieces.into_iter().map(|(text, digits)| json!({ "text": text, "digits": digits })).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn split(dial: &str) -> [&str; 4] {
        let Parts { before, whole, broken, after } = parts(dial);
        [before, whole, broken, after]
    }

    #[test]
    fn a_reading_is_split_at_its_point() {
        assert_eq!(split("2 turns + 0.020 in"), ["2 turns + ", "0", ".020", " in"]);
        assert_eq!(split("0.071 in"), ["", "0", ".071", " in"]);
        assert_eq!(split("1 turn + 0.000 in"), ["1 turn + ", "0", ".000", " in"]);
        assert_eq!(split("not on this dial"), ["not on this dial", "", "", ""]);
        assert_eq!(split("über 12.5 µm"), ["über ", "12", ".5", " µm"]);
    }

    #[test]
    fn nothing_of_a_reading_is_lost() {
        for dial in ["2 turns + 0.020 in", "11 turns + 0.000 in", "", "zero", "3."] {
            assert_eq!(split(dial).concat(), dial);
            let before = pieces(split(dial)[0]);
            let again: String = before.iter().map(|piece| piece["text"].as_str().unwrap()).collect();
            assert_eq!(again, split(dial)[0]);
        }
    }
}
