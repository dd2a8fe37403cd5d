//! The cuts for one face: the coarsest feed that costs no minutes to speak of, as deep as machine and grip allow.

use super::facing::CannotFace;
use super::feeds::{Feeds, feed_of, feeds};
use super::floor::floor_at;
use super::hold::Hold;
use super::judge::{LeastSlip, judge};
use super::machine::{deepest_by_machine, least_cut_mm};
use super::work::Work;
use crate::cutting;
use crate::dial::{Cut, CutKind, SplitFault, Wanted, split};
use crate::quantity::Plain;
use crate::task::Task;

/// What held the depth of the rough cuts down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DepthBinding {
    /// Nothing: all in few cuts.
    Nothing,
    /// The tool's deepest cut.
    Tool,
    /// The job's wish.
    Wish,
    /// The chip: no deeper for its feed.
    Chip,
    /// Mean power over a turn.
    Power,
    /// Peak power or torque.
    Torque,
    /// First slip.
    Slip,
    /// A jaw slips once the edge is worn.
    Worn,
    /// A point of a jaw lifts.
    Lift,
    /// Spring at the tool.
    Spring,
    /// The classical hand formulas.
    Hand,
}

/// Factors by which too deep a cut is made shallower before it is tried again: a little less than the
/// factor found, since force grows a little slower than depth.
pub const BACK_OFF: f64 = 0.97;
/// Tries before a depth is given up; each takes at least 3 % off.
pub const TRIES: usize = 24;

/// Cuts at one feed that hold.
pub struct Trial {
    /// The cuts.
    pub cuts: Vec<Cut>,
    /// Their feeds.
    pub feeds: Feeds,
    /// Least factors over them.
    pub slip: LeastSlip,
    /// How the chip of the deepest rough cut looks.
    chip: ChipForm,
    /// What held their depth down.
    pub binding: DepthBinding,
    /// The first goes under the skin, if there is one.
    pub under_skin: bool,
    /// Minutes in the cut.
    pub cutting_minutes: f64,
    /// With the minutes between the passes: what cuts are compared by.
    minutes: f64,
}

/// The cuts at the coarsest feed, unless a finer one takes a tenth fewer minutes by no unusually deep cut, or the coarse
/// one leaves too shallow a cut for it. On a skin those whose first cut goes under it come before all others, finer feed or not.
pub fn best_cuts(work: &Work, held: &Hold, rpm: f64) -> Result<Trial, CannotFace> {
    let mut best: Option<Trial> = None;
    let mut failed = None;
    let like = work.task.rules.like_cutting_minutes;
    for feeds in feeds(work, cutting::speed_m_min(rpm, 2.0 * work.start_radius_mm)).into_iter().rev() {
        match try_feed(work, held, rpm, feeds) {
            Ok(trial) if best.as_ref().is_none_or(|so_far| better(&trial, so_far, like)) => best = Some(trial),
            Ok(_) => {}
            Err(why) => failed = Some(why),
        }
        // A finer feed takes longer for the same cuts: once tool or chip bounds the depth it cannot win.
        if best.as_ref().is_some_and(|trial| !by_load(trial.binding)) {
            break;
        }
    }
    best.ok_or_else(|| failed.unwrap_or(CannotFace::Split(SplitFault::TooThin(work.total_mm, 0.0))))
}

/// Whether a finer feed is better. `like`: minutes within this share count as equal, and the coarser feed is better.
fn better(finer: &Trial, so_far: &Trial, like: f64) -> bool {
    if finer.under_skin != so_far.under_skin {
        return finer.under_skin;
    }
    match (finer.chip, so_far.chip) {
        (finer, so_far) if (finer == ChipForm::Flat) != (so_far == ChipForm::Flat) => so_far == ChipForm::Flat,
        (ChipForm::Slender, _) => false,
        _ => finer.minutes < so_far.minutes * (1.0 - like),
    }
}

/// Whether the load on machine or grip holds the depth down: a finer feed then takes a deeper cut.
fn by_load(binding: DepthBinding) -> bool {
    !matches!(binding, DepthBinding::Nothing | DepthBinding::Tool | DepthBinding::Wish | DepthBinding::Chip)
}

/// How deep the deepest rough cut is for its feed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum ChipForm {
    /// Machine or grip hold the depth down so far that a finer feed suits it better.
    Flat,
    /// As the trade has it.
    Usual,
    /// Deeper than usual for its feed.
    Slender,
}

fn chip_form(task: &Task, cuts: &[Cut], feeds: Feeds, binding: DepthBinding) -> ChipForm {
    let rough = cuts.iter().filter(|cut| cut.kind == CutKind::Rough).map(|cut| cut.depth_mm);
    let Some(deepest) = rough.reduce(f64::max) else { return ChipForm::Usual };
    if by_load(binding) && deepest < task.rules.least_depth_over_feed * feeds.rough_mm {
        ChipForm::Flat
    } else if deepest > task.rules.usual_depth_over_feed * feeds.rough_mm {
        ChipForm::Slender
    } else {
        ChipForm::Usual
    }
}

