//! Two opposite faces: the area that they have in common, and the local two-point sizes over it (ISO 14405-1).

use crate::shape::{Edge, Point, Section};

/// The size between two opposite faces, seen square to them: planes with a small lean to one another, each with the cone
/// of one cross slide about the axis that it was cut on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Size at the origin were there no cones, mm.
    pub at_origin_mm: f64,
    /// How the size grows along x and y, mm per mm: the two leans added.
    pub slopes: [f64; 2],
    /// Slope of the cones, hollow positive: proud at the rim.
    pub hollow: f64,
    /// Where the spindle axis went through each face.
    pub axes: [Point; 2],
}

/// The area that two faces have in common; straight edges of the second.
pub fn common_area(one: &Section, other: &Section) -> Section {
    other.edges().iter().fold(one.clone(), |left, edge| match edge {
        Edge::Line(line) => left.clip(line.normal_rad, line.distance_mm),
        Edge::Arc(_) => left,
    })
}

/// Least and most local size over an area with straight edges, mm; `None` where there is none. Sizes are convex over the
/// area for a hollow cone: the most is at a corner, the least is sought; for a crowned one it is the other way.
pub fn sizes_mm(pair: &Pair, area: &Section) -> Option<(f64, f64)> {
    let corners = area.corners();
    let first = *corners.first()?;
    let size = |at: Point| pair.size_mm(at);
    let (least, most) = super::plane::ends(corners.iter().map(|&corner| size(corner)));
    if pair.hollow == 0.0 {
        return Some((least, most));
    }
    let sign = pair.hollow.signum();
    let convex = |at: Point| sign * size(at);
    let inner = size(bottom(&corners, first, &convex));
    Some(if sign > 0.0 { (least.min(inner), most) } else { (least, most.max(inner)) })
}

impl Pair {
    /// Local size at a place, mm.
    pub fn size_mm(&self, at: Point) -> f64 {
        let cones: f64 = self.axes.iter().map(|axis| (at - axis).norm()).sum();
        self.at_origin_mm + self.slopes[0] * at.x + self.slopes[1] * at.y + self.hollow * cones
    }
}

/// The lowest place of a convex function over a convex polygon: golden section along y inside golden section along x,
/// both to 1e-9 of the polygon's width.
fn bottom(corners: &[Point], first: Point, of: &dyn Fn(Point) -> f64) -> Point {
    let (left, right) = super::plane::ends(corners.iter().map(|corner| corner.x));
    let at_x = |x: f64| {
        let (low, high) = upright(corners, x).unwrap_or((first.y, first.y));
        Point::new(x, golden(low, high, &|y| of(Point::new(x, y))))
    };
    at_x(golden(left, right, &|x| of(at_x(x))))
}

/// Lowest and highest y of a convex polygon at an x.
fn upright(corners: &[Point], x: f64) -> Option<(f64, f64)> {
    let nexts = corners.iter().cycle().skip(1);
    let crossings = corners.iter().zip(nexts).filter_map(|(from, to)| {
        let (low, high) = if from.x <= to.x { (from, to) } else { (to, from) };
        let within = low.x <= x && x <= high.x;
        let share = if high.x > low.x { (x - low.x) / (high.x - low.x) } else { 0.0 };
        within.then_some(low.y + share * (high.y - low.y))
    });
    // Both ends of an upright edge.
    let ends = corners.iter().filter(|corner| corner.x == x).map(|corner| corner.y);
    let (low, high) = super::plane::ends(crossings.chain(ends));
    (low <= high).then_some((low, high))
}

/// Where a convex function of one number is least.
fn golden(mut low: f64, mut high: f64, of: &dyn Fn(f64) -> f64) -> f64 {
    const STEPS: usize = 45;
    let share = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut one, mut other) = (high - share * (high - low), low + share * (high - low));
    let (mut at_one, mut at_other) = (of(one), of(other));
    for _ in 0..STEPS {
        if at_one <= at_other {
            (high, other, at_other) = (other, one, at_one);
            one = high - share * (high - low);
            at_one = of(one);
        } else {
            (low, one, at_one) = (one, other, at_other);
            other = low + share * (high - low);
            at_other = of(other);
        }
    }
    (low + high) / 2.0
}

