//! Minutes for a good piece: every order, hold and turn of the piece is tried on the pieces that the search compares plans
//! on, and none is better than what the search proves.

use engine::job::{BarForm, Job};
use engine::planning::exhaustive_per_good;
use engine::quantity::mm;

use super::{plan, scene};

/// What counts as alike, as the rules of the trade have it.
const ALIKE: f64 = 0.02;

/// Jobs of four and five faces with limits that cost pieces.
fn jobs() -> Vec<Job> {
    let flat = |width: f64, thickness: f64| BarForm::Flat { width: mm(width), thickness: mm(thickness) };
    let square = |across: f64| BarForm::Square { across: mm(across) };
    let of = [
        scene::leaving(scene::job(scene::round(58.0), 44.0, scene::block(36.0, 34.0), 44.0), &["A", "B"]),
        scene::leaving(scene::job(square(50.0), 46.0, scene::block(50.0, 42.0), 41.0), &["C", "E"]),
        scene::leaving(scene::job(square(46.0), 48.0, scene::block(40.0, 46.0), 43.0), &["D", "F"]),
        scene::leaving(scene::job(flat(60.0, 40.0), 48.0, scene::block(52.0, 40.0), 43.0), &["D", "F"]),
        scene::leaving(scene::job(flat(50.0, 44.0), 40.0, scene::block(45.0, 38.0), 36.0), &["A"]),
        scene::leaving(scene::job(scene::round(56.0), 40.0, scene::block(36.0, 34.0), 37.0), &["A"]),
    ];
    let tight = |job: &Job, within: f64| {
        let mut job = job.clone();
        job.part.square = Some(mm(within));
        job.part.parallel = Some(mm(0.6 * within));
        job
    };
    of.iter().flat_map(|job| [0.05, 0.025].map(|within| tight(job, within))).collect()
}

#[test]
fn no_order_tried_is_better_than_what_the_search_proves() {
    let (mut ours, mut theirs, mut costly) = (0, 0, 0);
    for job in jobs() {
        let task = engine::task::resolve(&job, &scene::shop()).unwrap_or_else(|problems| panic!("{problems:#?}"));
        let plan = plan(&job);
        let Some((least, tried)) = exhaustive_per_good(&task) else {
            assert!(plan.set_ups.is_empty());
            continue;
        };
        let found = plan.forecast.expect("a forecast").per_good.expect("an order sought");
        let proven = found.least_minutes.expect("what was proven");
        let place = format!("{} of {tried}: {} proven {proven}, least {least}", found.tried, found.compared_minutes);
        if least.is_infinite() {
            continue;
        }
        assert!(proven <= least * (1.0 + 1e-9), "{place}");
        assert!(found.compared_minutes >= least * (1.0 - 1e-9), "{place}");
        // Where the search came to its end, what it found is the least but for what counts as alike.
        let ended = proven > found.compared_minutes * (1.0 - ALIKE) - 1e-9;
        assert!(!ended || found.compared_minutes <= least / (1.0 - ALIKE) * (1.0 + 1e-9), "{place}");
        costly += usize::from(found.compared_minutes > plan.minutes.total() * 1.2);
        (ours, theirs) = (ours + found.tried, theirs + tried);
    }
    assert!(costly >= 6 && 10 * ours < theirs, "{ours} of {theirs}, {costly}");
}
