//! What is asked of the part as checks on the chain's quantities: which places of which faces are looked at.

use nalgebra::{Matrix2, Vector2, Vector3};

use super::feeds::{counted_ratio, feed_of};
use super::sits::axis_mm;
use super::way::Way;
use crate::accuracy::{Check, FaceShape, Judged, Row, Term};
use crate::cutting;
use crate::part::{Kind, Requirement};
use crate::task::Task;

/// Faces as they were cut, each with its middle in the part's frame, and the order in which that happened.
#[derive(Clone)]
pub struct Cut<'a> {
    task: &'a Task,
    faces: Vec<(FaceShape, Vector3<f64>)>,
    /// How the mean plane of each follows the spindle's slip, along its tangents.
    slip_per_mm: Vec<Matrix2<f64>>,
    /// When each face was cut; `None`: not yet, or it stays as the bar has it.
    when: Vec<Option<usize>>,
    /// Roughness that the finishing cut leaves on each, mm.
    rough_mm: Vec<f64>,
    /// What the form of each face takes of a zone, mm.
    form_mm: Vec<f64>,
}

impl<'a> Cut<'a> {
    /// Nothing cut yet.
    pub fn new(task: &'a Task, faces: Vec<(FaceShape, Vector3<f64>)>, form_mm: Vec<f64>) -> Cut<'a> {
        let count = faces.len();
        let slip_per_mm = vec![Matrix2::zeros(); count];
        Cut { task, faces, slip_per_mm, when: vec![None; count], rough_mm: vec![0.0; count], form_mm }
    }

    /// A face is cut in this way.
    pub fn add(&mut self, way: &Way) {
        let facing = &way.facing;
        let face = facing.lie.face;
        self.faces[face].0.axis_mm = axis_mm(&facing.lie, &self.faces[face]);
        self.slip_per_mm[face] = self.faces[face].0.slip_per_mm();
        self.when[face] = Some(self.when.iter().flatten().count());
        let feed_mm = facing.cuts.last().map_or(0.0, |cut| feed_of(cut, facing.feeds));
        let ideal_um = cutting::ra_um(feed_mm, self.task.tools[way.tool].edge.nose_mm);
        self.rough_mm[face] = ideal_um * counted_ratio(self.task, facing.corner_m_min) / 1000.0;
    }

    /// Every check that can be told now; of one face alone if it is given.
    pub fn checks(&self, of: Option<usize>) -> Vec<Check> {
        let asked = self.task.asked_of.iter().enumerate().filter(|(_, asked)| self.told_now(asked, of));
        asked
            .filter_map(|(at, asked)| match asked.kind {
                Kind::Size => self.size(at, asked),
                Kind::Distance => self.distance(at, asked),
                Kind::Parallel => self.parallel(at, asked),
                Kind::Square => self.square(at, asked),
                Kind::Angle => self.angle(at, asked),
                Kind::Flat => self.flat(at, asked),
                Kind::Position => self.position(at, asked),
                Kind::Rough => self.rough(at, asked),
            })
            .collect()
    }

    /// Whether all its faces are cut, or stay as the bar has them.
    fn told_now(&self, asked: &Requirement, of: Option<usize>) -> bool {
        let mut faces = asked.faces.iter().copied().chain(asked.datum);
        let about = of.is_none_or(|of| faces.clone().any(|face| face == of));
        about && faces.all(|face| self.is_cut(face) || !self.task.faces[face].cut)
    }

    fn is_cut(&self, face: usize) -> bool {
        self.when[face].is_some()
    }

    /// Of two faces the one cut later: as it was cut the size was measured.
    fn later(&self, one: usize, other: usize) -> usize {
        if self.when[other] > self.when[one] { other } else { one }
    }

    /// Outward displacement of a face at a place of the part, less that at another place.
    fn rise(&self, face: usize, at: &Vector3<f64>, from: &Vector3<f64>, weight: f64) -> Vec<Term> {
        let (shape, middle) = &self.faces[face];
        if !self.is_cut(face) {
            return Vec::new();
        }
        let seen = |point: &Vector3<f64>| shape.tangents.map(|tangent| tangent.dot(&(point - middle)));
        let (to, from) = (seen(at), seen(from));
        let slip = self.slip(face, to, from, weight);
        let cone = shape.radius_mm(to) - shape.radius_mm(from);
        let slope = (0..2).map(|tangent| Term::Slope(face as u8, tangent, weight * (to[tangent] - from[tangent])));
        slope.chain([Term::Cone(weight * cone)]).chain(slip).collect()
    }

    /// What the slip of the spindle, once per turn, leaves on a face besides the tilt of its mean plane: it stands proud
    /// by the slip times the cosine of the angle from where it stands most proud, however near to the axis.
    fn slip(&self, face: usize, at: [f64; 2], from: [f64; 2], weight: f64) -> [Term; 2] {
        let axis = Vector2::from(self.faces[face].0.axis_mm);
        let proud = |at: [f64; 2]| (Vector2::from(at) - axis).try_normalize(1e-9).unwrap_or_default();
        let plane = self.slip_per_mm[face].transpose() * (Vector2::from(at) - Vector2::from(from));
        let left = (proud(at) - proud(from) - plane) * weight;
        [0, 1].map(|tangent| Term::Slip(face as u8, tangent, left[tangent]))
    }

    /// Places of a face that are looked at for a zone: corners, middles of the edges, a quarter of the way to these from
    /// where the spindle's axis met it, and that place, if it lies inside.
    fn zone_places(&self, face: usize) -> Vec<Vector3<f64>> {
        let (shape, _) = &self.faces[face];
        let mut places = self.places(face);
        let corners = places[..shape.corners_mm.len()].to_vec();
        let next = corners.iter().cycle().skip(1);
        let middles: Vec<_> = corners.iter().zip(next).map(|(one, other)| (one + other) / 2.0).collect();
        if let Some(axis) = places.get(corners.len()).copied() {
            places.extend(middles.iter().map(|middle| axis + (middle - axis) / 4.0));
        }
        places.extend(middles);
        places
    }

    /// Places of a face that are looked at for a size: its corners, and where the spindle's axis met it if that lies
    /// inside.
    fn places(&self, face: usize) -> Vec<Vector3<f64>> {
        let (shape, middle) = &self.faces[face];
        let at = |corner: [f64; 2]| middle + shape.tangents[0] * corner[0] + shape.tangents[1] * corner[1];
        let inside = shape
            .tangents
            .iter()
            .enumerate()
            .all(|(axis, tangent)| shape.axis_mm[axis].abs() <= shape.half_mm(tangent) + 1e-9);
        shape.corners_mm.iter().copied().chain(inside.then_some(shape.axis_mm)).map(at).collect()
    }

    /// Places of the area that two opposite faces have in common.
    fn common_places(&self, face: usize, opposite: usize) -> Vec<Vector3<f64>> {
        let within = |face: usize, point: &Vector3<f64>| {
            let (shape, middle) = &self.faces[face];
            shape.tangents.iter().all(|tangent| tangent.dot(&(point - middle)).abs() <= shape.half_mm(tangent) + 1e-6)
        };
        let own: Vec<Vector3<f64>> = self.places(face).into_iter().filter(|at| within(opposite, at)).collect();
        let others = self.places(opposite).into_iter().filter(|at| within(face, at));
        own.into_iter().chain(others).collect()
    }

    fn size(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let [face, opposite] = asked.faces[..] else { return None };
        let aim_mm = self.task.faces[face].across?.aim_mm;
        let last = self.later(face, opposite);
        if !self.is_cut(last) {
            return None;
        }
        let measured_at = self.faces[last].1;
        let row = |place: &Vector3<f64>| {
            let rises = [self.rise(face, place, &measured_at, 1.0), self.rise(opposite, place, &measured_at, 1.0)];
            Row { terms: rises.concat().into_iter().chain([Term::Size(last as u8, 1.0)]).collect(), constant: 0.0 }
        };
        let rows = [measured_at].iter().chain(&self.common_places(face, opposite)).map(row).collect();
        let judged = Judged::Within(asked.lower_mm - aim_mm, asked.upper_mm - aim_mm);
        Some(check(at, &[face, opposite], rows, judged))
    }

    fn distance(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let face = *asked.faces.first()?;
        let aim_mm = self.task.faces[face].alone_mm.map(|_| asked.middle_mm())?;
        let row = Row { terms: vec![Term::Size(face as u8, 1.0)], constant: 0.0 };
        let judged = Judged::Within(asked.lower_mm - aim_mm, asked.upper_mm - aim_mm);
        self.is_cut(face).then(|| check(at, &[face], vec![row], judged))
    }

    fn parallel(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let (face, datum) = (*asked.faces.first()?, asked.datum?);
        let middle = &self.faces[face].1;
        let rows = self
            .zone_places(face)
            .iter()
            .map(|place| {
                let own = self.rise(face, place, middle, 1.0);
                Row { terms: own.into_iter().chain(self.lean(datum, &(place - middle))).collect(), constant: 0.0 }
            })
            .collect();
        Some(check(at, &[face, datum], rows, self.zone(asked, &[face])))
    }

    /// How far a plane parallel to the datum's mean plane rises along a way across the face opposite.
    fn lean(&self, datum: usize, way: &Vector3<f64>) -> Vec<Term> {
        if !self.is_cut(datum) {
            return Vec::new();
        }
        let tangents = self.faces[datum].0.tangents;
        (0..2).map(|tangent| Term::Slope(datum as u8, tangent, tangents[tangent].dot(way))).collect()
    }

    /// Free to turn about the datum's normal: only the lean towards or away from the datum counts, and the form.
    fn square(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let (face, datum) = (*asked.faces.first()?, asked.datum?);
        let ((own, middle), (other, _)) = (&self.faces[face], &self.faces[datum]);
        let row = |place: &Vector3<f64>| {
            let along = (place - middle).dot(&other.normal);
            let lean = |tangents: [Vector3<f64>; 2], of: usize, towards: &Vector3<f64>| {
                let cut = self.is_cut(of);
                (0..2)
                    .filter(move |_| cut)
                    .map(|tangent| Term::Slope(of as u8, tangent, along * tangents[tangent].dot(towards)))
                    .collect::<Vec<_>>()
            };
            let seen = own.tangents.map(|tangent| tangent.dot(&(place - middle)));
            let cone = if self.is_cut(face) { own.radius_mm(seen) } else { 0.0 };
            let terms = [lean(own.tangents, face, &other.normal), lean(other.tangents, datum, &own.normal)].concat();
            let slip = self.slip(face, seen, [0.0; 2], 1.0).into_iter().filter(|_| self.is_cut(face));
            Row { terms: terms.into_iter().chain([Term::Cone(cone)]).chain(slip).collect(), constant: 0.0 }
        };
        let rows = self.zone_places(face).iter().map(row).collect();
        Some(check(at, &[face, datum], rows, self.zone(asked, &[face])))
    }

    /// Sides turn about the bar's axis against their slope across it; wider apart is positive.
    fn angle(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let (face, datum) = (*asked.faces.first()?, asked.datum?);
        let (own, other) = (&self.faces[face].0, &self.faces[datum].0);
        let leg_mm = asked.nominal_mm * other.normal.cross(&own.normal).z.signum();
        let terms = [(face, -leg_mm), (datum, leg_mm)];
        let cut = terms.into_iter().filter(|(of, _)| self.is_cut(*of));
        let row = Row { terms: cut.map(|(of, weight)| Term::Slope(of as u8, 0, weight)).collect(), constant: 0.0 };
        Some(check(at, &[face, datum], vec![row], Judged::Within(asked.lower_mm, asked.upper_mm)))
    }

    fn flat(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let face = *asked.faces.first()?;
        let middle = self.faces[face].1;
        let form = |term: Term| matches!(term, Term::Cone(_) | Term::Slip(..)).then_some(term);
        let rows = self
            .zone_places(face)
            .iter()
            .map(|place| Row {
                terms: self.rise(face, place, &middle, 1.0).into_iter().filter_map(form).collect(),
                constant: 0.0,
            })
            .collect();
        self.is_cut(face).then(|| check(at, &[face], rows, self.zone(asked, &[face])))
    }

    /// Twice what the middle between two sides is off its place: the first one was set by touching off, the second
    /// by the size between them.
    fn position(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let [face, opposite] = asked.faces[..] else { return None };
        let last = self.later(face, opposite);
        let first = if last == face { opposite } else { face };
        let both = self.is_cut(first) && self.is_cut(last);
        let row = |sign: f64| Row {
            terms: vec![Term::Size(first as u8, 2.0 * sign), Term::Size(last as u8, -sign)],
            constant: 0.0,
        };
        let judged = Judged::Within(-asked.upper_mm, asked.upper_mm);
        both.then(|| check(at, &[face, opposite], vec![row(1.0)], judged))
    }

    fn rough(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let face = *asked.faces.first()?;
        let left_mm = self.rough_mm[face];
        let row = Row { terms: vec![Term::Roughness(left_mm)], constant: left_mm };
        self.is_cut(face).then(|| check(at, &[face], vec![row], Judged::Within(f64::NEG_INFINITY, asked.upper_mm)))
    }

    fn zone(&self, asked: &Requirement, faces: &[usize]) -> Judged {
        let form = faces.iter().map(|&face| self.form_mm.get(face).copied().unwrap_or(0.0)).sum();
        Judged::Zone { most: asked.upper_mm, form }
    }
}

fn check(asked: usize, faces: &[usize], rows: Vec<Row>, judged: Judged) -> Check {
    Check { asked, faces: faces.iter().map(|&face| face as u8).collect(), rows, judged }
}
