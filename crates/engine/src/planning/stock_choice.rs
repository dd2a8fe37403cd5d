//! Which of the bars that the shop lists: each that may hold the part planned as if the job gave it, compared by what
//! the job seeks.
//!
//! A bar's own reasons (`stock`) come first: they cost nothing. Of the rest, those with the least metal to cut away are
//! planned, a dozen at most; after the first few a bar whose fewest minutes are already more than the best found, with
//! every piece good, is not planned to its end. What is chosen is therefore no worse than any bar that was planned or is
//! told as slower.

use super::stock_fit::refusal;
use super::stock_rows::{Tried, in_order, none_will_do, plan_or_refuse, row, says, worth};
use super::{search, stock};
use crate::job::{AnyJob, BarForm, Job, JobMaterial, Seek, Stock, StockWish};
use crate::part::Place;
use crate::plan::{Assumed, Plan, StockChoice};
use crate::problem::{Problem, Source};
use crate::quantity::{Length, Plain, Units, mm, show};
use crate::shape::least_length_mm;
use crate::shop::{Blanks, Shop, ShopBar};
use crate::task::{Task, resolve, skin_of};

/// Bars planned to their end whatever they take: a table of those with the least metal.
const ALWAYS_PLANNED: usize = 6;
/// Bars planned to their end at most.
const MOST_PLANNED: usize = 12;
/// Bars whose fewest minutes are worked out at most.
const MOST_LOOKED_AT: usize = 24;
/// A blank is sawn to whole millimetres, or to sixteenths of an inch.
const SAWN_TO: [f64; 2] = [1.0, 25.4 / 16.0];
/// Rounding of the machine is no step to the next whole millimetre.
const ROUNDING: f64 = 1e-6;

