//! Cautions: signal word and sentence apart.

use engine::hands::Signal;
use serde_json::{Value, json};

/// The signal word, or null for a sentence without one, and what it says.
pub(crate) fn value(text: &str) -> Value {
    match (Signal::of(text), text.split_once(':')) {
        (Some(signal), Some((_, says))) => json!({ "signal": signal.word(), "says": says.trim() }),
        _ => json!({ "signal": null, "says": text }),
    }
}
