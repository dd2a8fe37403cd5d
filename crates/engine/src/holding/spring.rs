//! How far the cut pushes work and machine apart.

use std::ops::Add;

use nalgebra::{Vector3, Vector6};

use super::load::harmonics;
use super::{Centre, Grip, Overhang, TurnCut, Wrench};

/// Movement of the work at the tool, along the spindle towards the chuck, for every place of the tool in one cut.
///
/// A load that turns with the tool moves the work by `q₀ + q₁ cos φ + q₂ sin φ`, evenly with the radius, and the
/// tool's place is `r (cos φ, sin φ)`: at an angle the movement is of second degree in the radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spring {
    /// Shift and turn about the origin with the tool on the axis, by harmonics.
    on_axis: [Vector6<f64>; 3],
    /// What each mm of radius adds.
    per_mm: [Vector6<f64>; 3],
}

/// The greatest movement and where.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MostSpring {
    /// Work and tool apart, µm; negative: towards one another.
    pub moved_um: f64,
    /// Distance of the tool from the spindle axis, mm.
    pub radius_mm: f64,
    /// Angle of the tool from jaw 1, degrees.
    pub angle_deg: f64,
}

impl Spring {
    /// Of the work on the springs of its contacts.
    pub fn of_contacts(grip: &Grip, cut: &TurnCut) -> Spring {
        Spring::of(cut, |load| grip.motion(load))
    }

    /// Of the work that stands out and bends.
    pub fn of_overhang(overhang: &Overhang, cut: &TurnCut) -> Spring {
        let compliance = overhang.compliance(cut.height_mm);
        Spring::of(cut, |load| compliance * load.about(&Vector3::zeros()))
    }

    /// Of the work on the springs of its jaws and bending, propped by a centre; the grip is that of the jaws alone.
    pub fn of_propped(jaws: &Grip, overhang: &Overhang, centre: &Centre, cut: &TurnCut) -> Spring {
        let compliance = centre.compliance(&jaws.compliance(), overhang, cut.height_mm);
        Spring::of(cut, |load| compliance * load.about(&Vector3::zeros()))
    }

    fn of(cut: &TurnCut, motion: impl Fn(&Wrench) -> Vector6<f64>) -> Spring {
        let at = |radius_mm: f64| {
            let cut = TurnCut { radius_mm, ..*cut };
            harmonics(|cos, sin| motion(&cut.at_direction(cos, sin).cut()))
        };
        let (on_axis, a_mm_out) = (at(0.0), at(1.0));
        Spring { on_axis, per_mm: [0, 1, 2].map(|part| a_mm_out[part] - on_axis[part]) }
    }

    /// With the tool there, towards the chuck, µm: `−1000 e_z · (u + θ × p)`.
    pub fn at_um(&self, radius_mm: f64, angle_deg: f64) -> f64 {
        let [still, even, square] = self.by_radius(angle_deg);
        still + radius_mm * (even + radius_mm * square)
    }

    /// The greatest movement, either way, with what the machine gives everywhere, and the tool anywhere within this
    /// radius; exact in the radius, at so many angles evenly round from jaw 1.
    pub fn most(&self, machine_um: f64, radius_mm: f64, angles: u32) -> MostSpring {
        let mut most = MostSpring::default();
        for step in 0..angles.max(1) {
            let angle_deg = 360.0 * f64::from(step) / f64::from(angles.max(1));
            let [still, even, square] = self.by_radius(angle_deg);
            let still = still + machine_um;
            let summit = if square == 0.0 { 0.0 } else { (-even / (2.0 * square)).clamp(0.0, radius_mm) };
            for radius_mm in [radius_mm, summit, 0.0] {
                let moved_um = still + radius_mm * (even + radius_mm * square);
                if moved_um.abs() > most.moved_um.abs() {
                    most = MostSpring { moved_um, radius_mm, angle_deg };
                }
            }
        }
        most
    }

    /// Parts that stay, go with the radius, with its square, µm.
    fn by_radius(&self, angle_deg: f64) -> [f64; 3] {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        let turned = |parts: &[Vector6<f64>; 3]| parts[0] + parts[1] * cos + parts[2] * sin;
        let (axis, out) = (turned(&self.on_axis), turned(&self.per_mm));
        let lift = |q: &Vector6<f64>| q[3] * sin - q[4] * cos;
        [axis[2], lift(&axis) + out[2], lift(&out)].map(|part| -1000.0 * part)
    }
}

impl Add for Spring {
    type Output = Spring;
    fn add(self, other: Spring) -> Spring {
        let sum = |a: [Vector6<f64>; 3], b: [Vector6<f64>; 3]| [0, 1, 2].map(|part| a[part] + b[part]);
        Spring { on_axis: sum(self.on_axis, other.on_axis), per_mm: sum(self.per_mm, other.per_mm) }
    }
}

/// Movement of the tool away from the work by the machine's own spring, µm: passive force N over N/µm.
pub fn machine_spring_um(passive_n: f64, stiffness_n_um: f64) -> f64 {
    passive_n / stiffness_n_um
}

/// Stiffness of two springs in series, N/mm: jaw and packing.
pub fn in_series_n_mm(one_n_mm: f64, other_n_mm: f64) -> f64 {
    one_n_mm * other_n_mm / (one_n_mm + other_n_mm)
}

#[cfg(test)]
mod tests {
    use super::super::{BeamSection, BeamStep, Elasticity};
    use super::*;
    use crate::plan::Force3;

    fn cut() -> TurnCut {
        let force = Force3 { cutting: 800.0, feed: 330.0, passive: 270.0 };
        TurnCut { radius_mm: 0.0, height_mm: 24.0, force, weight_n: 0.0, mass_centre_mm: Vector3::zeros() }
    }

    fn overhang() -> Overhang {
        let section = BeamSection::rectangle([-8.0, 20.0], [-12.0, 9.0]).turned(0.3);
        Overhang::new(&[BeamStep { length_mm: 30.0, section }], Elasticity { modulus_mpa: 69_000.0, poisson: 0.33 })
    }

    #[test]
    fn harmonics_give_what_the_load_itself_moves() {
        let (beam, cut) = (overhang(), cut());
        let spring = Spring::of_overhang(&beam, &cut);
        for radius_mm in [0.0, 3.0, 17.0, 40.0] {
            for angle_deg in [0.0, 33.0, 90.0, 171.0, 300.0] {
                let load = TurnCut { radius_mm, ..cut }.at_angle(angle_deg);
                let moved_um = -1000.0 * beam.movement_mm(&load.at_mm, &load.force_n).z;
                let off = (spring.at_um(radius_mm, angle_deg) - moved_um).abs();
                assert!(off < 1e-9, "{radius_mm} mm, {angle_deg} deg: {off}");
            }
        }
    }

    #[test]
    fn no_place_within_the_radius_moves_more_than_the_most() {
        let spring = Spring::of_overhang(&overhang(), &cut());
        let most = spring.most(1.5, 30.0, 72);
        assert!((spring.at_um(most.radius_mm, most.angle_deg) + 1.5 - most.moved_um).abs() < 1e-9);
        for step in 0..72 {
            for tenth in 0..=300 {
                let here = spring.at_um(f64::from(tenth) / 10.0, 5.0 * f64::from(step)) + 1.5;
                assert!(here.abs() <= most.moved_um.abs() + 1e-9);
            }
        }
    }
}
