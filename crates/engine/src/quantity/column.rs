//! Columns whose numbers stand with their points under one another.

/// Texts of one width: the last number of each has its point (or its end) in the same place.
pub fn aligned(texts: &[String]) -> Vec<String> {
    let left = texts.iter().map(|text| point(text)).max().unwrap_or(0);
    let right = texts.iter().map(|text| text.chars().count() - point(text)).max().unwrap_or(0);
    let pad = |text: &String| format!("{}{text}{}", " ".repeat(left - point(text)), spare(text, right));
    texts.iter().map(pad).collect()
}

fn spare(text: &str, right: usize) -> String {
    " ".repeat(right - (text.chars().count() - point(text)))
}

/// Characters before the point of the last number; without a point, before what follows its digits.
fn point(text: &str) -> usize {
    let letters: Vec<char> = text.chars().collect();
    let Some(last) = letters.iter().rposition(char::is_ascii_digit) else { return letters.len() };
    let part_of_number = |at: usize| letters[at].is_ascii_digit() || letters[at] == '.';
    let first = (0..=last).rev().take_while(|&at| part_of_number(at)).last().unwrap_or(last);
    (first..=last).find(|&at| letters[at] == '.').unwrap_or(last + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn column(texts: &[&str]) -> Vec<String> {
        aligned(&texts.iter().map(ToString::to_string).collect::<Vec<_>>())
    }

    #[test]
    fn points_stand_under_one_another() {
        assert_eq!(column(&["0.8", "12.25", "3"]), [" 0.8 ", "12.25", " 3   "]);
        assert_eq!(column(&["0 turns + 0.032 in", "11 turns + 0 in"]), [" 0 turns + 0.032 in", "11 turns + 0 in    "]);
    }

    #[test]
    fn texts_without_numbers_keep_their_width() {
        assert_eq!(column(&["zero", "0.5"]), ["zero  ", "   0.5"]);
        assert!(column(&[]).is_empty());
    }
}
