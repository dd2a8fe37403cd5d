//! The bars that the shop lists, side by side.

use engine::plan::{StockChoice, StockRow};
use engine::quantity::Units;
use engine::quantity::column::aligned;

use super::page::Page;

/// Which is best and why; the table; those that will not do, each with its reason.
pub fn print(choice: &StockChoice, units: Units, page: &mut Page) {
    page.blank();
    page.rule('-');
    page.line(&format!("BARS that the shop lists, {}", choice.material));
    page.rule('-');
    page.line(&choice.sentence());
    let (open, refused) = choice.parted();
    if !open.is_empty() {
        page.blank();
        table(&open, units, page);
        page.blank();
        page.line(
            "Blank: minutes that a new blank costs. Good piece: minutes of plan and blank, scrapped pieces counted.",
        );
    }
    if !refused.is_empty() {
        page.blank();
        page.line("Will not do:");
        for row in &refused {
            page.item(" ", &format!("{}: {}", row.named(), row.why_not()));
        }
    }
    page.blank();
}

fn table(rows: &[&StockRow], units: Units, page: &mut Page) {
    let head = StockChoice::head(units);
    let cells: Vec<[String; 8]> = rows.iter().map(|row| row.cells(units)).collect();
    let columns: Vec<Vec<String>> = (0..head.len()).map(|at| column(&head[at], &cells, at)).collect();
    for line in 0..cells.len() + 2 {
        let line: Vec<&str> = columns.iter().map(|column| column[line].as_str()).collect();
        page.line(&line.join("  "));
    }
}

/// Name and unit, then what stands under them: the bars from the left, numbers with their points under one another.
fn column(head: &[&str; 2], cells: &[[String; 8]], at: usize) -> Vec<String> {
    let own: Vec<String> = cells.iter().map(|cells| cells[at].clone()).collect();
    let numbers = if [1, 2].contains(&at) { aligned(&own) } else { own };
    let all: Vec<String> = head.iter().map(ToString::to_string).chain(numbers).collect();
    let width = all.iter().map(|text| text.chars().count()).max().unwrap_or(0);
    all.iter().map(|text| if at == 0 { format!("{text:<width$}") } else { format!("{text:>width$}") }).collect()
}
