//! The forecast of a plan: every requirement with its chance and its causes.

use super::checks::Cut;
use super::search::{Chosen, Found};
use super::sits::{set_up, shapes, stands, tangents};
use crate::accuracy::{Chain, Check, Cone, Forecast, SetUp, Stands, causes, forecast};
use crate::part::{Kind, Requirement};
use crate::plan::{self, CauseShare, Chance, Quality};
use crate::task::Task;

/// Parts drawn for the forecast of a plan.
pub const PIECES: u32 = 4096;
/// The seed of every draw.
pub const SEED: u32 = 20_260;

/// A plan as the forecast needs it.
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
    let per_good = found.per_good;
    let mut form_mm = vec![0.0; task.faces.len()];
    for (one, told) in chosen.iter().zip(set_ups) {
        let surface = told.hold.surface.as_ref();
        let form_um = surface.map_or(0.0, |surface| surface.highest.left_um - surface.lowest.left_um);
        form_mm[one.way.facing.lie.face] = form_um / 1000.0;
    }
    let made = Made::of(task, chosen, form_mm);
    let found = made.forecast(PIECES, SEED);
    let why = causes(&made.start, &made.set_ups, &made.checks, made.by);
    let qualities = made.checks.iter().zip(&found.told).zip(why).map(|((check, told), why)| {
        let asked = &task.asked_of[check.asked];
        let faces: Vec<&str> = check.faces.iter().map(|&face| task.faces[usize::from(face)].name.as_str()).collect();
        let off_mm = if matches!(asked.kind, Kind::Size | Kind::Distance) { asked.middle_mm() } else { 0.0 };
        Quality {
            requirement: words(asked, &faces),
            kind: kind(asked.kind),
            lower_mm: asked.lower_mm,
            upper_mm: asked.upper_mm,
            from: asked.from.clone(),
            middle_mm: off_mm + told.middle,
            spread_mm: told.spread,
            chance: chance(told.chance),
            causes: why.iter().map(|share| CauseShare { of: share.of.words(), share: share.share }).collect(),
        }
    });
    plan::Forecast {
        qualities: qualities.collect(),
        chance: chance(found.all),
        per_good,
        pieces: found.pieces,
        seed: SEED,
        from: task.spreads.assumed.clone(),
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
