//! The tools in plain numbers.

use super::{Gaps, named};
use crate::cutting::{Edge, Material, table_speed};
use crate::job::Job;
use crate::problem::Source;
use crate::quantity::Plain;
use crate::shop::{Shop, Tool, ToolMaterial};

/// A tool in plain numbers.
#[derive(Debug, Clone)]
pub struct ToolFacts {
    /// Its name.
    pub name: String,
    /// Its edge.
    pub edge: Edge,
    /// Deepest cut.
    pub deepest_mm: f64,
    /// Least and most feed per revolution.
    pub feed_mm: (f64, f64),
    /// Cutting speed of the table for the job's material, m/min, continuous work.
    pub speed_m_min: f64,
}

/// The named tools, or the first of the shop that faces; those whose material the table gives a speed for.
pub(super) fn resolve(job: &Job, shop: &Shop, material: Option<&Material>, gaps: &mut Gaps) -> Vec<ToolFacts> {
    let Some(material) = material else { return Vec::new() };
    let tools = candidates(job, shop, gaps);
    let facts: Vec<ToolFacts> = tools.iter().filter_map(|tool| facts(tool, material, gaps)).collect();
    if facts.is_empty() && !tools.is_empty() {
        let accepts = "a facing tool of a material that has a cutting speed for it".to_string();
        gaps.problem(Source::Job, "use.tools", format!("no cutting speed is known for {} with these tools", material.label), accepts);
    }
    facts
}

fn candidates<'a>(job: &Job, shop: &'a Shop, gaps: &mut Gaps) -> Vec<&'a Tool> {
    if job.tools.is_empty() {
        let first = shop.tools.iter().find(|tool| faces(tool));
        if first.is_none() {
            gaps.problem(Source::Shop, "tool", "the shop has no facing tool".into(), "a [[tool]] that does = [\"facing\"]".into());
        }
        return first.into_iter().collect();
    }
    let mut found = Vec::new();
    for name in &job.tools {
        let Some(tool) = named(&shop.tools, Some(name), |tool| &tool.name, ("use.tools", "tool"), gaps) else { continue };
        if faces(tool) {
            found.push(tool);
        } else {
            gaps.problem(Source::Job, "use.tools", format!("\"{name}\" does not face"), "a tool that does = [\"facing\"]".into());
        }
    }
    found
}

fn faces(tool: &Tool) -> bool {
    tool.does.iter().any(|does| does == "facing")
}

fn facts(tool: &Tool, material: &Material, gaps: &mut Gaps) -> Option<ToolFacts> {
    let speed_m_min = table_speed(material, tool.material)?;
    let deepest = match tool.material {
        ToolMaterial::Hss => "deepest cut, HSS",
        ToolMaterial::CarbideUncoated | ToolMaterial::CarbideCoated => "deepest cut, carbide",
    };
    let what = |thing: &str| format!("{thing} of {}", tool.name);
    Some(ToolFacts {
        name: tool.name.clone(),
        edge: Edge {
            kappa_rad: tool
                .cutting_edge_angle
                .map_or_else(|| gaps.assume("cutting edge angle", &what("cutting edge angle")).to_radians(), Plain::plain),
            nose_mm: tool.nose_radius.map_or_else(|| gaps.assume("nose radius", &what("nose radius")), Plain::plain),
            rake_rad: tool.rake.map_or_else(|| gaps.assume("rake", &what("rake")).to_radians(), Plain::plain),
            tool: tool.material,
        },
        deepest_mm: tool.deepest_cut.map_or_else(|| gaps.assume(deepest, &what("deepest cut")), Plain::plain),
        feed_mm: tool.feed.map_or_else(
            || (gaps.assume("feed, least", &what("least feed")), gaps.assume("feed, most", &what("most feed"))),
            |(least, most)| (least.plain(), most.plain()),
        ),
        speed_m_min,
    })
}

#[cfg(test)]
mod tests {
    use crate::task::defaults;

    #[test]
    fn both_kinds_of_edge_have_a_deepest_cut() {
        assert!(defaults::number("deepest cut, HSS") > 0.0 && defaults::number("deepest cut, carbide") > 0.0);
    }
}
