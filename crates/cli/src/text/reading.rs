//! The reading table at a stop, and the answer to one reading.

use engine::plan::ReadingTable;
use engine::planning::Next;
use engine::quantity::Units;
use engine::quantity::column::aligned;

use super::page::Page;

/// How far the table stands in.
const INDENT: &str = "     ";

/// Head, rows, and what must be known beside them.
pub fn table(table: &ReadingTable, units: Units, page: &mut Page) {
    let lines = table.lines(units);
    let head = table.head(units);
    let columns: Vec<Vec<String>> = (0..head.len()).map(|at| column(&head[at], &lines, at)).collect();
    page.blank();
    for row in 0..lines.len() + 2 {
        let cells: Vec<&str> = columns.iter().map(|column| column[row].as_str()).collect();
        let (left, right) = if row < 2 { (" ", " ") } else { ("[", "]") };
        page.line(&format!("{INDENT}{}  {left} {} {right}  {}", cells[0], cells[1], cells[2..].join("  ")));
    }
    page.blank();
    for says in [table.between(), table.beside()].into_iter().chain(table.warnings(units)).chain([table.after()]) {
        page.item("    ", &says);
    }
    page.blank();
}

/// Name, unit, then the numbers with their points under one another, all of one width.
fn column(head: &[&str; 2], lines: &[[String; 6]], at: usize) -> Vec<String> {
    let numbers = aligned(&lines.iter().map(|line| line[at].clone()).collect::<Vec<_>>());
    let all: Vec<String> = head.iter().map(ToString::to_string).chain(numbers).collect();
    let width = all.iter().map(|text| text.chars().count()).max().unwrap_or(0);
    all.iter().map(|text| format!("{text:>width$}")).collect()
}

/// The answer to one reading.
pub fn next(answer: &Next, page: &mut Page) {
    for (label, says) in &answer.says {
        page.label(label, says);
    }
}
