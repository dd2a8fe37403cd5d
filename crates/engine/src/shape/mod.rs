//! Shape: what the metal looks like at every moment, exactly, in mm.
//!
//! For prismatic work everything is a convex plane region bounded by straight lines and circular
//! arcs, times a length along the bar. This room knows no forces, jaws or limits.
//!
//! From the bar to the floor of a pass:
//!
//! ```
//! use engine::job::BarForm;
//! use engine::part::Place;
//! use engine::quantity::mm;
//! use engine::shape::{Bar, Point};
//!
//! let bar = Bar::from(&BarForm::Round { diameter: mm(58.0) }).piece(50.0);
//! let side = Place::Side(0.0);
//! // A side cut down to 18 mm from the bar's axis, the spindle axis through the middle of the floor.
//! let floor = bar.floor(side, 18.0, Point::zeros());
//! let half_chord = (29.0_f64.powi(2) - 18.0_f64.powi(2)).sqrt();
//! assert!((floor.area_mm2() - 2.0 * half_chord * 50.0).abs() < 1e-9);
//! assert!((floor.start_radius_mm - half_chord.hypot(25.0)).abs() < 1e-9);
//! assert!(floor.mean_share() < 1.0 && floor.most_entries() == 4);
//! assert!(bar.removed_mm3(side, 29.0, 18.0) > 0.0);
//! let next = bar.with_flat(side, 18.0);
//! assert_eq!(next.section.edges().len(), 2);
//! ```

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
