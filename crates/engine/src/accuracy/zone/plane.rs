//! A plane in space, and the one of least squares.

use nalgebra::{Matrix3, Vector3};

/// The plane `normal · p = distance`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// Unit normal.
    pub normal: Vector3<f64>,
    /// Of the plane from the origin along the normal, mm.
    pub distance_mm: f64,
}

impl Plane {
    /// How far a point lies off, mm, positive on the normal's side.
    pub fn off_mm(&self, point: &Vector3<f64>) -> f64 {
        self.normal.dot(point) - self.distance_mm
    }

    /// The same plane with the normal on the side of `outward`.
    pub fn facing(self, outward: &Vector3<f64>) -> Plane {
        if self.normal.dot(outward) < 0.0 {
            return Plane { normal: -self.normal, distance_mm: -self.distance_mm };
        }
        self
    }

    /// Largest less smallest distance of points, mm; 0 without points.
    pub fn range_mm(&self, points: &[Vector3<f64>]) -> f64 {
        let (least, most) = ends(points.iter().map(|point| self.off_mm(point)));
        (most - least).max(0.0)
    }
}

/// Least and most; infinite the wrong way round for nothing.
pub(super) fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), value| (least.min(value), most.max(value)))
}

/// The plane of least squares, distances square to it: through the centroid, normal along the direction of least spread
/// (ISO 12781-1, reference plane; from memory). Of points on one line it is one of the planes through that line. `None`
/// without points, or where a coordinate is no number.
pub fn least_squares(points: &[Vector3<f64>]) -> Option<Plane> {
    if points.is_empty() || points.iter().any(|point| !point.iter().all(|value| value.is_finite())) {
        return None;
    }
    let middle = points.iter().sum::<Vector3<f64>>() / points.len() as f64;
    let spread: Matrix3<f64> = points.iter().map(|point| (point - middle) * (point - middle).transpose()).sum();
    let eigen = spread.symmetric_eigen();
    let normal: Vector3<f64> = eigen.eigenvectors.column(eigen.eigenvalues.imin()).into_owned().normalize();
    Some(Plane { normal, distance_mm: normal.dot(&middle) })
}

/// Two unit directions that make a right-handed frame with a unit normal.
pub(super) fn across(normal: &Vector3<f64>) -> [Vector3<f64>; 2] {
    let mut helper = Vector3::zeros();
    helper[normal.iamin()] = 1.0;
    let x = helper.cross(normal).normalize();
    [x, normal.cross(&x)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_on_a_line_or_on_one_another_have_a_plane_too() {
        let line: Vec<Vector3<f64>> = (0..5).map(|at| Vector3::new(f64::from(at), 2.0 * f64::from(at), 3.0)).collect();
        let plane = least_squares(&line).expect("a plane");
        assert!(plane.range_mm(&line) < 1e-12);
        assert!(least_squares(&[Vector3::new(1.0, 2.0, 3.0); 4]).expect("a plane").range_mm(&line) >= 0.0);
        assert!(least_squares(&[]).is_none() && least_squares(&[Vector3::new(f64::NAN, 0.0, 0.0)]).is_none());
    }

    #[test]
    fn a_frame_is_square() {
        for normal in [Vector3::z(), -Vector3::x(), Vector3::new(1.0, 2.0, -3.0).normalize()] {
            let [x, y] = across(&normal);
            assert!((x.cross(&y) - normal).norm() < 1e-14 && x.dot(&y).abs() < 1e-15);
        }
    }
}
