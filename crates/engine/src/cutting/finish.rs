//! How thin a finishing cut may be before the edge rubs.

use super::material::Material;
use super::number::edge_row;
use crate::shop::ToolMaterial;

/// Thinnest cut that an edge of this material still takes in this work, mm.
///
/// The larger of what the edge asks (a honed edge pushes a thin skin aside) and what the work asks
/// (stainless hardens under an edge that rubs). Common practice, no source.
pub fn least_finish_mm(material: &Material, tool: ToolMaterial) -> f64 {
    material.least_finish_mm.max(edge_row(tool).least_finish_mm)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::material;

    #[test]
    fn stainless_asks_more_than_steel_and_carbide_more_than_hss() {
        let (steel, stainless) = (material("low-carbon-steel").unwrap(), material("stainless-austenitic").unwrap());
        assert!(least_finish_mm(steel, ToolMaterial::Hss) < least_finish_mm(stainless, ToolMaterial::Hss));
        assert!(least_finish_mm(steel, ToolMaterial::Hss) < least_finish_mm(steel, ToolMaterial::CarbideUncoated));
        assert!(least_finish_mm(stainless, ToolMaterial::Hss) >= 0.1);
    }
}
