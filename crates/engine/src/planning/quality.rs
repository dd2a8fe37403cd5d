//! The forecast of a plan: every requirement with its chance and its causes.

use super::checks::Cut;
use super::search::{Chosen, Found};
use super::sits::{set_up, shapes, stands, tangents};
use crate::accuracy::{
    Cause, Chain, Check, Cone, Forecast, Judged, LinearRows, Noise, Samples, SetUp, Stands, causes, forecast,
    forecast_quieter, linear,
};
use crate::part::{Kind, Requirement};
use crate::plan::{self, CauseShare, Chance, LinearCheck, LinearRow, LinearTurn, Quality};
use crate::task::Task;

/// Parts drawn for the forecast of a plan.
pub const PIECES: u32 = 4096;
/// The seed of every draw.
pub const SEED: u32 = 20_260;

/// A plan as the forecast needs it.
#[derive(Clone)]
pub struct Made {
    start: Chain,
    set_ups: Vec<(SetUp, Stands)>,
    checks: Vec<Check>,
    by: (Cone, f64),
}

impl Made {
    /// From the set-ups of a plan, with what the form of each face takes of a zone, mm.
    pub fn of(task: &Task, chosen: &[Chosen], form_mm: Vec<f64>) -> Made {
        let shapes = shapes(task);
        let mut before = None;
        let set_ups = chosen.iter().map(|one| {
            let stands = stands(one, before.as_ref());
            before = Some(stands.clone());
            (set_up(task, &one.way, &shapes[one.way.facing.lie.face]), stands)
        });
        let set_ups: Vec<(SetUp, Stands)> = set_ups.collect();
        let mut cut = Cut::new(task, shapes.clone(), form_mm);
        chosen.iter().zip(&set_ups).for_each(|(one, (set_up, _))| cut.add(&one.way, set_up));
        Made { start: start(task), set_ups, checks: cut.checks(None), by: by(task) }
    }

    /// Chances of so many parts, drawn by this seed.
    pub fn forecast(&self, pieces: u32, seed: u32) -> Forecast {
        forecast(&self.start, &self.set_ups, &self.checks, self.by, (pieces, seed))
    }

    /// The same parts with some causes weaker by a factor each.
    pub fn forecast_quieter(&self, pieces: u32, seed: u32, quieter: &[(Cause, f64)]) -> Forecast {
        forecast_quieter(&self.start, &self.set_ups, &self.checks, self.by, (pieces, seed), quieter)
    }

    /// What is looked at.
    pub fn checks(&self) -> &[Check] {
        &self.checks
    }

    /// By how much the limits of a check would have to be wider for this share of parts to keep it, mm.
    pub fn lacking_mm(&self, check: usize, share: f64, (pieces, seed): (u32, u32)) -> f64 {
        let mut samples = Samples::new(pieces, seed);
        let mut chain = self.start.clone();
        self.set_ups.iter().for_each(|(set_up, stands)| chain.cut(&mut samples, set_up, stands));
        let valued = self.checks[check].valued(&chain, &mut samples, self.by.0, self.by.1);
        let mut lacking: Vec<f64> = (0..samples.count()).map(|piece| valued.lacking(piece)).collect();
        lacking.sort_by(f64::total_cmp);
        let at = (share * lacking.len() as f64).ceil() as usize;
        lacking.get(at.saturating_sub(1)).copied().unwrap_or(0.0)
    }

    /// The same plan with the limits of one check wider.
    pub fn loosened(&self, check: usize, by_mm: f64) -> Made {
        let mut made = self.clone();
        made.checks[check].judged = match made.checks[check].judged {
            Judged::Within(least, most) => Judged::Within(least - by_mm, most + by_mm),
            Judged::Zone { most, form } => Judged::Zone { most: most + by_mm, form },
        };
        made
    }
}

/// Nothing cut yet.
pub fn start(task: &Task) -> Chain {
    Chain::new(tangents(task), task.spreads.spreads, task.spreads.jaw_faces_rad.clone().into())
}

/// How the cross slide is out of square, and how roughness scatters.
pub fn by(task: &Task) -> (Cone, f64) {
    let spreads = &task.spreads.spreads;
    let cone = Cone { known_rad: spreads.cross_slide_rad, spread_rad: spreads.cross_slide_spread_rad };
    (cone, spreads.roughness_share)
}

/// The forecast of a plan that was found.
pub fn quality(task: &Task, found: &Found, set_ups: &[plan::SetUp]) -> plan::Forecast {
    let chosen = &found.set_ups[..];
    let mut per_good = found.per_good;
    let made = Made::of(task, chosen, form_mm(task, chosen, set_ups));
    let found = made.forecast(PIECES, SEED);
    if let Some(per_good) = &mut per_good {
        let minutes: f64 = set_ups.iter().map(|set_up| set_up.minutes.total()).sum();
        per_good.minutes = (minutes + task.scatter.new_blank_minutes) / found.all.share;
    }
    let linear = linear(&made.start, &made.set_ups, &made.checks, made.by);
    let why = causes(&made.checks, &linear);
    let qualities = made.checks.iter().zip(&found.told).zip(why).enumerate().map(|(at, ((check, told), why))| {
        let asked = &task.asked_of[check.asked];
        let off_mm = if matches!(asked.kind, Kind::Size | Kind::Distance) { asked.middle_mm() } else { 0.0 };
        Quality {
            requirement: words_of(task, check),
            faces: check.faces.iter().map(|&face| task.faces[usize::from(face)].name.clone()).collect(),
            kind: kind(asked.kind),
            lower_mm: asked.lower_mm,
            upper_mm: asked.upper_mm,
            from: asked.from.clone(),
            middle_mm: off_mm + told.middle,
            spread_mm: told.spread,
            chance: chance(told.chance),
            causes: why.iter().map(|share| CauseShare { of: share.of.words(), share: share.share }).collect(),
            linear: linear_check(check, &linear.checks[at], &linear.noises),
        }
    });
    plan::Forecast {
        qualities: qualities.collect(),
        chance: chance(found.all),
        per_good,
        pieces: found.pieces,
        seed: SEED,
        from: task.spreads.assumed.clone(),
        noises: linear.noises.iter().filter(|noise| **noise != Noise::Known).map(|noise| named(task, *noise)).collect(),
    }
}

