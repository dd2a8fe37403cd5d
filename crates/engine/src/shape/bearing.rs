//! What of a section bears outermost in a direction: a round, a flat or a corner.

use std::f64::consts::TAU;

use super::{Edge, Point, Section, direction};

/// A flat bears where its normal is this close to the direction; an arc where its end is not, rad.
const SQUARE_ON_RAD: f64 = 1e-9;

/// The outermost part of a section in a direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// Its distance n·p, mm.
    pub extent_mm: f64,
    /// What bears there.
    pub bearing: Bearing,
}

/// What bears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bearing {
    /// The inside of an arc.
    Round {
        /// Where, mm.
        at: Point,
        /// Centre of the arc, mm.
        centre: Point,
        /// Its radius, mm.
        radius_mm: f64,
        /// How far the arc runs on counter-clockwise from there, rad; a whole round runs once round either way.
        left_rad: f64,
        /// How far it runs on clockwise, rad.
        right_rad: f64,
    },
    /// A straight edge square to the direction, run counter-clockwise.
    Flat {
        /// Start, mm.
        from: Point,
        /// End, mm.
        to: Point,
    },
    /// A corner.
    Corner(Point),
}

impl Section {
    /// What bears outermost in a direction; `None` where there is no metal or no direction.
    pub fn support(&self, direction_rad: f64) -> Option<Support> {
        if self.is_empty() || !direction_rad.is_finite() {
            return None;
        }
        let extent_mm = self.extent_mm(direction_rad);
        let bearing = self
            .edges()
            .iter()
            .find_map(|edge| flat(edge, direction_rad))
            .or_else(|| self.edges().iter().find_map(|edge| round(edge, direction_rad)))
            .or_else(|| self.outermost_corner(direction_rad).map(Bearing::Corner))?;
        Some(Support { extent_mm, bearing })
    }

    fn outermost_corner(&self, direction_rad: f64) -> Option<Point> {
        let normal = direction(direction_rad);
        let corners = self.edges().iter().map(Edge::from);
        corners.max_by(|a, b| normal.dot(a).total_cmp(&normal.dot(b)))
    }
}

fn flat(edge: &Edge, direction_rad: f64) -> Option<Bearing> {
    let Edge::Line(line) = edge else { return None };
    let off = (line.normal_rad - direction_rad).rem_euclid(TAU);
    let square_on = off <= SQUARE_ON_RAD || TAU - off <= SQUARE_ON_RAD;
    square_on.then_some(Bearing::Flat { from: line.from, to: line.to })
}

fn round(edge: &Edge, direction_rad: f64) -> Option<Bearing> {
    let Edge::Arc(arc) = edge else { return None };
    let right_rad = (direction_rad - arc.start_rad).rem_euclid(TAU);
    let left_rad = arc.sweep_rad - right_rad;
    // A whole round has no ends, wherever its arc is said to begin.
    let (left_rad, right_rad) = if arc.is_whole() { (TAU, TAU) } else { (left_rad, right_rad) };
    let inside = arc.is_whole() || (right_rad > SQUARE_ON_RAD && left_rad > SQUARE_ON_RAD);
    inside.then(|| Bearing::Round {
        at: arc.at(direction_rad),
        centre: arc.centre,
        radius_mm: arc.radius_mm,
        left_rad,
        right_rad,
    })
}
