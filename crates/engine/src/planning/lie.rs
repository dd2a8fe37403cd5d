//! How the piece lies in the chuck to have one face cut: axes, what each jaw finds, what is behind.
//!
//! The set-up's frame has Z along the face's outward normal, away from the chuck; X and Y are the
//! directions of the jaws before the piece is turned in them. The spindle axis passes through the
//! middle of the piece as the jaws find it.

use std::f64::consts::{FRAC_PI_2, TAU};

use nalgebra::Vector3;

use super::blank::{Done, has};
use super::vee::{self, Groove, Looks, VeeOn};
use crate::part::Place;
use crate::plan::ContactKind;
use crate::shape::{Bearing as Bears, Edge, Piece, Point, Section, Support};
use crate::task::Task;

/// Normals and surfaces agree within this; far below what a lathe can cut, far above rounding.
const SAME: f64 = 1e-6;

/// What a jaw or the seat touches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// The bar's own skin.
    Bar,
    /// An end as sawn.
    Sawn,
    /// A finished face, by index.
    Face(usize),
}

/// Where a jaw can bear, in coordinates (n, w): n along Z from the part's origin, w across the jaw
/// from the spindle axis.
#[derive(Debug, Clone)]
pub enum Bearing {
    /// On a flat of this outline.
    Area(Section),
    /// On the widest line of a round lying across, at height `n_mm`, from `w_mm.0` to `w_mm.1`.
    Across {
        /// Height of the widest line.
        n_mm: f64,
        /// Ends of the line.
        w_mm: (f64, f64),
    },
    /// On a line of a round along the spindle.
    Along {
        /// Place across the jaw.
        w_mm: f64,
        /// Ends of the line.
        n_mm: (f64, f64),
    },
    /// On a corner through a vee.
    Vee(VeeOn),
}

/// What one jaw finds.
#[derive(Debug, Clone)]
pub struct Side {
    /// From the spindle axis to the surface.
    pub out_mm: f64,
    /// What it is.
    pub surface: Surface,
    /// How it bears.
    pub kind: ContactKind,
    /// Where.
    pub bearing: Bearing,
    /// w runs along the jaw's tangent (Z × outward) times this sign.
    pub sign: f64,
}

/// How the piece lies for one face.
#[derive(Debug, Clone)]
pub struct Lie {
    /// The face to be cut.
    pub face: usize,
    /// Unit vectors X, Y, Z of the set-up's frame in the part's frame.
    pub axes: [Vector3<f64>; 3],
    /// The spindle axis in (X, Y) from the part's origin.
    pub axis_mm: (f64, f64),
    /// n of the surface behind.
    pub back_mm: f64,
    /// n of the raw top.
    pub top_mm: f64,
    /// n of the finished flat.
    pub floor_mm: f64,
    /// What the jaws find, in order round the chuck from X.
    pub sides: Vec<Side>,
    /// What is behind, and whether it is flat.
    pub behind: Surface,
    /// Size of what is behind, along X and Y, for bridging the hole in the chuck.
    pub behind_mm: (f64, f64),
    /// Where what is flat behind begins and ends along X, from the spindle axis; equal where it is a line.
    pub flat_behind_mm: (f64, f64),
    /// Diameter about the spindle axis that the piece needs to go into the hole of the chuck; infinite where it
    /// lies across.
    pub swung_mm: f64,
}

/// Why the piece cannot lie so.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotLie {
    /// A jaw would bear on a corner of the piece; direction in the section, degrees.
    Corner(f64),
    /// The chuck cannot hold work lying across.
    Across,
    /// The jaws of a self-centring chuck find unequal distances: most less least, mm.
    Unequal(f64),
    /// Jaws are bored smaller than the round that they find: bore, round, mm.
    BoredSmall(f64, f64),
    /// Jaws are bored to this diameter and would find something else than a round along them.
    BoredRound(f64),
}

/// Every way the piece can lie for a face, or why not.
pub fn lies(task: &Task, piece: &Piece, done: Done, face: usize) -> Result<Vec<Lie>, CannotLie> {
    let bare = lies_with(task, piece, done, face, None);
    if !matches!(bare, Err(CannotLie::Corner(_))) {
        return bare;
    }
    let with = |kind| lies_with(task, piece, done, face, Some(kind)).unwrap_or_default();
    let lies: Vec<Lie> = (0..task.vees.len()).flat_map(with).filter(|lie| vee::enough(task, &lie.sides)).collect();
    if lies.is_empty() { bare } else { Ok(lies) }
}

