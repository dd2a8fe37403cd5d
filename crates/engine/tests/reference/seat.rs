//! A seat that only pushes, as springs: chuck face, ledges of the jaws or a stop behind the work, beside the first slip that
//! the plan reckons without it.
//!
//! Nothing of the engine's slip is used but its preload and its closed form: stiffness is summed here, the springs of the
//! seat taking part where the load presses them (a linear complementarity, found by trying its sets of pressed points).

use engine::holding::{Carried, Contact, CutLoad, Grip, SeatPoint, TurnCut};
use nalgebra::{Matrix6, SMatrix, Vector3, Vector4, Vector6};

use crate::contacts::Dice;
use crate::creep;

/// A place behind the work that pushes away from the chuck, without friction.
#[derive(Clone, Copy)]
struct Stay {
    at_mm: Vector3<f64>,
    stiffness_n_mm: f64,
}

fn moved(at_mm: &Vector3<f64>) -> SMatrix<f64, 3, 6> {
    let mut moved = SMatrix::<f64, 3, 6>::zeros();
    moved.fixed_view_mut::<3, 3>(0, 0).fill_with_identity();
    moved.fixed_view_mut::<3, 3>(0, 3).copy_from(&-at_mm.cross_matrix());
    moved
}

fn springs(contact: &Contact) -> SMatrix<f64, 3, 3> {
    let along = contact.inward * contact.inward.transpose();
    SMatrix::<f64, 3, 3>::identity() * contact.tangential_stiffness_n_mm
        + along * (contact.normal_stiffness_n_mm - contact.tangential_stiffness_n_mm)
}

/// Movement of the work under a load: seat points push where the load presses them, and only there.
fn motion(grip: &Grip, stays: &[Stay], load: &Vector6<f64>) -> (Vector6<f64>, usize) {
    let jaws = grip.held().iter().fold(Matrix6::zeros(), |sum, held| {
        let moved = moved(&held.contact.at_mm);
        sum + moved.transpose() * springs(&held.contact) * moved
    });
    let row = |stay: &Stay| moved(&stay.at_mm).row(2).into_owned();
    let mut pressed: Vec<bool> = vec![true; stays.len()];
    for _ in 0..50 {
        let active = stays.iter().zip(&pressed).filter(|(_, on)| **on);
        let all = active.fold(jaws, |sum, (stay, _)| sum + row(stay).transpose() * row(stay) * stay.stiffness_n_mm);
        let q = all.cholesky().expect("jaws hold the work").solve(load);
        let meets: Vec<bool> = stays.iter().map(|stay| (row(stay) * q).x < 0.0).collect();
        if meets == pressed {
            return (q, pressed.iter().filter(|on| **on).count());
        }
        pressed = meets;
    }
    panic!("no set of pressed points fits");
}

/// Factor at which a jaw slips with the tool at this angle.
fn slips(grip: &Grip, stays: &[Stay], turn: &TurnCut, angle_deg: f64) -> (f64, usize) {
    let cut = turn.at_angle(angle_deg).cut();
    let load = Vector6::from_iterator(cut.force_n.iter().chain(cut.moment_n_mm.iter()).copied());
    let (q, pressed) = motion(grip, stays, &load);
    let jaws = grip.held().iter().map(|held| held.contact.jaw).max().unwrap_or(0);
    let factor = |jaw: u8| {
        let own = grip.held().iter().filter(|held| held.contact.jaw == jaw);
        let (mut standing, mut growing, mut friction) = (Vector4::zeros(), Vector4::zeros(), f64::INFINITY);
        for held in own {
            let contact = &held.contact;
            let force = -springs(contact) * moved(&contact.at_mm) * q;
            let normal = contact.inward.dot(&force);
            let aside = force - contact.inward * normal;
            let stuck = held.preload_friction_n;
            standing += Vector4::new(held.preload_n, stuck.x, stuck.y, stuck.z);
            growing += Vector4::new(normal, aside.x, aside.y, aside.z);
            friction = friction.min(contact.friction);
        }
        Carried { standing, growing, friction }.slips_at().unwrap_or(f64::INFINITY)
    };
    ((1..=jaws).map(factor).fold(f64::INFINITY, f64::min), pressed)
}

/// A chuck face, ledges under the jaws, or the end of a stop, as stiff as a tenth to ten times a jaw.
fn seat(dice: &mut Dice, grip: &Grip, radius_mm: f64, bite_mm: f64) -> Vec<Stay> {
    let stiffness = grip.held().iter().map(|held| held.contact.normal_stiffness_n_mm).fold(0.0, f64::max);
    let whole = stiffness * 10f64.powf(dice.between(-1.0, 1.0)) * 2.0;
    let jaws = grip.held().iter().map(|held| held.contact.jaw).max().unwrap_or(0);
    let places: Vec<(f64, f64)> = match dice.pick(3) {
        0 => (0..12).map(|at| (radius_mm * 0.95, std::f64::consts::TAU * f64::from(at) / 12.0)).collect(),
        1 => {
            let ledge = |jaw: u8| (radius_mm - 2.0, std::f64::consts::TAU * f64::from(jaw) / f64::from(jaws));
            (0..jaws).map(ledge).collect()
        }
        _ => vec![(0.0, 0.0)],
    };
    let share = whole / places.len() as f64;
    let stay = |(r, angle): (f64, f64)| Stay {
        at_mm: Vector3::new(r * angle.cos(), r * angle.sin(), -bite_mm),
        stiffness_n_mm: share,
    };
    places.into_iter().map(stay).collect()
}

