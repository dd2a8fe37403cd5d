//! The job's bar in the shop's list of bars: what a blank of it costs.

use crate::cutting::{self, Material};
use crate::job::{Job, JobMaterial, Surface};
use crate::quantity::Plain;
use crate::shape::Bar;
use crate::shop::{Blanks, Shop, ShopBar};

/// Lengths agree within rounding, mm.
const SAME_MM: f64 = 1e-6;

/// The skin of a listed bar: its own, or as is usual for the material; `None`: no such material is known.
pub fn skin_of(bar: &ShopBar) -> Option<Surface> {
    bar.surface.or_else(|| cutting::material(&bar.material).map(Material::default_surface))
}

/// Minutes that a blank of the job's bar costs by the shop's list; `None`: it lists no such bar, or says nothing of it.
pub(super) fn blank_minutes(job: &Job, shop: &Shop, skin: Surface, material: &Material) -> Option<f64> {
    let length_mm = job.stock.length.plain();
    let bar = shop.stock.iter().find(|bar| is_of(bar, job, skin) && comes_as(bar, length_mm))?;
    let minutes = bar.minutes?;
    let mass_kg = Bar::from(&bar.form).mass_kg(length_mm, material.density_kg_m3);
    Some(minutes.sawing + minutes.per_kg * mass_kg)
}

fn is_of(bar: &ShopBar, job: &Job, skin: Surface) -> bool {
    let name = match &job.stock.material {
        JobMaterial::Named(name) => name,
        JobMaterial::Own(own) => &own.name,
    };
    *name == bar.material && bar.form.is_same_as(&job.stock.form) && skin_of(bar) == Some(skin)
}

fn comes_as(bar: &ShopBar, length_mm: f64) -> bool {
    match &bar.blanks {
        Blanks::Sawn { longest } => longest.is_none_or(|longest| length_mm <= longest.plain() + SAME_MM),
        Blanks::Pieces(pieces) => pieces.iter().any(|piece| (piece.plain() - length_mm).abs() < SAME_MM),
    }
}
