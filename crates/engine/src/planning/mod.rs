//! Planning: the only room that sees all others, through small values.
//!
//! `blank` (the piece now) → `lie` (how it lies, what the jaws find) → `window` (how deep) → `hold`
//! (contact points) → `speed`, `feeds`, `machine`, `cuts`, `judge` (cuts that hold) → `facing` (a set-up
//! worked out), `twins` (once for all that are alike) → `measure`, `way` (with its minutes) → `search` (the
//! order) → `report` and `reasons` (the plan's words and numbers).

mod advice;
mod best;
mod binding;
mod blank;
mod bored;
mod checks;
mod cuts;
mod exhaustive;
mod facing;
mod facts;
mod feeds;
mod firmer;
mod floor;
mod half_centre;
mod helps;
mod hold;
mod jaws_out;
mod judge;
mod last_hold;
mod leaning;
mod ledge;
mod left;
mod lie;
mod machine;
mod marks;
mod measure;
mod next;
mod overhang;
mod quality;
mod reasons;
mod report;
mod reversed;
mod scene;
mod search;
mod seat;
mod sits;
mod speed;
mod stock;
mod stock_choice;
mod stock_fit;
mod stock_rows;
mod stop;
mod surface;
mod swing;
mod twins;
mod vee;
mod way;
mod weigh;
mod window;
mod work;
mod workings;

pub use best::exhaustive_per_good;
pub use exhaustive::{Exhausted, exhaustive};
pub use next::{Ask, Next, NoAnswer, next};
pub use search::{Fewest, fewest};
pub use stock_choice::{plan_any, stock_choice, with_bar};
pub use way::{Custom, Refusal, Way, ways_alone};
pub use weigh::{weigh, weigh_any};

use crate::hands;
use crate::job::Job;
use crate::plan::{Asked, Minutes, Outcome, Plan, Reason, Search, SetUp};
use crate::problem::Problem;
use crate::quantity::show;
use crate::shop::Shop;
use crate::task::{self, Task, resolve, surface_words};

/// Plans a job with a shop.
///
/// # Errors
/// What does not let a plan be made at all, each at its place. A job that cannot be done is a plan
/// with outcome `Impossible`, not an error.
pub fn plan(job: &Job, shop: &Shop) -> Result<Plan, Vec<Problem>> {
    Ok(plan_task(&resolve(job, shop)?))
}

fn plan_task(task: &Task) -> Plan {
    let reasons = stock::reasons(task);
    if !reasons.is_empty() {
        // Without metal for the part no order can lead to it: that is proven, and nothing was to be sought.
        let nothing_sought = Search { proven_best: true, ..Search::default() };
        return told(task, Outcome::Impossible(reasons), Vec::new(), nothing_sought);
    }
    let found = search::search(task);
    if found.set_ups.is_empty()
        && let Some((turned, found)) = reversed::search_turned(task)
    {
        return planned(&turned, &found);
    }
    if found.set_ups.is_empty() {
        if let Some(reason) = as_asked(task) {
            return told(task, Outcome::Impossible(vec![reason]), Vec::new(), found.search);
        }
        let mut reasons = reasons::reasons(task, &found.blocked);
        advice::put_in(task, &mut reasons);
        if !found.search.proven_best {
            reasons.push(stopped(task));
        }
        return told(task, Outcome::Impossible(or_nothing_to_cut(reasons)), Vec::new(), found.search);
    }
    planned(task, &found)
}

/// The plan of an order that was found.
fn planned(task: &Task, found: &search::Found) -> Plan {
    let mut set_ups: Vec<SetUp> =
        found.set_ups.iter().zip(1..).map(|(chosen, number)| report::set_up(task, number, chosen)).collect();
    stop::fill(task, &mut set_ups, &found.set_ups);
    let mut plan = told(task, Outcome::Planned, set_ups, found.search);
    plan.forecast = Some(quality::quality(task, found, &plan.set_ups));
    // Before what stands at the head of every plan.
    let of_the_jaws = marks::notices(task, &found.set_ups)
        .into_iter()
        .chain(report::weak_by_hand_notice(&plan.set_ups))
        .chain(bored::notice(task, &found.set_ups))
        .chain(ledge::notice(task, &found.set_ups))
        .chain(jaws_out::notice(task, &found.set_ups))
        .chain(leaning::notice(task, &found.set_ups));
    let said = task.notices.len().min(plan.cautions.len());
    plan.cautions.splice(said..said, of_the_jaws);
    plan
}

