//! Shape: what the metal looks like at every moment, exactly, in mm.
//!
//! For prismatic work everything is a convex plane region bounded by straight lines and circular
//! arcs, times a length along the bar. This room knows no forces, jaws or limits.

mod bar;
mod bearing;
mod crossing;
mod distance;
mod edge;
mod enclosing;
mod floor;
mod moments;
mod piece;
#[cfg(test)]
mod properties;
mod section;
mod stock;

pub use bar::Bar;
pub use bearing::{Bearing, Support};
pub use crossing::Crossing;
pub use edge::{Arc, Edge, Line};
pub use enclosing::{Circle, enclosing_circle};
pub use floor::Floor;
pub use moments::SecondMoments;
pub use piece::Piece;
pub use section::Section;
pub use stock::{
    EndAllowance, LeastStock, SectionAllowance, end_allowance, least_length_mm, least_round_mm, section_allowance,
};

/// A point or a direction in a plane, mm.
pub type Point = nalgebra::Vector2<f64>;

/// Unit direction at an angle from x, counter-clockwise.
pub fn direction(angle_rad: f64) -> Point {
    Point::new(angle_rad.cos(), angle_rad.sin())
}

/// Turn by a quarter, counter-clockwise.
fn quarter_turn(v: Point) -> Point {
    Point::new(-v.y, v.x)
}

/// z component of the cross product.
fn cross(a: Point, b: Point) -> f64 {
    a.x * b.y - a.y * b.x
}
