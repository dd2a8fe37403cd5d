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

/// The known word with the fewest letters changed, if no more than half of them is; words under four
/// letters are left alone, since `cm` is no slip of the pen for `mm`.
fn nearest<'k>(word: &str, known: &[&'k str]) -> Option<&'k str> {
    const SHORTEST: usize = 4;
    const LONGEST: usize = 40;
    let word: Vec<char> = word.to_lowercase().chars().collect();
    if !(SHORTEST..=LONGEST).contains(&word.len()) {
        return None;
    }
    known
        .iter()
        .map(|&near| (distance(&word, &near.to_lowercase().chars().collect::<Vec<_>>()), near))
        .filter(|&(changes, near)| changes * 2 <= near.chars().count())
        .min_by_key(|&(changes, _)| changes)
        .map(|(_, near)| near)
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
        assert_eq!(choice(&["a", "b", "c"]), "`a`, `b` or `c`");
    }
}
