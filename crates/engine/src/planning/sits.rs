//! What the error chain needs of a set-up: what bears where, how stiff, how its size comes about.

use std::rc::Rc;

use nalgebra::{Matrix2, Vector2, Vector3};

use super::blank::part_section;
use super::facing::Facing;
use super::ledge;
use super::lie::{Lie, Surface};
use super::report::angled_from;
use super::search::Chosen;
use super::way::Way;
use super::window::{SeatOn, parallels_run};
use crate::accuracy::{Behind, FaceShape, JawBears, On, PairOfParallels, Places, Seating, SetUp, Sized, Stands};
use crate::part::Place;
use crate::shape::{Edge, Point, Section};
use crate::task::Task;

/// Tangents of every face in the part's frame: across and along the bar for a side, x and y for an end.
pub fn tangents(task: &Task) -> Rc<[[Vector3<f64>; 2]]> {
    task.faces.iter().map(|face| tangents_of(face.place)).collect()
}

fn tangents_of(place: Place) -> [Vector3<f64>; 2] {
    match place {
        Place::Side(angle) => [Vector3::new(-angle.sin(), angle.cos(), 0.0), Vector3::z()],
        Place::Front | Place::Back => [Vector3::x(), Vector3::y()],
    }
}

/// Outward normal of a face.
pub fn normal(place: Place) -> Vector3<f64> {
    match place {
        Place::Side(angle) => Vector3::new(angle.cos(), angle.sin(), 0.0),
        Place::Front => Vector3::z(),
        Place::Back => -Vector3::z(),
    }
}

/// The finished faces, each with its middle in the part's frame; the spindle's axis still at their middles.
pub fn shapes(task: &Task) -> Vec<(FaceShape, Vector3<f64>)> {
    let section = part_section(task);
    (0..task.faces.len()).map(|face| shape(task, &section, face)).collect()
}

fn shape(task: &Task, section: &Section, face: usize) -> (FaceShape, Vector3<f64>) {
    let place = task.faces[face].place;
    let (corners, tangents) = (corners(task, section, face), tangents_of(place));
    let ends = |of: fn(f64, f64) -> f64, from: f64, axis: usize| {
        corners.iter().map(|corner| tangents[axis].dot(corner)).fold(from, of)
    };
    let middle_of = |axis: usize| (ends(f64::min, f64::INFINITY, axis) + ends(f64::max, f64::NEG_INFINITY, axis)) / 2.0;
    let out = normal(place);
    let height = corners.iter().map(|corner| out.dot(corner)).sum::<f64>() / corners.len().max(1) as f64;
    let middle = tangents[0] * middle_of(0) + tangents[1] * middle_of(1) + out * height;
    let corners_mm = corners.iter().map(|corner| tangents.map(|tangent| tangent.dot(&(corner - middle)))).collect();
    (FaceShape { normal: out, tangents, corners_mm, axis_mm: [0.0, 0.0] }, middle)
}

/// Where the spindle's axis meets a face as it is cut in this way, along its tangents from its middle.
pub fn axis_mm(lie: &Lie, (shape, middle): &(FaceShape, Vector3<f64>)) -> [f64; 2] {
    let axis = lie.axes[0] * lie.axis_mm.0 + lie.axes[1] * lie.axis_mm.1;
    shape.tangents.map(|tangent| tangent.dot(&(axis - middle)))
}

/// Corners of a finished face in the part's frame.
fn corners(task: &Task, section: &Section, face: usize) -> Vec<Vector3<f64>> {
    let (front, back) = (task.faces[0].distance_mm, -task.faces[1].distance_mm);
    match task.faces[face].place {
        Place::Side(angle) => section
            .edges()
            .iter()
            .filter_map(|edge| match edge {
                Edge::Line(line) if (line.normal_rad - angle).cos() > 1.0 - 1e-9 => Some((line.from, line.to)),
                _ => None,
            })
            .flat_map(|(from, to)| {
                let at = |point: Point, z: f64| Vector3::new(point.x, point.y, z);
                [at(from, back), at(to, back), at(to, front), at(from, front)]
            })
            .collect(),
        place => {
            let z = if place == Place::Front { front } else { back };
            section.corners().iter().map(|point| Vector3::new(point.x, point.y, z)).collect()
        }
    }
}

