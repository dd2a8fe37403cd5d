//! The chuck in plain numbers.

use super::{Gaps, believed, named};
use crate::holding;
use crate::job::Job;
use crate::problem::Source;
use crate::quantity::{Plain, show};
use crate::shop::{Chuck, ChuckKind, JawBore, JawStep, JawSurface, ReversedJaw, Shop};

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
    /// Along its slot in the body.
    pub jaw_depth_mm: f64,
    /// Whether the shop gives that length.
    pub jaw_depth_known: bool,
    /// Bearing face of the jaws.
    pub jaw_surface: JawSurface,
    /// What the jaws are bored to.
    pub bored: Option<JawBore>,
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
    /// Whether the shop gives that force, or what it follows from.
    pub force_known: bool,
    /// Least and greatest force by torque and friction, where the nominal force comes from them and the shop gives
    /// no share that counts.
    pub key_band: Option<holding::KeyBand>,
    /// Force of one jaw at the high end, N: what may mark the work.
    pub high_force_n: f64,
    /// What of the nominal force one can count on.
    pub low_share: f64,
    /// From the spindle axis to the middle of a jaw's mass.
    pub jaw_mass_radius_mm: f64,
    /// Stiffness of one jaw at its face, N/mm.
    pub stiffness_n_mm: f64,
    /// The ledge on which the work sits, if the jaws have one.
    pub step: Option<StepFacts>,
    /// What the jaws are when turned end for end, if they can be.
    pub reversed: Option<ReversedFacts>,
    /// Whether they are turned so.
    pub is_reversed: bool,
}

/// A ledge of the jaws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StepFacts {
    /// From the jaw fronts down to it.
    pub below_front_mm: f64,
    /// How far it reaches in under the work.
    pub width_mm: f64,
}

/// Jaws turned end for end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReversedFacts {
    /// Least and most between opposed jaws.
    pub opening_mm: (f64, f64),
    /// Their ledge.
    pub step: Option<StepFacts>,
    /// From bearing face to outer end.
    pub jaw_depth_mm: f64,
    /// Whether the shop gives that.
    pub jaw_depth_known: bool,
}

fn step(step: JawStep) -> StepFacts {
    StepFacts { below_front_mm: step.below_front.plain(), width_mm: step.width.plain() }
}

fn reversed(jaw: &ReversedJaw, jaw_depth_mm: f64) -> ReversedFacts {
    ReversedFacts {
        opening_mm: (jaw.opening.0.plain(), jaw.opening.1.plain()),
        step: jaw.step.map(step),
        // As long as before: farther out than it stands, on the cautious side.
        jaw_depth_mm: jaw.depth.map_or(jaw_depth_mm, Plain::plain),
        jaw_depth_known: jaw.depth.is_some(),
    }
}

pub(super) fn resolve(job: &Job, shop: &Shop, gaps: &mut Gaps) -> Option<ChuckFacts> {
    let chuck = named(&shop.chucks, job.chuck.as_deref(), |chuck| &chuck.name, ("use.chuck", "chuck"), gaps)?;
    let body = chuck.body.plain();
    let typical = holding::chuck_defaults(chuck.kind, body);
    jaws_that_hold(shop, chuck, gaps);
    believed::chuck(job, shop, chuck, gaps);
    let key = chuck.clamping_force.as_ref().and_then(holding::key);
    let nominal_force_n = nominal_force(chuck, &typical, job, gaps);
    let band = key.map(|(screw, torque_nm)| holding::key_band(&screw, torque_nm));
    let key_band = band.filter(|_| chuck.low_share.is_none());
    let high_force_n = match (band, chuck.clamping_force) {
        (Some(band), _) => band.high_n,
        (None, Some(_)) => nominal_force_n,
        // What nobody knows may press as hard as such a chuck can.
        (None, None) => holding::highest_usual_force_n(chuck.kind, body).max(nominal_force_n),
    };
    let depth_mm = chuck.jaw.depth.map_or_else(|| jaw_depth_mm(body, gaps), Plain::plain);
    Some(ChuckFacts {
        name: chuck.name.clone(),
        kind: chuck.kind,
        jaws: chuck.jaws,
        body_mm: body,
        jaw_width_mm: chuck.jaw.width.plain(),
        jaw_length_mm: chuck.jaw.length.plain(),
        jaw_depth_mm: depth_mm,
        jaw_depth_known: chuck.jaw.depth.is_some(),
        jaw_surface: chuck.jaw.surface,
        bored: bored(job, shop, chuck, gaps),
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
        nominal_force_n,
        force_known: chuck.clamping_force.is_some(),
        low_share: chuck.low_share.unwrap_or_else(|| low_share(key_band, nominal_force_n, gaps)),
        key,
        key_band,
        high_force_n,
        jaw_mass_radius_mm: holding::jaw_mass_radius_mm(body),
        stiffness_n_mm: 1000.0
            * chuck.stiffness_n_per_um.unwrap_or_else(|| {
                gaps.assume_sourced(&holding::numbers().jaw_stiffness_n_um, "stiffness of a jaw at its face")
            }),
        step: chuck.jaw.step.map(step),
        reversed: chuck.jaw.reversed.as_ref().map(|jaw| reversed(jaw, depth_mm)),
        is_reversed: false,
    })
}

impl ChuckFacts {
    /// The same chuck with its jaws turned end for end; `None`: they cannot be.
    pub fn turned_end_for_end(&self) -> Option<ChuckFacts> {
        let ReversedFacts { opening_mm, step, jaw_depth_mm, jaw_depth_known } = self.reversed?;
        let turned = ChuckFacts { opening_mm, step, jaw_depth_mm, jaw_depth_known, ..self.clone() };
        Some(ChuckFacts { is_reversed: true, reversed: None, ..turned })
    }

