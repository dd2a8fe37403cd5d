//! Values taken from the tables because neither job nor shop gives them: noted like every other assumption.

use super::{ChuckFacts, Gaps, ToolFacts, assumed};
use crate::cutting::{Material, elastic, published_speed, speed_share_source};
use crate::holding::{self, WorkSkin};
use crate::job::{Job, Surface};
use crate::shop::ChuckKind;

/// What the share of the chuck's mark is called where it is assumed.
pub const SPEED_SHARE: &str =
    "share of the chuck's marked speed in interrupted cuts and off the axis, jaws that move one by one";

/// Notes what material, speed, friction, needed factors and cuts come from.
pub(super) fn note(
    job: &Job,
    material: &Material,
    chuck: &ChuckFacts,
    tools: &[ToolFacts],
    skin: Surface,
    gaps: &mut Gaps,
) {
    if !material.own {
        cutting_force(material, gaps);
        yield_strength(material, gaps);
        tools.iter().for_each(|tool| cutting_speed(material, tool, gaps));
    }
    if job.cutting.speed_share_interrupted.is_none() {
        tools.iter().for_each(|tool| interrupted_share(tool, gaps));
    }
    elasticity(material, gaps);
    friction(material, chuck, skin, gaps);
    needed_factors(gaps);
    if job.cutting.finishing_cut.is_none() {
        gaps.assume("finishing cut", "finishing cut");
    }
    gaps.assume("clearance of tool and jaws", "room between the last cut and the jaw fronts");
    gaps.assume("margin of stick-out", "further margin of the stick-out");
    if chuck.kind == ChuckKind::Independent && chuck.interrupted_rpm.is_none() {
        gaps.assume("speed share, independent jaws", SPEED_SHARE);
    }
    gaps.assume("interrupted feed share", "share of the tool's coarsest feed taken in interrupted cuts");
}

fn cutting_force(material: &Material, gaps: &mut Gaps) {
    let likely = for_a_chip(material.kc11_mpa, material.mc);
    let high = format!("{}; worn edge", for_a_chip(material.kc11_high_mpa, material.mc_high));
    gaps.assumed.push(assumed("specific cutting force, likely", &likely, &material.source));
    gaps.assumed.push(assumed("specific cutting force, to be careful with", &high, &material.source_high));
}

fn yield_strength(material: &Material, gaps: &mut Gaps) {
    if let Some(strength_mpa) = material.yield_mpa {
        let what = "yield strength of the work, for marks of the jaws";
        gaps.assumed.push(assumed(what, &format!("{strength_mpa:.0} MPa"), &material.source_yield));
    }
}

/// Kienzle's two numbers of a material, in words.
fn for_a_chip(kc11_mpa: f64, mc: f64) -> String {
    format!("{kc11_mpa:.0} MPa for a chip 1 mm by 1 mm, exponent {mc:.2} of its thickness")
}

fn cutting_speed(material: &Material, tool: &ToolFacts, gaps: &mut Gaps) {
    let source = published_speed(&material.name, tool.edge.tool).map_or("table of speeds", |row| row.source.as_str());
    let what = format!("cutting speed of {}", tool.name);
    gaps.assumed.push(assumed(&what, &format!("{:.0} m/min", tool.speed_m_min), source));
}

fn interrupted_share(tool: &ToolFacts, gaps: &mut Gaps) {
    let (share, source) = speed_share_source(tool.edge.tool);
    let what = format!("share of the cutting speed of {} in interrupted cuts", tool.name);
    gaps.assumed.push(assumed(&what, &format!("{share}"), source));
}

fn friction(material: &Material, chuck: &ChuckFacts, skin: Surface, gaps: &mut Gaps) {
    let bare = holding::friction(chuck.jaw_surface, WorkSkin::from(skin), material.friction_share);
    let source = "the least of two published tables of chuck makers' manuals, by jaw and skin, times the metal's share";
    gaps.assumed.push(assumed("friction of the jaws on the bar", &format!("{bare:.2}"), source));
}

/// How far what stands out of the jaws bends; no job gives it.
fn elasticity(material: &Material, gaps: &mut Gaps) {
    let row = elastic(material.family);
    let value = format!("modulus {:.0} GPa, Poisson's ratio {}", row.modulus_mpa / 1000.0, row.poisson);
    gaps.assumed.push(assumed("elasticity of the work", &value, &row.source));
}

fn needed_factors(gaps: &mut Gaps) {
    let numbers = holding::numbers();
    let rows = [
        ("slip factor needed in a continuous cut", &numbers.needed_continuous),
        ("slip factor needed in an interrupted cut or on scale", &numbers.needed_interrupted),
    ];
    for (what, row) in rows {
        gaps.assumed.push(assumed(what, &format!("{}", row.value), &row.source));
    }
}

#[cfg(test)]
mod tests {
    use crate::task::defaults;

    #[test]
    fn the_rule_numbers_noted_here_are_lengths_and_shares() {
        assert_eq!(defaults::default("finishing cut").unit, "mm");
        assert_eq!(defaults::default("interrupted feed share").unit, "1");
    }
}
