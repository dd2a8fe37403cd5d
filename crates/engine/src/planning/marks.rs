//! What the jaws leave on the work, and which packing keeps a finished face clean.

use super::bored::{self, BoredJaw};
use super::facing::{Facing, holds_at};
use super::hold::{BearsOver, bears_over, packing_mm};
use super::lie::{Lie, Surface};
use super::search::Chosen;
use super::vee;
use crate::cutting::elastic;
use crate::holding::{self, BoreFit, MarkGrade, PackingMetal, Shield};
use crate::part::Place;
use crate::plan::Mark;
use crate::quantity::show;
use crate::shop::JawSurface;
use crate::task::Task;

/// Directions agree within this, as a cosine.
const SAME: f64 = 1e-9;

/// How a jaw presses, and what decides whether it marks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Press {
    /// On packing that flows at so many MPa, if that is known.
    Packed(Option<f64>),
    /// With teeth into work of so many MPa of hardness.
    Teeth(f64),
    /// Along a line of the round: greatest pressure, MPa, over so many mm.
    Line(f64, f64),
    /// Along a strip of the round in a larger bore: greatest pressure, MPa.
    Strip(f64),
    /// With the edges of a smaller bore into work of so many MPa of hardness.
    Edges(f64),
    /// On a flat, or bored to the round: mean pressure, MPa, over so many mm².
    Even(f64, f64),
}

/// How the jaw of a side presses at the high end of its force; `None`: the work's strength is not known.
pub fn press(task: &Task, facing: &Facing, at: usize) -> Option<Press> {
    let (lie, chuck) = (&facing.lie, &task.chuck);
    let yield_mpa = task.material.yield_mpa?;
    if let Some(on) = vee::on(&lie.sides[at]) {
        return Some(Press::Packed(vee::kind(task, on).flows_at_mpa.map(holding::flow_mpa)));
    }
    if packing_mm(task, &lie.sides[at]) > 0.0 {
        let flows = task.packing.flows_at.as_ref();
        return Some(Press::Packed(flows.map(|(strength, _)| holding::flow_mpa(*strength))));
    }
    if chuck.jaw_surface == JawSurface::HardSerrated {
        return Some(Press::Teeth(holding::flow_mpa(yield_mpa)));
    }
    if let Some(jaw) = bored::pressed(task, facing, at) {
        return Some(bored_press(task, &jaw, yield_mpa));
    }
    match bears_over(task, lie, &facing.depth, at) {
        BearsOver::Area(mm2) if mm2 > 0.0 => Some(Press::Even(chuck.high_force_n / mm2, mm2)),
        BearsOver::Line(mm) if mm > 0.0 => {
            let line =
                holding::line_pressure(chuck.high_force_n / mm, task.bar_size_mm / 2.0, contact_modulus_mpa(task));
            Some(Press::Line(line.peak_mpa, mm))
        }
        BearsOver::Area(_) | BearsOver::Line(_) => None,
    }
}

/// How a jaw bored to the round presses.
fn bored_press(task: &Task, jaw: &BoredJaw, yield_mpa: f64) -> Press {
    let (force_n, length_mm) = (task.chuck.high_force_n, jaw.length_mm());
    match jaw.fit {
        BoreFit::Whole => {
            Press::Even(holding::bearing_mpa(force_n, jaw.width_mm(), length_mm), jaw.width_mm() * length_mm)
        }
        BoreFit::Middle(_) => {
            let relative_mm = jaw.bore.relative_radius_mm();
            Press::Strip(holding::line_pressure(force_n / length_mm, relative_mm, contact_modulus_mpa(task)).peak_mpa)
        }
        BoreFit::Edges => Press::Edges(holding::flow_mpa(yield_mpa)),
    }
}

/// Modulus of jaw and work together, MPa.
pub fn contact_modulus_mpa(task: &Task) -> f64 {
    let (numbers, work) = (holding::numbers(), elastic(task.material.family));
    holding::contact_modulus_mpa(
        (work.stiffest_mpa, work.poisson),
        (numbers.jaw_modulus_mpa.value, numbers.jaw_poisson.value),
    )
}

/// The mark of the jaw of a side.
pub fn mark(task: &Task, facing: &Facing, at: usize) -> Option<Mark> {
    let (grade, pressure_mpa, limit_mpa) = graded(task, facing, at)?;
    let beyond_yield = (grade == MarkGrade::Dent).then(|| flowing(task, pressure_mpa)).flatten();
    Some(Mark { grade: grade.name(), pressure_mpa, limit_mpa, beyond_yield })
}

