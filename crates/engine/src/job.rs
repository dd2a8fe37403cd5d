//! The job: what is to be made, from which bar, with which of the shop's things.

use crate::part::Part;
use crate::quantity::{Length, MassDensity, Pressure, Units, Velocity};
use crate::shop::ToolMaterial;

/// Everything that a job file says.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// What it is called.
    pub title: String,
    /// How the plan speaks.
    pub units: Units,
    /// The bar as it lies on the bench.
    pub stock: Stock,
    /// What is to be made of it.
    pub part: Part,
    /// Name of the lathe; `None`: the shop's first.
    pub lathe: Option<String>,
    /// Name of the chuck; `None`: the shop's first.
    pub chuck: Option<String>,
    /// Names of the tools that may be used; empty: the shop's first facing tool.
    pub tools: Vec<String>,
    /// Wishes about cutting.
    pub cutting: Wishes,
    /// Wishes about the order.
    pub order: OrderWishes,
}

/// Wishes about the order; the rest is sought around them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OrderWishes {
    /// What the best order is.
    pub seek: Seek,
    /// Names of the faces to be cut first, in this order.
    pub first: Vec<String>,
    /// Names of faces that are to be cut on a seat.
    pub seated: Vec<String>,
}

/// What the best order is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Seek {
    /// Fewest minutes for a good piece.
    #[default]
    Balanced,
    /// Fewest minutes, whatever comes out.
    Quickest,
    /// Most good pieces, whatever it takes.
    Truest,
}

/// The bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// Its section and sizes.
    pub form: BarForm,
    /// Its length as sawn.
    pub length: Length,
    /// What it is made of.
    pub material: JobMaterial,
    /// Its skin; `None`: hot-rolled for steel, else drawn.
    pub surface: Option<Surface>,
}

/// Section of a bar. The first flat of a square, hexagonal or flat bar faces x, towards `C`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BarForm {
    /// Round.
    Round {
        /// Diameter.
        diameter: Length,
    },
    /// Square.
    Square {
        /// Across flats.
        across: Length,
    },
    /// Hexagonal.
    Hexagon {
        /// Across flats.
        across: Length,
    },
    /// Flat bar: width along x, thickness along y.
    Flat {
        /// Along x.
        width: Length,
        /// Along y.
        thickness: Length,
    },
}

/// Skin of a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// Rolled hot: scale, out of round.
    HotRolled,
    /// Cold drawn: bright.
    Drawn,
    /// Turned.
    Turned,
    /// Ground.
    Ground,
    /// As cast: skin and sand.
    Cast,
}

/// A material, by its name in the table or with values of the job's own.
#[derive(Debug, Clone, PartialEq)]
pub enum JobMaterial {
    /// A row of the material table.
    Named(String),
    /// Own values; no correction that was not asked for is applied to them.
    Own(OwnMaterial),
}

/// Material values written in the job.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnMaterial {
    /// What it is called.
    pub name: String,
    /// Specific cutting force k_c1.1 at 1 mm by 1 mm.
    pub kc11: Pressure,
    /// Exponent m_c, 0 to under 1.
    pub mc: f64,
    /// Density.
    pub density: MassDensity,
    /// Yield strength.
    pub yield_strength: Option<Pressure>,
    /// Cutting speed for each tool material that may be used.
    pub speeds: Vec<(ToolMaterial, Velocity)>,
}

/// Wishes about cutting; `None`: decided by the rules.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wishes {
    /// Share of the table speed used where the cut is interrupted.
    pub speed_share_interrupted: Option<f64>,
    /// Depth of the finishing cut.
    pub finishing_cut: Option<Length>,
    /// Skin taken off a sawn end at least.
    pub clean_up: Option<Length>,
    /// Deepest roughing cut, whatever else would allow.
    pub deepest_cut: Option<Length>,
}
