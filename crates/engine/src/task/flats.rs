//! The faces of the part, laid on the bar.

use std::f64::consts::TAU;

use super::asked_words::size_words;
use super::{Gaps, assumed};
use crate::job::{BarForm, Job};
use crate::part::{Form, Part, Place, SizeClass, Sized};
use crate::problem::Source;
use crate::quantity::Plain;

/// Two normals are opposite, or a corner sits on a line, within this angle, rad: far below any squareness
/// that a lathe can cut, far above rounding.
pub(super) const SAME_ANGLE_RAD: f64 = 1e-6;

/// Two lengths are one within this, mm: rounding.
const SAME_LENGTH_MM: f64 = 1e-9;

/// A face of the part on its bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Its letter.
    pub name: String,
    /// Where it lies.
    pub place: Place,
    /// From the bar's axis (sides) or from the middle of the bar's length (ends), mm, positive outwards.
    pub distance_mm: f64,
    /// Whether it is cut; otherwise the bar's own surface stays.
    pub cut: bool,
    /// The face opposite, if there is one, and the size between the two.
    pub across: Option<Across>,
    /// How far the distance of a side without an opposite may be above and below, mm.
    pub alone_mm: Option<(f64, f64)>,
}

/// A size between two opposite faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Across {
    /// Index of the opposite face.
    pub opposite: usize,
    /// Nominal, mm.
    pub nominal_mm: f64,
    /// What is aimed at: the middle of the limits, mm.
    pub aim_mm: f64,
    /// Upper limit less nominal.
    pub plus_mm: f64,
    /// Nominal less lower limit.
    pub minus_mm: f64,
}

/// A side before it is laid on the bar.
pub(super) struct Side {
    angle: f64,
    pub sized: Sized,
    /// Whether `sized` is the size across to the opposite side, not the distance from the middle.
    across: bool,
}

impl Side {
    /// What of `sized` lies between the side and the middle.
    pub fn share(&self) -> f64 {
        if self.across { 0.5 } else { 1.0 }
    }
}

pub(super) fn resolve(job: &Job, gaps: &mut Gaps) -> Option<Vec<Face>> {
    let sides = sides(&job.part.form);
    let names = names(&job.part, sides.len() + 2, gaps)?;
    let mut faces = ends(job, &names);
    faces.extend(sides.iter().enumerate().map(|(at, side)| laid(job, side, &names[at + 2])));
    for face in &mut faces {
        face.cut = !job.part.leave.contains(&face.name);
    }
    check_leave(&job.part, &names, gaps);
    check_closed(&faces, gaps);
    pair_up(&mut faces, &sides, job, gaps);
    gaps.problems.is_empty().then_some(faces)
}

/// Deviation of ISO 2768-1 class m for a size in mm.
pub fn general_tolerance(size_mm: f64) -> f64 {
    SizeClass::Medium.linear_mm(size_mm).unwrap_or(0.0)
}

/// The class of ISO 2768-1 that the drawing names, else m.
pub(super) fn class_of_sizes(part: &Part) -> SizeClass {
    part.general.sizes.unwrap_or(SizeClass::Medium)
}

pub(super) fn sides(form: &Form) -> Vec<Side> {
    let side = |angle: f64, sized: Sized, across: bool| Side { angle: angle.rem_euclid(TAU), sized, across };
    match form {
        Form::Block { width, height } => (0..4)
            .map(|turn| side(TAU / 4.0 * f64::from(turn), if turn % 2 == 0 { *width } else { *height }, true))
            .collect(),
        Form::Sides(list) => list.iter().map(|(angle, sized)| side(angle.plain(), *sized, false)).collect(),
        Form::Regular { sides, across_flats } => {
            (0..*sides).map(|at| side(TAU * f64::from(at) / f64::from(*sides), *across_flats, true)).collect()
        }
    }
}

/// The part's names, or letters in reading order.
fn names(part: &Part, count: usize, gaps: &mut Gaps) -> Option<Vec<String>> {
    if part.names.is_empty() {
        return Some((0..count).map(letter).collect());
    }
    if part.names.len() != count {
        let says = format!("{} names for {count} faces", part.names.len());
        gaps.problem(
            Source::Job,
            "part.names",
            says,
            format!("{count} names: two ends, then the sides counter-clockwise"),
        );
        return None;
    }
    Some(part.names.clone())
}

fn letter(at: usize) -> String {
    let letter = char::from(b'A' + (at % 26) as u8);
    if at < 26 { letter.to_string() } else { format!("{letter}{}", at / 26 + 1) }
}

