//! What a cross slide out of square makes of a face: a cone about the spindle, never a tilt as long as the face lies
//! about the spindle (derived here from the surface of revolution; the numbers are checked against others outside).

use super::common::{inside, lowest};
use super::strip::least_strip;
use super::wedges::{Wedge, wedges};
use crate::shape::{Point, Section};
use nalgebra::{Matrix2, Vector3};

/// A face of straight edges with the cone that facing left on it: z = hollow · r, r from the spindle axis. Hollow is
/// positive where the rim stands proud, crowned negative.
#[derive(Debug, Clone, PartialEq)]
pub struct Cone {
    /// Corners of the face, counter-clockwise, mm.
    corners: Vec<Point>,
    /// Where the spindle axis goes through the face's plane, mm.
    axis: Point,
    /// Slope of the tool's path to the true plane, mm per mm.
    hollow: f64,
}

/// Slope of the tool's path from an indicator over a straight travel of the cross slide: reading over travel.
pub fn hollow_of_travel(reading_mm: f64, travel_mm: f64) -> f64 {
    reading_mm / travel_mm
}

/// Slope of the tool's path from how hollow a faced disc is, centre to rim: reading over half of the diameter, twice the
/// slope that the same figure over a travel would give.
pub fn hollow_of_disc(reading_mm: f64, diameter_mm: f64) -> f64 {
    2.0 * reading_mm / diameter_mm
}

impl Cone {
    /// A face by its corners, in any order; `None` where they span no area.
    pub fn new(corners: &[Point], axis: Point, hollow: f64) -> Option<Cone> {
        let corners = Section::polygon(corners).corners();
        (!corners.is_empty()).then_some(Cone { corners, axis, hollow })
    }

    /// How far a place stands proud of the place at the axis, mm.
    pub fn height_mm(&self, at: Point) -> f64 {
        self.hollow * (at - self.axis).norm()
    }

    /// The same at the corners, counter-clockwise.
    pub fn corner_heights_mm(&self) -> Vec<f64> {
        self.corners.iter().map(|&corner| self.height_mm(corner)).collect()
    }

    /// Flatness, mm: the minimum zone, small slopes. The cone is convex, so its highest places over any plane are
    /// corners; the lowest is found for the plane at hand and joins the points until none is lower.
    pub fn flatness_mm(&self) -> f64 {
        const MOST_ROUNDS: usize = 60;
        let slope = self.hollow.abs();
        let proud = |at: &Point| Vector3::new(at.x, at.y, slope * (at - self.axis).norm());
        let mut points: Vec<Vector3<f64>> = self.corners.iter().map(proud).collect();
        points.extend(inside(&self.corners, self.axis).then(|| proud(&self.axis)));
        let mut width_mm = f64::INFINITY;
        for _ in 0..MOST_ROUNDS {
            let Some(strip) = least_strip(&points) else { return 0.0 };
            let tilt = Point::new(strip.slopes[0], strip.slopes[1]);
            let low = proud(&lowest(&self.corners, self.axis, slope, tilt));
            let below_mm = strip.height_mm - strip.width_mm / 2.0 - (low.z - tilt.dot(&low.xy()));
            width_mm = width_mm.min(strip.width_mm + below_mm.max(0.0));
            if below_mm <= 1e-12 * strip.width_mm {
                break;
            }
            points.push(low);
        }
        width_mm
    }

    /// Tilt of the mean plane (least squares over the area) as slopes along x and y: nothing about the axis, else towards
    /// the axis' far side.
    pub fn mean_tilt(&self) -> [f64; 2] {
        let wedges = wedges(&self.corners, self.axis);
        let moment: Point = wedges.iter().map(Wedge::distance_moment).sum();
        let distance: f64 = wedges.iter().map(Wedge::distance).sum();
        least_squares_tilt(&self.corners, self.axis, distance, moment).map(|slope| slope * self.hollow)
    }

    /// Tilt of the plane that a hollow face rests on, its corners, as slopes along x and y.
    pub fn seat_tilt(&self) -> [f64; 2] {
        let points: Vec<Vector3<f64>> =
            self.corners.iter().map(|&at| Vector3::new(at.x, at.y, self.height_mm(at))).collect();
        least_strip(&points).map_or([0.0; 2], |strip| strip.slopes)
    }
}

/// Slopes of the plane nearest to a surface z over a polygon, from ∫ z dA and ∫ z p dA about a point.
pub(super) fn least_squares_tilt(corners: &[Point], about: Point, first: f64, moment: Point) -> [f64; 2] {
    let section = Section::polygon(corners);
    let Some(centre) = section.centroid() else { return [0.0; 2] };
    let second = section.second_moments();
    let matrix = Matrix2::new(second.about_y_mm4, second.product_mm4, second.product_mm4, second.about_x_mm4);
    let about_centre = moment - (centre - about) * first;
    matrix.try_inverse().map_or([0.0; 2], |inverse| (inverse * about_centre).into())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(half: f64, axis: Point) -> Cone {
        let corners = [[-half, -half], [half, -half], [half, half], [-half, half]].map(|[x, y]| Point::new(x, y));
        Cone::new(&corners, axis, 1e-4).expect("a face")
    }

    /// The range over a grid, less the best plane of the grid's own points: a lower bound that rises to ours.
    #[test]
    fn flatness_off_the_axis_is_that_of_a_fine_grid() {
        for axis in [Point::new(7.0, 3.0), Point::new(31.0, 0.0), Point::new(40.0, 45.0)] {
            let cone = square(25.0, axis);
            let grid: Vec<Vector3<f64>> = (0..61 * 61)
                .map(|at| Point::new(f64::from(at % 61) - 30.0, f64::from(at / 61) - 30.0) * (25.0 / 30.0))
                .chain(inside(&cone.corners, axis).then_some(axis))
                .map(|at| Vector3::new(at.x, at.y, cone.height_mm(at)))
                .collect();
            let (ours, grid) = (cone.flatness_mm(), least_strip(&grid).expect("a strip").width_mm);
            assert!(ours >= grid - 1e-15 && ours < grid * 1.0005, "{axis}: {ours:e} {grid:e}");
        }
    }

    #[test]
    fn about_the_axis_there_is_form_and_no_tilt() {
        let cone = square(25.0, Point::zeros());
        assert!(cone.mean_tilt().iter().chain(&cone.seat_tilt()).all(|slope| slope.abs() < 1e-18));
        let hollow = Cone { hollow: -1e-4, ..cone.clone() };
        assert!((hollow.flatness_mm() - cone.flatness_mm()).abs() < 1e-18);
        assert!(Cone::new(&[Point::zeros(), Point::new(1.0, 1.0)], Point::zeros(), 1e-4).is_none());
    }
}