/// Beyond how many times the yield, and the yield, where a pressure reckoned as elastic is more than the work bears.
fn flowing(task: &Task, pressure_mpa: Option<f64>) -> Option<(f64, f64)> {
    let (times, yield_mpa) = (holding::numbers().mark_flow_over_yield.value, task.material.yield_mpa?);
    (pressure_mpa? > times * yield_mpa).then_some((times, yield_mpa))
}

/// Grade, the pressure that decides, and the one at which the work begins to yield.
fn graded(task: &Task, facing: &Facing, at: usize) -> Option<(MarkGrade, Option<f64>, f64)> {
    let yield_mpa = task.material.yield_mpa?;
    let (line, flat) = (holding::line_limit_mpa(yield_mpa), holding::flat_limit_mpa(yield_mpa));
    Some(match press(task, facing, at)? {
        Press::Packed(flows) if vee::on(&facing.lie.sides[at]).is_some() => {
            let flows_first = flows.is_some_and(|mpa| mpa < line);
            (if flows_first { MarkGrade::None } else { MarkGrade::Witness }, flows, line)
        }
        Press::Packed(flows) => (packed_grade(task, yield_mpa), flows, line),
        Press::Teeth(hardness) => (MarkGrade::Teeth, Some(hardness), line),
        Press::Line(peak, _) | Press::Strip(peak) => (holding::line_grade(peak, yield_mpa), Some(peak), line),
        Press::Edges(hardness) => (MarkGrade::Dent, Some(hardness), line),
        Press::Even(mean, _) => (holding::flat_grade(mean, yield_mpa).max(edge(task)), Some(mean), flat),
    })
}

/// The edge of a hard jaw always shows; a soft one is relieved where it is bored.
fn edge(task: &Task) -> MarkGrade {
    if task.chuck.jaw_surface == JawSurface::Soft { MarkGrade::None } else { MarkGrade::Witness }
}

fn packed_grade(task: &Task, yield_mpa: f64) -> MarkGrade {
    match shield(task, yield_mpa) {
        Some(Shield::Protects) => MarkGrade::None,
        _ => MarkGrade::Witness,
    }
}

fn shield(task: &Task, yield_mpa: f64) -> Option<Shield> {
    let packing = &task.packing;
    packing.flows_at.as_ref().map(|(strength, _)| holding::shield(*strength, packing.thickness_mm, yield_mpa))
}

/// What must be said of marks on faces that stay, at the head of the plan.
pub fn notices(task: &Task, chosen: &[Chosen]) -> Vec<String> {
    let Some(yield_mpa) = task.material.yield_mpa else {
        return vec![format!(
            "NOTICE: nobody gave the yield strength of {}: whether the jaws mark it is not reckoned. Give the material's \
             yield in the job; until then trust no bare jaw on a finished face.",
            task.material.label
        )];
    };
    packed_notice(task, chosen, yield_mpa).into_iter().chain(bare_notice(task, chosen, yield_mpa)).collect()
}

/// Finished faces under packing that does not protect them.
fn packed_notice(task: &Task, chosen: &[Chosen], yield_mpa: f64) -> Option<String> {
    let why = match shield(task, yield_mpa) {
        Some(Shield::Protects) => return None,
        Some(Shield::TooHard) => too_hard(task, yield_mpa),
        Some(Shield::TooThin) => format!(
            "{} is too thin: an edge or a chip comes through",
            show::on_hand(task.packing.thickness_mm, task.units)
        ),
        None => "nobody knows where it flows; the shop can give its yield".to_string(),
    };
    let sides = chosen.iter().flat_map(|chosen| &chosen.way.facing.lie.sides);
    // A soft vee lies bare.
    let packed = sides.filter(|side| packing_mm(task, side) > 0.0);
    let faces = letters(task, packed.filter_map(|side| stays_under(side.surface)));
    let faces = (!faces.is_empty()).then(|| faces.join(", "))?;
    Some(format!("NOTICE: packing of {} may mark {faces}: {why}. {}", task.packing.material, instead(task, yield_mpa)))
}

fn too_hard(task: &Task, yield_mpa: f64) -> String {
    let flows = task.packing.flows_at.as_ref().map_or(0.0, |(strength, _)| holding::flow_mpa(*strength));
    format!(
        "it flows at {flows:.0} MPa and the work yields at {:.0}, so a chip or an edge is pressed into the work",
        holding::line_limit_mpa(yield_mpa)
    )
}

fn stays_under(surface: Surface) -> Option<usize> {
    match surface {
        Surface::Face(face) => Some(face),
        Surface::Bar | Surface::Sawn => None,
    }
}

