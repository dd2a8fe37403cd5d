//! Last hold beside the general cone solver on the same problems. `cargo bench -p engine --bench last_hold`.
#![allow(missing_docs, reason = "divan makes public items")]

#[path = "../tests/reference/contacts.rs"]
#[allow(dead_code, reason = "the comparison uses more of it")]
mod contacts;
#[path = "../tests/reference/general.rs"]
#[allow(dead_code, reason = "the comparison uses more of it")]
mod general;

use clarabel::solver::IPSolver;
use contacts::{Case, Dice};
use divan::{Bencher, black_box};
use engine::holding::{HoldRule, JawGrip, LastHold, TurnCut, WeakestSearch};
use engine::plan::Force3;
use nalgebra::Vector3;

fn main() {
    divan::main();
}

/// Four jaws on flats with a seat or without, a hundred loads: time for the hundred.
mod hundred_loadings {
    use super::*;

    #[divan::bench]
    fn ours(bencher: Bencher) {
        let cases = cases();
        let holds: Vec<LastHold> = cases.iter().map(hold).collect();
        bencher.bench(|| {
            let factor =
                |(hold, case): (&LastHold, &Case)| hold.under(&case.growing, &case.constant).map(|found| found.factor);
            holds.iter().zip(&cases).map(factor).collect::<Vec<_>>()
        });
    }

    /// From the problem's statement to its answer.
    #[divan::bench]
    fn general(bencher: Bencher) {
        let cases = cases();
        let holds: Vec<LastHold> = cases.iter().map(hold).collect();
        bencher.bench(|| {
            let answer = |(hold, case): (&LastHold, &Case)| general::solve(hold, &case.growing, &case.constant);
            holds.iter().zip(&cases).map(answer).collect::<Vec<_>>()
        });
    }

    /// The general solver with the building of its matrices left out.
    #[divan::bench]
    fn general_without_building(bencher: Bencher) {
        let cases = cases();
        let built = || -> Vec<_> {
            cases.iter().map(|case| general::build(&hold(case), &case.growing, &case.constant)).collect()
        };
        bencher.with_inputs(built).bench_values(|mut solvers| {
            solvers.iter_mut().for_each(|solver| solver.solve());
            solvers
        });
    }
}

/// Growth with the number of contacts: one loading.
#[divan::bench(args = [8, 16, 32, 64, 128])]
fn contacts_ours(bencher: Bencher, count: usize) {
    let case = contacts::so_many(&mut Dice::new(5), count);
    let hold = hold(&case);
    bencher.bench(|| hold.under(black_box(&case.growing), &case.constant));
}

#[divan::bench(args = [8, 16, 32, 64, 128])]
fn contacts_general(bencher: Bencher, count: usize) {
    let case = contacts::so_many(&mut Dice::new(5), count);
    let hold = hold(&case);
    bencher.bench(|| general::solve(&hold, black_box(&case.growing), &case.constant));
}

/// The weakest moment over the whole turn of so many cuts, proven to one in a thousand.
#[divan::bench(args = [1, 4, 16])]
fn weakest_of_cuts(bencher: Bencher, count: usize) {
    let hold = LastHold::of_jaws(&block_jaws(), HoldRule::Upper).expect("a plain hold");
    let cuts: Vec<TurnCut> = (0..count).map(|at| cut(20.0 - at as f64, 900.0 + 10.0 * at as f64)).collect();
    bencher.bench(|| hold.weakest(black_box(&cuts), &[], &WeakestSearch::default()));
}

fn cases() -> Vec<Case> {
    (0..100).map(|seed| contacts::in_jaws(&mut Dice::new(seed))).collect()
}

fn hold(case: &Case) -> LastHold {
    LastHold::new(&case.points, &case.limits).expect("a plain hold")
}

fn block_jaws() -> Vec<JawGrip> {
    let jaw = |number: u8| {
        let (sin, cos) = (std::f64::consts::FRAC_PI_2 * f64::from(number)).sin_cos();
        let (outward, along) = (Vector3::new(cos, sin, 0.0), Vector3::new(-sin, cos, 0.0));
        let corners = [(-9.0, 0.0), (9.0, 0.0), (9.0, -22.0), (-9.0, -22.0)];
        let seed = |(across, z): (f64, f64)| engine::holding::ContactSeed {
            at_mm: outward * 21.0 + along * across + Vector3::z() * z,
            inward: -outward,
            share: 1.0,
        };
        JawGrip {
            jaw: number + 1,
            clamping_n: 8000.0,
            contacts: corners.map(seed).to_vec(),
            normal_stiffness_n_mm: 5e4,
            tangential_stiffness_n_mm: 4.1e4,
            friction: 0.12,
        }
    };
    (0..4).map(jaw).collect()
}

fn cut(height_mm: f64, cutting: f64) -> TurnCut {
    let force = Force3 { cutting, feed: 0.4 * cutting, passive: 0.3 * cutting };
    TurnCut { radius_mm: 29.0, height_mm, force, weight_n: 4.0, mass_centre_mm: Vector3::new(0.5, 0.2, -4.0) }
}
