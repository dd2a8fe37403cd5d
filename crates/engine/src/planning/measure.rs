//! What to measure, when, and with which gauge: nothing with a gauge that cannot get there.

use std::f64::consts::{FRAC_PI_2, PI};

use super::blank::{Done, has, part_section};
use super::lie::Lie;
use super::window::{Depth, SeatOn};
use crate::part::Place;
use crate::plan::Measure;
use crate::quantity::{Plain, limits, show};
use crate::shape::{Piece, Point};
use crate::shop::Gauge;
use crate::task::{self, Across, Task};

/// What is measured in a set-up.
pub fn measures(task: &Task, piece: &Piece, done: Done, lie: &Lie, depth: &Depth) -> Vec<Measure> {
    let face = &task.faces[lie.face];
    match face.across {
        Some(across) if stands(task, done, across.opposite) => vec![across_both(task, lie, depth, &across)],
        _ => vec![from_behind(task, piece, lie)],
    }
}

/// Whether a face is finished, or stays as the bar has it.
fn stands(task: &Task, done: Done, face: usize) -> bool {
    has(done, face) || !task.faces[face].cut
}

/// The size between the new face and the finished one opposite, before the finishing cut.
fn across_both(task: &Task, lie: &Lie, depth: &Depth, across: &Across) -> Measure {
    let (here, there) = (&task.faces[lie.face].name, &task.faces[across.opposite].name);
    let band = across.plus_mm + across.minus_mm;
    let over_jaws = across.aim_mm - depth.bite_mm;
    let seated = depth.seat != SeatOn::Nothing;
    let in_chuck = seated.then(|| pick(task, over_jaws, band, true)).flatten();
    let takes_out = in_chuck.is_none();
    let (what, gauge) = match in_chuck {
        Some(gauge) => (over_jaws_words(task, (here, there), (over_jaws, depth.bite_mm), band), gauge),
        None => (format!("across {there} and {here}"), out_of_chuck(task, across.nominal_mm, band)),
    };
    Measure {
        what,
        nominal_mm: across.nominal_mm,
        plus_mm: across.plus_mm,
        minus_mm: across.minus_mm,
        gauge,
        when: "before the finishing cut".to_string(),
        takes_out,
        over_jaws_mm: (!takes_out).then_some(over_jaws),
    }
}

fn over_jaws_words(task: &Task, (here, there): (&str, &str), (over_jaws, bite_mm): (f64, f64), band: f64) -> String {
    let places = limits::places(&[over_jaws, bite_mm], band, task.units);
    let [depth, bite] = [over_jaws, bite_mm].map(|part| show::length_to(part, task.units, places));
    format!("{there} to {here}, from {here} to a jaw front and on to the seat: {depth} + {bite} when to size")
}

/// The first face of its pair: over it and the bar behind, so that the next depth starts from a measured size.
fn from_behind(task: &Task, piece: &Piece, lie: &Lie) -> Measure {
    let place = task.faces[lie.face].place;
    let behind = match place {
        Place::Side(angle) => piece.section.extent_mm(angle + PI),
        Place::Front | Place::Back => -lie.back_mm,
    };
    // No drawing gives this size: it is asked for in whole last places, its limits never wider than they may be.
    let step_mm = show::last_place_mm(task.units);
    let nominal_mm = ((lie.floor_mm + behind) / step_mm).round() * step_mm;
    let may = |sign: f64| task.rules.first_face_share * shift_left(task, place, lie, sign);
    let deviation = |sign: f64| (task::general_tolerance(nominal_mm).min(may(sign)) / step_mm).floor() * step_mm;
    let (plus_mm, minus_mm) = (deviation(1.0).max(step_mm), deviation(-1.0).max(step_mm));
    Measure {
        what: format!("over {} and the bar behind it", task.faces[lie.face].name),
        nominal_mm,
        plus_mm,
        minus_mm,
        gauge: out_of_chuck(task, nominal_mm, plus_mm + minus_mm),
        when: "with the piece out of the jaws, before the next set-up".to_string(),
        takes_out: false,
        over_jaws_mm: None,
    }
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
        .or_else(|| reaching(task, size_mm, false).next().map(|gauge| format!("{} (coarse for this band)", gauge.name)))
        .unwrap_or_else(|| {
            format!("a micrometer that reaches {} (not in the shop's list)", show::length(size_mm, task.units))
        })
}

/// The gauge of least uncertainty that reaches a size and reads finely enough for its band.
fn pick(task: &Task, size_mm: f64, band_mm: f64, in_chuck: bool) -> Option<String> {
    let enough = |gauge: &&Gauge| 2.0 * uncertainty_mm(gauge) <= task.rules.reading_share * band_mm * (1.0 + 1e-9);
    reaching(task, size_mm, in_chuck)
        .filter(enough)
        .min_by(|a, b| uncertainty_mm(a).total_cmp(&uncertainty_mm(b)))
        .map(|gauge| gauge.name.clone())
}

fn reaching(task: &Task, size_mm: f64, in_chuck: bool) -> impl Iterator<Item = &Gauge> {
    task.gauges.iter().filter(move |gauge| {
        let within =
            gauge.range.is_none_or(|(least, most)| size_mm >= least.plain() - 1e-9 && size_mm <= most.plain() + 1e-9);
        within && (gauge.fits_in_chuck == in_chuck)
    })
}

/// Standard uncertainty of a reading; half a mark, evenly spread, where the shop gives none.
fn uncertainty_mm(gauge: &Gauge) -> f64 {
    gauge.uncertainty.map_or_else(|| gauge.graduation.plain() / 12f64.sqrt(), Plain::plain)
}
