//! What frees a job that no hold carries, or whose sides leave a jaw nothing but corners: the least change first, each
//! tried by planning with it.

use std::f64::consts::{PI, TAU};

use super::blank::part_section;
use super::half_centre;
use super::search::search;
use super::stock;
use crate::holding;
use crate::job::Surface;
use crate::part::Place;
use crate::plan::Reason;
use crate::quantity::{show, show::length};
use crate::shape::Section;
use crate::shop::{ChuckKind, JawSurface};
use crate::sourced::Sourced;
use crate::task::{Task, VeeFacts};

/// Reasons that a firmer hold can answer.
const OF_THE_HOLD: [&str; 4] = ["slip", "slip-worn", "last-hold", "spring"];

/// More stands out than may without support.
const OVERHANG: &str = "overhang";
/// A jaw finds nothing but a corner, or one that the vees on hand do not fit.
const OF_CORNERS: [&str; 2] = ["corner-on-jaw", "vee-on-jaw"];
/// Directions and lengths agree within this.
const SQUARE: f64 = 1e-9;
/// Most bars tried, each a millimetre thinner.
const MOST_BARS: f64 = 20.0;
/// How the part's sides may be made where no bar helps.
const OTHERWISE: &str = "a dividing head on a milling machine";

/// A change of the hold: what to do, and the task with it.
struct Change {
    says: String,
    task: Task,
}

