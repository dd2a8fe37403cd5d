//! The floor of a face about the spindle axis.

use nalgebra::Vector2;

use super::lie::Lie;
use crate::part::Place;
use crate::shape::{Floor, Piece};

/// The floor of a face at a height, about the spindle axis.
pub fn floor_at(piece: &Piece, place: Place, lie: &Lie, height_mm: f64) -> Floor {
    let axis = match place {
        Place::Side(_) => Vector2::new(lie.axis_mm.0, lie.axis_mm.1),
        Place::Front | Place::Back => {
            let axis = lie.axes[0] * lie.axis_mm.0 + lie.axes[1] * lie.axis_mm.1;
            Vector2::new(axis.x, axis.y)
        }
    };
    piece.floor(place, height_mm, axis)
}

/// Greatest radius × share in the metal, mm: what the mean power over a turn goes with.
pub fn mean_radius(floor: &Floor) -> f64 {
    floor.longest_arc_mm() / std::f64::consts::TAU
}
