//! The material: a row of the table, or the job's own values.

use super::Gaps;
use crate::cutting::{Material, material, materials};
use crate::job::JobMaterial;
use crate::problem::Source;

pub(super) fn resolve(wanted: &JobMaterial, gaps: &mut Gaps) -> Option<Material> {
    match wanted {
        // The job gives no friction: the metal may be the most slippery of the table.
        JobMaterial::Own(own) => {
            Some(Material { friction_share: crate::holding::least_metal_share(), ..Material::own(own) })
        }
        JobMaterial::Named(name) => {
            let found = material(name).cloned();
            if found.is_none() {
                let accepts = materials().iter().map(|row| row.name.as_str()).collect::<Vec<_>>().join(", ");
                gaps.problem(
                    Source::Job,
                    "stock.material",
                    format!("no material is named \"{name}\""),
                    format!("{accepts}; or a [material] table of your own"),
                );
            }
            found
        }
    }
}
