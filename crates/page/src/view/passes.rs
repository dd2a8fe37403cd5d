//! The passes as the table that stands at the machine: the number on the dial is the largest thing in it.

use engine::plan::{Pass, SetUp};
use engine::quantity::Units;
use engine::quantity::bare::{bare, feed, rpm};
use engine::quantity::column::aligned;
use maud::{Markup, html};

/// One row a pass; what must be known of dial and surface below.
pub fn passes(set_up: &SetUp, units: Units) -> Markup {
    let passes = &set_up.passes;
    let unit = units.name();
    let columns = [
        column(passes, |pass| bare(pass.depth_mm, units)),
        column(passes, |pass| bare(pass.total_mm, units)),
        column(passes, |pass| feed(pass.feed_mm_per_rev, units)),
        column(passes, |pass| rpm(pass.rpm)),
    ];
    let labels = [format!("cut, {unit}"), format!("total, {unit}"), format!("feed, {unit} a turn"), "rpm".to_string()];
    let dials = dials(passes);
    html! {
        @if !passes.is_empty() {
            section.passes {
                h4 { "Passes" }
                div.scroll tabindex="0" role="region" aria-label=(format!("Passes of set-up {}", set_up.number)) {
                    table.stacked {
                        thead {
                            tr {
                                th scope="col" { "pass" }
                                th.dial scope="col" { "dial" span.under { "turns + ring" } }
                                th scope="col" { "cut" span.under { (unit) } }
                                th scope="col" { "total" span.under { (unit) } }
                                th scope="col" { "feed" span.under { (unit) " a turn" } }
                                th scope="col" { "rpm" }
                                th scope="col" { "kind" }
                            }
                        }
                        tbody {
                            @for (index, pass) in passes.iter().enumerate() {
                                tr {
                                    th scope="row" data-label="pass" { (index + 1) }
                                    td.dial { (dials[index]) }
                                    @for (label, column) in labels.iter().zip(&columns) { td.value data-label=(label) { (column[index]) } }
                                    td.kind data-label="kind" { (kind(pass)) }
                                }
                            }
                        }
                    }
                }
                @if !set_up.notes.is_empty() { ul.notes { @for note in &set_up.notes { li { (note) } } } }
            }
        }
    }
}

/// What the dial shows of every pass, points under one another.
fn dials(passes: &[Pass]) -> Vec<Markup> {
    aligned(&passes.iter().map(|pass| pass.dial.clone()).collect::<Vec<_>>()).iter().map(|dial| reading(dial)).collect()
}

/// Whole turns small, the ring large, the unit small: "4 turns + 0.033 in".
pub fn reading(dial: &str) -> Markup {
    // The column is set to the right: spaces in front would only make it wider than a phone.
    let dial = dial.trim_start_matches(' ');
    let (turns, ring) = dial.rsplit_once(" + ").map_or((None, dial), |(turns, ring)| (Some(turns), ring));
    let number: usize = ring.char_indices().find(|(_, c)| c.is_alphabetic()).map_or(ring.len(), |(at, _)| at);
    let (number, unit) = ring.split_at(number);
    html! {
        @if let Some(turns) = turns { span.turns { (turns) " + " } }
        span.ring { (number.trim_end_matches(' ')) } " " span.unit { (unit) }
    }
}

/// Spaces that are as wide as a digit, or as a point after the digits.
fn wide(text: &str) -> String {
    let digits = text.trim_start_matches(' ');
    format!("{}{digits}", "\u{2007}".repeat(text.len() - digits.len()))
}

fn column(passes: &[Pass], text: impl Fn(&Pass) -> String) -> Vec<String> {
    aligned(&passes.iter().map(text).collect::<Vec<_>>()).iter().map(|text| filled(text)).collect()
}

/// A text of a column with spaces of the width of digits; the first one behind stands for the point.
fn filled(text: &str) -> String {
    let front = wide(text.trim_end_matches(' '));
    let behind = text.len() - text.trim_end_matches(' ').len();
    let point = if behind > 0 { "\u{2008}" } else { "" };
    format!("{front}{point}{}", "\u{2007}".repeat(behind.saturating_sub(1)))
}

/// "finish", "rough, by hand".
pub fn kind(pass: &Pass) -> String {
    if pass.by_hand { format!("{}, by hand", pass.kind.name()) } else { pass.kind.name().to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ring_stands_out() {
        let text = reading("4 turns + 0.033 in").into_string();
        assert!(text.contains("<span class=\"ring\">0.033</span>") && text.contains("4 turns + "), "{text}");
        assert!(text.contains("<span class=\"unit\">in</span>"));
        let text = reading("1 turn + 0.000 in").into_string();
        assert!(text.contains("<span class=\"ring\">0.000</span>") && text.contains("1 turn + "), "{text}");
        assert!(reading("0.95 mm").into_string().contains("<span class=\"ring\">0.95</span>"));
    }

    #[test]
    fn shorter_numbers_are_filled_with_spaces_of_their_width() {
        assert_eq!(filled(" 3   "), "\u{2007}3\u{2008}\u{2007}\u{2007}");
        assert_eq!(filled("12.25"), "12.25");
    }
}
