//! No order, hold or turn of the piece is quicker than what the search found: every one is tried.

use engine::job::{BarForm, Job};
use engine::part::Form;
use engine::plan::SetUp;
use engine::planning::{Custom, Way, exhaustive, fewest, ways_alone};
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
        scene::seven_faces(),
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
    assert!(of(7) == 1, "{faces:?}");
    assert!(of(4) + of(5) + of(6) >= 12, "{faces:?}");
}

/// Whether a set-up of the plan is this way: depth, cuts, hold and minutes.
fn is(way: &Way, set_up: &SetUp) -> bool {
    let facing = &way.facing;
    let factors = [
        (set_up.hold.slip_factor, facing.slip.jaw.map(|(_, worst)| worst.factor)),
        (set_up.hold.point_slip_factor, facing.slip.point.map(|worst| worst.factor)),
        (set_up.hold.lift_factor, facing.slip.lift.map(|(_, worst)| worst.factor)),
    ];
    let alike = |(ours, theirs): (Option<f64>, Option<f64>)| match (ours, theirs) {
        (Some(ours), Some(theirs)) => near(ours, theirs, 1e-7),
        (ours, theirs) => ours == theirs,
    };
    near(facing.depth.bite_mm, set_up.bite_mm, 1e-9)
        && facing.cuts.iter().map(|cut| cut.total_mm).eq(set_up.passes.iter().map(|pass| pass.total_mm))
        && near(facing.speed.set_rpm, set_up.speed.set_rpm, 0.0)
        && near(way.own_minutes.cutting, set_up.minutes.cutting, 1e-9)
        && factors.into_iter().all(alike)
}

/// The search works out set-ups that are alike once; each must be what it would be worked out alone.
#[test]
fn a_set_up_taken_over_from_its_like_is_what_it_would_be_alone() {
    let mut set_ups = 0;
    for job in jobs() {
        let task = engine::task::resolve(&job, &scene::shop()).unwrap();
        let mut done = 0;
        for set_up in &plan(&job).set_ups {
            let face = task.faces.iter().position(|face| face.name == set_up.cuts_faces[0]).unwrap();
            let alone = ways_alone(&task, Custom::Need, (done, face)).unwrap();
            assert!(alone.iter().any(|way| is(way, set_up)), "set-up {} of {job:#?}", set_up.number);
            done |= 1 << face;
            set_ups += 1;
        }
    }
    assert!(set_ups >= 60, "only {set_ups} set-ups");
}

/// What the job decides of the order is kept, and the rest is sought around it.
#[test]
fn decided_orders_are_kept_or_refused_with_one_that_works() {
    use engine::job::Seek;
    use engine::plan::Outcome;
    let job = scene::six_faces();
    let order = |job: &Job| -> Result<Vec<String>, Outcome> {
        let plan = engine::plan(job, &scene::shop()).expect("a task");
        let cuts = plan.set_ups.iter().map(|set_up| set_up.cuts_faces.concat()).collect::<Vec<_>>();
        if plan.outcome == Outcome::Planned { Ok(cuts) } else { Err(plan.outcome) }
    };
    let mut decided = job.clone();
    decided.order.first = vec!["B".to_string(), "A".to_string(), "D".to_string()];
    assert_eq!(order(&decided).expect("it works")[..3], ["B", "A", "D"]);
    // Ends are faced before sides: no order begins so, and one that works is named.
    decided.order.first = vec!["C".to_string()];
    let Err(Outcome::Impossible(reasons)) = order(&decided) else { return };
    assert_eq!(reasons[0].rule, "order-as-asked");
    assert!(reasons[0].way_out.contains("A, B"), "{}", reasons[0].way_out);
    // Whatever is sought, the quickest plan is no slower, and the truest no worse than the balanced one.
    let sought = |seek: Seek| {
        let mut job = job.clone();
        job.order.seek = seek;
        let plan = engine::plan(&job, &scene::shop()).expect("a task");
        (plan.minutes.total(), plan.forecast.expect("planned").chance.share)
    };
    let (balanced, quickest, truest) = (sought(Seek::Balanced), sought(Seek::Quickest), sought(Seek::Truest));
    assert!(quickest.0 <= balanced.0 * 1.02 && truest.1 >= balanced.1 - 0.02, "{balanced:?} {quickest:?} {truest:?}");
}