/// Length of the part as it comes out, mm: what is aimed at, or the bar's where both ends stay and the limits allow it.
pub(super) fn length_mm(job: &Job, faces: &[Face]) -> f64 {
    let aim = job.part.length.aim().plain();
    let between = faces[0].distance_mm + faces[1].distance_mm;
    // Aimed at is said to the last bit.
    if (between - aim).abs() < SAME_LENGTH_MM { aim } else { between }
}

/// The two ends. The metal at the ends is halved between them, unless one of them stays as it is.
fn ends(job: &Job, names: &[String]) -> Vec<Face> {
    let (bar, part) = (job.stock.length.plain(), job.part.length.aim().plain());
    let stays = |name: &String| job.part.leave.contains(name);
    let front = match (stays(&names[0]), stays(&names[1])) {
        (true, _) => bar / 2.0,
        (false, true) => part - bar / 2.0,
        (false, false) => part / 2.0,
    };
    let face = |name: &String, place, distance_mm| Face {
        name: name.clone(),
        place,
        distance_mm,
        cut: true,
        across: None,
        alone_mm: None,
    };
    vec![face(&names[0], Place::Front, front), face(&names[1], Place::Back, part - front)]
}

fn laid(job: &Job, side: &Side, name: &str) -> Face {
    let angle = (side.angle + job.part.turn.plain()).rem_euclid(TAU);
    let (dx, dy) = (job.part.offset.0.plain(), job.part.offset.1.plain());
    let from_middle = side.sized.aim().plain() * side.share();
    let distance_mm = from_middle + dx * angle.cos() + dy * angle.sin();
    Face { name: name.to_string(), place: Place::Side(angle), distance_mm, cut: true, across: None, alone_mm: None }
}

fn check_leave(part: &Part, names: &[String], gaps: &mut Gaps) {
    for name in part.leave.iter().filter(|name| !names.contains(name)) {
        gaps.problem(Source::Job, "part.leave", format!("no face is named \"{name}\""), names.join(", "));
    }
}

/// The sides must close: no gap of half a turn between neighbours, each side with an edge of its own.
fn check_closed(faces: &[Face], gaps: &mut Gaps) {
    let mut sides: Vec<(f64, f64, &str)> = faces.iter().filter_map(side_of).collect();
    sides.sort_by(|a, b| a.0.total_cmp(&b.0));
    let count = sides.len();
    for at in 0..count {
        let (here, next) = (sides[at], sides[(at + 1) % count]);
        let gap = if at + 1 == count { next.0 + TAU - here.0 } else { next.0 - here.0 };
        if gap < SAME_ANGLE_RAD {
            gaps.problem(
                Source::Job,
                "part.sides",
                format!("sides {} and {} face the same way", here.2, next.2),
                "one side for each direction".into(),
            );
        } else if gap > TAU / 2.0 - SAME_ANGLE_RAD && count > 2 || count < 3 {
            gaps.problem(
                Source::Job,
                "part.sides",
                format!("the section is open between sides {} and {}", here.2, next.2),
                "sides all round, less than 180 deg between neighbours".into(),
            );
        }
    }
    if gaps.problems.is_empty() {
        check_each_side_shows(&sides, gaps);
    }
}

fn check_each_side_shows(sides: &[(f64, f64, &str)], gaps: &mut Gaps) {
    let count = sides.len();
    for at in 0..count {
        let (before, here, after) = (sides[(at + count - 1) % count], sides[at], sides[(at + 1) % count]);
        // Position along the side of the crossings with its neighbours: (d2 - d1 cos g) / sin g.
        let along = |other: (f64, f64, &str)| {
            let gap = other.0 - here.0;
            (other.1 - here.1 * gap.cos()) / gap.sin()
        };
        if along(after) - along(before) <= 1e-9 {
            gaps.problem(
                Source::Job,
                "part.sides",
                format!("side {} cuts nothing: its neighbours meet inside it", here.2),
                "a smaller distance for that side, or leave it out".into(),
            );
        }
    }
}

fn side_of(face: &Face) -> Option<(f64, f64, &str)> {
    match face.place {
        Place::Side(angle) => Some((angle, face.distance_mm, face.name.as_str())),
        Place::Front | Place::Back => None,
    }
}

