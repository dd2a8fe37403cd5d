//! The bars of a shop side by side, in the JSON.

use engine::plan::{StockChoice, StockComes, StockRow};
use serde_json::{Value, json};

use super::number::{factor, number};

/// Which bar, why, and all that were looked at.
pub(super) fn value(choice: &StockChoice) -> Value {
    json!({
        "material": choice.material,
        "best": choice.best,
        "says": choice.says,
        "bars": choice.rows.iter().map(row).collect::<Vec<_>>(),
    })
}

fn row(row: &StockRow) -> Value {
    let (one, other) = row.sizes_mm;
    let (minutes, chance, per_good, least) = match &row.comes {
        StockComes::Planned { minutes, chance, per_good_minutes } => {
            (Some(*minutes), Some(chance.share), *per_good_minutes, None)
        }
        StockComes::Slower { least_minutes } => (None, None, None, Some(*least_minutes)),
        StockComes::NotLookedAt | StockComes::Impossible { .. } => (None, None, None, None),
    };
    let sizes: Vec<Value> = [Some(one), other].into_iter().flatten().map(number).collect();
    let rule = match &row.comes {
        StockComes::Impossible { rule, .. } => Some(*rule),
        _ => None,
    };
    json!({
        "bar": row.bar,
        "form": row.form,
        "sizes_mm": sizes,
        "length_mm": number(row.length_mm),
        "surface": row.surface,
        "of_the_job": row.of_the_job,
        "mass_kg": number(row.mass_kg),
        "used_share": number(row.used_share),
        "blank_minutes": number(row.blank_minutes),
        "outcome": row.outcome(),
        "minutes": factor(minutes),
        "chance": factor(chance),
        "per_good_minutes": factor(per_good),
        "least_minutes": factor(least),
        "rule": rule,
        "says": row.why_not(),
    })
}
