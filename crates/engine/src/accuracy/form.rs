//! The form that cutting leaves on a face besides its plane: once per turn the spindle's slip, and the cone of the cross
//! slide, both about the place where the spindle's axis met the face. A jaw or a seat bears on a part of it, which leans
//! otherwise than the mean plane of the whole.

use nalgebra::{Matrix2, RowVector2, Vector2, Vector3};

use super::zone::{Lean, lean};
use crate::shape::Point;

/// Where a set-up cuts and bears, for what form does. Empty: what bears finds mean planes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Places {
    /// A point of the spindle's axis in the part's frame, mm.
    pub axis_mm: Vector3<f64>,
    /// Slopes of the new face's mean plane along X and Y per rad of the cone.
    pub cone_per_rad: Vector2<f64>,
    /// Of each jaw the corners of what it bears on, in the part's frame, mm.
    pub jaws_mm: Vec<Vec<Vector3<f64>>>,
    /// The same of the seat, patch by patch.
    pub behind_mm: Vec<Vec<Vector3<f64>>>,
}

/// The form of a finished face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Form {
    /// Its tangents in the part's frame.
    pub tangents: [Vector3<f64>; 2],
    /// A point of the spindle's axis as it was cut, mm.
    pub axis_mm: Vector3<f64>,
    /// How its own mean plane leans, along the tangents.
    pub whole: Lean,
}

/// What a patch leans more than the whole face, along one direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct More {
    /// Per mm of slip proud along each tangent.
    pub slip: RowVector2<f64>,
    /// Per rad of the cone.
    pub cone: f64,
}

impl Form {
    /// Slope along a direction of the part's frame that patches of it have besides that of the mean plane; `None`: the
    /// patches are lines, or not given.
    pub fn more(&self, patches_mm: &[Vec<Vector3<f64>>], along: &Vector3<f64>) -> Option<More> {
        let seen = |at: &Vector3<f64>| Point::from(self.tangents.map(|tangent| tangent.dot(at)));
        let patches: Vec<Vec<Point>> = patches_mm.iter().map(|corners| turned_left(corners.iter().map(seen))).collect();
        let patch = lean(&patches, seen(&self.axis_mm))?;
        let along = seen(along).transpose();
        Some(More { slip: along * (patch.slip - self.whole.slip), cone: (along * (patch.cone - self.whole.cone)).x })
    }
}

/// Corners counter-clockwise.
fn turned_left(corners: impl Iterator<Item = Point>) -> Vec<Point> {
    let mut corners: Vec<Point> = corners.collect();
    let next = corners.iter().cycle().skip(1);
    let twice: f64 = corners.iter().zip(next).map(|(one, other)| one.perp(other)).sum();
    if twice < 0.0 {
        corners.reverse();
    }
    corners
}

/// A face of which nothing else is known leans nowhere else than its mean plane.
impl Default for Form {
    fn default() -> Form {
        let whole = Lean { slip: Matrix2::zeros(), cone: Vector2::zeros() };
        Form { tangents: [Vector3::zeros(); 2], axis_mm: Vector3::zeros(), whole }
    }
}
