//! Lines and elliptical arcs: ends, bounds, crossings with a straight line.

use std::f64::consts::{PI, TAU};

use crate::figure::{Arc, Curve};
use crate::vector::{Flat, apart, between, cross, dot, go, turn};

/// Below this, mm, nothing can be seen.
const NOTHING_MM: f64 = 1e-9;

impl Curve {
    /// A straight line.
    pub fn line(from_mm: Flat, to_mm: Flat) -> Curve {
        Curve::Line { from_mm, to_mm }
    }

    /// A whole circle.
    pub fn circle(centre_mm: Flat, radius_mm: f64) -> Curve {
        Curve::Arc(Arc { centre_mm, halves_mm: [[radius_mm, 0.0], [0.0, radius_mm]], from_rad: 0.0, to_rad: TAU })
    }

    /// A point of it, 0: start, 1: end.
    pub fn at(&self, share: f64) -> Flat {
        match self {
            Curve::Line { from_mm, to_mm } => go(*from_mm, between(*from_mm, *to_mm), share),
            Curve::Arc(arc) => arc.point(arc.from_rad + (arc.to_rad - arc.from_rad) * share),
        }
    }

    /// Where it starts.
    pub fn start(&self) -> Flat {
        self.at(0.0)
    }

    /// Where it ends.
    pub fn end(&self) -> Flat {
        self.at(1.0)
    }

    /// Run the other way.
    pub fn back(&self) -> Curve {
        match *self {
            Curve::Line { from_mm, to_mm } => Curve::Line { from_mm: to_mm, to_mm: from_mm },
            Curve::Arc(arc) => Curve::Arc(Arc { from_rad: arc.to_rad, to_rad: arc.from_rad, ..arc }),
        }
    }

    /// Every point brought to `origin + (x, y) · across, x·a + y·b`.
    pub fn moved(&self, origin: Flat, along: [Flat; 2]) -> Curve {
        let turned = |v: Flat| go([along[0][0] * v[0], along[0][1] * v[0]], along[1], v[1]);
        let placed = |p: Flat| go(origin, turned(p), 1.0);
        match *self {
            Curve::Line { from_mm, to_mm } => Curve::Line { from_mm: placed(from_mm), to_mm: placed(to_mm) },
            Curve::Arc(arc) => {
                Curve::Arc(Arc { centre_mm: placed(arc.centre_mm), halves_mm: arc.halves_mm.map(turned), ..arc })
            }
        }
    }

    /// Left, top, right, bottom: least and most of x and y.
    pub fn bounds(&self) -> [f64; 4] {
        let mut points = vec![self.start(), self.end()];
        if let Curve::Arc(arc) = self {
            points.extend(arc.turning_points());
        }
        bounds_of(points)
    }

    /// Points of it at which `normal · p = offset`.
    pub fn crossings(&self, normal: Flat, offset: f64) -> Vec<Flat> {
        match self {
            Curve::Line { from_mm, to_mm } => {
                let (a, b) = (dot(normal, *from_mm) - offset, dot(normal, *to_mm) - offset);
                if a * b > 0.0 || (a - b).abs() < NOTHING_MM {
                    return Vec::new();
                }
                vec![go(*from_mm, between(*from_mm, *to_mm), a / (a - b))]
            }
            Curve::Arc(arc) => arc.crossings(normal, offset),
        }
    }

    /// As straight pieces that leave it by less than `off_mm`.
    pub fn straightened(&self, off_mm: f64) -> Vec<[Flat; 2]> {
        let pieces = match self {
            Curve::Line { .. } => 1,
            Curve::Arc(arc) => arc.pieces(off_mm),
        };
        let share = |at: usize| at as f64 / pieces as f64;
        (0..pieces).map(|at| [self.at(share(at)), self.at(share(at + 1))]).collect()
    }

    /// Whether nothing of it can be seen.
    pub fn is_point(&self) -> bool {
        match self {
            Curve::Line { from_mm, to_mm } => apart(*from_mm, *to_mm) < 1e-7,
            Curve::Arc(arc) => {
                let size = arc.halves_mm.iter().map(|half| half[0].hypot(half[1])).fold(0.0, f64::max);
                size * (arc.to_rad - arc.from_rad).abs() < 1e-7
            }
        }
    }
}

impl Arc {
    /// The point at this t.
    pub fn point(&self, t: f64) -> Flat {
        let [a, b] = self.halves_mm;
        go(go(self.centre_mm, a, t.cos()), b, t.sin())
    }

