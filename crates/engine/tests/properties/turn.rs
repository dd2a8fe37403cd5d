//! Turning the part about a round bar's axis turns the whole plan with it and changes no number.

use engine::job::{BarForm, Job};
use engine::plan::{Plan, SetUp};
use engine::quantity::{degrees, mm};

use super::{near, plan, planned, scene};

/// A set-up without jaw numbers and words: face, seat, hold and passes.
fn numbers(set_up: &SetUp) -> Vec<f64> {
    let hold = &set_up.hold;
    let mut numbers = vec![set_up.bite_mm, set_up.stick_out.set_mm, set_up.speed.set_rpm, set_up.removed_mm3];
    numbers.extend([hold.slip_factor, hold.point_slip_factor, hold.lift_factor].map(|factor| factor.unwrap_or(-1.0)));
    numbers.extend([hold.spring_um, set_up.minutes.handling, set_up.minutes.cutting, set_up.minutes.measuring]);
    for pass in &set_up.passes {
        numbers.extend([pass.depth_mm, pass.total_mm, pass.dial_reading, pass.rpm, pass.feed_mm_per_rev]);
        numbers.extend([pass.start_radius_mm, pass.floor_area_mm2, pass.in_metal_share, pass.removed_mm3]);
        numbers.extend([pass.force_n.cutting, pass.power_mean_w, pass.power_peak_w, pass.torque_nm, pass.minutes]);
    }
    numbers
}

/// What the jaws touch, from whichever jaw counts first.
fn touched(set_up: &SetUp) -> Vec<(String, &'static str)> {
    let jaws: Vec<(String, &'static str)> =
        set_up.jaws.iter().map(|jaw| (jaw.bears_on.clone(), jaw.contact.name())).collect();
    let turns =
        (0..jaws.len()).map(|turn| jaws.iter().cycle().skip(turn).take(jaws.len()).cloned().collect::<Vec<_>>());
    turns.min().unwrap_or_default()
}

fn same_plan(turned: &Plan, due: &Plan, what: &str) {
    assert!(near(turned.minutes.total(), due.minutes.total(), 1e-9), "{what}: {:?}, {:?}", turned.minutes, due.minutes);
    assert_eq!(turned.set_ups.len(), due.set_ups.len(), "{what}");
    for (one, other) in turned.set_ups.iter().zip(&due.set_ups) {
        assert_eq!(one.cuts_faces, other.cuts_faces, "{what}");
        assert_eq!(one.seat, other.seat, "{what}");
        assert_eq!(touched(one), touched(other), "{what}, set-up {}", one.number);
        let (ours, theirs) = (numbers(one), numbers(other));
        assert_eq!(ours.len(), theirs.len(), "{what}, set-up {}", one.number);
        for (at, (a, b)) in ours.iter().zip(&theirs).enumerate() {
            assert!((a - b).abs() <= 1e-7 * b.abs().max(1.0), "{what}, set-up {}, number {at}: {a}, {b}", one.number);
        }
    }
}

fn turns(job: Job, angles: &[f64]) {
    let due = plan(&job);
    assert!(planned(&due), "{:#?}", due.outcome);
    for &angle in angles {
        same_plan(&plan(&scene::turned(job.clone(), degrees(angle))), &due, &format!("turned {angle} deg"));
    }
}

#[test]
fn a_part_turned_by_any_angle_in_a_round_bar() {
    turns(scene::six_faces(), &[0.001, 13.0, 45.0, 90.0, 97.5, 180.0, -90.0, -123.456, 270.0, 359.999]);
    turns(scene::job(scene::round(50.0), 40.0, scene::regular(4, 33.0), 35.0), &[7.0, 30.0, 60.0, 90.0, 211.0]);
}

#[test]
fn a_part_whose_offset_turns_with_it() {
    let job = |turn: f64| {
        let (sin, cos) = turn.to_radians().sin_cos();
        let (x, y) = (1.1, -0.6);
        let shifted = scene::shifted(scene::six_faces(), mm(x * cos - y * sin), mm(x * sin + y * cos));
        scene::turned(shifted, degrees(turn))
    };
    let due = plan(&job(0.0));
    assert!(planned(&due));
    for turn in [10.0, 90.0, 135.0, 200.0, 330.0] {
        same_plan(&plan(&job(turn)), &due, &format!("turned {turn} deg with its offset"));
    }
}

#[test]
fn a_part_turned_by_quarters_in_a_square_bar() {
    turns(
        scene::job(BarForm::Square { across: mm(50.0) }, 46.0, scene::block(44.0, 42.0), 41.0),
        &[90.0, 180.0, 270.0, -90.0],
    );
}

/// Width and height changed over and a quarter turn back: the same metal under other letters.
#[test]
fn width_for_height_with_a_quarter_turn_is_the_same_work() {
    let (as_drawn, changed) = (
        scene::job(scene::round(58.0), 50.0, scene::block(36.0, 32.0), 44.0),
        scene::job(scene::round(58.0), 50.0, scene::block(32.0, 36.0), 44.0),
    );
    let fewest = |job: &Job| {
        let task = engine::task::resolve(job, &scene::shop()).unwrap();
        engine::planning::fewest(&task).unwrap().minutes
    };
    let (due, found) = (fewest(&as_drawn), fewest(&scene::turned(changed, degrees(90.0))));
    assert!(near(due, found, 1e-9), "{due}, {found}");
}