/// Faces that stay as the bar has them under bare jaws.
fn bare_notice(task: &Task, chosen: &[Chosen], yield_mpa: f64) -> Option<String> {
    let marked: Vec<(usize, MarkGrade)> =
        chosen.iter().flat_map(|chosen| bare_marks(task, &chosen.way.facing)).collect();
    let worst = marked.iter().map(|(_, grade)| *grade).max()?;
    let faces = letters(task, marked.iter().map(|(face, _)| *face));
    let tried = if chosen.iter().all(|chosen| holds_packed(task, chosen)) {
        "tried in this calculation: these cuts hold with it too"
    } else {
        "tried in this calculation: not all of these cuts hold with it, so cut lighter"
    };
    Some(format!(
        "NOTICE: a bare jaw on {}, finished as the bar has {}, leaves a mark ({}). {} ({tried}).",
        faces.join(", "),
        if faces.len() == 1 { "it" } else { "them" },
        worst.name(),
        instead(task, yield_mpa).trim_end_matches('.')
    ))
}

/// Faces that stay as the bar has them under bare jaws that mark them, each with its mark.
fn bare_marks(task: &Task, facing: &Facing) -> Vec<(usize, MarkGrade)> {
    let sides =
        facing.lie.sides.iter().enumerate().filter(|(_, side)| side.surface == Surface::Bar && vee::on(side).is_none());
    let left = sides.filter_map(|(at, _)| Some((left_face(task, &facing.lie, at)?, graded(task, facing, at)?.0)));
    left.filter(|(_, grade)| *grade != MarkGrade::None).collect()
}

/// The face that stays as the bar has it on a side of the piece as it lies.
fn left_face(task: &Task, lie: &Lie, at: usize) -> Option<usize> {
    let (sin, cos) = (std::f64::consts::TAU * at as f64 / lie.sides.len() as f64).sin_cos();
    let out = lie.axes[0] * cos + lie.axes[1] * sin;
    task.faces.iter().position(|face| match face.place {
        Place::Side(angle) if !face.cut => out.x * angle.cos() + out.y * angle.sin() > 1.0 - SAME,
        _ => false,
    })
}

/// Whether the cuts hold with packing under the jaws on faces that stay.
fn holds_packed(task: &Task, chosen: &Chosen) -> bool {
    let mut facing = chosen.way.facing.clone();
    for at in 0..facing.lie.sides.len() {
        if let Some(face) = left_face(task, &facing.lie, at) {
            facing.lie.sides[at].surface = Surface::Face(face);
        }
    }
    holds_at(task, &task.tools[chosen.way.tool], &facing, facing.depth.bite_mm)
}

/// The packing that protects, tried one after the other: what is on hand, then what can be had.
fn instead(task: &Task, yield_mpa: f64) -> String {
    let usual_mm = task.rules.packing_thickness_mm;
    let protects =
        |strength: f64, thickness_mm: f64| holding::shield(strength, thickness_mm, yield_mpa) == Shield::Protects;
    let off_usual = |thickness_mm: f64| (thickness_mm - usual_mm).abs();
    let on_hand = task.packing.on_hand.iter().filter_map(|(material, thicknesses, strength)| {
        let fit = thicknesses.iter().copied().filter(|&mm| strength.is_some_and(|mpa| protects(mpa, mm)));
        let fit = fit.min_by(|one, other| off_usual(*one).total_cmp(&off_usual(*other)));
        fit.map(|thickness_mm| (material.as_str(), thickness_mm, *strength, ", which is on hand"))
    });
    // What the trade lays there, else the softest.
    let mut metals: Vec<_> = holding::packing_metals().iter().collect();
    let unusual = |row: &PackingMetal| row.name != holding::USUAL_PACKING;
    metals.sort_by(|one, other| unusual(one).cmp(&unusual(other)).then(one.yield_mpa.total_cmp(&other.yield_mpa)));
    let to_be_had = metals.into_iter().filter(|row| protects(row.yield_mpa, usual_mm));
    let to_be_had = to_be_had.map(|row| (row.name.as_str(), usual_mm, Some(row.yield_mpa), ""));
    match on_hand.chain(to_be_had).next() {
        Some((material, thickness_mm, strength, whence)) => format!(
            "Put {} {material} there{whence}: it flows at {:.0} MPa, before the work.",
            show::on_hand(thickness_mm, task.units),
            holding::flow_mpa(strength.unwrap_or(0.0))
        ),
        None => "No packing metal of the table flows before this work: tighten less, on jaws as wide as can be had."
            .to_string(),
    }
}

/// Letters of faces, each once, in the order of the part.
fn letters(task: &Task, faces: impl Iterator<Item = usize>) -> Vec<&str> {
    let mut faces: Vec<usize> = faces.collect();
    faces.sort_unstable();
    faces.dedup();
    faces.into_iter().map(|face| task.faces[face].name.as_str()).collect()
}
