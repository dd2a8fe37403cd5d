//! No order, hold or turn of the piece is quicker than what the search found: every one is tried.

use engine::job::{BarForm, Job};
use engine::part::Form;
use engine::planning::{exhaustive, fewest};
use engine::quantity::{degrees, mm};

use super::{near, plan, planned, scene};

/// The search keeps to plans within this share of the fewest minutes: what its documentation says.
const LIKE_MINUTES: f64 = 0.02;

/// The number of faces cut; `None`: impossible by both.
fn confirmed(job: &Job) -> Option<usize> {
    let task = engine::task::resolve(job, &scene::shop()).unwrap_or_else(|problems| panic!("{problems:#?}"));
    let tried = exhaustive(&task);
    let plan = plan(job);
    let Some(due) = tried.fewest else {
        assert_eq!((fewest(&task), tried.plans, planned(&plan)), (None, 0, false));
        return None;
    };
    let found = fewest(&task).expect("an order exists");
    assert_eq!(found.needs, due.needs, "{job:#?}");
    assert!(near(found.minutes, due.minutes, 1e-9), "{found:?}, of {} plans {due:?}: {job:#?}", tried.plans);
    let total = plan.minutes.total();
    assert!(total >= due.minutes * (1.0 - 1e-9), "{total} beats {} plans: {due:?}", tried.plans);
    assert!(total <= due.minutes * (1.0 + LIKE_MINUTES) + 1e-9, "{total} of {due:?}: {job:#?}");
    assert!(plan.search.proven_best && tried.plans as f64 >= plan.search.plans_possible);
    Some(plan.set_ups.len())
}

fn square(across: f64) -> BarForm {
    BarForm::Square { across: mm(across) }
}

fn flat(width: f64, thickness: f64) -> BarForm {
    BarForm::Flat { width: mm(width), thickness: mm(thickness) }
}

fn jobs() -> Vec<Job> {
    let wedge = Form::Sides(
        [(0.0, 17.0), (100.0, 15.0), (180.0, 17.0), (270.0, 16.0)]
            .map(|(angle, distance)| (degrees(angle), scene::sized(distance)))
            .to_vec(),
    );
    vec![
        scene::six_faces(),
        scene::shifted(scene::six_faces(), mm(1.2), mm(-0.8)),
        scene::job(square(50.0), 46.0, scene::block(44.0, 42.0), 41.0),
        scene::job(flat(54.0, 42.0), 48.0, scene::block(48.0, 36.0), 43.0),
        scene::job(scene::round(58.0), 46.0, wedge, 40.0),
        scene::leaving(scene::job(scene::round(56.0), 40.0, scene::block(36.0, 34.0), 37.0), &["A"]),
        scene::leaving(scene::job(scene::round(56.0), 40.0, scene::block(36.0, 34.0), 37.0), &["B"]),
        scene::leaving(scene::job(scene::round(58.0), 44.0, scene::block(36.0, 34.0), 44.0), &["A", "B"]),
        scene::leaving(scene::job(square(50.0), 46.0, scene::block(50.0, 42.0), 41.0), &["C", "E"]),
        scene::leaving(scene::job(square(46.0), 48.0, scene::block(40.0, 46.0), 43.0), &["D", "F"]),
        scene::leaving(scene::job(flat(60.0, 40.0), 48.0, scene::block(52.0, 40.0), 43.0), &["D", "F"]),
        scene::leaving(scene::job(flat(50.0, 44.0), 40.0, scene::block(45.0, 38.0), 36.0), &["A"]),
        scene::job(scene::round(50.0), 40.0, scene::regular(4, 33.0), 35.0),
        scene::job(scene::round(54.0), 52.0, scene::block(38.0, 32.0), 47.0),
        scene::job(scene::round(52.0), 42.0, scene::regular(3, 24.0), 36.0),
    ]
}

#[test]
fn every_order_tried_finds_none_quicker() {
    let faces: Vec<Option<usize>> = jobs().iter().map(confirmed).collect();
    let of = |count: usize| faces.iter().filter(|&&faces| faces == Some(count)).count();
    assert!(of(4) >= 3 && of(5) >= 3 && of(6) >= 4, "{faces:?}");
    assert!(of(4) + of(5) + of(6) >= 12, "{faces:?}");
}
