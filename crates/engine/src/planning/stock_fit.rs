//! Whether a listed bar is large enough for the part with its skin taken off: by its least size, in a few words.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_3};

use super::blank::part_section;
use super::stock;
use crate::job::BarForm;
use crate::part::Place;
use crate::plan::Reason;
use crate::quantity::show;
use crate::shape::{Point, Section, section_allowance};
use crate::task::Task;

/// Sizes agree within rounding, mm.
const SAME_MM: f64 = 1e-6;

/// Why a bar will not do before anything is planned: rule and words. One that only lacks clean-up is not bought, though
/// a job that has it may be planned with it.
pub fn refusal(task: &Task, form: &BarForm, bought: bool) -> Option<(&'static str, String)> {
    let part = part_section(task);
    let too_small = too_small(task, form, &part, bought);
    too_small.or_else(|| stock::reasons(task).first().map(|reason| (reason.rule, briefly(task, &part, reason))))
}

fn too_small(task: &Task, form: &BarForm, part: &Section, bought: bool) -> Option<(&'static str, String)> {
    let stays = |place| matches!(place, Place::Side(_));
    if task.faces.iter().any(|face| !face.cut && stays(face.place)) {
        // Where the bar's own surface stays no skin comes off there.
        return None;
    }
    let row = section_allowance(task.skin);
    let length = |mm: f64| show::length(mm, task.units);
    let Some(least_mm) = least_mm(form, part) else {
        let (width_mm, thickness_mm) = form.sizes_mm();
        let asked_mm = (row.least_on_diameter_mm / 2.0).max(row.share_per_side * width_mm);
        let there_mm = over_corners_mm(part, [width_mm, thickness_mm.unwrap_or(width_mm)]);
        let says =
            || format!("too thin to clean up: {} over a corner, {} is usual", length(there_mm), length(asked_mm));
        return (bought && (-SAME_MM..asked_mm - SAME_MM).contains(&there_mm)).then(|| ("no-clean-up", says()));
    };
    let usual_mm = (least_mm + row.least_on_diameter_mm).max(least_mm / (1.0 - 2.0 * row.share_per_side));
    if task.bar_size_mm < least_mm - SAME_MM {
        let says = format!("too thin: {} at least, {} with clean-up", length(least_mm), length(usual_mm));
        return Some(("bar-too-thin", says));
    }
    let lacks = bought && task.bar_size_mm < usual_mm - SAME_MM;
    lacks.then(|| ("no-clean-up", format!("too thin to clean up: {} is usual", length(usual_mm))))
}

/// The least metal that a flat bar has over a corner of the part, mm; negative: the corner stands out.
fn over_corners_mm(part: &Section, [width_mm, thickness_mm]: [f64; 2]) -> f64 {
    let over = |corner: Point| (width_mm / 2.0 - corner.x.abs()).min(thickness_mm / 2.0 - corner.y.abs());
    part.corners().into_iter().map(over).fold(f64::INFINITY, f64::min)
}

/// Least size of a bar of this section that the part's corners fit in as it lies, mm; `None`: it has two sizes.
fn least_mm(form: &BarForm, part: &Section) -> Option<f64> {
    let across: &[f64] = match form {
        BarForm::Round { .. } => &[],
        BarForm::Square { .. } => &[0.0, FRAC_PI_2],
        BarForm::Hexagon { .. } => &[0.0, FRAC_PI_3, 2.0 * FRAC_PI_3],
        BarForm::Flat { .. } => return None,
    };
    let along = |corner: Point, angle: &f64| (corner.x * angle.cos() + corner.y * angle.sin()).abs();
    let reach = |corner: Point| match form {
        BarForm::Round { .. } => corner.norm(),
        _ => across.iter().map(|angle| along(corner, angle)).fold(0.0, f64::max),
    };
    Some(2.0 * part.corners().into_iter().map(reach).fold(0.0, f64::max))
}

/// A reason in a few words, for a table of bars.
fn briefly(task: &Task, part: &Section, reason: &Reason) -> String {
    let length = |mm: f64| show::length(mm, task.units);
    match reason.rule {
        "bar-too-thin" => format!("too small: a corner stands {} outside", length(stock::stands_out_mm(task, part))),
        "bar-too-short" => format!("too short: {} long, {} are needed", length(reason.value), length(reason.limit)),
        "no-metal-on-face" => format!("no metal over face {}", reason.place),
        _ => reason.says.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::mm;

    #[test]
    fn the_least_bar_of_each_section_is_pythagoras_or_the_distance_across() {
        let near = |form: BarForm, part: &Section, theirs: f64| {
            let ours = least_mm(&form, part).expect("one size");
            assert!((ours - theirs).abs() < 1e-9, "{ours} against {theirs}");
        };
        // 12-5-13, four times; and the same off the axis by 3 mm: corners at (27, 10).
        let (block, off) = (Section::rectangle(-24.0, 24.0, -10.0, 10.0), Section::rectangle(-21.0, 27.0, -10.0, 10.0));
        near(BarForm::Round { diameter: mm(1.0) }, &block, 52.0);
        near(BarForm::Round { diameter: mm(1.0) }, &off, 2.0 * 829f64.sqrt());
        near(BarForm::Square { across: mm(1.0) }, &block, 48.0);
        near(BarForm::Square { across: mm(1.0) }, &off, 54.0);
        // A hexagon with flats towards x: its corners lie at 30 degrees, so that of a 48 by 20 section the side binds.
        near(BarForm::Hexagon { across: mm(1.0) }, &block, 48.0);
        // A 20 by 48 section stands towards a corner: 48 cos 30 + 20 sin 30.
        let upright = Section::rectangle(-10.0, 10.0, -24.0, 24.0);
        near(BarForm::Hexagon { across: mm(1.0) }, &upright, 48.0 * 0.75f64.sqrt() + 10.0);
        // A 48 by 20 section in a 50 by 25 bar, and off its axis.
        assert_eq!((over_corners_mm(&block, [50.0, 25.0]), over_corners_mm(&off, [50.0, 25.0])), (1.0, -2.0));
        assert_eq!(least_mm(&BarForm::Flat { width: mm(40.0), thickness: mm(20.0) }, &block), None);
    }
}
