//! The bars that the shop lists, side by side: beside the fields of the bar, and in a plan whose bar was chosen.

use engine::plan::{StockChoice, StockRow, UNDER_THE_BARS};
use engine::quantity::{Plain, Units, read_length, show};
use maud::{Markup, html};
use serde_json::json;

use crate::fault::Placed;

/// What was found, narrow: a bar after the other, each with what it takes to make it the job's.
pub fn beside(compared: &Result<(StockChoice, Units), Vec<Placed>>) -> Markup {
    match compared {
        Err(faults) => html! {
            div.old-bars {
                @for fault in faults { p.fault { (fault.words()) " " span.accepts { (fault.reads()) } } }
            }
        },
        Ok((choice, units)) => {
            html! {
                p.old-only { "These were worked out for the job as it was before." }
                p { strong { (choice.sentence()) } }
                ul.bars { @for row in choice.open() { li { (one(choice, row, *units)) } } }
                (refusals(choice, *units))
            }
        }
    }
}

fn one(choice: &StockChoice, row: &StockRow, units: Units) -> Markup {
    let [name, length, metal, used, blank, plan, good, per_good] = choice.cells(row, units);
    let [_, [_, long], [_, mass], ..] = StockChoice::head(units);
    let costs = match row.per_good().strip_suffix('+') {
        Some(least) => format!("{least} min or more"),
        None if per_good == "none" => "no piece is good".to_string(),
        None if per_good.is_empty() => row.why_not().to_string(),
        None => format!("{per_good} min"),
    };
    html! {
        div.bar {
            p.bar-of { strong { (name) } @if row.of_the_job { ", the job's own" } }
            p { strong { (costs) } @if !per_good.is_empty() && per_good != "none" { " for a good piece" } }
            p.soft {
                (length) " " (long) " long, " (metal) " " (mass) ", " (used) " % used; new blank " (blank) " min"
                @if !plan.is_empty() { "; plan " (plan) " min, " (good) " of 100 good" }
            }
        }
        @if !row.of_the_job {
            button.script-only type="button" data-take=(take(row, units)) aria-label=(format!("Take it: {name}")) { "Take it" }
        }
    }
}

fn refusals(choice: &StockChoice, units: Units) -> Markup {
    let refused = choice.refused(units);
    html! {
        @if !refused.is_empty() {
            details.refused-bars {
                summary { "Bars that will not do" }
                ul { @for says in &refused { li { (says) } } }
            }
        }
    }
}

/// The fields that make a bar the job's, with what is written in each, as the script sends them.
fn take(row: &StockRow, units: Units) -> String {
    let sizes: &[&str] = match row.form {
        "round" => &["diameter"],
        "flat" => &["width", "thickness"],
        _ => &["across"],
    };
    let (one, other) = row.sizes_mm;
    let values = [Some(one), other].into_iter().flatten();
    let sizes = sizes.iter().zip(values).map(|(key, mm)| (format!("stock.{key}"), written(mm, units)));
    let form = std::iter::once(("stock.form".to_string(), row.form.to_string()));
    let rest = [
        ("stock.length".to_string(), written(row.length_mm, units)),
        ("stock.surface".to_string(), row.surface.to_string()),
    ];
    json!(form.chain(sizes).chain(rest).collect::<Vec<_>>()).to_string()
}

/// A size as a job of these units has it, to the last bit: where its usual form does not say it exactly, in mm.
fn written(mm: f64, units: Units) -> String {
    /// Rounding.
    const SAME_MM: f64 = 1e-9;
    let usual = show::stock_size(mm, units);
    let reads = read_length(&usual, units).is_ok_and(|length| (length.plain() - mm).abs() < SAME_MM);
    match (reads, units) {
        (true, Units::Mm) => usual.trim_end_matches(" mm").to_string(),
        (true, Units::Inch) => usual,
        (false, _) => format!("{mm} mm"),
    }
}

/// The table of a plan whose bar was chosen.
pub fn chosen(choice: &StockChoice, units: Units) -> Markup {
    let (open, head) = (choice.open(), StockChoice::head(units));
    html! {
        section.why-bar aria-labelledby="why-bar" {
            h3 #why-bar { @if choice.best.is_some() { "Why this bar" } @else { "The bars that the shop lists" } }
            p { (choice.sentence()) }
            @if !open.is_empty() {
                div.scroll tabindex="0" role="region" aria-label="Bars that the shop lists" {
                    table.stacked {
                        thead { tr { @for [name, unit] in head { th scope="col" { (name) span.under { (unit) } } } } }
                        tbody {
                            @for row in open {
                                @let cells = choice.cells(row, units);
                                tr {
                                    th scope="row" { (cells[0]) }
                                    @for (cell, [name, unit]) in cells[1..].iter().zip(&head[1..]) {
                                        td.value data-label=(format!("{name}, {unit}")) { (cell) }
                                    }
                                }
                            }
                        }
                    }
                }
                p.soft { (UNDER_THE_BARS) }
            }
            (refusals(choice, units))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_is_written_as_it_is_to_the_last_bit() {
        for (mm, units, text) in [
            (60.0, Units::Mm, "60"),
            (22.5, Units::Mm, "22.5"),
            (57.15, Units::Inch, "2 1/4 in"),
            (60.0, Units::Inch, "60 mm"),
            (9.921875, Units::Mm, "9.921875 mm"),
        ] {
            assert_eq!(written(mm, units), text);
            assert!((read_length(text, units).unwrap().plain() - mm).abs() < 1e-9);
        }
    }
}
