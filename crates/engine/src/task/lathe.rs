//! The lathe in plain numbers.

use super::{Gaps, TailstockFacts, believed, named};
use crate::dial::Dial;
use crate::holding;
use crate::job::Job;
use crate::problem::Source;
use crate::quantity::Plain;
use crate::shop::{Lathe, Shop};

/// The lathe in plain numbers.
#[derive(Debug, Clone)]
pub struct LatheFacts {
    /// Its name.
    pub name: String,
    /// Spindle speeds, rising, rpm.
    pub speeds_rpm: Vec<f64>,
    /// Feeds across, rising, mm per revolution; empty: by hand only.
    pub feeds_mm: Vec<f64>,
    /// Power at the edge: motor × efficiency, W.
    pub edge_power_w: f64,
    /// Most torque at the spindle, N m, where the maker gives one.
    pub most_torque_nm: Option<f64>,
    /// Largest diameter over the bed, where given.
    pub swing_over_bed_mm: Option<f64>,
    /// Largest diameter over the cross slide, where given.
    pub swing_over_slide_mm: Option<f64>,
    /// Hole through the spindle, where given.
    pub spindle_bore_mm: Option<f64>,
    /// Machine alone, N/µm.
    pub stiffness_n_um: f64,
    /// Mass of the lathe, kg.
    pub mass_kg: f64,
    /// Mass of spindle and chuck, kg.
    pub rotor_mass_kg: f64,
    /// The tailstock, where there is one.
    pub tailstock: Option<TailstockFacts>,
    /// Dial of the slide that sets the depth.
    pub dial: Dial,
    /// Travel of the cross slide, where given.
    pub cross_travel_mm: Option<f64>,
}

pub(super) fn resolve(job: &Job, shop: &Shop, gaps: &mut Gaps) -> Option<LatheFacts> {
    let lathe = named(&shop.lathes, job.lathe.as_deref(), |lathe| &lathe.name, ("use.lathe", "lathe"), gaps)?;
    let dial = dial(job, shop, lathe, gaps)?;
    let efficiency = lathe
        .efficiency
        .unwrap_or_else(|| gaps.assume("efficiency", "share of the motor's power that reaches the edge"));
    note_swing(lathe, gaps);
    Some(LatheFacts {
        name: lathe.name.clone(),
        speeds_rpm: lathe.speeds.iter().map(|&speed| speed.plain()).collect(),
        feeds_mm: lathe.feeds_across().into_iter().map(Plain::plain).collect(),
        edge_power_w: lathe.motor.plain() * efficiency,
        most_torque_nm: lathe.most_torque.map(Plain::plain),
        swing_over_bed_mm: lathe.swing_over_bed.map(Plain::plain),
        swing_over_slide_mm: lathe.swing_over_slide.map(Plain::plain),
        spindle_bore_mm: lathe.spindle_bore.map(Plain::plain),
        stiffness_n_um: lathe.stiffness_n_per_um.unwrap_or_else(|| {
            gaps.assume_sourced(&holding::numbers().machine_stiffness_n_um, "stiffness of the lathe at the tool")
        }),
        mass_kg: lathe.mass.map_or_else(
            || gaps.assume("light lathe mass", "mass of the lathe, for what unbalance it bears"),
            Plain::plain,
        ),
        rotor_mass_kg: lathe.rotor_mass.map_or_else(
            || gaps.assume("rotor mass", "mass of spindle and chuck, for the balance grade"),
            Plain::plain,
        ),
        tailstock: super::tailstock::resolve(job, shop, lathe, gaps),
        dial,
        cross_travel_mm: lathe.cross_slide.as_ref().and_then(|slide| slide.travel).map(Plain::plain),
    })
}

fn dial(job: &Job, shop: &Shop, lathe: &Lathe, gaps: &mut Gaps) -> Option<Dial> {
    let at = shop.lathes.iter().position(|other| other.name == lathe.name).unwrap_or(0);
    match Dial::new(&lathe.depth_slide) {
        Ok(dial) => {
            believed::paint(job, lathe, at, &dial, gaps);
            Some(dial)
        }
        Err(says) => {
            let accepts = "a graduation smaller than per_turn, set_over from 0 to under 90 deg".to_string();
            gaps.problem(Source::Shop, format!("lathe[{at}].depth_slide"), says.to_string(), accepts);
            None
        }
    }
}

fn note_swing(lathe: &Lathe, gaps: &mut Gaps) {
    if lathe.swing_over_bed.is_none() || lathe.swing_over_slide.is_none() {
        gaps.assumed.push(super::assumed(
            "swing of the lathe",
            "not given: not reckoned with",
            "turn the work by hand one full turn past bed, slide and tool post before every first start",
        ));
    }
}
