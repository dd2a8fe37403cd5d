//! The bars that were tried, put in order and into words.

use super::stock_choice::Candidate;
use super::{reasons, reversed, search, stock};
use crate::job::{BarForm, Seek};
use crate::plan::{Chance, Outcome, Plan, Reason, Search, StockChoice, StockComes, StockRow};
use crate::quantity::{Units, bare, show};
use crate::shape::least_round_mm;
use crate::task::{Task, surface_words};

/// What came of a bar.
pub(super) enum Tried {
    /// Planned.
    Planned(Box<Plan>),
    /// Takes at least so many minutes for a good piece: more than the best.
    Slower(f64),
    /// Enough others have less to cut away.
    NotLookedAt,
    /// Will not do: rule and words.
    Refused(&'static str, String),
}

/// Plans a bar that has metal for the part; nothing is advised where that fails.
pub(super) fn plan_or_refuse(task: &Task) -> Tried {
    let found = search::search(task);
    if !found.set_ups.is_empty() {
        return Tried::Planned(Box::new(super::planned(task, &found)));
    }
    if let Some((turned, found)) = reversed::search_turned(task) {
        return Tried::Planned(Box::new(super::planned(&turned, &found)));
    }
    match reasons::reasons(task, &found.blocked).first() {
        Some(reason) => Tried::Refused(reason.rule, format!("no hold works: {}", reason.says)),
        None => Tried::Refused("no-order", "no order of its faces works".to_string()),
    }
}

/// What is to be least: minutes for a good piece, minutes, or pieces made for a good one, by what the job seeks.
pub(super) fn worth(task: &Task, plan: &Plan) -> f64 {
    match task.order.seek {
        Seek::Balanced => per_good_minutes(task, plan),
        Seek::Quickest => plan.minutes.total(),
        Seek::Truest => 1.0 / chance(plan).share,
    }
}

/// Infinite where no piece is good.
fn per_good_minutes(task: &Task, plan: &Plan) -> f64 {
    let per_good = plan.forecast.as_ref().and_then(|forecast| forecast.per_good);
    per_good.map_or_else(
        || (plan.minutes.total() + task.scatter.new_blank_minutes) / chance(plan).share,
        |per_good| per_good.minutes,
    )
}

fn chance(plan: &Plan) -> Chance {
    plan.forecast.as_ref().map(|forecast| forecast.chance).unwrap_or_default()
}

/// Those planned first, the best of them first, between equals the lighter; then the slower; then those not looked at;
/// then those that will not do, as they are listed.
pub(super) fn in_order(tried: &mut [(Candidate, Tried)]) {
    let key = |(candidate, tried): &(Candidate, Tried)| match tried {
        Tried::Planned(plan) => (0, [worth(&candidate.task, plan), plan.minutes.total(), plan.stock.mass_kg]),
        Tried::Slower(least) => (1, [*least, 0.0, 0.0]),
        Tried::NotLookedAt => (2, [0.0; 3]),
        Tried::Refused(..) => (3, [0.0; 3]),
    };
    tried.sort_by(|one, other| {
        let ((group, values), (other_group, other_values)) = (key(one), key(other));
        let pairs = values.iter().zip(&other_values);
        group.cmp(&other_group).then_with(|| {
            pairs.map(|(a, b)| a.total_cmp(b)).find(|order| order.is_ne()).unwrap_or(std::cmp::Ordering::Equal)
        })
    });
}

/// A bar as a row of the table.
pub(super) fn row((candidate, tried): &(Candidate, Tried)) -> StockRow {
    let task = &candidate.task;
    let report = stock::report(task);
    StockRow {
        bar: bar_words(&candidate.job.stock.form, task.units),
        form: task.bar_form,
        sizes_mm: task.bar_sizes_mm,
        length_mm: task.bar_length_mm,
        surface: surface_words(task.skin),
        of_the_job: candidate.of_the_job,
        mass_kg: report.mass_kg,
        used_share: report.used_share,
        blank_minutes: task.scatter.new_blank_minutes,
        comes: match tried {
            Tried::Planned(plan) => StockComes::Planned {
                minutes: plan.minutes.total(),
                chance: chance(plan),
                per_good_minutes: Some(per_good_minutes(task, plan)).filter(|minutes| minutes.is_finite()),
            },
            Tried::Slower(least_minutes) => StockComes::Slower { least_minutes: *least_minutes },
            Tried::NotLookedAt => StockComes::NotLookedAt,
            Tried::Refused(rule, says) => StockComes::Impossible { rule, says: says.clone() },
        },
    }
}

/// "round 60 mm", "flat 50 x 40 mm", as the dealer calls it.
fn bar_words(form: &BarForm, units: Units) -> String {
    let (sizes, sold_in) = bare::bar_sizes(form.sizes_mm(), units);
    format!("{} {sizes} {}", form.shape().name(), sold_in.name())
}

/// "60 mm", "50 mm x 40 mm".
pub(super) fn sizes_words((one, other): (f64, Option<f64>), units: Units) -> String {
    let one = show::stock_size(one, units);
    other.map_or(one.clone(), |other| format!("{one} x {}", show::stock_size(other, units)))
}

/// Which bar is best, and why: against the next one, the job's own, and the next thinner that will not do.
pub(super) fn says(tried: &[(Candidate, Tried)]) -> String {
    let Some((best, Tried::Planned(plan))) = tried.first() else {
        return format!("none of the {} bars of this material that the shop lists will do", tried.len());
    };
    let is = |candidate: &Candidate| bar_words(&candidate.job.stock.form, best.task.units);
    let mut parts = vec![format!("{}: {}", is(best), costs(&best.task, plan))];
    if best.of_the_job {
        parts[0] = format!("the job's own bar, {}", parts[0]);
    }
    let beside = |(at, (candidate, _)): &(usize, &(Candidate, Tried))| *at == 1 || *at > 1 && candidate.of_the_job;
    for (_, (other, tried)) in tried.iter().enumerate().filter(beside) {
        let name = if other.of_the_job { format!("the job's own, {},", is(other)) } else { is(other) };
        parts.extend(against(&name, &other.task, tried, (&best.task, plan)));
    }
    parts.extend(next_thinner(tried, best).map(|(thinner, why)| why_not(&is(thinner), why)));
    parts.join("; ")
}

/// "round 50 mm is too thin: the corners need 52.00 mm".
fn why_not(bar: &str, why: &str) -> String {
    if why.starts_with("too ") { format!("{bar} is {why}") } else { format!("{bar} will not do: {why}") }
}

/// "109 minutes for a good piece".
fn costs(task: &Task, plan: &Plan) -> String {
    match task.order.seek {
        Seek::Balanced => match per_good_minutes(task, plan) {
            minutes if minutes.is_finite() => format!("{minutes:.0} minutes for a good piece"),
            _ => "no piece comes out good, from no bar".to_string(),
        },
        Seek::Quickest => format!("{:.0} minutes", plan.minutes.total()),
        Seek::Truest => format!("{} of 100 pieces good", chance(plan).of_100()),
    }
}

/// What another bar costs beside the best.
fn against(other: &str, task: &Task, tried: &Tried, (best_task, best): (&Task, &Plan)) -> Option<String> {
    match tried {
        Tried::Planned(plan) if task.order.seek == Seek::Truest => {
            Some(format!("{other} gives {} of 100", chance(plan).of_100()))
        }
        Tried::Planned(plan) => {
            let more = worth(task, plan) - worth(best_task, best);
            match more {
                more if more.is_infinite() => Some(format!("{other} gives no good piece")),
                more if more.is_nan() => None,
                more if more < 0.5 => Some(format!("{other} takes less than a minute more")),
                more => Some(format!("{other} takes {more:.0} more")),
            }
        }
        Tried::Slower(least) => Some(format!("{other} takes {:.0} at least", least.floor())),
        Tried::Refused(_, why) => Some(why_not(other, why)),
        Tried::NotLookedAt => None,
    }
}

/// Of the bars of the same section that will not do the largest that has less metal than the best, and why.
fn next_thinner<'t>(tried: &'t [(Candidate, Tried)], best: &Candidate) -> Option<(&'t Candidate, &'t str)> {
    let area = |candidate: &Candidate| candidate.task.bar.area();
    tried
        .iter()
        .filter(|(candidate, _)| {
            !candidate.of_the_job
                && candidate.job.stock.form.shape() == best.job.stock.form.shape()
                && area(candidate) < area(best)
        })
        .filter_map(|(candidate, tried)| match tried {
            Tried::Refused(_, why) => Some((candidate, why.as_str())),
            _ => None,
        })
        .max_by(|(one, _), (other, _)| area(one).total_cmp(&area(other)))
}

