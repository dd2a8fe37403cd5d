//! The plan as text for people: 80 columns, no colour, in the job's units, as the work goes.

mod assumed;
mod cautions;
mod forecast;
mod hands;
mod head;
mod hold;
mod measuring;
mod page;
mod passes;
mod reading;
mod reasons;
#[cfg(test)]
mod sample;
mod search;
mod set_up;
mod stock_choice;
mod weighed;

use engine::plan::{Outcome, Plan, StockChoice};
use engine::planning::Next;
use engine::quantity::Units;
use page::Page;

/// The whole plan.
pub fn plan(plan: &Plan) -> String {
    let mut page = Page::new();
    head::print(plan, &mut page);
    if let Outcome::Impossible(reasons) = &plan.outcome {
        reasons::print(reasons, plan.units, &mut page);
    }
    cautions::print(&plan.cautions, &mut page);
    for set_up in &plan.set_ups {
        set_up::print(set_up, plan, &mut page);
    }
    forecast::print(plan.forecast.as_ref(), plan.units, &mut page);
    weighed::print(plan.weighed.as_ref(), &mut page);
    if let Some(choice) = &plan.stock_choice {
        stock_choice::print(choice, plan.units, &mut page);
    }
    assumed::print(&plan.assumed, &mut page);
    search::print(plan, &mut page);
    page.finish()
}

/// The answer to a reading.
pub fn next(answer: &Next) -> String {
    let mut page = Page::new();
    reading::next(answer, &mut page);
    page.finish()
}

/// The bars of a shop side by side.
pub fn stock(choice: &StockChoice, units: Units) -> String {
    let mut page = Page::new();
    stock_choice::print(choice, units, &mut page);
    page.finish()
}

#[cfg(test)]
mod tests;
