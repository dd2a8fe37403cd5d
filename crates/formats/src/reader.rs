//! Walks a file by hand and gathers everything that is wrong with it.
//!
//! A reading function gives `None` after it has noted a fault, so callers read on and the faults of a
//! file come all at once; only a file without faults becomes a job or a shop.

use std::ops::Range;

use engine::quantity::{self, Kind, Units};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::amount::too_much;
use crate::bounds::{self, Bounds};
use crate::table::{Item, Table, what};
use crate::{Fault, Places, word};

/// Most faults that are told; more help nobody.
const MOST_FAULTS: usize = 100;

/// Parses a text as TOML, or tells all that is wrong with its grammar.
pub(crate) fn document<'t>(text: &'t str, name: &str) -> Result<Spanned<DeTable<'t>>, Vec<Fault>> {
    if let Some((says, accepts)) = too_much(text) {
        return Err(vec![Fault { file: name.to_string(), span: None, says, accepts }]);
    }
    let (document, errors) = DeTable::parse_recoverable(text);
    if errors.is_empty() {
        return Ok(document);
    }
    let mut faults: Vec<Fault> = Vec::new();
    let mut last_line = 0;
    for error in errors.iter().take(MOST_FAULTS) {
        let span = error.span().map(|span| clip(span, text));
        let line = span.as_ref().map_or(0, |span| line(text, span.start));
        // What else is wrong with a line follows from the first.
        if line == 0 || line != last_line {
            let (says, accepts) =
                (grammar(error.message(), line), "lines such as `length = 44`, `[stock]`".to_string());
            faults.push(Fault { file: name.to_string(), span, says, accepts });
        }
        last_line = line;
    }
    Err(faults)
}

fn line(text: &str, byte: usize) -> usize {
    text.as_bytes()[..byte.min(text.len())].iter().filter(|&&byte| byte == b'\n').count() + 1
}

/// What the parser found, in words of people who write a file once a month.
fn grammar(message: &str, line: usize) -> String {
    const PLAIN: [(&str, &str); 15] = [
        ("unquoted keys cannot be empty", "a name is missing"),
        ("key with no value", "a name must be followed by `=` and a value"),
        ("string values must be quoted", "behind `=` stands a number, or words in quotes such as `\"brass\"`"),
        ("duplicate key", "this name stands here a second time"),
        ("invalid basic string", "the quote `\"` at the end is missing"),
        ("invalid literal string", "the quote `'` at the end is missing"),
        ("unclosed table", "the bracket `]` at the end is missing"),
        ("unclosed array table", "the brackets `]]` at the end are missing"),
        ("unclosed array", "the bracket `]` at the end of the list is missing"),
        ("unclosed inline table", "the brace `}` at the end is missing"),
        ("unexpected key or value", "something stands behind the value; a decimal has a point, not a comma"),
        ("unexpected leading zero", "a number begins with a zero too many"),
        ("invalid fraction", "a number ends in its point"),
        ("invalid unquoted key", "a sign stands here that no name has"),
        ("missing comma", "a comma is missing between two values"),
    ];
    let found = PLAIN.iter().find(|(begins, _)| message.starts_with(begins));
    let says = found.map_or("this line does not read", |(_, says)| *says);
    if line == 0 { format!("not TOML: {says}") } else { format!("not TOML, line {line}: {says}") }
}

/// A span that lies inside the text and on whole letters, whatever the parser said.
fn clip(span: Range<usize>, text: &str) -> Range<usize> {
    let start = text.floor_char_boundary(span.start);
    start..text.ceil_char_boundary(span.end.max(start))
}

/// One file while it is read.
pub(crate) struct Reader<'t> {
    name: &'t str,
    text: &'t str,
    /// How bare numbers are read.
    pub units: Units,
    /// Where the values stand.
    pub places: Places,
    faults: Vec<Fault>,
    untold: usize,
}

impl<'t> Reader<'t> {
    /// Begins a file.
    pub fn new(text: &'t str, name: &'t str) -> Self {
        Reader { name, text, units: Units::Mm, places: Places::new(name), faults: Vec::new(), untold: 0 }
    }

