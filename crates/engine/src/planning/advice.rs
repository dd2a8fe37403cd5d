//! What frees a job that no hold carries: the least change first, each tried by planning with it.

use super::search::search;
use crate::holding;
use crate::plan::Reason;
use crate::quantity::{show, show::length};
use crate::shop::JawSurface;
use crate::task::Task;

/// Reasons that a firmer hold can answer.
const OF_THE_HOLD: [&str; 3] = ["slip", "last-hold", "spring"];

/// A change of the hold: what to do, and the task with it.
struct Change {
    says: String,
    task: Task,
}

/// Puts the changes that free the job into the reasons of the hold, in place of a guess.
pub fn put_in(task: &Task, reasons: &mut [Reason]) {
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

fn frees(task: &Task) -> bool {
    !search(task).set_ups.is_empty()
}

/// The least effort first.
fn changes(task: &Task) -> Vec<Change> {
    [
        known(task),
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

/// A force that nobody gave may be greater than the low end that is taken.
fn known(task: &Task) -> Option<Change> {
    let chuck = &task.chuck;
    let force_n = holding::highest_usual_force_n(chuck.kind, chuck.body_mm);
    let says = format!(
        "find out the jaws' force and give it in the shop: {} is the high end of such chucks, {} is taken",
        show::force(force_n, task.units),
        show::force(chuck.nominal_force_n, task.units)
    );
    let unknown = !chuck.force_known && force_n > chuck.nominal_force_n;
    unknown.then(|| changed(task, says, |task| task.chuck.nominal_force_n = force_n))
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
