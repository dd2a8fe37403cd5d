//! The metal of all passes is the bar less the part.
//!
//! Volumes of bar and part are worked out here by textbook formulas (circle, shoelace), not by the
//! engine.

use std::f64::consts::PI;

use engine::job::{BarForm, Job};
use engine::part::Form;
use engine::quantity::{Plain, degrees, mm};
use proptest::prelude::*;

use super::{plan, planned, scene};

/// Area of a bar's section, mm²: circle; square; hexagon `√3/2 s²` across flats s; rectangle.
fn bar_area(form: &BarForm) -> f64 {
    match form {
        BarForm::Round { diameter } => PI * diameter.plain().powi(2) / 4.0,
        BarForm::Square { across } => across.plain().powi(2),
        BarForm::Hexagon { across } => 3f64.sqrt() / 2.0 * across.plain().powi(2),
        BarForm::Flat { width, thickness } => width.plain() * thickness.plain(),
    }
}

/// Angle, rad, and distance, mm, of each side about the part's middle.
fn sides(form: &Form) -> Vec<(f64, f64)> {
    let quarter = |at: u32| f64::from(at) * PI / 2.0;
    match form {
        Form::Block { width, height } => (0..4)
            .map(|at| (quarter(at), if at % 2 == 0 { width.size.plain() } else { height.size.plain() } / 2.0))
            .collect(),
        Form::Sides(list) => list.iter().map(|(angle, sized)| (angle.plain(), sized.size.plain())).collect(),
        Form::Regular { sides, across_flats } => (0..*sides)
            .map(|at| (2.0 * PI * f64::from(at) / f64::from(*sides), across_flats.size.plain() / 2.0))
            .collect(),
    }
}

/// Where two lines `n·p = d` cross (Cramer).
fn crossing(one: (f64, f64), other: (f64, f64)) -> (f64, f64) {
    let ((s1, c1), (s2, c2)) = (one.0.sin_cos(), other.0.sin_cos());
    let det = c1 * s2 - s1 * c2;
    ((one.1 * s2 - other.1 * s1) / det, (c1 * other.1 - c2 * one.1) / det)
}

/// Area of the part's section by the shoelace formula, sides in order round.
fn part_area(form: &Form) -> f64 {
    let sides = sides(form);
    let corners: Vec<(f64, f64)> =
        (0..sides.len()).map(|at| crossing(sides[at], sides[(at + 1) % sides.len()])).collect();
    let twice: f64 = (0..corners.len())
        .map(|at| {
            let (p, q) = (corners[at], corners[(at + 1) % corners.len()]);
            p.0 * q.1 - p.1 * q.0
        })
        .sum();
    twice / 2.0
}

/// Bar less part, mm³, and what the plan's passes take off; `None`: impossible.
fn metal(job: &Job) -> Option<(f64, f64)> {
    let plan = plan(job);
    let due =
        bar_area(&job.stock.form) * job.stock.length.plain() - part_area(&job.part.form) * job.part.length.size.plain();
    let passes = plan.set_ups.iter().flat_map(|set_up| &set_up.passes).map(|pass| pass.removed_mm3);
    planned(&plan).then(|| (due, passes.sum()))
}

pub fn check(job: &Job) -> bool {
    let Some((due, taken)) = metal(job) else { return false };
    let bar = bar_area(&job.stock.form) * job.stock.length.plain();
    assert!((due - taken).abs() <= 1e-9 * bar, "{due} mm3 to go, passes take {taken}: {job:#?}");
    true
}

#[test]
fn every_form_of_bar_and_part_loses_what_the_part_is_less() {
    let jobs = [
        scene::six_faces(),
        scene::job(BarForm::Square { across: mm(50.0) }, 46.0, scene::block(44.0, 42.0), 41.0),
        scene::job(BarForm::Flat { width: mm(54.0), thickness: mm(42.0) }, 48.0, scene::block(48.0, 36.0), 43.0),
        scene::job(BarForm::Hexagon { across: mm(50.0) }, 45.0, scene::block(40.0, 34.0), 40.0),
        scene::seven_faces(),
        scene::job(scene::round(50.0), 40.0, scene::regular(4, 33.0), 35.0),
        scene::leaving(
            scene::job(BarForm::Square { across: mm(50.0) }, 46.0, scene::block(50.0, 42.0), 41.0),
            &["C", "E"],
        ),
        scene::leaving(scene::job(scene::round(58.0), 44.0, scene::block(36.0, 34.0), 44.0), &["A", "B"]),
    ];
    let planned: Vec<bool> = jobs.iter().map(check).collect();
    assert!(planned.iter().all(|&planned| planned), "{planned:?}");
}

proptest! {
    #![proptest_config(super::seeded(24, 41))]

    #[test]
    fn metal_adds_up_for_any_block(
        (diameter, width, height) in (50.0..64.0f64, 0.5..0.66f64, 0.5..0.66f64),
        (length, ends) in (34.0..48.0f64, 2.0..6.0f64),
        (turn, off, towards) in (-180.0..180.0f64, 0.0..1.5f64, 0.0..std::f64::consts::TAU),
    ) {
        let form = scene::block(width * diameter, height * diameter);
        let job = scene::job(scene::round(diameter), length + ends, form, length);
        let job = scene::shifted(job, mm(off * towards.cos()), mm(off * towards.sin()));
        prop_assume!(check(&scene::turned(job, degrees(turn))));
    }
}