    /// Ends a file: its places, and its faults from top to bottom.
    pub fn close(mut self) -> (Places, Vec<Fault>) {
        self.faults.sort_by_key(|fault| fault.span.as_ref().map_or(0, |span| span.start));
        if self.untold > 0 {
            let says = format!("and {} more faults like these", self.untold);
            self.faults.push(Fault { file: self.name.to_string(), span: None, says, accepts: String::new() });
        }
        (self.places, self.faults)
    }

    /// Notes a fault; `None`, so that a reading function can end with it.
    pub fn fault<T>(&mut self, span: Range<usize>, says: impl Into<String>, accepts: impl Into<String>) -> Option<T> {
        if self.faults.len() < MOST_FAULTS {
            let (file, span) = (self.name.to_string(), Some(clip(span, self.text)));
            self.faults.push(Fault { file, span, says: says.into(), accepts: accepts.into() });
        } else {
            self.untold += 1;
        }
        None
    }

    /// Every key of a table must be one of these.
    pub fn keys(&mut self, table: &Table<'_>, known: &[&str]) {
        for key in table.entries.keys() {
            let name: &str = key.get_ref();
            if known.contains(&name) {
                continue;
            }
            // What was meant is worked out only where it is told.
            if self.faults.len() < MOST_FAULTS {
                let says =
                    format!("`{}` is not a key that {} has{}", brief(name), table.name(), word::hint(name, known));
                self.fault::<()>(key.span(), says, word::choice(known));
            } else {
                self.untold += 1;
            }
        }
    }

    /// A value that may be left out.
    pub fn optional<'a, T>(
        &mut self,
        table: &Table<'a>,
        key: &str,
        read: impl FnOnce(&mut Self, &Item<'a>) -> Option<T>,
    ) -> Option<T> {
        let item = table.get(key)?;
        self.places.note(&item.path, item.span.clone());
        read(self, &item)
    }

    /// A value that must be there.
    pub fn required<'a, T>(
        &mut self,
        table: &Table<'a>,
        key: &str,
        accepts: &str,
        read: impl FnOnce(&mut Self, &Item<'a>) -> Option<T>,
    ) -> Option<T> {
        if !table.has(key) {
            let says = format!("`{}` is missing", table.path_of(key));
            return self.fault(table.span.clone(), says, accepts);
        }
        self.optional(table, key, read)
    }

    /// A text that is not empty, in one line.
    pub fn text(&mut self, item: &Item<'_>) -> Option<String> {
        const LONGEST: usize = 200;
        let accepts = format!("a text in quotes, one line, 1 to {LONGEST} letters");
        let DeValue::String(text) = item.value else { return self.wrong_kind(item, &accepts) };
        let text = text.trim();
        if text.is_empty() || text.chars().count() > LONGEST || text.chars().any(steers) {
            return self.fault(item.span.clone(), format!("`{}` cannot be shown as it is", item.path), accepts);
        }
        Some(text.to_string())
    }

    /// One of the words that are known here.
    pub fn word<T: Copy>(&mut self, item: &Item<'_>, known: &[(&str, T)]) -> Option<T> {
        let names: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
        let DeValue::String(text) = item.value else { return self.wrong_kind(item, &word::choice(&names)) };
        if let Some((_, meaning)) = known.iter().find(|(name, _)| name == text) {
            return Some(*meaning);
        }
        let says = format!("`{}` does not know `{}`{}", item.path, brief(text), word::hint(text, &names));
        self.fault(item.span.clone(), says, word::choice(&names))
    }

    /// True or false.
    pub fn flag(&mut self, item: &Item<'_>) -> Option<bool> {
        match item.value {
            DeValue::Boolean(flag) => Some(*flag),
            _ => self.wrong_kind(item, "true or false"),
        }
    }