/// Rounding of the machine makes no cut shallower.
const ROUNDING_MM: f64 = 1e-6;

fn try_feed(work: &Work, held: &Hold, rpm: f64, feeds: Feeds) -> Result<Trial, CannotFace> {
    let (mut deepest, mut binding) = deepest_by_machine(work, rpm, feeds.rough_mm)?;
    let mut last = None;
    for _ in 0..TRIES {
        // Cuts that the grip holds down until no dial can divide them are refused for the grip.
        let (cuts, under_skin) = match split_cuts(work, deepest) {
            Ok(cuts) => cuts,
            Err(why) => return Err(last.unwrap_or(why)),
        };
        if cuts.iter().filter(|cut| cut.kind == CutKind::Rough).count() <= 1 && binding == DepthBinding::Tool {
            binding = DepthBinding::Nothing;
        }
        match judge(work, held, &cuts, feeds) {
            Ok(slip) => {
                let cutting_minutes = cutting_minutes(work, &cuts, feeds, rpm);
                let minutes = cutting_minutes + work.task.minutes.next_pass * cuts.len() as f64;
                let chip = chip_form(work.task, &cuts, feeds, binding);
                return Ok(Trial { cuts, feeds, slip, chip, binding, under_skin, cutting_minutes, minutes });
            }
            Err(short) => {
                let taken = cuts.iter().map(|cut| cut.depth_mm).fold(0.0, f64::max);
                last = Some(short.says(taken));
                binding = short.binding;
                deepest = deepest.min(taken) * (short.share * BACK_OFF).clamp(0.3, BACK_OFF);
                if deepest < least_cut_mm(work) {
                    break;
                }
            }
        }
    }
    Err(last.unwrap_or(CannotFace::Slips(0.0, work.required, deepest)))
}

/// The cuts for a deepest cut; under the skin where that is possible.
fn split_cuts(work: &Work, deepest_mm: f64) -> Result<(Vec<Cut>, bool), CannotFace> {
    let (task, tool) = (work.task, work.tool);
    let least_finish_mm = cutting::least_finish_mm(&task.material, tool.edge.tool);
    let wish = task.wishes.finishing_cut.map_or(task.rules.finishing_cut_mm, Plain::plain);
    let wanted = |least_first_mm: f64| Wanted {
        total_mm: work.total_mm,
        finish_mm: wish.max(least_finish_mm).min(deepest_mm),
        least_finish_mm: least_finish_mm.min(deepest_mm),
        deepest_mm,
        least_first_mm,
        least_mm: least_finish_mm.min(deepest_mm),
    };
    if work.on_skin {
        let skin = task.rules.under_skin_mm.min(work.total_mm);
        if let Ok(cuts) = split(&wanted(skin), &task.lathe.dial) {
            return Ok(judged(work, cuts));
        }
    }
    split(&wanted(0.0), &task.lathe.dial).map(|cuts| judged(work, cuts)).map_err(CannotFace::Split)
}

/// The cuts in their order, and whether the first goes under a skin; where there is none nothing need.
fn judged(work: &Work, cuts: Vec<Cut>) -> (Vec<Cut>, bool) {
    let cuts = deeper_first(work.task, cuts);
    let first_mm = cuts.first().map_or(0.0, |cut| cut.depth_mm);
    let under = first_mm >= work.task.rules.under_skin_mm - ROUNDING_MM;
    (cuts, under || !work.on_skin)
}

/// Of a single rough cut and a finishing cut deeper than wished the deeper goes first; both are within what
/// the tool takes.
fn deeper_first(task: &Task, mut cuts: Vec<Cut>) -> Vec<Cut> {
    let wish = task.wishes.finishing_cut.map_or(task.rules.finishing_cut_mm, Plain::plain);
    if let [rough, finish] = cuts.as_mut_slice()
        && finish.marks > rough.marks
        && finish.depth_mm > wish + task.lathe.dial.mark_depth_mm / 2.0
    {
        std::mem::swap(&mut rough.depth_mm, &mut finish.depth_mm);
        std::mem::swap(&mut rough.marks, &mut finish.marks);
        (rough.total_mm, rough.total_marks) = (rough.depth_mm, rough.marks);
    }
    cuts
}

/// Minutes in the cut, approach included.
fn cutting_minutes(work: &Work, cuts: &[Cut], feeds: Feeds, rpm: f64) -> f64 {
    let rules = &work.task.rules;
    cuts.iter()
        .map(|cut| {
            let floor = floor_at(work.piece, work.place, work.lie, work.lie.top_mm - cut.total_mm);
            cutting::facing_minutes(
                floor.start_radius_mm + rules.approach_mm,
                floor.end_radius_mm,
                feed_of(cut, feeds),
                rpm,
            )
        })
        .sum()
}
