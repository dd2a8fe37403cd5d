//! The forecast of the JSON. `limit_mm` is the upper limit of a size, or the width of a zone; `lower_mm`,
//! `chance_error` and `from` are additions to the agreement, and so is `forecast` beside `chance`.

use engine::plan::{Forecast, Quality};
use serde_json::{Value, json};

use super::audit;
use super::number::{factor, number};

pub(super) fn qualities(forecast: Option<&Forecast>) -> Vec<Value> {
    forecast.map(|forecast| forecast.qualities.iter().map(quality).collect()).unwrap_or_default()
}

fn quality(quality: &Quality) -> Value {
    json!({
        "requirement": quality.requirement,
        "kind": quality.kind,
        "limit_mm": number(quality.upper_mm),
        "lower_mm": number(quality.lower_mm),
        "from": quality.from,
        "middle_mm": number(quality.middle_mm),
        "spread_mm": number(quality.spread_mm),
        "chance": number(quality.chance.share),
        "chance_error": number(quality.chance.error),
        "causes": quality.causes.iter().map(|cause| json!({
            "of": cause.of,
            "share": number(cause.share),
        })).collect::<Vec<_>>(),
    })
}

pub(super) fn value(forecast: &Forecast, audit: bool) -> Value {
    let mut value = json!({
        "pieces": forecast.pieces,
        "seed": forecast.seed,
        "per_good_piece": forecast.per_good.map(|per_good| json!({
            "minutes": number(per_good.minutes),
            "compared_minutes": number(per_good.compared_minutes),
            "least_minutes": factor(per_good.least_minutes),
            "tried": per_good.tried,
        })),
        "starts_from": forecast.from.iter().map(|row| json!({
            "what": row.what,
            "value": row.value,
            "source": row.source,
        })).collect::<Vec<_>>(),
    });
    if audit {
        value["audit"] = audit::forecast(forecast);
    }
    value
}