/// The same with this kind of vee on every jaw that would bear on a corner.
fn lies_with(task: &Task, piece: &Piece, done: Done, face: usize, kind: Option<usize>) -> Result<Vec<Lie>, CannotLie> {
    let jaws = usize::from(task.chuck.jaws);
    match task.faces[face].place {
        Place::Side(_) if jaws != 4 || task.chuck.kind == crate::shop::ChuckKind::SelfCentring => {
            Err(CannotLie::Across)
        }
        Place::Side(angle) => lie_across(task, piece, done, (face, kind), angle).map(|lie| vec![lie]),
        Place::Front | Place::Back => lies_along(task, piece, done, (face, kind), jaws),
    }
}

fn lie_across(
    task: &Task,
    piece: &Piece,
    done: Done,
    (face, kind): (usize, Option<usize>),
    angle: f64,
) -> Result<Lie, CannotLie> {
    let axes = across_axes(angle);
    let behind = support(&piece.section, angle + TAU / 2.0)?;
    // Turned so that n runs along x and the tangent t along y.
    let turned = piece.section.turned(-angle);
    let (t_plus, t_minus) = (turned.extent_mm(FRAC_PI_2), turned.extent_mm(-FRAC_PI_2));
    let axis_mm = ((t_plus - t_minus) / 2.0, (piece.front_mm + piece.back_mm) / 2.0);
    let mut sides = Vec::with_capacity(4);
    for quarter in 0..4 {
        let side = if quarter % 2 == 0 {
            side_beside(task, piece, done, (angle, kind), quarter, axis_mm)?
        } else {
            end_beside(done, piece, &turned, quarter, axis_mm)
        };
        sides.push(side);
    }
    super::bored::check(task, &sides)?;
    Ok(Lie {
        face,
        axes,
        axis_mm,
        back_mm: -behind.extent_mm,
        top_mm: piece.section.extent_mm(angle),
        floor_mm: task.faces[face].distance_mm,
        sides,
        behind: section_surface(
            task,
            done,
            angle + TAU / 2.0,
            behind.extent_mm,
            matches!(behind.bearing, Bears::Flat { .. }),
        ),
        behind_mm: (behind_width(&behind.bearing), piece.front_mm - piece.back_mm),
        flat_behind_mm: flat_behind(&behind.bearing, angle, axis_mm.0),
        swung_mm: f64::INFINITY,
    })
}

/// X = tangent, Y = along the bar, Z = outward: counter-clockwise seen from the tailstock.
fn across_axes(angle: f64) -> [Vector3<f64>; 3] {
    let (sin, cos) = angle.sin_cos();
    [Vector3::new(-sin, cos, 0.0), Vector3::z(), Vector3::new(cos, sin, 0.0)]
}

/// What a jaw finds on the side of a piece lying across: the round at its widest line, or a flat.
fn side_beside(
    task: &Task,
    piece: &Piece,
    done: Done,
    (angle, vee_kind): (f64, Option<usize>),
    quarter: usize,
    axis_mm: (f64, f64),
) -> Result<Side, CannotLie> {
    let sign = if quarter == 0 { 1.0 } else { -1.0 };
    let direction = angle + sign * FRAC_PI_2;
    let support = support(&piece.section, direction)?;
    let out_mm = support.extent_mm - sign * axis_mm.0;
    let w_mm = (piece.back_mm - axis_mm.1, piece.front_mm - axis_mm.1);
    let height = |point: Point| point.x * angle.cos() + point.y * angle.sin();
    let (kind, bearing) = match support.bearing {
        Bears::Round { at, .. } => (ContactKind::LineAcross, Bearing::Across { n_mm: height(at), w_mm }),
        Bears::Flat { from, to } => {
            let (a, b) = (height(from), height(to));
            (ContactKind::Flat, Bearing::Area(Section::rectangle(a.min(b), a.max(b), w_mm.0, w_mm.1)))
        }
        Bears::Corner(_) => {
            // Heights count from the part's origin, so that the axis is taken off along the jaw alone.
            let axis = Point::new(-angle.sin() * axis_mm.0, angle.cos() * axis_mm.0);
            let (groove, section) = (Groove::Across, &piece.section);
            let looks = Looks { section, direction, sign: -sign, axis, groove, along_mm: w_mm };
            return through_a_vee(task, done, vee_kind, &looks, (out_mm, sign));
        }
    };
    let surface = section_surface(task, done, direction, support.extent_mm, kind == ContactKind::Flat);
    Ok(Side { out_mm, surface, kind, bearing, sign })
}

