//! What stands in a TOML text under a key path, as it is written there.

use std::ops::Range;

use formats::amount::too_much;
use toml_edit::{Document, DocumentMut, Item, Value};

/// A text that reads as TOML, to be asked for its values.
pub struct Written {
    document: DocumentMut,
}

impl Written {
    /// `None`: the text is not TOML, or more than is read.
    pub fn read(text: &str) -> Option<Self> {
        if too_much(text).is_some() {
            return None;
        }
        text.parse().ok().map(|document| Written { document })
    }

    /// The value of a key as it is written, quotes taken off; a list with commas between. A size without limits
    /// stands under its own key and under `.size`.
    pub fn value(&self, path: &str) -> Option<String> {
        match (self.item(path), path.strip_suffix(".size")) {
            (Some(item), _) => shown(item),
            (None, Some(whole)) => self.item(whole).filter(|item| !item.is_table_like()).and_then(shown),
            (None, None) => None,
        }
    }

    /// Whether the key is there at all.
    pub fn has(&self, path: &str) -> bool {
        self.item(path).is_some()
    }

    fn item(&self, path: &str) -> Option<&Item> {
        // An entry of a list is no item: see `entry`.
        steps(path)?.into_iter().try_fold(self.document.as_item(), |item, step| match step {
            Step::Key(key) => item.as_table_like()?.get(key),
            Step::At(_) => None,
        })
    }

    /// How many entries a list has; 0: there is no list.
    pub fn entries(&self, path: &str) -> usize {
        self.item(path).and_then(Item::as_array).map_or(0, toml_edit::Array::len)
    }

    /// One entry of a list.
    pub fn entry(&self, path: &str, index: usize) -> Option<String> {
        self.item(path)?.as_array()?.get(index).and_then(plain)
    }
}

/// A step of a key path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step<'p> {
    /// Into a table.
    Key(&'p str),
    /// Into a list.
    At(usize),
}

/// `part.offset[1]` as steps; `None`: no key path.
pub fn steps(path: &str) -> Option<Vec<Step<'_>>> {
    let mut steps = Vec::new();
    for part in path.split('.') {
        let (key, mut rest) = part.split_at(part.find('[').unwrap_or(part.len()));
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
        if key.is_empty() || !key.chars().all(plain) {
            return None;
        }
        steps.push(Step::Key(key));
        while let Some(inner) = rest.strip_prefix('[') {
            let (index, after) = inner.split_once(']')?;
            steps.push(Step::At(index.parse().ok()?));
            rest = after;
        }
        if !rest.is_empty() {
            return None;
        }
    }
    Some(steps)
}

/// Whether a word looks like a key path.
pub fn is_path(word: &str) -> bool {
    steps(word).is_some()
}

/// Where the keys of a text stand, read once for all its faults.
pub struct Keys {
    /// Bytes of a key or of its value, and its path; inner ones after outer ones.
    spans: Vec<(Range<usize>, String)>,
}

impl Keys {
    /// None where the text is not TOML, or more than is read.
    pub fn of(text: &str) -> Self {
        let mut spans = Vec::new();
        if let Some(document) =
            Some(text).filter(|text| too_much(text).is_none()).and_then(|text| Document::parse(text).ok())
        {
            gather(document.as_item(), "", &mut spans);
        }
        Keys { spans }
    }

    /// The innermost key path on whose bytes a place lies.
    pub fn at(&self, byte: usize) -> Option<String> {
        self.spans.iter().rev().find(|(span, _)| span.contains(&byte)).map(|(_, path)| path.clone())
    }
}

fn gather(item: &Item, path: &str, spans: &mut Vec<(Range<usize>, String)>) {
    let Some(table) = item.as_table_like() else { return };
    for (key, inner) in table.iter() {
        let path = if path.is_empty() { key.to_string() } else { format!("{path}.{key}") };
        let on_key = table.key(key).and_then(|key| key.span());
        spans.extend([on_key, inner.span()].into_iter().flatten().map(|span| (span, path.clone())));
        gather(inner, &path, spans);
    }
}

fn shown(item: &Item) -> Option<String> {
    item.as_value().and_then(plain)
}

/// A value as it is written, without quotes and without the spaces and comments round it.
pub fn plain(value: &Value) -> Option<String> {
    Some(match value {
        Value::String(text) => text.value().clone(),
        Value::Integer(number) => number.display_repr().into_owned(),
        Value::Float(number) => number.display_repr().into_owned(),
        Value::Boolean(flag) => flag.display_repr().into_owned(),
        Value::Datetime(date) => date.display_repr().into_owned(),
        Value::Array(list) => list.iter().filter_map(plain).collect::<Vec<_>>().join(", "),
        Value::InlineTable(_) => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = "title = \"Foot\" # own\n[stock]\ndiameter = 58.50 # bar\nwidth = \"1 3/8 in\"\n[part]\n\
                       width = { size = 36, plus = 0.05, minus = 0.05 }\nheight = 12\noffset = [1, \"2 mm\"]\n";

    #[test]
    fn values_come_as_they_are_written() {
        let job = Written::read(JOB).unwrap();
        let value = |path| job.value(path).unwrap();
        assert_eq!(value("title"), "Foot");
        assert_eq!(value("stock.diameter"), "58.50");
        assert_eq!(value("stock.width"), "1 3/8 in");
        assert_eq!(value("part.width.size"), "36");
        assert_eq!(value("part.height.size"), "12");
        assert_eq!(job.entry("part.offset", 1).as_deref(), Some("2 mm"));
        assert_eq!((job.value("part.width"), job.value("part.none"), job.value("part..x")), (None, None, None));
    }

    #[test]
    fn a_place_leads_to_the_innermost_key() {
        let keys = Keys::of(JOB);
        let at = |word: &str| keys.at(JOB.find(word).unwrap()).unwrap_or_default();
        assert_eq!(at("58.50"), "stock.diameter");
        assert_eq!(at("minus"), "part.width.minus");
        assert_eq!(at("title"), "title");
        assert_eq!(Keys::of("= broken").at(1), None);
    }
}
