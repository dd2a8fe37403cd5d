//! A datum: the plane that touches a face from outside the material (ISO 5459).

use nalgebra::Vector3;

use super::flatness::flatness;
use super::plane::{Plane, ends};

/// The plane that lies outside the material, touches it and keeps the farthest point of the face as near as can be
/// (ISO 5459, constrained minimax; from memory); its normal on the side of `outward`. It is parallel to the minimum
/// zone: a strip is as wide seen from its middle as from its outer side. A hollow face is touched at its rim; on a
/// crowned one a plate would rock, and this is the balanced place. `None` as [`flatness`].
pub fn datum_plane(points: &[Vector3<f64>], outward: &Vector3<f64>) -> Option<Plane> {
    let normal = flatness(points)?.middle.facing(outward).normal;
    let (_, most) = ends(points.iter().map(|point| normal.dot(point)));
    Some(Plane { normal, distance_mm: most })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plate_lies_on_the_rim_of_a_hollow_and_on_the_top_of_a_crown() {
        let cone = |slope: f64| -> Vec<Vector3<f64>> {
            let grid = (0..9).map(|at| (f64::from(at % 3 - 1) * 25.0, f64::from(at / 3 - 1) * 25.0));
            grid.map(|(x, y)| Vector3::new(x, y, slope * x.hypot(y))).collect()
        };
        let rim = datum_plane(&cone(1e-4), &Vector3::z()).expect("a plane");
        assert!((rim.distance_mm - 1e-4 * 25.0 * 2.0_f64.sqrt()).abs() < 1e-14 && rim.normal.z > 1.0 - 1e-15);
        let top = datum_plane(&cone(-1e-4), &Vector3::z()).expect("a plane");
        assert!(top.distance_mm.abs() < 1e-14 && top.normal.xy().norm() < 1e-12);
        let below = datum_plane(&cone(1e-4), &-Vector3::z()).expect("a plane");
        assert!(below.distance_mm.abs() < 1e-14 && below.normal.z < 0.0);
    }
}
