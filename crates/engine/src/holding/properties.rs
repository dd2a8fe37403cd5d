//! Properties that any grip must have, tried on grips by chance.

use nalgebra::{Rotation3, Vector3};
use proptest::prelude::*;

use super::*;
use crate::plan::Force3;

/// A block in four jaws, every jaw with its own patch.
#[derive(Debug, Clone)]
struct Held4 {
    half: [f64; 2],
    clamping: [f64; 2],
    friction: [f64; 4],
    /// Width, lower end and bite of each patch.
    patch: [(f64, f64, f64); 4],
    steady: Vector3<f64>,
}

impl Held4 {
    fn jaws(&self) -> Vec<JawGrip> {
        (0..4).map(|index| self.jaw(index)).collect()
    }

    fn jaw(&self, index: usize) -> JawGrip {
        let outward = [Vector3::x(), Vector3::y(), -Vector3::x(), -Vector3::y()][index];
        let along = Vector3::z().cross(&outward);
        let (width, low, bite) = self.patch[index];
        let corners = [(-0.5, 0.0), (0.5, 0.0), (0.5, 1.0), (-0.5, 1.0)].map(|(across, up)| {
            outward * self.half[index % 2] + along * (across * width) + Vector3::z() * (low + up * bite)
        });
        JawGrip {
            jaw: index as u8 + 1,
            clamping_n: self.clamping[index % 2],
            contacts: patch_points(&corners)
                .into_iter()
                .map(|(at_mm, share)| ContactSeed { at_mm, inward: -outward, share })
                .collect(),
            normal_stiffness_n_mm: 50_000.0,
            tangential_stiffness_n_mm: 41_000.0,
            friction: self.friction[index],
        }
    }

    fn steady_loads(&self) -> Vec<SteadyLoad> {
        vec![SteadyLoad { what: "unbalance".into(), at_mm: Vector3::new(0.0, 0.0, 10.0), force_n: self.steady }]
    }

    fn grip(&self) -> Grip {
        Grip::new(&self.jaws(), &self.steady_loads()).expect("patches are near enough to face each other")
    }
}

fn held4() -> impl Strategy<Value = Held4> {
    let patch = (8.0..24.0f64, -26.0..-24.0f64, 14.0..22.0f64);
    (
        [15.0..40.0f64, 15.0..40.0f64],
        [4000.0..12_000.0f64, 4000.0..12_000.0f64],
        [0.08..0.3f64, 0.08..0.3f64, 0.08..0.3f64, 0.08..0.3f64],
        [patch.clone(), patch.clone(), patch.clone(), patch],
        [-60.0..60.0f64, -60.0..60.0f64],
    )
        .prop_map(|(half, clamping, friction, patch, [x, y])| Held4 {
            half,
            clamping,
            friction,
            patch,
            steady: Vector3::new(x, y, 0.0),
        })
}

fn facing() -> impl Strategy<Value = TurnCut> {
    (5.0..60.0f64, 5.0..50.0f64, 200.0..2500.0f64, 0.0..900.0f64, 0.0..900.0f64, 0.0..40.0f64).prop_map(
        |(radius_mm, height_mm, cutting, feed, passive, weight_n)| TurnCut {
            radius_mm,
            height_mm,
            force: Force3 { cutting, feed, passive },
            weight_n,
            mass_centre_mm: Vector3::new(1.0, -2.0, 0.5 * height_mm),
        },
    )
}

/// Force of every point on the work at this factor, by moving the work: apart from the responses kept in the grip.
fn forces(grip: &Grip, steady: &[SteadyLoad], load: &CutLoad, factor: f64) -> Vec<Vector3<f64>> {
    let scaled = CutLoad { force_n: load.force_n * factor, ..*load };
    let all = steady.iter().fold(scaled.cut() + scaled.weight(), |sum, s| sum + Wrench::of_force(&s.at_mm, &s.force_n));
    let one = |held: &Held| {
        let moved = grip.movement_mm(&held.contact.at_mm, &all);
        held.contact.inward * held.preload_n + held.preload_friction_n - held.contact.springs() * moved
    };
    grip.held().iter().map(one).collect()
}

