//! What the text of any plan must keep.

use super::*;
use crate::text::page::WIDTH;

fn texts() -> Vec<String> {
    [sample::metric(), sample::inch(), sample::impossible(), long_names()].iter().map(plan).collect()
}

/// Names as long as a file may hold, dials as long as a person may mark them.
fn long_names() -> Plan {
    let mut plan = sample::metric();
    plan.title = "Guide ".repeat(60);
    plan.asked.part = "x".repeat(500);
    for pass in plan.set_ups.iter_mut().flat_map(|set_up| &mut set_up.passes) {
        pass.dial = format!("{} of the long dial on the far side of the slide", pass.dial);
    }
    plan
}

#[test]
fn no_line_is_wider_than_80_columns_and_none_is_coloured() {
    for text in texts() {
        for line in text.lines() {
            assert!(line.chars().count() <= WIDTH, "{line}");
            assert!(!line.contains('\u{1b}') && line == line.trim_end(), "{line:?}");
        }
    }
}

#[test]
fn the_answer_comes_before_the_question() {
    let text = plan(&sample::metric());
    assert!(text.find("POSSIBLE: 3 set-ups").unwrap() < text.find("Part ").unwrap());
    let text = plan(&sample::impossible());
    assert!(text.find("NOT POSSIBLE").unwrap() < text.find("Part ").unwrap());
}

#[test]
fn every_pass_shows_its_dial_in_the_table_and_again_in_its_place() {
    let plan = sample::metric();
    let text = super::plan(&plan);
    for set_up in &plan.set_ups {
        let part = text.split(&format!("SET-UP {} of", set_up.number)).nth(1).unwrap();
        let part = part.split("SET-UP ").next().unwrap();
        for pass in &set_up.passes {
            let boxed = part.matches('[').count();
            assert_eq!(boxed, 2 * set_up.passes.len() + 1, "rows, places and the table's head");
            assert!(part.matches(&pass.dial).count() >= 2, "{} in set-up {}", pass.dial, set_up.number);
        }
    }
}

#[test]
fn dials_stand_with_their_points_under_one_another() {
    let text = plan(&sample::metric());
    let second = text.split("SET-UP 2 of").nth(1).unwrap();
    let rows = second.lines().filter(|line| line.starts_with("     ") && line.contains("[ ") && line.contains(" in ]"));
    let points: Vec<usize> = rows.take(5).map(|line| line.find('.').unwrap()).collect();
    assert_eq!(points.len(), 5);
    assert!(points.iter().all(|&point| point == points[0]), "{points:?}");
}

#[test]
fn every_caution_of_a_set_up_is_printed_once_in_it() {
    let plan = sample::metric();
    let text = super::plan(&plan).split_whitespace().collect::<Vec<_>>().join(" ");
    for set_up in &plan.set_ups {
        let part = text.split(&format!("SET-UP {} of", set_up.number)).nth(1).unwrap();
        let part = part.split("SET-UP ").next().unwrap();
        assert!(!set_up.cautions.is_empty());
        for caution in &set_up.cautions {
            assert!(part.contains(caution.as_str()), "{caution}");
        }
    }
}

#[test]
fn an_impossible_job_says_value_limit_and_way_out_of_every_reason() {
    let text = plan(&sample::impossible());
    for part in [
        "52.00 mm here, against a limit of 53.74 mm.",
        "120 rpm here, against a limit of 96.5 rpm.",
        "Way out: take a bar",
        "Way out: use a carbide",
    ] {
        assert!(text.contains(part), "{part}");
    }
}

#[test]
fn no_promise_is_printed() {
    for text in texts() {
        let text = text.to_lowercase();
        let words: Vec<&str> = text.split(|letter: char| !letter.is_alphabetic()).collect();
        assert!(!words.contains(&"safe") && !words.contains(&"guaranteed") && !text.contains("will hold"));
        assert!(text.contains("this sheet is an aid to planning."));
    }
}

/// A text without its line breaks.
fn flowing(plan: &Plan) -> String {
    super::plan(plan).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn limits_are_shown_as_the_drawing_gives_them_wherever_they_stand() {
    let mut plan = sample::metric();
    let measure = &mut plan.set_ups[2].measure[0];
    (measure.nominal_mm, measure.plus_mm, measure.minus_mm) = (40.004, 0.013, 0.012);
    let text = flowing(&plan);
    // 40.004 + 0.013 and 40.004 - 0.012; under Measure and at the stop.
    assert_eq!(text.matches("40.004 mm +0.013 -0.012 (39.992 to 40.017)").count(), 2);
    // At the stop 0.46 mm are still on the middle of the limits, 40.0045.
    assert!(
        text.contains("(39.992 to 40.017); micrometer 25-50, piece out of the chuck. Near 40.46 mm now."),
        "{text}"
    );
}

#[test]
fn the_bar_that_would_do_says_what_it_allows_for() {
    let mut plan = sample::metric();
    assert!(super::plan(&plan).contains("Would do   round 56.90 mm, 47.40 mm long, with the usual allowance"));
    plan.stock.form = "flat";
    let text = super::plan(&plan);
    assert!(!text.contains("Would do") && text.contains("a round bar of 56.90 mm, 47.40 mm long, would do"));
}

#[test]
fn what_the_holds_rest_on_is_told_once_and_again_in_the_list_at_the_end() {
    let text = super::plan(&sample::metric());
    assert_eq!(text.matches("assumed: ").count(), 1);
    assert!(text.find("assumed: ") < text.find("SET-UP 2 of"));
    assert_eq!(text.matches("friction of soft copper").count(), 2);
}

#[test]
fn corners_that_ask_more_than_the_lathe_gives_are_answered_for() {
    let mut plan = sample::metric();
    assert!(!flowing(&plan).contains("half as much again"));
    plan.set_ups[0].speed.edge_power_w = 500.0;
    let told = "610 W at the corners; the lathe gives 500 W; for a part of a turn a motor bears half as much again";
    assert_eq!(flowing(&plan).matches(told).count(), 1);
}
