//! Flatness: the narrowest zone between two planes, free to move and turn (ISO 1101, minimum zone).

use nalgebra::Vector3;

use super::plane::{Plane, across, least_squares};
use super::strip::{Strip, least_strip};

/// The minimum zone of a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Flatness {
    /// Width of the zone, mm.
    pub width_mm: f64,
    /// The plane in the middle of the zone.
    pub middle: Plane,
    /// The points that hold the zone, rising: three and one, or two and two; fewer where fewer are enough.
    pub held_by: Vec<usize>,
    /// How much narrower no zone of small slope to the one found can be, mm: rounding.
    pub gap_mm: f64,
}

/// Frames tried until the zone's own normal is upright in its frame.
const MOST_TURNS: usize = 6;
/// A frame that leans less than this is the zone's own: its cosine is one to the last digit.
const UPRIGHT: f64 = 1e-9;

/// Flatness of points of a nearly flat face: deviations small against its extent, as those of any cut face. Solved
/// upright to the plane of least squares, then upright to the zone found, until nothing leans: the width is counted
/// square to the zone. Three points, or points on a line, have width 0. `None` without points, or where a coordinate is
/// no number.
pub fn flatness(points: &[Vector3<f64>]) -> Option<Flatness> {
    let middle = points.iter().sum::<Vector3<f64>>() / points.len().max(1) as f64;
    let mut normal = least_squares(points)?.normal;
    let mut best: Option<Flatness> = None;
    for _ in 0..MOST_TURNS {
        let [x, y] = across(&normal);
        let seen = |point: &Vector3<f64>| {
            let from = point - middle;
            Vector3::new(x.dot(&from), y.dot(&from), normal.dot(&from))
        };
        let strip = least_strip(&points.iter().map(seen).collect::<Vec<_>>())?;
        let lean = strip.slopes[0].hypot(strip.slopes[1]);
        let turned = (normal - x * strip.slopes[0] - y * strip.slopes[1]).normalize();
        let zone = zone(points, turned, &strip, lean);
        if best.as_ref().is_none_or(|best| zone.width_mm < best.width_mm || lean < UPRIGHT) {
            best = Some(zone);
        }
        if lean < UPRIGHT {
            break;
        }
        normal = turned;
    }
    best
}

fn zone(points: &[Vector3<f64>], normal: Vector3<f64>, strip: &Strip, lean: f64) -> Flatness {
    let (least, most) = super::plane::ends(points.iter().map(|point| normal.dot(point)));
    Flatness {
        width_mm: most - least,
        middle: Plane { normal, distance_mm: (least + most) / 2.0 },
        held_by: strip.held_by.clone(),
        gap_mm: strip.gap_mm / lean.hypot(1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_face_that_stands_askew_is_as_flat_as_one_that_lies() {
        let list = [[0.0, 0.0, 0.0], [30.0, 0.0, 0.004], [0.0, 20.0, -0.002], [30.0, 20.0, 0.007], [11.0, 9.0, 0.013]];
        let lying: Vec<Vector3<f64>> = list.iter().map(|&[x, y, z]| Vector3::new(x, y, z)).collect();
        let turn = nalgebra::Rotation3::from_euler_angles(0.7, -1.2, 2.1);
        let askew: Vec<Vector3<f64>> = lying.iter().map(|point| turn * point + Vector3::new(5.0, -7.0, 3.0)).collect();
        let (one, other) = (flatness(&lying).expect("a zone"), flatness(&askew).expect("a zone"));
        assert!((one.width_mm - other.width_mm).abs() < 1e-13, "{} {}", one.width_mm, other.width_mm);
        assert_eq!(one.held_by, other.held_by);
        assert!(one.gap_mm < 1e-14 && other.gap_mm < 1e-13);
    }

    #[test]
    fn few_points_are_flat() {
        let three = [Vector3::new(0.0, 0.0, 0.0), Vector3::new(1.0, 5.0, 2.0), Vector3::new(4.0, -1.0, 7.0)];
        for points in [&three[..1], &three[..2], &three[..]] {
            assert!(flatness(points).expect("a zone").width_mm < 1e-14);
        }
        assert!(flatness(&[]).is_none());
    }
}
