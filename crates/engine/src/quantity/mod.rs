//! Quantities as types: what a job and a shop are written in.
//!
//! The kept library is `uom`; these are its types under the trade's names, with short ways to
//! build and read them. Inside the rooms below (`shape`, `cutting`, `holding`, `dial`) formulas run
//! on plain numbers in one coherent system, mm, N and MPa, with the unit in every name.

pub mod bare;
pub mod column;
pub mod limits;
mod parse;
pub mod show;
mod unit;

pub use parse::{Misread, Reading, read, read_length};
pub use show::{Units, show_length};
pub use unit::Kind;

pub use uom::si::f64::{Angle, AngularVelocity, Force, Length, Mass, MassDensity, Power, Pressure, Torque, Velocity};
use uom::si::{
    angle::degree, angular_velocity::revolution_per_minute, force::newton, length::millimeter, mass::kilogram,
    mass_density::kilogram_per_cubic_meter, power::watt, pressure::megapascal, torque::newton_meter,
    velocity::meter_per_second,
};

/// A length from millimetres.
pub fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

/// A length from inches; one inch is exactly 25.4 mm.
pub fn inch(value: f64) -> Length {
    mm(value * 25.4)
}

/// An angle from degrees.
pub fn degrees(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

/// A spindle speed from turns a minute.
pub fn rpm(value: f64) -> AngularVelocity {
    AngularVelocity::new::<revolution_per_minute>(value)
}

/// A force from newtons.
pub fn newtons(value: f64) -> Force {
    Force::new::<newton>(value)
}

/// A power from watts.
pub fn watts(value: f64) -> Power {
    Power::new::<watt>(value)
}

/// A pressure, strength or specific force from megapascals (N/mm²).
pub fn mpa(value: f64) -> Pressure {
    Pressure::new::<megapascal>(value)
}

/// A mass from kilograms.
pub fn kilograms(value: f64) -> Mass {
    Mass::new::<kilogram>(value)
}

/// A density from kilograms per cubic metre.
pub fn kg_per_m3(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

/// A torque from newton metres.
pub fn newton_metres(value: f64) -> Torque {
    Torque::new::<newton_meter>(value)
}

/// A cutting speed from metres a minute.
pub fn m_per_min(value: f64) -> Velocity {
    Velocity::new::<meter_per_second>(value / 60.0)
}

/// Reads a quantity as a plain number in the unit that the method names.
pub trait Plain {
    /// The number, in the unit used inside the rooms: mm, rad, rpm, N, W, MPa, kg, kg/m³, N m, m/min.
    fn plain(self) -> f64;
}

impl Plain for Length {
    fn plain(self) -> f64 {
        self.get::<millimeter>()
    }
}
impl Plain for Angle {
    fn plain(self) -> f64 {
        self.get::<uom::si::angle::radian>()
    }
}
impl Plain for AngularVelocity {
    fn plain(self) -> f64 {
        self.get::<revolution_per_minute>()
    }
}
impl Plain for Force {
    fn plain(self) -> f64 {
        self.get::<newton>()
    }
}
impl Plain for Power {
    fn plain(self) -> f64 {
        self.get::<watt>()
    }
}
impl Plain for Pressure {
    fn plain(self) -> f64 {
        self.get::<megapascal>()
    }
}
impl Plain for Mass {
    fn plain(self) -> f64 {
        self.get::<kilogram>()
    }
}
impl Plain for MassDensity {
    fn plain(self) -> f64 {
        self.get::<kilogram_per_cubic_meter>()
    }
}
impl Plain for Torque {
    fn plain(self) -> f64 {
        self.get::<newton_meter>()
    }
}
impl Plain for Velocity {
    fn plain(self) -> f64 {
        self.get::<meter_per_second>() * 60.0
    }
}
