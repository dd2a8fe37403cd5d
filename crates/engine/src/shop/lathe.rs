//! The lathe: what its plate says and how stiff and true it is.

use super::Slide;
use crate::quantity::{Angle, AngularVelocity, Force, Length, Mass, Power, Torque};

/// A manual lathe.
#[derive(Debug, Clone, PartialEq)]
pub struct Lathe {
    /// Its name in the shop.
    pub name: String,
    /// Spindle speeds on the plate, rising.
    pub speeds: Vec<AngularVelocity>,
    /// Feeds across, per revolution.
    pub cross_feeds: CrossFeeds,
    /// Feeds along, per revolution, rising; may be empty.
    pub long_feeds: Vec<Length>,
    /// Power on the motor's plate.
    pub motor: Power,
    /// Share of it that reaches the spindle, 0 to 1.
    pub efficiency: Option<f64>,
    /// Most torque that the drive may carry at the spindle, where the maker gives one.
    pub most_torque: Option<Torque>,
    /// Largest diameter that clears the bed.
    pub swing_over_bed: Option<Length>,
    /// Largest diameter that clears the cross slide.
    pub swing_over_slide: Option<Length>,
    /// Hole through the spindle, into which a bar may go.
    pub spindle_bore: Option<Length>,
    /// Radial run-out at the nose, full needle.
    pub spindle_run_out: Option<Length>,
    /// Axial slip, full needle, once per turn.
    pub spindle_axial_slip: Option<Length>,
    /// Cross slide out of square, positive: facing hollow.
    pub cross_slide_out_of_square: Option<Angle>,
    /// Stiffness at the tool, machine alone, N/µm.
    pub stiffness_n_per_um: Option<f64>,
    /// Mass of the lathe, for what unbalance it may bear.
    pub mass: Option<Mass>,
    /// Mass of spindle and chuck together with the work's chuck, for the balance grade.
    pub rotor_mass: Option<Mass>,
    /// The tailstock with its centre, where there is one.
    pub tailstock: Option<Tailstock>,
    /// The slide that sets the depth when facing.
    pub depth_slide: Slide,
    /// The slide that feeds across the face.
    pub cross_slide: Option<Slide>,
}

/// A tailstock with a centre of 60 degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tailstock {
    /// How hard its hand wheel is set against the work; `None`: assumed.
    pub thrust: Option<Force>,
    /// The most that the spindle's bearings may bear along the spindle, where the maker gives it.
    pub most_thrust: Option<Force>,
    /// Stiffness at the point, N/µm; `None`: assumed.
    pub stiffness_n_per_um: Option<f64>,
}

/// Feeds of the cross slide.
#[derive(Debug, Clone, PartialEq)]
pub enum CrossFeeds {
    /// The feeds per revolution, rising; empty: by hand only.
    Listed(Vec<Length>),
    /// A fixed share of the feeds along, as many gearboxes have it.
    ShareOfLong(f64),
}

impl Lathe {
    /// Feeds across per revolution, rising; empty when the slide is fed by hand only.
    pub fn feeds_across(&self) -> Vec<Length> {
        match &self.cross_feeds {
            CrossFeeds::Listed(feeds) => feeds.clone(),
            CrossFeeds::ShareOfLong(share) => self.long_feeds.iter().map(|&feed| feed * *share).collect(),
        }
    }
}
