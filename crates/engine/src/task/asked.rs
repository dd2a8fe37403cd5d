//! Everything that is asked of the part, one by one, in plain numbers.

use std::f64::consts::{FRAC_PI_2, TAU};

use super::flats::{Face, SAME_ANGLE_RAD, Side, sides};
use super::{Gaps, assumed, class_of_sizes};
use crate::job::Job;
use crate::part::{Kind, Part, Place, Requirement, Sized};
use crate::problem::Source;
use crate::quantity::Plain;
use crate::shape::{Point, Section};

/// What the drawing itself says.
const DRAWING: &str = "the drawing";

/// The part while its requirements are gathered.
struct Asked<'a> {
    part: &'a Part,
    faces: &'a [Face],
    /// The sides as the drawing gives them.
    sides: Vec<Side>,
    /// Corners of the section about the bar's axis.
    corners: Vec<Point>,
    length_mm: f64,
}

/// Every requirement: sizes and distances, then parallel, square and angle, flat, position, roughness; each kind in the
/// order of the faces.
pub(super) fn resolve(job: &Job, faces: &[Face], gaps: &mut Gaps) -> Vec<Requirement> {
    let section: Vec<(f64, f64)> = faces.iter().filter_map(side).collect();
    let asked = Asked {
        part: &job.part,
        faces,
        sides: sides(&job.part.form),
        corners: Section::from_sides(&section).map_or_else(Vec::new, |section| section.corners()),
        length_mm: faces[0].distance_mm + faces[1].distance_mm,
    };
    let list =
        [sizes(&asked), parallel(&asked), corners(&asked), flat(&asked), position(&asked), rough(&asked)].concat();
    check_position(&asked, gaps);
    note_angles(&asked, &list, gaps);
    list
}

fn side(face: &Face) -> Option<(f64, f64)> {
    match face.place {
        Place::Side(angle) => Some((angle, face.distance_mm)),
        Place::Front | Place::Back => None,
    }
}

/// Where the limits of a size come from.
pub(super) fn origin(sized: &Sized, part: &Part) -> String {
    match (sized.fit, sized.plus, sized.minus) {
        (Some(fit), ..) => format!("ISO 286 {fit}"),
        (None, None, None) => format!("ISO 2768-1 {}", class_of_sizes(part).letter()),
        _ => DRAWING.to_string(),
    }
}

