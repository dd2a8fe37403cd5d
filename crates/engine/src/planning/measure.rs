//! What to measure, when, and with which gauge: nothing with a gauge that cannot get there.

use super::blank::{Done, has};
use super::lie::Lie;
use super::window::{Depth, SeatOn};
use crate::plan::Measure;
use crate::quantity::{Plain, show};
use crate::shape::Piece;
use crate::shop::Gauge;
use crate::task::{Across, Task};

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
    let over_jaws = across.nominal_mm - depth.bite_mm;
    let seated = depth.seat != SeatOn::Nothing;
    let in_chuck = seated.then(|| pick(task, over_jaws, band, true)).flatten();
    let takes_out = in_chuck.is_none();
    let (what, gauge) = match in_chuck {
        Some(gauge) => (over_jaws_words(task, (here, there), over_jaws, depth.bite_mm), gauge),
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

fn over_jaws_words(task: &Task, (here, there): (&str, &str), over_jaws: f64, bite_mm: f64) -> String {
    let (depth, bite) = (show::length(over_jaws, task.units), show::length(bite_mm, task.units));
    format!("{there} to {here}, from {here} to a jaw front and on to the seat: {depth} + {bite} when to size")
}

/// The first face of its pair: over it and the bar behind, so that the next depth starts from a measured size.
fn from_behind(task: &Task, piece: &Piece, lie: &Lie) -> Measure {
    let behind = match task.faces[lie.face].place {
        crate::part::Place::Side(angle) => piece.section.extent_mm(angle + std::f64::consts::PI),
        crate::part::Place::Front | crate::part::Place::Back => -lie.back_mm,
    };
    let nominal_mm = lie.floor_mm + behind;
    let deviation = crate::task::general_tolerance(nominal_mm);
    Measure {
        what: format!("over {} and the bar behind it", task.faces[lie.face].name),
        nominal_mm,
        plus_mm: deviation,
        minus_mm: deviation,
        gauge: out_of_chuck(task, nominal_mm, 2.0 * deviation),
        when: "with the piece out of the jaws, before the next set-up".to_string(),
        takes_out: false,
        over_jaws_mm: None,
    }
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
