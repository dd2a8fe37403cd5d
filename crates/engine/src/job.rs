//! The job: what is to be made, from which bar, with which of the shop's things.

pub use crate::bar::{BarForm, BarShape, Surface};
use crate::part::Part;
use crate::quantity::{Length, MassDensity, Pressure, Units, Velocity};
use crate::shop::ToolMaterial;

/// Everything that a job file says; with a [`StockWish`] in place of its bar, that is left to be chosen.
#[derive(Debug, Clone, PartialEq)]
pub struct Job<S = Stock> {
    /// What it is called.
    pub title: String,
    /// How the plan speaks.
    pub units: Units,
    /// The bar as it lies on the bench.
    pub stock: S,
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

/// A job as it may be written: with its bar, or with the bar left open.
#[derive(Debug, Clone, PartialEq)]
pub enum AnyJob {
    /// The bar is given.
    Given(Job),
    /// The bar is to be chosen from what the shop lists.
    Open(Job<StockWish>),
}

impl AnyJob {
    /// How the plan speaks.
    pub fn units(&self) -> Units {
        match self {
            AnyJob::Given(job) => job.units,
            AnyJob::Open(job) => job.units,
        }
    }

    /// On which lathe, by its name in the shop.
    pub fn set_lathe(&mut self, name: &str) {
        let lathe = match self {
            AnyJob::Given(job) => &mut job.lathe,
            AnyJob::Open(job) => &mut job.lathe,
        };
        *lathe = Some(name.to_string());
    }
}

impl<S> Job<S> {
    /// The same job from another bar, or with its bar left open.
    pub fn from_bar<T>(&self, stock: T) -> Job<T> {
        Job {
            title: self.title.clone(),
            units: self.units,
            stock,
            part: self.part.clone(),
            lathe: self.lathe.clone(),
            chuck: self.chuck.clone(),
            tools: self.tools.clone(),
            cutting: self.cutting,
            order: self.order.clone(),
        }
    }
}

/// What a bar must be that is left to be chosen; `None`: whatever does.
#[derive(Debug, Clone, PartialEq)]
pub struct StockWish {
    /// Its section.
    pub shape: Option<BarShape>,
    /// Its length as sawn; `None`: the least that is usual for the part.
    pub length: Option<Length>,
    /// What it is made of.
    pub material: JobMaterial,
    /// Its skin.
    pub surface: Option<Surface>,
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
