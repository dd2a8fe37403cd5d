//! The bar as it lies on the bench.

use std::f64::consts::PI;

use super::{Piece, Point, Section};
use crate::job::BarForm;
use crate::quantity::Plain;

/// A bar's section about its axis; its first flat faces x.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its section, the bar's axis at the origin.
    pub section: Section,
    /// The circle that it swings in, mm.
    pub circumscribed_radius_mm: f64,
}

impl From<&BarForm> for Bar {
    /// Sizes that are not positive and finite give a bar without metal.
    fn from(form: &BarForm) -> Bar {
        let section = match *form {
            BarForm::Round { diameter } => Section::round(diameter.plain() / 2.0),
            BarForm::Square { across } => around(across.plain(), across.plain()),
            BarForm::Hexagon { across } => hexagon(across.plain()),
            BarForm::Flat { width, thickness } => around(width.plain(), thickness.plain()),
        };
        let circumscribed_radius_mm = section.farthest_from(Point::zeros());
        Bar { section, circumscribed_radius_mm }
    }
}

impl Bar {
    /// Volume of a length of it, mm³.
    pub fn volume_mm3(&self, length_mm: f64) -> f64 {
        self.piece(length_mm).volume_mm3()
    }

    /// Mass of a length of it, kg.
    pub fn mass_kg(&self, length_mm: f64, density_kg_per_m3: f64) -> f64 {
        self.piece(length_mm).mass_kg(density_kg_per_m3)
    }

    /// A length of it, its middle at z = 0.
    pub fn piece(&self, length_mm: f64) -> Piece {
        Piece::new(self.section.clone(), -length_mm / 2.0, length_mm / 2.0)
    }
}

fn around(width_mm: f64, height_mm: f64) -> Section {
    Section::rectangle(-width_mm / 2.0, width_mm / 2.0, -height_mm / 2.0, height_mm / 2.0)
}

/// Flats at 0°, 60°, ..., corners at 30°, 90°, ...
fn hexagon(across_mm: f64) -> Section {
    let sides: Vec<(f64, f64)> = (0..6).map(|i| (f64::from(i) * PI / 3.0, across_mm / 2.0)).collect();
    Section::from_sides(&sides).unwrap_or_default()
}
