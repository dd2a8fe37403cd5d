//! Other orders beside the plan, and what would help most.

use engine::plan::Weighed;

use super::page::Page;

/// The plans to choose from, the next best, the changes that help.
pub fn print(weighed: Option<&Weighed>, page: &mut Page) {
    let Some(weighed) = weighed else { return };
    page.blank();
    page.line("OTHER ORDERS, weighed on the same pieces:");
    for choice in &weighed.choices {
        let taken = if choice.taken { ", this plan" } else { "" };
        page.item(" -", &format!("{}{taken}: {}", choice.best_for_says(), choice.says()));
    }
    if weighed.choices.len() > 1 {
        page.line("Another of these: [order] seek in the job.");
    }
    if let Some(other) = &weighed.runner_up {
        page.item(" -", &format!("next best: {}. Beside this plan: {}", other.plan.says(), other.loses));
    }
    if let Some(blocking) = &weighed.blocking {
        page.line(&blocking.says());
    }
    if !weighed.helps.is_empty() {
        page.line("WHAT WOULD HELP MOST, one change at a time:");
        weighed.helps.iter().for_each(|help| page.item(" -", &help.says()));
    }
}
