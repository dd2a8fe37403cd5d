//! The pass table that stands at the machine: the number on the dial stands out.

use engine::plan::{Pass, SetUp};
use engine::quantity::Units;
use serde_json::{Value, json};

use crate::dial;
use engine::quantity::bare::{bare, feed, rpm};

/// A row a pass, cells as text, units in the heads of the columns.
pub(crate) fn value(set_up: &SetUp, units: Units) -> Vec<Value> {
    set_up.passes.iter().enumerate().map(|(at, pass)| row(at + 1, pass, units)).collect()
}

fn row(number: usize, pass: &Pass, units: Units) -> Value {
    json!({
        "number": number.to_string(),
        "dial": dial::value(&pass.dial),
        "cut": bare(pass.depth_mm, units),
        "total": bare(pass.total_mm, units),
        "feed": if pass.by_hand { "by hand".to_string() } else { feed(pass.feed_mm_per_rev, units) },
        "rpm": rpm(pass.rpm),
        "kind": pass.kind.name(),
    })
}
