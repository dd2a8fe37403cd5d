//! How long a plan takes, and beside it what the same answer costs the plain way. `cargo bench -p engine`.
#![allow(missing_docs, reason = "divan makes public items")]

#[path = "../tests/plain/mod.rs"]
mod plain;
#[path = "../tests/properties/scene.rs"]
#[allow(dead_code, reason = "the properties use more of it")]
mod scene;

use divan::{Bencher, black_box};
use engine::holding::TurnCut;
use engine::job::Job;
use engine::part::Place;
use engine::plan::Force3;
use engine::planning::{self, Custom, Way};
use engine::shape::{Bar, Floor, Point};
use engine::task::{Task, resolve};

fn main() {
    divan::main();
}

/// A block of six faces out of a round bar, from job and shop to the plan's last word.
#[divan::bench_group(max_time = 3)]
mod six_faces {
    use super::*;

    #[divan::bench]
    fn whole_plan(bencher: Bencher) {
        let (job, shop) = (scene::six_faces(), scene::shop());
        bencher.bench(|| engine::plan(black_box(&job), black_box(&shop)));
    }

    /// The least minutes alone: every set-up worked out, every state of the order search.
    #[divan::bench]
    fn search_of_states(bencher: Bencher) {
        let task = task(&scene::six_faces());
        bencher.bench(|| planning::fewest(black_box(&task)));
    }

    /// The same least minutes by trying every order, hold and turn of the piece.
    #[divan::bench(sample_count = 3, sample_size = 1)]
    fn every_order_tried(bencher: Bencher) {
        let task = task(&scene::six_faces());
        bencher.bench(|| planning::exhaustive(black_box(&task)));
    }

    /// Every way to cut the first face of the raw bar: cuts, feeds, grip, minutes.
    #[divan::bench]
    fn one_face_worked_out(bencher: Bencher) {
        let task = task(&scene::six_faces());
        bencher.bench(|| planning::ways_alone(black_box(&task), Custom::Need, (0, 2)));
    }
}

/// Seven faces: what one face more costs either way.
#[divan::bench_group(max_time = 3)]
mod seven_faces {
    use super::*;

    #[divan::bench]
    fn whole_plan(bencher: Bencher) {
        let (job, shop) = (scene::seven_faces(), scene::shop());
        bencher.bench(|| engine::plan(black_box(&job), black_box(&shop)));
    }

    #[divan::bench]
    fn search_of_states(bencher: Bencher) {
        let task = task(&scene::seven_faces());
        bencher.bench(|| planning::fewest(black_box(&task)));
    }

    #[divan::bench(sample_count = 3, sample_size = 1)]
    fn every_order_tried(bencher: Bencher) {
        let task = task(&scene::seven_faces());
        bencher.bench(|| planning::exhaustive(black_box(&task)));
    }
}

/// The mean share in the metal of a floor off the spindle axis.
#[divan::bench_group]
mod floor_share {
    use super::*;

    #[divan::bench]
    fn closed_form(bencher: Bencher) {
        let floor = floor();
        bencher.bench(|| black_box(&floor).mean_share());
    }

    /// Midpoints of equal stretches of radius, as many as it takes to come within 1e-6 of the closed form.
    #[divan::bench]
    fn midpoints_to_a_millionth(bencher: Bencher) {
        let floor = floor();
        let count = midpoints_needed(&floor, 1e-6);
        bencher.bench(|| midpoints(black_box(&floor), count));
    }
}

/// The worst factors of a whole turn, 72 angles, all points and jaws.
#[divan::bench]
fn grip_worst_over_turn(bencher: Bencher) {
    let way = first_way();
    let cut = heavy_cut(&way);
    bencher.bench(|| way.facing.hold.grip.worst_over_turn(black_box(&cut), 72));
}

/// The same by asking one angle after another.
#[divan::bench]
fn grip_angle_by_angle(bencher: Bencher) {
    let way = first_way();
    let cut = heavy_cut(&way);
    let grip = &way.facing.hold.grip;
    bencher.bench(|| {
        let at = |step: u32| grip.first_slip(&black_box(&cut).at_angle(5.0 * f64::from(step)));
        (0..72).filter_map(|step| at(step).jaw).fold(f64::INFINITY, f64::min)
    });
}

fn task(job: &Job) -> Task {
    resolve(job, &scene::shop()).expect("the boatyard has what the job asks")
}

fn first_way() -> Way {
    let ways =
        planning::ways_alone(&task(&scene::six_faces()), Custom::Need, (0, 2)).expect("the first side can be cut");
    ways.into_iter().next().expect("at least one way")
}

fn heavy_cut(way: &Way) -> TurnCut {
    way.facing.hold.turn_cut(32.0, 12.0, Force3 { cutting: 900.0, feed: 350.0, passive: 250.0 })
}

fn floor() -> Floor {
    Bar::from(&scene::round(58.0)).piece(50.0).with_side(1.57, 18.0).floor(
        Place::Side(0.0),
        17.0,
        Point::new(0.8, -1.3),
    )
}

fn midpoints(floor: &Floor, count: u32) -> f64 {
    let way = floor.start_radius_mm - floor.end_radius_mm;
    let radius = |at: u32| floor.end_radius_mm + way * (f64::from(at) + 0.5) / f64::from(count);
    (0..count).map(|at| floor.share_at(radius(at)).share).sum::<f64>() / f64::from(count)
}

fn midpoints_needed(floor: &Floor, within: f64) -> u32 {
    let due = floor.mean_share();
    let counts = (4..24).map(|power| 1u32 << power);
    let good = counts.clone().find(|&count| (midpoints(floor, count) - due).abs() <= within);
    good.expect("midpoints converge within 2^23 stretches")
}
