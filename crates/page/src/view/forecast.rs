//! How true it will come out: the chance of all, every requirement that may fail with its pictures, and what the forecast
//! starts from.

use std::hash::{DefaultHasher, Hash, Hasher};

use drawing::{causes, relations, spread};
use engine::plan::{Forecast, Plan, Quality};
use engine::quantity::Units;
use engine::quantity::bare::several;
use maud::{Markup, html};

use super::picture::plot;
use super::{Drawn, sentence};

/// Width of a picture, mm: two stand side by side on paper at their true size.
const WIDE_MM: f64 = 90.0;
/// So many requirements, the likeliest to fail, show their pictures at once.
const OPEN: usize = 1;

/// The forecast of a plan that has one with something in it.
pub fn of(plan: &Plan) -> Option<&Forecast> {
    plan.forecast.as_ref().filter(|forecast| !forecast.qualities.is_empty())
}

/// What the browser knows a forecast by: the same for all that shows the same.
fn stamp(forecast: &Forecast, units: Units) -> String {
    let mut hasher = DefaultHasher::new();
    format!("{forecast:?} {units:?}").hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// Whether the browser has it as it is.
fn is_kept(forecast: &Forecast, units: Units, drawn: Drawn<'_>) -> bool {
    matches!(drawn, Drawn::Only(seen) if seen.forecast == stamp(forecast, units))
}

/// Whether it comes after what is in sight.
pub fn comes_later(plan: &Plan, drawn: Drawn<'_>) -> bool {
    let out_of_sight = matches!(drawn, Drawn::Only(seen) if !seen.forecast_in_sight);
    of(plan).is_some_and(|forecast| out_of_sight && !is_kept(forecast, plan.units, drawn))
}

/// The forecast, or its place in the plan: what the browser has stays, what is out of sight comes later.
pub fn part(plan: &Plan, drawn: Drawn<'_>) -> Markup {
    match of(plan) {
        None => html! {},
        Some(forecast) if is_kept(forecast, plan.units, drawn) => html! { section.forecast.kept #forecast {} },
        Some(_) if comes_later(plan, drawn) => html! { section.forecast.waits #forecast {} },
        Some(_) => whole(plan),
    }
}

/// The whole of it; nothing where a plan has none.
pub fn whole(plan: &Plan) -> Markup {
    let Some(forecast) = of(plan) else { return html! {} };
    let (doubtful, sure) = forecast.doubtful();
    html! {
        section.forecast #forecast aria-labelledby="forecast-title" tabindex="-1"
            data-stamp=(stamp(forecast, plan.units)) data-share=(forecast.chance.share) {
            h3 #forecast-title { "How true it will come out" }
            p.comes { strong { (sentence(&forecast.says())) } }
            @if let Some(says) = forecast.per_good_says() { p { (sentence(&says)) } }
            @if !doubtful.is_empty() {
                p { "What may fail, the likeliest first:" }
                ol.doubtful {
                    @for (at, quality) in doubtful.iter().enumerate() { (doubt(quality, at, plan.units)) }
                }
            }
            @if let Some(figure) = relations(plan, [WIDE_MM, 2.0 * WIDE_MM]) {
                details.more {
                    summary { "Drawn: what each flat stood on, and what is kept between two" }
                    div.pictures { (plot(&figure, "relations")) }
                }
            }
            @if sure > 0 { (sure_ones(forecast, &doubtful, plan.units)) }
            (starts_from(forecast))
        }
    }
}

/// One requirement that may fail: in words, then its pictures.
fn doubt(quality: &Quality, at: usize, units: Units) -> Markup {
    // No share is torn from its sign.
    let causes_say = quality.causes_say().replace(" %", "\u{a0}%");
    let pictures = [spread(quality, at + 1, units, WIDE_MM), causes(quality, at + 1, WIDE_MM)];
    let classes = ["spread", "causes"];
    html! {
        li {
            p.line {
                span.of-100 { strong { (quality.chance.of_100()) } " of 100" }
                strong { (quality.requirement) } ", " (quality.asks(units))
            }
            p.soft {
                "Comes out " (quality.comes_out(units))
                @if !causes_say.is_empty() { "; mostly " (causes_say) }
                "."
            }
            @if pictures.iter().any(Option::is_some) {
                details.more open[at < OPEN] {
                    summary { "Drawn: " (quality.requirement) }
                    div.pictures {
                        @for (figure, class) in pictures.iter().zip(classes) {
                            @if let Some(figure) = figure { (plot(figure, class)) }
                        }
                    }
                }
            }
        }
    }
}

fn sure_ones(forecast: &Forecast, doubtful: &[&Quality], units: Units) -> Markup {
    let is_sure = |quality: &&Quality| !doubtful.iter().any(|one| std::ptr::eq(*one, *quality));
    let sure: Vec<&Quality> = forecast.qualities.iter().filter(is_sure).collect();
    let further = if doubtful.is_empty() { "" } else { "further " };
    html! {
        details.more {
            summary { (several(sure.len(), &format!("{further}requirement"))) ": more than 99.9 of 100 each" }
            ul { @for quality in sure { li { (quality.requirement) ", " (quality.asks(units)) "; comes out " (quality.comes_out(units)) } } }
        }
    }
}

/// The spreads, and how the chances were found from them.
fn starts_from(forecast: &Forecast) -> Markup {
    html! {
        details.more {
            summary { "What it starts from" }
            p {
                (format!(
                    "{} pieces were made in this calculation, by chance that is the same every time; the chance of all is \
                     known to about {:.1} of 100 by it. What it is worth hangs on the spreads:", forecast.pieces,
                    (200.0 * forecast.chance.error).max(0.1)
                ))
            }
            @if forecast.from.is_empty() {
                p { "The shop gave all of them." }
            } @else {
                p { "The shop did not give these. Write yours into the shop, and they are used." }
                dl.assumed {
                    @for row in &forecast.from {
                        dt { (row.what) }
                        dd { strong { (row.value) } span.source { " " (row.source) } }
                    }
                }
            }
        }
    }
}