impl Asked<'_> {
    /// Where the limits of the size between two opposite faces come from; two where two distances make it.
    fn origin_of(&self, face: usize, opposite: usize) -> String {
        let own = |face: usize| match face.checked_sub(2) {
            Some(side) => origin(&self.sides[side].sized, self.part),
            None => origin(&self.part.length, self.part),
        };
        let (one, other) = (own(face), own(opposite));
        if one == other { one } else { format!("{one} and {other}") }
    }

    /// Each pair of opposite faces once, the earlier first.
    fn opposites(&self) -> impl Iterator<Item = (usize, usize)> {
        let pairs = self.faces.iter().enumerate().filter_map(|(face, of)| Some((face, of.across?.opposite)));
        pairs.filter(|(face, opposite)| face < opposite)
    }

    /// Each pair of faces that meet in an edge, the earlier first: ends with sides, sides with their neighbours.
    fn neighbours(&self) -> Vec<(usize, usize)> {
        let count = self.faces.len();
        let mut pairs: Vec<(usize, usize)> = (0..2).flat_map(|end| (2..count).map(move |side| (end, side))).collect();
        let mut round: Vec<usize> = (2..count).collect();
        let angle = |face: &usize| side(&self.faces[*face]).map_or(0.0, |(angle, _)| angle);
        round.sort_by(|one, other| angle(one).total_cmp(&angle(other)));
        let next = round.iter().cycle().skip(1);
        let mut sides: Vec<(usize, usize)> =
            round.iter().zip(next).map(|(&one, &other)| (one.min(other), one.max(other))).collect();
        sides.sort_unstable();
        pairs.append(&mut sides);
        pairs
    }

    /// How far the section reaches along a direction, mm.
    fn reach_mm(&self, angle: f64) -> f64 {
        let along = self.corners.iter().map(|corner| corner.x * angle.cos() + corner.y * angle.sin());
        let (least, most) =
            along.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| (least.min(at), most.max(at)));
        (most - least).max(0.0)
    }

    /// Width of a side across the bar, mm.
    fn width_mm(&self, (angle, distance_mm): (f64, f64)) -> f64 {
        const ON_MM: f64 = 1e-6;
        let on_it = |corner: &&Point| (corner.x * angle.cos() + corner.y * angle.sin() - distance_mm).abs() < ON_MM;
        let along = |corner: &Point| corner.y * angle.cos() - corner.x * angle.sin();
        let ends = self.corners.iter().filter(on_it).map(along);
        let (least, most) =
            ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| (least.min(at), most.max(at)));
        (most - least).max(0.0)
    }

    /// The longer side of a face, mm. Of an end the largest reach of the section square to one of its sides.
    fn longer_mm(&self, face: usize) -> f64 {
        match side(&self.faces[face]) {
            Some(here) => self.width_mm(here).max(self.length_mm),
            None => self.faces.iter().filter_map(side).map(|(angle, _)| self.reach_mm(angle)).fold(0.0, f64::max),
        }
    }

    /// The shorter leg of the corner between two neighbours, mm.
    fn shorter_leg_mm(&self, one: usize, other: usize) -> f64 {
        match (side(&self.faces[one]), side(&self.faces[other])) {
            (Some(one), Some(other)) => self.width_mm(one).min(self.width_mm(other)),
            // The end reaches across the section, the side along the bar.
            (Some((angle, _)), None) | (None, Some((angle, _))) => self.reach_mm(angle).min(self.length_mm),
            (None, None) => 0.0,
        }
    }

    /// Whether two neighbours stand at right angles.
    fn right(&self, one: usize, other: usize) -> bool {
        match (side(&self.faces[one]), side(&self.faces[other])) {
            (Some((one, _)), Some((other, _))) => {
                let turn = (other - one).rem_euclid(TAU);
                [FRAC_PI_2, 3.0 * FRAC_PI_2].iter().any(|right| (turn - right).abs() < SAME_ANGLE_RAD)
            }
            _ => true,
        }
    }
}

fn sizes(asked: &Asked) -> Vec<Requirement> {
    let between = asked.opposites().filter_map(|(face, opposite)| {
        let across = asked.faces[face].across?;
        Some(Requirement {
            kind: Kind::Size,
            faces: vec![face, opposite],
            datum: None,
            lower_mm: across.nominal_mm - across.minus_mm,
            upper_mm: across.nominal_mm + across.plus_mm,
            nominal_mm: across.nominal_mm,
            from: asked.origin_of(face, opposite),
        })
    });
    let alone = asked.faces.iter().enumerate().filter_map(|(face, of)| {
        let ((plus_mm, minus_mm), from) = (of.alone_mm?, &asked.sides[face.checked_sub(2)?]);
        let nominal_mm = from.sized.size.plain() * from.share();
        Some(Requirement {
            kind: Kind::Distance,
            faces: vec![face],
            datum: None,
            lower_mm: nominal_mm - minus_mm,
            upper_mm: nominal_mm + plus_mm,
            nominal_mm,
            from: origin(&from.sized, asked.part),
        })
    });
    between.chain(alone).collect()
}

fn zone(kind: Kind, faces: Vec<usize>, datum: Option<usize>, upper_mm: f64, from: &str) -> Requirement {
    Requirement { kind, faces, datum, lower_mm: 0.0, upper_mm, nominal_mm: 0.0, from: from.to_string() }
}

fn parallel(asked: &Asked) -> Vec<Requirement> {
    let geometry = asked.part.general.geometry;
    let one = |(datum, face): (usize, usize)| {
        if let Some(width) = asked.part.parallel {
            return Some(zone(Kind::Parallel, vec![face], Some(datum), width.plain(), DRAWING));
        }
        let (class, across) = (geometry?, asked.faces[face].across?);
        let width_mm = class.parallel_mm(across.plus_mm + across.minus_mm, asked.longer_mm(face))?;
        Some(zone(Kind::Parallel, vec![face], Some(datum), width_mm, &from_part_2(class.letter())))
    };
    asked.opposites().filter_map(one).collect()
}

fn from_part_2(class: char) -> String {
    format!("ISO 2768-2 {class}")
}

/// Right angles as perpendicularity, else the angle itself.
fn corners(asked: &Asked) -> Vec<Requirement> {
    let pairs = asked.neighbours().into_iter();
    pairs.filter_map(|(datum, face)| square(asked, datum, face).or_else(|| angle(asked, datum, face))).collect()
}

