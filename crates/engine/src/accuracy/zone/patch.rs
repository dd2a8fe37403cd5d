//! How the mean plane of a part of a face leans that slip and cone have left: what a jaw or a seat finds of it.

use nalgebra::{Matrix2, Vector2};

use super::wedges::{Integrals, wedges};
use crate::shape::Point;

/// Slopes along x and y of a mean plane (least squares over the area).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lean {
    /// Per mm of axial slip to either side of its middle, once per turn: columns for slip that stands proud along x, y.
    pub slip: Matrix2<f64>,
    /// Per rad of the cone, hollow positive.
    pub cone: Vector2<f64>,
}

/// The lean of several patches of one face together, corners counter-clockwise, cut about an axis; `None`: they span
/// no area. Small slopes; exact.
pub fn lean(patches: &[Vec<Point>], axis: Point) -> Option<Lean> {
    let mut all = Integrals::default();
    patches.iter().flat_map(|corners| wedges(corners, axis)).for_each(|wedge| all.add(&wedge));
    let centre = all.first / all.area;
    let inverse = (all.second - centre * all.first.transpose()).try_inverse().filter(|_| all.area > 0.0)?;
    Some(Lean {
        slip: inverse * (all.direction_moment - centre * all.direction.transpose()),
        cone: inverse * (all.distance_moment - centre * all.distance),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle([left, right]: [f64; 2], [low, high]: [f64; 2]) -> Vec<Point> {
        [[left, low], [right, low], [right, high], [left, high]].map(|[x, y]| Point::new(x, y)).to_vec()
    }

    #[test]
    fn patches_lean_as_a_fine_grid_says() {
        const STEPS: usize = 400;
        for (patches, axis) in [
            (vec![([-10.0, 10.0], [2.0, 20.0])], Point::new(0.0, 0.0)),
            (vec![([-20.0, 20.0], [-14.0, -8.0]), ([-20.0, 20.0], [8.0, 14.0])], Point::new(3.0, -1.0)),
        ] {
            let points = patches.iter().flat_map(|(x, y)| {
                let place = |[from, to]: [f64; 2], at: usize| from + (to - from) * (at as f64 + 0.5) / STEPS as f64;
                (0..STEPS * STEPS).map(move |at| Point::new(place(*x, at % STEPS), place(*y, at / STEPS)))
            });
            let points: Vec<Point> = points.collect();
            let centre = points.iter().sum::<Point>() / points.len() as f64;
            let (mut second, mut slip, mut cone) = (Matrix2::zeros(), Matrix2::zeros(), Point::zeros());
            for point in &points {
                let (off, from) = (point - centre, point - axis);
                second += off * off.transpose();
                slip += off * from.normalize().transpose();
                cone += off * from.norm();
            }
            let inverse = second.try_inverse().expect("an area");
            let corners: Vec<_> = patches.iter().map(|(x, y)| rectangle(*x, *y)).collect();
            let found = lean(&corners, axis).expect("an area");
            assert!((found.slip - inverse * slip).norm() < 1e-5 * found.slip.norm(), "{found:?}");
            assert!((found.cone - inverse * cone).norm() < 1e-5, "{found:?}");
        }
    }

    #[test]
    fn a_line_leans_nowhere() {
        assert_eq!(lean(&[rectangle([-5.0, 5.0], [3.0, 3.0])], Point::zeros()), None);
        assert_eq!(lean(&[], Point::zeros()), None);
    }
}
