//! Section: a convex plane region bounded by straight lines and circular arcs.

use std::f64::consts::{FRAC_PI_2, PI};

use super::edge::{Arc, Edge, Line};
use super::{Point, cross, direction, quarter_turn};

/// Lengths below this share of the section's size are nothing: a thousand roundings of an f64.
const NOTHING: f64 = 1e-12;
/// `Section::from_sides` gives up where sides meet farther out than this many times their distance.
const FARTHEST_MEETING: f64 = 100.0;

/// A convex region, the metal common to the half-planes of its lines and the discs of its arcs.
///
/// Made from a round, a rectangle, a polygon or sides, then clipped; there is no other way to make
/// one, so it is always convex, counter-clockwise and closed. What cannot be a region (no width, a
/// size that is no number) is the empty section: no metal.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Section {
    edges: Vec<Edge>,
}

impl Section {
    /// No metal.
    pub fn empty() -> Section {
        Section::default()
    }

    /// A round about the origin; empty for a radius that is not positive and finite.
    pub fn round(radius_mm: f64) -> Section {
        if !(radius_mm > 0.0 && radius_mm.is_finite()) {
            return Section::empty();
        }
        let whole = Arc { centre: Point::zeros(), radius_mm, start_rad: 0.0, sweep_rad: 2.0 * PI };
        Section { edges: vec![Edge::Arc(whole)] }
    }

    /// A rectangle between x0 and x1, y0 and y1, mm; empty unless both run upwards.
    pub fn rectangle(x0_mm: f64, x1_mm: f64, y0_mm: f64, y1_mm: f64) -> Section {
        let all_finite = [x0_mm, x1_mm, y0_mm, y1_mm].iter().all(|value| value.is_finite());
        if !(all_finite && x1_mm > x0_mm && y1_mm > y0_mm) {
            return Section::empty();
        }
        let corner = Point::new;
        let line = |from, to, normal_rad, distance_mm| Edge::Line(Line { from, to, normal_rad, distance_mm });
        Section {
            edges: vec![
                line(corner(x1_mm, y0_mm), corner(x1_mm, y1_mm), 0.0, x1_mm),
                line(corner(x1_mm, y1_mm), corner(x0_mm, y1_mm), FRAC_PI_2, y1_mm),
                line(corner(x0_mm, y1_mm), corner(x0_mm, y0_mm), PI, -x0_mm),
                line(corner(x0_mm, y0_mm), corner(x1_mm, y0_mm), -FRAC_PI_2, -y0_mm),
            ],
        }
    }

    /// The convex hull of the points, in whatever order they come; empty if they span no area or one
    /// of them is not finite.
    pub fn polygon(points: &[Point]) -> Section {
        let hull = hull(points);
        if hull.len() < 3 {
            return Section::empty();
        }
        let nexts = hull.iter().cycle().skip(1);
        Section { edges: hull.iter().zip(nexts).map(|(&from, &to)| Edge::Line(line_between(from, to))).collect() }
    }

    /// The region n·p <= distance for every (angle of n in rad, distance in mm). `None` where the
    /// sides do not close, or meet farther out than a hundred times the largest distance.
    pub fn from_sides(sides: &[(f64, f64)]) -> Option<Section> {
        let largest = sides.iter().map(|side| side.1.abs()).fold(0.0, f64::max);
        let reach = largest * FARTHEST_MEETING;
        let around = Section::rectangle(-reach, reach, -reach, reach);
        let cut = sides.iter().fold(around, |section, side| section.clip(side.0, side.1));
        let closed = cut.corners().iter().all(|corner| corner.amax() < reach * (1.0 - NOTHING));
        closed.then_some(cut)
    }

    /// The edges, counter-clockwise.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// The ends of the edges, counter-clockwise; none for a whole round.
    pub fn corners(&self) -> Vec<Point> {
        let whole = |edge: &&Edge| matches!(edge, Edge::Arc(arc) if arc.is_whole());
        self.edges.iter().filter(|edge| !whole(edge)).map(Edge::from).collect()
    }

    /// Whether there is no metal.
    pub fn is_empty(&self) -> bool {
        self.edges.is_empty()
    }

    /// What remains where n·p <= distance. A line that misses or only touches the section cuts
    /// nothing; one that leaves no width leaves nothing; one that is no number leaves nothing.
    pub fn clip(&self, normal_rad: f64, distance_mm: f64) -> Section {
        if self.is_empty() || !normal_rad.is_finite() || distance_mm.is_nan() {
            return Section::empty();
        }
        let nothing = self.nothing_mm();
        if self.extent_mm(normal_rad) <= distance_mm + nothing {
            return self.clone();
        }
        if -self.extent_mm(normal_rad + PI) >= distance_mm - nothing {
            return Section::empty();
        }
        closed(self.kept(normal_rad, distance_mm), normal_rad, distance_mm, nothing)
    }

