//! A dial reading taken apart, so that a column of them stands with its points under one another.

use engine::plan::Plan;
use serde_json::{Value, json};

/// The parts of a reading: what stands before its last number, that number's whole and broken part, its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Parts<'a> {
    before: &'a str,
    whole: &'a str,
    broken: &'a str,
    after: &'a str,
}

/// What the ring says at its mark 0, with the places and the unit of the plan's other readings: "0.000 in"; none where
/// no other reading shows them.
pub(crate) fn zero(plan: &Plan) -> Option<String> {
    let mut dials = plan.set_ups.iter().flat_map(|set_up| &set_up.passes).map(|pass| parts(&pass.dial));
    let like = dials.find(|parts| parts.broken.len() > 1)?;
    Some(format!("0.{}{}", "0".repeat(like.broken.len() - 1), like.after))
}

/// "5 turns + 0.000 in" for "5 turns, mark 0", so that it stands on the point with the rest.
pub(crate) fn on_the_point(dial: &str, zero: Option<&str>) -> String {
    match (dial.strip_suffix("mark 0"), zero) {
        (Some(turns), Some(zero)) => {
            turns.strip_suffix(", ").map_or(zero.to_string(), |turns| format!("{turns} + {zero}"))
        }
        _ => dial.to_string(),
    }
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
        assert_eq!(split("1 turn, mark 0"), ["1 turn, mark ", "0", "", ""]);
        assert_eq!(split("not on this dial"), ["not on this dial", "", "", ""]);
        assert_eq!(split("über 12.5 µm"), ["über ", "12", ".5", " µm"]);
    }

    #[test]
    fn the_mark_0_stands_on_the_point() {
        assert_eq!(on_the_point("5 turns, mark 0", Some("0.000 in")), "5 turns + 0.000 in");
        assert_eq!(on_the_point("mark 0", Some("0.00 mm")), "0.00 mm");
        assert_eq!(on_the_point("1 turn + 0.018 in", Some("0.000 in")), "1 turn + 0.018 in");
        assert_eq!(on_the_point("1 turn, mark 0", None), "1 turn, mark 0");
    }

    #[test]
    fn nothing_of_a_reading_is_lost() {
        for dial in ["2 turns + 0.020 in", "11 turns, mark 0", "", "zero", "3."] {
            assert_eq!(split(dial).concat(), dial);
            let before = pieces(split(dial)[0]);
            let again: String = before.iter().map(|piece| piece["text"].as_str().unwrap()).collect();
            assert_eq!(again, split(dial)[0]);
        }
    }
}
