//! The bar: what it weighs, the least that would do, and whether it has metal for every face.

use super::blank::{part_section, piece_after, to_remove};
use super::{left, search};
use crate::part::Place;
use crate::plan::{Reason, StockReport};
use crate::quantity::{self, Units, show};
use crate::shape::{self, Section};
use crate::task::{Face, Task};

/// A corner of the part may lie so far outside the bar: rounding.
const SAME_MM: f64 = 1e-6;
/// Rounding of the machine is no step to the next digit shown.
const ROUNDING: f64 = 1e-6;

/// The bar in numbers.
pub fn report(task: &Task) -> StockReport {
    let part = part_section(task);
    let bar = piece_after(task, 0);
    let least = shape::least_round_mm(&part, task.skin);
    let ends = task.faces[..2].iter().filter(|face| face.cut).count() as u8;
    let volume_mm3 = bar.volume_mm3();
    StockReport {
        form: task.bar_form,
        volume_mm3,
        mass_kg: bar.mass_kg(task.material.density_kg_m3),
        least_round_mm: least.map_or(0.0, |least| least.bare_mm),
        least_round_with_allowance_mm: least.map_or(0.0, |least| least.with_allowance_mm),
        least_length_mm: shape::least_length_mm(task.part_length_mm, sawn_across_mm(task), ends),
        used_share: part.area() * task.part_length_mm / volume_mm3,
    }
}

/// Every reason for which this bar cannot give this part.
pub fn reasons(task: &Task) -> Vec<Reason> {
    // Where a face is left that the bar has not got, the part lies wrong: what else stands in the way shows after.
    let mut reasons = left::reasons(task);
    if !reasons.is_empty() {
        return reasons;
    }
    let part = part_section(task);
    reasons.extend(too_thin(task, &part));
    reasons.extend(too_short(task));
    if reasons.is_empty() {
        reasons.extend(no_metal(task));
    }
    reasons
}

fn too_thin(task: &Task, part: &Section) -> Option<Reason> {
    let outside = stands_out_mm(task, part);
    if outside <= SAME_MM {
        return None;
    }
    let least = shape::least_round_mm(part, task.skin);
    let (bare, with) = least.map_or((0.0, 0.0), |least| (least.bare_mm, least.with_allowance_mm));
    let bar = show::length(task.bar_size_mm, task.units);
    let round = task.bar_form == "round";
    let off_centre = round && task.bar_size_mm >= bare;
    let says = if off_centre {
        format!(
            "the part lies off the bar's axis: a corner stands {} outside the bar",
            show::length(outside, task.units)
        )
    } else {
        format!(
            "the part's corners need a round bar of {} at least, {} with clean-up; a corner stands {} outside the {} bar of {bar}",
            show::length(bare, task.units),
            show::length(with, task.units),
            show::length(outside, task.units),
            task.bar_form,
        )
    };
    Some(Reason {
        rule: "bar-too-thin",
        place: "stock".to_string(),
        says,
        value: if off_centre { outside } else { task.bar_size_mm },
        limit: if off_centre { 0.0 } else { bare },
        unit: "mm",
        way_out: if off_centre {
            "lay the part nearer to the bar's axis (its offset), or take a thicker bar".to_string()
        } else {
            format!("a round bar of {} or more, or a smaller part", show::length(with, task.units))
        },
    })
}

/// What the saw cuts across, at its widest: a saw runs out with the width of the bar.
pub fn sawn_across_mm(task: &Task) -> f64 {
    let (one, other) = task.bar_sizes_mm;
    other.map_or(one, |other| one.max(other))
}

/// A bar that will do, but is shorter than is usual.
pub fn short_notice(task: &Task, report: &StockReport) -> Option<String> {
    let [bar, least] = [task.bar_length_mm, report.least_length_mm].map(|mm| show::length(mm, task.units));
    (task.bar_length_mm < report.least_length_mm - SAME_MM)
        .then(|| format!("NOTICE: the bar is {bar} long, {least} is usual: a sawn end may not clean up all over."))
}

/// How far a point lies outside the bar's section.
fn beyond(task: &Task, point: shape::Point) -> f64 {
    if task.bar.contains(point) { 0.0 } else { task.bar.nearest_to(point) }
}

