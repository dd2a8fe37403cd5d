//! Points that stand for a patch of contact.

use nalgebra::Vector3;

/// Corners of a flat convex patch with the share of its area that falls to each: the patch is cut into
/// triangles about its middle and each triangle is halved between its two corners. A rectangle gives four
/// quarters, a line its two ends half each. Corners in order round the patch, mm.
pub fn patch_points(corners_mm: &[Vector3<f64>]) -> Vec<(Vector3<f64>, f64)> {
    let count = corners_mm.len();
    let area = doubled_area(corners_mm).norm();
    let across = corners_mm.iter().map(|corner| (corner - corners_mm[0]).norm()).fold(0.0, f64::max);
    // A patch narrower than a millionth of its length is a line.
    if count < 3 || area <= 1e-6 * across * across {
        return ends(corners_mm);
    }
    let middle = centroid(corners_mm);
    let triangle = |index: usize| {
        let (from, to) = (corners_mm[index % count], corners_mm[(index + 1) % count]);
        (from - middle).cross(&(to - middle)).norm()
    };
    let whole: f64 = (0..count).map(triangle).sum();
    let share = |index: usize| (triangle(index + count - 1) + triangle(index)) / (2.0 * whole);
    corners_mm.iter().enumerate().map(|(index, corner)| (*corner, share(index))).collect()
}

fn doubled_area(corners_mm: &[Vector3<f64>]) -> Vector3<f64> {
    fan(corners_mm).map(|(_, doubled)| doubled).sum()
}

fn centroid(corners_mm: &[Vector3<f64>]) -> Vector3<f64> {
    let normal = doubled_area(corners_mm);
    let moment: Vector3<f64> = fan(corners_mm).map(|(middle, doubled)| middle * doubled.dot(&normal)).sum();
    moment / normal.norm_squared()
}

/// Triangles from the first corner: middle and doubled area of each.
fn fan(corners_mm: &[Vector3<f64>]) -> impl Iterator<Item = (Vector3<f64>, Vector3<f64>)> + '_ {
    corners_mm.windows(2).map(|side| {
        let first = corners_mm[0];
        ((first + side[0] + side[1]) / 3.0, (side[0] - first).cross(&(side[1] - first)))
    })
}

/// The two corners farthest apart, half each; a lone corner takes all.
fn ends(corners_mm: &[Vector3<f64>]) -> Vec<(Vector3<f64>, f64)> {
    let Some(&first) = corners_mm.first() else { return Vec::new() };
    let farthest = |from: Vector3<f64>| {
        let by_distance = |one: &&Vector3<f64>, other: &&Vector3<f64>| {
            (*one - from).norm_squared().total_cmp(&(*other - from).norm_squared())
        };
        corners_mm.iter().max_by(by_distance).copied().unwrap_or(from)
    };
    let one = farthest(first);
    let other = farthest(one);
    if one == other { vec![(first, 1.0)] } else { vec![(other, 0.5), (one, 0.5)] }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(corners: &[[f64; 2]]) -> Vec<f64> {
        let corners: Vec<_> = corners.iter().map(|corner| Vector3::new(20.0, corner[0], corner[1])).collect();
        patch_points(&corners).into_iter().map(|(_, share)| share).collect()
    }

    #[test]
    fn a_rectangle_gives_quarters_and_a_line_halves() {
        let rectangle = shares(&[[-10.0, -25.0], [10.0, -25.0], [10.0, 0.0], [-10.0, 0.0]]);
        assert!(rectangle.iter().all(|share| (share - 0.25).abs() < 1e-12), "{rectangle:?}");
        assert_eq!(shares(&[[0.0, -25.0], [0.0, 0.0]]), [0.5, 0.5]);
        assert_eq!(shares(&[[0.0, -25.0], [0.0, -12.0], [0.0, 0.0]]), [0.5, 0.5]);
    }

    #[test]
    fn shares_of_any_patch_make_a_whole() {
        let triangle = shares(&[[0.0, 0.0], [12.0, 0.0], [0.0, 9.0]]);
        assert!(triangle.iter().all(|share| (share - 1.0 / 3.0).abs() < 1e-12), "{triangle:?}");
        let clipped = shares(&[[0.0, 0.0], [12.0, 0.0], [12.0, 5.0], [7.0, 9.0], [0.0, 9.0]]);
        assert!((clipped.iter().sum::<f64>() - 1.0).abs() < 1e-12 && clipped.iter().all(|&share| share > 0.0));
    }

    #[test]
    fn nothing_and_a_lone_point_are_no_trouble() {
        assert!(patch_points(&[]).is_empty());
        assert_eq!(shares(&[[3.0, 4.0]]), [1.0]);
        assert_eq!(shares(&[[3.0, 4.0], [3.0, 4.0]]), [1.0]);
    }
}
