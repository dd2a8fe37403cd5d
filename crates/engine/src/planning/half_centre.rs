//! A half centre in the end of a bar that stands out too far: reckoned and told as a way out, in no plan.
//!
//! A half centre leaves room for the tool to go in to the rim of the centre hole. Where job and shop speak of centre
//! hole and tailstock the hold is worked out with it; drilling the hole, setting the centre and the rim that stays are
//! the machinist's to judge.

use super::blank::piece_after;
use super::facing::{Facing, face_on_centre};
use super::last_hold::last_hold;
use super::lie::{Lie, lies};
use super::window::{Depth, gripped_mm, most_overhang, seated, unseated};
use crate::holding::{self, Centre};
use crate::part::Place;
use crate::quantity::show;
use crate::task::{TailstockFacts, Task};

/// What is told of a centre where an end stands out too far to be faced without support; `None`: nothing, since no end
/// does, or the lathe has no tailstock.
pub fn says(task: &Task) -> Option<String> {
    let tailstock = task.lathe.tailstock?;
    let tried: Vec<(Lie, Depth)> = ends_too_far_out(task);
    if tried.is_empty() {
        return None;
    }
    let Some(hole_mm) = task.centre_hole_mm else {
        return Some(
            "a half centre in the tailstock, where the drawing allows centre holes in the ends: the part says nothing \
             of any"
                .to_string(),
        );
    };
    let most = holding::numbers().centre_overhang.value;
    if let Some((lie, depth)) = tried.iter().find(|(lie, depth)| depth.stick_out_mm > most * gripped_mm(lie)) {
        return Some(format!(
            "not a half centre in the tailstock alone: {} stands out, and more than {} wants a steady too",
            show::length(depth.stick_out_mm, task.units),
            show::length(most * gripped_mm(lie), task.units)
        ));
    }
    let set = format!(
        "a half centre in the tailstock, set with {} in a centre hole no more than {} across once the end is faced",
        show::force(tailstock.thrust_n, task.units),
        show::length(hole_mm, task.units)
    );
    let held: Option<Vec<Facing>> = tried.iter().map(|(lie, depth)| propped(task, tailstock, lie, depth)).collect();
    Some(match held.as_deref().and_then(weakest) {
        Some((factor, required, deepest_mm)) => format!(
            "{set}: reckoned with it, cuts of up to {} are held {factor:.1} times, {required} are needed; the tool stops at \
             the rim of the hole, and hole and centre are in no plan here",
            show::length(deepest_mm, task.units)
        ),
        None => format!("{set}, is not enough (reckoned with it)"),
    })
}

/// The ends still to be faced that stand out too far, as they would be held.
fn ends_too_far_out(task: &Task) -> Vec<(Lie, Depth)> {
    let piece = piece_after(task, 0);
    let ends = task.faces.iter().enumerate().filter(|(_, face)| face.cut && !matches!(face.place, Place::Side(_)));
    let held = |at: usize| {
        let lie = lies(task, &piece, 0, at).ok()?.into_iter().next()?;
        let depth = seated(task, &lie).into_iter().chain([unseated(task, &lie)]).find_map(Result::ok)?;
        (depth.stick_out_mm > most_overhang(task, &lie)).then_some((lie, depth))
    };
    ends.filter_map(|(at, _)| held(at)).collect()
}

/// The end faced with the centre in it, bearing at the finished face, where some tool's cuts hold so.
fn propped(task: &Task, tailstock: TailstockFacts, lie: &Lie, depth: &Depth) -> Option<Facing> {
    let centre = Centre {
        height_mm: depth.stick_out_mm - (lie.top_mm - lie.floor_mm),
        thrust_n: tailstock.thrust_n,
        point_deg: holding::numbers().centre_point_deg.value,
        along_n_mm: 1000.0 * tailstock.stiffness_n_um,
        aside_n_mm: 1000.0 * tailstock.stiffness_n_um,
    };
    let piece = piece_after(task, 0);
    task.tools.iter().find_map(|tool| {
        let facing = face_on_centre((task, tool), (&piece, lie, depth), centre).ok()?;
        last_hold(task, tool, &facing).enough().then_some(facing)
    })
}

/// Least factor of several set-ups, what it needs, and the deepest cut of any.
fn weakest(facings: &[Facing]) -> Option<(f64, f64, f64)> {
    let factors = facings.iter().filter_map(|facing| Some((facing.slip.jaw?.1.factor, facing.required)));
    let (factor, required) = factors.min_by(|one, other| one.0.total_cmp(&other.0))?;
    let depths = facings.iter().flat_map(|facing| facing.cuts.iter().map(|cut| cut.depth_mm));
    Some((factor, required, depths.fold(0.0, f64::max)))
}
