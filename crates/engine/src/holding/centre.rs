//! A tailstock centre in a centre hole of the work.
//!
//! The cone presses along the spindle with its thrust and keeps the work from going aside by its form: its wall leans
//! by half the point's angle α from the axis, so without any friction a push aside of `N cot α` climbs the cone when the
//! thrust is N. It is a contact with that in place of a coefficient of friction: for the point of 60 degrees 1.73. It
//! turns with the work or the work on it, and holds nothing against turning.

use nalgebra::{Matrix3, Matrix6, SMatrix, Vector3};

use super::grip::{Pressed, Springs};
use super::{Contact, Grip, GripFault, Held, Overhang, SteadyLoad, Wrench};

/// The number that stands for the centre where contacts carry the number of their jaw; no chuck has so many jaws.
pub const CENTRE: u8 = 9;

/// A centre as it stands in the work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Centre {
    /// Where it bears on the work, on the spindle axis, over the jaw fronts, mm.
    pub height_mm: f64,
    /// How hard it presses towards the chuck once it is set, N.
    pub thrust_n: f64,
    /// Angle of its point, degrees: 60 as a rule.
    pub point_deg: f64,
    /// Stiffness of tailstock, quill and point along the spindle, N/mm.
    pub along_n_mm: f64,
    /// The same square to it.
    pub aside_n_mm: f64,
}

impl Centre {
    /// Push aside over thrust at which the work climbs the cone, without friction: `cot α`, α half the point.
    pub fn climbs_at(&self) -> f64 {
        1.0 / (self.point_deg / 2.0).to_radians().tan()
    }

    /// Where it bears, mm.
    pub fn at_mm(&self) -> Vector3<f64> {
        Vector3::z() * self.height_mm
    }

    fn contact(&self) -> Contact {
        Contact {
            jaw: CENTRE,
            at_mm: self.at_mm(),
            inward: -Vector3::z(),
            normal_stiffness_n_mm: self.along_n_mm,
            tangential_stiffness_n_mm: self.aside_n_mm,
            friction: self.climbs_at(),
        }
    }

    fn check(&self) -> Result<(), GripFault> {
        let positive = |value: f64| value.is_finite() && value > 0.0;
        let usable = |what, is: bool| if is { Ok(()) } else { Err(GripFault::Centre { what }) };
        usable("thrust", positive(self.thrust_n))?;
        usable("stiffness", positive(self.along_n_mm) && positive(self.aside_n_mm))?;
        usable("place", self.height_mm.is_finite())?;
        usable("point", self.point_deg > 0.0 && self.point_deg < 180.0)
    }

    /// How it gives way to a force on it, mm/N.
    fn give(&self) -> Matrix3<f64> {
        Matrix3::from_diagonal(&Vector3::new(1.0 / self.aside_n_mm, 1.0 / self.aside_n_mm, 1.0 / self.along_n_mm))
    }

    /// How the point in the work moves with the work: `d = u + θ × p`, the turn and shift about the origin.
    fn carried(&self) -> SMatrix<f64, 3, 6> {
        self.contact().carried(&Vector3::zeros())
    }

    /// What the work gives way at the centre and, for a load at that height, there: shared by all that is propped.
    fn propped(&self, held: &Matrix6<f64>, overhang: &Overhang, height_mm: f64) -> Option<SMatrix<f64, 3, 6>> {
        let carried = self.carried();
        let at_centre = held + overhang.compliance(self.height_mm);
        let between = held + overhang.compliance(self.height_mm.min(height_mm));
        let stiff = (self.give() + carried * at_centre * carried.transpose()).try_inverse()?;
        Some(-stiff * carried * between)
    }

    /// Force of the centre on the work, N, beyond its thrust, under a load at that height: the work on springs of this
    /// compliance at the jaws (about the origin), bending as `overhang` does, propped by the centre. The deflections
    /// of load and prop at the centre come to what the centre gives: `(F + J C Jᵀ) r = −J C w`.
    pub fn reaction_n(&self, held: &Matrix6<f64>, overhang: &Overhang, height_mm: f64, load: &Wrench) -> Vector3<f64> {
        let propped = self.propped(held, overhang, height_mm);
        propped.map_or_else(Vector3::zeros, |propped| propped * load.about(&Vector3::zeros()))
    }

