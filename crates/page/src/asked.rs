//! What a request asks: texts, and what was changed in the form since.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::change::{self, Change, Changed};
use crate::field;
use crate::written::Written;

/// What the script asks.
#[derive(Debug, Clone, Deserialize)]
pub struct Asked {
    /// The job's text.
    pub job: String,
    /// The shop's text; empty: the built-in shop.
    #[serde(default)]
    pub shop: String,
    /// Fields changed since that text: key path and value, in order.
    #[serde(default)]
    pub changes: Vec<(String, String)>,
    /// Whether the plan was asked for, and not only something typed.
    #[serde(default)]
    pub pressed: bool,
    /// The set-up whose workings are asked for; 0: those of the whole plan.
    #[serde(default)]
    pub set_up: u32,
    /// What the browser shows just now.
    #[serde(flatten)]
    pub seen: Seen,
}

/// What the browser shows: what is in sight is answered first, what it has already is not sent again.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default)]
pub struct Seen {
    /// Set-ups that are in sight.
    pub in_sight: Vec<u32>,
    /// The stamp of the forecast on the page; empty: there is none.
    pub forecast: String,
    /// Whether that is in sight.
    pub forecast_in_sight: bool,
    /// The chance that all is kept, from 0 to 1, before what is being changed was changed.
    pub was: Option<f64>,
}

/// What a new job begins with, in millimetres.
const BLANK: &str = "title = \"New job\"\nunits = \"mm\"\n\n[stock]\nform = \"round\"\n\n[part]\nkind = \"block\"\n";

/// Texts ready to be planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Texts {
    /// The job.
    pub job: String,
    /// The shop.
    pub shop: String,
    /// Why fields could not be written into the job's text.
    pub refused: Vec<String>,
    /// Whether the plan was asked for, and not only looked at or typed into.
    pub pressed: bool,
}

impl Texts {
    /// The demonstration job in the built-in shop.
    pub fn demo() -> Self {
        Texts {
            job: formats::builtin::demo_job_text().to_string(),
            shop: formats::builtin::shop_text().to_string(),
            refused: Vec::new(),
            pressed: false,
        }
    }

    /// A job with everything still to be filled in, in the built-in shop.
    pub fn blank(units: &str) -> Self {
        Texts { job: BLANK.replace("\"mm\"", &format!("\"{units}\"")), ..Texts::demo() }
    }

    /// The address of a new job in the units of this one.
    pub fn new_job(&self) -> &'static str {
        let inches = Written::read(&self.job).and_then(|job| job.value("units")).is_some_and(|units| units == "inch");
        if inches { "/new/inch" } else { "/new" }
    }

    /// The texts with the changes written into the job's.
    pub fn asked(asked: Asked) -> Self {
        let changes: Vec<Change> = asked.changes.into_iter().map(|(key, value)| Change { key, value }).collect();
        Texts { pressed: asked.pressed, ..Texts::changed(plain_lines(&asked.job), &asked.shop, &changes) }
    }

    /// A form as a browser without script posts it: `job`, `shop`, the text as it was served as `was`, and the fields.
    /// Fields that differ from what they showed then are the changes.
    pub fn posted(mut form: BTreeMap<String, String>) -> Self {
        let mut take = |name: &str| form.remove(name).map(|text| plain_lines(&text));
        let job = take("job").unwrap_or_default();
        let shop = take("shop").unwrap_or_default();
        let was = take("was").unwrap_or_else(|| job.clone());
        let changes = Written::read(&was).map(|was| differences(&was, &form)).unwrap_or_default();
        Texts { pressed: true, ..Texts::changed(job, &shop, &changes) }
    }

    fn changed(job: String, shop: &str, changes: &[Change]) -> Self {
        let shop = match shop.trim() {
            "" => formats::builtin::shop_text().to_string(),
            _ => plain_lines(shop),
        };
        let Changed { text, refused } = change::apply(&job, changes);
        Texts { job: text, shop, refused, pressed: false }
    }

    /// A new job that nobody has touched or asked a plan of: what it lacks is no fault yet.
    pub fn is_untouched(&self) -> bool {
        let new = ["mm", "inch"].map(|units| Texts::blank(units).job);
        !self.pressed && new.iter().any(|new| new.trim() == self.job.trim())
    }
}

/// In the order of the form, so that the form of the bar comes before its sizes.
fn differences(was: &Written, form: &BTreeMap<String, String>) -> Vec<Change> {
    let changed = field::FIELDS.iter().filter_map(|(key, _)| {
        let value = form.get(*key)?.trim();
        (value != shown(was, key)).then(|| Change { key: key.to_string(), value: value.to_string() })
    });
    changed.collect()
}

/// What a field shows of a text.
pub fn shown(text: &Written, key: &str) -> String {
    match (field::kind(key), key.split_once('[')) {
        (Some(field::Kind::OneName), _) if text.entries(key) > 1 => SEVERAL.to_string(),
        (_, Some((list, at))) => {
            let at = at.trim_end_matches(']').parse().unwrap_or(usize::MAX);
            text.entry(list, at).unwrap_or_default()
        }
        _ => text.value(key).unwrap_or_default(),
    }
}

/// Stands in a field of one name where the text lists several.
pub const SEVERAL: &str = "several";

/// Lines end in one letter, whatever the browser sends.
fn plain_lines(text: &str) -> String {
    text.trim_start_matches('\u{feff}').replace("\r\n", "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_fields_that_differ_from_what_was_shown_are_changes() {
        let job = formats::builtin::demo_job_text();
        let mut form: BTreeMap<String, String> = BTreeMap::from([
            ("job".to_string(), job.replace('\n', "\r\n")),
            ("was".to_string(), job.replace('\n', "\r\n")),
            ("stock.diameter".to_string(), "60".to_string()),
            ("stock.length".to_string(), "50".to_string()),
            ("part.turn".to_string(), String::new()),
        ]);
        let texts = Texts::posted(form.clone());
        assert_eq!(texts.job, job.replace("diameter = 58", "diameter = 60"));
        assert_eq!(texts.shop, formats::builtin::shop_text());
        form.insert("stock.diameter".to_string(), "58".to_string());
        assert_eq!(Texts::posted(form).job, job);
    }
}