    /// What remains inside a rectangle between x0 and x1, y0 and y1, mm.
    pub fn within_rectangle(&self, x0_mm: f64, x1_mm: f64, y0_mm: f64, y1_mm: f64) -> Section {
        self.clip(0.0, x1_mm).clip(FRAC_PI_2, y1_mm).clip(PI, -x0_mm).clip(-FRAC_PI_2, -y0_mm)
    }

    /// The part with h2 <= n·p <= h1, mm; empty where h2 >= h1.
    pub fn strip(&self, normal_rad: f64, h2_mm: f64, h1_mm: f64) -> Section {
        if h2_mm >= h1_mm {
            return Section::empty();
        }
        self.clip(normal_rad, h1_mm).clip(normal_rad + PI, -h2_mm)
    }

    /// Whether the section has a straight edge of this outward normal, rad, at this distance, mm.
    pub fn has_flat(&self, normal_rad: f64, distance_mm: f64) -> bool {
        const SAME: f64 = 1e-6;
        self.edges.iter().any(|edge| match edge {
            Edge::Line(line) => {
                let turned = (line.normal_rad - normal_rad + PI).rem_euclid(2.0 * PI) - PI;
                turned.abs() < SAME && (line.distance_mm - distance_mm).abs() < SAME
            }
            Edge::Arc(_) => false,
        })
    }

    /// Distance, mm, of the straight edge of this outward normal, rad, from the origin; `None`: it has none.
    pub fn flat_mm(&self, normal_rad: f64) -> Option<f64> {
        const SAME: f64 = 1e-6;
        self.edges.iter().find_map(|edge| match edge {
            Edge::Line(line) => {
                let turned = (line.normal_rad - normal_rad + PI).rem_euclid(2.0 * PI) - PI;
                (turned.abs() < SAME).then_some(line.distance_mm)
            }
            Edge::Arc(_) => None,
        })
    }

    /// Area of the part with h2 <= n·p <= h1, mm², summed over that part's own edges.
    pub fn strip_area(&self, normal_rad: f64, h2_mm: f64, h1_mm: f64) -> f64 {
        self.strip(normal_rad, h2_mm, h1_mm).area()
    }

