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
