//! Words that are not known, and the known one that may have been meant.

/// "`a`, `b` or `c`".
pub(crate) fn choice(known: &[&str]) -> String {
    match known {
        [] => String::new(),
        [only] => format!("`{only}`"),
        [first @ .., last] => {
            let first: Vec<String> = first.iter().map(|word| format!("`{word}`")).collect();
            format!("{} or `{last}`", first.join(", "))
        }
    }
}

/// "; did you mean `diameter`?", where one is near enough.
pub(crate) fn hint(word: &str, known: &[&str]) -> String {
    nearest(word, known).map_or(String::new(), |near| format!("; did you mean `{near}`?"))
}

/// The known words, those most like this one first; among equals their order stays.
pub(crate) fn nearest_first<'k>(word: &str, known: &[&'k str]) -> Vec<&'k str> {
    let mut rows: Vec<(f64, &str)> =
        known.iter().map(|near| (letters_alike(word, near).max(parts_alike(word, near)), *near)).collect();
    rows.sort_by(|(a, _), (b, _)| b.total_cmp(a));
    rows.into_iter().map(|(_, near)| near).collect()
}

/// The known word most like this one, if it is half like it at least; words under four letters are left
/// alone, since `cm` is no slip of the pen for `mm`.
fn nearest<'k>(word: &str, known: &[&'k str]) -> Option<&'k str> {
    const SHORTEST: usize = 4;
    const LONGEST: usize = 40;
    const LEAST: f64 = 0.5;
    if !(SHORTEST..=LONGEST).contains(&word.chars().count()) {
        return None;
    }
    let mut best = None;
    for &near in known {
        let like = letters_alike(word, near).max(parts_alike(word, near));
        if like >= LEAST && best.is_none_or(|(most, _)| like > most) {
            best = Some((like, near));
        }
    }
    best.map(|(_, near)| near)
}

/// Share of the known word's letters that stay, 1: all of them.
fn letters_alike(word: &str, near: &str) -> f64 {
    let (word, near) = (lower(word), lower(near));
    1.0 - distance(&word, &near) as f64 / near.len().max(1) as f64
}

/// Share of the parts of both that they have in common, in whatever order: `across_flats` and `across`
/// have one of two. A slip in every fourth letter of a part is forgiven.
fn parts_alike(word: &str, near: &str) -> f64 {
    let (ours, theirs) = (parts(word), parts(near));
    let same = |a: &[char], b: &[char]| distance(a, b) * 4 <= b.len();
    let shared = ours.iter().filter(|part| theirs.iter().any(|other| same(part, other))).count();
    let all = ours.len() + theirs.len().saturating_sub(shared);
    shared as f64 / all.max(1) as f64
}

fn parts(word: &str) -> Vec<Vec<char>> {
    let parts = word.split(|letter: char| !letter.is_alphanumeric()).filter(|part| !part.is_empty());
    parts.map(lower).collect()
}

fn lower(word: &str) -> Vec<char> {
    word.to_lowercase().chars().collect()
}

/// Letters to change, add or drop (Levenshtein 1965, by rows).
fn distance(a: &[char], b: &[char]) -> usize {
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, letter) in a.iter().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, other) in b.iter().enumerate() {
            let change = diagonal + usize::from(letter != other);
            diagonal = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_are_those_of_the_textbook() {
        // kitten -> sitting takes 3 changes, flaw -> lawn 2: the usual worked examples.
        let letters = |word: &str| word.chars().collect::<Vec<_>>();
        assert_eq!(distance(&letters("kitten"), &letters("sitting")), 3);
        assert_eq!(distance(&letters("flaw"), &letters("lawn")), 2);
        assert_eq!(distance(&letters(""), &letters("abc")), 3);
    }

    #[test]
    fn only_near_words_are_offered() {
        let known = ["diameter", "length", "form"];
        assert_eq!(nearest("diametre", &known), Some("diameter"));
        assert_eq!(nearest("Lenght", &known), Some("length"));
        assert_eq!(nearest("colour", &known), None);
        assert_eq!(nearest("cm", &["mm", "inch"]), None);
        assert_eq!(nearest("across_flats", &["form", "length", "across"]), Some("across"));
        let materials = ["aluminium-wrought", "stainless-austenitic", "stainless-martensitic", "tool-steel"];
        assert_eq!(nearest("austenitic-stainless", &materials), Some("stainless-austenitic"));
        assert_eq!(nearest("aluminum", &materials), Some("aluminium-wrought"));
        assert_eq!(nearest("granite", &materials), None);
        assert_eq!(choice(&["a", "b", "c"]), "`a`, `b` or `c`");
    }
}
