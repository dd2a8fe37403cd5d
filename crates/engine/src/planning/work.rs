//! What stays the same while cuts for one face are tried: piece, tool, floor, what is needed.

use std::cell::OnceCell;

use super::floor::{floor_at, mean_radius};
use super::lie::{Lie, Surface};
use super::window::Depth;
use crate::cutting::{self, Level};
use crate::holding;
use crate::part::Place;
use crate::plan::Force3;
use crate::shape::{Floor, Piece};
use crate::task::{Task, ToolFacts};

/// What stays the same while cuts are tried.
pub struct Work<'a> {
    /// The task.
    pub task: &'a Task,
    /// The tool.
    pub tool: &'a ToolFacts,
    /// The piece before the cut.
    pub piece: &'a Piece,
    /// How it lies.
    pub lie: &'a Lie,
    /// How deep.
    pub depth: &'a Depth,
    /// Where the face lies.
    pub place: Place,
    /// From the raw top to the finished flat, mm.
    pub total_mm: f64,
    /// The farthest corner of the finished floor, mm.
    pub start_radius_mm: f64,
    /// The finished floor, which is the widest.
    floor: Floor,
    /// Greatest r × share: what the mean power over a turn goes with; worked out when it is asked for.
    mean_radius_mm: OnceCell<f64>,
    /// Whether the edge leaves the metal in a turn.
    pub interrupted: bool,
    /// The first cut goes through scale or cast skin.
    pub on_skin: bool,
    /// Slip factor needed.
    pub required: f64,
}

impl<'a> Work<'a> {
    /// Gathers it.
    pub fn new(task: &'a Task, tool: &'a ToolFacts, piece: &'a Piece, lie: &'a Lie, depth: &'a Depth) -> Self {
        let place = task.faces[lie.face].place;
        let floor = floor_at(piece, place, lie, lie.floor_mm);
        let on_skin = top_surface(task, lie) == Surface::Bar && is_skin(task);
        let interrupted = leaves_the_metal(&floor);
        let numbers = holding::numbers();
        let needed = if interrupted || on_skin { &numbers.needed_interrupted } else { &numbers.needed_continuous };
        Work {
            task,
            tool,
            piece,
            lie,
            depth,
            place,
            total_mm: lie.top_mm - lie.floor_mm,
            start_radius_mm: floor.start_radius_mm,
            floor,
            mean_radius_mm: OnceCell::new(),
            interrupted,
            on_skin,
            required: needed.value,
        }
    }

    /// Greatest radius × share in the metal, mm.
    pub fn mean_radius_mm(&self) -> f64 {
        *self.mean_radius_mm.get_or_init(|| mean_radius(&self.floor))
    }

    /// Height over the jaw fronts after a total depth, mm.
    pub fn height_mm(&self, total_mm: f64) -> f64 {
        self.depth.stick_out_mm - total_mm
    }

    /// The farthest corner after a total depth, mm.
    pub fn radius_mm(&self, total_mm: f64) -> f64 {
        floor_at(self.piece, self.place, self.lie, self.lie.top_mm - total_mm).start_radius_mm
    }

    /// The force of a cut.
    pub fn force(&self, depth_mm: f64, feed_mm: f64, level: Level) -> Force3 {
        cutting::force(&self.task.material, &self.tool.edge, depth_mm, feed_mm, level)
    }
}

/// Whether the edge leaves the metal in a turn: it does so just inside the farthest corner, unless the floor is round.
fn leaves_the_metal(floor: &Floor) -> bool {
    floor.share_at(floor.start_radius_mm * (1.0 - 1e-6)).share < 1.0
}

/// Whether the bar's surface is one that a first cut should go under.
fn is_skin(task: &Task) -> bool {
    matches!(task.skin, crate::job::Surface::HotRolled | crate::job::Surface::Cast)
}

/// What the first cut meets: the bar's skin on a side, a sawn end on an end.
fn top_surface(task: &Task, lie: &Lie) -> Surface {
    match task.faces[lie.face].place {
        Place::Side(_) => Surface::Bar,
        Place::Front | Place::Back => Surface::Sawn,
    }
}
