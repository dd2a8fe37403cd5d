//! What will come out: the chance of every requirement, and where size and squareness are lost.

use engine::plan::{Forecast, Quality};
use engine::quantity::Units;
use engine::quantity::bare::several;

use super::page::Page;

/// The chance of all, then every requirement that may fail with its causes.
pub fn print(forecast: Option<&Forecast>, units: Units, page: &mut Page) {
    let Some(forecast) = forecast else { return };
    if forecast.qualities.is_empty() {
        return;
    }
    page.blank();
    page.rule('-');
    page.line(&format!("FORECAST: {}.", forecast.says()));
    if let Some(says) = forecast.per_good_says() {
        page.line(&format!("{says}."));
    }
    let (doubtful, sure) = forecast.doubtful();
    for quality in doubtful {
        page.item(" -", &line(quality, units));
    }
    if sure > 0 {
        page.item(" -", &format!("{}: more than 99.9 of 100 each", several(sure, "further requirement")));
    }
    page.line("It starts from these spreads, which the shop did not give:");
    for row in &forecast.from {
        page.item(" -", &format!("{}: {} ({})", row.what, row.value, row.source));
    }
}

fn line(quality: &Quality, units: Units) -> String {
    let causes = quality.causes_say();
    let because = if causes.is_empty() { String::new() } else { format!("; mostly {causes}") };
    format!(
        "{}, {}: {} of 100; {}{because}",
        quality.requirement,
        quality.asks(units),
        quality.chance.of_100(),
        quality.comes_out(units)
    )
}
