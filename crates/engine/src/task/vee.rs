//! The vees on hand in plain numbers.

use super::handling::{named_strength, note_strength};
use super::{Gaps, PackingFacts};
use crate::holding::{self, Shield, WorkSkin};
use crate::quantity::Plain;
use crate::shop::{JawSurface, Shop, Vee};

/// A kind of vee in plain numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct VeeFacts {
    /// What it is made of.
    pub material: String,
    /// Half the angle between its flanks.
    pub half_rad: f64,
    /// Across the groove, the whole block.
    pub width_mm: f64,
    /// From its back to its lips.
    pub height_mm: f64,
    /// Along the groove.
    pub length_mm: f64,
    /// How many there are that are alike.
    pub count: usize,
    /// The least friction of what lies between jaw and work.
    pub friction: f64,
    /// Packing between each flank and the work: where the vee would mark it. 0: the vee flows before the work does.
    pub packing_mm: f64,
    /// Strength at which what touches the work flows, MPa; `None`: nobody knows.
    pub flows_at_mpa: Option<f64>,
}

impl VeeFacts {
    /// A soft one as a shop may make it: so wide, so much metal behind the groove.
    pub fn soft(half_rad: f64, width_mm: f64, behind_mm: f64, length_mm: f64) -> VeeFacts {
        VeeFacts {
            material: SOFT.to_string(),
            half_rad,
            width_mm,
            // Blocks are cut to whole millimetres.
            height_mm: (behind_mm + holding::groove_depth_mm(width_mm, half_rad)).ceil(),
            length_mm,
            count: 4,
            friction: holding::packing_friction(),
            packing_mm: 0.0,
            flows_at_mpa: named_strength(SOFT).map(|(mpa, _)| mpa),
        }
    }

    /// From its back to the bottom of the groove, as if that were sharp.
    pub fn behind_groove_mm(&self) -> f64 {
        self.height_mm - holding::groove_depth_mm(self.width_mm, self.half_rad)
    }
}

/// What a shop makes a vee of that is to mark nothing.
const SOFT: &str = "soft aluminium";

/// Vees as this shop has them; a hard one goes with packing on its flanks.
pub(super) fn resolve(
    shop: &Shop,
    packing: &PackingFacts,
    work_yield_mpa: Option<f64>,
    gaps: &mut Gaps,
) -> Vec<VeeFacts> {
    shop.vees.iter().map(|vee| facts(vee, packing, work_yield_mpa, gaps)).collect()
}

fn facts(vee: &Vee, packing: &PackingFacts, work_yield_mpa: Option<f64>, gaps: &mut Gaps) -> VeeFacts {
    if vee.yield_strength.is_none() && soft_by_name(&vee.material).is_some() {
        note_strength(&vee.material, gaps);
    }
    let strength = vee.yield_strength.map(Plain::plain).or_else(|| soft_by_name(&vee.material));
    let height_mm = vee.height.plain();
    let protects = |mpa: f64, work: f64| holding::shield(mpa, height_mm, work) == Shield::Protects;
    let bare = strength.zip(work_yield_mpa).is_some_and(|(mpa, work)| protects(mpa, work));
    let own = vee.friction.unwrap_or_else(|| own_friction(vee, bare, gaps));
    VeeFacts {
        material: vee.material.clone(),
        half_rad: vee.angle.plain() / 2.0,
        width_mm: vee.width.plain(),
        height_mm,
        length_mm: vee.length.plain(),
        count: vee.count as usize,
        friction: if bare { own } else { own.min(packing.friction) },
        packing_mm: if bare { 0.0 } else { packing.thickness_mm },
        flows_at_mpa: if bare { strength } else { packing.flows_at.as_ref().map(|(mpa, _)| *mpa) },
    }
}

/// Strength of a metal named as packing is; the rows of steel and iron are thin sheet, which a block of it is not.
fn soft_by_name(material: &str) -> Option<f64> {
    let hard = ["steel", "iron"].iter().any(|metal| material.to_lowercase().contains(metal));
    named_strength(material).filter(|_| !hard).map(|(mpa, _)| mpa)
}

/// A soft vee rubs like packing; a hard one as a smooth jaw on ground work, on the jaw's own face.
fn own_friction(vee: &Vee, soft: bool, gaps: &mut Gaps) -> f64 {
    let what = format!("friction of vees of {}", vee.material);
    if soft {
        return gaps.assume("packing friction", &what);
    }
    let friction = holding::friction(JawSurface::HardSmooth, WorkSkin::Fine, 1.0);
    let source =
        "least of the published tables, smooth jaw on ground work: the back of a hard vee lies bare on the jaw";
    gaps.assumed.push(super::assumed(&what, &format!("{friction}"), source));
    friction
}