/// How far the nearest jaw is inside its friction cone: least of `μ N − |T|`.
fn reserve(grip: &Grip, steady: &[SteadyLoad], load: &CutLoad, factor: f64) -> f64 {
    let forces = forces(grip, steady, load, factor);
    let of_jaw = |jaw: u8| {
        let own = grip.held().iter().zip(&forces).filter(|(held, _)| held.contact.jaw == jaw);
        let (mut normal, mut friction, mut mu) = (0.0, Vector3::zeros(), f64::INFINITY);
        for (held, force) in own {
            let along = force.dot(&held.contact.inward);
            normal += along;
            friction += force - held.contact.inward * along;
            mu = held.contact.friction.min(mu);
        }
        mu * normal - friction.norm()
    };
    (1..=4).map(of_jaw).fold(f64::INFINITY, f64::min)
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-8 * one.abs().max(other.abs()).max(1e-3)
}

fn alike(one: Option<f64>, other: Option<f64>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => near(one, other),
        (one, other) => one.is_none() && other.is_none(),
    }
}

fn factor(worst: Option<Worst>) -> Option<f64> {
    worst.map(|worst| worst.factor)
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 200,
        rng_seed: proptest::test_runner::RngSeed::Fixed(1886),
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn the_root_is_where_the_first_jaw_leaves_its_cone(held in held4(), cut in facing(), angle in 0.0..360.0f64) {
        let (grip, steady, load) = (held.grip(), held.steady_loads(), cut.at_angle(angle));
        let reserve = |factor| reserve(&grip, &steady, &load, factor);
        match grip.first_slip(&load).jaw {
            Some(0.0) => prop_assert!(reserve(0.0) <= 1e-6),
            Some(root) => {
                prop_assert!(reserve(root * (1.0 - 1e-6)) > 0.0 && reserve(root * (1.0 + 1e-6)) < 0.0);
                prop_assert!((0..20).all(|step| reserve(root * f64::from(step) / 20.0) > 0.0));
            }
            None => prop_assert!([1.0, 1e2, 1e4].into_iter().all(|factor| reserve(factor) > 0.0)),
        }
    }

    #[test]
    fn contact_forces_balance_the_loads(held in held4(), cut in facing(), angle in 0.0..360.0f64) {
        let (grip, steady, load) = (held.grip(), held.steady_loads(), cut.at_angle(angle));
        let mut rest = load.cut() + load.weight();
        for load in &steady {
            rest = rest + Wrench::of_force(&load.at_mm, &load.force_n);
        }
        for (held, force) in grip.held().iter().zip(forces(&grip, &steady, &load, 1.0)) {
            rest = rest + Wrench::of_force(&held.contact.at_mm, &force);
        }
        prop_assert!(rest.force_n.norm() < 1e-6 && rest.moment_n_mm.norm() < 1e-4, "{rest:?}");
    }

    #[test]
    fn the_turn_finds_the_least_of_its_angles(held in held4(), cut in facing()) {
        let grip = held.grip();
        let worst = grip.worst_over_turn(&cut, 72);
        let slips: Vec<Slip> = (0..72).map(|step| grip.first_slip(&cut.at_angle(5.0 * f64::from(step)))).collect();
        let least = |of: fn(&Slip) -> Option<f64>| slips.iter().filter_map(of).min_by(f64::total_cmp);
        prop_assert!(alike(factor(worst.jaw), least(|slip| slip.jaw)));
        prop_assert!(alike(factor(worst.point), least(|slip| slip.point)));
        prop_assert!(alike(factor(worst.lift), least(|slip| slip.lift)));
        prop_assert_eq!(grip.worst_jaw_over_turn(&cut, 72), worst.jaw);
        prop_assert_eq!(grip.worst_lift_over_turn(&cut, 72), worst.lift);
        if let Some(worst) = worst.jaw {
            let there = grip.first_slip(&cut.at_angle(worst.angle_deg));
            prop_assert!(alike(there.jaw, Some(worst.factor)));
        }
    }

    #[test]
    fn all_forces_scaled_alike_change_no_factor(held in held4(), cut in facing(), by in 0.2..5.0f64) {
        let scaled = Held4 { clamping: held.clamping.map(|force| force * by), steady: held.steady * by, ..held.clone() };
        let force = Force3 { cutting: cut.force.cutting * by, feed: cut.force.feed * by, passive: cut.force.passive * by };
        let scaled_cut = TurnCut { force, weight_n: cut.weight_n * by, ..cut };
        let (one, other) = (held.grip().worst_over_turn(&cut, 36), scaled.grip().worst_over_turn(&scaled_cut, 36));
        prop_assert!(alike(factor(one.jaw), factor(other.jaw)));
        prop_assert!(alike(factor(one.point), factor(other.point)));
        prop_assert!(alike(factor(one.lift), factor(other.lift)));
    }

    #[test]
    fn doubled_preload_doubles_every_factor(held in held4(), cut in facing()) {
        let light = TurnCut { weight_n: 0.0, ..cut };
        let held = Held4 { steady: Vector3::zeros(), ..held };
        let tighter = Held4 { clamping: held.clamping.map(|force| force * 2.0), ..held.clone() };
        let (one, other) = (held.grip().worst_over_turn(&light, 36), tighter.grip().worst_over_turn(&light, 36));
        let doubled = |worst| factor(worst).map(|factor| factor * 2.0);
        prop_assert!(alike(doubled(one.jaw), factor(other.jaw)));
        prop_assert!(alike(doubled(one.point), factor(other.point)));
        prop_assert!(alike(doubled(one.lift), factor(other.lift)));
    }

    #[test]
    fn the_mirror_image_holds_as_well(held in held4(), cut in facing(), angle in 0.0..360.0f64) {
        let mirror = |vector: Vector3<f64>| Vector3::new(vector.x, -vector.y, vector.z);
        let mut jaws = held.jaws();
        let mut steady = held.steady_loads();
        let load = cut.at_angle(angle);
        let seeds = jaws.iter_mut().flat_map(|jaw| &mut jaw.contacts);
        seeds.for_each(|seed| (seed.at_mm, seed.inward) = (mirror(seed.at_mm), mirror(seed.inward)));
        steady.iter_mut().for_each(|load| (load.at_mm, load.force_n) = (mirror(load.at_mm), mirror(load.force_n)));
        let mirrored = CutLoad {
            at_mm: mirror(load.at_mm),
            force_n: mirror(load.force_n),
            weight_n: mirror(load.weight_n),
            mass_centre_mm: mirror(load.mass_centre_mm),
        };
        let one = held.grip().first_slip(&load);
        let other = Grip::new(&jaws, &steady).expect("the same grip in a mirror").first_slip(&mirrored);
        prop_assert!(alike(one.jaw, other.jaw) && alike(one.point, other.point) && alike(one.lift, other.lift));
    }

    #[test]
    fn a_quarter_turn_of_the_whole_set_up_changes_nothing(held in held4(), cut in facing()) {
        let quarter = Rotation3::from_axis_angle(&Vector3::z_axis(), std::f64::consts::FRAC_PI_2);
        let mut jaws = held.jaws();
        let mut steady = held.steady_loads();
        let seeds = jaws.iter_mut().flat_map(|jaw| &mut jaw.contacts);
        seeds.for_each(|seed| (seed.at_mm, seed.inward) = (quarter * seed.at_mm, quarter * seed.inward));
        steady.iter_mut().for_each(|load| (load.at_mm, load.force_n) = (quarter * load.at_mm, quarter * load.force_n));
        let turned_cut = TurnCut { mass_centre_mm: quarter * cut.mass_centre_mm, ..cut };
        let one = held.grip().worst_over_turn(&cut, 72);
        let other = Grip::new(&jaws, &steady).expect("the same grip, turned").worst_over_turn(&turned_cut, 72);
        prop_assert!(alike(factor(one.jaw), factor(other.jaw)) && alike(factor(one.lift), factor(other.lift)));
        prop_assert!(alike(factor(one.point), factor(other.point)));
    }

    #[test]
    fn no_input_gives_a_factor_that_is_not_a_number(
        numbers in proptest::collection::vec(prop_oneof![any::<f64>(), -50.0..50.0f64, Just(0.0)], 24),
        clamping in prop_oneof![any::<f64>(), 0.0..1e4f64],
        cutting in any::<f64>(),
    ) {
        let point = |start: usize| Vector3::new(numbers[start], numbers[start + 1], numbers[start + 2]);
        let jaw = |index: usize, inward: Vector3<f64>| JawGrip {
            jaw: index as u8 + 1,
            clamping_n: clamping,
            contacts: [0, 3, 6].map(|at| ContactSeed { at_mm: point(12 * index + at), inward, share: 1.0 }).to_vec(),
            normal_stiffness_n_mm: 5e4,
            tangential_stiffness_n_mm: 4e4,
            friction: 0.1,
        };
        if let Ok(grip) = Grip::new(&[jaw(0, point(9)), jaw(1, -point(9))], &[]) {
            let force = Force3 { cutting, feed: 1.0, passive: 1.0 };
            let cut = TurnCut { radius_mm: 20.0, height_mm: 30.0, force, weight_n: 1.0, mass_centre_mm: point(21) };
            let worst = grip.worst_over_turn(&cut, 8);
            for factor in [worst.jaw, worst.point, worst.lift].into_iter().flatten() {
                prop_assert!(factor.factor >= 0.0 && factor.factor.is_finite());
            }
            let slip = grip.first_slip(&cut.at_angle(numbers[0]));
            prop_assert!([slip.jaw, slip.point, slip.lift].into_iter().flatten().all(|factor| factor >= 0.0));
        }
    }
}

