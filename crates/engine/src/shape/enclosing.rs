//! The smallest circle round points or round a section.

use super::{Edge, Point, Section, cross};

/// A point counts as inside when it lies out by less than this share of the radius.
const INSIDE: f64 = 1e-12;
/// Points that a section's arcs may add before the search stops; each brings the circle nearer.
const MOST_ADDED: usize = 64;

/// A circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Centre, mm.
    pub centre: Point,
    /// Radius, mm.
    pub radius_mm: f64,
}

impl Circle {
    fn holds(&self, point: Point) -> bool {
        (point - self.centre).norm() <= self.radius_mm * (1.0 + INSIDE)
    }
}

/// Smallest circle that holds all the points; `None` without points or with one that is not finite.
///
/// Built up point by point (Welzl 1991, without the shuffling: the same points in the same order give
/// the same circle); exact but for rounding.
pub fn enclosing_circle(points: &[Point]) -> Option<Circle> {
    if points.iter().any(|p| !(p.x.is_finite() && p.y.is_finite())) {
        return None;
    }
    let mut circle = Circle { centre: *points.first()?, radius_mm: 0.0 };
    for (i, &p) in points.iter().enumerate() {
        if !circle.holds(p) {
            circle = through_one(&points[..i], p);
        }
    }
    Some(circle)
}

impl Section {
    /// Smallest circle that holds the section, within 1e-9 of its radius where arcs are shorter than
    /// half a circle, exact otherwise; `None` where there is no metal.
    pub fn enclosing_circle(&self) -> Option<Circle> {
        let half_or_more = self.edges().iter().find_map(|edge| match edge {
            Edge::Arc(arc) if arc.sweep_rad >= std::f64::consts::PI => {
                Some(Circle { centre: arc.centre, radius_mm: arc.radius_mm })
            }
            _ => None,
        });
        if half_or_more.is_some() {
            return half_or_more;
        }
        let mut points = self.corners();
        let mut circle = enclosing_circle(&points)?;
        for _ in 0..MOST_ADDED {
            let Some(outside) = self.farthest_point_outside(&circle) else { break };
            points.push(outside);
            circle = enclosing_circle(&points)?;
        }
        Some(circle)
    }

    /// The arc point that lies farthest out of the circle.
    fn farthest_point_outside(&self, circle: &Circle) -> Option<Point> {
        let arc_points = self.edges().iter().filter_map(|edge| match edge {
            Edge::Arc(arc) => {
                let way = arc.centre - circle.centre;
                let angle = way.y.atan2(way.x);
                arc.faces(angle).then(|| arc.at(angle))
            }
            Edge::Line(_) => None,
        });
        let out = |p: &Point| (p - circle.centre).norm();
        let farthest = arc_points.max_by(|a, b| out(a).total_cmp(&out(b)));
        farthest.filter(|p| out(p) > circle.radius_mm * (1.0 + 1e-9))
    }
}

/// Smallest circle of the points with `p` on it.
fn through_one(points: &[Point], p: Point) -> Circle {
    let mut circle = Circle { centre: p, radius_mm: 0.0 };
    for (i, &q) in points.iter().enumerate() {
        if !circle.holds(q) {
            circle = through_two(&points[..i], p, q);
        }
    }
    circle
}

/// Smallest circle of the points with `p` and `q` on it.
fn through_two(points: &[Point], p: Point, q: Point) -> Circle {
    let mut circle = across(p, q);
    for &r in points {
        if !circle.holds(r) {
            // Three points in a line need the two farthest apart only.
            circle = through_three(p, q, r).unwrap_or_else(|| widest(p, q, r));
        }
    }
    circle
}

fn across(p: Point, q: Point) -> Circle {
    Circle { centre: (p + q) / 2.0, radius_mm: (p - q).norm() / 2.0 }
}

fn widest(p: Point, q: Point, r: Point) -> Circle {
    let larger = |a: Circle, b: Circle| if b.radius_mm > a.radius_mm { b } else { a };
    larger(across(p, q), larger(across(q, r), across(r, p)))
}

/// Circle through three points; `None` if they lie in a line.
fn through_three(p: Point, q: Point, r: Point) -> Option<Circle> {
    let (a, b) = (q - p, r - p);
    let twice = 2.0 * cross(a, b);
    if twice.abs() <= INSIDE * a.norm() * b.norm() {
        return None;
    }
    let (aa, bb) = (a.norm_squared(), b.norm_squared());
    let to_centre = Point::new(b.y * aa - a.y * bb, a.x * bb - b.x * aa) / twice;
    Some(Circle { centre: p + to_centre, radius_mm: to_centre.norm() })
}