    /// Shift and turn about the origin, at that height, for each unit of a load there, so propped.
    pub fn compliance(&self, held: &Matrix6<f64>, overhang: &Overhang, height_mm: f64) -> Matrix6<f64> {
        let free = held + overhang.compliance(height_mm);
        let between = held + overhang.compliance(self.height_mm.min(height_mm));
        match self.propped(held, overhang, height_mm) {
            Some(propped) => free + between * self.carried().transpose() * propped,
            None => free,
        }
    }
}

impl Grip {
    /// The work tightened in its jaws, then the centre set in it with its thrust, which the jaws' friction takes; from
    /// then on it stands in the springs like a jaw. Steady loads act once it is set. The work counts as rigid: bending
    /// of a long piece would bring more of a load near the centre onto it and less onto the jaws.
    ///
    /// # Errors
    /// A value that cannot be used, or a thrust that lifts a jaw's points.
    pub fn with_centre(&self, centre: &Centre, steady: &[SteadyLoad]) -> Result<Grip, GripFault> {
        centre.check()?;
        let thrust = self.about_reference(&Wrench::of_force(&centre.at_mm(), &(-Vector3::z() * centre.thrust_n)));
        let bare = Vector3::zeros();
        let mut held: Vec<Held> = self
            .held()
            .iter()
            .zip(&self.points)
            .map(|(held, point)| {
                let moved = point.response * thrust;
                Held {
                    preload_n: held.preload_n + moved[0],
                    preload_friction_n: held.preload_friction_n + Vector3::new(moved[1], moved[2], moved[3]),
                    ..*held
                }
            })
            .collect();
        if let Some(lifted) = held.iter().find(|held| held.preload_n < 0.0) {
            return Err(GripFault::TipsOff { jaw: lifted.contact.jaw });
        }
        held.push(Held { contact: centre.contact(), preload_n: centre.thrust_n, preload_friction_n: bare });
        let pressed = pressed(&held);
        let springs = Springs::of(&pressed)?;
        let load = steady.iter().fold(Wrench::none(), |sum, load| sum + Wrench::of_force(&load.at_mm, &load.force_n));
        Ok(Grip::assemble(held, &pressed, springs, &load, &self.vees).thrust_by(centre.thrust_n))
    }

    /// Shift and turn about the origin for each unit of a load about it, the jaws' pressure spread evenly.
    pub fn compliance(&self) -> Matrix6<f64> {
        let mut whole = Matrix6::zeros();
        for axis in 0..6 {
            let mut unit = [0.0; 6];
            unit[axis] = 1.0;
            let load = Wrench {
                force_n: Vector3::from_column_slice(&unit[..3]),
                moment_n_mm: Vector3::from_column_slice(&unit[3..]),
            };
            whole.set_column(axis, &self.motion(&load));
        }
        whole
    }
}

