//! Parallelism, perpendicularity and angle of a face to a datum plane (ISO 1101).

use nalgebra::{Vector2, Vector3};

use super::plane::{Plane, across};

/// Parallelism, mm: width of the zone between two planes parallel to the datum that holds the points.
pub fn parallel_mm(points: &[Vector3<f64>], datum: &Plane) -> f64 {
    datum.range_mm(points)
}

/// A zone of perpendicularity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SquareZone {
    /// Width, mm.
    pub width_mm: f64,
    /// Unit normal of the zone's planes, in the datum plane; either sign.
    pub normal: Vector3<f64>,
}

/// Perpendicularity: the narrowest zone between two planes square to the datum, free to turn about the datum's normal.
///
/// The points are laid onto the datum plane; the narrowest strip about them has an edge of their convex hull along one
/// of its sides, so trying every edge is exact (Houle and Toussaint 1988, from memory). For a face whose points reach
/// farther along the datum than it is out of square; points on one line square to the datum have width 0. `None`
/// without points, or where a coordinate is no number.
pub fn square_zone(points: &[Vector3<f64>], datum_normal: &Vector3<f64>) -> Option<SquareZone> {
    let [x, y] = across(&datum_normal.normalize());
    let middle = points.iter().sum::<Vector3<f64>>() / points.len().max(1) as f64;
    let laid: Vec<Vector2<f64>> =
        points.iter().map(|point| Vector2::new(x.dot(&(point - middle)), y.dot(&(point - middle)))).collect();
    if laid.is_empty() || laid.iter().any(|point| !(point.x.is_finite() && point.y.is_finite())) {
        return None;
    }
    let hull = hull(laid);
    let nexts = hull.iter().cycle().skip(1);
    let zones = hull.iter().zip(nexts).filter(|(from, to)| from != to).map(|(from, to)| {
        let along = (to - from).normalize();
        let normal = Vector2::new(along.y, -along.x);
        let width_mm = hull.iter().map(|point| normal.dot(&(from - point))).fold(0.0, f64::max);
        SquareZone { width_mm, normal: x * normal.x + y * normal.y }
    });
    let one_point = SquareZone { width_mm: 0.0, normal: x };
    Some(zones.min_by(|one, other| one.width_mm.total_cmp(&other.width_mm)).unwrap_or(one_point))
}

/// Convex hull, counter-clockwise (Andrew 1979, monotone chain).
fn hull(mut points: Vec<Vector2<f64>>) -> Vec<Vector2<f64>> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let half = |points: &mut dyn Iterator<Item = Vector2<f64>>| {
        let mut half: Vec<Vector2<f64>> = Vec::new();
        for point in points {
            while half.len() >= 2 && !left(half[half.len() - 2], half[half.len() - 1], point) {
                half.pop();
            }
            half.push(point);
        }
        half.pop();
        half
    };
    let mut hull = half(&mut points.iter().copied());
    hull.extend(half(&mut points.iter().rev().copied()));
    hull
}

fn left(a: Vector2<f64>, b: Vector2<f64>, c: Vector2<f64>) -> bool {
    (b - a).perp(&(c - a)) > 0.0
}

/// How far the angle between two outward normals is off the nominal one, rad, positive where they stand wider apart.
/// Only the lean in the plane of the angle counts; good down to the last digits at small and at right angles.
pub fn angle_off_rad(normal: &Vector3<f64>, datum_normal: &Vector3<f64>, nominal_rad: f64) -> f64 {
    normal.cross(datum_normal).norm().atan2(normal.dot(datum_normal)) - nominal_rad
}

/// Perpendicularity of a plane face to a datum by its lean alone, mm: how far its normal leans in the plane of the
/// angle, over the height of the face along the datum's normal. For leans below a hundredth, to 1e-4 of itself.
pub fn off_square_mm(normal: &Vector3<f64>, datum_normal: &Vector3<f64>, height_mm: f64) -> f64 {
    (angle_off_rad(normal, datum_normal, std::f64::consts::FRAC_PI_2) * height_mm).abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_about_the_datums_normal_is_free() {
        let face: Vec<Vector3<f64>> =
            [[0.0, 0.0, 0.0], [0.01, 40.0, 0.0], [0.002, 0.0, 30.0], [0.012, 40.0, 30.0]].map(Vector3::from).to_vec();
        let zone = square_zone(&face, &Vector3::z()).expect("a zone");
        let about = nalgebra::Rotation3::from_axis_angle(&Vector3::z_axis(), 0.4);
        let turned: Vec<Vector3<f64>> = face.iter().map(|point| about * point).collect();
        let same = square_zone(&turned, &Vector3::z()).expect("a zone");
        assert!((zone.width_mm - 0.002).abs() < 1e-8 && (same.width_mm - zone.width_mm).abs() < 1e-13);
    }

    #[test]
    fn degenerate_faces_have_no_width() {
        let upright = [Vector3::new(1.0, 2.0, 0.0), Vector3::new(1.0, 2.0, 9.0)];
        assert_eq!(square_zone(&upright, &Vector3::z()).map(|zone| zone.width_mm), Some(0.0));
        let row: Vec<Vector3<f64>> = (0..4).map(|at| Vector3::new(0.0, f64::from(at), 1.0)).collect();
        assert_eq!(square_zone(&row, &Vector3::z()).map(|zone| zone.width_mm), Some(0.0));
        assert!(square_zone(&[], &Vector3::z()).is_none());
    }

    #[test]
    fn an_angle_keeps_its_small_digits() {
        let lean = 1e-9;
        let normal = Vector3::new(lean, 0.0, 1.0).normalize();
        assert!((angle_off_rad(&normal, &Vector3::z(), 0.0) - lean).abs() < 1e-20);
        let off = off_square_mm(&Vector3::new(1.0, 0.3, 4e-5).normalize(), &Vector3::z(), 50.0);
        assert!((off - 0.002 / 1.09_f64.sqrt()).abs() < 1e-9, "{off}");
    }
}
