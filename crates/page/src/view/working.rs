//! The working of a number, on demand: formula, values, sources.

use engine::plan::{Known, Plan, Working};
use engine::quantity::Units;
use engine::working::{formula, mathml, mathml_symbol, shown, shown_in_inches, shown_known};
use maud::{Markup, PreEscaped, html};

/// Where the workings of a set-up, or of the plan as a whole (0), come when they are asked for: they are many.
pub fn place(set_up: u32) -> Markup {
    html! {
        details.workings id=(format!("working-{set_up}")) data-set-up=(set_up) {
            summary { (heading(set_up)) }
            div.here {
                button.plain-only type="submit" form="job" formaction=(format!("/working/{set_up}")) formtarget="_blank" {
                    "Show it"
                }
            }
        }
    }
}

/// "Working of set-up 3: formulas, values, sources".
pub fn heading(set_up: u32) -> String {
    match set_up {
        0 => "Working of what belongs to no set-up: formulas, values, sources".to_string(),
        number => format!("Working of set-up {number}: formulas, values, sources"),
    }
}

/// Every working of a set-up, or of the plan as a whole (0), each folded; those of a pass together.
pub fn workings(plan: &Plan, set_up: u32) -> Markup {
    let of_set_up = plan.set_ups.iter().find(|one| one.number == set_up);
    let all = if set_up == 0 { &plan.workings[..] } else { of_set_up.map_or(&[][..], |one| &one.workings) };
    let passes = of_set_up.map_or(0, |one| one.passes.len());
    let of_pass = |working: &&Working| working.of.starts_with("pass ");
    html! {
        @if all.is_empty() { p { "There is nothing to work out here." } }
        @for working in all.iter().filter(|working| !of_pass(working)) { (one(working, &working.says, set_up, plan)) }
        @for pass in 1..=passes {
            @let name = format!("pass {pass} ");
            details.pass-workings id=(format!("working-{set_up}-pass-{pass}")) {
                summary { "Pass " (pass) }
                @for working in all.iter().filter(|working| working.of.starts_with(&name)) {
                    (one(working, without(&working.says, pass), set_up, plan))
                }
            }
        }
    }
}

/// What is worked out, without the pass under whose heading it stands.
fn without(says: &str, pass: usize) -> &str {
    says.strip_prefix(&format!("pass {pass}: ")).unwrap_or(says)
}

fn one(working: &Working, says: &str, set_up: u32, plan: &Plan) -> Markup {
    html! {
        details.working id=(name(set_up, &working.of)) {
            summary {
                (says) ": " strong { (shown(working.value, working.unit)) }
                @if let Some(inches) = inches(working, plan.units) { " (" (inches) ")" }
            }
            @if let Some(formula) = formula(working.formula) {
                div.formula tabindex="0" role="group" aria-label=(format!("Formula: {}", working.formula)) { (PreEscaped(mathml(formula))) }
                ul.knowns { @for known in &working.values { li { (value(known, formula, set_up, plan)) } } }
            }
            p.source { "Formula: " (working.source) "." }
        }
    }
}

fn inches(working: &Working, units: Units) -> Option<String> {
    if units == Units::Inch { shown_in_inches(working.value, working.unit) } else { None }
}

fn value(known: &Known, formula: &engine::working::Formula, set_up: u32, plan: &Plan) -> Markup {
    let symbol = formula.meaning(known.symbol).map(|meaning| mathml_symbol(&meaning.symbol));
    html! {
        (PreEscaped(symbol.unwrap_or_default())) " = " strong { (shown_known(known)) } ", " (known.meaning) "; "
        @match &known.worked {
            Some(worked) => a href=(format!("#{}", name(place_of(worked, set_up, plan), worked))) { (known.from) },
            None => (known.from),
        }
    }
}

/// The set-up that has this working; 0: the plan as a whole.
fn place_of(worked: &str, set_up: u32, plan: &Plan) -> u32 {
    let own = plan.set_ups.iter().find(|one| one.number == set_up);
    let here = own.is_some_and(|one| one.workings.iter().any(|working| working.of == worked));
    if here { set_up } else { 0 }
}

fn name(set_up: u32, of: &str) -> String {
    let plain: String = of.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    format!("working-{set_up}-{plain}")
}
