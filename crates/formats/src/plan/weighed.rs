//! Other orders and changes beside the plan, an addition to the agreement; `null`: they were not weighed.

use engine::plan::{Blocking, Chance, Choice, Help, Weighed};
use serde_json::{Value, json};

use super::number::{factor, number};

pub(super) fn value(weighed: &Weighed) -> Value {
    json!({
        "choices": weighed.choices.iter().map(choice).collect::<Vec<_>>(),
        "runner_up": weighed.runner_up.as_ref().map(|other| json!({
            "plan": choice(&other.plan),
            "loses": other.loses,
        })),
        "helps": weighed.helps.iter().map(help).collect::<Vec<_>>(),
        "blocking": weighed.blocking.as_ref().map(blocking),
    })
}

fn choice(choice: &Choice) -> Value {
    json!({
        "best_for": choice.best_for,
        "order": choice.order,
        "minutes": number(choice.minutes),
        "chance": number(choice.chance.share),
        "chance_error": number(choice.chance.error),
        "minutes_per_good_piece": per_good(choice.per_good_minutes),
        "taken": choice.taken,
    })
}

fn help(help: &Help) -> Value {
    json!({
        "change": help.change,
        "chance": number(help.chance.share),
        "minutes_per_good_piece": per_good(help.per_good_minutes),
    })
}

fn blocking(blocking: &Blocking) -> Value {
    let Chance { share, .. } = blocking.without;
    json!({ "causes": blocking.causes, "chance_without": number(share), "fails": blocking.fails })
}

/// Without limit where no piece is good: `null`.
fn per_good(minutes: f64) -> Value {
    factor(Some(minutes).filter(|minutes| minutes.is_finite()))
}
