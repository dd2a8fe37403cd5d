//! A face that stays as the bar has it must be there on the bar; volumes and depths by hand.

use engine::job::{BarForm, Job};
use engine::plan::{Outcome, Plan, Reason};
use engine::quantity::mm;
use proptest::prelude::*;

use super::volume::check;
use super::{near, plan, planned, scene};

fn reasons(plan: &Plan) -> &[Reason] {
    match &plan.outcome {
        Outcome::Planned => panic!("planned"),
        Outcome::Impossible(reasons) => reasons,
    }
}

fn square(across: f64, block: (f64, f64), leave: &[&str]) -> Job {
    let form = BarForm::Square { across: mm(across) };
    scene::leaving(scene::job(form, 48.0, scene::block(block.0, block.1), 44.0), leave)
}

fn flat(width: f64, thickness: f64, block: (f64, f64)) -> Job {
    let form = BarForm::Flat { width: mm(width), thickness: mm(thickness) };
    scene::leaving(scene::job(form, 46.0, scene::block(block.0, block.1), 40.0), &["D", "F"])
}

/// All that comes off a face, mm.
fn taken_off(plan: &Plan, face: &str) -> f64 {
    let here = plan.set_ups.iter().filter(|set_up| set_up.cuts_faces.iter().any(|name| name == face));
    here.flat_map(|set_up| set_up.passes.last()).map(|pass| pass.total_mm).sum()
}

#[test]
fn a_left_face_away_from_the_bars_flat_is_refused_and_its_way_out_works() {
    // Half of 50 is 25, half of 42 is 21: the face is 4 from the flat.
    let mut job = square(50.0, (45.0, 42.0), &["D"]);
    let told = plan(&job);
    let [reason] = reasons(&told) else { panic!("{:#?}", told.outcome) };
    assert_eq!((reason.rule, reason.value, reason.limit), ("left-face-not-on-bar", 25.0, 21.0));
    assert!(
        reason.way_out.contains("offset [0, 4] puts D") && reason.way_out.contains("do not leave D"),
        "{reason:#?}"
    );
    job.part.offset = (mm(0.0), mm(4.0));
    let told = plan(&job);
    assert!(planned(&told));
    // 50 - 42 all from F, to a mark of the dial; the sides (50 - 45)/2 each.
    assert!((taken_off(&told, "F") - 8.0).abs() < 0.03, "{}", taken_off(&told, "F"));
    assert!((taken_off(&told, "C") - 2.5).abs() < 0.03);
    assert!(near(told.stock.used_share, 45.0 * 42.0 * 44.0 / (50.0 * 50.0 * 48.0), 1e-12));
    assert!(check(&job));
    let freed = square(50.0, (45.0, 42.0), &[]);
    assert!(planned(&plan(&freed)));
}

#[test]
fn a_round_bar_has_no_flat_to_leave() {
    let job = scene::leaving(scene::job(scene::round(58.0), 50.0, scene::regular(4, 36.0), 44.0), &["C"]);
    let told = plan(&job);
    let [reason] = reasons(&told) else { panic!("{:#?}", told.outcome) };
    assert!(reason.says.contains("round bar has no flat"), "{reason:#?}");
    assert_eq!(reason.way_out, "do not leave C");
}

#[test]
fn two_left_faces_have_the_bars_size_between_them() {
    let told = plan(&flat(50.0, 30.0, (44.0, 28.0)));
    assert_eq!(reasons(&told).len(), 2);
    assert!(reasons(&told).iter().all(|reason| (reason.value, reason.limit) == (15.0, 14.0)), "{:#?}", told.outcome);
    let way_out = &reasons(&told)[0].way_out;
    assert!(way_out.contains("a flat bar of 50 mm x 28 mm"), "{way_out}");
    assert!(check(&flat(50.0, 28.0, (44.0, 28.0))) && check(&flat(50.0, 30.0, (44.0, 30.0))));
}

#[test]
fn two_left_ends_are_as_far_apart_as_the_bar_is_long() {
    let mut job = scene::leaving(scene::job(scene::round(58.0), 60.0, scene::block(36.0, 34.0), 44.0), &["A", "B"]);
    let told = plan(&job);
    let [reason] = reasons(&told) else { panic!("{:#?}", told.outcome) };
    assert_eq!((reason.rule, reason.value, reason.limit), ("left-ends-not-to-length", 60.0, 44.0));
    assert!(reason.way_out.contains("a bar 44.00 mm long"), "{reason:#?}");
    job.stock.length = mm(44.0);
    assert!(check(&job));
}

#[test]
fn one_left_end_is_where_the_part_ends() {
    let job = scene::leaving(scene::job(scene::round(58.0), 50.0, scene::block(36.0, 34.0), 44.0), &["A"]);
    let told = plan(&job);
    assert!(planned(&told) && check(&job));
    assert!((taken_off(&told, "B") - 6.0).abs() < 0.03, "{}", taken_off(&told, "B"));
}

proptest! {
    #![proptest_config(super::seeded(60, 43))]

    /// Whatever is left, what comes off is the bar less the part that is asked, or the plan says no.
    #[test]
    fn what_is_left_is_the_part_or_is_refused(
        (across, thick) in (40_u32..52, 36_u32..52),
        (less_x, less_y) in (0_u32..10, 0_u32..10),
        left in proptest::sample::subsequence(vec!["A", "B", "C", "D", "E", "F"], 1..4),
        (off_x, off_y) in (-4_i32..5, -4_i32..5),
        ends in 0_u32..4,
    ) {
        let form = BarForm::Flat { width: mm(f64::from(across)), thickness: mm(f64::from(thick)) };
        let block = scene::block(f64::from(across - less_x), f64::from(thick - less_y));
        let job = scene::job(form, 42.0 + f64::from(ends), block, 42.0);
        let job = scene::shifted(job, mm(f64::from(off_x) / 2.0), mm(f64::from(off_y) / 2.0));
        check(&scene::leaving(job, &left));
    }
}
