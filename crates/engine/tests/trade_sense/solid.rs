//! The piece as a many-sided column: our own plain geometry, apart from the engine's.

use std::f64::consts::TAU;

/// Corners that stand for a full circle.
const ROUND: usize = 1440;
/// Directions agree within this, rad.
const SAME: f64 = 1e-6;

/// A point of the section, mm.
pub type Point = (f64, f64);

/// A convex section, corners counter-clockwise, from `back` to `front` along the bar, mm.
#[derive(Debug, Clone)]
pub struct Solid {
    pub corners: Vec<Point>,
    pub back: f64,
    pub front: f64,
    /// Longest edge that still belongs to a round.
    pub arc_edge: f64,
}

/// What is met in a direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Meets {
    /// A flat of this width.
    Flat(f64),
    /// A round at this point.
    Round(Point),
    /// A corner.
    Corner,
}

impl Solid {
    /// A round bar.
    pub fn round(diameter: f64, length: f64) -> Solid {
        let r = diameter / 2.0;
        let corner = |at: usize| {
            let angle = TAU * at as f64 / ROUND as f64;
            (r * angle.cos(), r * angle.sin())
        };
        let corners = (0..ROUND).map(corner).collect();
        Solid { corners, back: -length / 2.0, front: length / 2.0, arc_edge: 2.5 * TAU * r / ROUND as f64 }
    }

    /// A bar with flats at these angles and distances.
    pub fn flats(flats: &[(f64, f64)], length: f64) -> Solid {
        let far = 10.0 * flats.iter().map(|flat| flat.1).fold(1.0, f64::max);
        let corners = vec![(-far, -far), (far, -far), (far, far), (-far, far)];
        let block = Solid { corners, back: -length / 2.0, front: length / 2.0, arc_edge: 1e-3 };
        flats.iter().fold(block, |solid, &(angle, distance)| solid.cut(angle, distance))
    }

    /// What is left below a plane along the bar (Sutherland and Hodgman's clipping).
    pub fn cut(&self, angle: f64, distance: f64) -> Solid {
        let height = |p: Point| p.0 * angle.cos() + p.1 * angle.sin() - distance;
        let mut corners = Vec::with_capacity(self.corners.len() + 1);
        for (at, &here) in self.corners.iter().enumerate() {
            let next = self.corners[(at + 1) % self.corners.len()];
            let (a, b) = (height(here), height(next));
            if a <= 0.0 {
                corners.push(here);
            }
            if a * b < 0.0 {
                let share = a / (a - b);
                corners.push((here.0 + share * (next.0 - here.0), here.1 + share * (next.1 - here.1)));
            }
        }
        Solid { corners, ..self.clone() }
    }

    /// Length along the bar.
    pub fn length(&self) -> f64 {
        self.front - self.back
    }

    /// Area of the section (Gauss's trapezoids).
    pub fn area(&self) -> f64 {
        let count = self.corners.len();
        (0..count).map(|at| cross(self.corners[at], self.corners[(at + 1) % count])).sum::<f64>() / 2.0
    }

    pub fn volume(&self) -> f64 {
        self.area() * self.length()
    }

    /// How far the section reaches in a direction.
    pub fn reach(&self, angle: f64) -> f64 {
        let (sin, cos) = angle.sin_cos();
        self.corners.iter().map(|p| p.0 * cos + p.1 * sin).fold(f64::MIN, f64::max)
    }

    /// What lies outermost in a direction.
    pub fn meets(&self, angle: f64) -> Meets {
        let (sin, cos) = angle.sin_cos();
        let count = self.corners.len();
        let height = |at: usize| self.corners[at % count].0 * cos + self.corners[at % count].1 * sin;
        let top = (0..count).max_by(|&a, &b| height(a).total_cmp(&height(b))).unwrap_or(0);
        let before = self.edge((top + count - 1) % count);
        let after = self.edge(top);
        for (normal, length) in [before, after] {
            if turned(normal, angle).abs() < SAME && length > self.arc_edge {
                return Meets::Flat(length);
            }
        }
        // On a round the two edges that meet are short and bend by a step or two.
        let round = [before, after].iter().any(|edge| edge.1 <= self.arc_edge);
        if round && turned(after.0, before.0).abs() < 4.0 * TAU / ROUND as f64 {
            return Meets::Round(self.corners[top]);
        }
        Meets::Corner
    }

