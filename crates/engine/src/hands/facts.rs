//! The small facts that the plan's values do not carry.

use super::Caution;

/// What the words need to know of shop and part.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// Whether each jaw has its own screw.
    pub independent: bool,
    /// Whether the jaws are turned end for end before all else.
    pub jaws_reversed: bool,
    /// What the torque on the chuck key is where the jaws' force comes from it, with unit.
    pub tight_torque: Option<String>,
    /// What the force that is counted on was reckoned with: "with the torque wrench"; `None`: by feel, or nobody said.
    pub tight_with: Option<&'static str>,
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
    /// Faces that lie opposite one another.
    pub opposites: Vec<(String, String)>,
    /// What a difference in depth counts on the ring, where it is not the same number: "0.10 mm counts 0.0039 in".
    pub ring_counts: Option<String>,
    /// Faces that stay as the bar left them.
    pub left_raw: Vec<String>,
    /// From this far of its middle of mass off the spindle axis a piece is told as out of balance, mm.
    pub off_axis_mm: f64,
    /// Stick-out to spare, mm, below which the check says what to do if it comes out less.
    pub spare_stick_out_mm: f64,
    /// Sides of the part over a bar with flats, with what of the bar each lies over: empty on a round.
    pub over_the_bar: Vec<(String, OverBar)>,
    /// How the chuck sits on the spindle.
    pub nose: Nose,
    /// What the material is known for.
    pub material_caution: Option<Caution>,
}

/// What of a bar with flats lies over a side of the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OverBar {
    /// A flat, parallel to it.
    Flat,
    /// A corner.
    Corner,
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
    /// The face opposite, where there is one.
    pub(super) fn opposite(&self, face: &str) -> Option<&str> {
        self.opposites.iter().find_map(|(one, other)| match face {
            face if face == one => Some(other.as_str()),
            face if face == other => Some(one.as_str()),
            _ => None,
        })
    }

    /// Whether a face is an end of the bar.
    pub(super) fn is_end(&self, face: &str) -> bool {
        self.ends.iter().any(|end| end == face)
    }
}
