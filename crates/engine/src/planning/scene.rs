//! The plan's shapes for the pictures, from what the planner worked with.

use std::f64::consts::TAU;

use nalgebra::{Rotation3, Vector3};

use super::blank::{part_section, piece_after};
use super::search::Chosen;
use crate::part::Place;
use crate::plan::{
    ChuckShape, FacePlace, FaceShape, Frame, Held, LedgeShape, Scene, SizeShape, Solid, Stretch, ToolShape,
};
use crate::quantity::Plain;
use crate::shape::{Edge, Piece, Point};
use crate::shop::JawBore;
use crate::task::{ChuckFacts, Face, StepFacts, Task};

/// What is the same in every set-up.
pub fn scene(task: &Task) -> Scene {
    Scene {
        bar: solid(&piece_after(task, 0)),
        part: part(task),
        faces: task.faces.iter().map(face).collect(),
        sizes: sizes(task),
        chuck: chuck(&task.chuck),
    }
}

fn chuck(chuck: &ChuckFacts) -> ChuckShape {
    let ledge = |step: &StepFacts| LedgeShape { below_front_mm: step.below_front_mm, width_mm: step.width_mm };
    ChuckShape {
        body_mm: chuck.body_mm,
        bore_mm: chuck.bore_mm,
        jaw_width_mm: chuck.jaw_width_mm,
        jaw_length_mm: chuck.jaw_length_mm,
        ledge: chuck.step.as_ref().map(ledge),
        reversed: chuck.is_reversed,
        jaw_depth_mm: chuck.jaw_depth_known.then_some(chuck.jaw_depth_mm),
        bored_mm: match chuck.bored {
            Some(JawBore::Diameter(bore)) => Some(bore.plain()),
            Some(JawBore::Work) | None => None,
        },
    }
}

/// What is held in one set-up, and how it lies.
pub fn held(task: &Task, chosen: &Chosen) -> Held {
    let facing = &chosen.way.facing;
    let face = &task.faces[facing.lie.face];
    let tool = &task.tools[chosen.way.tool];
    Held {
        before: solid(&facing.piece),
        after: solid(&facing.piece.with_flat(face.place, face.distance_mm)),
        frame: frame(chosen),
        tool: ToolShape {
            name: tool.name.clone(),
            cutting_edge_angle_deg: tool.edge.kappa_rad.to_degrees(),
            nose_mm: tool.edge.nose_mm,
        },
        parallel_width_mm: task.parallels_width_mm,
        parallel_length_mm: task.parallels_length_mm,
        jaw_clearance_mm: task.rules.clearance_mm,
    }
}

/// The frame of the lie, turned so that X points to jaw 1, its origin at the jaw fronts.
fn frame(chosen: &Chosen) -> Frame {
    let facing = &chosen.way.facing;
    let lie = &facing.lie;
    let [x, y, z] = lie.axes;
    let turn = TAU * chosen.turn as f64 / lie.sides.len() as f64;
    let about = Rotation3::from_axis_angle(&nalgebra::Unit::new_normalize(z), turn);
    let jaw_fronts_mm = lie.top_mm - facing.depth.stick_out_mm;
    let origin: Vector3<f64> = x * lie.axis_mm.0 + y * lie.axis_mm.1 + z * jaw_fronts_mm;
    Frame { axes: [about * x, about * y, z].map(Into::into), origin_mm: origin.into() }
}

/// The part alone, whatever bar it comes from; faces that stay are where the bar has them.
fn part(task: &Task) -> Solid {
    let all = (0..task.faces.len()).filter(|&at| task.faces[at].cut).fold(0, |done, at| done | 1 << at);
    let left = piece_after(task, all);
    if left.is_empty() {
        let reach =
            |place: Place| task.faces.iter().find(|face| face.place == place).map_or(0.0, |face| face.distance_mm);
        return solid(&Piece::new(part_section(task), -reach(Place::Back), reach(Place::Front)));
    }
    solid(&left)
}

fn solid(piece: &Piece) -> Solid {
    Solid {
        outline: piece.section.edges().iter().map(stretch).collect(),
        back_mm: piece.back_mm,
        front_mm: piece.front_mm,
    }
}

fn stretch(edge: &Edge) -> Stretch {
    let pair = |point: Point| [point.x, point.y];
    match edge {
        Edge::Line(line) => Stretch::Line { from_mm: pair(line.from), to_mm: pair(line.to) },
        Edge::Arc(arc) => Stretch::Arc {
            centre_mm: pair(arc.centre),
            radius_mm: arc.radius_mm,
            start_rad: arc.start_rad,
            sweep_rad: arc.sweep_rad,
        },
    }
}

fn face(face: &Face) -> FaceShape {
    let place = match face.place {
        Place::Front => FacePlace::Front,
        Place::Back => FacePlace::Back,
        Place::Side(normal_rad) => FacePlace::Side { normal_rad },
    };
    FaceShape { name: face.name.clone(), place, distance_mm: face.distance_mm, cut: face.cut }
}

/// Each size once, at the first of its two faces.
fn sizes(task: &Task) -> Vec<SizeShape> {
    let first = |(at, face): (usize, &Face)| {
        let across = face.across.filter(|across| at < across.opposite)?;
        Some(SizeShape {
            between: [face.name.clone(), task.faces[across.opposite].name.clone()],
            nominal_mm: across.nominal_mm,
            plus_mm: across.plus_mm,
            minus_mm: across.minus_mm,
        })
    };
    task.faces.iter().enumerate().filter_map(first).collect()
}
