//! A seat that only pushes, as springs: chuck face, ledges of the jaws or a stop behind the work, beside the first slip that
//! the plan reckons without it.
//!
//! Nothing of the engine's slip is used but its preload and its closed form: stiffness is summed here, the springs of the
//! seat taking part where the load presses them (a linear complementarity, found by trying its sets of pressed points).

use engine::holding::{Carried, Contact, Grip, TurnCut};
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

/// Least factors over a turn of one random hold, without and with its seat, and whether the seat was pressed at all.
fn with_and_without(seed: u64) -> (f64, f64, bool) {
    let mut dice = Dice::new(21_000 + seed);
    let (jaws, radius) = creep::jaws(&mut dice);
    let turn = creep::cut(&mut dice, radius);
    let grip = Grip::new(&jaws, &[]).expect("a plain grip");
    let bite = -grip.held().iter().map(|held| held.contact.at_mm.z).fold(0.0, f64::min);
    let stays = seat(&mut dice, &grip, radius, bite);
    let (mut without, mut with, mut pressed) = (f64::INFINITY, f64::INFINITY, false);
    for step in 0..72 {
        let angle = 5.0 * f64::from(step);
        without = without.min(slips(&grip, &[], &turn, angle).0);
        let (factor, on) = slips(&grip, &stays, &turn, angle);
        with = with.min(factor);
        pressed |= on > 0;
    }
    let ours = grip.worst_jaw_over_turn(&turn, 72).map_or(f64::INFINITY, |worst| worst.factor);
    assert!((ours - without).abs() <= 1e-9 * without, "seed {seed}: {ours} in the engine, {without} here");
    (without, with, pressed)
}

#[test]
fn looking_at_it() {
    let found: Vec<(u64, f64, f64, bool)> =
        (0..1000).map(|seed| (seed, with_and_without(seed))).map(|(s, (a, b, c))| (s, a, b, c)).collect();
    let pressed = found.iter().filter(|one| one.3).count();
    let less: Vec<_> = found.iter().filter(|one| one.2 < one.1 * (1.0 - 1e-9)).collect();
    let more = found.iter().filter(|one| one.2 > one.1 * (1.0 + 1e-9)).count();
    let worst = found.iter().map(|one| one.2 / one.1).fold(f64::MAX, f64::min);
    println!("pressed {pressed}, less {}, more {more}, worst ratio {worst}", less.len());
    println!("{:?}", &less[..less.len().min(20)]);
}
