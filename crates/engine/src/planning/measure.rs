//! What to measure, when, and with which gauge: nothing with a gauge that cannot get there.

use std::f64::consts::{FRAC_PI_2, PI};

use super::blank::{Done, has, part_section};
use super::facing::Facing;
use super::lie::Lie;
use super::window::{Depth, SeatOn};
use crate::part::Place;
use crate::plan::{Measure, SetUp, ShopGauge};
use crate::quantity::{Plain, limits, show};
use crate::shape::{Piece, Point};
use crate::shop::Gauge;
use crate::task::{self, Across, Task};

/// Said behind a gauge that reaches but does not read finely enough.
const COARSE: &str = "(coarse for this band)";
/// Said behind a gauge that the shop does not list.
const NOT_LISTED: &str = "(not in the shop's list)";

/// What is measured in a set-up.
pub fn measures(task: &Task, done: Done, facing: &Facing) -> Vec<Measure> {
    let (lie, depth) = (&facing.lie, &facing.depth);
    let face = &task.faces[lie.face];
    match face.across {
        Some(across) if stands(task, done, across.opposite) => {
            let still_on_mm = facing.cuts.last().map_or(0.0, |cut| cut.depth_mm);
            vec![across_both(task, lie, depth, &across, still_on_mm), to_size(task, lie, depth, &across)]
        }
        _ => vec![from_behind(task, &facing.piece, lie)],
    }
}

/// Sizes that no gauge on hand reads finely enough.
pub fn coarse_notice(set_ups: &[SetUp]) -> Option<String> {
    let measures = set_ups.iter().flat_map(|set_up| set_up.measure.iter().map(move |measure| (set_up, measure)));
    let mut numbers: Vec<String> = measures
        .filter(|(_, measure)| measure.gauge.ends_with(COARSE) || measure.gauge.ends_with(NOT_LISTED))
        .map(|(set_up, _)| set_up.number.to_string())
        .collect();
    numbers.dedup();
    (!numbers.is_empty()).then(|| {
        format!(
            "NOTICE: the shop's list has no gauge that reaches and reads finely enough what is measured in set-up {}: \
             without one the size is not known.",
            numbers.join(", ")
        )
    })
}

/// Sizes whose limits no dial number can be trusted to meet.
pub fn fine_notice(task: &Task, set_ups: &[SetUp]) -> Option<String> {
    let fine = |measure: &&Measure| {
        let marks = task.lathe.dial.in_marks(measure.plus_mm + measure.minus_mm);
        !measure.over_bar && marks <= task.rules.trusted_marks
    };
    let numbers: Vec<String> = set_ups
        .iter()
        .filter(|set_up| set_up.measure.iter().any(|measure| fine(&measure)))
        .map(|set_up| set_up.number.to_string())
        .collect();
    (!numbers.is_empty()).then(|| {
        format!(
            "NOTICE: the limits in set-up {} are no wider than {:.0} marks of the dial, and each new grip and touch-off \
             takes some of that: the size is found by measuring, with a pass to spare, or not at all.",
            numbers.join(", "),
            task.rules.trusted_marks
        )
    })
}

/// Whether a face is finished, or stays as the bar has it.
fn stands(task: &Task, done: Done, face: usize) -> bool {
    has(done, face) || !task.faces[face].cut
}

/// The size between the new face and the finished one opposite when the finishing cut is taken: while the piece is still held if a gauge gets there.
fn to_size(task: &Task, lie: &Lie, depth: &Depth, across: &Across) -> Measure {
    let measure = across_both(task, lie, depth, across, 0.0);
    let when = if measure.takes_out {
        "when to size, with the piece out of the jaws"
    } else {
        "after the finishing cut, before a jaw is loosened"
    };
    Measure { when: when.to_string(), takes_out: false, ..measure }
}

/// A size across, `still_on_mm` of metal on it yet: over a jaw front in the chuck, else with a bench gauge.
fn across_both(task: &Task, lie: &Lie, depth: &Depth, across: &Across, still_on_mm: f64) -> Measure {
    let (here, there) = (&task.faces[lie.face].name, &task.faces[across.opposite].name);
    let band = across.plus_mm + across.minus_mm;
    let over_jaws = across.aim_mm - depth.bite_mm;
    let seated = depth.seat != SeatOn::Nothing;
    let in_chuck = seated.then(|| pick(task, over_jaws + still_on_mm, band, true)).flatten();
    let takes_out = in_chuck.is_none();
    let (what, gauge) = match in_chuck {
        Some(gauge) => (over_jaws_words(task, (here, there), (over_jaws, depth.bite_mm), across), gauge),
        None => (format!("across {there} and {here}"), out_of_chuck(task, across.nominal_mm + still_on_mm, band)),
    };
    Measure {
        what,
        nominal_mm: across.nominal_mm,
        plus_mm: across.plus_mm,
        minus_mm: across.minus_mm,
        gauge,
        when: "before the finishing cut".to_string(),
        takes_out,
        over_bar: false,
        over_jaws_mm: (!takes_out).then_some(over_jaws),
        table: None,
    }
}

fn over_jaws_words(
    task: &Task,
    (here, there): (&str, &str),
    (over_jaws, bite_mm): (f64, f64),
    across: &Across,
) -> String {
    let places = limits::places(&[over_jaws, bite_mm], across.plus_mm + across.minus_mm, task.units);
    let shown = |length_mm: f64| show::length_to(length_mm, task.units, places);
    let to = if (across.aim_mm - across.nominal_mm).abs() < 1e-9 {
        "when to size".to_string()
    } else {
        format!("at the middle of the limits, {}", shown(across.aim_mm))
    };
    let (over, bite) = (shown(over_jaws), shown(bite_mm));
    format!("{there} to {here}, from {here} to a jaw front and on to the seat: {over} + {bite} {to}")
}

