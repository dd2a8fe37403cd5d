//! What an axial slip of the spindle, once per turn, does to a face: it tilts it.

use nalgebra::Matrix2;

use super::cone::least_squares_tilt;
use super::wedges::{Wedge, wedges};
use crate::shape::{Point, Section};

/// Tilt of the mean plane (least squares over the area) of a face that was cut while the spindle went to and fro by
/// `amplitude_mm`, half of the full needle movement, once per turn: slopes along x and y. The face stands proud by
/// amplitude × cos(angle − phase) about the axis. Of a square about the axis, over its side, the tilt is 1.1478 of the
/// full movement, whatever the size. Higher harmonics are form and do not tilt. No area: no tilt.
pub fn slip_tilt(corners: &[Point], axis: Point, amplitude_mm: f64, phase_rad: f64) -> [f64; 2] {
    (slip_tilts(corners, axis) * crate::shape::direction(phase_rad) * amplitude_mm).into()
}

/// The same per mm of amplitude: columns for a face that stands proud along x and along y.
pub fn slip_tilts(corners: &[Point], axis: Point) -> Matrix2<f64> {
    let corners = Section::polygon(corners).corners();
    let wedges = wedges(&corners, axis);
    let first: Point = wedges.iter().map(Wedge::direction).sum();
    let tilt = |proud: Point| {
        let moment: Point = wedges.iter().map(|wedge| wedge.direction_moment(proud)).sum();
        Point::from(least_squares_tilt(&corners, axis, proud.dot(&first), moment))
    };
    Matrix2::from_columns(&[tilt(Point::x()), tilt(Point::y())])
}
