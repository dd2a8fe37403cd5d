//! A table of a file with its key path, and a value in it.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

/// A table and where it stands.
#[derive(Clone)]
pub(crate) struct Table<'t> {
    /// Key path; empty for the file itself.
    pub path: String,
    /// Its header, or its braces.
    pub span: Range<usize>,
    /// What it holds.
    pub entries: &'t DeTable<'t>,
}

/// A value and where it stands.
#[derive(Clone)]
pub(crate) struct Item<'t> {
    /// Key path.
    pub path: String,
    /// Its bytes.
    pub span: Range<usize>,
    /// The value.
    pub value: &'t DeValue<'t>,
}

impl<'t> Table<'t> {
    /// The file itself.
    pub fn root(entries: &'t DeTable<'t>) -> Self {
        Table { path: String::new(), span: 0..0, entries }
    }

    /// The value of a key.
    pub fn get(&self, key: &str) -> Option<Item<'t>> {
        let value = self.entries.get(key)?;
        Some(Item { path: self.path_of(key), span: value.span(), value: value.get_ref() })
    }

    /// Whether the key is there.
    pub fn has(&self, key: &str) -> bool {
        self.entries.contains_key(key)
    }

    /// The key path of a key in this table.
    pub fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_string() } else { format!("{}.{key}", self.path) }
    }

    /// The table's name for a message: "`stock`", "the file".
    pub fn name(&self) -> String {
        if self.path.is_empty() { "the file".to_string() } else { format!("`{}`", self.path) }
    }
}

/// What a value is, in words.
pub(crate) fn what(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
