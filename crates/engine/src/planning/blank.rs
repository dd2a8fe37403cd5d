//! The piece as it is after some faces are cut.

use crate::part::Place;
use crate::shape::{Piece, Section};
use crate::task::{Face, Task};

/// A set of faces, one bit each.
pub type Done = u32;

/// Whether a face is in the set.
pub fn has(done: Done, face: usize) -> bool {
    done & (1 << face) != 0
}

/// The piece after the faces in `done` are cut. Faces that stay as the bar has them are never in `done`.
pub fn piece_after(task: &Task, done: Done) -> Piece {
    let bar = Piece::new(task.bar.clone(), -task.bar_length_mm / 2.0, task.bar_length_mm / 2.0);
    task.faces
        .iter()
        .enumerate()
        .filter(|(at, _)| has(done, *at))
        .fold(bar, |piece, (_, face)| piece.with_flat(face.place, face.distance_mm))
}

/// Section of the finished part, whatever bar it comes from.
pub fn part_section(task: &Task) -> Section {
    let far = 4.0 * task.faces.iter().map(|face| face.distance_mm.abs()).fold(1.0, f64::max);
    let start = Section::rectangle(-far, far, -far, far);
    task.faces.iter().fold(start, |section, face| match face.place {
        Place::Side(angle) => section.clip(angle, face.distance_mm),
        Place::Front | Place::Back => section,
    })
}

/// How much is still to come off a face of this piece, mm; not positive: nothing.
pub fn to_remove(piece: &Piece, face: &Face) -> f64 {
    piece.reach_mm(face.place) - face.distance_mm
}
