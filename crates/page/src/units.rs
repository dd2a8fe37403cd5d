//! Bare lengths of a job, which take the units of their file, when those units change.

use toml_edit::{DocumentMut, Item, TableLike, Value};

use crate::written;

/// Keys whose bare numbers are lengths in the file's units.
const LENGTHS: [&str; 21] = [
    "diameter",
    "across",
    "width",
    "thickness",
    "length",
    "height",
    "size",
    "plus",
    "minus",
    "distance",
    "across_flats",
    "square",
    "parallel",
    "flat",
    "position",
    "centre_holes",
    "offset",
    "finishing_cut",
    "clean_up",
    "deepest_cut",
    "sides",
];

/// Before the units change: bare lengths get the old unit written behind them, so that no size becomes another.
pub fn keep_sizes(document: &mut DocumentMut, new: &str) {
    let old = document.get("units").and_then(Item::as_str).unwrap_or_default();
    let unit = match (old, new) {
        ("mm", "inch") => "mm",
        ("inch", "mm") => "in",
        _ => return,
    };
    for table in ["stock", "part", "cutting"] {
        if let Some(table) = document.get_mut(table).and_then(Item::as_table_like_mut) {
            name_unit_in(table, unit);
        }
    }
}

fn name_unit_in(table: &mut dyn TableLike, unit: &str) {
    for (key, item) in table.iter_mut() {
        if let Some(inner) = item.as_table_like_mut() {
            name_unit_in(inner, unit);
        } else if let Some(value) = item.as_value_mut().filter(|_| LENGTHS.contains(&key.get())) {
            name_unit(value, unit, key.get() == "sides");
        }
    }
}

/// `count`: a whole number is no length but a number of sides.
fn name_unit(value: &mut Value, unit: &str, count: bool) {
    match value {
        Value::Array(list) => list.iter_mut().for_each(|value| name_unit(value, unit, count)),
        Value::InlineTable(inner) => name_unit_in(inner, unit),
        _ if count => {}
        _ => {
            let Some(written) = written::plain(value) else { return };
            let (length, fit) = before_fit(written.trim());
            if is_bare(length) {
                let mut named = Value::from(format!("{length} {unit}{fit}"));
                *named.decor_mut() = value.decor().clone();
                *value = named;
            }
        }
    }
}

/// A size and the code of a fit behind it, with the space between: "36" and " h8".
fn before_fit(written: &str) -> (&str, &str) {
    let is_code = |word: &str| {
        let letters = word.trim_end_matches(|c: char| c.is_ascii_digit());
        letters.len() < word.len() && !letters.is_empty() && letters.chars().all(|c| c.is_ascii_alphabetic())
    };
    match written.rsplit_once(' ') {
        Some((length, word)) if is_code(word) => written.split_at(length.trim_end().len()),
        _ => (written, ""),
    }
}

/// Whether its meaning hangs on the file's units.
fn is_bare(written: &str) -> bool {
    use engine::quantity::{Units, read_length};
    let [mm, inch] = [Units::Mm, Units::Inch].map(|units| read_length(written, units));
    matches!((mm, inch), (Ok(mm), Ok(inch)) if mm != inch)
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = "title = \"Foot\"\nunits = \"mm\"\n\n[stock]\nform = \"round\"\ndiameter = 58 # as bought\n\
                       length = 50\nmaterial = \"brass-free-cutting\"\n\n[part]\nkind = \"block\"\nwidth = { size = 36, plus = 0.05, minus = 0.05 }\n\
                       height = \"30 h9\"\nlength = \"1 3/4 in\"\nposition = 0.1\nangles = 0.5\nroughness = \"Ra 3.2 um\"\n";

    fn in_inches(text: &str) -> String {
        let mut document: DocumentMut = text.parse().unwrap();
        keep_sizes(&mut document, "inch");
        document.to_string().replace("units = \"mm\"", "units = \"inch\"")
    }

    #[test]
    fn other_units_leave_every_size_what_it_was() {
        let inch = in_inches(JOB);
        for part in [
            "\"58 mm\" # as bought",
            "\"36 mm\", plus = \"0.05 mm\"",
            "\"30 mm h9\"",
            "\"1 3/4 in\"",
            "position = \"0.1 mm\"",
            "angles = 0.5\n",
        ] {
            assert!(inch.contains(part), "{part} in {inch}");
        }
        let [mm, inch] = [JOB, &inch].map(|text| formats::job::read(text, "").unwrap());
        assert_eq!(mm.job.part, inch.job.part);
    }

    #[test]
    fn a_fit_is_told_from_a_unit() {
        assert_eq!(before_fit("36 h8"), ("36", " h8"));
        assert_eq!(before_fit("1 1/2  js7"), ("1 1/2", "  js7"));
        assert_eq!(before_fit("1 3/4 in"), ("1 3/4 in", ""));
        assert_eq!(before_fit("36"), ("36", ""));
    }
}
