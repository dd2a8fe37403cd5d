//! A circle across a section: which share of it runs in the metal, and in how many arcs.
//!
//! Every edge puts one interval of the circle outside (beyond its line, or outside its disc); what
//! none of them covers is in the metal. Tangent lines give intervals of no width, so that nothing
//! jumps there.

use std::f64::consts::{PI, TAU};

use super::{Edge, Point, Section};

/// Arcs in the metal shorter than this are rounding, rad.
const NO_ARC_RAD: f64 = 1e-12;

/// How a circle crosses a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// Share of the circumference inside, 0 to 1.
    pub share: f64,
    /// Entries in a turn: the number of arcs inside, 0 for a circle that never leaves or never enters.
    pub entries: u32,
}

/// The interval of the circle that one edge puts outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Outside {
    /// Which edge.
    pub edge: usize,
    /// Its middle, rad.
    pub middle_rad: f64,
    /// Half its width, 0 to π, rad.
    pub half_rad: f64,
}

/// An arc in the metal, from the end of one edge's interval to the start of another's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Inside {
    /// Its width, rad.
    pub width_rad: f64,
    /// Index, in the list of intervals, of the one before it.
    pub before: usize,
    /// And of the one after it.
    pub after: usize,
}

impl Section {
    /// Exact share of the circle's circumference inside the section, and the number of arcs. A circle
    /// of no radius is its centre; one that is no number is outside.
    pub fn share_inside(&self, centre: Point, radius_mm: f64) -> Crossing {
        if radius_mm <= 0.0 {
            let share = if self.contains(centre) { 1.0 } else { 0.0 };
            return Crossing { share, entries: 0 };
        }
        self.outside(centre, radius_mm).map_or(Crossing { share: 0.0, entries: 0 }, |outside| crossing(&outside))
    }

    /// The intervals that the edges put outside; `None` where the whole circle is outside.
    pub(super) fn outside(&self, centre: Point, radius_mm: f64) -> Option<Vec<Outside>> {
        if self.is_empty() || !(radius_mm.is_finite() && centre.x.is_finite() && centre.y.is_finite()) {
            return None;
        }
        let nothing = self.nothing_mm();
        let mut found = Vec::with_capacity(self.edges().len());
        for (index, edge) in self.edges().iter().enumerate() {
            let (middle_rad, half_rad) = match edge {
                Edge::Line(line) => {
                    let depth = line.distance_mm - line.normal().dot(&centre);
                    (line.normal_rad, beyond_line(depth, radius_mm))
                }
                Edge::Arc(arc) => {
                    let away = centre - arc.centre;
                    (away.y.atan2(away.x), beyond_disc(away.norm(), arc.radius_mm, radius_mm, nothing))
                }
            };
            if half_rad >= PI {
                return None;
            }
            if half_rad > 0.0 {
                found.push(Outside { edge: index, middle_rad, half_rad });
            }
        }
        Some(found)
    }
}

/// Half width of the circle's part beyond a line that lies `depth` from its centre, rad.
pub(super) fn beyond_line(depth_mm: f64, radius_mm: f64) -> f64 {
    (depth_mm / radius_mm).clamp(-1.0, 1.0).acos()
}

/// Half width of the circle's part outside a disc, about the direction away from the disc's centre, rad.
pub(super) fn beyond_disc(apart_mm: f64, disc_mm: f64, radius_mm: f64, nothing_mm: f64) -> f64 {
    if apart_mm <= nothing_mm {
        return if radius_mm <= disc_mm + nothing_mm { 0.0 } else { PI };
    }
    let cosine = (disc_mm * disc_mm - radius_mm * radius_mm - apart_mm * apart_mm) / (2.0 * radius_mm * apart_mm);
    cosine.clamp(-1.0, 1.0).acos()
}

/// What is left in the metal, arc by arc. None at all only where there is no interval.
pub(super) fn inside(outside: &[Outside]) -> Vec<Inside> {
    let Some(base) = outside.first().map(|first| first.middle_rad - first.half_rad) else { return Vec::new() };
    let start = |i: usize| (outside[i].middle_rad - outside[i].half_rad - base).rem_euclid(TAU);
    let mut order: Vec<(f64, usize)> = (0..outside.len()).map(|i| (start(i), i)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    // An interval that runs over the base covers the beginning too.
    let ends = order.iter().map(|&(from, i)| (from + 2.0 * outside[i].half_rad, i));
    let mut covered =
        ends.map(|(to, i)| (to - TAU, i)).fold((0.0, 0), |most, one| if one.0 > most.0 { one } else { most });
    let mut found = Vec::with_capacity(outside.len());
    for &(from, i) in order.iter().chain(std::iter::once(&(TAU, 0))) {
        if from - covered.0 > NO_ARC_RAD {
            found.push(Inside { width_rad: from - covered.0, before: covered.1, after: i });
        }
        let to = from + 2.0 * outside[i].half_rad;
        if to > covered.0 {
            covered = (to, i);
        }
    }
    found
}

/// Share and entries from the intervals outside.
pub(super) fn crossing(outside: &[Outside]) -> Crossing {
    if outside.is_empty() {
        return Crossing { share: 1.0, entries: 0 };
    }
    let arcs = inside(outside);
    let share = arcs.iter().map(|arc| arc.width_rad).sum::<f64>() / TAU;
    Crossing { share: share.min(1.0), entries: arcs.len() as u32 }
}
