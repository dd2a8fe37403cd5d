//! Faces left as the bar has them that are not there on the bar: the reasons, and ways out that were tried.

use super::stock::works;
use crate::part::Place;
use crate::plan::Reason;
use crate::quantity::{Units, show};
use crate::shape::Section;
use crate::task::{Misplaced, Task, misplaced, settle};

/// Places shifts along one line cannot be told apart from none below this, as the determinant of their equations.
const ONE_LINE: f64 = 1e-9;

/// One reason for each face that stays and is not there.
pub fn reasons(task: &Task) -> Vec<Reason> {
    let all = wrong(task);
    let (ends, sides): (Vec<Misplaced>, Vec<Misplaced>) = all.into_iter().partition(|one| one.face < 2);
    let mut reasons = Vec::new();
    if !sides.is_empty() {
        let way_out = or_another_bar(sides_way_out(task, &sides));
        reasons.extend(sides.iter().map(|one| side(task, one, &way_out)));
    }
    if !ends.is_empty() {
        reasons.push(length(task));
    }
    reasons
}

/// The faces that stay and are not there.
pub fn wrong(task: &Task) -> Vec<Misplaced> {
    misplaced(&task.bar, task.bar_length_mm, &task.faces)
}

/// Whether a face could stay as the bar has it.
pub fn may_stay(task: &Task, face: usize) -> bool {
    let mut other = task.clone();
    other.faces[face].cut = false;
    settle(&other.bar, other.bar_length_mm, &mut other.faces);
    wrong(&other).is_empty()
}

fn side(task: &Task, one: &Misplaced, way_out: &str) -> Reason {
    let face = &task.faces[one.face];
    let (name, part) = (&face.name, show::length(face.distance_mm, task.units));
    let (says, value, limit, unit) = match one.bar_mm {
        Some(bar_mm) => (
            format!(
                "face {name} stays as the bar has it, but the bar's own flat lies {} from its middle and the part's \
                 face {part}",
                show::length(bar_mm, task.units)
            ),
            bar_mm,
            face.distance_mm,
            "mm",
        ),
        None => (
            format!(
                "face {name} stays as the bar has it, but the {} bar has no flat that looks that way",
                task.bar_form
            ),
            0.0,
            1.0,
            "1",
        ),
    };
    Reason { rule: "left-face-not-on-bar", place: name.clone(), says, value, limit, unit, way_out: way_out.to_string() }
}

/// Both ends stay, and the bar is not as long as the part.
fn length(task: &Task) -> Reason {
    let [bar, part] = [task.bar_length_mm, task.part_length_mm].map(|mm| show::length(mm, task.units));
    let [one, other] = [0, 1].map(|end: usize| task.faces[end].name.as_str());
    let mut ways = Vec::new();
    if works(task, |other| recut(other, &[1])) {
        ways.push(format!("do not leave {other}: it is then cut to length"));
    }
    if works(task, |other| {
        other.bar_length_mm = other.part_length_mm;
        let half = other.part_length_mm / 2.0;
        other.faces[..2].iter_mut().for_each(|face| face.distance_mm = half);
    }) {
        ways.push(format!("a bar {part} long"));
    }
    Reason {
        rule: "left-ends-not-to-length",
        place: format!("{one}, {other}"),
        says: format!(
            "ends {one} and {other} both stay as the bar has them, but the bar is {bar} long and the part {part}"
        ),
        value: task.bar_length_mm,
        limit: task.part_length_mm,
        unit: "mm",
        way_out: or_another_bar(ways),
    }
}

/// What frees the sides, each tried by planning with it.
fn sides_way_out(task: &Task, sides: &[Misplaced]) -> Vec<String> {
    let mut ways = Vec::new();
    let names: Vec<&str> = sides.iter().map(|one| task.faces[one.face].name.as_str()).collect();
    if let Some(shift) = shift_mm(task, sides) {
        let meant = [task.offset_mm[0] + shift[0], task.offset_mm[1] + shift[1]].map(|mm| rounded(mm, task.units));
        let by = [meant[0] - task.offset_mm[0], meant[1] - task.offset_mm[1]];
        if works(task, |other| shifted(other, by)) {
            let [x, y] = meant.map(|mm| bare(mm, task.units));
            ways.push(format!("offset [{x}, {y}] puts {} on the bar's own flat", names.join(" and ")));
        }
    }
    let faces: Vec<usize> = sides.iter().map(|one| one.face).collect();
    if works(task, |other| recut(other, &faces)) {
        ways.push(format!("do not leave {}", names.join(" and ")));
    }
    ways.extend(thinner_bar(task, sides));
    ways
}

