//! The reading table at a stop: if it measures this, set that.

use engine::plan::ReadingTable;
use engine::quantity::Units;
use maud::{Markup, html};

use super::passes::reading;

/// Rows, and what must be known beside them.
pub fn reading_table(table: &ReadingTable, units: Units) -> Markup {
    let head = table.head(units);
    html! {
        div.scroll {
            table.reads.stacked {
                caption { "If it measures this, set that" }
                thead { tr { @for [name, unit] in head { th scope="col" { (name) span.under { (unit) } } } } }
                tbody {
                    @for line in table.lines(units) {
                        tr {
                            th scope="row" data-label=(format!("{}, {}", head[0][0], head[0][1])) { (line[0]) }
                            td.dial data-label=(head[1][0]) { (reading(&format!("{} {}", line[1], head[1][1]))) }
                            @for (cell, [name, unit]) in line[2..].iter().zip(&head[2..]) {
                                td.value data-label=(format!("{name} {unit}")) { (cell) }
                            }
                        }
                    }
                }
            }
        }
        p { (table.between()) }
        p { (table.beside()) }
        @for warning in table.warnings(units) { p { (warning) } }
        p { (table.after()) }
    }
}

/// The same at the machine: a reading and its setting, line under line.
pub fn reading_list(table: &ReadingTable, units: Units) -> Markup {
    let [[measures, gauge_unit], [set, dial_unit], ..] = table.head(units);
    html! {
        dl.if-then {
            @for line in table.lines(units) {
                div { dt { (measures) " " (line[0]) " " (gauge_unit) } dd { (set) " " strong { (line[1]) " " (dial_unit) } } }
            }
        }
        p { (table.between()) }
    }
}
