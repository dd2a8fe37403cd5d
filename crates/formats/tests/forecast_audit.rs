//! The forecast of every example, recomputed from the JSON of the audit alone: chances by drawing pieces with a general
//! library's generator, and where a requirement is one sum of noises exactly by the normal distribution (statrs).

mod drawn;
mod examples_planned;

use engine::plan::{LinearCheck, LinearRow, LinearTurn};
use examples_planned::{number, planned, text};
use serde_json::Value;
use statrs::distribution::{ContinuousCDF, Normal};

fn check(linear: &Value) -> LinearCheck {
    let row = |row: &Value| LinearRow {
        constant_mm: number(&row["constant_mm"]),
        coefficients_mm: row["coefficients_mm"].as_array().expect("a list").iter().map(number).collect(),
    };
    let turn = |turn: &Value| LinearTurn {
        about: turn["about_row"].as_u64().expect("a row") as usize,
        sums: [0, 1].map(|at| row(&turn["sums"][at])),
    };
    LinearCheck {
        turns: linear["turns"].as_array().expect("a list").iter().map(turn).collect(),
        rows: linear["rows"].as_array().expect("a list").iter().map(row).collect(),
        least_mm: linear["least_mm"].as_f64(),
        most_mm: number(&linear["most_mm"]),
        zone_form_mm: linear["zone_form_mm"].as_f64(),
    }
}

fn noises(plan: &Value) -> usize {
    plan["forecast"]["audit"]["noises"].as_array().expect("a list").len()
}

#[test]
fn the_chances_come_out_of_the_audit_alone() {
    let mut compared = 0;
    for (name, plan) in planned() {
        let linear = plan["forecast"]["audit"]["linear"].as_array().expect("a list");
        let checks: Vec<LinearCheck> = linear.iter().map(check).collect();
        let (each, all) = drawn::shares(&checks.iter().collect::<Vec<_>>(), &vec![1.0; noises(plan)]);
        let near = |ours: f64, error: f64, theirs: f64, what: &str| {
            let drawn = (theirs * (1.0 - theirs) / f64::from(drawn::PIECES)).sqrt();
            assert!((ours - theirs).abs() < 4.5 * drawn.hypot(error) + 1e-3, "{name}, {what}: {ours} against {theirs}");
        };
        for ((quality, theirs), linear) in plan["quality"].as_array().expect("a list").iter().zip(each).zip(linear) {
            assert_eq!(quality["requirement"], linear["requirement"], "{name}");
            near(number(&quality["chance"]), number(&quality["chance_error"]), theirs, text(&quality["requirement"]));
            compared += 1;
        }
        near(number(&plan["chance"]), number(&plan["chance_error"]), all, "all");
    }
    assert!(compared > 100, "only {compared} requirements");
}

/// Mean and standard deviation of a sum of noises are exact: constant, and root of the sum of squares.
#[test]
fn a_requirement_of_one_sum_is_normal() {
    let mut compared = 0;
    for (name, plan) in planned() {
        let linear = plan["forecast"]["audit"]["linear"].as_array().expect("a list");
        for (quality, check) in plan["quality"].as_array().expect("a list").iter().zip(linear.iter().map(check)) {
            let [row] = &check.rows[..] else { continue };
            let deviation_mm = row.coefficients_mm.iter().map(|part| part * part).sum::<f64>().sqrt();
            let place = format!("{name}, {}", quality["requirement"]);
            let spread_mm = number(&quality["spread_mm"]);
            // A standard deviation out of n pieces has itself one of 1 in the root of 2 n, were they drawn by chance.
            let scatter = deviation_mm / (2.0 * number(&plan["forecast"]["pieces"])).sqrt();
            assert!((spread_mm - deviation_mm).abs() < 4.5 * scatter, "{place}: {spread_mm} {deviation_mm}");
            let normal = Normal::new(row.constant_mm, deviation_mm).expect("a spread");
            let below = check.least_mm.map_or(0.0, |least| normal.cdf(least));
            let share = normal.cdf(check.most_mm) - below;
            let error = 4.5 * number(&quality["chance_error"]) + 2e-3;
            assert!((share - number(&quality["chance"])).abs() < error, "{place}: {share} {}", quality["chance"]);
            compared += 1;
        }
    }
    assert!(compared >= 10, "only {compared} requirements of one sum");
}
