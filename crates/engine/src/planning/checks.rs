//! What is asked of the part as checks on the chain's quantities: which places of which faces are looked at.

use nalgebra::{Vector2, Vector3};

use super::feeds::{counted_ratio, feed_of};
use super::sits::axis_mm;
use super::way::Way;
use crate::accuracy::zone::Lean;
use crate::accuracy::{Check, FaceShape, Form, Judged, Row, SetUp, Term, Turn, spread};
use crate::cutting;
use crate::part::{Kind, Requirement};
use crate::task::Task;

/// Faces as they were cut, each with its middle in the part's frame, and the order in which that happened.
#[derive(Clone)]
pub struct Cut<'a> {
    task: &'a Task,
    faces: Vec<(FaceShape, Vector3<f64>)>,
    /// How the mean plane of each follows the spindle's slip and the cone, along its tangents.
    leans: Vec<Lean>,
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
        let leans = vec![Form::default().whole; count];
        Cut { task, faces, leans, when: vec![None; count], rough_mm: vec![0.0; count], form_mm }
    }

    /// A face is cut in this way, by this set-up of the chain.
    pub fn add(&mut self, way: &Way, set_up: &SetUp) {
        let facing = &way.facing;
        let face = facing.lie.face;
        self.faces[face].0.axis_mm = axis_mm(&facing.lie, &self.faces[face]);
        self.leans[face] = set_up.form(self.faces[face].0.tangents).whole;
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
        let proud = self.proud(face, to) - self.under_gauge(face, from);
        let cone = self.cone(face, to) - self.cone(face, from);
        let slope = (0..2).map(|tangent| Term::Slope(face as u8, tangent, weight * (to[tangent] - from[tangent])));
        slope.chain([Term::Cone(weight * cone)]).chain(slips(face, proud * weight)).collect()
    }

    /// What the slip of the spindle, once per turn, leaves at a place of a face besides the tilt of its mean plane: it
    /// stands proud by the slip times the cosine of the angle from where it stands most proud, however near to the axis;
    /// at the axis itself by nothing, the mean of all ways.
    fn proud(&self, face: usize, at: [f64; 2]) -> Vector2<f64> {
        let at = Vector2::from(at);
        let from_axis = at - Vector2::from(self.faces[face].0.axis_mm);
        from_axis.try_normalize(1e-9).unwrap_or_default() - self.leans[face].slip.transpose() * at
    }

    /// The same under the face of a gauge, which takes the mean of all ways where it lies over the axis: the mean
    /// direction over a small disc grows as its distance from the axis over its radius.
    fn under_gauge(&self, face: usize, at: [f64; 2]) -> Vector2<f64> {
        let out = Vector2::from(at) - Vector2::from(self.faces[face].0.axis_mm);
        let half_mm = spread("gauge_face_um").value / 2e3;
        let plane = self.leans[face].slip.transpose() * Vector2::from(at);
        out / out.norm().max(half_mm) - plane
    }

    /// What a cone of 1 rad leaves there besides the tilt of its mean plane, mm.
    fn cone(&self, face: usize, at: [f64; 2]) -> f64 {
        self.faces[face].0.radius_mm(at) - self.leans[face].cone.dot(&Vector2::from(at))
    }

    /// Right beside the axis slip stands proud by all of itself, one way or the other.
    fn turns(&self, face: usize) -> Vec<Turn> {
        let corners = self.faces[face].0.corners_mm.len();
        let sums = [Vector2::x(), Vector2::y()].map(|way| Row { terms: slips(face, way).to_vec(), constant: 0.0 });
        let turn = self.axis_inside(face).then_some(Turn { about: corners, sums });
        turn.into_iter().filter(|_| self.is_cut(face)).collect()
    }

    /// Places of a face that are looked at: its corners, where the spindle's axis met it if that lies inside, and the
    /// middles of its edges. Along a ray from the axis every value of slope, cone and slip grows evenly, so that nothing
    /// between lies outermost.
    fn places(&self, face: usize) -> Vec<Vector3<f64>> {
        let (shape, middle) = &self.faces[face];
        let corners = &shape.corners_mm;
        let next = corners.iter().cycle().skip(1);
        let middles = corners.iter().zip(next).map(|(one, other)| [0, 1].map(|at| (one[at] + other[at]) / 2.0));
        let axis = self.axis_inside(face).then_some(shape.axis_mm);
        let at = |place: [f64; 2]| middle + shape.tangents[0] * place[0] + shape.tangents[1] * place[1];
        corners.iter().copied().chain(axis).chain(middles).map(at).collect()
    }

    fn axis_inside(&self, face: usize) -> bool {
        let shape = &self.faces[face].0;
        let mut tangents = shape.tangents.iter().enumerate();
        tangents.all(|(axis, tangent)| shape.axis_mm[axis].abs() <= shape.half_mm(tangent) + 1e-9)
    }

    /// Places of the area that two opposite faces have in common.
    fn common_places(&self, face: usize, opposite: usize) -> Vec<Vector3<f64>> {
        let within = |face: usize, point: &Vector3<f64>| {
            let (shape, middle) = &self.faces[face];
            shape.tangents.iter().all(|tangent| tangent.dot(&(point - middle)).abs() <= shape.half_mm(tangent) + 1e-6)
        };
        let own = self.places(face).into_iter().filter(|at| within(opposite, at));
        own.chain(self.places(opposite).into_iter().filter(|at| within(face, at))).collect()
    }

    fn size(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let [face, opposite] = asked.faces[..] else { return None };
        let aim_mm = self.task.faces[face].across?.aim_mm;
        let last = self.later(face, opposite);
        if !self.is_cut(last) {
            return None;
        }
        let measured_at = self.faces[last].1;
        let mut places = vec![measured_at];
        for place in self.common_places(face, opposite) {
            if self.same_place(face, &places, &place).is_none() {
                places.push(place);
            }
        }
        let row = |place: &Vector3<f64>| {
            let rises = [self.rise(face, place, &measured_at, 1.0), self.rise(opposite, place, &measured_at, 1.0)];
            Row { terms: rises.concat().into_iter().chain([Term::Size(last as u8, 1.0)]).collect(), constant: 0.0 }
        };
        let rows = places.iter().map(row).collect();
        let judged = Judged::Within(asked.lower_mm - aim_mm, asked.upper_mm - aim_mm);
        Some(Check {
            turns: self.turns_of_both([face, opposite], &places),
            ..check(at, &[face, opposite], rows, judged)
        })
    }

    /// Which of some places lies straight under or over this one, seen along a face's normal.
    fn same_place(&self, face: usize, places: &[Vector3<f64>], at: &Vector3<f64>) -> Option<usize> {
        let tangents = self.faces[face].0.tangents;
        places.iter().position(|place| tangents.iter().all(|tangent| tangent.dot(&(place - at)).abs() < 1e-6))
    }

    /// What goes round about the axes of two opposite faces; where these are one, what both left there together.
    fn turns_of_both(&self, both: [usize; 2], places: &[Vector3<f64>]) -> Vec<Turn> {
        let mut turns: Vec<Turn> = Vec::new();
        for face in both.into_iter().filter(|&face| self.is_cut(face) && self.axis_inside(face)) {
            let (shape, middle) = &self.faces[face];
            let axis = middle + shape.tangents[0] * shape.axis_mm[0] + shape.tangents[1] * shape.axis_mm[1];
            let Some(about) = self.same_place(face, places, &axis) else { continue };
            let sums = self.faces[both[0]].0.tangents.map(|way| {
                let seen = Vector2::from(shape.tangents.map(|tangent| tangent.dot(&way)));
                Row { terms: slips(face, seen).to_vec(), constant: 0.0 }
            });
            match turns.iter_mut().find(|turn| turn.about == about) {
                Some(turn) => turn.sums.iter_mut().zip(sums).for_each(|(sum, more)| sum.terms.extend(more.terms)),
                None => turns.push(Turn { about, sums }),
            }
        }
        turns
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
            .places(face)
            .iter()
            .map(|place| {
                let own = self.rise(face, place, middle, 1.0);
                Row { terms: own.into_iter().chain(self.lean(datum, &(place - middle))).collect(), constant: 0.0 }
            })
            .collect();
        Some(Check { turns: self.turns(face), ..check(at, &[face, datum], rows, self.zone(asked, &[face])) })
    }

    /// How far a plane parallel to the datum's mean plane rises along a way across the face opposite.
    fn lean(&self, datum: usize, way: &Vector3<f64>) -> Vec<Term> {
        if !self.is_cut(datum) {
            return Vec::new();
        }
        let tangents = self.faces[datum].0.tangents;
        (0..2).map(|tangent| Term::Slope(datum as u8, tangent, tangents[tangent].dot(way))).collect()
    }

    /// Free to turn about the datum's normal: only the lean towards or away from the datum counts, and the form. Of the
    /// slip the part that leans across the datum's normal is levelled by that turn, at corners altogether.
    fn square(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let (face, datum) = (*asked.faces.first()?, asked.datum?);
        let ((own, middle), (other, _)) = (&self.faces[face], &self.faces[datum]);
        let towards = Vector2::from(own.tangents.map(|tangent| tangent.dot(&other.normal)));
        let row = |place: &Vector3<f64>| {
            let along = (place - middle).dot(&other.normal);
            let lean = |tangents: [Vector3<f64>; 2], of: usize, towards: &Vector3<f64>| {
                let cut = self.is_cut(of);
                (0..2)
                    .filter(move |_| cut)
                    .map(|tangent| Term::Slope(of as u8, tangent, along * tangents[tangent].dot(towards)))
                    .collect::<Vec<_>>()
            };
            let mut terms =
                [lean(own.tangents, face, &other.normal), lean(other.tangents, datum, &own.normal)].concat();
            if self.is_cut(face) {
                let seen = own.tangents.map(|tangent| tangent.dot(&(place - middle)));
                let from_axis = Vector2::from(seen) - Vector2::from(own.axis_mm);
                let out = from_axis.try_normalize(1e-9).unwrap_or_default();
                let proud = towards * towards.dot(&out) - self.leans[face].slip.transpose() * towards * along;
                terms.push(Term::Cone(self.cone(face, seen)));
                terms.extend(slips(face, proud));
            }
            Row { terms, constant: 0.0 }
        };
        let rows = self.places(face).iter().map(row).collect();
        Some(Check { turns: self.turns(face), ..check(at, &[face, datum], rows, self.zone(asked, &[face])) })
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

    /// At the corners of a face cut about its middle slip is a plane, which the zone follows: it counts at the axis.
    fn flat(&self, at: usize, asked: &Requirement) -> Option<Check> {
        let face = *asked.faces.first()?;
        let shape = &self.faces[face].0;
        let places = shape.corners_mm.iter().copied().chain(self.axis_inside(face).then_some(shape.axis_mm));
        let rows = places.map(|place| Row { terms: vec![Term::Cone(self.cone(face, place))], constant: 0.0 });
        let all = || Check { turns: self.turns(face), ..check(at, &[face], rows.collect(), self.zone(asked, &[face])) };
        self.is_cut(face).then(all)
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

/// The slip of a face with these weights along its tangents.
fn slips(face: usize, weights: Vector2<f64>) -> [Term; 2] {
    [0, 1].map(|tangent| Term::Slip(face as u8, tangent, weights[tangent]))
}

fn check(asked: usize, faces: &[usize], rows: Vec<Row>, judged: Judged) -> Check {
    Check { asked, faces: faces.iter().map(|&face| face as u8).collect(), rows, turns: Vec::new(), judged }
}