fn too_short(task: &Task) -> Option<Reason> {
    let cut = task.faces[..2].iter().filter(|face| face.cut).count();
    let needed = needed_length_mm(task, cut);
    if task.bar_length_mm >= needed - SAME_MM {
        return None;
    }
    let least = shape::least_length_mm(task.part_length_mm, sawn_across_mm(task), cut as u8);
    Some(Reason {
        rule: "bar-too-short",
        place: "stock".to_string(),
        says: format!(
            "the bar is {} long; {} are needed to clean up {cut} sawn end{}, {} is usual",
            show::length(task.bar_length_mm, task.units),
            show::length(needed, task.units),
            if cut == 1 { "" } else { "s" },
            show::length(least, task.units),
        ),
        value: task.bar_length_mm,
        limit: needed,
        unit: "mm",
        way_out: out_of_too_short(task, needed.max(least), cut),
    })
}

/// Shortest bar on which so many sawn ends clean up.
fn needed_length_mm(task: &Task, ends: usize) -> f64 {
    let least_each = task.wishes.clean_up.map_or(task.rules.clean_up_mm, crate::quantity::Plain::plain);
    task.part_length_mm + least_each * ends as f64
}

/// What frees a bar that is too short, each tried by planning with it: less clean-up where the job asks for more than
/// the least, a blank that is long enough
fn out_of_too_short(task: &Task, enough_mm: f64, ends: usize) -> String {
    let step_mm = 0.1f64.powi(show::places(0.0, task.units) as i32) * if task.units == Units::Mm { 1.0 } else { 25.4 };
    let there_mm = ((task.bar_length_mm - task.part_length_mm) / ends as f64 / step_mm + ROUNDING).floor() * step_mm;
    let blank_mm = (enough_mm / step_mm - ROUNDING).ceil() * step_mm;
    let mut ways = Vec::new();
    if task.wishes.clean_up.is_some()
        && there_mm >= task.rules.clean_up_mm - SAME_MM
        && works(task, |other| other.wishes.clean_up = Some(quantity::mm(there_mm)))
    {
        ways.push(format!("a clean-up of {} at each end or less", show::length(there_mm, task.units)));
    }
    if works(task, |other| other.bar_length_mm = blank_mm) {
        ways.push(format!("a blank of {} or more", show::length(blank_mm, task.units)));
    }
    if ways.is_empty() {
        return format!(
            "a blank of {} at least; something else stands in the way then",
            show::length(blank_mm, task.units)
        );
    }
    ways.join(", or ")
}

/// Whether the job can be done with something changed.
pub fn works(task: &Task, change: impl Fn(&mut Task)) -> bool {
    let mut other = task.clone();
    change(&mut other);
    has_metal(&other) && !search::search(&other).set_ups.is_empty()
}

/// Whether the bar has metal for the part: no reason would be given, and none is worded.
fn has_metal(task: &Task) -> bool {
    let ends = task.faces[..2].iter().filter(|face| face.cut).count();
    left::wrong(task).is_empty()
        && stands_out_mm(task, &part_section(task)) <= SAME_MM
        && task.bar_length_mm >= needed_length_mm(task, ends) - SAME_MM
        && bare_faces(task).is_empty()
}

/// Faces to be cut on which the bar has less metal than a mark of the dial, each with what it has, mm.
fn bare_faces(task: &Task) -> Vec<(usize, f64)> {
    let bar = piece_after(task, 0);
    let side = |face: &Face| face.cut && matches!(face.place, Place::Side(_));
    let all = task.faces.iter().enumerate().filter(|(_, face)| side(face));
    all.map(|(at, face)| (at, to_remove(&bar, face)))
        .filter(|(_, depth)| *depth < task.lathe.dial.mark_depth_mm)
        .collect()
}

/// How far a corner of the part lies outside the bar, the farthest.
pub fn stands_out_mm(task: &Task, part: &Section) -> f64 {
    part.corners().into_iter().map(|corner| beyond(task, corner)).fold(0.0, f64::max)
}

/// Faces to be cut that lie on the bar's surface or outside it.
fn no_metal(task: &Task) -> Vec<Reason> {
    let reason = |(at, depth): (usize, f64)| {
        let name = &task.faces[at].name;
        let stays = left::may_stay(task, at);
        Reason {
            rule: "no-metal-on-face",
            place: name.clone(),
            says: format!(
                "the bar has {} of metal over face {name}, less than a mark of the dial",
                show::length(depth.max(0.0), task.units)
            ),
            value: depth,
            limit: task.lathe.dial.mark_depth_mm,
            unit: "mm",
            way_out: if stays {
                format!("a larger bar, or leave face {name} as it is, if the bar's own surface may stay")
            } else {
                "a larger bar".to_string()
            },
        }
    };
    bare_faces(task).into_iter().map(reason).collect()
}
