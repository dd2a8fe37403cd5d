//! The plan as JSON, schema `turnwright/plan/2`: keys and order are a public agreement.
//!
//! Units are in the keys. Numbers carry nine significant digits, so that the bytes do not hang on the
//! last bit of a sum; a number without limit is null. `title`, `units`, `asked`, `hands`,
//! `hand_checks`, `measure[].table` and a few more are additions to the agreement, each beside what it belongs to.
//!
//! Since schema 2: `audit.cut_loads[].pass` counts from 1, like every other number of a pass, jaw or set-up; what a
//! jaw bears on and what lies on the seat is "bar", "sawn end" or a face's name, where schema 1 called a sawn end
//! "bar" too.

mod audit;
mod forecast;
mod number;
mod set_up;
mod stock_choice;
mod table;
mod weighed;

use engine::plan::{Outcome, Plan, Reason, StockChoice};
use engine::quantity::Units;
use serde_json::{Value, json};

use number::{factor, number};

/// The name and version of what [`to_json`] writes.
pub const SCHEMA: &str = "turnwright/plan/2";

/// The plan as pretty-printed JSON with a last line end; with `audit`, each set-up carries what an
/// outside program needs to recompute its hold.
pub fn to_json(plan: &Plan, audit: bool) -> String {
    let mut text = format!("{:#}", value(plan, audit));
    text.push('\n');
    text
}

/// The bars of a shop side by side, as they stand in a plan under `stock_choice`.
pub fn stock_to_json(choice: &StockChoice) -> String {
    format!("{:#}\n", stock_choice::value(choice))
}

fn value(plan: &Plan, audit: bool) -> Value {
    let (outcome, reasons) = match &plan.outcome {
        Outcome::Planned => ("planned", Vec::new()),
        Outcome::Impossible(reasons) => ("impossible", reasons.iter().map(reason).collect()),
    };
    json!({
        "schema": SCHEMA,
        "title": plan.title,
        "units": units(plan.units),
        "asked": asked(plan),
        "outcome": outcome,
        "reasons": reasons,
        "stock": stock(plan),
        "stock_choice": plan.stock_choice.as_ref().map(stock_choice::value),
        "minutes": {
            "handling": number(plan.minutes.handling),
            "cutting": number(plan.minutes.cutting),
            "measuring": number(plan.minutes.measuring),
            "total": number(plan.minutes.total()),
        },
        "set_ups": plan.set_ups.iter().map(|set_up| set_up::value(set_up, audit)).collect::<Vec<_>>(),
        "quality": forecast::qualities(plan.forecast.as_ref()),
        "chance": factor(plan.forecast.as_ref().map(|forecast| forecast.chance.share)),
        "chance_error": factor(plan.forecast.as_ref().map(|forecast| forecast.chance.error)),
        "forecast": plan.forecast.as_ref().map(|forecast| forecast::value(forecast, audit)),
        "weighed": plan.weighed.as_ref().map(weighed::value),
        "search": {
            "plans_possible": number(plan.search.plans_possible),
            "examined": plan.search.examined,
            "cut_off": plan.search.cut_off,
            "proven_best": plan.search.proven_best,
        },
        "assumed": plan.assumed.iter().map(|value| json!({
            "what": value.what,
            "value": value.value,
            "source": value.source,
        })).collect::<Vec<_>>(),
        "cautions": plan.cautions,
    })
}

/// The same words as in a job file.
fn units(units: Units) -> &'static str {
    match units {
        Units::Mm => "mm",
        Units::Inch => "inch",
    }
}

fn asked(plan: &Plan) -> Value {
    let asked = &plan.asked;
    json!({
        "part": asked.part,
        "stock": asked.stock,
        "material": asked.material,
        "lathe": asked.lathe,
        "chuck": asked.chuck,
        "tool": asked.tool,
        "limits": asked.limits,
        "requirements": asked.requirements,
    })
}

fn reason(reason: &Reason) -> Value {
    json!({
        "rule": reason.rule,
        "where": reason.place,
        "says": reason.says,
        "value": number(reason.value),
        "limit": number(reason.limit),
        "unit": reason.unit,
        "way_out": reason.way_out,
    })
}

fn stock(plan: &Plan) -> Value {
    let stock = &plan.stock;
    json!({
        "form": stock.form,
        "volume_mm3": number(stock.volume_mm3),
        "mass_kg": number(stock.mass_kg),
        "least_round_mm": number(stock.least_round_mm),
        "least_round_with_allowance_mm": number(stock.least_round_with_allowance_mm),
        "least_length_mm": number(stock.least_length_mm),
        "used_share": number(stock.used_share),
    })
}
