//! What frees a job that no hold carries, or whose sides leave a jaw nothing but corners: the least change first, each
//! tried by planning with it.

use std::f64::consts::FRAC_PI_2;

use super::search::search;
use super::stock;
use crate::holding;
use crate::part::Place;
use crate::plan::Reason;
use crate::quantity::{show, show::length};
use crate::shape::Section;
use crate::shop::JawSurface;
use crate::task::Task;

/// Reasons that a firmer hold can answer.
const OF_THE_HOLD: [&str; 3] = ["slip", "last-hold", "spring"];

/// A jaw finds nothing but a corner.
const CORNER: &str = "corner-on-jaw";
/// Most bars tried, each a millimetre thinner.
const MOST_BARS: f64 = 20.0;
/// How the part's sides may be made where no bar helps.
const OTHERWISE: &str = "notched soft packing made for the corner, which this plan does not reckon with, or a dividing \
                         head on a milling machine";

/// A change of the hold: what to do, and the task with it.
struct Change {
    says: String,
    task: Task,
}

/// Puts the changes that free the job into the reasons of the hold, in place of a guess.
pub fn put_in(task: &Task, reasons: &mut [Reason]) {
    if let [reason] = reasons
        && reason.rule == CORNER
    {
        reason.way_out = for_corners(task);
        return;
    }
    if !reasons.iter().all(|reason| OF_THE_HOLD.contains(&reason.rule)) || reasons.is_empty() {
        // Something else stands in the way too: no change of the hold alone would free the job.
        return;
    }
    let says = says(task);
    reasons.iter_mut().for_each(|reason| reason.way_out.clone_from(&says));
}

fn says(task: &Task) -> String {
    let changes = changes(task);
    let enough: Vec<&str> =
        changes.iter().filter(|change| frees(&change.task)).map(|change| change.says.as_str()).collect();
    if !enough.is_empty() {
        return format!("tried by planning with each alone: {}", enough.join("; or "));
    }
    let tried: Vec<&str> = changes.iter().map(|change| change.says.as_str()).collect();
    format!("none of these alone is enough (tried): {}; a larger bar, other jaws or another chuck", tried.join("; "))
}

/// A thinner round bar leaves its own round beside the last sides, where they come in pairs square to each other;
/// otherwise no bar helps.
fn for_corners(task: &Task) -> String {
    let in_pairs = all_in_square_pairs(task);
    if task.bar_form == "round" && in_pairs {
        let thinner = bars_below(task).into_iter().find(|bar_mm| frees(&with_bar(task, *bar_mm)));
        if let Some(bar_mm) = thinner {
            return format!(
                "a round bar of {} (tried by planning with it): its own round is left for the jaws beside the last sides; \
                 else {OTHERWISE}",
                show::stock_size(bar_mm, task.units)
            );
        }
    }
    let why = if in_pairs {
        "no thinner bar that the part fits in leaves a round for the jaws (tried)"
    } else {
        "no bar helps: a jaw bears square to the side being cut, and these sides do not stand square to each other, so \
         that after the first of them it finds a corner"
    };
    format!("{why}; {OTHERWISE}")
}

/// Whether every side has another square to it on each hand.
fn all_in_square_pairs(task: &Task) -> bool {
    let sides: Vec<f64> = task.faces.iter().filter_map(|face| side_rad(face.place)).collect();
    let stands = |angle: f64| sides.iter().any(|side| (side - angle).cos() > 1.0 - 1e-9);
    sides.iter().all(|side| stands(side + FRAC_PI_2) && stands(side - FRAC_PI_2))
}

fn side_rad(place: Place) -> Option<f64> {
    match place {
        Place::Side(angle) => Some(angle),
        Place::Front | Place::Back => None,
    }
}

/// Bars between this one and the least with its usual allowance, in whole millimetres, the thickest first.
fn bars_below(task: &Task) -> Vec<f64> {
    let least_mm = stock::report(task).least_round_with_allowance_mm.ceil();
    let steps = (task.bar_size_mm.ceil() - least_mm).clamp(0.0, MOST_BARS) as usize;
    (1..=steps).map(|step| task.bar_size_mm.ceil() - step as f64).collect()
}

fn with_bar(task: &Task, bar_mm: f64) -> Task {
    let mut task = task.clone();
    task.bar = Section::round(bar_mm / 2.0);
    (task.bar_size_mm, task.bar_sizes_mm) = (bar_mm, (bar_mm, None));
    task
}

fn frees(task: &Task) -> bool {
    !search(task).set_ups.is_empty()
}

/// The least effort first.
fn changes(task: &Task) -> Vec<Change> {
    [
        share(task, &holding::numbers().low_share_torque_wrench, "tighten with a torque wrench on the chuck key"),
        share(task, &holding::numbers().low_share_measured, "measure the jaws' force with a load cell"),
        firmer(task),
        serrated(task),
        deeper(task),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn changed(task: &Task, says: String, change: impl Fn(&mut Task)) -> Change {
    let mut task = task.clone();
    change(&mut task);
    Change { says, task }
}

/// More of the force can be counted on.
fn share(task: &Task, share: &holding::Sourced, how: &str) -> Option<Change> {
    let says = format!("{how} (low_share = {}), so that more of its force counts", share.value);
    (share.value > task.chuck.low_share).then(|| changed(task, says, |task| task.chuck.low_share = share.value))
}

/// Half as much force again, where the chuck is made for it.
fn firmer(task: &Task) -> Option<Change> {
    let force_n = holding::numbers().advised_force_times.value * task.chuck.nominal_force_n;
    let says = format!(
        "{} a jaw instead of {}, where the chuck's maker allows it",
        show::force(force_n, task.units),
        show::force(task.chuck.nominal_force_n, task.units)
    );
    Some(changed(task, says, |task| task.chuck.nominal_force_n = force_n))
}

/// Toothed jaws, which mark the bar.
fn serrated(task: &Task) -> Option<Change> {
    let says = "hard serrated jaws, which mark the bar".to_string();
    let other = task.chuck.jaw_surface != JawSurface::HardSerrated;
    other.then(|| changed(task, says, |task| task.chuck.jaw_surface = JawSurface::HardSerrated))
}

/// Longer jaws grip deeper: half as long again.
fn deeper(task: &Task) -> Option<Change> {
    let long_mm = holding::numbers().advised_jaw_length_times.value * task.chuck.jaw_length_mm;
    let says = format!(
        "a deeper bite: jaws {} long instead of {}",
        length(long_mm, task.units),
        length(task.chuck.jaw_length_mm, task.units)
    );
    Some(changed(task, says, |task| task.chuck.jaw_length_mm = long_mm))
}
