//! The chuck and its jaws.

use crate::quantity::{Angle, AngularVelocity, Force, Length, Mass, Torque};

/// A chuck.
#[derive(Debug, Clone, PartialEq)]
pub struct Chuck {
    /// Its name in the shop.
    pub name: String,
    /// How its jaws move.
    pub kind: ChuckKind,
    /// Number of jaws, 2 to 6.
    pub jaws: u8,
    /// Diameter of the body.
    pub body: Length,
    /// One jaw.
    pub jaw: Jaw,
    /// Hole in the chuck face, diameter.
    pub bore: Option<Length>,
    /// Between opposed jaws (diameter for a self-centring chuck): least and most.
    pub opening: (Length, Length),
    /// Highest speed marked on it.
    pub marked_speed: Option<AngularVelocity>,
    /// Highest speed for interrupted cuts and work off the axis; `None`: a share of the mark where the jaws are independent.
    pub interrupted_speed: Option<AngularVelocity>,
    /// Force of each jaw at standstill.
    pub clamping_force: Option<ClampingForce>,
    /// What of the nominal force one can count on, 0 to 1.
    pub low_share: Option<f64>,
    /// Stiffness of each jaw at its face, N/µm.
    pub stiffness_n_per_um: Option<f64>,
    /// Spread of tilt between jaws, or one value per jaw.
    pub jaw_tilt: Vec<Angle>,
    /// Tilt new at every grip.
    pub regrip_tilt: Option<Angle>,
}

/// How the jaws move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChuckKind {
    /// Each jaw has its own screw.
    Independent,
    /// The jaws move together.
    SelfCentring,
}

/// One jaw of a chuck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jaw {
    /// Across its face.
    pub width: Length,
    /// From chuck face to jaw front.
    pub length: Length,
    /// Along its slot in the body, from its bearing face to its outer end; `None`: assumed.
    pub depth: Option<Length>,
    /// Its bearing face.
    pub surface: JawSurface,
    /// What soft jaws are bored to; `None`: to the work where they move together, else not at all.
    pub bored: Option<JawBore>,
    /// Its mass; `None`: assumed.
    pub mass: Option<Mass>,
    /// A ledge in its bearing face on which the work sits.
    pub step: Option<JawStep>,
    /// What it is turned end for end; `None`: it cannot be.
    pub reversed: Option<ReversedJaw>,
}

/// A ledge in the face of a jaw, square to the spindle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JawStep {
    /// From the jaw's front down to it.
    pub below_front: Length,
    /// How far it reaches in under the work.
    pub width: Length,
}

/// A jaw turned end for end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReversedJaw {
    /// Between opposed jaws then: least and most.
    pub opening: (Length, Length),
    /// The ledge that it then has towards the work.
    pub step: Option<JawStep>,
    /// From its bearing face to its outer end then; `None`: assumed.
    pub depth: Option<Length>,
}

/// Bearing face of a jaw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum JawSurface {
    /// Hardened, smooth or finely ground.
    HardSmooth,
    /// Hardened, with teeth.
    HardSerrated,
    /// Soft, bored or faced to the work.
    Soft,
}

/// What soft jaws are bored to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum JawBore {
    /// The work that they hold.
    Work,
    /// This diameter.
    Diameter(Length),
}

/// How the shop knows the force of a jaw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ClampingForce {
    /// Each jaw, nominal.
    Each(Force),
    /// From the torque on the key and the jaw's screw.
    Key {
        /// Torque on the key.
        torque: Torque,
        /// Pitch of the jaw screw.
        pitch: Length,
        /// Pitch diameter of the jaw screw.
        pitch_diameter: Length,
        /// Mean diameter of its thrust shoulder.
        shoulder_diameter: Length,
        /// Friction in thread and shoulder.
        friction: f64,
    },
}
