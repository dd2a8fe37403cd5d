//! Distances between a point and a section.

use super::{Edge, Point, Section};

impl Section {
    /// Whether the point lies inside or on the edge.
    pub fn contains(&self, point: Point) -> bool {
        let nothing = self.nothing_mm();
        let inside = |edge: &Edge| match edge {
            Edge::Line(line) => line.normal().dot(&point) <= line.distance_mm + nothing,
            Edge::Arc(arc) => (point - arc.centre).norm() <= arc.radius_mm + nothing,
        };
        !self.is_empty() && self.edges().iter().all(inside)
    }

    /// Distance to the farthest point of the section, mm; 0 where there is no metal.
    pub fn farthest_from(&self, point: Point) -> f64 {
        self.edges().iter().map(|edge| farthest(edge, point)).fold(0.0, f64::max)
    }

    /// Distance to the nearest point of the section, mm: 0 inside; 0 where there is no metal.
    pub fn nearest_to(&self, point: Point) -> f64 {
        if self.is_empty() || self.contains(point) {
            return 0.0;
        }
        self.edges().iter().map(|edge| nearest(edge, point)).fold(f64::INFINITY, f64::min)
    }
}

fn farthest(edge: &Edge, point: Point) -> f64 {
    let ends = (edge.from() - point).norm().max((edge.to() - point).norm());
    match edge {
        Edge::Arc(arc) if faces(arc, arc.centre - point) => (arc.centre - point).norm() + arc.radius_mm,
        _ => ends,
    }
}

fn nearest(edge: &Edge, point: Point) -> f64 {
    let ends = (edge.from() - point).norm().min((edge.to() - point).norm());
    match edge {
        Edge::Arc(arc) if faces(arc, point - arc.centre) => ((point - arc.centre).norm() - arc.radius_mm).abs(),
        Edge::Arc(_) => ends,
        Edge::Line(line) => {
            let along = line.to - line.from;
            let share = (point - line.from).dot(&along) / along.norm_squared();
            if (0.0..=1.0).contains(&share) { (line.from + along * share - point).norm() } else { ends }
        }
    }
}

/// Whether the arc has a point in that direction from its centre; every point of it will do where
/// there is no direction.
fn faces(arc: &super::Arc, way: Point) -> bool {
    way == Point::zeros() || arc.faces(way.y.atan2(way.x))
}