/// Finds opposite faces and the size between them, with limits from the drawing or ISO 2768-1.
fn pair_up(faces: &mut [Face], sides: &[Side], job: &Job, gaps: &mut Gaps) {
    let length = &job.part.length;
    let mut general = Generals { class: class_of_sizes(&job.part), taken: Vec::new(), missing: Vec::new() };
    let (plus, minus) = general.limits(length);
    for (end, face) in faces.iter_mut().take(2).enumerate() {
        face.across = Some(Across {
            opposite: 1 - end,
            nominal_mm: length.size.plain(),
            aim_mm: length.aim().plain(),
            plus_mm: plus,
            minus_mm: minus,
        });
    }
    for here in 0..sides.len() {
        let Some(there) = opposite(sides, here) else {
            let ((plus_mm, minus_mm), share) = (general.limits(&sides[here].sized), sides[here].share());
            faces[here + 2].alone_mm = Some((plus_mm * share, minus_mm * share));
            continue;
        };
        let aim_mm = faces[here + 2].distance_mm + faces[there + 2].distance_mm;
        let (a, b) = (&sides[here].sized, &sides[there].sized);
        let (nominal_mm, (plus_mm, minus_mm)) = if sides[here].across {
            (a.size.plain(), general.limits(a))
        } else {
            // The drawing gives two distances, each with the general limits of its own size.
            let (one, other) = (general.limits(a), general.limits(b));
            (a.size.plain() + b.size.plain(), (one.0 + other.0, one.1 + other.1))
        };
        faces[here + 2].across = Some(Across { opposite: there + 2, nominal_mm, aim_mm, plus_mm, minus_mm });
    }
    general.note(job, gaps);
}

/// General tolerances while they are taken.
struct Generals {
    class: SizeClass,
    /// Deviations taken, mm.
    taken: Vec<f64>,
    /// Sizes at which the class has none, mm.
    missing: Vec<f64>,
}

impl Generals {
    /// Plus and minus of a size, mm; the general tolerance where none is given.
    fn limits(&mut self, sized: &Sized) -> (f64, f64) {
        match (sized.plus, sized.minus) {
            (None, None) => {
                let size_mm = sized.size.plain();
                let deviation = self.class.linear_mm(size_mm);
                self.taken.extend(deviation);
                self.missing.extend(deviation.is_none().then_some(size_mm));
                let both = deviation.unwrap_or(0.0);
                (both, both)
            }
            // One limit given: the other is the nominal itself, as a drawing means it.
            (plus, minus) => (plus.map_or(0.0, Plain::plain), minus.map_or(0.0, Plain::plain)),
        }
    }

    fn note(mut self, job: &Job, gaps: &mut Gaps) {
        if let Some(size_mm) = self.missing.first() {
            gaps.problem(
                Source::Job,
                "part.general",
                format!("class {} of ISO 2768-1 has no limits for {} mm", self.class.letter(), trimmed(*size_mm, 4)),
                "limits at that size, or another class".to_string(),
            );
        }
        self.taken.dedup();
        if job.part.general.sizes.is_none() && !self.taken.is_empty() {
            let value = self.taken.iter().map(|d| format!("{d} mm")).collect::<Vec<_>>().join(", ");
            gaps.assumed.push(assumed(
                "limits of sizes to which the drawing gives none",
                &format!("plus and minus {value}"),
                "ISO 2768-1:1989 class m (from memory)",
            ));
        }
    }
}

fn opposite(sides: &[Side], here: usize) -> Option<usize> {
    (0..sides.len()).find(|&there| {
        let turn = (sides[there].angle - sides[here].angle).rem_euclid(TAU);
        (turn - TAU / 2.0).abs() < SAME_ANGLE_RAD
    })
}

/// The part in words, in the job's units.
pub(super) fn words(job: &Job) -> String {
    let number = |sized: &Sized| size_words(sized, job.units);
    let unit = job.units.name();
    let length = number(&job.part.length);
    match &job.part.form {
        Form::Block { width, height } => format!("block {} x {} x {length} {unit}", number(width), number(height)),
        Form::Sides(sides) => format!("prism of {} sides, {length} {unit} long", sides.len()),
        Form::Regular { sides, across_flats } => {
            format!(
                "regular prism of {sides} sides, {} {unit} across flats, {length} {unit} long",
                number(across_flats)
            )
        }
    }
}

pub(super) fn trimmed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}

/// The size that the bar is bought by, mm: diameter, across flats, or the smaller of width and thickness.
pub(super) fn bar_size(form: &BarForm) -> f64 {
    let (one, other) = form.sizes_mm();
    other.map_or(one, |other| one.min(other))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_run_past_z() {
        assert_eq!([letter(0), letter(25), letter(26)], ["A", "Z", "A2"]);
    }
}
