//! The floor of a pass: chord, start radius, metal removed.

use super::Told;
use super::list::{Given, Workings, given, worked};
use crate::part::Place;
use crate::planning::search::Chosen;
use crate::shape::{Edge, Floor, Point, Section};
use crate::task::Task;

/// Key of the start radius.
pub const START_RADIUS: &str = "start radius";
/// Rounding.
const SAME_MM: f64 = 1e-9;
const PIECE: &str = "the piece as it is";

/// Everything about the floor of a pass, from 0.
pub fn pass(told: &Told, at: usize, list: &mut Workings) {
    let taken = &told.taken[at];
    let facing = &told.chosen.way.facing;
    let height_mm = facing.lie.top_mm - taken.pass.total_mm;
    let total = given("a_t", taken.pass.total_mm, "the cuts before it and this one, on marks of the dial");
    start_radius(told.task, told.chosen, (&taken.floor, height_mm, Some(total)), START_RADIUS, list);
    floor_area(told, &taken.floor, height_mm, list);
    removed(told, at, height_mm, list);
}

/// A side's floor is a rectangle; an end's is the section itself.
fn floor_area(told: &Told, floor: &Floor, height_mm: f64, list: &mut Workings) {
    let facing = &told.chosen.way.facing;
    let Place::Side(angle) = told.task.faces[facing.lie.face].place else { return };
    let Some((from, to)) = facing.piece.section.chord(angle, height_mm) else { return };
    list.add(
        "area of the floor",
        floor.area_mm2(),
        "area of the floor",
        vec![given("c", to - from, "the piece as it is, at this height"), given("L", facing.piece.length_mm(), PIECE)],
    );
}

/// The start radius of a floor at a height; without a total depth it is the finished one.
pub fn start_radius(
    task: &Task,
    chosen: &Chosen,
    (floor, height_mm, total): (&Floor, f64, Option<Given>),
    what: &str,
    list: &mut Workings,
) -> String {
    let radius_mm = floor.start_radius_mm;
    if let Some((chord, chord_mm)) = chord(task, chosen, (floor, height_mm, total), list) {
        let length_mm = chosen.way.facing.piece.length_mm();
        let values = vec![worked("c", chord_mm, &chord), given("L", length_mm, PIECE)];
        return list.add(what, radius_mm, "start radius over a chord", values);
    }
    if floor.section.edges().iter().all(about_the_axis) {
        return list.add(what, radius_mm, "start radius on a round", vec![given("D", task.bar_size_mm, "the job")]);
    }
    let far = farthest(floor);
    list.add(what, radius_mm, "start radius at a corner", vec![given("x", far.x, PIECE), given("y", far.y, PIECE)])
}

fn about_the_axis(edge: &Edge) -> bool {
    matches!(edge, Edge::Arc(arc) if arc.centre.norm() <= SAME_MM)
}

/// The farthest corner, or the point of a round off the axis that lies farther out.
fn farthest(floor: &Floor) -> Point {
    let on_rounds = floor.section.edges().iter().filter_map(|edge| match edge {
        Edge::Arc(arc) => arc.centre.try_normalize(0.0).map(|way| arc.centre + way * arc.radius_mm),
        Edge::Line(_) => None,
    });
    let points = floor.section.corners().into_iter().chain(on_rounds);
    let off = |point: &Point| (point.norm() - floor.start_radius_mm).abs();
    points.min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or_default()
}

