//! Cutting tools.

use crate::quantity::{Angle, Length};

/// A cutting tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// Its name in the shop.
    pub name: String,
    /// What it is ground or made for; "facing" for flats.
    pub does: Vec<String>,
    /// What the edge is made of.
    pub material: ToolMaterial,
    /// Cutting edge angle in facing, ISO 3002 κ_r, 30 to 100 degrees.
    pub cutting_edge_angle: Option<Angle>,
    /// Nose radius r_ε.
    pub nose_radius: Option<Length>,
    /// Rake γ.
    pub rake: Option<Angle>,
    /// Deepest cut it may take.
    pub deepest_cut: Option<Length>,
    /// Least and most feed per revolution.
    pub feed: Option<(Length, Length)>,
}

/// What an edge is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ToolMaterial {
    /// High-speed steel.
    Hss,
    /// Uncoated carbide.
    CarbideUncoated,
    /// Coated carbide.
    CarbideCoated,
}

impl ToolMaterial {
    /// Its name in job and shop files.
    pub fn name(self) -> &'static str {
        match self {
            ToolMaterial::Hss => "HSS",
            ToolMaterial::CarbideUncoated => "carbide, uncoated",
            ToolMaterial::CarbideCoated => "carbide, coated",
        }
    }

    /// Every tool material, in order.
    pub const ALL: [ToolMaterial; 3] = [ToolMaterial::Hss, ToolMaterial::CarbideUncoated, ToolMaterial::CarbideCoated];
}