/// A way as the chain needs it.
pub fn set_up(task: &Task, way: &Way, shape: &(FaceShape, Vector3<f64>)) -> SetUp {
    let facing = &way.facing;
    let seating = Seating {
        face: facing.lie.face as u8,
        axes: facing.lie.axes,
        jaws: (0..facing.lie.sides.len()).map(|at| jaw(facing, at)).collect(),
        behind: behind(task, facing),
        eye_from: angled_from(task, facing).map(|(from, _)| from as u8),
    };
    let face = FaceShape { axis_mm: axis_mm(&facing.lie, shape), ..shape.0.clone() };
    let seen = Matrix2::from_fn(|axis, tangent| facing.lie.axes[axis].dot(&face.tangents[tangent]));
    let slip_per_mm = seen * face.slip_per_mm() * seen.transpose();
    let places = places(facing, &seating, seen * face.cone_per_rad());
    SetUp { gains: seating.gains(), slip_per_mm, sized: sized(task, way), seating, places }
}

/// Where it cuts and bears, in the part's frame.
fn places(facing: &Facing, seating: &Seating, cone_per_rad: Vector2<f64>) -> Places {
    let lie = &facing.lie;
    let [x, y, z] = lie.axes;
    let axis_mm = x * lie.axis_mm.0 + y * lie.axis_mm.1;
    let fronts = axis_mm + z * (lie.top_mm - facing.depth.stick_out_mm);
    let jaw = |at: usize| {
        let held = facing.hold.grip.held().iter().filter(|held| usize::from(held.contact.jaw) == at + 1);
        let points: Vec<Vector3<f64>> = held.map(|held| held.contact.at_mm).collect();
        let corners = corners_about(&points, seating.outward(at));
        corners.map(|at| fronts + x * at.x + y * at.y + z * at.z).to_vec()
    };
    let patches = seating.behind.as_ref().map_or_else(Vec::new, patches_behind);
    let behind_mm = patches.iter().map(|corners| corners.map(|[a, b]| axis_mm + x * a + y * b).to_vec()).collect();
    Places { axis_mm, cone_per_rad, jaws_mm: (0..lie.sides.len()).map(jaw).collect(), behind_mm }
}

/// Corners of the rectangle round the contact points of one jaw: across its face and along the spindle.
fn corners_about(points: &[Vector3<f64>], out: Vector2<f64>) -> [Vector3<f64>; 4] {
    let out = Vector3::new(out.x, out.y, 0.0);
    let across = Vector3::z().cross(&out);
    let ends = |axis: &Vector3<f64>| {
        let along = points.iter().map(|point| axis.dot(point));
        along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
    };
    let ((left, right), (low, high)) = (ends(&across), ends(&Vector3::z()));
    let reach = points.first().map_or(0.0, |point| out.dot(point));
    [(left, low), (right, low), (right, high), (left, high)].map(|(a, z)| out * reach + across * a + Vector3::z() * z)
}

/// What bears on a seat, along X and Y from the spindle's axis: all of it, or one patch on each of two parallels.
fn patches_behind(behind: &Behind) -> Vec<[[f64; 2]; 4]> {
    let rectangle = |[a, b]: [f64; 2], [c, d]: [f64; 2]| [[a, c], [b, c], [b, d], [a, d]];
    let [x, y] = behind.half_mm;
    let Some(pair) = behind.parallels else { return vec![rectangle([-x, x], [-y, y])] };
    let half = behind.half_mm[pair.across];
    let near = pair.apart_mm - half;
    [[-half, -near], [near, half]]
        .map(|strip| if pair.across == 0 { rectangle(strip, [-y, y]) } else { rectangle([-x, x], strip) })
        .to_vec()
}

fn jaw(facing: &Facing, at: usize) -> JawBears {
    let points = facing.hold.grip.held().iter().filter(|held| usize::from(held.contact.jaw) == at + 1);
    let surface = facing.lie.sides[at].surface;
    JawBears {
        on: on(surface, at),
        points: points.map(|held| (held.contact.normal_stiffness_n_mm, held.contact.at_mm.z)).collect(),
        packed: surface != Surface::Bar,
    }
}

/// What a jaw or the seat touches; only a piece lying across shows its ends to jaws, the front to the second one.
fn on(surface: Surface, at: usize) -> On {
    match surface {
        Surface::Bar => On::Bar,
        Surface::Sawn => On::Sawn(u8::from(at != 1)),
        Surface::Face(face) => On::Face(face as u8),
    }
}

