//! Vees: blocks with a groove, laid between a jaw and a corner of the work.

use crate::quantity::{Angle, Length, Pressure};

/// A kind of vee, of which the shop has some that are alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Vee {
    /// What it is made of, as the trade says it: "soft aluminium".
    pub material: String,
    /// Between its flanks, 60 to 150 degrees.
    pub angle: Angle,
    /// Across the groove, from lip to lip: the whole block.
    pub width: Length,
    /// From its back to its lips; more than the groove is deep.
    pub height: Length,
    /// Along the groove.
    pub length: Length,
    /// How many there are that are alike.
    pub count: u32,
    /// Friction against work and jaw.
    pub friction: Option<f64>,
    /// Strength at which it flows; `None`: by its name.
    pub yield_strength: Option<Pressure>,
}
