//! The passes: the number on the dial stands out, the rest beside it.

use engine::plan::Pass;
use engine::quantity::Units;
use engine::quantity::bare::{bare, feed, rpm};

use super::page::{Page, WIDTH};
use engine::quantity::column::aligned;

/// Widest dial text that still leaves room for the rest of a row.
const WIDEST_DIAL: usize = 34;

/// What the numbers in the dial's column are.
const DIAL_UNDER: &str = "turns + ring";

/// One row a pass.
pub fn print(passes: &[Pass], units: Units, page: &mut Page) {
    if passes.is_empty() {
        return;
    }
    page.blank();
    let dial = aligned(&texts(passes, |pass| pass.dial.clone()));
    let wide = dial.first().map_or(0, |text| text.chars().count());
    let table =
        Some(table(passes, &dial, units)).filter(|table| wide <= WIDEST_DIAL && table.iter().all(|row| fits(row)));
    match table {
        Some(table) => table.iter().for_each(|row| page.line(row)),
        None => rows(passes, units, page),
    }
}

fn fits(row: &str) -> bool {
    row.trim_end().chars().count() <= WIDTH
}

/// Head, a row a pass, and what the sign for a feed by hand means.
fn table(passes: &[Pass], dial: &[String], units: Units) -> Vec<String> {
    let wide = dial.first().map_or(0, |text| text.chars().count()).max(DIAL_UNDER.len());
    let a_turn = match units {
        Units::Mm => "mm a turn",
        Units::Inch => "in a turn",
    };
    let columns = [
        ("cut", units.name(), texts(passes, |pass| bare(pass.depth_mm, units))),
        ("total", units.name(), texts(passes, |pass| bare(pass.total_mm, units))),
        ("feed", a_turn, texts(passes, |pass| feed(pass.feed_mm_per_rev, units))),
        ("rpm", "", texts(passes, |pass| rpm(pass.rpm))),
    ];
    let columns = columns.map(|(name, unit, texts)| Column::new(name, unit, &texts));
    let head = |pick: fn(&Column) -> &str| columns.iter().map(|column| column.cell(pick(column))).collect::<String>();
    let mut lines = vec![
        format!("  pass  [ {:^wide$} ]{}", "DIAL", head(|column| column.name)),
        format!("          {DIAL_UNDER:^wide$}  {}", head(|column| column.unit)),
    ];
    for (index, pass) in passes.iter().enumerate() {
        let cells: String = columns.iter().map(|column| column.cell(&column.texts[index])).collect();
        let sign = if pass.by_hand { BY_HAND } else { "" };
        lines.push(format!("  {:>4}  [ {:>wide$} ]{cells}  {}{sign}", index + 1, dial[index], pass.kind.name()));
    }
    if passes.iter().any(|pass| pass.by_hand) {
        lines.push(format!("        {} fed by hand", BY_HAND.trim_start()));
    }
    lines
}

/// Stands behind the kind of a pass that is fed by hand.
const BY_HAND: &str = " *";

/// A column of numbers aligned on their points.
struct Column {
    name: &'static str,
    unit: &'static str,
    texts: Vec<String>,
    width: usize,
}

impl Column {
    fn new(name: &'static str, unit: &'static str, texts: &[String]) -> Self {
        let texts = aligned(texts);
        let widths = texts.iter().map(String::as_str).chain([name, unit]).map(|text| text.chars().count());
        let width = widths.max().unwrap_or(0);
        Column { name, unit, texts, width }
    }

    fn cell(&self, text: &str) -> String {
        format!("  {text:>width$}", width = self.width)
    }
}

/// Where the dial's text is too long for a column: a line for it, a line for the rest.
fn rows(passes: &[Pass], units: Units, page: &mut Page) {
    for (index, pass) in passes.iter().enumerate() {
        page.item(&format!("  {:>4}", index + 1), &format!("[ {} ]", pass.dial));
        let [cut, total] = [pass.depth_mm, pass.total_mm].map(|value| bare(value, units));
        let (feed, rpm, unit) = (feed(pass.feed_mm_per_rev, units), rpm(pass.rpm), units.name());
        page.item(
            "      ",
            &format!("cut {cut}, total {total} {unit}; feed {feed} {unit} a turn, {rpm} rpm, {}", kind(pass)),
        );
    }
}

fn kind(pass: &Pass) -> String {
    if pass.by_hand { format!("{}, by hand", pass.kind.name()) } else { pass.kind.name().to_string() }
}

fn texts(passes: &[Pass], text: impl Fn(&Pass) -> String) -> Vec<String> {
    passes.iter().map(text).collect()
}
