//! How far the jaws stand out of the chuck's body, and what is said where that is too far.

use super::search::Chosen;
use crate::holding;
use crate::quantity::show;
use crate::task::Task;

/// From the outer end of the jaw that stands farthest out to the rim of the body, mm; not positive: within the body.
pub fn out_of_body_mm(task: &Task, chosen: &Chosen) -> f64 {
    farthest_reach_mm(chosen) + task.chuck.jaw_depth_mm - task.chuck.body_mm / 2.0
}

/// How far a jaw may stand out of the body, mm.
pub fn most_out_mm(task: &Task) -> f64 {
    holding::numbers().jaw_out_of_body_share.value * task.chuck.jaw_depth_mm
}

/// Jaws opened so far that too little of their thread holds them.
pub fn notice(task: &Task, chosen: &[Chosen]) -> Option<String> {
    let most_mm = most_out_mm(task);
    let far: Vec<(usize, &Chosen)> =
        (1..).zip(chosen).filter(|(_, chosen)| out_of_body_mm(task, chosen) > most_mm + 1e-9).collect();
    let (_, worst) = far.iter().max_by(|one, other| farthest_reach_mm(one.1).total_cmp(&farthest_reach_mm(other.1)))?;
    let length = |mm: f64| show::length(mm, task.units);
    let set_ups: Vec<String> = far.iter().map(|(number, _)| number.to_string()).collect();
    Some(format!(
        "NOTICE: in set-up{} {} a jaw stands {} out of the body of the {}, and {} is a third of its length: too little of \
         its thread holds it. {}ake a chuck of {} or more.",
        if far.len() == 1 { "" } else { "s" },
        set_ups.join(", "),
        length(out_of_body_mm(task, worst)),
        task.chuck.name,
        length(most_mm),
        if task.chuck.is_reversed {
            "T"
        } else {
            "Turn the jaws end for end (the shop then says what they open to so), or t"
        },
        length(whole_above(body_for(task, farthest_reach_mm(worst)))),
    ))
}

/// The least body whose jaws, of the same shape, reach so far and stay in it, mm.
fn body_for(task: &Task, reach_mm: f64) -> f64 {
    let inside = (1.0 - holding::numbers().jaw_out_of_body_share.value) * task.chuck.jaw_depth_mm / task.chuck.body_mm;
    let rim = 0.5 - inside;
    // Where the jaws of this chuck are too long for their body a larger one like it is no better.
    if rim > 0.05 { reach_mm / rim } else { 2.0 * (reach_mm + task.chuck.jaw_depth_mm) }
}

fn whole_above(mm: f64) -> f64 {
    (mm - 1e-9).ceil()
}

fn farthest_reach_mm(chosen: &Chosen) -> f64 {
    chosen.way.reach_mm.iter().copied().fold(0.0, f64::max)
}