fn linear_check(check: &Check, of: &LinearRows, noises: &[Noise]) -> LinearCheck {
    let (least_mm, most_mm, zone_form_mm) = match check.judged {
        Judged::Within(least, most) => (Some(least).filter(|least| least.is_finite()), most, None),
        Judged::Zone { most, form } => (None, most, Some(form)),
    };
    let row = |row: &Vec<f64>| of_noises(noises, row);
    let turn =
        |(about, sums): &(usize, [Vec<f64>; 2])| LinearTurn { about: *about, sums: [0, 1].map(|at| row(&sums[at])) };
    let (rows, turns) = (of.rows.iter().map(row).collect(), of.turns.iter().map(turn).collect());
    LinearCheck { rows, turns, least_mm, most_mm, zone_form_mm }
}

/// A row with what is known apart.
fn of_noises(noises: &[Noise], row: &[f64]) -> LinearRow {
    let parts = noises.iter().zip(row);
    let constant_mm = parts.clone().filter(|(noise, _)| **noise == Noise::Known).map(|(_, part)| part).sum();
    let coefficients_mm = parts.filter(|(noise, _)| **noise != Noise::Known).map(|(_, part)| *part).collect();
    LinearRow { constant_mm, coefficients_mm }
}

/// A noise by its cause, its jaw and the face in whose set-up it is drawn.
fn named(task: &Task, noise: Noise) -> String {
    let cause = Cause::of(noise).map_or_else(String::new, Cause::words);
    let face = |face: u8| task.faces.get(usize::from(face)).map_or("", |face| face.name.as_str());
    let axis = |axis: u8| if axis == 0 { "first" } else { "second" };
    match noise {
        Noise::Known | Noise::JawFace(_) | Noise::CrossSlide | Noise::Roughness => cause,
        Noise::ChuckFace(way) => format!("the chuck's face, {} way", axis(way)),
        Noise::AxialSlip(way) => format!("{cause}, {} way", axis(way)),
        Noise::Gauge(at) => {
            format!("{cause}: {}", task.gauges.get(usize::from(at)).map_or("", |one| one.name.as_str()))
        }
        Noise::Sawn(of, way) => format!("lean of sawn end {}, {} way", face(of), axis(way)),
        Noise::Regrip(of, jaw) | Noise::Dirt(of, jaw) | Noise::Packing(of, jaw) | Noise::Skin(of, jaw) => {
            format!("{cause}, jaw {}, for {}", jaw + 1, face(of))
        }
        Noise::SkinBehind(of, way) => format!("{cause}, behind, for {}, {} way", face(of), axis(way)),
        Noise::Eye(of, way) | Noise::Tapped(of, way) => format!("{cause}, for {}, {} way", face(of), axis(way)),
        Noise::Parallels(of) => format!("parallels of a pair, for {}", face(of)),
        Noise::Cut(of) | Noise::TouchOff(of) => format!("{cause}, for {}", face(of)),
    }
}

fn chance(found: crate::accuracy::Chance) -> Chance {
    Chance { share: found.share, error: found.error }
}

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Size => "size",
        Kind::Distance => "distance",
        Kind::Parallel => "parallel",
        Kind::Square => "square",
        Kind::Angle => "angle",
        Kind::Flat => "flat",
        Kind::Position => "position",
        Kind::Rough => "rough",
    }
}

/// What the form of each face takes of a zone, mm: what its last pass leaves on it.
pub fn form_mm(task: &Task, chosen: &[Chosen], set_ups: &[plan::SetUp]) -> Vec<f64> {
    let mut form_mm = vec![0.0; task.faces.len()];
    for (one, told) in chosen.iter().zip(set_ups) {
        let surface = told.hold.surface.as_ref();
        let form_um = surface.map_or(0.0, |surface| surface.highest.left_um - surface.lowest.left_um);
        form_mm[one.way.facing.lie.face] = form_um / 1000.0;
    }
    form_mm
}

/// What a check looks at, in words.
pub fn words_of(task: &Task, check: &Check) -> String {
    let faces: Vec<&str> = check.faces.iter().map(|&face| task.faces[usize::from(face)].name.as_str()).collect();
    words(&task.asked_of[check.asked], &faces)
}

fn words(asked: &Requirement, faces: &[&str]) -> String {
    let [one, other] = [faces.first(), faces.get(1)].map(|name| name.copied().unwrap_or(""));
    match asked.kind {
        Kind::Size => format!("size between {one} and {other}"),
        Kind::Distance => format!("{one} from the bar's middle"),
        Kind::Parallel => format!("{one} parallel to {other}"),
        Kind::Square => format!("{one} square to {other}"),
        Kind::Angle => format!("angle between {other} and {one}"),
        Kind::Flat => format!("{one} flat"),
        Kind::Position => format!("middle between {one} and {other} in its place"),
        Kind::Rough => format!("roughness of {one}"),
    }
}