    /// Largest n·p in the section, mm; minus infinity where there is no metal.
    pub fn extent_mm(&self, normal_rad: f64) -> f64 {
        self.edges.iter().map(|edge| edge.extent_mm(normal_rad)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The interval along the tangent (normal + 90°) of the line n·p = h inside the section, mm.
    /// A line that only touches gives the interval touched: a point, or the length of a flat.
    pub fn chord(&self, normal_rad: f64, h_mm: f64) -> Option<(f64, f64)> {
        let (normal, nothing) = (direction(normal_rad), self.nothing_mm());
        let tangent = quarter_turn(normal);
        let mut along: Vec<f64> = Vec::with_capacity(4);
        for edge in &self.edges {
            let ends = [edge.from(), edge.to()];
            along.extend(ends.iter().filter(|p| (normal.dot(p) - h_mm).abs() <= nothing).map(|p| tangent.dot(p)));
            along.extend(crossings(edge, normal_rad, h_mm).into_iter().flatten().map(|p| tangent.dot(&p)));
        }
        let least = along.iter().copied().fold(f64::INFINITY, f64::min);
        let most = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (least <= most).then_some((least, most))
    }

    /// The same section shifted, mm; empty where the shift is not finite.
    pub fn moved(&self, dx_mm: f64, dy_mm: f64) -> Section {
        let shift = Point::new(dx_mm, dy_mm);
        if !(dx_mm.is_finite() && dy_mm.is_finite()) {
            return Section::empty();
        }
        self.changed(|edge| match edge {
            Edge::Line(line) => Edge::Line(Line {
                from: line.from + shift,
                to: line.to + shift,
                distance_mm: line.distance_mm + line.normal().dot(&shift),
                ..line
            }),
            Edge::Arc(arc) => Edge::Arc(Arc { centre: arc.centre + shift, ..arc }),
        })
    }

    /// The same section turned about the origin, rad counter-clockwise; empty where the angle is not
    /// finite.
    pub fn turned(&self, angle_rad: f64) -> Section {
        if !angle_rad.is_finite() {
            return Section::empty();
        }
        let x = direction(angle_rad);
        let turn = |p: Point| x * p.x + quarter_turn(x) * p.y;
        self.changed(|edge| match edge {
            Edge::Line(line) => Edge::Line(Line {
                from: turn(line.from),
                to: turn(line.to),
                normal_rad: line.normal_rad + angle_rad,
                ..line
            }),
            Edge::Arc(arc) => Edge::Arc(Arc { centre: turn(arc.centre), start_rad: arc.start_rad + angle_rad, ..arc }),
        })
    }

    /// The length that counts as nothing here, mm.
    pub(super) fn nothing_mm(&self) -> f64 {
        NOTHING * self.edges.iter().map(Edge::size_mm).fold(0.0, f64::max)
    }

    fn changed(&self, change: impl Fn(Edge) -> Edge) -> Section {
        Section { edges: self.edges.iter().map(|&edge| change(edge)).collect() }
    }

    fn kept(&self, normal_rad: f64, distance_mm: f64) -> Vec<Edge> {
        let normal = direction(normal_rad);
        let kept = self.edges.iter().flat_map(|edge| match edge {
            Edge::Line(line) => [line.kept(normal, distance_mm).map(Edge::Line), None],
            Edge::Arc(arc) => arc.kept(normal_rad, distance_mm).map(|part| part.map(Edge::Arc)),
        });
        kept.flatten().collect()
    }
}

/// Drops edges of no length and closes the gap that a cut has left with the cut's own line.
fn closed(kept: Vec<Edge>, normal_rad: f64, distance_mm: f64, nothing: f64) -> Section {
    let kept: Vec<Edge> = kept.into_iter().filter(|edge| edge.length_mm() > nothing).collect();
    let mut edges = Vec::with_capacity(kept.len() + 1);
    for (i, edge) in kept.iter().enumerate() {
        edges.push(*edge);
        let (from, to) = (edge.to(), kept[(i + 1) % kept.len()].from());
        if (to - from).norm() > nothing {
            edges.push(Edge::Line(Line { from, to, normal_rad, distance_mm }));
        }
    }
    Section { edges }
}

/// Where the line n·p = h crosses an edge.
fn crossings(edge: &Edge, normal_rad: f64, h_mm: f64) -> [Option<Point>; 2] {
    match edge {
        Edge::Line(line) => {
            let normal = direction(normal_rad);
            let (before, after) = (normal.dot(&line.from) - h_mm, normal.dot(&line.to) - h_mm);
            let crosses = before * after < 0.0;
            [crosses.then(|| line.from + (line.to - line.from) * (before / (before - after))), None]
        }
        Edge::Arc(arc) => {
            let over = (h_mm - direction(normal_rad).dot(&arc.centre)) / arc.radius_mm;
            let half = (over.abs() <= 1.0 + NOTHING).then(|| over.clamp(-1.0, 1.0).acos());
            let there = |angle: f64| arc.faces(angle).then(|| arc.at(angle));
            [half.and_then(|half| there(normal_rad + half)), half.and_then(|half| there(normal_rad - half))]
        }
    }
}

fn line_between(from: Point, to: Point) -> Line {
    let along = to - from;
    let normal_rad = (-along.x).atan2(along.y);
    Line { from, to, normal_rad, distance_mm: direction(normal_rad).dot(&((from + to) / 2.0)) }
}

/// Convex hull, counter-clockwise (A. M. Andrew 1979, monotone chain); no point on a straight edge.
fn hull(points: &[Point]) -> Vec<Point> {
    if points.iter().any(|p| !(p.x.is_finite() && p.y.is_finite())) {
        return Vec::new();
    }
    let size = points.iter().map(Point::amax).fold(0.0, f64::max);
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut hull = half_hull(sorted.iter().copied(), NOTHING * size);
    hull.extend(half_hull(sorted.iter().rev().copied(), NOTHING * size));
    hull
}

/// One half of the hull, without its last point.
fn half_hull(points: impl Iterator<Item = Point>, nothing: f64) -> Vec<Point> {
    let mut half: Vec<Point> = Vec::new();
    for p in points {
        while half.len() >= 2 && !turns_left(half[half.len() - 2], half[half.len() - 1], p, nothing) {
            half.pop();
        }
        half.push(p);
    }
    half.pop();
    half
}

/// Whether b lies to the right of the line from a to c by more than nothing.
fn turns_left(a: Point, b: Point, c: Point, nothing: f64) -> bool {
    cross(b - a, c - a) > nothing * (c - a).norm().max((b - a).norm())
}
