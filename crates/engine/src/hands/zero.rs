//! The tool's height, the carriage's lock and the dial's zero.

use super::View;
use super::steps::Steps;
use crate::quantity::show::length;

/// The tool and the slides, before the first touch.
pub(super) fn tool(view: &View, steps: &mut Steps) {
    if view.first {
        tool_height(view, steps);
        slide(view, steps);
    }
    let deep = view.set_up.passes.last().map_or(0.0, |pass| pass.total_mm);
    steps.because(
        format!(
            "Bring the carriage up with room for the whole depth, {}, on the {}. Lock the carriage.",
            length(deep, view.units),
            view.facts.depth_slide
        ),
        "a carriage that drifts leaves the face hollow or domed",
    );
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

/// High place, feeler, zero.
pub(super) fn touch_off(view: &View, steps: &mut Steps) {
    let slide = &view.facts.depth_slide;
    steps.because(
        format!("Spindle in neutral: turn the chuck by hand and find {}.", high_place(view)),
        "zeroed on a low place, the first cut is too deep",
    );
    steps.noting_once(
        format!("Bring the tool up there with the {slide} until the feeler just drags."),
        "backlash",
        come_up(view),
    );
    steps.does(format!(
        "Draw the tool out across, wind the {slide} on by {}, set its ring to 0.",
        view.facts.feeler.as_deref().unwrap_or("the feeler's thickness")
    ));
}

/// On a floor that is cut already: the ring must read what the last pass read.
pub(super) fn touch_off_again(view: &View, pass: usize, steps: &mut Steps) {
    let Some(pass) = view.set_up.passes.get(pass) else { return };
    steps.because(
        format!(
            "Touch off again on the floor just cut, feeler taken up, and set the ring: the dial stands at {}, not at 0.",
            pass.dial
        ),
        "the work has moved in its jaws, and the old zero with it",
    );
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
