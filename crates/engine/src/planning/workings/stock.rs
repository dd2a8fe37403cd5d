//! Volume, mass, and the least bar that would do.

use std::f64::consts::PI;

use super::list::{Workings, given, worked};
use crate::plan::StockReport;
use crate::planning::blank::part_section;
use crate::planning::stock::sawn_across_mm;
use crate::shape::{self, Point};
use crate::task::Task;

const JOB: &str = "the job";
const PART: &str = "the part's outline, in the middle of its limits";

pub fn stock(task: &Task, report: &StockReport, list: &mut Workings) {
    let area = section(task, list);
    let area_mm2 = task.bar.area();
    let volume = list.add(
        "volume of the bar",
        report.volume_mm3,
        "volume of a prism",
        vec![worked("A", area_mm2, &area), given("L", task.bar_length_mm, JOB)],
    );
    list.add(
        "mass of the bar",
        report.mass_kg,
        "mass",
        vec![
            given("rho", task.material.density_kg_m3, task.material.source_density.clone()),
            worked("V", report.volume_mm3, &volume),
        ],
    );
    list.add(
        "share of the bar used",
        report.used_share,
        "share of the bar used",
        vec![
            given("A_p", part_section(task).area(), PART),
            given("l", task.part_length_mm, JOB),
            worked("V", report.volume_mm3, &volume),
        ],
    );
    least_round(task, report, list);
    least_length(task, report, list);
}

fn section(task: &Task, list: &mut Workings) -> String {
    let (one, other) = task.bar_sizes_mm;
    let what = "section of the bar";
    match (task.bar_form, other) {
        ("round", _) => list.add(what, PI * one * one / 4.0, "section of a round bar", vec![given("D", one, JOB)]),
        ("square", _) => list.add(what, one * one, "section of a square bar", vec![given("s", one, JOB)]),
        ("hexagon", _) => list.add(what, task.bar.area(), "section of a hexagonal bar", vec![given("s", one, JOB)]),
        (_, other) => {
            let thickness = other.unwrap_or(one);
            let values = vec![given("w", one, JOB), given("t", thickness, JOB)];
            list.add(what, one * thickness, "section of a flat bar", values)
        }
    }
}

fn least_round(task: &Task, report: &StockReport, list: &mut Workings) {
    let bare_mm = report.least_round_mm;
    let Some(bare) = bare_round(&part_section(task).corners(), bare_mm, list) else { return };
    let row = shape::section_allowance(task.skin);
    list.add(
        "least round to buy",
        report.least_round_with_allowance_mm,
        "least round to buy",
        vec![
            worked("D_0", bare_mm, &bare),
            given("a_s", row.least_on_diameter_mm, row.source.clone()),
            given("q", row.share_per_side, row.source.clone()),
        ],
    );
}

/// By the two corners, or the three, that the smallest circle goes through.
fn bare_round(corners: &[Point], diameter_mm: f64, list: &mut Workings) -> Option<String> {
    let same = |length_mm: f64| (length_mm - diameter_mm).abs() <= 1e-9 * diameter_mm;
    let apart = |one: usize, other: usize| (corners[one] - corners[other]).norm();
    let all = corners.len();
    let pairs = || (0..all).flat_map(move |one| (one + 1..all).map(move |other| (one, other)));
    if let Some((one, other)) = pairs().find(|&(one, other)| same(apart(one, other))) {
        let way = corners[one] - corners[other];
        let values = vec![given("w", way.x.abs(), PART), given("h", way.y.abs(), PART)];
        return Some(list.add("least round", diameter_mm, "least round across two corners", values));
    }
    let threes = pairs().flat_map(|(one, other)| (other + 1..all).map(move |last| [one, other, last]));
    let circle = |three: &[usize; 3]| shape::enclosing_circle(&three.map(|at| corners[at]));
    let three = threes.into_iter().find(|three| circle(three).is_some_and(|circle| same(2.0 * circle.radius_mm)))?;
    let [one, other, last] = three;
    let values = vec![
        given("a", apart(one, other), PART),
        given("b", apart(other, last), PART),
        given("c", apart(last, one), PART),
    ];
    Some(list.add("least round", diameter_mm, "least round through three corners", values))
}

fn least_length(task: &Task, report: &StockReport, list: &mut Workings) {
    let row = shape::end_allowance();
    let ends = task.faces[..2].iter().filter(|face| face.cut).count() as f64;
    list.add(
        "least length to buy",
        report.least_length_mm,
        "least length to buy",
        vec![
            given("l", task.part_length_mm, JOB),
            given("k", ends, JOB),
            given("e", row.least_per_end_mm, row.source.clone()),
            given("q", row.out_of_square_share, row.source.clone()),
            given("B", sawn_across_mm(task), JOB),
        ],
    );
}