/// What a jaw finds at an end of a piece lying across.
fn end_beside(done: Done, piece: &Piece, turned: &Section, quarter: usize, axis_mm: (f64, f64)) -> Side {
    let front = quarter == 1;
    let (end, index) = if front { (piece.front_mm, 0) } else { (piece.back_mm, 1) };
    Side {
        out_mm: (end - axis_mm.1).abs(),
        surface: if has(done, index) { Surface::Face(index) } else { Surface::Sawn },
        kind: ContactKind::Flat,
        bearing: Bearing::Area(turned.moved(0.0, -axis_mm.0)),
        sign: if front { -1.0 } else { 1.0 },
    }
}

/// Every way to hold the piece along the spindle: the jaws square to its flats.
fn lies_along(
    task: &Task,
    piece: &Piece,
    done: Done,
    (face, kind): (usize, Option<usize>),
    jaws: usize,
) -> Result<Vec<Lie>, CannotLie> {
    let front = matches!(task.faces[face].place, Place::Front);
    let mut found = Vec::new();
    let mut refused = CannotLie::Corner(0.0);
    for first in first_directions(task, piece, done, jaws) {
        match lie_along(task, piece, done, (face, kind), (front, first, jaws)) {
            Ok(lie) => found.push(lie),
            Err(why) => refused = why,
        }
    }
    if found.is_empty() { Err(refused) } else { Ok(found) }
}

/// Directions in the section that the first jaw may take: normals of flats, finished ones first.
fn first_directions(task: &Task, piece: &Piece, done: Done, jaws: usize) -> Vec<f64> {
    let turn = TAU / jaws as f64;
    let finished =
        task.faces.iter().enumerate().filter(|(at, _)| has(done, *at)).filter_map(|(_, face)| match face.place {
            Place::Side(angle) => Some(angle),
            Place::Front | Place::Back => None,
        });
    let mut directions: Vec<f64> = Vec::new();
    for angle in finished.chain(flat_normals(&piece.section)) {
        let angle = angle.rem_euclid(turn);
        let known = |&other: &f64| ((angle - other + turn / 2.0).rem_euclid(turn) - turn / 2.0).abs() < SAME;
        if !directions.iter().any(known) {
            directions.push(angle);
        }
    }
    if directions.is_empty() {
        directions.push(0.0);
    }
    directions
}

/// Outward normals of the straight edges of a section, in the order of its boundary.
fn flat_normals(section: &Section) -> Vec<f64> {
    section
        .edges()
        .iter()
        .filter_map(|edge| match edge {
            Edge::Line(line) => {
                let normal = line.normal();
                Some(normal.y.atan2(normal.x))
            }
            Edge::Arc(_) => None,
        })
        .collect()
}

fn lie_along(
    task: &Task,
    piece: &Piece,
    done: Done,
    (face, kind): (usize, Option<usize>),
    (front, first, jaws): (bool, f64, usize),
) -> Result<Lie, CannotLie> {
    let outwards = if front { 1.0 } else { -1.0 };
    let (sin, cos) = first.sin_cos();
    let axes =
        [Vector3::new(cos, sin, 0.0), Vector3::new(-sin * outwards, cos * outwards, 0.0), Vector3::z() * outwards];
    let direction = |jaw: usize| first + outwards * TAU * jaw as f64 / jaws as f64;
    let extent = |angle: f64| piece.section.extent_mm(angle);
    let axis_mm = if jaws == 4 {
        ((extent(direction(0)) - extent(direction(2))) / 2.0, (extent(direction(1)) - extent(direction(3))) / 2.0)
    } else {
        (0.0, 0.0)
    };
    let ends = if front { (piece.back_mm, piece.front_mm) } else { (-piece.front_mm, -piece.back_mm) };
    let axis_in_part = axes[0] * axis_mm.0 + axes[1] * axis_mm.1;
    let sides = (0..jaws)
        .map(|jaw| side_around(task, piece, done, (direction(jaw), kind), outwards, axis_in_part, ends))
        .collect::<Result<Vec<Side>, CannotLie>>()?;
    check_equal(task, &sides)?;
    super::bored::check(task, &sides)?;
    let other_end = usize::from(front);
    Ok(Lie {
        face,
        axes,
        axis_mm,
        back_mm: ends.0,
        top_mm: ends.1,
        floor_mm: task.faces[face].distance_mm,
        sides,
        behind: if has(done, other_end) { Surface::Face(other_end) } else { Surface::Sawn },
        behind_mm: (extent(first) + extent(first + TAU / 2.0), extent(first + FRAC_PI_2) + extent(first - FRAC_PI_2)),
        flat_behind_mm: (-extent(first + TAU / 2.0) - axis_mm.0, extent(first) - axis_mm.0),
        swung_mm: 2.0 * piece.section.farthest_from(Point::new(axis_in_part.x, axis_in_part.y)),
    })
}