    /// A whole number from least to most.
    pub fn whole(&mut self, item: &Item<'_>, least: u32, most: u32) -> Option<u32> {
        let accepts = format!("a whole number from {least} to {most}");
        let DeValue::Integer(digits) = item.value else { return self.wrong_kind(item, &accepts) };
        match u32::from_str_radix(digits.as_str(), digits.radix()) {
            Ok(number) if (least..=most).contains(&number) => Some(number),
            _ => self.fault(item.span.clone(), format!("`{}` is {}", item.path, brief(digits.as_str())), accepts),
        }
    }

    /// A table.
    pub fn table<'a>(&mut self, item: &Item<'a>, accepts: &str) -> Option<Table<'a>> {
        match item.value {
            DeValue::Table(entries) => Some(Table { path: item.path.clone(), span: item.span.clone(), entries }),
            _ => self.wrong_kind(item, accepts),
        }
    }

    /// A list, its items counted from `first` in their key paths.
    pub fn list<'a>(&mut self, item: &Item<'a>, first: usize, accepts: &str) -> Option<Vec<Item<'a>>> {
        let DeValue::Array(values) = item.value else { return self.wrong_kind(item, accepts) };
        let items = values.iter().enumerate().map(|(index, value)| Item {
            path: format!("{}[{}]", item.path, first + index),
            span: value.span(),
            value: value.get_ref(),
        });
        Some(items.collect())
    }

    /// Texts, at least one, none twice.
    pub fn texts(&mut self, item: &Item<'_>, accepts: &str) -> Option<Vec<String>> {
        let items = self.list(item, 0, accepts)?;
        let texts: Vec<String> =
            items.iter().map(|item| self.text(item)).collect::<Vec<_>>().into_iter().collect::<Option<_>>()?;
        let mut seen = std::collections::BTreeSet::new();
        for (item, text) in items.iter().zip(&texts) {
            if !seen.insert(text) {
                self.fault::<()>(item.span.clone(), format!("`{}` says `{}` again", item.path, brief(text)), accepts);
            }
        }
        if texts.is_empty() {
            self.fault(item.span.clone(), format!("`{}` is empty", item.path), accepts)
        } else {
            Some(texts)
        }
    }

    /// A quantity within bounds, which are in the unit that the kind names.
    pub fn quantity(&mut self, item: &Item<'_>, kind: Kind, bounds: &Bounds) -> Option<quantity::Reading> {
        let Some(written) = written(item) else { return self.wrong_kind(item, &kind.accepts(self.units)) };
        match quantity::read(written, kind, self.units) {
            Ok(reading) if bounds::hold(bounds, reading.plain) => Some(reading),
            Ok(_) => {
                let (per_unit, unit) = fence_unit(kind, self.units);
                let fence = bounds::words(bounds, per_unit);
                let says = format!("`{}` is {}; it must be {fence} {unit}", item.path, brief(written));
                self.fault(item.span.clone(), says.trim_end(), kind.accepts(self.units))
            }
            Err(misread) => {
                let says = format!("`{}` says `{}`: {}", item.path, brief(written), misread.says);
                self.fault(self.place_in(item, written, misread.at), says, misread.accepts)
            }
        }
    }

    /// The plain number of a quantity.
    pub fn plain(&mut self, item: &Item<'_>, kind: Kind, bounds: &Bounds) -> Option<f64> {
        self.quantity(item, kind, bounds).map(|reading| reading.plain)
    }

    /// Quantities, each more than the one before.
    pub fn rising(&mut self, item: &Item<'_>, kind: Kind, bounds: &Bounds) -> Option<Vec<f64>> {
        let accepts = format!("a list, rising, of {}", kind.accepts(self.units));
        let items = self.list(item, 0, &accepts)?;
        let values = items.iter().map(|item| self.plain(item, kind, bounds)).collect::<Vec<_>>();
        let values = values.into_iter().collect::<Option<Vec<f64>>>()?;
        for (at, pair) in values.windows(2).enumerate() {
            if pair[1] <= pair[0] {
                let says = format!("`{}` is not more than the one before it", items[at + 1].path);
                return self.fault(items[at + 1].span.clone(), says, accepts);
            }
        }
        Some(values)
    }

    /// Like [`Reader::rising`], with one value at least.
    pub fn some_rising(&mut self, item: &Item<'_>, kind: Kind, bounds: &Bounds) -> Option<Vec<f64>> {
        let values = self.rising(item, kind, bounds)?;
        if values.is_empty() {
            let accepts = format!("a list, rising, of {}", kind.accepts(self.units));
            return self.fault(item.span.clone(), format!("`{}` is empty", item.path), accepts);
        }
        Some(values)
    }

    /// Two quantities, `[least, most]`.
    pub fn range(&mut self, item: &Item<'_>, kind: Kind, bounds: &Bounds) -> Option<(f64, f64)> {
        let accepts = format!("`[least, most]`, each {}", kind.accepts(self.units));
        let items = self.list(item, 0, &accepts)?;
        let [least, most] = items.as_slice() else {
            let says = format!("`{}` has {} values; two are due", item.path, items.len());
            return self.fault(item.span.clone(), says, accepts);
        };
        let (low, high) = (self.plain(least, kind, bounds), self.plain(most, kind, bounds));
        let (low, high) = (low?, high?);
        if high <= low {
            let says = format!("`{}` is empty: its most is not more than its least", item.path);
            return self.fault(item.span.clone(), says, accepts);
        }
        Some((low, high))
    }

    /// The value is not of the kind that is due.
    pub fn wrong_kind<T>(&mut self, item: &Item<'_>, accepts: &str) -> Option<T> {
        self.fault(item.span.clone(), format!("`{}` is {}", item.path, what(item.value)), accepts)
    }

    /// The bytes of a quantity from the one at which it stops making sense; the whole value where the
    /// file writes it with escapes, so that its bytes are not those of the text.
    pub fn place_in(&self, item: &Item<'_>, written: &str, at: usize) -> Range<usize> {
        let raw = self.text.get(item.span.clone()).unwrap_or("");
        match raw.find(written) {
            Some(quote) if raw.len() == written.len() + 2 * quote => {
                let start = item.span.start + quote + at;
                start..(item.span.end - quote).max(start)
            }
            _ => item.span.clone(),
        }
    }
}