fn plain() -> Held4 {
    Held4 {
        half: [25.0; 2],
        clamping: [8000.0; 2],
        friction: [0.2; 4],
        patch: [(20.0, -25.0, 25.0); 4],
        steady: Vector3::zeros(),
    }
}

fn plain_cut() -> TurnCut {
    let force = Force3 { cutting: 1000.0, feed: 300.0, passive: 400.0 };
    TurnCut { radius_mm: 25.0, height_mm: 40.0, force, weight_n: 0.0, mass_centre_mm: Vector3::zeros() }
}

#[test]
fn a_jaw_without_a_jaw_opposite_is_a_fault() {
    let jaws = plain().jaws();
    assert_eq!(Grip::new(&jaws[..3], &[]), Err(GripFault::Unopposed { jaw: 2 }));
    assert_eq!(Grip::new(&jaws[..1], &[]), Err(GripFault::Unopposed { jaw: 1 }));
    assert_eq!(Grip::new(&[], &[]), Err(GripFault::NoJaws));
}

#[test]
fn points_in_a_line_and_too_few_are_faults() {
    let mut jaws = vec![plain().jaw(0), plain().jaw(2)];
    jaws.iter_mut().for_each(|jaw| jaw.contacts.truncate(1));
    assert_eq!(Grip::new(&jaws, &[]), Err(GripFault::TooFewPoints { points: 2 }));
    for jaw in &mut jaws {
        let seed = jaw.contacts[0];
        jaw.contacts = [1.0, 1.5].map(|out| ContactSeed { at_mm: -seed.inward * 25.0 * out, ..seed }).to_vec();
    }
    assert_eq!(Grip::new(&jaws, &[]), Err(GripFault::InALine));
}

