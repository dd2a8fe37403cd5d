//! What the room of the hands needs to know besides the plan's own values.

use crate::hands::{self, Caution, Facts, Nose, Signal};
use crate::part::Place;
use crate::quantity::{Units, show};
use crate::shop::{ChuckKind, DialUnit, Reads};
use crate::task::{Face, Task};

/// Gathers the facts.
pub fn facts(task: &Task) -> Facts {
    let dial = &task.lathe.dial;
    let names = |wanted: &dyn Fn(&Face) -> bool| {
        task.faces.iter().filter(|face| wanted(face)).map(|face| face.name.clone()).collect()
    };
    Facts {
        independent: task.chuck.kind == ChuckKind::Independent,
        depth_slide: hands::depth_slide(task.units).to_string(),
        set_over_deg: dial.set_over_rad.to_degrees(),
        ring: ring(task),
        counts_twice: dial.reads == Reads::Diameter,
        backlash: dial.backlash_mm.map(|backlash| show::length(backlash, task.units)),
        lowest_rpm: task.lathe.speeds_rpm.first().copied(),
        feeler: None,
        tool_height: None,
        packing: task.packing.material.clone(),
        ends: names(&|face| !matches!(face.place, Place::Side(_))),
        sides: task.faces.iter().filter_map(side).collect(),
        opposites: opposites(task),
        mark_takes: show::fine_length(dial.mark_depth_mm, task.units),
        left_raw: names(&|face| !face.cut),
        nose: Nose::Unknown,
        material_caution: material_caution(task),
    }
}

fn side(face: &Face) -> Option<(String, f64)> {
    match face.place {
        Place::Side(normal_rad) => Some((face.name.clone(), normal_rad.to_degrees())),
        Place::Front | Place::Back => None,
    }
}

/// Each pair once.
fn opposites(task: &Task) -> Vec<(String, String)> {
    let other = |(at, face): (usize, &Face)| {
        let across = face.across.filter(|across| at < across.opposite)?;
        Some((face.name.clone(), task.faces[across.opposite].name.clone()))
    };
    task.faces.iter().enumerate().filter_map(other).collect()
}

/// A dial speaks its own unit, whatever the job's.
fn ring(task: &Task) -> String {
    let dial = &task.lathe.dial;
    let units = match dial.unit {
        DialUnit::Mm => Units::Mm,
        DialUnit::Inch => Units::Inch,
    };
    let twice = dial.reads == Reads::Diameter;
    let counted = dial.painted_travel_mm * if twice { 2.0 } else { 1.0 };
    format!("{}{}", show::length(counted, units), if twice { " on diameter" } else { "" })
}

fn material_caution(task: &Task) -> Option<Caution> {
    let note = &task.material.note;
    (!note.is_empty()).then(|| Caution::new(Signal::Caution, note.clone()))
}