/// Whether a point lies in a convex polygon, corners counter-clockwise, or on its rim.
pub(super) fn inside(corners: &[Point], point: Point) -> bool {
    let nexts = corners.iter().cycle().skip(1);
    corners.iter().zip(nexts).all(|(from, to)| (to - from).perp(&(point - from)) >= 0.0)
}

/// Where slope · r − tilt · p, r from the axis, is least over a convex polygon, slope not negative: at the axis if that
/// lies inside and the tilt is less than the slope, else on an edge, in closed form.
pub(super) fn lowest(corners: &[Point], axis: Point, slope: f64, tilt: Point) -> Point {
    let value = |at: &Point| slope * (at - axis).norm() - tilt.dot(at);
    let nexts = corners.iter().cycle().skip(1);
    let on_edges = corners.iter().zip(nexts).map(|(&from, &to)| {
        let along = (to - from).normalize();
        let (start, end) = (along.dot(&(from - axis)), along.dot(&(to - axis)));
        let height = (from - axis - along * start).norm();
        // d/dτ (slope √(h² + τ²) − t τ) = 0 at τ = h k/√(1 − k²), k = t/slope.
        let share = tilt.dot(&along) / slope;
        let stands =
            if share.abs() < 1.0 { height * share / (1.0 - share * share).sqrt() } else { share * f64::INFINITY };
        let stands = if stands.is_nan() { start } else { stands.clamp(start, end) };
        from + along * (stands - start)
    });
    let at_axis = inside(corners, axis).then_some(axis);
    let places = on_edges.chain(at_axis);
    places.min_by(|one, other| value(one).total_cmp(&value(other))).unwrap_or(axis)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: fn() -> Section = || Section::rectangle(-25.0, 25.0, -25.0, 25.0);

    fn pair(slopes: [f64; 2], hollow: f64, axes: [[f64; 2]; 2]) -> Pair {
        Pair { at_origin_mm: 36.0, slopes, hollow, axes: axes.map(|[x, y]| Point::new(x, y)) }
    }

    #[test]
    fn planes_have_their_extremes_at_corners() {
        let (least, most) = sizes_mm(&pair([1e-4, -2e-4], 0.0, [[0.0; 2]; 2]), &SQUARE()).expect("sizes");
        assert!((least - 35.9925).abs() < 1e-12 && (most - 36.0075).abs() < 1e-12);
        assert!(sizes_mm(&pair([0.0; 2], 0.0, [[0.0; 2]; 2]), &Section::empty()).is_none());
    }

    #[test]
    fn cones_have_theirs_where_a_fine_grid_has_them() {
        let cases = [
            pair([1.3e-4, 0.4e-4], 1e-4, [[3.0, -4.0], [-6.0, 2.0]]),
            pair([0.0, 0.0], 1e-4, [[3.0, -4.0], [-6.0, 2.0]]),
            pair([-3e-4, 1e-4], 1e-4, [[0.0, 0.0], [0.0, 0.0]]),
            pair([1.3e-4, 0.4e-4], -1e-4, [[30.0, -4.0], [-6.0, 2.0]]),
        ];
        for pair in cases {
            let (least, most) = sizes_mm(&pair, &SQUARE()).expect("sizes");
            let grid = (0..501 * 501)
                .map(|at| pair.size_mm(Point::new(f64::from(at % 501) - 250.0, f64::from(at / 501) - 250.0) / 10.0));
            let (low, high) = super::super::plane::ends(grid);
            assert!(least <= low + 1e-12 && low - least < 3e-6, "{pair:?}: {least} {low}");
            assert!(most >= high - 1e-12 && most - high < 3e-6, "{pair:?}: {most} {high}");
        }
    }

    #[test]
    fn the_common_area_is_what_both_faces_cover() {
        let area = common_area(&SQUARE(), &Section::rectangle(-10.0, 40.0, -30.0, 5.0));
        assert!((area.area() - 35.0 * 30.0).abs() < 1e-9);
    }
}