/// Whether it is what the job decides of the order that leaves none: sought once more without it.
fn as_asked(task: &Task) -> Option<Reason> {
    if task.order.is_free() {
        return None;
    }
    let order = task::OrderFacts { seek: task.order.seek, first: Vec::new(), seated: Vec::new() };
    let free = search::search(&Task { order, ..task.clone() });
    let names =
        |faces: Vec<usize>| faces.iter().map(|&face| task.faces[face].name.as_str()).collect::<Vec<_>>().join(", ");
    let works = names(free.set_ups.iter().map(|chosen| chosen.way.facing.lie.face).collect());
    let decided = task.order.first.len() + task.order.seated.len();
    (!free.set_ups.is_empty()).then(|| Reason {
        rule: "order-as-asked",
        place: "order".to_string(),
        says: "no order leads to the part with what the job decides of it".to_string(),
        value: decided as f64,
        limit: 0.0,
        unit: "1",
        way_out: format!("leave the order free: {works} works"),
    })
}

/// Beyond some faces not every order is looked at.
fn stopped(task: &Task) -> Reason {
    let faces = task.faces.iter().filter(|face| face.cut).count();
    Reason {
        rule: "not-all-looked-at",
        place: "part".to_string(),
        says: format!("{faces} faces are too many to look at every order: none was found, though one may exist"),
        value: faces as f64,
        limit: f64::from(search::MOST_FACES),
        unit: "1",
        way_out: "plan the part in two jobs".to_string(),
    }
}

/// A part of which every face stays as the bar has it needs no plan.
fn or_nothing_to_cut(reasons: Vec<Reason>) -> Vec<Reason> {
    if !reasons.is_empty() {
        return reasons;
    }
    vec![Reason {
        rule: "nothing-to-cut",
        place: "part".to_string(),
        says: "every face stays as the bar has it: there is nothing to cut".to_string(),
        value: 0.0,
        limit: 1.0,
        unit: "1",
        way_out: "name fewer faces that are left as they are".to_string(),
    }]
}

fn told(task: &Task, outcome: Outcome, set_ups: Vec<SetUp>, search: Search) -> Plan {
    let sum = |part: fn(&Minutes) -> f64| set_ups.iter().map(|set_up: &SetUp| part(&set_up.minutes)).sum();
    let minutes = Minutes {
        handling: sum(|minutes| minutes.handling),
        cutting: sum(|minutes| minutes.cutting),
        measuring: sum(|minutes| minutes.measuring),
    };
    let stock = stock::report(task);
    let planned = matches!(outcome, Outcome::Planned);
    let workings = workings::plan(task, &stock, minutes, &set_ups);
    let notices = [measure::coarse_notice(&set_ups), measure::fine_notice(task, &set_ups)];
    let mut plan = Plan {
        title: task.title.clone(),
        units: task.units,
        asked: asked(task),
        outcome,
        minutes,
        set_ups,
        forecast: None,
        weighed: None,
        search,
        assumed: task.assumed.clone(),
        cautions: stock::short_notice(task, &stock)
            .filter(|_| planned)
            .into_iter()
            .chain(task.notices.iter().filter(|_| planned).cloned())
            .chain(notices.into_iter().flatten())
            .collect(),
        stock,
        stock_choice: None,
        scene: scene::scene(task),
        workings,
    };
    hands::fill(&mut plan, &facts::facts(task));
    plan
}

fn asked(task: &Task) -> Asked {
    let length = show::stock_size(task.bar_length_mm, task.units);
    let size = stock_rows::sizes_words(task.bar_sizes_mm, task.units);
    Asked {
        part: task.part_words.clone(),
        stock: format!("{} bar {size}, {length} long, {}", task.bar_form, surface_words(task.skin)),
        material: task.material.label.clone(),
        lathe: task.lathe.name.clone(),
        chuck: task.chuck.name.clone(),
        tool: task.tools.iter().map(|tool| tool.name.clone()).collect::<Vec<_>>().join(" or "),
        limits: task.limits_from.clone(),
        requirements: task.requirements.clone(),
        gauges: task.gauges.iter().map(measure::shop_gauge).collect(),
    }
}
