//! What lies between jaw and work, and behind the work.

use crate::quantity::{Length, Pressure};

/// Soft pieces for between a jaw and a finished flat.
#[derive(Debug, Clone, PartialEq)]
pub struct Packing {
    /// What it is, as the trade says it: "soft copper".
    pub material: String,
    /// Thicknesses on hand, rising.
    pub thickness: Vec<Length>,
    /// Friction against work and jaw.
    pub friction: Option<f64>,
    /// Strength at which it flows; `None`: by its name.
    pub yield_strength: Option<Pressure>,
}

/// Pairs of parallels for behind the work.
#[derive(Debug, Clone, PartialEq)]
pub struct Parallels {
    /// Heights on hand, each as an equal pair, rising.
    pub pairs: Vec<Length>,
    /// How long they are; they must bridge the hole in the chuck face.
    pub length: Option<Length>,
    /// Thickness of each: how wide a strip beside a jaw it needs.
    pub width: Option<Length>,
}

/// A stop that stands in the spindle and turns with it; the work is tapped back against its end.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    /// How far its end can stand out of the chuck face, least and most.
    pub reach: (Length, Length),
}
