//! What stays behind the work while it is cut, as points that only push: chuck face, ledges of the jaws, the end of a stop.
//! Parallels are drawn out before the spindle turns.

use std::f64::consts::TAU;

use nalgebra::Vector3;

use super::hold::reach_mm;
use super::ledge;
use super::lie::Lie;
use super::window::{Depth, SeatOn};
use crate::holding::SeatPoint;
use crate::part::Place;
use crate::shape::{Edge, Piece, Point, Section};
use crate::task::Task;

/// An arc counts by points so far apart at most, rad.
const APART_RAD: f64 = TAU / 24.0;

/// The points of a seat that stays, in the set-up's frame; all of them together as stiff as a seat.
pub fn seat_points(task: &Task, piece: &Piece, lie: &Lie, depth: &Depth) -> Vec<SeatPoint> {
    let places = match depth.seat {
        SeatOn::ChuckFace => on_chuck_face(task, piece, lie),
        SeatOn::JawStep => on_ledges(task, piece, lie),
        SeatOn::Stop(_) => vec![(0.0, 0.0)],
        SeatOn::Parallels(_) | SeatOn::Nothing => Vec::new(),
    };
    let stiffness_n_mm =
        task.spreads.spreads.seat_over_jaw_stiffness * task.chuck.stiffness_n_mm / places.len().max(1) as f64;
    let point = |(x, y): (f64, f64)| SeatPoint { at_mm: Vector3::new(x, y, -depth.bite_mm), stiffness_n_mm };
    places.into_iter().map(point).collect()
}

/// The edge of what is behind, where it lies outside the hole.
fn on_chuck_face(task: &Task, piece: &Piece, lie: &Lie) -> Vec<(f64, f64)> {
    let (hole_mm, behind) = (task.chuck.bore_mm / 2.0, Behind::of(task, piece, lie));
    let points = edge_points(&behind.section).into_iter().map(|point| behind.place(point));
    points.filter(|(x, y)| x.hypot(*y) > hole_mm).collect()
}

/// Corners of what lies on the ledge of each jaw.
fn on_ledges(task: &Task, piece: &Piece, lie: &Lie) -> Vec<(f64, f64)> {
    let Some(step) = task.chuck.step else { return Vec::new() };
    let (rests, behind, half_mm) =
        (ledge::rests_mm(task, lie), Behind::of(task, piece, lie), task.chuck.jaw_width_mm / 2.0);
    let on = |(at, rests): (usize, f64)| {
        let angle = TAU * at as f64 / lie.sides.len() as f64;
        let reach_mm = reach_mm(task, &lie.sides[at]);
        let corners = behind.before(angle, (reach_mm - step.width_mm, reach_mm), half_mm);
        if rests > 0.0 { corners } else { Vec::new() }
    };
    rests.into_iter().enumerate().flat_map(on).collect()
}

/// What is flat behind: a section in a plane of its own, and that plane's place in X and Y of the set-up.
struct Behind {
    section: Section,
    x: Point,
    y: Point,
    /// The spindle axis along x and y.
    axis_mm: (f64, f64),
}

impl Behind {
    fn of(task: &Task, piece: &Piece, lie: &Lie) -> Behind {
        if matches!(task.faces[lie.face].place, Place::Side(_)) {
            let (low, high) = lie.flat_behind_mm;
            let section = Section::rectangle(low, high, piece.back_mm - lie.axis_mm.1, piece.front_mm - lie.axis_mm.1);
            return Behind { section, x: Point::new(1.0, 0.0), y: Point::new(0.0, 1.0), axis_mm: (0.0, 0.0) };
        }
        let [x, y] = [0, 1].map(|axis| Point::new(lie.axes[axis].x, lie.axes[axis].y));
        Behind { section: piece.section.clone(), x, y, axis_mm: lie.axis_mm }
    }

    /// A point of the section, in X and Y of the set-up.
    fn place(&self, point: Point) -> (f64, f64) {
        (self.x.dot(&point) - self.axis_mm.0, self.y.dot(&point) - self.axis_mm.1)
    }

    /// Corners of what lies in front of a jaw, so far out and so far to each side of its middle.
    fn before(&self, angle: f64, (from_mm, to_mm): (f64, f64), half_mm: f64) -> Vec<(f64, f64)> {
        let out = self.x * angle.cos() + self.y * angle.sin();
        let aside = Point::new(-out.y, out.x);
        let axis = self.x * self.axis_mm.0 + self.y * self.axis_mm.1;
        let (x0, y0) = (out.dot(&axis), aside.dot(&axis));
        let turned = self.section.turned(-out.y.atan2(out.x));
        let part = turned.within_rectangle(x0 + from_mm, x0 + to_mm, y0 - half_mm, y0 + half_mm);
        part.corners().into_iter().map(|point| self.place(out * point.x + aside * point.y)).collect()
    }
}

/// Corners of a section, and points along its arcs.
fn edge_points(section: &Section) -> Vec<Point> {
    let of = |edge: &Edge| match edge {
        Edge::Line(line) => vec![line.from],
        Edge::Arc(arc) => {
            let count = (arc.sweep_rad / APART_RAD).ceil().max(1.0);
            let at = |step: u32| arc.at(arc.start_rad + arc.sweep_rad * f64::from(step) / count);
            (0..count as u32).map(at).collect()
        }
    };
    section.edges().iter().flat_map(of).collect()
}
