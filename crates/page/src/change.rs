//! A change of fields, written into the job's text so that everything else in it stays as it is, comments too.

use formats::amount::too_much;
use toml_edit::{Array, DocumentMut, InlineTable, Item, Key, Table, TableLike, Value};

use crate::field::{self, Kind};
use crate::units::keep_sizes;
use crate::written::{Step, steps};

/// What a field now says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Its key path.
    pub key: String,
    /// What is typed in it; empty: the key goes.
    pub value: String,
}

/// Longest that a field may be: what no text of a job holds is not written into one.
const LONGEST: usize = 400;

/// What came of some changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// The text with those changes in it that could be written.
    pub text: String,
    /// Why others could not, one sentence each.
    pub refused: Vec<String>,
}

/// The text with the changes in it, in order; one that cannot be written hinders no other.
pub fn apply(text: &str, changes: &[Change]) -> Changed {
    let whole = |refused: Option<String>| Changed { text: text.to_string(), refused: refused.into_iter().collect() };
    if changes.is_empty() {
        return whole(None);
    }
    if let Some((says, accepts)) = too_much(text) {
        return whole(Some(format!("{says} ({accepts}).")));
    }
    let Ok(mut document) = text.parse::<DocumentMut>() else {
        return whole(Some("The text is not TOML as it stands; mend it there before the form can.".to_string()));
    };
    let before = units(&document);
    let refused: Vec<String> = changes.iter().filter_map(|change| one(&mut document, change).err()).collect();
    if refused.len() == changes.len() {
        return Changed { text: text.to_string(), refused };
    }
    let (after, text) = (units(&document), document.to_string());
    Changed { text: if before == after { text } else { with_comment(&text, &after) }, refused }
}

fn units(document: &DocumentMut) -> String {
    document.get("units").and_then(Item::as_str).unwrap_or_default().to_string()
}

/// The comment of our own jobs that says what bare numbers are follows the units; those of others are theirs.
fn with_comment(text: &str, units: &str) -> String {
    const BEGINS: &str = "Bare numbers are ";
    let (was, is) = match units {
        "inch" => ("millimetres", "inches"),
        "mm" => ("inches", "millimetres"),
        _ => return text.to_string(),
    };
    let follow = |line: &str| {
        let ours = line.trim_start().starts_with('#');
        if ours { line.replace(&format!("{BEGINS}{was}"), &format!("{BEGINS}{is}")) } else { line.to_string() }
    };
    text.split('\n').map(follow).collect::<Vec<_>>().join("\n")
}

fn one(document: &mut DocumentMut, change: &Change) -> Result<(), String> {
    let value = change.value.trim();
    let kind = field::kind(&change.key).ok_or_else(|| format!("The form has no field `{}`.", change.key))?;
    if value.chars().count() > LONGEST {
        return Err(format!("`{}` would be longer than {LONGEST} letters.", change.key));
    }
    match change.key.as_str() {
        "units" => keep_sizes(document, value),
        "stock.form" => swap_sizes(document, value),
        "part.kind" => swap_kind(document, value),
        _ => {}
    }
    set(document, &change.key, literal(value, kind))
}

/// How it is written; `None`: nothing was typed.
fn literal(value: &str, kind: Kind) -> Option<Value> {
    if value.is_empty() {
        return None;
    }
    let list = |names: &mut dyn Iterator<Item = &str>| Value::Array(names.collect::<Array>());
    Some(match kind {
        Kind::Text | Kind::Word => Value::from(value),
        Kind::Quantity | Kind::Count => number(value).unwrap_or_else(|| Value::from(value)),
        Kind::OneName => list(&mut std::iter::once(value)),
        Kind::Names => list(&mut value.split(',').map(str::trim).filter(|name| !name.is_empty())),
    })
}

/// The digits as they were typed, where TOML reads them as a number.
fn number(value: &str) -> Option<Value> {
    let plain = value.chars().all(|c| c.is_ascii_digit() || c == '.' || c == '-') && value.len() < 16;
    value.parse::<Value>().ok().filter(|read| plain && (read.is_integer() || read.is_float()))
}