#[test]
fn a_loose_or_doubled_jaw_is_a_fault() {
    let mut jaws = plain().jaws();
    jaws[3].clamping_n = 0.0;
    assert_eq!(Grip::new(&jaws, &[]), Err(GripFault::NotTight { jaw: 4 }));
    jaws[3] = jaws[1].clone();
    assert!(matches!(Grip::new(&jaws, &[]), Err(GripFault::Unusable { jaw: 2, .. })));
    jaws[3] = JawGrip { friction: f64::NAN, ..plain().jaw(3) };
    assert!(matches!(Grip::new(&jaws, &[]), Err(GripFault::Unusable { jaw: 4, what: "friction" })));
}

#[test]
fn patches_that_do_not_face_each_other_lose_points_and_keep_friction() {
    let patch = |low| (20.0, low, 25.0);
    let offset =
        Held4 { half: [5.0, 25.0], patch: [patch(-25.0), patch(-25.0), patch(-110.0), patch(-25.0)], ..plain() };
    let grip = offset.grip();
    assert!(grip.held().len() < 16, "some points are lifted");
    assert!(grip.held().iter().all(|held| held.preload_n >= 0.0));
    let left: f64 = grip.held().iter().map(|held| held.preload_friction_n.norm()).sum();
    assert!(left > 1.0, "friction is left behind: {left} N");
}

#[test]
fn a_steady_load_beyond_friction_leaves_nothing_for_the_cut() {
    let grip = Held4 { steady: Vector3::new(0.0, 0.0, 7000.0), ..plain() }.grip();
    let slip = grip.worst_over_turn(&plain_cut(), 72);
    assert_eq!(factor(slip.jaw), Some(0.0));
}

#[test]
fn weight_lowers_the_factor_of_a_cut_without_up_and_down() {
    let push = TurnCut { force: Force3 { passive: 1000.0, ..Force3::default() }, ..plain_cut() };
    let heavy = TurnCut { weight_n: 500.0, ..push };
    let grip = plain().grip();
    let [light, heavy] = [push, heavy].map(|cut| grip.worst_jaw_over_turn(&cut, 72).expect("it slips").factor);
    assert!(heavy < light, "{heavy} against {light}");
}
