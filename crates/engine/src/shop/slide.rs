//! A slide with its screw and its dial.

use crate::quantity::{Angle, Length};

/// A slide, described once: what a mark claims, what a turn moves, how far it goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Slide {
    /// What one mark claims.
    pub graduation: Length,
    /// What the ring counts in one turn.
    pub per_turn: Length,
    /// Unit in which the ring is marked.
    pub unit: DialUnit,
    /// Whether a mark counts travel or twice the travel.
    pub reads: Reads,
    /// Travel of the screw per turn where paint and screw disagree.
    pub screw: Option<Length>,
    /// How far the slide goes.
    pub travel: Option<Length>,
    /// Free turn of the screw, as travel.
    pub backlash: Option<Length>,
    /// Set over from along the bed, 0 to under 90 degrees: depth = travel × cos(set over).
    pub set_over: Angle,
}

/// Unit in which a dial is marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DialUnit {
    /// Millimetres.
    Mm,
    /// Inches.
    Inch,
}

/// What a mark on the dial counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reads {
    /// A mark counts travel of the slide that sets the depth.
    Depth,
    /// The same, said of a cross slide.
    Radius,
    /// A mark counts twice the travel.
    Diameter,
}
