//! The tailstock in plain numbers, and the centre holes that the part allows.

use super::Gaps;
use super::flats::Face;
use crate::holding;
use crate::job::Job;
use crate::part::Place;
use crate::problem::Source;
use crate::quantity::{Plain, show};
use crate::shop::{Lathe, Shop};

/// A tailstock with its centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TailstockFacts {
    /// How hard it is set against the work, N.
    pub thrust_n: f64,
    /// At its point, either way, N/µm.
    pub stiffness_n_um: f64,
}

/// What is not given is taken, but not told as assumed: a tailstock stands in no hold of a plan, only in what is told
/// of a way out.
pub(super) fn resolve(job: &Job, shop: &Shop, lathe: &Lathe, gaps: &mut Gaps) -> Option<TailstockFacts> {
    let (tailstock, numbers) = (lathe.tailstock?, holding::numbers());
    let thrust_n = tailstock.thrust.map_or(numbers.centre_thrust_n.value, Plain::plain);
    let at = shop.lathes.iter().position(|other| other.name == lathe.name).unwrap_or(0);
    let bearings_n = tailstock.most_thrust.map(Plain::plain);
    let most_n = bearings_n.unwrap_or(numbers.centre_thrust_most_n.value);
    if thrust_n > most_n {
        let [thrust, most] = [thrust_n, most_n].map(|force_n| show::force(force_n, job.units));
        let says = match bearings_n {
            Some(_) => format!("a centre set with {thrust}: the spindle's bearings bear {most} along it, by the shop"),
            None => format!("a centre set with {thrust}: no hand wheel is set with more than {most}"),
        };
        let accepts = format!("a thrust up to {most}; or what the maker of the lathe allows along its spindle");
        gaps.problem(Source::Shop, format!("lathe[{at}].tailstock.thrust"), says, accepts);
    }
    let stiffness_n_um = tailstock.stiffness_n_per_um.unwrap_or(numbers.centre_stiffness_n_um.value);
    Some(TailstockFacts { thrust_n, stiffness_n_um })
}

/// A centre hole leaves a rim: it cannot be as wide as the part.
pub(super) fn centre_holes(job: &Job, faces: Option<&[Face]>, gaps: &mut Gaps) {
    let (Some(hole), Some(faces)) = (job.part.centre_holes, faces) else { return };
    let sides = faces.iter().filter(|face| matches!(face.place, Place::Side(_)));
    let least_mm = 2.0 * sides.map(|face| face.distance_mm).fold(f64::INFINITY, f64::min);
    if hole.plain() >= least_mm {
        let [hole, least] = [hole.plain(), least_mm].map(|mm| show::length(mm, job.units));
        let says =
            format!("a centre hole {hole} across its mouth leaves no rim: the nearest side is half of {least} off");
        gaps.problem(Source::Job, "part.centre_holes", says, format!("less than {least}, or none"));
    }
}