    /// Normal and length of the edge that begins at this corner.
    fn edge(&self, at: usize) -> (f64, f64) {
        let (p, q) = (self.corners[at], self.corners[(at + 1) % self.corners.len()]);
        let (dx, dy) = (q.0 - p.0, q.1 - p.1);
        ((-dx).atan2(dy), dx.hypot(dy))
    }

    /// Normals of the flats.
    pub fn flat_normals(&self) -> Vec<f64> {
        (0..self.corners.len())
            .map(|at| self.edge(at))
            .filter(|edge| edge.1 > self.arc_edge)
            .map(|edge| edge.0)
            .collect()
    }

    /// The section at a height in a direction: from and to, along the direction turned a quarter on.
    pub fn chord(&self, angle: f64, height: f64) -> Option<(f64, f64)> {
        let (sin, cos) = angle.sin_cos();
        let count = self.corners.len();
        let turned = |p: Point| (p.0 * cos + p.1 * sin - height, p.1 * cos - p.0 * sin);
        let mut ends: Option<(f64, f64)> = None;
        for at in 0..count {
            let ((a, s), (b, t)) = (turned(self.corners[at]), turned(self.corners[(at + 1) % count]));
            let crossing = match (a.abs() < 1e-9, a * b < 0.0) {
                (true, _) => s,
                (_, true) => s + (t - s) * a / (a - b),
                _ => continue,
            };
            ends = Some(ends.map_or((crossing, crossing), |(from, to)| (from.min(crossing), to.max(crossing))));
        }
        ends
    }

    /// Normal of every edge and its distance from a point.
    pub fn edges_about(&self, middle: Point) -> Vec<(f64, f64)> {
        (0..self.corners.len())
            .map(|at| {
                let (corner, normal) = (self.corners[at], self.edge(at).0);
                (normal, (corner.0 - middle.0) * normal.cos() + (corner.1 - middle.1) * normal.sin())
            })
            .collect()
    }

    /// Whether a point lies in the section.
    pub fn holds(&self, p: Point) -> bool {
        let count = self.corners.len();
        (0..count).all(|at| {
            let (a, b) = (self.corners[at], self.corners[(at + 1) % count]);
            cross((b.0 - a.0, b.1 - a.1), (p.0 - a.0, p.1 - a.1)) >= -1e-9
        })
    }
}

/// How far one direction is turned from another, from -pi to pi.
pub fn turned(one: f64, other: f64) -> f64 {
    (one - other + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0
}

fn cross(a: Point, b: Point) -> f64 {
    a.0 * b.1 - a.1 * b.0
}

#[test]
fn the_column_agrees_with_the_closed_forms() {
    // Segment of height h of a circle: chord 2 sqrt(R² - d²), area R² acos(d/R) - d sqrt(R² - d²) (textbook).
    let bar = Solid::round(54.0, 40.0);
    let left = bar.cut(0.3, 19.0);
    let segment = 27f64 * 27.0 * (19f64 / 27.0).acos() - 19.0 * (27f64 * 27.0 - 19.0 * 19.0).sqrt();
    assert!((bar.area() - left.area() - segment).abs() < 0.05, "{}", bar.area() - left.area());
    let (from, to) = bar.chord(0.3, 19.0).expect("the plane meets the bar");
    assert!((to - from - 2.0 * (27f64 * 27.0 - 19.0 * 19.0).sqrt()).abs() < 1e-2);
    assert!(matches!(left.meets(0.3), Meets::Flat(_)) && matches!(left.meets(2.0), Meets::Round(_)));
    assert_eq!(Solid::flats(&[(0.0, 5.0), (1.6, 5.0), (3.1, 5.0), (4.7, 5.0)], 9.0).meets(0.8), Meets::Corner);
}