/// The held points with their springs alone, each with its share of its jaw's.
fn pressed(held: &[Held]) -> Vec<Pressed> {
    let whole = |jaw: u8| -> f64 {
        held.iter().filter(|held| held.contact.jaw == jaw).map(|held| held.contact.normal_stiffness_n_mm).sum()
    };
    let one = |held: &Held| Pressed {
        contact: held.contact,
        clamping_n: held.preload_n,
        share: held.contact.normal_stiffness_n_mm / whole(held.contact.jaw),
    };
    held.iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::super::{BeamSection, BeamStep, ContactSeed, Elasticity, JawGrip, Spring, TurnCut};
    use super::*;
    use crate::plan::Force3;

    fn jaws() -> Grip {
        let jaw = |number: usize| {
            let (sin, cos) = (120.0 * number as f64).to_radians().sin_cos();
            let seed = |z: f64| ContactSeed {
                at_mm: Vector3::new(18.0 * cos, 18.0 * sin, z),
                inward: Vector3::new(-cos, -sin, 0.0),
                share: 0.5,
            };
            JawGrip {
                jaw: number as u8 + 1,
                clamping_n: 6000.0,
                contacts: vec![seed(-30.0), seed(0.0)],
                normal_stiffness_n_mm: 50_000.0,
                tangential_stiffness_n_mm: 41_000.0,
                friction: 0.2,
            }
        };
        Grip::new(&[0, 1, 2].map(jaw), &[]).expect("a plain grip")
    }

    fn centre(thrust_n: f64, stiffness_n_mm: f64) -> Centre {
        Centre { height_mm: 110.0, thrust_n, point_deg: 60.0, along_n_mm: stiffness_n_mm, aside_n_mm: stiffness_n_mm }
    }

    fn cut() -> TurnCut {
        let force = Force3 { cutting: 500.0, feed: 150.0, passive: 80.0 };
        TurnCut { radius_mm: 18.0, height_mm: 108.0, force, weight_n: 9.0, mass_centre_mm: Vector3::z() * 40.0 }
    }

    fn bar() -> Overhang {
        let step = BeamStep { length_mm: 110.0, section: BeamSection::round(36.0) };
        Overhang::new(&[step], Elasticity { modulus_mpa: 205_000.0, poisson: 0.29 })
    }

    #[test]
    fn thrust_and_jaws_balance_before_any_cut() {
        let propped = jaws().with_centre(&centre(1200.0, 20_000.0), &[]).expect("a plain centre");
        let sum = propped.held().iter().fold(Wrench::none(), |sum, held| {
            let force = held.contact.inward * held.preload_n + held.preload_friction_n;
            sum + Wrench::of_force(&held.contact.at_mm, &force)
        });
        assert!(sum.force_n.norm() < 1e-8 && sum.moment_n_mm.norm() < 1e-6, "{sum:?}");
    }

    #[test]
    fn a_centre_that_hardly_presses_or_gives_no_support_changes_nothing() {
        let (bare, soft) = (jaws(), centre(1e-3, 1e-6));
        let propped = bare.with_centre(&soft, &[]).expect("a plain centre");
        let [one, other] = [&bare, &propped].map(|grip| grip.worst_jaw_over_turn(&cut(), 72).expect("slips").factor);
        assert!((one - other).abs() < 1e-5 * one, "{one} {other}");
        let springs = Spring::of_contacts(&bare, &cut()) + Spring::of_overhang(&bar(), &cut());
        let soft = Spring::of_propped(&bare, &bar(), &soft, &cut());
        assert!((springs.at_um(12.0, 40.0) - soft.at_um(12.0, 40.0)).abs() < 1e-6);
    }

    /// What the centre bears no longer tips the work in its jaws.
    #[test]
    fn a_long_bar_is_held_better_and_springs_less_with_a_centre() {
        let (bare, centre) = (jaws(), centre(1200.0, 20_000.0));
        let propped = bare.with_centre(&centre, &[]).expect("a plain centre");
        let [alone, with] = [&bare, &propped].map(|grip| grip.worst_jaw_over_turn(&cut(), 72).expect("slips").factor);
        assert!(with > 1.5 * alone, "{alone} {with}");
        let alone = (Spring::of_contacts(&bare, &cut()) + Spring::of_overhang(&bar(), &cut())).most(0.0, 18.0, 72);
        let with = Spring::of_propped(&bare, &bar(), &centre, &cut()).most(0.0, 18.0, 72);
        assert!(with.moved_um.abs() < alone.moved_um.abs(), "{alone:?} {with:?}");
        let [alone, with] = [&bare, &propped].map(|grip| {
            let hold = grip.last_hold(6000.0, super::super::HoldRule::Upper).expect("points");
            let load = cut().at_angle(30.0);
            hold.under(&load.cut(), &load.weight()).expect("a load").factor
        });
        assert!(with > alone, "{alone} {with}");
    }

    #[test]
    fn no_thrust_is_no_centre_and_too_much_slips_without_a_cut() {
        let fault = |centre: Centre| jaws().with_centre(&centre, &[]).expect_err("refused");
        assert_eq!(fault(centre(0.0, 20_000.0)), GripFault::Centre { what: "thrust" });
        assert_eq!(fault(centre(f64::NAN, 20_000.0)), GripFault::Centre { what: "thrust" });
        assert_eq!(fault(centre(900.0, 0.0)), GripFault::Centre { what: "stiffness" });
        // Three jaws of 6 kN at 0.2 bear 3600 N along the spindle.
        let pressed = jaws().with_centre(&centre(3700.0, 20_000.0), &[]).expect("a plain centre");
        assert_eq!(pressed.worst_jaw_over_turn(&cut(), 72).map(|worst| worst.factor), Some(0.0));
    }
}
