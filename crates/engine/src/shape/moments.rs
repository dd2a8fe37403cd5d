//! Area, centroid and second moments of a section.
//!
//! Green's theorem over the edges: the polygon of the corners, plus for every arc the circular
//! segment between arc and chord in closed form.

use super::edge::Arc;
use super::{Edge, Point, Section, cross, direction, quarter_turn};

/// Second moments of area about axes through the centroid, mm⁴.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SecondMoments {
    /// About the axis along x: ∫ y² dA.
    pub about_x_mm4: f64,
    /// About the axis along y: ∫ x² dA.
    pub about_y_mm4: f64,
    /// Product ∫ x y dA.
    pub product_mm4: f64,
}

/// ∫ dA, ∫ p dA and ∫ p pᵀ dA about one point.
#[derive(Debug, Clone, Copy)]
struct Sums {
    area: f64,
    first: Point,
    xx: f64,
    yy: f64,
    xy: f64,
}

impl Section {
    /// Area, mm².
    pub fn area(&self) -> f64 {
        self.sums().area
    }

    /// Centroid, mm; `None` where there is no metal.
    pub fn centroid(&self) -> Option<Point> {
        let sums = self.sums();
        (sums.area > 0.0).then(|| self.near() + sums.first / sums.area)
    }

    /// Second moments about the centroid; all zero where there is no metal.
    pub fn second_moments(&self) -> SecondMoments {
        let sums = self.sums();
        if sums.area <= 0.0 {
            return SecondMoments::default();
        }
        let centre = sums.first / sums.area;
        SecondMoments {
            about_x_mm4: sums.yy - sums.area * centre.y * centre.y,
            about_y_mm4: sums.xx - sums.area * centre.x * centre.x,
            product_mm4: sums.xy - sums.area * centre.x * centre.y,
        }
    }

    /// Length round the edges, mm.
    pub fn perimeter_mm(&self) -> f64 {
        self.edges().iter().map(Edge::length_mm).sum()
    }

    /// A point on the edge: sums taken about it lose no digits however far away the section lies.
    fn near(&self) -> Point {
        self.edges().first().map_or_else(Point::zeros, Edge::from)
    }

    fn sums(&self) -> Sums {
        let near = self.near();
        self.edges().iter().fold(Sums::default(), |sums, edge| {
            let with_chord = sums.plus(triangle(edge.from() - near, edge.to() - near));
            match edge {
                Edge::Line(_) => with_chord,
                Edge::Arc(arc) => with_chord.plus(segment(arc, near)),
            }
        })
    }
}

impl Default for Sums {
    fn default() -> Self {
        Sums { area: 0.0, first: Point::zeros(), xx: 0.0, yy: 0.0, xy: 0.0 }
    }
}

impl Sums {
    fn plus(self, other: Sums) -> Sums {
        Sums {
            area: self.area + other.area,
            first: self.first + other.first,
            xx: self.xx + other.xx,
            yy: self.yy + other.yy,
            xy: self.xy + other.xy,
        }
    }
}

/// Triangle between the origin and two points, signed.
fn triangle(p: Point, q: Point) -> Sums {
    let twice = cross(p, q);
    Sums {
        area: twice / 2.0,
        first: (p + q) * (twice / 6.0),
        xx: twice / 12.0 * (p.x * p.x + p.x * q.x + q.x * q.x),
        yy: twice / 12.0 * (p.y * p.y + p.y * q.y + q.y * q.y),
        xy: twice / 24.0 * (2.0 * p.x * p.y + p.x * q.y + q.x * p.y + 2.0 * q.x * q.y),
    }
}

/// Circular segment between an arc and its chord, about `near`.
///
/// With half angle α, about the circle's centre, u along the middle of the arc and v across:
/// A = R² (α − s c), ∫ u dA = 2/3 R³ s³, ∫ u² dA = R⁴/4 (α − s c + 2 s³ c),
/// ∫ v² dA = R⁴/12 (3 (α − s c) − 2 s³ c), s = sin α, c = cos α; 0 < α <= π.
fn segment(arc: &Arc, near: Point) -> Sums {
    let (half, r) = (arc.sweep_rad / 2.0, arc.radius_mm);
    let (s, c) = half.sin_cos();
    let bulge = half_minus_sine(half);
    let area = r * r * bulge;
    let first_u = 2.0 / 3.0 * r.powi(3) * s.powi(3);
    let uu = r.powi(4) / 4.0 * (bulge + 2.0 * s.powi(3) * c);
    let vv = r.powi(4) / 12.0 * (3.0 * bulge - 2.0 * s.powi(3) * c);
    let u = direction(arc.start_rad + half);
    let v = quarter_turn(u);
    let (to_centre, own) = (arc.centre - near, u * first_u);
    Sums {
        area,
        first: to_centre * area + own,
        xx: area * to_centre.x * to_centre.x + 2.0 * to_centre.x * own.x + uu * u.x * u.x + vv * v.x * v.x,
        yy: area * to_centre.y * to_centre.y + 2.0 * to_centre.y * own.y + uu * u.y * u.y + vv * v.y * v.y,
        xy: area * to_centre.x * to_centre.y
            + to_centre.x * own.y
            + to_centre.y * own.x
            + uu * u.x * u.y
            + vv * v.x * v.y,
    }
}

/// α − sin α cos α, by its series where the difference would lose digits.
fn half_minus_sine(half: f64) -> f64 {
    if half > 0.1 {
        return half - half.sin() * half.cos();
    }
    // (x − sin x)/2 with x = 2α; terms to x¹¹ leave less than 1e-16 of the result at α = 0.1.
    let x = 2.0 * half;
    let xx = x * x;
    x * xx / 12.0 * (1.0 - xx / 20.0 * (1.0 - xx / 42.0 * (1.0 - xx / 72.0 * (1.0 - xx / 110.0))))
}
