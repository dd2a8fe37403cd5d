//! Head of the plan: can it be done, what is asked, in which order.

use engine::plan::{Outcome, Plan, apportioned};
use engine::quantity::bare::several;
use engine::quantity::show::{length, mass};

use super::page::Page;

/// Title, answer, question, order.
pub fn print(plan: &Plan, page: &mut Page) {
    page.rule('=');
    page.line(&plan.title);
    page.rule('=');
    answer(plan, page);
    page.blank();
    asked(plan, page);
    bar(plan, page);
    order(plan, page);
}

fn answer(plan: &Plan, page: &mut Page) {
    match &plan.outcome {
        Outcome::Planned => {
            let minutes = &plan.minutes;
            let total = minutes.total();
            let kinds = apportioned(&[minutes.handling, minutes.cutting, minutes.measuring], total);
            page.line(&format!(
                "POSSIBLE: {}, about {total:.0} minutes ({} handling, {} cutting, {} measuring).",
                several(plan.set_ups.len(), "set-up"),
                kinds[0],
                kinds[1],
                kinds[2],
            ));
            if let Some(forecast) = plan.forecast.as_ref().filter(|forecast| !forecast.qualities.is_empty()) {
                page.line(&format!("GOOD PIECES: {} of 100, in this calculation.", forecast.chance.of_100()));
            }
        }
        Outcome::Impossible(reasons) => {
            page.line(&format!("NOT POSSIBLE as asked: {}, below.", several(reasons.len(), "reason")));
        }
    }
}

fn asked(plan: &Plan, page: &mut Page) {
    let asked = &plan.asked;
    page.entry("Part", &asked.part);
    for requirement in asked.limits.iter().chain(&asked.requirements) {
        page.entry("", requirement);
    }
    page.entry("Bar", &format!("{}; {}", asked.stock, asked.material));
    page.entry("With", &format!("{}; {}; {}", asked.lathe, asked.chuck, asked.tool));
}

fn bar(plan: &Plan, page: &mut Page) {
    let stock = &plan.stock;
    let [corners, least, long] = [stock.least_round_mm, stock.least_round_with_allowance_mm, stock.least_length_mm]
        .map(|value| length(value, plan.units));
    if stock.form == "round" {
        page.entry(
            "Would do",
            &format!("round {least}, {long} long, with the usual allowance; the finished corners alone take {corners}"),
        );
    } else {
        page.entry("", &format!("a round bar of {least}, {long} long, would do with the usual allowance"));
    }
    page.entry(
        "Metal",
        &format!("{}, of which {:.0} % becomes the part", mass(stock.mass_kg, plan.units), stock.used_share * 100.0),
    );
}

fn order(plan: &Plan, page: &mut Page) {
    if plan.set_ups.is_empty() {
        return;
    }
    let faces: Vec<String> = plan.set_ups.iter().map(|set_up| set_up.cuts_faces.join("+")).collect();
    page.blank();
    page.entry("ORDER", &faces.join(" > "));
}