/// A random hold, its cut and a seat behind it.
fn case(seed: u64) -> (Grip, TurnCut, Vec<Stay>) {
    let mut dice = Dice::new(21_000 + seed);
    let (jaws, radius) = creep::jaws(&mut dice);
    let turn = creep::cut(&mut dice, radius);
    let grip = Grip::new(&jaws, &[]).expect("a plain grip");
    let bite = -grip.held().iter().map(|held| held.contact.at_mm.z).fold(0.0, f64::min);
    let stays = seat(&mut dice, &grip, radius, bite);
    (grip, turn, stays)
}

const HOLDS: u64 = 1000;

/// The engine's factor with a seat is the less of the two that are worked out here, at every angle; and the seat does
/// lower it now and then, where the work tips over its edge and is pulled out of the jaw across: left out, it would flatter.
#[test]
fn a_seat_counts_where_it_makes_a_jaw_slip_sooner() {
    let (mut sooner, mut least_share, mut angles) = (0, 1.0_f64, 0);
    for seed in 0..HOLDS {
        let (grip, turn, stays) = case(seed);
        let points: Vec<SeatPoint> =
            stays.iter().map(|stay| SeatPoint { at_mm: stay.at_mm, stiffness_n_mm: stay.stiffness_n_mm }).collect();
        let seated = grip.clone().seated(&points);
        let (mut without, mut with) = (f64::INFINITY, f64::INFINITY);
        for step in 0..72 {
            let angle = 5.0 * f64::from(step);
            let (alone, (on_seat, pressed)) = (slips(&grip, &[], &turn, angle).0, slips(&grip, &stays, &turn, angle));
            let load = turn.at_angle(angle);
            let ours = seated.first_slip(&load).jaw.unwrap_or(f64::INFINITY);
            let theirs = alone.min(on_seat);
            let same = ours == theirs || (ours - theirs).abs() <= 1e-8 * theirs;
            assert!(same, "seed {seed}, angle {angle}: {ours}, here {alone} and {on_seat} with {pressed} pressed");
            let pushes = seated.seat_pushes_n(&load);
            assert!(if on_seat < alone * (1.0 - 1e-9) { pushes > 0.0 } else { pushes >= 0.0 }, "seed {seed}: {pushes}");
            (without, with, angles) = (without.min(alone), with.min(theirs), angles + usize::from(pressed > 0));
        }
        let ours = seated.worst_jaw_over_turn(&turn, 72).map_or(f64::INFINITY, |worst| worst.factor);
        assert!((ours - with).abs() <= 1e-8 * with, "seed {seed}: {ours} over the turn, here {with}");
        assert!(seated.worst_over_turn(&turn, 72).jaw == seated.worst_jaw_over_turn(&turn, 72), "seed {seed}");
        sooner += u32::from(with < without * (1.0 - 1e-6));
        least_share = least_share.min(with / without);
    }
    assert!(angles > 10_000, "the seat is hardly ever pressed: {angles}");
    assert!(sooner > 50 && (0.7..0.95).contains(&least_share), "{sooner} of {HOLDS} sooner, least {least_share}");
}

/// By hand: work in jaws that are all but free along the spindle, pushed straight back on a seat of so many points, presses on
/// all of them alike, and the jaws feel what is left: the share of their stiffness in that of jaws and seat.
#[test]
fn a_straight_push_is_shared_by_stiffness() {
    let (grip, ..) = case(3);
    let along: f64 = grip.held().iter().map(|held| held.contact.tangential_stiffness_n_mm).sum();
    let middle = grip.held().iter().map(|held| held.contact.at_mm).sum::<Vector3<f64>>() / grip.held().len() as f64;
    let ring = |at: u32| {
        let (sin, cos) = (std::f64::consts::FRAC_PI_2 * f64::from(at)).sin_cos();
        SeatPoint { at_mm: Vector3::new(10.0 * cos, 10.0 * sin, -40.0), stiffness_n_mm: along / 4.0 }
    };
    let seated = grip.clone().seated(&[0, 1, 2, 3].map(ring));
    let push = CutLoad {
        at_mm: Vector3::new(0.0, 0.0, middle.z),
        force_n: Vector3::new(0.0, 0.0, -1000.0),
        weight_n: Vector3::zeros(),
        mass_centre_mm: Vector3::zeros(),
    };
    // Half goes into the seat, and the jaws slip no sooner for it.
    let factor = |grip: &Grip| grip.first_slip(&push).jaw.expect("a push along the jaws slips at last");
    assert!((factor(&seated) - factor(&grip)).abs() < 1e-9 * factor(&grip));
    let shared = seated.points_carry(1, &push);
    let rubs = |way: usize| -> f64 { shared[way..].iter().step_by(2).map(|carried| carried.growing[3]).sum() };
    assert!((rubs(1) - 0.5 * rubs(0)).abs() < 1e-9 * rubs(0).abs(), "{} {}", rubs(0), rubs(1));
    // Pulled out, it leaves its seat.
    let pull = CutLoad { force_n: -push.force_n, ..push };
    assert_eq!(seated.points_carry(1, &pull).len(), grip.points_carry(1, &pull).len());
}
