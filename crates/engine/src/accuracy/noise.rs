//! What makes a part differ from the drawing: every source of error by name, each a standard normal times its spread.
//!
//! A noise that two set-ups share is one noise: a jaw's face leans the same way wherever it bears.

/// A source of error. Two equal ones are the same draw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Noise {
    /// No draw at all: what is known, in every piece.
    Known,
    /// The face of a jaw leans; it stays with the jaw (from 0).
    JawFace(u8),
    /// The chuck's face leans, fixed to the jaws; along jaw 1 (0) or square to it (1).
    ChuckFace(u8),
    /// The spindle slips along itself once per turn, fixed to the jaws; along jaw 1 (0) or square to it (1).
    AxialSlip(u8),
    /// The cross slide is out of square: a cone, hollow or full.
    CrossSlide,
    /// Roughness about what feed and nose give.
    Roughness,
    /// A gauge reads wrong all day.
    Gauge(u8),
    /// A sawn end leans, seen along its first (0) or second (1) tangent.
    Sawn(u8, u8),
    /// A jaw (from 0) leans anew as it was tightened for the cut of this face.
    Regrip(u8, u8),
    /// Dirt between a jaw and its bearing, in the set-up of this face.
    Dirt(u8, u8),
    /// Packing on a jaw is not of one thickness, in the set-up of this face.
    Packing(u8, u8),
    /// The bar's skin leans where a jaw bears, in the set-up of this face.
    Skin(u8, u8),
    /// The bar's skin leans where it is seated, in the set-up of this face; along X (0) or Y (1).
    SkinBehind(u8, u8),
    /// What only the eye set in the set-up of this face; along X (0) or Y (1).
    Eye(u8, u8),
    /// Tapped down on the seat in the set-up of this face; along X (0) or Y (1).
    Tapped(u8, u8),
    /// Two parallels of a pair differ, in the set-up of this face.
    Parallels(u8),
    /// The last cut of this face: its edge, dial and spring.
    Cut(u8),
    /// Touching off for this face.
    TouchOff(u8),
}

/// Numbers set aside for one face, and for what all set-ups share.
const BLOCK: u32 = 64;
/// No chuck has more jaws.
const JAWS: u32 = 8;

impl Noise {
    /// Its place among all noises: the same whatever the order of the set-ups, so that plans are compared on the
    /// same draws.
    pub fn dimension(self) -> u32 {
        let of_face = |face: u8, at: u32| BLOCK * (u32::from(face) + 1) + at;
        let of_jaw = |face: u8, jaw: u8, kind: u32| of_face(face, 16 + kind * JAWS + u32::from(jaw) % JAWS);
        match self {
            Noise::Known => 7,
            Noise::ChuckFace(axis) => u32::from(axis),
            Noise::AxialSlip(axis) => 2 + u32::from(axis),
            Noise::CrossSlide => 4,
            Noise::Roughness => 5,
            Noise::JawFace(jaw) => 8 + u32::from(jaw) % JAWS,
            Noise::Gauge(gauge) => 16 + u32::from(gauge) % 40,
            Noise::Sawn(end, axis) => 56 + 2 * u32::from(end % 2) + u32::from(axis % 2),
            Noise::Eye(face, axis) => of_face(face, u32::from(axis)),
            Noise::Tapped(face, axis) => of_face(face, 2 + u32::from(axis)),
            Noise::Parallels(face) => of_face(face, 4),
            Noise::SkinBehind(face, axis) => of_face(face, 8 + u32::from(axis)),
            Noise::Cut(face) => of_face(face, 5),
            Noise::TouchOff(face) => of_face(face, 6),
            Noise::Regrip(face, jaw) => of_jaw(face, jaw, 0),
            Noise::Dirt(face, jaw) => of_jaw(face, jaw, 1),
            Noise::Packing(face, jaw) => of_jaw(face, jaw, 2),
            Noise::Skin(face, jaw) => of_jaw(face, jaw, 3),
        }
    }
}
