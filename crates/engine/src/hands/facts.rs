//! The small facts that the plan's values do not carry.

use super::Caution;
use super::words::Words;
use crate::part::Part;
use crate::quantity::show::length;
use crate::quantity::{Plain, Units};
use crate::shop::{Chuck, ChuckKind, DialUnit, Lathe, Packing, Reads, Slide};

/// What the words need to know of shop and part.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// Whether each jaw has its own screw.
    pub independent: bool,
    /// What the slide that sets the depth is called.
    pub depth_slide: String,
    /// How far that slide is set over from along the bed, degrees.
    pub set_over_deg: f64,
    /// What its ring counts in one turn, in its own unit and with "on diameter" where it counts twice the travel.
    pub ring: String,
    /// Whether its ring counts twice the travel.
    pub counts_twice: bool,
    /// Its backlash with unit; `None`: not known.
    pub backlash: Option<String>,
    /// The spindle's lowest speed.
    pub lowest_rpm: Option<f64>,
    /// Thickness of the feeler used to touch off, with unit; `None`: whatever lies at hand.
    pub feeler: Option<String>,
    /// How this shop sets the tool's height; `None`: only that it must be right.
    pub tool_height: Option<String>,
    /// What the packing is: "soft copper".
    pub packing: String,
    /// The two faces that are ends of the bar.
    pub ends: Vec<String>,
    /// Faces that stay as the bar left them.
    pub left_raw: Vec<String>,
    /// How the chuck sits on the spindle.
    pub nose: Nose,
    /// What the material is known for.
    pub material_caution: Option<Caution>,
}

/// How the chuck sits on the spindle nose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nose {
    /// Screwed on: it can unscrew.
    Threaded,
    /// Held by cams, bolts or a key: it cannot.
    Locked,
    /// Nobody said.
    Unknown,
}

impl Facts {
    /// Gathers what lathe, chuck, packing and part say; the rest is left unknown.
    pub fn of(lathe: &Lathe, chuck: &Chuck, packing: Option<&Packing>, part: &Part, units: Units) -> Facts {
        Facts {
            independent: chuck.kind == ChuckKind::Independent,
            depth_slide: Words::of(units).depth_slide.to_string(),
            set_over_deg: lathe.depth_slide.set_over.plain().to_degrees(),
            ring: ring(&lathe.depth_slide),
            counts_twice: lathe.depth_slide.reads == Reads::Diameter,
            backlash: lathe.depth_slide.backlash.map(|backlash| length(backlash.plain(), units)),
            lowest_rpm: lathe.speeds.first().map(|speed| speed.plain()),
            feeler: None,
            tool_height: None,
            packing: packing.map_or_else(|| "soft packing".to_string(), |packing| packing.material.clone()),
            ends: part.names.iter().take(2).cloned().collect(),
            left_raw: part.leave.clone(),
            nose: Nose::Unknown,
            material_caution: None,
        }
    }

    /// Whether a face is an end of the bar.
    pub(super) fn is_end(&self, face: &str) -> bool {
        self.ends.iter().any(|end| end == face)
    }
}

/// A dial speaks its own unit, whatever the job's.
fn ring(slide: &Slide) -> String {
    let units = match slide.unit {
        DialUnit::Mm => Units::Mm,
        DialUnit::Inch => Units::Inch,
    };
    let counts = if slide.reads == Reads::Diameter { " on diameter" } else { "" };
    format!("{}{counts}", length(slide.per_turn.plain(), units))
}