/// The text of a quantity: what stands in the quotes, or the number's own digits.
fn written<'a>(item: &Item<'a>) -> Option<&'a str> {
    match item.value {
        DeValue::String(text) => Some(text),
        DeValue::Integer(digits) if digits.radix() == 10 => Some(digits.as_str()),
        DeValue::Float(digits) => Some(digits.as_str()),
        _ => None,
    }
}

/// The unit in which bounds are told, and how much of the kind's own unit it is.
fn fence_unit(kind: Kind, units: Units) -> (f64, &'static str) {
    match (kind, units) {
        (Kind::Length, Units::Inch) => (25.4, "in"),
        (Kind::Feed, Units::Inch) => (25.4, "in/rev"),
        _ => (1.0, unit_name(kind)),
    }
}

fn unit_name(kind: Kind) -> &'static str {
    match kind {
        Kind::Length | Kind::Roughness => "mm",
        Kind::Feed => "mm/rev",
        Kind::Angle => "deg",
        Kind::Speed => "rpm",
        Kind::Force => "N",
        Kind::Torque => "N m",
        Kind::Power => "W",
        Kind::Pressure => "MPa",
        Kind::Mass => "kg",
        Kind::Density => "kg/m3",
        Kind::Stiffness => "N/um",
        Kind::CuttingSpeed => "m/min",
        Kind::Time => "minutes",
        Kind::Unbalance => "g mm",
        Kind::Share => "",
    }
}

/// Whether a character steers what stands beside it instead of being read: control characters, and those that turn
/// the direction of what follows (embeddings, overrides and isolates of Unicode).
fn steers(letter: char) -> bool {
    let turns =
        matches!(letter, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    letter.is_control() || turns
}

/// The first of a text, for a message.
pub(crate) fn brief(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut short: String = text.chars().take(LONGEST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(LONGEST).is_some() {
        short.push_str("...");
    }
    short
}