/// Puts the changes that free the job into the reasons of the hold, in place of a guess.
pub fn put_in(task: &Task, reasons: &mut [Reason]) {
    if let [reason] = reasons
        && OF_CORNERS.contains(&reason.rule)
    {
        reason.way_out = for_corners(task);
        return;
    }
    for reason in reasons.iter_mut().filter(|reason| reason.rule == OVERHANG) {
        if let Some(says) = half_centre::says(task) {
            reason.way_out = format!("{}; or {says}", reason.way_out);
        }
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

/// Vees may take the corners, a thinner round bar may leave its own round for the jaws beside the last sides; a hexagon
/// is bought as bar.
fn for_corners(task: &Task) -> String {
    let vees = vees_for_corners(task);
    if let Some(bar_mm) = bars_below(task).into_iter().find(|bar_mm| frees(&with_bar(task, *bar_mm))) {
        let turned = Task { skin: Surface::Turned, ..with_bar(task, bar_mm) };
        let bar = format!(
            "a round bar of {}{} (tried by planning with it): its own round is left for the jaws beside the last sides",
            show::stock_size(bar_mm, task.units),
            if frees(&turned) { ", or this one turned down to it" } else { "" }
        );
        return [Some(bar), vees, Some(format!("else {OTHERWISE}"))]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join("; ");
    }
    let why = if none_square(task) {
        "no round bar helps: the jaws bear square to the side being cut, and no two of these sides stand square to each \
         other, so that after the first of them, or it and the one across, a jaw finds a corner"
    } else {
        "no round bar from this one down to the least that the part fits in leaves a round for every jaw (tried)"
    };
    let hexagon = drawn_hexagon(task).filter(|(_, task)| frees(task)).map(|(across_mm, task)| {
        format!(
            "hexagon bar drawn to {} across flats, its sides left as they are and its ends faced in a three-jaw chuck \
             (tried by planning with them)",
            length(across_mm, task.units)
        )
    });
    let ways: Vec<String> = [vees, hexagon].into_iter().flatten().collect();
    if ways.is_empty() {
        return format!("{why}; {OTHERWISE}");
    }
    format!("{why}. {}; else {OTHERWISE}", capital(&ways.join("; or ")))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Widths of vees that are tried, mm, the widest first: it bears on most.
const VEE_WIDTHS_MM: [f64; 10] = [50.0, 40.0, 32.0, 25.0, 20.0, 18.0, 16.0, 14.0, 12.0, 10.0];

/// Soft vees that the corners of the part fit, on every jaw that finds one: the widest with which the job can be done.
fn vees_for_corners(task: &Task) -> Option<String> {
    let behind_mm = task.rules.advised_behind_groove_mm;
    let tried = corners_rad(task).into_iter().flat_map(|angle_rad| VEE_WIDTHS_MM.map(|width_mm| (angle_rad, width_mm)));
    let with = |(angle_rad, width_mm): (f64, f64)| {
        let vee = VeeFacts::soft(angle_rad / 2.0, width_mm, behind_mm, task.chuck.jaw_width_mm);
        let mut task = task.clone();
        task.vees.push(vee.clone());
        frees(&task).then_some(vee)
    };
    let vee = tried.into_iter().find_map(with)?;
    Some(format!(
        "vees of {}, {:.0} deg between the flanks, {} across, {} high and {} long, a pair at least, laid between a corner and \
         its jaw (tried by planning with them in the shop)",
        vee.material,
        (2.0 * vee.half_rad).to_degrees(),
        length(vee.width_mm, task.units),
        length(vee.height_mm, task.units),
        length(vee.length_mm, task.units)
    ))
}

/// Angles inside the part's corners that a vee may have, each once, in the order of the sides.
fn corners_rad(task: &Task) -> Vec<f64> {
    let mut sides: Vec<f64> =
        task.faces.iter().filter_map(|face| side_rad(face.place)).map(|angle| angle.rem_euclid(TAU)).collect();
    sides.sort_by(f64::total_cmp);
    let next = |at: usize| (sides[(at + 1) % sides.len()] - sides[at]).rem_euclid(TAU);
    let mut angles: Vec<f64> = Vec::new();
    for inside in (0..sides.len()).map(|at| PI - next(at)) {
        let known = angles.iter().any(|angle| (angle - inside).abs() < SQUARE);
        if !known && (VEE_ANGLES_DEG.0..=VEE_ANGLES_DEG.1).contains(&inside.to_degrees()) {
            angles.push(inside);
        }
    }
    angles
}

/// Least and most between the flanks of a vee, degrees; rounding taken off.
const VEE_ANGLES_DEG: (f64, f64) = (59.999, 150.001);

/// Whether no two sides stand square to each other.
fn none_square(task: &Task) -> bool {
    let sides: Vec<f64> = task.faces.iter().filter_map(|face| side_rad(face.place)).collect();
    sides.iter().all(|one| sides.iter().all(|other| (one - other).cos().abs() > SQUARE))
}

/// A regular hexagon as bar of its own size in a three-jaw chuck of the same body: size across flats, and the task.
fn drawn_hexagon(task: &Task) -> Option<(f64, Task)> {
    let sides: Vec<(f64, f64)> =
        task.faces.iter().filter_map(|face| side_rad(face.place).map(|angle| (angle, face.distance_mm))).collect();
    let (first, half_mm) = *sides.first()?;
    let alike = |&(angle, distance): &(f64, f64)| {
        (3.0 * (angle - first)).sin().abs() < SQUARE && (distance - half_mm).abs() < SQUARE
    };
    if sides.len() != 6 || !sides.iter().all(alike) {
        return None;
    }
    let mut task = task.clone();
    task.bar = part_section(&task);
    (task.bar_form, task.bar_size_mm, task.bar_sizes_mm) = ("hexagon", 2.0 * half_mm, (2.0 * half_mm, None));
    task.skin = Surface::Drawn;
    task.faces.iter_mut().filter(|face| side_rad(face.place).is_some()).for_each(|face| face.cut = false);
    (task.chuck.kind, task.chuck.jaws, task.chuck.bored) = (ChuckKind::SelfCentring, 3, None);
    task.chuck.nominal_force_n = holding::chuck_defaults(ChuckKind::SelfCentring, task.chuck.body_mm).clamping_n;
    Some((2.0 * half_mm, task))
}

fn side_rad(place: Place) -> Option<f64> {
    match place {
        Place::Side(angle) => Some(angle),
        Place::Front | Place::Back => None,
    }
}

/// Bars between this one and the least with its usual allowance, in whole millimetres, the thickest first.
fn bars_below(task: &Task) -> Vec<f64> {
    if task.bar_form != "round" {
        return Vec::new();
    }
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
fn share(task: &Task, share: &Sourced, how: &str) -> Option<Change> {
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
    other.then(|| {
        changed(task, says, |task| {
            (task.chuck.jaw_surface, task.chuck.bored) = (JawSurface::HardSerrated, None);
        })
    })
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