/// For two opposite faces of a bar with square corners: the bar that has the part's size there.
fn thinner_bar(task: &Task, sides: &[Misplaced]) -> Option<String> {
    let [one, other] = sides else { return None };
    let across = task.faces[one.face].across.filter(|across| across.opposite == other.face)?;
    let (width, thickness) = (task.bar_sizes_mm.0, task.bar_sizes_mm.1.unwrap_or(task.bar_sizes_mm.0));
    if !matches!(task.bar_form, "flat" | "square") {
        return None;
    }
    let Place::Side(angle) = task.faces[one.face].place else { return None };
    let along_x = angle.cos().abs() > angle.sin().abs();
    let size = rounded(across.aim_mm, task.units);
    let (width, thickness) = if along_x { (size, thickness) } else { (width, size) };
    works(task, |changed| {
        changed.bar = Section::rectangle(-width / 2.0, width / 2.0, -thickness / 2.0, thickness / 2.0);
        changed.bar_form = "flat";
        changed.bar_size_mm = width.min(thickness);
        changed.bar_sizes_mm = (width, Some(thickness));
    })
    .then(|| {
        let [width, thickness] = [width, thickness].map(|mm| show::stock_size(mm, task.units));
        format!("a flat bar of {width} x {thickness}")
    })
}

fn or_another_bar(ways: Vec<String>) -> String {
    if ways.is_empty() {
        "a bar whose own surfaces lie where the part has these faces".to_string()
    } else {
        ways.join("; or ")
    }
}

/// Cuts faces that were left.
fn recut(task: &mut Task, faces: &[usize]) {
    for &face in faces {
        task.faces[face].cut = true;
    }
    settle(&task.bar, task.bar_length_mm, &mut task.faces);
}

/// Lays the part elsewhere in the bar's section.
fn shifted(task: &mut Task, by_mm: [f64; 2]) {
    for face in &mut task.faces {
        if let Place::Side(angle) = face.place {
            face.distance_mm += by_mm[0] * angle.cos() + by_mm[1] * angle.sin();
        }
    }
    settle(&task.bar, task.bar_length_mm, &mut task.faces);
}

/// The least shift that brings every face onto the bar's own flat, by least squares; `None` where a face has none.
fn shift_mm(task: &Task, sides: &[Misplaced]) -> Option<[f64; 2]> {
    // Normal equations N s = b of n·s = off, with a hair on the diagonal where all faces look along one line.
    let (mut xx, mut xy, mut yy, mut bx, mut by) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (at, face) in task.faces.iter().enumerate().filter(|(_, face)| !face.cut) {
        let Place::Side(angle) = face.place else { continue };
        let off =
            sides.iter().find(|one| one.face == at).map_or(Some(0.0), |one| Some(one.bar_mm? - face.distance_mm))?;
        let (sin, cos) = angle.sin_cos();
        (xx, xy, yy) = (xx + cos * cos, xy + cos * sin, yy + sin * sin);
        (bx, by) = (bx + cos * off, by + sin * off);
    }
    let det = xx * yy - xy * xy;
    if det > ONE_LINE {
        return Some([(yy * bx - xy * by) / det, (xx * by - xy * bx) / det]);
    }
    // All along one line: N = k n nᵀ, so s = b/k is the shift along it.
    let trace = xx + yy;
    (trace > 0.0).then(|| [bx / trace, by / trace])
}

/// To the last digit that a drawing gives: 0.01 mm or 0.001 in.
fn rounded(mm: f64, units: Units) -> f64 {
    let step = last_digit_mm(units);
    // No minus nought.
    (mm / step).round() * step + 0.0
}

fn last_digit_mm(units: Units) -> f64 {
    match units {
        Units::Mm => 0.01,
        Units::Inch => 0.001 * 25.4,
    }
}

/// A number as a job file takes it.
fn bare(mm: f64, units: Units) -> String {
    let text = match units {
        Units::Mm => format!("{mm:.2}"),
        Units::Inch => format!("{:.3}", mm / 25.4),
    };
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_string() } else { text.to_string() }
}
