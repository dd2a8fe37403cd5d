//! The page as it is first served, complete before any script runs.

use engine::plan::{Plan, StockChoice};
use engine::quantity::Units;
use maud::{DOCTYPE, Markup, html};

use super::{Drawn, Parts, parts, stock_choice, text, working};
use crate::asked::Texts;
use crate::fault::Placed;
use crate::planned::Planned;

/// The whole page.
pub fn document(texts: &Texts, planned: &Planned) -> Markup {
    let parts = parts(texts, planned, Drawn::All);
    let title = planned.plan.as_ref().map_or("Turnwright", |plan| &plan.title);
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(title))
            body {
                a.skip href="#plan" { "To the plan" }
                a.skip href="#fields" { "To the job" }
                header.top {
                    h1 { "Turnwright" }
                    p { "How to hold it, what to set, what the dial reads." }
                }
                p #answer.answer { a href="#plan" { (parts.answer) } }
                p #said.unseen role="status" aria-live="polite" {}
                div.desk {
                    (desk(texts, &parts))
                    main #plan tabindex="-1" aria-label="The plan" {
                        p.paper-only { "The plan in short, printed from the page. What the hands do and measure step by step, the inspection report and the working are on the sheet: print that for the bench (\"The sheet, to print\")." }
                        p #stale.stale hidden { "This is the plan of the job as it was before. It does not fit the job as it stands now." }
                        div #planned { @if let Some(plan) = &parts.plan { (plan) } @else { p { "There is no plan yet." } } }
                    }
                }
                section #machine aria-label="At the machine" {
                    @if let Some(plan) = &planned.plan { (super::cards(plan)) }
                }
                footer.foot { p { "Turnwright runs on this machine alone. Nothing leaves it." } }
            }
        }
    }
}

/// A page that only says why something was not done.
pub fn refusal(title: &str, says: &str) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(title))
            body { main.refusal { h1 { (title) } p { (says) } p { a href="/" { "To the first page" } } } }
        }
    }
}

/// The workings of a set-up on a page of their own, for a browser without script.
pub fn working_page(plan: &Plan, set_up: u32) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(&plan.title))
            body { main.refusal { h1 { (working::heading(set_up)) } (super::workings(plan, set_up)) } }
        }
    }
}

/// The bars that the shop lists on a page of their own, for a browser without script.
pub fn bars_page(compared: &Result<(StockChoice, Units), Vec<Placed>>) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head("Bars that the shop lists"))
            body { main.refusal { h1 { "Bars that the shop lists" } (stock_choice::beside(compared)) } }
        }
    }
}

fn head(title: &str) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta name="color-scheme" content="light dark";
            title { (title) @if title != "Turnwright" { " - Turnwright" } }
            link rel="icon" href="data:,";
            link rel="stylesheet" href="/page.css";
            script src="/page.js" defer {}
        }
    }
}

/// Job and shop, as fields and as texts.
fn desk(texts: &Texts, parts: &Parts) -> Markup {
    html! {
        div.inputs {
            form #job method="post" action="/" aria-label="Job and shop" autocomplete="off" {
                h2 { "Job" }
                div #faults { (parts.faults) }
                p #rest.lacks hidden { "The text below does not read just now: these fields show the job as it was before, and wait." }
                div #fields tabindex="-1" {
                    @if let Some(fields) = &parts.fields { (fields) }
                    @else { p { "The fields come back when the text below reads again." } }
                }
                p.buttons {
                    button.plain-only type="submit" { "Plan it" }
                    button #undo.script-only type="button" disabled { "Undo" }
                }
                textarea.unseen name="was" hidden { (texts.job) }
                (text::editor("job", "The job as text", "The text is the job; the fields above show it. Either changes the other.", &texts.job, &parts.job_lines, false))
                (text::editor("shop", "The shop as text", "Lathes, chucks, tools, packing and gauges. Put your own plates in.", &texts.shop, &parts.shop_lines, true))
                fieldset.files {
                    legend { "Keep" }
                    p.buttons {
                        button type="submit" formaction="/save/job" { "Save the job" }
                        button type="submit" formaction="/save/shop" { "Save the shop" }
                    }
                    div.pair {
                        div.field {
                            label for="paper" { "Paper" }
                            select #paper name="paper" { option value="a4" { "A4" } option value="letter" { "Letter" } }
                        }
                        div.field {
                            label for="date" { "Date on the sheet" }
                            input #date name="date" type="text";
                        }
                    }
                    p { label.tick { input type="checkbox" name="without_working"; " without the working" } }
                    p #lacks.lacks hidden[parts.lacks.is_empty()] { (parts.lacks) }
                    p.buttons { button #print type="submit" formaction="/sheet" formtarget="_blank" aria-describedby="lacks" { "The sheet, to print (PDF)" } }
                }
            }
            form #open method="post" action="/open" enctype="multipart/form-data" aria-label="Open a file" {
                label for="file" { "Open a job or a shop from a file" }
                input #file type="file" name="file" accept=".toml,text/plain";
                textarea.unseen name="job" hidden { (texts.job) }
                textarea.unseen name="shop" hidden { (texts.shop) }
                p.buttons {
                    button.plain-only type="submit" { "Open it" }
                    a.button href=(texts.new_job()) data-job=(Texts::blank("mm").job) { "New job" }
                    a.button href="/demo" data-job=(Texts::demo().job) { "The job to try with" }
                    button #former.script-only type="button" hidden { "Bring back the job before" }
                    button #school.script-only type="button" data-shop=(Texts::demo().shop) { "The built-in shop" }
                }
            }
        }
    }
}