/// What a jaw finds on the side of a piece held along the spindle.
fn side_around(
    task: &Task,
    piece: &Piece,
    done: Done,
    (direction, vee_kind): (f64, Option<usize>),
    outwards: f64,
    axis: Vector3<f64>,
    ends: (f64, f64),
) -> Result<Side, CannotLie> {
    let support = support(&piece.section, direction)?;
    let (sin, cos) = direction.sin_cos();
    let across = |point: Point| (point.x - axis.x) * -sin + (point.y - axis.y) * cos;
    let (kind, bearing) = match support.bearing {
        Bears::Round { at, .. } => (ContactKind::LineAlong, Bearing::Along { w_mm: across(at), n_mm: ends }),
        Bears::Flat { from, to } => {
            let (a, b) = (across(from), across(to));
            (ContactKind::Flat, Bearing::Area(Section::rectangle(ends.0, ends.1, a.min(b), a.max(b))))
        }
        Bears::Corner(_) => {
            let (groove, section, out_mm) =
                (Groove::Along, &piece.section, support.extent_mm - (axis.x * cos + axis.y * sin));
            let axis = Point::new(axis.x, axis.y);
            let looks = Looks { section, direction, sign: 1.0, axis, groove, along_mm: ends };
            return through_a_vee(task, done, vee_kind, &looks, (out_mm, outwards));
        }
    };
    Ok(Side {
        out_mm: support.extent_mm - (axis.x * cos + axis.y * sin),
        surface: section_surface(task, done, direction, support.extent_mm, kind == ContactKind::Flat),
        kind,
        bearing,
        sign: outwards,
    })
}

/// A vee of this kind on a jaw that finds a corner; refused without one, and where the piece does not lie squarely in it.
fn through_a_vee(
    task: &Task,
    done: Done,
    kind: Option<usize>,
    looks: &Looks,
    (out_mm, sign): (f64, f64),
) -> Result<Side, CannotLie> {
    let surface = |direction, extent_mm, flat| section_surface(task, done, direction, extent_mm, flat);
    let laid = kind.and_then(|kind| vee::laid(task, kind, looks, surface));
    let (on, surface) = laid.ok_or(CannotLie::Corner(looks.direction.to_degrees().rem_euclid(360.0)))?;
    Ok(Side { out_mm, surface, kind: ContactKind::Vee, bearing: Bearing::Vee(on), sign })
}

/// A self-centring chuck needs the same distance at each jaw.
fn check_equal(task: &Task, sides: &[Side]) -> Result<(), CannotLie> {
    if task.chuck.kind != crate::shop::ChuckKind::SelfCentring {
        return Ok(());
    }
    let most = sides.iter().map(|side| side.out_mm).fold(f64::MIN, f64::max);
    let least = sides.iter().map(|side| side.out_mm).fold(f64::MAX, f64::min);
    if most - least > SAME { Err(CannotLie::Unequal(most - least)) } else { Ok(()) }
}

/// Which surface lies outermost in a direction of the section: a finished face or the bar.
fn section_surface(task: &Task, done: Done, direction: f64, extent_mm: f64, flat: bool) -> Surface {
    let same = |angle: f64| (angle - direction + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0;
    let face = task.faces.iter().enumerate().position(|(at, face)| match face.place {
        Place::Side(angle) => {
            has(done, at) && flat && same(angle).abs() < SAME && (face.distance_mm - extent_mm).abs() < SAME
        }
        Place::Front | Place::Back => false,
    });
    face.map_or(Surface::Bar, Surface::Face)
}

/// What lies outermost in a direction; a section without metal offers only a corner.
fn support(section: &Section, direction: f64) -> Result<Support, CannotLie> {
    section.support(direction).ok_or(CannotLie::Corner(direction.to_degrees().rem_euclid(360.0)))
}

/// Ends of a flat behind work lying across, along the tangent of the face that is cut, from the spindle axis.
fn flat_behind(bears: &Bears, angle: f64, axis_mm: f64) -> (f64, f64) {
    let along = |point: &Point| point.y * angle.cos() - point.x * angle.sin() - axis_mm;
    match bears {
        Bears::Flat { from, to } => (along(from).min(along(to)), along(from).max(along(to))),
        Bears::Round { at, .. } | Bears::Corner(at) => (along(at), along(at)),
    }
}

fn behind_width(bears: &Bears) -> f64 {
    match bears {
        Bears::Flat { from, to } => (to.x - from.x).hypot(to.y - from.y),
        Bears::Round { .. } | Bears::Corner(_) => 0.0,
    }
}