    /// How much of a jaw's length the work can lie along.
    pub fn bears_mm(&self) -> f64 {
        self.step.map_or(self.jaw_length_mm, |step| step.below_front_mm.min(self.jaw_length_mm))
    }

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

/// The force that is given, or the low end of what such a chuck gives: then the plan asks for it.
fn nominal_force(chuck: &Chuck, typical: &holding::ChuckDefaults, job: &Job, gaps: &mut Gaps) -> f64 {
    if let Some(force) = &chuck.clamping_force {
        return holding::nominal_force_n(force);
    }
    gaps.notices.push(format!(
        "NOTICE: {}: nobody gave the clamping force: {} a jaw is taken, the low end of chucks of that size, and every \
         hold here rests on it. Read the jaws' force off the chuck's papers or measure it between two jaws with a load \
         cell, and give it in the shop; or give the torque on the key and the jaw's screw.",
        chuck.name,
        show::force(typical.clamping_n, job.units)
    ));
    noted(gaps, "clamping force of a jaw, properly tightened", typical.clamping_n, "N", typical.source)
}

/// What of the nominal force counts, where the shop gives no share: the low end of torque and friction, or what
/// tightening by feel leaves.
fn low_share(band: Option<holding::KeyBand>, nominal_n: f64, gaps: &mut Gaps) -> f64 {
    const COUNTS: &str = "share of the clamping force that is counted on";
    let numbers = holding::numbers();
    let Some(band) = band else { return gaps.assume_sourced(&numbers.low_share_by_feel, COUNTS) };
    let share = if nominal_n > 0.0 { band.low_n / nominal_n } else { 0.0 };
    gaps.assume_sourced(&numbers.key_torque_spread_by_feel, "spread of the torque on the key, by feel, either way");
    gaps.assume_sourced(&numbers.screw_friction_spread, "spread of the friction of the jaw's screw, either way");
    let source = "least torque and greatest friction together, over what the shop's torque and friction give";
    noted(gaps, COUNTS, share, "", source)
}

/// What the jaws are bored to: soft ones that move together to the work, where the shop does not say.
fn bored(job: &Job, shop: &Shop, chuck: &Chuck, gaps: &mut Gaps) -> Option<JawBore> {
    let soft = chuck.jaw.surface == JawSurface::Soft;
    let at = shop.chucks.iter().position(|other| other.name == chuck.name).unwrap_or(0);
    let at = format!("chuck[{at}].jaw.bored");
    match chuck.jaw.bored {
        None if soft && chuck.kind == ChuckKind::SelfCentring => {
            const SOURCE: &str = "common practice, no source: soft jaws are bored in their chuck to the work that they \
                                  are to hold, tightened on a ring or plug";
            gaps.assumed.push(super::assumed("what the soft jaws are bored to", "the work", SOURCE));
            Some(JawBore::Work)
        }
        None => None,
        Some(_) if !soft => {
            let says =
                format!("the jaws of the {} are hard and said to be bored: no boring tool cuts them", chuck.name);
            gaps.problem(Source::Shop, at, says, "surface = \"soft\" beside it, or no bore".to_string());
            None
        }
        Some(JawBore::Diameter(bore)) if bore.plain() > chuck.opening.1.plain() => {
            let [bore, most] = [bore.plain(), chuck.opening.1.plain()].map(|mm| show::length(mm, job.units));
            let says = format!("jaws bored to {bore}, and the {} opens to {most}", chuck.name);
            gaps.problem(Source::Shop, at, says, format!("a diameter up to {most}, or \"to the work\""));
            None
        }
        given => given,
    }
}

fn jaw_depth_mm(body_mm: f64, gaps: &mut Gaps) -> f64 {
    let share = &holding::numbers().jaw_depth_share_of_body;
    noted(gaps, "length of a jaw along its slot", share.value * body_mm, "mm", &share.source)
}

/// Jaws that this plan cannot hold with, refused where they are counted.
fn jaws_that_hold(shop: &Shop, chuck: &Chuck, gaps: &mut Gaps) {
    let at = shop.chucks.iter().position(|other| other.name == chuck.name).unwrap_or(0);
    let at = format!("chuck[{at}].jaws");
    let jaws = chuck.jaws;
    if chuck.kind == ChuckKind::Independent && jaws != 4 {
        let says = format!(
            "{} has {jaws} jaws that move one by one: this plan holds with opposed pairs, and a jaw without one across \
             from it pushes the work out",
            chuck.name
        );
        let accepts = "4, every jaw in its slot; or kind = \"self-centring\" where the jaws move together; or another \
                       chuck of the shop, named in the job";
        gaps.problem(Source::Shop, at, says, accepts.to_string());
    } else if jaws == 2 {
        let says = format!(
            "{} has 2 jaws: they touch the work on two sides only, and nothing but friction keeps it from going out \
             between them",
            chuck.name
        );
        let accepts = "3 jaws or more; or another chuck of the shop, named in the job".to_string();
        gaps.problem(Source::Shop, at, says, accepts);
    }
}

fn noted(gaps: &mut Gaps, what: &str, value: f64, unit: &str, source: &str) -> f64 {
    gaps.assumed.push(super::assumed(what, format!("{} {unit}", rounded(value)).trim_end(), source));
    value
}

/// Three digits are more than an assumed value is worth.
fn rounded(value: f64) -> String {
    if value >= 100.0 { format!("{value:.0}") } else { format!("{value:.2}") }
}