/// The chord of a round bar, where the floor ends on the round at both sides and lies evenly about the axis.
fn chord(
    task: &Task,
    chosen: &Chosen,
    (floor, height_mm, total): (&Floor, f64, Option<Given>),
    list: &mut Workings,
) -> Option<(String, f64)> {
    let facing = &chosen.way.facing;
    let Place::Side(angle) = task.faces[facing.lie.face].place else { return None };
    let (from, to) = facing.piece.section.chord(angle, height_mm)?;
    let radius_mm = task.bar_size_mm / 2.0;
    let on_round = |along: f64| (along.hypot(height_mm) - radius_mm).abs() <= SAME_MM;
    let round = task.bar_form == "round" && on_round(from) && on_round(to);
    let axis = facing.lie.axis_mm;
    let even = (from + to - 2.0 * axis.0).abs() <= SAME_MM
        && (facing.piece.front_mm + facing.piece.back_mm - 2.0 * axis.1).abs() <= SAME_MM;
    if !(round && even) || floor.section.is_empty() {
        return None;
    }
    let finished = total.is_none();
    let height = match total {
        Some(total) => {
            let raw = given("h_0", facing.lie.top_mm, PIECE);
            let key = list.add("height of the floor", height_mm, "height of the floor", vec![raw, total]);
            worked("h", height_mm, &key)
        }
        None => given("h", height_mm, "the job, the middle of the limits"),
    };
    let what = if finished { "chord of the finished floor" } else { "chord" };
    let key = list.add(what, to - from, "chord of a round", vec![given("R", radius_mm, "the job"), height]);
    Some((key, to - from))
}

/// What a pass takes off: an area of the section, or for an end all of it.
fn removed(told: &Told, at: usize, height_mm: f64, list: &mut Workings) {
    let facing = &told.chosen.way.facing;
    let pass = &told.taken[at].pass;
    let above_mm = height_mm + pass.depth_mm;
    // The last pass is measured to the finished flat, however the marks of the dial fall.
    let below_mm = if at + 1 == told.taken.len() { facing.lie.floor_mm } else { height_mm };
    let (area, length_mm) = match told.task.faces[facing.lie.face].place {
        Place::Side(angle) => {
            let strip = facing.piece.section.strip(angle, below_mm, above_mm.min(facing.lie.top_mm));
            (strip_area(told.task, &strip, angle, (below_mm, above_mm), list), facing.piece.length_mm())
        }
        Place::Front | Place::Back => {
            (given("A", facing.piece.section.area(), PIECE), above_mm.min(facing.lie.top_mm) - below_mm)
        }
    };
    list.add("metal removed", pass.removed_mm3, "metal removed", vec![area, given("L", length_mm, PIECE)]);
}

/// Of a round the difference of two segments, else the area within its lines.
fn strip_area(
    task: &Task,
    strip: &Section,
    angle: f64,
    (below_mm, above_mm): (f64, f64),
    list: &mut Workings,
) -> Given {
    let radius_mm = task.bar_size_mm / 2.0;
    let level = |edge: &Edge| match edge {
        Edge::Line(line) => (line.normal_rad - angle).sin().abs() < 1e-9,
        Edge::Arc(arc) => (arc.radius_mm - radius_mm).abs() <= SAME_MM && arc.centre.norm() <= SAME_MM,
    };
    let area_mm2 = strip.area();
    if task.bar_form != "round" || !strip.edges().iter().all(level) || above_mm > radius_mm + SAME_MM {
        return given("A", area_mm2, "the piece as it is, within its lines and arcs");
    }
    let round = Section::round(radius_mm);
    let mut segment = |what: &str, height_mm: f64| {
        // The untouched top of the round has nothing above it.
        let height_mm = if height_mm > radius_mm - SAME_MM { radius_mm } else { height_mm };
        let above_mm2 = round.strip_area(angle, height_mm, radius_mm);
        let values = vec![given("R", radius_mm, "the job"), given("h", height_mm, PIECE)];
        (above_mm2, list.add(what, above_mm2, "segment of a round", values))
    };
    let (lower, upper) = (segment("segment above the floor", below_mm), segment("segment before", above_mm));
    let values = vec![worked("S_2", lower.0, &lower.1), worked("S_1", upper.0, &upper.1)];
    let key = list.add("area taken off", area_mm2, "area between two heights of a round", values);
    worked("A", area_mm2, &key)
}
