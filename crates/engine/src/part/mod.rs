//! The part: what the drawing asks for.
//!
//! The part's frame: z along the bar's axis, face `A` at the +z end, x towards face `C`; angles run
//! counter-clockwise seen on `A`. Distances of side flats are measured from the part's own middle.

mod fit;
mod fit_table;
mod general;
mod place;
mod requirement;
mod sized;

pub use fit::{Deviations, Fit, FitFault, MOST_MM, grade_um, tolerance_factor_um};
pub use general::{General, GeometryClass, SizeClass};
pub use place::Place;
pub use requirement::{Kind, Requirement};
pub use sized::Sized;

use crate::quantity::{Angle, Length};

/// The part as the drawing gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its form and sizes.
    pub form: Form,
    /// Length along the bar, between the two ends.
    pub length: Sized,
    /// Where its middle lies in the bar's section, x then y.
    pub offset: (Length, Length),
    /// How far it is turned about the bar's axis.
    pub turn: Angle,
    /// Names of the faces in reading order: two ends, then the sides counter-clockwise.
    pub names: Vec<String>,
    /// Perpendicularity, each flat to its neighbours.
    pub square: Option<Length>,
    /// Parallelism of opposite flats.
    pub parallel: Option<Length>,
    /// Flatness of each flat.
    pub flat: Option<Length>,
    /// Angles between neighbouring sides, plus and minus.
    pub angles: Option<Angle>,
    /// Position of the middle between opposite sides: width of its zone about where it lies on the bar.
    pub position: Option<Length>,
    /// General tolerances that the drawing names.
    pub general: General,
    /// Arithmetic mean roughness Ra.
    pub roughness: Option<Length>,
    /// The widest centre hole that the drawing allows in its ends, across its mouth; `None`: none.
    pub centre_holes: Option<Length>,
    /// Faces that stay as they are: the bar's own surface or the sawn end is kept.
    pub leave: Vec<String>,
}

/// The section of the part.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// Four sides: width between C and E, height between D and F.
    Block {
        /// Between C and E, along x.
        width: Sized,
        /// Between D and F, along y.
        height: Sized,
    },
    /// Any convex section: each side's outward angle and distance from the part's middle.
    Sides(Vec<(Angle, Sized)>),
    /// A regular section.
    Regular {
        /// Number of sides, 3 to 24.
        sides: u32,
        /// Across flats for an even number, twice the distance from the middle for an odd one.
        across_flats: Sized,
    },
}