fn square(asked: &Asked, datum: usize, face: usize) -> Option<Requirement> {
    if !asked.right(datum, face) {
        return None;
    }
    if let Some(width) = asked.part.square {
        return Some(zone(Kind::Square, vec![face], Some(datum), width.plain(), DRAWING));
    }
    let class = asked.part.general.geometry?;
    let width_mm = class.square_mm(asked.shorter_leg_mm(datum, face))?;
    Some(zone(Kind::Square, vec![face], Some(datum), width_mm, &from_part_2(class.letter())))
}

/// The angle of the drawing between sides; else the general tolerance, which covers right angles only where the drawing
/// names a class of ISO 2768-1 (4.2).
fn angle(asked: &Asked, datum: usize, face: usize) -> Option<Requirement> {
    let leg_mm = asked.shorter_leg_mm(datum, face);
    let sides = datum >= 2;
    let (limit_rad, from) = match asked.part.angles {
        Some(limit) if sides => (limit.plain(), DRAWING.to_string()),
        _ if asked.right(datum, face) && asked.part.general.sizes.is_none() => return None,
        _ => {
            let class = class_of_sizes(asked.part);
            (class.angular_deg(leg_mm)?.to_radians(), format!("ISO 2768-1 {}", class.letter()))
        }
    };
    let limit_mm = leg_mm * limit_rad.tan();
    Some(Requirement {
        kind: Kind::Angle,
        faces: vec![face],
        datum: Some(datum),
        lower_mm: -limit_mm,
        upper_mm: limit_mm,
        nominal_mm: leg_mm,
        from,
    })
}

fn flat(asked: &Asked) -> Vec<Requirement> {
    let one = |face: usize| {
        if let Some(width) = asked.part.flat {
            return Some(zone(Kind::Flat, vec![face], None, width.plain(), DRAWING));
        }
        let class = asked.part.general.geometry?;
        let width_mm = class.flat_mm(asked.longer_mm(face))?;
        Some(zone(Kind::Flat, vec![face], None, width_mm, &from_part_2(class.letter())))
    };
    (0..asked.faces.len()).filter_map(one).collect()
}

/// The middle between each pair of opposite sides.
fn position(asked: &Asked) -> Vec<Requirement> {
    let Some(width) = asked.part.position else { return Vec::new() };
    let sides = asked.opposites().filter(|(face, _)| *face >= 2);
    sides.map(|(face, opposite)| zone(Kind::Position, vec![face, opposite], None, width.plain(), DRAWING)).collect()
}

fn check_position(asked: &Asked, gaps: &mut Gaps) {
    let none = asked.opposites().all(|(face, _)| face < 2);
    if asked.part.position.is_some() && none {
        gaps.problem(
            Source::Job,
            "part.position",
            "no two sides of this section lie opposite, so none has a middle between".to_string(),
            "limits at the distances of the sides".to_string(),
        );
    }
}

fn rough(asked: &Asked) -> Vec<Requirement> {
    let Some(ra) = asked.part.roughness else { return Vec::new() };
    (0..asked.faces.len()).map(|face| zone(Kind::Rough, vec![face], None, ra.plain(), DRAWING)).collect()
}

/// Angles to which nobody gave limits.
fn note_angles(asked: &Asked, list: &[Requirement], gaps: &mut Gaps) {
    if asked.part.general.sizes.is_some() {
        return;
    }
    let class = class_of_sizes(asked.part);
    let assumed_one = |one: &&Requirement| one.kind == Kind::Angle && one.from != DRAWING;
    let mut limits: Vec<f64> =
        list.iter().filter(assumed_one).filter_map(|one| class.angular_deg(one.nominal_mm)).collect();
    limits.sort_by(f64::total_cmp);
    limits.dedup();
    if !limits.is_empty() {
        let value = limits.iter().map(|limit| format!("{} deg", super::flats::trimmed(*limit, 3))).collect::<Vec<_>>();
        gaps.assumed.push(assumed(
            "limits of angles between sides to which the drawing gives none",
            &format!("plus and minus {}", value.join(", ")),
            &format!("ISO 2768-1:1989 class {}, by the shorter leg (from memory)", class.letter()),
        ));
    }
}
