//! The tool's height, the carriage's lock and the dial's zero.

use super::View;
use super::steps::Steps;
use crate::plan::Pass;
use crate::quantity::show::length;

/// The tool and the slides, before the first touch.
pub(super) fn tool(view: &View, steps: &mut Steps) {
    if view.first {
        tool_height(view, steps);
        slide(view, steps);
    }
    let deep_mm = view.set_up.passes.last().map_or(0.0, |pass| pass.total_mm);
    let (deep, slide) = (length(deep_mm, view.units), &view.facts.depth_slide);
    let walk = walk_of_a_slide_set_over(view, deep_mm);
    steps.in_full_once(
        format!(
            "Bring the carriage up with room for the whole depth, {deep}, on the {slide}{walk}. Lock the carriage."
        ),
        "a carriage that drifts leaves the face hollow or domed",
        format!("Carriage up, room for {deep} on the {slide}{walk}. Lock the carriage."),
    );
}

/// Depth D on a slide set over by κ from along the bed: D / cos κ of its travel, D tan κ across the face.
fn walk_of_a_slide_set_over(view: &View, deep_mm: f64) -> String {
    let Some(angle) = set_over_rad(view) else { return String::new() };
    let [travel, across] = [deep_mm / angle.cos(), deep_mm * angle.tan()].map(|mm| length(mm, view.units));
    format!(" ({travel} of its travel, as it is set over, and {across} sideways: leave that at corners and middle)")
}

/// The angle by which the slide is set over, where it is, rad.
fn set_over_rad(view: &View) -> Option<f64> {
    let angle = view.facts.set_over_deg.to_radians();
    (angle.abs() > 1e-9 && angle.cos() > 1e-9).then_some(angle.abs())
}

fn tool_height(view: &View, steps: &mut Steps) {
    let does = format!("Set the tool on {} height, short in its holder.", view.words().centre);
    match &view.facts.tool_height {
        Some(note) => steps.noting(does, note.clone()),
        None => steps.because(does, "a pip left in the middle shows the error: it is twice as wide"),
    }
}

/// Once in a plan, and before the first number that is set on it.
fn slide(view: &View, steps: &mut Steps) {
    let (slide, ring) = (&view.facts.depth_slide, &view.facts.ring);
    let angle = view.facts.set_over_deg;
    let along = angle.abs() < f64::EPSILON;
    let place = if along { "along the bed".to_string() } else { format!("{angle:.2} degrees from along the bed") };
    steps.because(
        format!("See that the {slide} stands {place} and that its ring counts {ring} a turn."),
        "every dial number is worked out for this slide: whole turns, then the ring",
    );
}

/// High place, feeler, zero; in full the first time in a plan.
pub(super) fn touch_off(view: &View, steps: &mut Steps) {
    let slide = &view.facts.depth_slide;
    let (place, on) = (high_place(view), feeler_on_the_ring(view));
    let neutral = "Spindle unlocked, in neutral, power off: turn the chuck by hand and find";
    if !steps.first_time("touch off") {
        steps.does(format!(
            "Spindle unlocked, in neutral: find {place} by hand, touch off there as before{}, ring to 0.",
            if counts_as_it_moves(view) { String::new() } else { format!(", {slide} wound on by {on}") }
        ));
        as_the_opposite_measured(view, steps);
        return;
    }
    steps.because(format!("{neutral} {place}."), "zeroed on a low place, the first cut is too deep");
    steps.noting_once(
        format!("Bring the tool up there with the {slide} until the feeler just drags."),
        "backlash",
        come_up(view),
    );
    steps.does(format!("Draw the tool out across, wind the {slide} on by {on}, then set its ring to 0."));
    as_the_opposite_measured(view, steps);
}

/// The depth of a second face is counted from what the first one measured, not from what it should have.
fn as_the_opposite_measured(view: &View, steps: &mut Steps) {
    let Some(opposite) = view.set_up.cuts_faces.first().and_then(|face| view.facts.opposite(face)) else { return };
    let cut = view.before.iter().find(|before| before.cuts_faces.iter().any(|face| face == opposite));
    let Some(over) = cut.and_then(|cut| cut.measure.iter().find(|measure| measure.over_bar)) else { return };
    let size = length(over.nominal_mm, view.units);
    let counts = view.facts.ring_counts.as_ref().map_or_else(String::new, |counts| format!(" ({counts})"));
    let rule = format!(
        "Measured less: set the ring that much above 0. More: that much below 0, and take one pass to 0 first{counts}."
    );
    steps.in_full_once(
        format!("0 is right for {size} over {opposite} and the bar behind it. {rule}"),
        "what the first face took too much, this one must leave",
        format!("0 is right for {size} over {opposite} and the bar. {rule}"),
    );
}

/// Whether a mark of the ring is that much depth.
fn counts_as_it_moves(view: &View) -> bool {
    !view.facts.counts_twice && set_over_rad(view).is_none()
}

/// The feeler's thickness in what the ring counts: twice on diameter, over the cosine on a slide set over.
fn feeler_on_the_ring(view: &View) -> String {
    let twice = view.facts.counts_twice;
    let over = set_over_rad(view);
    let feeler = view.facts.feeler.as_deref().unwrap_or("the feeler's thickness");
    let factor = if twice { 2.0 } else { 1.0 } / over.map_or(1.0, f64::cos);
    match (twice, over.is_some()) {
        (false, false) => feeler.to_string(),
        (true, false) => format!("twice {feeler} (its ring counts diameter)"),
        (false, true) => format!("{factor:.2} times {feeler} (it is set over)"),
        (true, true) => format!("{factor:.2} times {feeler} (its ring counts diameter, and it is set over)"),
    }
}

/// On a floor that is cut already: the ring must read what the last pass read.
pub(super) fn touch_off_again(view: &View, pass: usize, steps: &mut Steps) {
    let Some(pass) = view.set_up.passes.get(pass) else { return };
    let ring = ring_of(pass);
    steps.in_full_once(
        format!("Touch off again on the face just cut, feeler taken up as before: {ring}."),
        "the work has moved in its jaws, and the old zero with it",
        format!("Touch off again on the face just cut, feeler taken up: {ring}."),
    );
}

/// To what the ring is set at a pass, and what that counts as where it has gone round.
fn ring_of(pass: &Pass) -> String {
    match pass.dial.split_once(" + ") {
        Some((turns, shown)) if is_nought(shown) => format!("set the ring to 0, which counts as {turns}"),
        Some((_, shown)) => format!("set the ring to {shown}, which counts as {}", pass.dial),
        None => format!("set the ring to {}, not 0", pass.dial),
    }
}

/// Whether a reading has no digit but 0.
fn is_nought(shown: &str) -> bool {
    shown.chars().filter(char::is_ascii_digit).all(|digit| digit == '0')
}

fn high_place(view: &View) -> &'static str {
    let end = view.set_up.cuts_faces.iter().any(|face| view.facts.is_end(face));
    match (end, view.round) {
        (true, _) => "the highest place of the end",
        (false, true) => "the high line of the round",
        (false, false) => "the highest place of what stands out",
    }
}

fn come_up(view: &View) -> String {
    match &view.facts.backlash {
        Some(backlash) => format!(
            "come up towards the chuck only; gone too far, wind out well past the {backlash} of backlash and come up again"
        ),
        None => "come up towards the chuck only; gone too far, wind out half a turn and come up again".to_string(),
    }
}
