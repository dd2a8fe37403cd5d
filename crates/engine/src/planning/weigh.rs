//! Other orders beside the plan that is taken: the quickest, the truest, the one between; the next best, and why it loses.

use std::rc::Rc;

use super::helps;
use super::quality::{Made, form_mm, words_of};
use super::report;
use super::reversed;
use super::search::{Chosen, Sought, States, alike, to_cut};
use super::stock_choice::with_bar;
use super::way::Custom;
use super::window::SeatOn;
use crate::accuracy::Forecast;
use crate::job::{AnyJob, Job, Seek};
use crate::plan::{Chance, Choice, Minutes, RunnerUp, SetUp, Weighed};
use crate::problem::Problem;
use crate::quantity::bare::several;
use crate::shop::Shop;
use crate::task::{Task, resolve};

/// What a plan may be the best for, as a job asks for it.
const SEEKS: [(Seek, &str); 3] = [(Seek::Balanced, "balanced"), (Seek::Quickest, "quickest"), (Seek::Truest, "truest")];

/// A plan as it is weighed.
pub(super) struct Judged {
    set_ups: Vec<Chosen>,
    best_for: Vec<&'static str>,
    minutes: Minutes,
    /// Its errors.
    pub made: Made,
    /// What comes of them.
    pub forecast: Forecast,
}

/// Weighs other orders and changes against the plan of a job; `None`: there is no plan, or too many faces to look at
/// every order.
///
/// # Errors
/// What does not let a plan be made at all, each at its place.
pub fn weigh(job: &Job, shop: &Shop) -> Result<Option<Weighed>, Vec<Problem>> {
    let task = resolve(job, shop)?;
    if !super::stock::reasons(&task).is_empty() {
        return Ok(None);
    }
    let turned = || reversed::turned(&task).and_then(|turned| weighed(&turned));
    Ok(weighed(&task).or_else(turned))
}

/// The same of a job that may leave its bar open: weighed with the bar that is chosen.
///
/// # Errors
/// As [`weigh`].
pub fn weigh_any(job: &AnyJob, shop: &Shop) -> Result<Option<Weighed>, Vec<Problem>> {
    with_bar(job, shop)?.map_or(Ok(None), |job| weigh(&job, shop))
}

fn weighed(task: &Task) -> Option<Weighed> {
    let (mut states, taken) = [Custom::Trade, Custom::Need].into_iter().find_map(|custom| {
        let mut states = States::new(task, custom, to_cut(task));
        let taken = states.plan_that_holds(&Sought::of(task));
        (!taken.is_empty()).then_some((states, taken))
    })?;
    if !states.exact {
        return None;
    }
    let mut judged = vec![Judged::of(task, taken)];
    for (seek, name) in SEEKS {
        let plan = match seek == task.order.seek {
            true => judged[0].set_ups.clone(),
            false => states.plan_that_holds(&Sought { seek, ..Sought::of(task) }),
        };
        add(task, &mut judged, plan, (seek, name));
    }
    let known: Vec<Vec<Chosen>> = judged.iter().map(|one| one.set_ups.clone()).collect();
    let sought = Sought { seek: task.order.seek, other_than: &known[0], known: &known[1..] };
    let other = states.plan_that_holds(&sought);
    let runner_up = (!other.is_empty()).then(|| Judged::of(task, other));
    Some(told(task, &judged, runner_up.as_ref()))
}

