//! The chuck in plain numbers.

use super::{Gaps, believed, named};
use crate::holding;
use crate::job::Job;
use crate::quantity::Plain;
use crate::shop::{Chuck, ChuckKind, JawSurface, Shop};

/// The chuck in plain numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct ChuckFacts {
    /// Its name.
    pub name: String,
    /// How its jaws move.
    pub kind: ChuckKind,
    /// Number of jaws.
    pub jaws: u8,
    /// Diameter of the body.
    pub body_mm: f64,
    /// Width of a jaw's face.
    pub jaw_width_mm: f64,
    /// From chuck face to jaw front.
    pub jaw_length_mm: f64,
    /// Bearing face of the jaws.
    pub jaw_surface: JawSurface,
    /// Mass of a jaw.
    pub jaw_mass_kg: f64,
    /// Hole in the chuck face.
    pub bore_mm: f64,
    /// Least and most between opposed jaws.
    pub opening_mm: (f64, f64),
    /// Highest speed marked or, unmarked, taken.
    pub marked_rpm: f64,
    /// Highest speed for interrupted cuts and work off the axis, where the shop gives one.
    pub interrupted_rpm: Option<f64>,
    /// Nominal force of one jaw at standstill, N.
    pub nominal_force_n: f64,
    /// The jaw's screw and the torque on its key, N m, where the nominal force comes from them.
    pub key: Option<(holding::JawScrew, f64)>,
    /// What of it one can count on.
    pub low_share: f64,
    /// From the spindle axis to the middle of a jaw's mass.
    pub jaw_mass_radius_mm: f64,
    /// Stiffness of one jaw at its face, N/mm.
    pub stiffness_n_mm: f64,
}

pub(super) fn resolve(job: &Job, shop: &Shop, gaps: &mut Gaps) -> Option<ChuckFacts> {
    let chuck = named(&shop.chucks, job.chuck.as_deref(), |chuck| &chuck.name, ("use.chuck", "chuck"), gaps)?;
    let body = chuck.body.plain();
    let typical = holding::chuck_defaults(chuck.kind, body);
    believed::chuck(job, shop, chuck, gaps);
    Some(ChuckFacts {
        name: chuck.name.clone(),
        kind: chuck.kind,
        jaws: chuck.jaws,
        body_mm: body,
        jaw_width_mm: chuck.jaw.width.plain(),
        jaw_length_mm: chuck.jaw.length.plain(),
        jaw_surface: chuck.jaw.surface,
        jaw_mass_kg: chuck
            .jaw
            .mass
            .map_or_else(|| noted(gaps, "mass of a jaw", typical.jaw_kg, "kg", typical.source), Plain::plain),
        bore_mm: chuck.bore.map_or_else(
            || body * gaps.assume("bore share of body", "hole in the chuck face, share of its diameter"),
            Plain::plain,
        ),
        opening_mm: (chuck.opening.0.plain(), chuck.opening.1.plain()),
        marked_rpm: chuck.marked_speed.map_or_else(
            || {
                noted(
                    gaps,
                    "highest speed of the chuck, which carries no mark",
                    typical.most_rpm,
                    "rpm",
                    typical.source,
                )
            },
            Plain::plain,
        ),
        interrupted_rpm: chuck.interrupted_speed.map(Plain::plain),
        nominal_force_n: nominal_force(chuck, &typical, gaps),
        key: chuck.clamping_force.as_ref().and_then(holding::key),
        low_share: chuck.low_share.unwrap_or_else(|| {
            gaps.assume_sourced(&holding::numbers().low_share_by_feel, "share of the clamping force that is counted on")
        }),
        jaw_mass_radius_mm: holding::jaw_mass_radius_mm(body),
        stiffness_n_mm: 1000.0
            * chuck.stiffness_n_per_um.unwrap_or_else(|| {
                gaps.assume_sourced(&holding::numbers().jaw_stiffness_n_um, "stiffness of a jaw at its face")
            }),
    })
}

impl ChuckFacts {
    /// Force of one jaw that can be counted on at this speed, N.
    pub fn counted_force_n(&self, speed_rpm: f64) -> f64 {
        holding::counted_force_n(
            self.nominal_force_n,
            self.low_share,
            self.jaw_mass_kg,
            self.jaw_mass_radius_mm,
            speed_rpm,
        )
    }
}

fn nominal_force(chuck: &Chuck, typical: &holding::ChuckDefaults, gaps: &mut Gaps) -> f64 {
    chuck.clamping_force.map_or_else(
        || noted(gaps, "clamping force of a jaw, properly tightened", typical.clamping_n, "N", typical.source),
        |force| holding::nominal_force_n(&force),
    )
}

fn noted(gaps: &mut Gaps, what: &str, value: f64, unit: &str, source: &str) -> f64 {
    gaps.assumed.push(super::assumed(what, format!("{} {unit}", rounded(value)).trim_end(), source));
    value
}

/// Three digits are more than an assumed value is worth.
fn rounded(value: f64) -> String {
    if value >= 100.0 { format!("{value:.0}") } else { format!("{value:.2}") }
}
