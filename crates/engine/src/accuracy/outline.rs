//! A finished face as the chain sees it: its tangents, and its corners about the place where its size is measured.

use nalgebra::Vector3;

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
}

/// Points and weights of Gauss's rule with five points between 0 and 1: the reach of an edge is smooth between its ends.
const GAUSS: [(f64, f64); 5] = [
    (0.046_910_077_030_668, 0.118_463_442_528_095),
    (0.230_765_344_947_158, 0.239_314_335_249_683),
    (0.5, 0.284_444_444_444_444),
    (0.769_234_655_052_842, 0.239_314_335_249_683),
    (0.953_089_922_969_332, 0.118_463_442_528_095),
];

/// Slope of the plane that lies best (least squares over the area) in a face that rises and falls once per turn by
/// one millimetre to either side: along the first and the second tangent, for a rise in that direction. On a square
/// of side 2 a it is 1.14779 / a, whatever its size. Outline convex, the spindle's axis inside; 0 for no outline.
pub fn slip_per_mm(shape: &FaceShape) -> [f64; 2] {
    let count = shape.corners_mm.len();
    let from_axis = |at: usize| {
        let corner = shape.corners_mm[at % count];
        [corner[0] - shape.axis_mm[0], corner[1] - shape.axis_mm[1]]
    };
    let mut sums = [[0.0; 2]; 2];
    for (from, to) in (0..count).map(|at| (from_axis(at), from_axis(at + 1))) {
        let start = from[1].atan2(from[0]);
        let sweep = (from[0] * to[1] - from[1] * to[0]).atan2(from[0] * to[0] + from[1] * to[1]);
        for (along, weight) in GAUSS {
            let (sin, cos) = (start + along * sweep).sin_cos();
            let [dx, dy] = [to[0] - from[0], to[1] - from[1]];
            let across = cos * dy - sin * dx;
            let out = if across == 0.0 { 0.0 } else { (from[0] * dy - from[1] * dx) / across };
            for (axis, part) in [cos, sin].into_iter().enumerate() {
                sums[axis][0] += weight * sweep * part * part * out.powi(3) / 3.0;
                sums[axis][1] += weight * sweep * part * part * out.powi(4) / 4.0;
            }
        }
    }
    sums.map(|[rise, run]| if run > 0.0 { rise / run } else { 0.0 })
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
            let [x, y] = slip_per_mm(&square(half));
            assert!((x * half - closed).abs() < 2e-4 * closed && (y - x).abs() < 1e-9, "{x} {closed}");
        }
    }

    #[test]
    fn extents_follow_the_direction() {
        let shape = square(10.0);
        assert_eq!(shape.half_mm(&Vector3::x()), 10.0);
        assert!((shape.half_mm(&Vector3::new(0.6, 0.8, 0.0)) - 14.0).abs() < 1e-12);
        assert!((shape.radius_mm([3.0, 4.0]) - 5.0).abs() < 1e-12);
    }
}
