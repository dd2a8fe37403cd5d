//! Edges of a section: a straight line or a circular arc, the metal on the left.

use std::f64::consts::{PI, TAU};

use super::{Point, direction};

/// One edge of a section, run counter-clockwise round the metal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// Straight.
    Line(Line),
    /// Round, bulging outwards.
    Arc(Arc),
}

/// A straight edge on the line n·p = distance; it keeps its normal however short it gets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Start, mm.
    pub from: Point,
    /// End, mm.
    pub to: Point,
    /// Angle of the outward normal, rad.
    pub normal_rad: f64,
    /// n·p of the line, mm.
    pub distance_mm: f64,
}

/// An arc of a circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre, mm.
    pub centre: Point,
    /// Radius, mm.
    pub radius_mm: f64,
    /// Angle at the start, rad.
    pub start_rad: f64,
    /// Angle run through, 0 to 2π, rad.
    pub sweep_rad: f64,
}

impl Edge {
    /// Start, mm.
    pub fn from(&self) -> Point {
        match self {
            Edge::Line(line) => line.from,
            Edge::Arc(arc) => arc.at(arc.start_rad),
        }
    }

    /// End, mm.
    pub fn to(&self) -> Point {
        match self {
            Edge::Line(line) => line.to,
            Edge::Arc(arc) => arc.at(arc.start_rad + arc.sweep_rad),
        }
    }

    /// Length along the edge, mm.
    pub fn length_mm(&self) -> f64 {
        match self {
            Edge::Line(line) => (line.to - line.from).norm(),
            Edge::Arc(arc) => arc.radius_mm * arc.sweep_rad,
        }
    }

    /// Largest n·p on the edge, mm.
    pub(super) fn extent_mm(&self, normal_rad: f64) -> f64 {
        let normal = direction(normal_rad);
        match self {
            Edge::Arc(arc) if arc.faces(normal_rad) => normal.dot(&arc.centre) + arc.radius_mm,
            _ => normal.dot(&self.from()).max(normal.dot(&self.to())),
        }
    }

    /// A length that all its coordinates stay within, mm.
    pub(super) fn size_mm(&self) -> f64 {
        match self {
            Edge::Line(line) => line.from.amax().max(line.to.amax()),
            Edge::Arc(arc) => arc.centre.amax() + arc.radius_mm,
        }
    }
}

impl Line {
    /// Outward unit normal.
    pub fn normal(&self) -> Point {
        direction(self.normal_rad)
    }

    /// What is left of the line where n·p <= distance.
    pub(super) fn kept(&self, normal: Point, distance_mm: f64) -> Option<Line> {
        let over_from = normal.dot(&self.from) - distance_mm;
        let over_to = normal.dot(&self.to) - distance_mm;
        if over_from <= 0.0 && over_to <= 0.0 {
            return Some(*self);
        }
        if over_from >= 0.0 && over_to >= 0.0 {
            return None;
        }
        let crossing = self.from + (self.to - self.from) * (over_from / (over_from - over_to));
        Some(if over_from > 0.0 { Line { from: crossing, ..*self } } else { Line { to: crossing, ..*self } })
    }
}

impl Arc {
    /// Point of its circle at an angle, mm.
    pub fn at(&self, angle_rad: f64) -> Point {
        self.centre + direction(angle_rad) * self.radius_mm
    }

    /// Whether a point of the arc faces that way.
    pub fn faces(&self, angle_rad: f64) -> bool {
        (angle_rad - self.start_rad).rem_euclid(TAU) <= self.sweep_rad
    }

    /// Whether it is a whole circle.
    pub(super) fn is_whole(&self) -> bool {
        self.sweep_rad >= TAU
    }

    /// What is left of the arc where n·p <= distance: none, one or two pieces, in order.
    pub(super) fn kept(&self, normal_rad: f64, distance_mm: f64) -> [Option<Arc>; 2] {
        let over = (distance_mm - direction(normal_rad).dot(&self.centre)) / self.radius_mm;
        if over >= 1.0 {
            return [Some(*self), None];
        }
        if over <= -1.0 {
            return [None, None];
        }
        let half_cut = over.acos();
        let window = 2.0 * (PI - half_cut);
        if self.is_whole() {
            return [Some(Arc { start_rad: normal_rad + half_cut, sweep_rad: window, ..*self }), None];
        }
        let opens = (normal_rad + half_cut - self.start_rad).rem_euclid(TAU);
        [self.part(opens - TAU, opens - TAU + window), self.part(opens, opens + window)]
    }

    /// The part between two angles counted from its start.
    fn part(&self, from_rad: f64, to_rad: f64) -> Option<Arc> {
        let (from, to) = (from_rad.max(0.0), to_rad.min(self.sweep_rad));
        (to > from).then_some(Arc { start_rad: self.start_rad + from, sweep_rad: to - from, ..*self })
    }
}