    /// Longest and shortest half axis, and the angle of the longest.
    pub fn axes(&self) -> (f64, f64, f64) {
        let [a, b] = self.halves_mm;
        // Rytz: the ends of the axes lie where (a cos t + b sin t)² is largest and smallest.
        let t = 0.5 * (2.0 * dot(a, b)).atan2(dot(a, a) - dot(b, b));
        let far = |t: f64| go([a[0] * t.cos(), a[1] * t.cos()], b, t.sin());
        let (one, other) = (far(t), far(t + PI / 2.0));
        (one[0].hypot(one[1]), other[0].hypot(other[1]), one[1].atan2(one[0]))
    }

    /// Whether it runs from the first half-diameter towards the second in the sense in which x turns to y.
    pub fn runs_x_to_y(&self) -> bool {
        (cross(self.halves_mm[0], self.halves_mm[1]) > 0.0) == (self.to_rad >= self.from_rad)
    }

    /// Whether this t lies on it.
    pub fn has(&self, t: f64) -> bool {
        let (least, most) = (self.from_rad.min(self.to_rad), self.from_rad.max(self.to_rad));
        let on = turn(least, t);
        on <= most - least + 1e-9 || TAU - on < 1e-9
    }

    fn turning_points(&self) -> Vec<Flat> {
        let [a, b] = self.halves_mm;
        let (x, y) = (b[0].atan2(a[0]), b[1].atan2(a[1]));
        [x, x + PI, y, y + PI].into_iter().filter(|&t| self.has(t)).map(|t| self.point(t)).collect()
    }

    fn crossings(&self, normal: Flat, offset: f64) -> Vec<Flat> {
        // A cos t + B sin t = C.
        let [a, b] = self.halves_mm.map(|half| dot(normal, half));
        let c = offset - dot(normal, self.centre_mm);
        let size = a.hypot(b);
        if size < NOTHING_MM || c.abs() > size {
            return Vec::new();
        }
        let (middle, off) = (b.atan2(a), (c / size).acos());
        [middle - off, middle + off].into_iter().filter(|&t| self.has(t)).map(|t| self.point(t)).collect()
    }

    fn pieces(&self, off_mm: f64) -> usize {
        let size = self.halves_mm.iter().map(|half| half[0].hypot(half[1])).fold(0.0, f64::max);
        let step = (8.0 * off_mm / size.max(off_mm)).sqrt();
        (((self.to_rad - self.from_rad).abs() / step).ceil() as usize).clamp(1, 400)
    }
}

/// Left, top, right, bottom of points; of none, an empty box turned inside out.
pub fn bounds_of(points: impl IntoIterator<Item = Flat>) -> [f64; 4] {
    points.into_iter().fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, p| {
        [b[0].min(p[0]), b[1].min(p[1]), b[2].max(p[0]), b[3].max(p[1])]
    })
}

/// The box round both.
pub fn round_both(a: [f64; 4], b: [f64; 4]) -> [f64; 4] {
    [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])]
}

/// The box round all curves.
pub fn bounds_of_all<'a>(curves: impl IntoIterator<Item = &'a Curve>) -> [f64; 4] {
    curves.into_iter().map(Curve::bounds).fold(bounds_of([]), round_both)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_ellipse_knows_its_axes_and_bounds() {
        // x²/9 + y²/4 = 1 turned by 30 degrees: the half width is sqrt(9 cos² + 4 sin²), closed form.
        let (sin, cos) = (PI / 6.0).sin_cos();
        let halves_mm = [[3.0 * cos, 3.0 * sin], [-2.0 * sin, 2.0 * cos]];
        let arc = Arc { centre_mm: [1.0, 2.0], halves_mm, from_rad: 0.0, to_rad: TAU };
        let (long, short, angle) = arc.axes();
        assert!((long - 3.0).abs() < 1e-12 && (short - 2.0).abs() < 1e-12 && (angle - PI / 6.0).abs() < 1e-12);
        let half = (9.0 * cos * cos + 4.0 * sin * sin).sqrt();
        let bounds = Curve::Arc(arc).bounds();
        assert!((bounds[0] - (1.0 - half)).abs() < 1e-12 && (bounds[2] - (1.0 + half)).abs() < 1e-12);
    }

    #[test]
    fn a_line_crosses_an_arc_where_pythagoras_says() {
        let circle = Curve::circle([0.0, 0.0], 5.0);
        let mut found = circle.crossings([0.0, 1.0], 3.0);
        found.sort_by(|a, b| a[0].total_cmp(&b[0]));
        assert!(apart(found[0], [-4.0, 3.0]) < 1e-12 && apart(found[1], [4.0, 3.0]) < 1e-12);
        assert!(circle.crossings([0.0, 1.0], 5.1).is_empty());
    }
}