fn set(document: &mut DocumentMut, path: &str, value: Option<Value>) -> Result<(), String> {
    let steps = steps(path).ok_or_else(|| format!("`{path}` is no key."))?;
    let steps: Vec<&Step<'_>> = steps.iter().collect();
    match steps.as_slice() {
        [above @ .., Step::Key(whole), Step::Key(leaf @ ("size" | "plus" | "minus"))] => {
            with_table(document, above, value.is_some(), |table| limit(table, whole, leaf, value))
        }
        [above @ .., Step::Key(list), Step::At(index)] => {
            with_table(document, above, value.is_some(), |table| entry(table, list, *index, value))
        }
        [above @ .., Step::Key(key)] => with_table(document, above, value.is_some(), |table| put(table, key, value)),
        _ => Err(format!("`{path}` is no key.")),
    }
}

/// Does something in the table at these steps; makes it where it is not there and something is to be put in.
fn with_table(
    document: &mut DocumentMut,
    above: &[&Step<'_>],
    make: bool,
    work: impl FnOnce(&mut dyn TableLike),
) -> Result<(), String> {
    let mut table: &mut dyn TableLike = document.as_table_mut();
    for (depth, step) in above.iter().enumerate() {
        let Step::Key(key) = step else { return Err("A list is no table.".to_string()) };
        if !table.contains_key(key) {
            if !make {
                return Ok(());
            }
            let new = if depth == 0 { Item::Table(Table::new()) } else { Value::from(InlineTable::new()).into() };
            table.insert(key, new);
        }
        let inner = table.get_mut(key).and_then(Item::as_table_like_mut);
        table = inner.ok_or_else(|| format!("`{key}` is no table in the text."))?;
    }
    work(table);
    Ok(())
}

/// Puts a value where it was, with the spaces and comments round the old one; or takes the key out.
fn put(table: &mut dyn TableLike, key: &str, value: Option<Value>) {
    match (table.get_mut(key), value) {
        (_, None) => {
            table.remove(key);
        }
        (Some(Item::Value(old)), Some(mut value)) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        (_, Some(value)) => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// A size or one of its limits: a size alone stands bare, limits make a table of it.
fn limit(table: &mut dyn TableLike, whole: &str, leaf: &str, value: Option<Value>) {
    match table.get_mut(whole) {
        Some(item) if item.is_table_like() => {
            if let Some(inner) = item.as_table_like_mut() {
                put(inner, leaf, value);
            }
            tidy(item);
        }
        Some(Item::Value(bare)) if leaf != "size" => {
            let Some(value) = value else { return };
            let mut inner = InlineTable::new();
            let mut size = bare.clone();
            size.decor_mut().clear();
            inner.insert("size", size);
            inner.insert(leaf, value);
            let mut inner = Value::from(inner);
            *inner.decor_mut() = bare.decor().clone();
            *bare = inner;
        }
        None if leaf != "size" => {
            let Some(value) = value else { return };
            let mut inner = InlineTable::new();
            inner.insert(leaf, value);
            table.insert(whole, Value::from(inner).into());
        }
        _ => put(table, whole, value),
    }
}

/// Spaces inside the braces as usual; `{ size = 36 }` becomes `36`.
fn tidy(item: &mut Item) {
    let Some(Value::InlineTable(inner)) = item.as_value_mut() else { return };
    inner.fmt();
    let Some(size) = inner.get("size").filter(|_| inner.len() == 1) else { return };
    let mut size = size.clone();
    *size.decor_mut() = inner.decor().clone();
    *item = Item::Value(size);
}

/// One of two entries of a list; the other is 0 where there was no list; two empty ones take it away.
fn entry(table: &mut dyn TableLike, list: &str, index: usize, value: Option<Value>) {
    let there = |at: usize| table.get(list).and_then(Item::as_array).and_then(|old| old.get(at)).cloned();
    let mut pair = [0, 1].map(|at| there(at).unwrap_or_else(|| Value::from(0)));
    let Some(slot) = pair.get_mut(index) else { return };
    *slot = value.unwrap_or_else(|| Value::from(0));
    let nothing = pair.iter().all(|value| value.as_integer() == Some(0));
    let pair: Array = pair.into_iter().map(Value::decorated_plain).collect();
    put(table, list, (!nothing).then_some(Value::Array(pair)));
}

/// Spaces of a list's entry are the list's business.
trait DecoratedPlain {
    fn decorated_plain(self) -> Self;
}

impl DecoratedPlain for Value {
    fn decorated_plain(mut self) -> Self {
        self.decor_mut().clear();
        self
    }
}

/// Another form of bar has other sizes: the first stays the first.
fn swap_sizes(document: &mut DocumentMut, new: &str) {
    let Some(stock) = document.get_mut("stock").and_then(Item::as_table_mut) else { return };
    let to: &[&str] = match new {
        "round" => &["diameter"],
        "square" | "hexagon" => &["across"],
        "flat" => &["width", "thickness"],
        "any" => &[],
        _ => return,
    };
    let from: Vec<&str> =
        ["diameter", "across", "width", "thickness"].into_iter().filter(|key| stock.contains_key(key)).collect();
    let Some(first) = from.first().filter(|_| from != to) else { return };
    if let Some(key) = to.first() {
        rename(stock, first, key);
    } else {
        stock.remove(first);
    }
    from.iter().skip(1).filter(|key| !to.contains(key)).for_each(|key| {
        stock.remove(key);
    });
    let size = to.first().and_then(|key| stock.get(key)).cloned();
    if let (Some(second), Some(size)) = (to.get(1).filter(|key| !stock.contains_key(key)), size) {
        stock.insert(second, plain_item(size));
    }
}

/// Sides of a prism to begin with: six have no two pairs square to each other, which four jaws would need.
const HELD_SIDES: i64 = 8;

/// A block of these sizes as a prism, or a prism as a block.
fn swap_kind(document: &mut DocumentMut, new: &str) {
    let Some(part) = document.get_mut("part").and_then(Item::as_table_mut) else { return };
    match new {
        "prism" if !part.contains_key("regular") && !part.contains_key("sides") => {
            let across = part.remove("width").map(plain_item);
            part.remove("height");
            let mut regular = InlineTable::new();
            regular.insert("sides", Value::from(HELD_SIDES));
            if let Some(across) = across.and_then(|item| item.into_value().ok()) {
                regular.insert("across_flats", across);
            }
            part.insert("regular", Value::from(regular).into());
        }
        "block" if part.contains_key("regular") || part.contains_key("sides") => {
            let regular = part.remove("regular");
            part.remove("sides");
            let across = regular.as_ref().and_then(Item::as_table_like).and_then(|table| table.get("across_flats"));
            if let Some(across) = across.cloned().map(plain_item) {
                part.insert("width", across.clone());
                part.insert("height", across);
            }
        }
        _ => {}
    }
}

/// Another name for a key, in its place, with its comment.
fn rename(table: &mut Table, from: &str, to: &str) {
    let keys: Vec<String> = table.iter().map(|(key, _)| key.to_string()).collect();
    for name in keys {
        let Some((key, item)) = table.remove_entry(&name) else { continue };
        if name == to {
            continue;
        }
        let key = if name == from { Key::new(to).with_leaf_decor(key.leaf_decor().clone()) } else { key };
        table.insert_formatted(&key, item);
    }
}

/// Without the spaces and the comment of its old place.
fn plain_item(mut item: Item) -> Item {
    if let Some(value) = item.as_value_mut() {
        value.decor_mut().clear();
    }
    item
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = "# head\ntitle = \"Foot\"\nunits = \"mm\"\n\n[stock] # bar\nform = \"round\"\ndiameter = 58 # as bought\n\
                       length = 50\n\n[part]\nkind = \"block\"\nwidth = { size = 36, plus = 0.05, minus = 0.05 } # C to E\n\
                       height = 30\nlength = \"1 3/4 in\"\n";

    fn changed(text: &str, key: &str, value: &str) -> String {
        let changed = apply(text, &[Change { key: key.to_string(), value: value.to_string() }]);
        assert_eq!(changed.refused, Vec::<String>::new());
        changed.text
    }

    #[test]
    fn only_what_changes_changes() {
        assert_eq!(changed(JOB, "stock.diameter", "60"), JOB.replace("58 #", "60 #"));
        assert_eq!(changed(JOB, "stock.diameter", "2 1/4 in"), JOB.replace("58 #", "\"2 1/4 in\" #"));
        assert_eq!(changed(JOB, "part.width.plus", "0.10"), JOB.replace("plus = 0.05", "plus = 0.10"));
        assert_eq!(changed(JOB, "title", "a \"b\" \\ <i>"), JOB.replace("\"Foot\"", "'a \"b\" \\ <i>'"));
        assert_eq!(apply(JOB, &[]).text, JOB);
    }

    #[test]
    fn limits_come_and_go() {
        let with = changed(JOB, "part.height.plus", "0.1");
        assert!(with.contains("height = { size = 30, plus = 0.1 }\n"), "{with}");
        let both = changed(&with, "part.height.minus", "0");
        assert!(both.contains("height = { size = 30, plus = 0.1, minus = 0 }\n"), "{both}");
        let back = changed(&changed(&both, "part.height.minus", ""), "part.height.plus", "");
        assert_eq!(back, JOB);
        assert!(!changed(JOB, "part.height.size", "").contains("height"));
        assert_eq!(changed(JOB, "part.height.plus", ""), JOB);
    }

    #[test]
    fn tables_that_are_not_there_are_made_and_nothing_is_made_for_nothing() {
        assert!(changed(JOB, "use.lathe", "a").ends_with("\n[use]\nlathe = \"a\"\n"));
        assert!(changed(JOB, "use.tools", "tool, HSS").ends_with("\n[use]\ntools = [\"tool, HSS\"]\n"));
        assert!(changed(JOB, "part.leave", "D, F").ends_with("leave = [\"D\", \"F\"]\n"));
        assert_eq!(changed(JOB, "cutting.clean_up", ""), JOB);
        assert!(changed(JOB, "part.offset[1]", "2").ends_with("offset = [0, 2]\n"));
        assert_eq!(changed(&changed(JOB, "part.offset[1]", "2"), "part.offset[1]", ""), JOB);
        let empty = changed("", "stock.length", "5");
        assert_eq!(empty, "[stock]\nlength = 5\n");
    }

    #[test]
    fn another_bar_takes_over_the_size() {
        let square = changed(JOB, "stock.form", "square");
        assert_eq!(square, JOB.replace("\"round\"", "\"square\"").replace("diameter = 58", "across = 58"));
        let flat = changed(&square, "stock.form", "flat");
        assert!(flat.contains("width = 58 # as bought") && flat.contains("thickness = 58\n"), "{flat}");
        assert_eq!(changed(&flat, "stock.form", "round"), JOB);
        let any = changed(&flat, "stock.form", "any");
        assert!(any.contains("form = \"any\"\nlength = 50"), "{any}");
        let round = changed(&changed(&any, "stock.form", "round"), "stock.diameter", "60");
        assert!(round.contains("form = \"round\"") && round.contains("diameter = 60"), "{round}");
    }

    #[test]
    fn a_block_becomes_a_prism_and_back() {
        let prism = changed(JOB, "part.kind", "prism");
        assert!(prism.contains("regular = { sides = 8, across_flats = { size = 36, plus = 0.05, minus = 0.05 } }"));
        let block = changed(&prism, "part.kind", "block");
        assert!(block.contains("width = { size = 36") && block.contains("height = { size = 36"), "{block}");
    }

    #[test]
    fn what_cannot_be_changed_says_so() {
        let change = |key: &str, value: &str| [Change { key: key.to_string(), value: value.to_string() }];
        let refused = |text: &str, key: &str, value: &str| {
            let changed = apply(text, &change(key, value));
            assert_eq!(changed.text, text);
            changed.refused.join(" ")
        };
        assert!(refused("a = ", "title", "x").contains("not TOML"));
        assert!(refused("stock = 3", "stock.length", "4").contains("no table"));
        assert!(refused(JOB, "lathe", "4").contains("no field"));
        assert!(refused(JOB, "title", &"x".repeat(500)).contains("longer"));
    }

    #[test]
    fn a_change_that_cannot_be_written_hinders_no_other() {
        let of = |key: &str, value: &str| Change { key: key.to_string(), value: value.to_string() };
        let changed = apply(JOB, &[of("title", "Gate"), of("lathe", "4"), of("stock.length", "52")]);
        assert!(changed.text.contains("\"Gate\"") && changed.text.contains("length = 52"), "{}", changed.text);
        assert_eq!(changed.refused.len(), 1);
    }
}
