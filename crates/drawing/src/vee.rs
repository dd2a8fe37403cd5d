//! A vee between a jaw and a corner of the work: its profile across the groove.

use engine::plan::JawPlan;

use crate::vector::Flat;

/// Where on a flank the stroke of what bears begins, as a share of the way to the lip.
const FROM: f64 = 0.3;

/// The block across its groove in two convex halves, each from the middle of its back; places are out from the spindle
/// axis and across the groove from where `at_mm` counts, mm.
pub fn halves(jaw: &JawPlan) -> Vec<[Flat; 4]> {
    let Some(vee) = &jaw.vee else { return Vec::new() };
    let lips = jaw.reach_mm - vee.height_mm;
    let half = |to: f64| {
        let side = vee.at_mm + to * vee.width_mm / 2.0;
        [[jaw.reach_mm, vee.at_mm], [jaw.reach_mm, side], [lips, side], [vee.groove_mm, vee.at_mm]]
    };
    vec![half(1.0), half(-1.0)]
}

/// The stretch of each flank on which the work is drawn to bear, in the same places.
pub fn flanks(jaw: &JawPlan) -> Vec<[Flat; 2]> {
    let between = |from: Flat, to: Flat| std::array::from_fn(|at| from[at] + FROM * (to[at] - from[at]));
    halves(jaw).into_iter().map(|[_, _, lip, bottom]| [between(bottom, lip), lip]).collect()
}

/// Seen along the groove's length: out from the lips to the jaw.
pub fn stands_mm(jaw: &JawPlan) -> Option<(f64, f64)> {
    jaw.vee.as_ref().map(|vee| (jaw.reach_mm - vee.height_mm, jaw.reach_mm))
}