/// A seat squares what lies flat on it. A sawn end it only places; the bar's skin it squares only in a direction in
/// which no jaw bears on a finished flat: no machinist taps a rough side down against one.
fn behind(task: &Task, facing: &Facing) -> Option<Behind> {
    let lie = &facing.lie;
    let on = match (facing.depth.seat, lie.behind) {
        (SeatOn::Nothing, _) | (_, Surface::Sawn) => return None,
        (_, surface) => on(surface, 0),
    };
    let finished =
        |axis: usize| lie.sides.iter().skip(axis).step_by(2).any(|side| matches!(side.surface, Surface::Face(_)));
    let (parallels, reach_mm) = parallels(task, facing);
    let behind_mm = [lie.behind_mm.0, lie.behind_mm.1];
    let half = |axis: usize| {
        if on == On::Bar && finished(axis) { 0.0 } else { (behind_mm[axis] / 2.0).min(reach_mm[axis]) }
    };
    Some(Behind {
        on,
        half_mm: [half(0), half(1)],
        parallels,
        stiffness_n_mm: task.spreads.spreads.seat_over_jaw_stiffness * task.chuck.stiffness_n_mm,
    })
}

/// The pair of parallels behind, and from the middle to the outer edges of it or of ledges along X and Y, mm.
fn parallels(task: &Task, facing: &Facing) -> (Option<PairOfParallels>, [f64; 2]) {
    if facing.depth.seat == SeatOn::JawStep {
        // Where no two ledges lie opposed, what squares is as wide as those of the other jaws.
        let beside_mm = task.chuck.jaw_width_mm / 2.0;
        return (None, ledge::along(task, &facing.lie).map(|both| if both { f64::INFINITY } else { beside_mm }));
    }
    let run = parallels_run(task, &facing.lie).filter(|_| matches!(facing.depth.seat, SeatOn::Parallels(_)));
    let Some(run) = run else { return (None, [f64::INFINITY; 2]) };
    let (beside_mm, width_mm) = (task.chuck.jaw_width_mm / 2.0, task.parallels_width_mm);
    let mut reach_mm = [task.parallels_length_mm / 2.0; 2];
    reach_mm[1 - run] = beside_mm + width_mm;
    if let Some(half_mm) = half_chord_mm(facing, 1 - run, beside_mm + width_mm / 2.0) {
        reach_mm[run] = reach_mm[run].min(half_mm);
    }
    (Some(PairOfParallels { across: 1 - run, apart_mm: 2.0 * beside_mm + width_mm }), reach_mm)
}

/// Half of what of the end of a bar lies over a line so far across from the spindle axis; the shorter of the two sides.
/// `None`: no end is behind.
fn half_chord_mm(facing: &Facing, across: usize, off_mm: f64) -> Option<f64> {
    let lie = &facing.lie;
    let (way, axis) = (lie.axes[across], lie.axes[0] * lie.axis_mm.0 + lie.axes[1] * lie.axis_mm.1);
    if lie.axes[2].z.abs() < 0.5 {
        return None;
    }
    let half = |side: f64| {
        let chord = facing.piece.section.chord(way.y.atan2(way.x), way.dot(&axis) + side * off_mm);
        chord.map_or(0.0, |(from, to)| (to - from).abs() / 2.0)
    };
    Some(half(1.0).min(half(-1.0)))
}

fn sized(task: &Task, way: &Way) -> Sized {
    let last_cut_mm = way.facing.cuts.last().map_or(0.0, |cut| cut.depth_mm);
    let first_of_pair = way.measure.iter().all(|measure| measure.over_bar);
    let alone = task.faces[way.facing.lie.face].alone_mm.is_some();
    let gauge = way.measure.last().filter(|_| !first_of_pair || alone).and_then(|measure| {
        let at = task.gauges.iter().position(|gauge| measure.gauge.starts_with(&gauge.name))?;
        Some((at as u8, super::measure::uncertainty_mm(&task.gauges[at])))
    });
    Sized { last_cut_mm, mark_mm: task.lathe.dial.depth_of_mm(1), gauge }
}

/// Where a set-up stands: the turn in the jaws, and for which face each jaw was last tightened, from where it stood
/// before.
pub fn stands(chosen: &Chosen, before: Option<&Stands>) -> Stands {
    let lie = &chosen.way.facing.lie;
    let face = lie.face as u8;
    let since = |jaw: usize| before.and_then(|before| before.tightened_for.get(jaw).copied());
    let tightened_for =
        (0..lie.sides.len()).map(|jaw| since(jaw).filter(|_| chosen.kept.contains(&jaw)).unwrap_or(face));
    Stands { turn: chosen.turn, tightened_for: tightened_for.collect() }
}
