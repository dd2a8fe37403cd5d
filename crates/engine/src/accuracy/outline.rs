//! A finished face as the chain sees it: its tangents, and its corners about the place where its size is measured.

use nalgebra::{Matrix2, Vector2, Vector3};

use super::zone::{Cone, slip_tilts};
use crate::shape::Point;

/// A face with its corners.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceShape {
    /// Outward normal in the part's frame.
    pub normal: Vector3<f64>,
    /// Two tangents: across the bar and along it for a side; x and y for an end.
    pub tangents: [Vector3<f64>; 2],
    /// Corners along the two tangents from the middle of the face, mm, in order.
    pub corners_mm: Vec<[f64; 2]>,
    /// Where the spindle's axis met it as it was cut, along the tangents from its middle, mm.
    pub axis_mm: [f64; 2],
}

impl FaceShape {
    /// Distance of a place from the spindle's axis, mm.
    pub fn radius_mm(&self, at: [f64; 2]) -> f64 {
        (at[0] - self.axis_mm[0]).hypot(at[1] - self.axis_mm[1])
    }

    /// Half of its extent along a direction of the part's frame, mm.
    pub fn half_mm(&self, along: &Vector3<f64>) -> f64 {
        let [one, other] = self.tangents.map(|tangent| tangent.dot(along));
        let ends = self.corners_mm.iter().map(|corner| corner[0] * one + corner[1] * other);
        let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
        ((high - low) / 2.0).max(0.0)
    }

    /// Slopes along the two tangents of its mean plane, per mm of axial slip (to either side of the middle, once per
    /// turn) that stands proud along the first tangent, and along the second.
    pub fn slip_per_mm(&self) -> Matrix2<f64> {
        slip_tilts(&self.corners(), Point::from(self.axis_mm))
    }

    /// The same per rad of the cone: nothing about the axis.
    pub fn cone_per_rad(&self) -> Vector2<f64> {
        let cone = Cone::new(&self.corners(), Point::from(self.axis_mm), 1.0);
        cone.map_or_else(Vector2::zeros, |cone| cone.mean_tilt().into())
    }

    fn corners(&self) -> Vec<Point> {
        self.corners_mm.iter().map(|&[x, y]| Point::new(x, y)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(half: f64) -> FaceShape {
        FaceShape {
            normal: Vector3::z(),
            tangents: [Vector3::x(), Vector3::y()],
            corners_mm: vec![[-half, -half], [half, -half], [half, half], [-half, half]],
            axis_mm: [0.0, 0.0],
        }
    }

    #[test]
    fn slip_tilts_a_square_by_the_closed_form_whatever_its_size() {
        // (√2 + ln(1 + √2)) / 2 / a, derived by integration; the same across a face of any size.
        let closed = (2f64.sqrt() + (1.0 + 2f64.sqrt()).ln()) / 2.0;
        for half in [10.0, 25.0, 40.0] {
            let off = square(half).slip_per_mm() * half - Matrix2::identity() * closed;
            assert!(off.norm() < 1e-12, "{off}");
        }
    }

    #[test]
    fn off_the_axis_slip_leans_a_face_as_a_fine_grid_says() {
        let shape = FaceShape { axis_mm: [6.0, -3.0], ..square(10.0) };
        let steps = 400;
        let (mut sums, mut square) = (Matrix2::zeros(), 0.0);
        for at in 0..steps * steps {
            let place = |at: usize| (at as f64 + 0.5) / steps as f64 * 20.0 - 10.0;
            let p = Point::new(place(at % steps), place(at / steps));
            let proud = (p - Point::from(shape.axis_mm)).normalize();
            sums += p * proud.transpose();
            square += p.x * p.x;
        }
        let off = shape.slip_per_mm() - sums / square;
        assert!(off.norm() < 1e-5, "{off}");
    }

    #[test]
    fn extents_follow_the_direction() {
        let shape = square(10.0);
        assert_eq!(shape.half_mm(&Vector3::x()), 10.0);
        assert!((shape.half_mm(&Vector3::new(0.6, 0.8, 0.0)) - 14.0).abs() < 1e-12);
        assert!((shape.radius_mm([3.0, 4.0]) - 5.0).abs() < 1e-12);
    }
}