/// The plan that says why none of the bars will do; `None`: none was tried.
pub(super) fn none_will_do(tried: &[(Candidate, Tried)], choice: StockChoice) -> Option<Plan> {
    // What came farthest: a bar with metal for the part, of those the largest.
    let has_metal = |candidate: &Candidate| candidate.refused.is_none();
    let (candidate, _) = tried.iter().max_by(|(one, _), (other, _)| {
        let areas = one.task.bar.area().total_cmp(&other.task.bar.area());
        has_metal(one).cmp(&has_metal(other)).then(areas)
    })?;
    let task = &candidate.task;
    let (reasons, search) = if has_metal(candidate) {
        let plan = super::plan_task(task);
        let Outcome::Impossible(reasons) = plan.outcome else { return None };
        (reasons, plan.search)
    } else {
        (Vec::new(), Search { proven_best: true, ..Search::default() })
    };
    let first = none_of_them(candidate, reasons.first(), &choice);
    let reasons = std::iter::once(first).chain(reasons).collect();
    let mut plan = super::told(task, Outcome::Impossible(reasons), Vec::new(), search);
    plan.stock_choice = Some(choice);
    Some(plan)
}

fn none_of_them(farthest: &Candidate, binding: Option<&Reason>, choice: &StockChoice) -> Reason {
    let task = &farthest.task;
    let least = least_round_mm(&super::blank::part_section(task), task.skin);
    let (bare_mm, with_mm) = least.map_or((0.0, 0.0), |least| (least.bare_mm, least.with_allowance_mm));
    let length_mm = stock::report(task).least_length_mm;
    let [bare_words, with, length] = [bare_mm, with_mm, length_mm].map(|mm| show::length(mm, task.units));
    let larger = format!("a round bar of {with} or more, {length} long, in the shop's list or the job's own");
    Reason {
        rule: "no-bar-will-do",
        place: "stock".to_string(),
        says: format!(
            "{}; the part's corners need a round of {bare_words} at least; {}",
            choice.says,
            choice.refused(task.units).join("; ")
        ),
        value: task.bar_size_mm,
        limit: with_mm,
        unit: "mm",
        way_out: match binding {
            Some(reason) => format!("from {}: {}", bar_words(&farthest.job.stock.form, task.units), reason.way_out),
            None => larger,
        },
    }
}
