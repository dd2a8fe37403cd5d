//! Texts that other people wrote, made fit for paper: letters that no font has, words without an end.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::press;

/// Stands where a letter cannot be printed.
const STAND_IN: char = '?';
/// Letters of a word after which a line may break.
const LONGEST_WORD: usize = 24;
/// Where a line may break without showing it.
const BREAK_HERE: char = '\u{200b}';

/// Letters that could not be printed.
pub(crate) type Lacking = BTreeSet<char>;

/// Every text in the data, keys left alone.
pub(crate) fn fit(value: Value, lacking: &mut Lacking) -> Value {
    match value {
        Value::String(text) => Value::String(fit_text(&text, lacking)),
        Value::Array(items) => items.into_iter().map(|item| fit(item, lacking)).collect(),
        Value::Object(fields) => fields.into_iter().map(|(key, item)| (key, fit(item, lacking))).collect(),
        other => other,
    }
}

/// A text that every font can print and every line can hold.
fn fit_text(text: &str, lacking: &mut Lacking) -> String {
    let mut fit = String::with_capacity(text.len());
    let mut run = 0;
    for letter in text.chars().filter_map(|letter| printable(letter, lacking)) {
        run = if letter.is_whitespace() { 0 } else { run + 1 };
        if run > LONGEST_WORD {
            fit.push(BREAK_HERE);
            run = 1;
        }
        fit.push(letter);
    }
    fit
}

/// A picture's text: letters replaced, nothing else touched.
pub(crate) fn fit_picture(svg: &str, lacking: &mut Lacking) -> String {
    svg.chars().filter_map(|letter| if letter == '\n' { Some(letter) } else { printable(letter, lacking) }).collect()
}

fn printable(letter: char, lacking: &mut Lacking) -> Option<char> {
    match letter {
        letter if letter.is_whitespace() => Some(' '),
        letter if letter.is_ascii_graphic() => Some(letter),
        letter if letter.is_control() || steers(letter) => None,
        letter if press::has_letter(letter) && !private(letter) => Some(letter),
        letter => {
            lacking.insert(letter);
            Some(STAND_IN)
        }
    }
}

/// Signs without a shape of their own: joiners, directions, variants; a text is readable without them.
fn steers(letter: char) -> bool {
    matches!(u32::from(letter),
        0x00ad | 0x034f | 0x061c | 0x180e | 0x200b..=0x200f | 0x202a..=0x202e | 0x2060..=0x206f | 0xfe00..=0xfe0f
        | 0xfeff | 0xfff0..=0xfffb | 0xe0000..=0xe0fff)
}

/// Letters that mean what somebody agreed on; a sheet cannot know what.
fn private(letter: char) -> bool {
    matches!(u32::from(letter), 0xe000..=0xf8ff | 0xf0000..=0x10ffff)
}

/// What to tell about letters that could not be printed; `None` where all could.
pub(crate) fn told(lacking: &Lacking) -> Option<String> {
    /// More need not be named to be found.
    const NAMED: usize = 8;
    if lacking.is_empty() {
        return None;
    }
    let named: Vec<String> = lacking.iter().take(NAMED).map(|&letter| named(letter)).collect();
    let more = if lacking.len() > NAMED { format!(" and {} more", lacking.len() - NAMED) } else { String::new() };
    Some(format!("The sheet's fonts lack {}{more}; a question mark stands in each place.", named.join(", ")))
}

fn named(letter: char) -> String {
    format!("{letter} (U+{:04X})", u32::from(letter))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fitted(text: &str) -> (String, usize) {
        let mut lacking = Lacking::new();
        let fit = fit_text(text, &mut lacking);
        (fit, lacking.len())
    }

    #[test]
    fn what_the_fonts_have_stays_and_what_they_lack_is_counted() {
        assert_eq!(fitted("Block 1 3/8 in, Ø 5 µm ±0.02"), ("Block 1 3/8 in, Ø 5 µm ±0.02".to_string(), 0));
        assert_eq!(fitted("導塊 A"), ("?? A".to_string(), 2));
        assert_eq!(fitted("a\u{202e}b\u{7}c\td\n"), ("abc d ".to_string(), 0));
    }

    #[test]
    fn an_endless_word_may_break() {
        let (fit, _) = fitted(&"x".repeat(300));
        assert!(fit.split(BREAK_HERE).all(|part| part.chars().count() <= LONGEST_WORD));
        assert_eq!(fit.replace(BREAK_HERE, "").len(), 300);
    }

    #[test]
    fn few_letters_are_named_and_many_counted() {
        assert_eq!(told(&Lacking::new()), None);
        let one = told(&Lacking::from(['導'])).unwrap();
        assert!(one.contains("導 (U+5C0E)") && !one.contains("more"));
        let many: Lacking = ('一'..'丠').collect();
        assert!(told(&many).unwrap().contains("and 24 more"));
    }
}
