//! The reading table of the JSON.

use engine::measure::Chances;
use engine::plan::{ReadingRow, ReadingTable};
use serde_json::{Value, json};

use super::number::{factor, number};

pub(super) fn value(table: &ReadingTable) -> Value {
    let (stop, band) = (&table.stop, &table.stop.band);
    let inside = |by_mm: f64| {
        let (least, most) = (band.least_mm + by_mm, band.most_mm - by_mm);
        if least <= most { json!([number(least), number(most)]) } else { Value::Null }
    };
    json!({
        "expected_mm": number(stop.expected.mean_mm),
        "expected_spread_mm": number(stop.expected.spread_mm),
        "gauge_uncertainty_mm": number(stop.gauge_mm),
        "cut_scatter_mm": number(stop.cut.scatter_mm),
        "cut_error_share": number(stop.cut.share),
        "comes_off_mm": number(stop.cut.comes_off_mm),
        "least_cut_mm": number(stop.cut.least_mm),
        "mark_mm": number(stop.cut.mark_mm),
        "scrap_passes": number(stop.scrap_passes),
        "aim_mm": number(table.aim_mm),
        "rows": table.rows.iter().map(row).collect::<Vec<_>>(),
        "mark_more_for_mm": factor(table.mark_for_mm),
        "chances": {
            "by_this_table": chances(&table.rules.ours),
            "by_the_dial": chances(&table.rules.by_the_dial),
            "cut_the_rest": chances(&table.rules.cut_the_rest),
        },
        "measuring_saves_passes": number(table.saves_passes),
        "measuring_costs_passes": number(table.costs_passes),
        "chip_left": !table.spring_pass,
        "proves_mm": inside(table.proves_mm),
        "passes_cheapest_mm": inside(table.guard_mm),
    })
}

fn row(row: &ReadingRow) -> Value {
    json!({
        "measures_mm": number(row.measures_mm),
        "depth_mm": number(row.depth_mm),
        "dial": row.dial,
        "dial_turns": row.dial_turns,
        "dial_reading": number(row.dial_reading),
        "comes_out_mm": number(row.comes_out_mm),
        "chances": chances(&row.chances),
    })
}

fn chances(chances: &Chances) -> Value {
    json!({ "good": number(chances.good), "another_pass": number(chances.again), "scrap": number(chances.scrap) })
}