/// One bar of the list, or the job's own.
pub(super) struct Candidate {
    /// The job with it.
    pub job: Job,
    /// The same resolved.
    pub task: Task,
    /// It is the one that the job gives.
    pub of_the_job: bool,
    /// Why it will not do, before anything is planned.
    pub refused: Option<(&'static str, String)>,
}

/// What was looked at.
struct Looked {
    tried: Vec<(Candidate, Tried)>,
    choice: StockChoice,
}

/// Plans a job with a shop; where the job leaves its bar open, from the bar of the shop's list that serves it best, with
/// the others beside it.
///
/// # Errors
/// What does not let a plan be made at all, each at its place: also where the shop lists no bar of that material.
pub fn plan_any(job: &AnyJob, shop: &Shop) -> Result<Plan, Vec<Problem>> {
    match job {
        AnyJob::Given(job) => super::plan(job, shop),
        AnyJob::Open(open) => plan_open(open, shop),
    }
}

/// The bars of the shop's list for a job, side by side, the job's own among them where it gives one.
///
/// # Errors
/// As [`plan_any`].
pub fn stock_choice(job: &AnyJob, shop: &Shop) -> Result<StockChoice, Vec<Problem>> {
    Ok(match job {
        AnyJob::Given(given) => looked(&wish_of(given), Some(given), shop)?.choice,
        AnyJob::Open(open) => looked(open, None, shop)?.choice,
    })
}

/// The job with its bar: the one that it gives, or the best of the shop's list; `None`: none will do.
///
/// # Errors
/// As [`plan_any`].
pub fn with_bar(job: &AnyJob, shop: &Shop) -> Result<Option<Job>, Vec<Problem>> {
    match job {
        AnyJob::Given(job) => Ok(Some(job.clone())),
        AnyJob::Open(open) => {
            let looked = looked(open, None, shop)?;
            Ok(looked.choice.best.map(|at| looked.tried[at].0.job.clone()))
        }
    }
}

fn plan_open(open: &Job<StockWish>, shop: &Shop) -> Result<Plan, Vec<Problem>> {
    let Looked { mut tried, choice } = looked(open, None, shop)?;
    if choice.best.is_none() {
        return none_will_do(&tried, choice).ok_or_else(|| vec![nothing_listed(open, shop)]);
    }
    match tried.swap_remove(0) {
        (_, Tried::Planned(mut plan)) => {
            plan.assumed.insert(0, taken(&plan, &choice));
            plan.stock_choice = Some(choice);
            Ok(*plan)
        }
        _ => Err(vec![nothing_listed(open, shop)]),
    }
}

/// A bar that nobody gave is one of the things that the plan takes.
fn taken(plan: &Plan, choice: &StockChoice) -> Assumed {
    Assumed {
        what: "the bar".to_string(),
        value: plan.asked.stock.clone(),
        source: format!("the best of the {} bars of this material that the shop lists", choice.rows.len()),
    }
}

/// A job that gives its bar asks for any other of that material.
fn wish_of(given: &Job) -> Job<StockWish> {
    given.from_bar(StockWish { shape: None, length: None, material: given.stock.material.clone(), surface: None })
}

fn looked(open: &Job<StockWish>, given: Option<&Job>, shop: &Shop) -> Result<Looked, Vec<Problem>> {
    let mut candidates = Vec::new();
    if let Some(job) = given {
        let task = resolve(job, shop)?;
        let refused = refusal(&task, &job.stock.form, false);
        candidates.push(Candidate { refused, job: job.clone(), task, of_the_job: true });
    }
    for bar in shop.stock.iter().filter(|bar| may_be(open, bar)) {
        let candidate = candidate(open, bar, shop)?;
        if !candidates.iter().any(|known| is_same(known, &candidate)) {
            candidates.push(candidate);
        }
    }
    if candidates.iter().all(|candidate| candidate.of_the_job) {
        return Err(vec![nothing_listed(open, shop)]);
    }
    let mut tried = tried(candidates);
    in_order(&mut tried);
    // They stand in order: what was planned comes first.
    let best = tried.first().and_then(|(_, tried)| matches!(tried, Tried::Planned(_)).then_some(0));
    let material = tried.first().map_or(String::new(), |(candidate, _)| candidate.task.material.label.clone());
    let choice = StockChoice { says: says(&tried), rows: tried.iter().map(row).collect(), best, material };
    Ok(Looked { tried, choice })
}

fn is_same(one: &Candidate, other: &Candidate) -> bool {
    let [a, b] = [one, other].map(|candidate| &candidate.job.stock);
    a.form.is_same_as(&b.form) && one.task.skin == other.task.skin && (one.of_the_job || a.length == b.length)
}

/// Whether a listed bar is one that the job asks for.
fn may_be(open: &Job<StockWish>, bar: &ShopBar) -> bool {
    let wish = &open.stock;
    let of_it = match &wish.material {
        JobMaterial::Named(name) => *name == bar.material,
        JobMaterial::Own(own) => own.name == bar.material,
    };
    of_it
        && wish.shape.is_none_or(|shape| shape == bar.form.shape())
        && wish.surface.is_none_or(|skin| skin_of(bar) == Some(skin))
}

fn candidate(open: &Job<StockWish>, bar: &ShopBar, shop: &Shop) -> Result<Candidate, Vec<Problem>> {
    let with = |length: Length| {
        open.from_bar(Stock {
            form: bar.form,
            length,
            material: open.stock.material.clone(),
            surface: bar.surface.or(open.stock.surface),
        })
    };
    // Which ends are cut does not hang on the length.
    let first = resolve(&with(open.part.length.aim()), shop)?;
    let (length_mm, short) = blank_mm(open, bar, &first);
    let job = with(mm(length_mm));
    let task = resolve(&job, shop)?;
    let refused = short.or_else(|| refusal(&task, &bar.form, true));
    Ok(Candidate { job, task, of_the_job: false, refused })
}

/// Length of the blank: what the job asks, else the least that is usual; the shortest piece on hand that is as long, or
/// the longest that there is. With it why that will not do, if the job asks for more.
fn blank_mm(open: &Job<StockWish>, bar: &ShopBar, task: &Task) -> (f64, Option<(&'static str, String)>) {
    let asked = open.stock.length.map(Plain::plain);
    let wanted = asked.unwrap_or_else(|| usual_mm(&bar.form, task));
    let (there, longest) = match &bar.blanks {
        Blanks::Sawn { longest: None } => return (wanted, None),
        Blanks::Sawn { longest: Some(longest) } => (wanted.min(longest.plain()), longest.plain()),
        Blanks::Pieces(pieces) => {
            let longest = pieces.last().map_or(0.0, |length| length.plain());
            let enough = pieces.iter().map(|length| length.plain()).find(|length| *length >= wanted - ROUNDING);
            (enough.unwrap_or(longest), longest)
        }
    };
    let short = (asked.is_some() && longest < wanted - ROUNDING).then(|| {
        let [longest, wanted] = [longest, wanted].map(|length| show::length(length, task.units));
        ("blank-shorter-than-asked", format!("it comes {longest} long at most, the job asks for {wanted}"))
    });
    (there, short)
}

/// The least length that is usual for the part from this bar, as a saw is set to.
fn usual_mm(form: &BarForm, task: &Task) -> f64 {
    let ends = task.faces.iter().filter(|face| matches!(face.place, Place::Front | Place::Back) && face.cut).count();
    let (one, other) = form.sizes_mm();
    let clean_up_mm = task.wishes.clean_up.map_or(0.0, Plain::plain) * ends as f64;
    let usual_mm = least_length_mm(task.part_length_mm, other.map_or(one, |other| one.max(other)), ends.min(2) as u8);
    let enough_mm = usual_mm.max(task.part_length_mm + clean_up_mm);
    if ends == 0 {
        return enough_mm;
    }
    let step_mm = SAWN_TO[usize::from(task.units == Units::Inch)];
    (enough_mm / step_mm - ROUNDING).ceil() * step_mm
}

fn nothing_listed(open: &Job<StockWish>, shop: &Shop) -> Problem {
    let wish = &open.stock;
    let name = match &wish.material {
        JobMaterial::Named(name) => name,
        JobMaterial::Own(own) => &own.name,
    };
    let mut listed: Vec<&str> = shop.stock.iter().map(|bar| bar.material.as_str()).collect();
    listed.sort_unstable();
    listed.dedup();
    let what = [wish.shape.map(|shape| shape.name()), wish.surface.map(crate::task::surface_words)];
    let what: String = what.into_iter().flatten().map(|word| format!("{word} ")).collect();
    Problem {
        file: Source::Job,
        at: "stock.form".to_string(),
        says: format!("the shop lists no {what}bar of {name} to choose from"),
        accepts: if listed.is_empty() {
            "a bar of the job's own: form, sizes, length; or [[stock]] in the shop's file".to_string()
        } else {
            format!("a bar of the job's own: form, sizes, length; the shop lists bars of: {}", listed.join(", "))
        },
    }
}

/// Tries the bars: the job's own first, then those with the least metal to cut away.
fn tried(mut candidates: Vec<Candidate>) -> Vec<(Candidate, Tried)> {
    candidates.sort_by(|one, other| {
        let metal = removed_mm3(&one.task).total_cmp(&removed_mm3(&other.task));
        other.of_the_job.cmp(&one.of_the_job).then(metal)
    });
    let (mut best, mut planned, mut looked_at) = (f64::INFINITY, 0, 0);
    let mut try_it = |candidate: &Candidate| {
        if let Some((rule, says)) = &candidate.refused {
            return Tried::Refused(rule, says.clone());
        }
        if looked_at >= MOST_LOOKED_AT {
            return Tried::NotLookedAt;
        }
        looked_at += 1;
        if planned >= ALWAYS_PLANNED
            && let Some(least) = slower(&candidate.task, best)
        {
            return Tried::Slower(least);
        }
        if planned >= MOST_PLANNED {
            return Tried::NotLookedAt;
        }
        planned += 1;
        let tried = plan_or_refuse(&candidate.task);
        if let Tried::Planned(plan) = &tried {
            best = best.min(worth(&candidate.task, plan));
        }
        tried
    };
    candidates
        .into_iter()
        .map(|candidate| {
            let tried = try_it(&candidate);
            (candidate, tried)
        })
        .collect()
}

fn removed_mm3(task: &Task) -> f64 {
    let report = stock::report(task);
    report.volume_mm3 * (1.0 - report.used_share)
}

/// Minutes that a bar takes at least, where that is more than the best found; most good pieces may come from any.
fn slower(task: &Task, best: f64) -> Option<f64> {
    if best.is_infinite() || task.order.seek == Seek::Truest {
        return None;
    }
    let fewest = search::fewest(task)?;
    let blank = if task.order.seek == Seek::Quickest { 0.0 } else { task.scatter.new_blank_minutes };
    let least = fewest.minutes + blank;
    (least > best).then_some(least)
}
