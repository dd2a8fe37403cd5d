//! The bars that the shop lists, side by side.

use engine::plan::{StockChoice, StockRow, UNDER_THE_BARS};
use engine::quantity::Units;
use engine::quantity::column::aligned;

use super::page::{Page, WIDTH};

/// Between columns.
const BETWEEN: &str = "  ";
/// Marks the bar that the job gives.
const OWN: &str = "* ";

/// Which is best and why; the table; those that will not do, each with its reason.
pub fn print(choice: &StockChoice, units: Units, page: &mut Page) {
    page.blank();
    page.rule('-');
    page.line(&format!("BARS that the shop lists, {}", choice.material));
    page.rule('-');
    page.line(&choice.sentence());
    let (open, refused) = (choice.open(), choice.refused(units));
    if !open.is_empty() {
        page.blank();
        table(choice, &open, units, page);
        page.blank();
        if open.iter().any(|row| row.of_the_job) {
            page.item(OWN.trim_end(), "the job's own bar");
        }
        page.line(UNDER_THE_BARS);
    }
    if !refused.is_empty() {
        page.blank();
        page.line("Will not do:");
        for says in &refused {
            page.item(" -", says);
        }
    }
    page.blank();
}

fn table(choice: &StockChoice, rows: &[&StockRow], units: Units, page: &mut Page) {
    let head = StockChoice::head(units);
    let cells: Vec<[String; 8]> = rows.iter().map(|row| choice.cells(row, units)).collect();
    let own = rows.iter().any(|row| row.of_the_job);
    let columns = (0..head.len()).map(|at| (at, column(&head[at], &cells, at))).collect();
    let columns = fitting(columns, if own { WIDTH - OWN.len() } else { WIDTH });
    for line in 0..cells.len() + 2 {
        let is_own = line > 1 && rows[line - 2].of_the_job;
        let mark = if is_own {
            OWN
        } else if own {
            "  "
        } else {
            ""
        };
        let line: Vec<&str> = columns.iter().map(|column| column[line].as_str()).collect();
        page.line(&format!("{mark}{}", line.join(BETWEEN)));
    }
}

/// Columns that have room side by side: long names cost the share used, then the minutes of a blank.
fn fitting(mut columns: Vec<(usize, Vec<String>)>, room: usize) -> Vec<Vec<String>> {
    const MAY_GO: [usize; 2] = [3, 4];
    for goes in MAY_GO {
        let wide: usize = columns.iter().map(|(_, column)| column[0].chars().count() + BETWEEN.len()).sum();
        if wide > room + BETWEEN.len() {
            columns.retain(|(at, _)| *at != goes);
        }
    }
    columns.into_iter().map(|(_, column)| column).collect()
}

/// Name and unit, then what stands under them: the bars from the left, numbers with their points under one another.
fn column(head: &[&str; 2], cells: &[[String; 8]], at: usize) -> Vec<String> {
    let own: Vec<String> = cells.iter().map(|cells| cells[at].clone()).collect();
    let numbers = if [1, 2].contains(&at) { aligned(&own) } else { own };
    let all: Vec<String> = head.iter().map(ToString::to_string).chain(numbers).collect();
    let width = all.iter().map(|text| text.chars().count()).max().unwrap_or(0);
    all.iter().map(|text| if at == 0 { format!("{text:<width$}") } else { format!("{text:>width$}") }).collect()
}
