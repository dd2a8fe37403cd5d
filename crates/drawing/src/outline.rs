//! Outlines of pieces: what lies outermost, and where a flat is.

use engine::plan::{FacePlace, FaceShape, Solid, Stretch};

use crate::prism::normal_at;
use crate::vector::{Flat, Space, dot, go, same_way, turn, unit};

/// Surfaces agree within this, mm and rad: far below what a lathe cuts, far above rounding.
const SAME: f64 = 1e-5;

/// Where a round is outermost in this direction of the section; `None`: it is no round there.
pub fn round_towards(outline: &[Stretch], direction_rad: f64) -> Option<Flat> {
    outline.iter().find_map(|stretch| match *stretch {
        Stretch::Arc { centre_mm, radius_mm, start_rad, sweep_rad } if turn(start_rad, direction_rad) <= sweep_rad => {
            Some(go(centre_mm, unit(direction_rad), radius_mm))
        }
        _ => None,
    })
}

/// The straight stretch with this outward normal at this distance from the bar's axis.
pub fn flat(outline: &[Stretch], normal_rad: f64, distance_mm: f64) -> Option<[Flat; 2]> {
    outline.iter().find_map(|stretch| match *stretch {
        Stretch::Line { from_mm, to_mm }
            if same_way(normal_at(stretch, 0.0), normal_rad, SAME)
                && (dot(from_mm, unit(normal_rad)) - distance_mm).abs() < SAME =>
        {
            Some([from_mm, to_mm])
        }
        _ => None,
    })
}

/// A face as the piece has it now: corners of a side, or the end at this height; `None`: not there yet.
pub fn face_of(solid: &Solid, face: &FaceShape) -> Option<Shown> {
    let near = |z_mm: f64, distance: f64| (z_mm - distance).abs() < SAME && !solid.outline.is_empty();
    match face.place {
        FacePlace::Front => near(solid.front_mm, face.distance_mm).then_some(Shown::End(solid.front_mm)),
        FacePlace::Back => near(-solid.back_mm, face.distance_mm).then_some(Shown::End(solid.back_mm)),
        FacePlace::Side { normal_rad } => flat(&solid.outline, normal_rad, face.distance_mm).map(Shown::Side),
    }
}

/// A face of a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shown {
    /// An end, at this height along the bar.
    End(f64),
    /// A side, over this straight stretch.
    Side([Flat; 2]),
}

/// Outward normal of a face, in the part's frame.
pub fn normal(place: FacePlace) -> Space {
    match place {
        FacePlace::Front => [0.0, 0.0, 1.0],
        FacePlace::Back => [0.0, 0.0, -1.0],
        FacePlace::Side { normal_rad } => [normal_rad.cos(), normal_rad.sin(), 0.0],
    }
}
