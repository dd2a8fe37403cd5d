//! How true it will come out: the chance of all in a sentence, and a row for every requirement that may fail.

use engine::plan::{Blocking, Forecast, Plan, Quality, Weighed};
use engine::quantity::Units;
use engine::quantity::bare::several;
use serde_json::{Value, json};

/// The chance of all, for the head of the overview; `None`: the plan has no forecast.
pub(crate) fn sentence(plan: &Plan) -> Option<String> {
    of(plan).map(|forecast| capital(&forecast.says()))
}

/// Sentence, rows and what is left to say; nothing where the plan has no forecast.
pub(crate) fn value(plan: &Plan) -> Value {
    let Some(forecast) = of(plan) else { return Value::Null };
    let (doubtful, sure) = forecast.doubtful();
    let says: Vec<String> =
        [Some(forecast.says()), forecast.per_good_says()].into_iter().flatten().map(|says| capital(&says)).collect();
    json!({
        "says": says.join(" "),
        "rows": doubtful.into_iter().map(|quality| row(quality, plan.units)).collect::<Vec<_>>(),
        "next_best": plan.weighed.as_ref().and_then(next_best),
        "helps": plan.weighed.as_ref().map_or_else(Vec::new, helps),
        "sure": (sure > 0).then(|| format!("{}: more than 99.9 of 100 each.", several(sure, "further requirement"))),
    })
}

/// The next best order and why it is not taken; what stands in the way before it, where most pieces fail.
fn next_best(weighed: &Weighed) -> Option<String> {
    let blocking = weighed.blocking.as_ref().map(Blocking::says);
    let next = weighed
        .runner_up
        .as_ref()
        .map(|other| format!("Next best order: {}. Beside this plan: {}.", other.plan.says(), other.loses));
    let says: Vec<String> = blocking.into_iter().chain(next).collect();
    (!says.is_empty()).then(|| says.join(" "))
}

/// The changes that would help most.
fn helps(weighed: &Weighed) -> Vec<String> {
    weighed.helps.iter().map(|help| capital(&help.says())).collect()
}

fn of(plan: &Plan) -> Option<&Forecast> {
    plan.forecast.as_ref().filter(|forecast| !forecast.qualities.is_empty())
}

fn row(quality: &Quality, units: Units) -> Value {
    json!({
        "requirement": quality.requirement,
        "asks": quality.asks(units),
        "comes": quality.comes_out(units),
        "of_100": quality.chance.of_100(),
        "because": quality.causes_say(),
    })
}

/// Words as a sentence.
fn capital(words: &str) -> String {
    let (first, rest) = words.split_at(words.chars().next().map_or(0, char::len_utf8));
    format!("{}{rest}.", first.to_uppercase())
}
