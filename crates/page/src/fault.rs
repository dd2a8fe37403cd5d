//! A fault of job or shop: at its field, on its line, in words.

use engine::problem::{Problem, Source};
use formats::{Fault, Places};

use crate::written::Keys;
use crate::{field, written};

/// Something to mend.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placed {
    /// Whether it lies in the job or in the shop.
    pub source: Source,
    /// Key path as far as it is known: `stock.diameter`; empty: the text as a whole.
    pub key: String,
    /// Line of the text, from 1.
    pub line: Option<usize>,
    /// What is wrong.
    pub says: String,
    /// What would be accepted; may be empty.
    pub accepts: String,
}

impl Placed {
    /// A fault that a format found.
    pub fn of_the_text(fault: &Fault, text: &str, keys: &Keys, source: Source) -> Self {
        Placed {
            source,
            key: key(fault, keys),
            line: fault.line(text).filter(|_| fault.span.as_ref().is_some_and(|span| span.end > 0)),
            says: fault.says.clone(),
            accepts: fault.accepts.clone(),
        }
    }

    /// A problem that the engine found.
    pub fn of_the_engine(problem: &Problem, places: &Places, text: &str) -> Self {
        let line = places.find(&problem.at).map(|span| line(text, span.start));
        Placed {
            source: problem.file,
            key: problem.at.clone(),
            line,
            says: problem.says.clone(),
            accepts: problem.accepts.clone(),
        }
    }

    /// The field at which it stands: its own, or the nearest above that the form has.
    pub fn field(&self) -> Option<&'static str> {
        if self.source == Source::Shop {
            return None;
        }
        field::nearest(&self.key)
    }
}

impl Placed {
    /// What is wrong as the page says it: fields by the names that they have there, a stop at the end.
    pub fn words(&self) -> String {
        let says = if self.source == Source::Job { in_words(&self.says) } else { self.says.clone() };
        ended(&says)
    }

    /// What would be accepted, a stop at the end; empty where there is nothing to say.
    pub fn reads(&self) -> String {
        if self.accepts.is_empty() { String::new() } else { format!("What is read: {}", ended(&self.accepts)) }
    }
}

/// Keys of fields in a sentence as the names of those fields.
fn in_words(says: &str) -> String {
    let named = |(at, word): (usize, &str)| match field::called(word).filter(|_| at % 2 == 1) {
        Some(name) => format!("\"{name}\""),
        None if at % 2 == 1 => format!("`{word}`"),
        None => word.to_string(),
    };
    if says.matches('`').count() % 2 == 1 {
        return says.to_string();
    }
    says.split('`').enumerate().map(named).collect()
}

/// With a stop, where no other sign ends it.
fn ended(says: &str) -> String {
    let says = says.trim_end();
    if says.ends_with(['.', '?', '!']) { says.to_string() } else { format!("{says}.") }
}

fn line(text: &str, byte: usize) -> usize {
    text.as_bytes()[..byte.min(text.len())].iter().filter(|&&byte| byte == b'\n').count() + 1
}

/// The key that the words name first, else the one on whose bytes the fault lies.
fn key(fault: &Fault, keys: &Keys) -> String {
    let named = fault.says.split('`').nth(1).filter(|word| written::is_path(word) && fault.says.starts_with('`'));
    match (named, &fault.span) {
        (Some(word), _) if field::nearest(word).is_some() => word.to_string(),
        (_, Some(span)) => keys.at(span.start).unwrap_or_default(),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_are_called_by_their_names_and_sentences_end() {
        let says = |text: &str| Placed {
            source: Source::Job,
            key: String::new(),
            line: None,
            says: text.into(),
            accepts: "a size".into(),
        };
        assert_eq!(says("`part.width` is missing").words(), "\"Width, C to E\" is missing.");
        assert_eq!(says("`stock.form` does not know `sqare`").words(), "\"Form of the bar\" does not know `sqare`.");
        assert_eq!(says("did you mean `brass`?").words(), "did you mean `brass`?");
        assert_eq!(says("an odd ` sign").words(), "an odd ` sign.");
        assert_eq!(says("x").reads(), "What is read: a size.");
    }
}