/// Adds a plan that is the best for something, once; where it gains nothing on the plan taken, that is the best for it.
fn add(task: &Task, judged: &mut Vec<Judged>, plan: Vec<Chosen>, (seek, best_for): (Seek, &'static str)) {
    let same = |one: &Judged| {
        alike(&one.set_ups, &plan) && one.set_ups.iter().zip(&plan).all(|(one, other)| one.turn == other.turn)
    };
    if let Some(known) = judged.iter_mut().find(|one| same(one)) {
        known.best_for.push(best_for);
        return;
    }
    let found = (!plan.is_empty()).then(|| Judged::of(task, plan)).filter(|found| found.gains(task, seek, &judged[0]));
    match found {
        Some(found) => judged.push(Judged { best_for: vec![best_for], ..found }),
        None => judged[0].best_for.push(best_for),
    }
}

fn told(task: &Task, judged: &[Judged], runner_up: Option<&Judged>) -> Weighed {
    let taken = &judged[0];
    let choice = |one: &Judged| one.choice(task, std::ptr::eq(one, taken));
    Weighed {
        choices: judged.iter().map(choice).collect(),
        runner_up: runner_up
            .map(|other| RunnerUp { plan: other.choice(task, false), loses: loses(task, taken, other) }),
        helps: helps::helps(task, taken),
        blocking: helps::blocking(task, taken),
    }
}

impl Judged {
    fn of(task: &Task, set_ups: Vec<Chosen>) -> Judged {
        let told: Vec<SetUp> =
            set_ups.iter().zip(1..).map(|(chosen, number)| report::set_up(task, number, chosen)).collect();
        let made = Made::of(task, &set_ups, form_mm(task, &set_ups, &told));
        let forecast = made.forecast(super::quality::PIECES, super::quality::SEED);
        let sum = |part: fn(&Minutes) -> f64| told.iter().map(|set_up| part(&set_up.minutes)).sum();
        let minutes = Minutes {
            handling: sum(|minutes| minutes.handling),
            cutting: sum(|minutes| minutes.cutting),
            measuring: sum(|minutes| minutes.measuring),
        };
        Judged { set_ups, best_for: Vec::new(), minutes, made, forecast }
    }

    /// What the job seeks, the less the better.
    fn sought(&self, task: &Task) -> f64 {
        let share = self.forecast.all.share;
        match task.order.seek {
            Seek::Balanced => self.per_good(task, share),
            Seek::Quickest => self.minutes.total(),
            Seek::Truest => 1.0 / share,
        }
    }

    /// Whether it is better than another plan in what is sought, by enough to be told.
    fn gains(&self, task: &Task, seek: Seek, other: &Judged) -> bool {
        /// Minutes and shares of pieces as they are shown.
        const TOLD: (f64, f64) = (0.5, 0.01);
        let [own, others] = [self, other].map(|one| one.forecast.all.share);
        match seek {
            Seek::Balanced => self.per_good(task, own) < other.per_good(task, others) - TOLD.0,
            Seek::Quickest => self.minutes.total() < other.minutes.total() - TOLD.0,
            Seek::Truest => own > others + TOLD.1,
        }
    }

    /// Minutes for a good piece when so many are good.
    pub fn per_good(&self, task: &Task, share: f64) -> f64 {
        (self.minutes.total() + task.scatter.new_blank_minutes) / share
    }

    fn choice(&self, task: &Task, taken: bool) -> Choice {
        let share = self.forecast.all.share;
        Choice {
            best_for: self.best_for.clone(),
            order: order(task, &self.set_ups),
            minutes: self.minutes.total(),
            chance: Chance { share, error: self.forecast.all.error },
            per_good_minutes: self.per_good(task, share),
            taken,
        }
    }
}

/// "A, B, C on parallels".
fn order(task: &Task, set_ups: &[Chosen]) -> String {
    set_ups.iter().map(|chosen| step(task, chosen)).collect::<Vec<_>>().join(", ")
}

fn step(task: &Task, chosen: &Chosen) -> String {
    let facing = &chosen.way.facing;
    let seat = match facing.depth.seat {
        SeatOn::Nothing => "",
        SeatOn::ChuckFace => " on the chuck face",
        SeatOn::Parallels(_) => " on parallels",
        SeatOn::JawStep => " on the jaw steps",
        SeatOn::Stop(_) => " at the stop",
    };
    format!("{}{seat}", task.faces[facing.lie.face].name)
}

/// Why a plan is not taken: what it takes more or less, and which requirement suffers or gains most.
fn loses(task: &Task, taken: &Judged, other: &Judged) -> String {
    let same_words = order(task, &taken.set_ups) == order(task, &other.set_ups);
    let held = same_words.then(|| held_otherwise(task, taken, other)).flatten();
    let [of_taken, of_other] = [taken, other].map(|one| one.sought(task));
    let like = task.rules.like_plan_minutes;
    let alike = match of_other / of_taken {
        ratio if ratio < 1.0 - like => Some(
            "better on these pieces, but not on those that orders were compared on: so few are good that chance decides",
        ),
        ratio if ratio < 1.0 + like => Some("so near that the two count as alike, and this plan was found first"),
        _ => None,
    };
    let alike = alike.map(str::to_string);
    [held, Some(minutes_say(taken, other)), Some(share_says(taken, other)), worst(task, taken, other), alike]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join("; ")
}

/// Where two plans in the same words part: what the jaws are on.
fn held_otherwise(task: &Task, taken: &Judged, other: &Judged) -> Option<String> {
    let pairs = taken.set_ups.iter().zip(&other.set_ups);
    let (at, (_, otherwise)) = pairs.enumerate().find(|(_, (one, two))| !Rc::ptr_eq(&one.way, &two.way))?;
    let on = report::set_up(task, at as u32 + 1, otherwise)
        .jaws
        .iter()
        .map(|jaw| jaw.bears_on.clone())
        .collect::<Vec<_>>()
        .join(", ");
    Some(format!("in set-up {} the jaws are on {on}", at + 1))
}

fn minutes_say(taken: &Judged, other: &Judged) -> String {
    let more = other.minutes.total() - taken.minutes.total();
    let parts = [
        ("handling", other.minutes.handling - taken.minutes.handling),
        ("cutting", other.minutes.cutting - taken.minutes.cutting),
        ("measuring", other.minutes.measuring - taken.minutes.measuring),
    ];
    let most = parts.into_iter().max_by(|one, two| (one.1 * more.signum()).total_cmp(&(two.1 * more.signum())));
    let mostly = most.map_or("", |(name, _)| name);
    match more {
        more if more.abs() < 0.5 => "as many minutes".to_string(),
        more if more > 0.0 => format!("{} more, mostly {mostly}", several(more.round() as usize, "minute")),
        more => format!("{} less, mostly {mostly}", several(-more.round() as usize, "minute")),
    }
}

fn share_says(taken: &Judged, other: &Judged) -> String {
    let [of_taken, of_other] =
        [taken, other].map(|one| Chance { share: one.forecast.all.share, error: one.forecast.all.error }.of_100());
    if of_taken == of_other {
        return format!("as many good pieces, {of_other} of 100");
    }
    format!("{of_other} of 100 good instead of {of_taken}")
}

/// The requirement whose chance differs most, if by a hundredth or more.
fn worst(task: &Task, taken: &Judged, other: &Judged) -> Option<String> {
    /// A difference of less is not told.
    const LEAST: f64 = 0.01;
    let chances = |one: &Judged| -> Vec<(String, f64)> {
        let told = one.forecast.told.iter().map(|told| told.chance.share);
        one.made.checks().iter().map(|check| words_of(task, check)).zip(told).collect()
    };
    let of_taken = chances(taken);
    let sign = (other.forecast.all.share - taken.forecast.all.share).signum();
    let (name, before, after) = chances(other)
        .into_iter()
        .filter_map(|(name, after)| {
            let before = of_taken.iter().find(|(known, _)| *known == name)?.1;
            Some((name, before, after))
        })
        .max_by(|one, two| (sign * (one.2 - one.1)).total_cmp(&(sign * (two.2 - two.1))))?;
    let [before_says, after_says] = [before, after].map(|share| Chance { share, error: 0.0 }.of_100());
    (sign * (after - before) >= LEAST).then(|| {
        format!("the difference is greatest in \"{name}\", kept by {after_says} of 100 instead of {before_says}")
    })
}
