//! Set-ups that are alike: what was worked out for one serves its twins.
//!
//! Two set-ups are twins when piece, jaws and cut are the same seen in the set-up's own frame, whatever
//! the letters: the four sides of a square block are faced in four ways that differ only in names.

use std::collections::BTreeMap;

use super::facing::{CannotFace, Facing, face};
use super::lie::{Lie, Surface};
use super::vee;
use super::window::Depth;
use crate::part::Place;
use crate::shape::{Edge, Piece};
use crate::task::Task;

/// Steps in which lengths and directions are compared: a nanometre, far below what changes any number shown.
const STEP: f64 = 1e-6;

/// What was worked out so far.
#[derive(Debug, Default)]
pub struct Twins {
    known: BTreeMap<Vec<i64>, Result<Facing, CannotFace>>,
}

impl Twins {
    /// The facing of a set-up, worked out or taken from its twin.
    pub fn face(
        &mut self,
        task: &Task,
        tool: usize,
        piece: &Piece,
        lie: &Lie,
        depth: &Depth,
    ) -> Result<Facing, CannotFace> {
        let known = self
            .known
            .entry(likeness(task, tool, piece, lie, depth))
            .or_insert_with(|| face(task, &task.tools[tool], piece, lie, depth));
        known.clone().map(|twin| Facing { lie: lie.clone(), depth: *depth, piece: piece.clone(), ..twin })
    }
}

/// Everything that the facing depends on, in the set-up's frame, in whole steps.
fn likeness(task: &Task, tool: usize, piece: &Piece, lie: &Lie, depth: &Depth) -> Vec<i64> {
    let mut key = vec![tool as i64, lie.sides.len() as i64];
    let place = task.faces[lie.face].place;
    key.push(i64::from(matches!(place, Place::Side(_))));
    let lengths =
        [lie.axis_mm.0, lie.axis_mm.1, lie.back_mm, lie.top_mm, lie.floor_mm, depth.bite_mm, depth.stick_out_mm];
    key.extend(lengths.map(steps));
    if let Place::Side(_) = place {
        key.extend([piece.back_mm, piece.front_mm].map(steps));
    }
    for side in &lie.sides {
        key.extend([steps(side.out_mm), surface(side.surface), side.kind as i64]);
        if let Some(on) = vee::on(side) {
            key.extend([on.kind as i64, on.groove as i64, steps(on.out_mm), steps(on.at_mm)]);
        }
    }
    key.extend(boundary(piece, lie));
    key
}

/// Edges of the section as the set-up sees them: directions and distances, in an order of their own.
fn boundary(piece: &Piece, lie: &Lie) -> Vec<i64> {
    let mut edges: Vec<[i64; 4]> = piece.section.edges().iter().map(|edge| seen(edge, lie)).collect();
    edges.sort_unstable();
    edges.concat()
}

fn seen(edge: &Edge, lie: &Lie) -> [i64; 4] {
    let in_frame = |x: f64, y: f64| {
        let vector = nalgebra::Vector3::new(x, y, 0.0);
        let [across, along, out] = [0, 1, 2].map(|axis| lie.axes[axis].dot(&vector));
        // Of the three one is always nought: the bar's axis lies on a frame axis.
        (steps(across), steps(along + out))
    };
    match edge {
        Edge::Line(line) => {
            let normal = line.normal();
            let (a, b) = in_frame(normal.x, normal.y);
            [0, a, b, steps(line.distance_mm)]
        }
        Edge::Arc(arc) => {
            let (a, b) = in_frame(arc.centre.x, arc.centre.y);
            [1, a, b, steps(arc.radius_mm)]
        }
    }
}

fn steps(length: f64) -> i64 {
    (length / STEP).round() as i64
}

fn surface(surface: Surface) -> i64 {
    match surface {
        Surface::Bar => 0,
        Surface::Sawn => 1,
        Surface::Face(_) => 2,
    }
}
