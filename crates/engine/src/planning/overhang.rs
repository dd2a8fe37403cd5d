//! What stands out of the jaws, as a stepped beam.

use super::lie::Lie;
use super::window::Depth;
use crate::cutting::elastic;
use crate::holding::{BeamSection, BeamStep, Elasticity, Overhang, SectionForm};
use crate::part::Place;
use crate::shape::{Edge, Piece, Section};
use crate::task::Task;

/// Into how many steps of equal length a side of changing width is cut; twice as many change the bending of a round
/// by less than a hundredth of it.
const STEPS: u32 = 12;

/// The piece from the jaw fronts to its raw top.
pub fn overhang(task: &Task, piece: &Piece, lie: &Lie, depth: &Depth) -> Overhang {
    let steps = match task.faces[lie.face].place {
        Place::Side(angle_rad) => across(piece, lie, depth, angle_rad),
        Place::Front | Place::Back => vec![BeamStep { length_mm: depth.stick_out_mm, section: along(piece, lie) }],
    };
    Overhang::new(&steps, elasticity(task))
}

/// Of the work's metal.
pub fn elasticity(task: &Task) -> Elasticity {
    let row = elastic(task.material.family);
    Elasticity { modulus_mpa: row.modulus_mpa, poisson: row.poisson }
}

/// Lying across, a section square to the spindle is a rectangle: the chord at its height, and the length of the bar.
fn across(piece: &Piece, lie: &Lie, depth: &Depth, angle_rad: f64) -> Vec<BeamStep> {
    let front_mm = lie.top_mm - depth.stick_out_mm;
    let length_mm = depth.stick_out_mm / f64::from(STEPS);
    let along_bar = [piece.back_mm - lie.axis_mm.1, piece.front_mm - lie.axis_mm.1];
    let step = |at: u32| {
        let height_mm = front_mm + length_mm * (f64::from(at) + 0.5);
        let (from, to) = piece.section.chord(angle_rad, height_mm)?;
        let section = BeamSection::rectangle([from - lie.axis_mm.0, to - lie.axis_mm.0], along_bar);
        Some(BeamStep { length_mm, section })
    };
    (0..STEPS).map_while(step).collect()
}

/// Held along the spindle it is the section of the piece, in the axes of the set-up.
fn along(piece: &Piece, lie: &Lie) -> BeamSection {
    let moments = piece.section.second_moments();
    let centroid = piece.section.centroid().unwrap_or_default();
    let own = BeamSection {
        form: form(&piece.section),
        area_mm2: piece.section.area(),
        centroid_mm: [centroid.x, centroid.y],
        about_x_mm4: moments.about_x_mm4,
        about_y_mm4: moments.about_y_mm4,
        product_mm4: moments.product_mm4,
    };
    let [x, y] = [lie.axes[0], lie.axes[1]].map(|axis| [axis.x, axis.y]);
    let seen = own.seen_along(x, y);
    let [across, up] = seen.centroid_mm;
    BeamSection { centroid_mm: [across - lie.axis_mm.0, up - lie.axis_mm.1], ..seen }
}

/// What the shear coefficient goes by.
fn form(section: &Section) -> SectionForm {
    match section.edges() {
        [Edge::Arc(_)] => SectionForm::Round,
        edges if edges.len() == 4 && is_rectangle(edges) => SectionForm::Rectangle,
        _ => SectionForm::Other,
    }
}

fn is_rectangle(edges: &[Edge]) -> bool {
    /// As a cosine: far below what a lathe can cut, far above rounding.
    const SQUARE: f64 = 1e-6;
    let normals: Vec<_> =
        edges.iter().filter_map(|edge| if let Edge::Line(line) = edge { Some(line.normal()) } else { None }).collect();
    normals.len() == 4 && normals.windows(2).all(|pair| pair[0].dot(&pair[1]).abs() < SQUARE)
}