/// The first face of its pair: over it and the bar behind, so that the next depth starts from a measured size.
fn from_behind(task: &Task, piece: &Piece, lie: &Lie) -> Measure {
    let face = &task.faces[lie.face];
    let place = face.place;
    let behind = match place {
        Place::Side(angle) => piece.section.extent_mm(angle + PI),
        Place::Front | Place::Back => -lie.back_mm,
    };
    let nominal_mm = lie.floor_mm + behind;
    let may = |sign: f64| task.rules.first_face_share * shift_left(task, place, lie, sign);
    let general = task::general_tolerance(nominal_mm);
    let (alone, for_bar) = match face.alone_mm {
        // No second face makes up for it: what the drawing allows, and a bar that is measured.
        Some(alone) => (alone, format!(", for a bar of {}", bar_words(task))),
        None => ((general, general), String::new()),
    };
    let (plus_mm, minus_mm) = (alone.0.min(may(1.0)), alone.1.min(may(-1.0)));
    Measure {
        what: format!("over {} and the bar behind it{for_bar}", face.name),
        nominal_mm,
        plus_mm,
        minus_mm,
        gauge: out_of_chuck(task, nominal_mm, plus_mm + minus_mm),
        when: "with the piece out of the jaws, before the next set-up".to_string(),
        takes_out: false,
        over_bar: true,
        over_jaws_mm: None,
        table: None,
    }
}

/// The bar's size, and that it must be known.
fn bar_words(task: &Task) -> String {
    let size = show::stock_size(task.bar_sizes_mm.0, task.units);
    format!("{size} (measure it: add half of what it has more, take off half of what it lacks)")
}

/// How far the part may lie off its place along a face's normal, outwards or inwards, mm, and still be all metal.
fn shift_left(task: &Task, place: Place, lie: &Lie, sign: f64) -> f64 {
    match place {
        Place::Side(angle) => room_in_bar(task, if sign > 0.0 { angle } else { angle + PI }),
        Place::Front | Place::Back if sign > 0.0 => lie.top_mm - lie.floor_mm,
        Place::Front | Place::Back => task.bar_length_mm - task.part_length_mm - (lie.top_mm - lie.floor_mm),
    }
}

/// How far the finished section can be moved that way before a corner of it leaves the bar, mm.
fn room_in_bar(task: &Task, direction: f64) -> f64 {
    // A little inwards, so that a corner on the bar's own flat still lies in it.
    const INWARDS: f64 = 1.0 - 1e-9;
    let across = direction - FRAC_PI_2;
    let along = |corner: &Point, angle: f64| corner.x * angle.cos() + corner.y * angle.sin();
    part_section(task)
        .corners()
        .iter()
        .filter_map(|corner| {
            let (_, out) = task.bar.chord(across, INWARDS * along(corner, across))?;
            Some((out - along(corner, direction)).max(0.0))
        })
        .fold(f64::INFINITY, f64::min)
}

/// The best gauge for a size with the piece on the bench.
fn out_of_chuck(task: &Task, size_mm: f64, band_mm: f64) -> String {
    pick(task, size_mm, band_mm, false)
        .or_else(|| reaching(task, size_mm, false).next().map(|gauge| format!("{} {COARSE}", gauge.name)))
        .unwrap_or_else(|| format!("a micrometer that reaches {} {NOT_LISTED}", show::length(size_mm, task.units)))
}

/// The gauge of least uncertainty that reaches a size and reads finely enough for its band.
fn pick(task: &Task, size_mm: f64, band_mm: f64, in_chuck: bool) -> Option<String> {
    let enough = |gauge: &&Gauge| 2.0 * uncertainty_mm(gauge) <= task.rules.reading_share * band_mm * (1.0 + 1e-9);
    reaching(task, size_mm, in_chuck)
        .filter(enough)
        .min_by(|a, b| uncertainty_mm(a).total_cmp(&uncertainty_mm(b)))
        .map(|gauge| gauge.name.clone())
}

/// The shop's gauge that a measure names; `None`: it names one that the shop does not list.
pub(super) fn gauge_of<'a>(task: &'a Task, measure: &Measure) -> Option<&'a Gauge> {
    let name = measure.gauge.strip_suffix(COARSE).map_or(measure.gauge.as_str(), str::trim_end);
    task.gauges.iter().find(|gauge| gauge.name == name)
}

fn reaching(task: &Task, size_mm: f64, in_chuck: bool) -> impl Iterator<Item = &Gauge> {
    task.gauges.iter().filter(move |gauge| {
        let within =
            gauge.range.is_none_or(|(least, most)| size_mm >= least.plain() - 1e-9 && size_mm <= most.plain() + 1e-9);
        within && (gauge.fits_in_chuck == in_chuck)
    })
}

/// A gauge of the shop as the plan carries it.
pub fn shop_gauge(gauge: &Gauge) -> ShopGauge {
    ShopGauge {
        name: gauge.name.clone(),
        range_mm: gauge.range.map(|(least, most)| [least.plain(), most.plain()]),
        uncertainty_mm: uncertainty_mm(gauge),
        fits_in_chuck: gauge.fits_in_chuck,
    }
}

/// Standard uncertainty of a reading; half a mark, evenly spread, where the shop gives none.
pub(super) fn uncertainty_mm(gauge: &Gauge) -> f64 {
    gauge.uncertainty.map_or_else(|| gauge.graduation.plain() / 12f64.sqrt(), Plain::plain)
}
