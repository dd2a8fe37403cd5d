//! What the room of the hands needs to know besides the plan's own values.

use crate::hands::{self, Caution, Facts, Nose, OverBar, Signal};
use crate::holding;
use crate::part::Place;
use crate::quantity::{Units, show};
use crate::shape::Bearing;
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
        jaws_reversed: task.chuck.is_reversed,
        tight_torque: task.chuck.key.map(|(_, torque_nm)| show::torque(torque_nm, task.units)),
        tight_with: tight_with(task.chuck.low_share),
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
        opposites: opposites(task),
        ring_counts: ring_counts(task),
        left_raw: names(&|face| !face.cut),
        off_axis_mm: task.rules.off_axis_mm,
        spare_stick_out_mm: task.rules.spare_stick_out_mm,
        over_the_bar: over_the_bar(task),
        nose: Nose::Unknown,
        material_caution: material_caution(task),
    }
}

/// How the jaws are tightened where the share that counts is the one of a torque wrench, or of a measured force.
fn tight_with(low_share: f64) -> Option<&'static str> {
    let numbers = holding::numbers();
    let ways = [
        (&numbers.low_share_torque_wrench, "with the torque wrench"),
        (&numbers.low_share_measured, "as it was measured"),
    ];
    ways.into_iter().find_map(|(share, how)| (share.value == low_share).then_some(how))
}

/// A difference of 0.1 mm or 0.010 in on the ring, where the ring has other units or does not count depth.
fn ring_counts(task: &Task) -> Option<String> {
    let dial = &task.lathe.dial;
    let difference_mm = if task.units == Units::Mm { 0.1 } else { 0.254 };
    let same_unit = matches!((dial.unit, task.units), (DialUnit::Mm, Units::Mm) | (DialUnit::Inch, Units::Inch));
    let counted = dial.in_marks(difference_mm) * dial.graduation;
    let as_depth = (counted / dial.in_own_unit(difference_mm) - 1.0).abs() < 1e-6;
    (!(same_unit && as_depth)).then(|| {
        let places = dial.places() + 1;
        format!("{} counts {counted:.places$} {}", show::length(difference_mm, task.units), dial.unit_name())
    })
}

/// What the bar has over each side that is to be cut; a round has neither flat nor corner.
fn over_the_bar(task: &Task) -> Vec<(String, OverBar)> {
    let over = |face: &Face| {
        let Place::Side(angle) = face.place else { return None };
        match task.bar.support(angle)?.bearing {
            Bearing::Flat { .. } => Some((face.name.clone(), OverBar::Flat)),
            Bearing::Corner(_) => Some((face.name.clone(), OverBar::Corner)),
            Bearing::Round { .. } => None,
        }
    };
    task.faces.iter().filter(|face| face.cut).filter_map(over).collect()
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
