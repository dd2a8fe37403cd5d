//! Bars that the shop can get: each size by itself, with how long it comes.

use crate::bar::{BarForm, Surface};
use crate::quantity::Length;

/// One size of bar that the shop can get.
#[derive(Debug, Clone, PartialEq)]
pub struct ShopBar {
    /// Its section and sizes.
    pub form: BarForm,
    /// A row of the material table.
    pub material: String,
    /// Its skin; `None`: as is usual for the material.
    pub surface: Option<Surface>,
    /// How long a blank of it is.
    pub blanks: Blanks,
    /// What a blank costs; `None`: what the shop takes for any new blank.
    pub minutes: Option<BlankMinutes>,
}

/// How long blanks of a bar come.
#[derive(Debug, Clone, PartialEq)]
pub enum Blanks {
    /// Sawn to length from the bar.
    Sawn {
        /// No longer than this; `None`: not limited.
        longest: Option<Length>,
    },
    /// Pieces of these lengths, rising.
    Pieces(Vec<Length>),
}

/// What a blank of a bar costs, in minutes of work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlankMinutes {
    /// Until it lies sawn at the lathe.
    pub sawing: f64,
    /// What a kilogram of it is bought for.
    pub per_kg: f64,
}
