//! What each flat stood on and what is kept, read back from the picture: signs counted against the set-ups, numbers
//! against the forecast.

use drawing::{Fill, Mark, Text, TextKind};
use engine::plan::Plan;

use crate::plans;

/// Paper that page and sheet give.
const WIDTHS_MM: [f64; 2] = [90.0, 76.0];

/// Flats cut before that a jaw bears on, and those that are a seat, over all set-ups.
fn stood_on(plan: &Plan) -> [usize; 2] {
    let mut cut: Vec<&str> = Vec::new();
    let mut found = [0, 0];
    for set_up in &plan.set_ups {
        let is_cut = |name: &&str| cut.contains(name);
        let mut jaws: Vec<&str> = set_up.jaws.iter().map(|jaw| jaw.bears_on.as_str()).filter(is_cut).collect();
        jaws.sort_unstable();
        jaws.dedup();
        found[0] += jaws.len();
        found[1] += set_up.seat.iter().filter(|seat| is_cut(&seat.face.as_str())).count();
        cut.push(&set_up.cuts_faces[0]);
    }
    found
}

#[test]
fn signs_and_numbers_are_those_of_the_plan() {
    let (mut signs, mut numbers) = (0, 0);
    for (seed, plan) in plans() {
        for width_mm in WIDTHS_MM {
            let Some(figure) = drawing::relations(plan, [width_mm, 180.0]) else {
                // A cell holds a letter and a number of two digits and a point over one another.
                let narrow = 8.5 * plan.set_ups.len() as f64 > width_mm - 1.0;
                assert!(plan.set_ups.len() < 2 || narrow, "seed {seed}, {width_mm} mm");
                continue;
            };
            let inked = figure.marks.iter().filter_map(|mark| match mark {
                Mark::Area(area) if area.fill == Fill::Ink => Some(area.edge.len()),
                _ => None,
            });
            let [jaws, seats] = stood_on(plan);
            let drawn: Vec<usize> = inked.collect();
            let dots = drawn.iter().filter(|edges| **edges == 1).count();
            assert_eq!([dots, drawn.len() - dots], [jaws, seats], "seed {seed}");
            signs += drawn.len();
            numbers += numbers_of(*seed, plan, &figure.marks);
        }
    }
    assert!(signs > 2_000 && numbers > 500, "{signs} {numbers}");
}

/// Each number is the least chance of what is asked of one flat or between two.
fn numbers_of(seed: u64, plan: &Plan, marks: &[Mark]) -> usize {
    let text = |mark: &Mark| if let Mark::Text(text) = mark { Some(text.clone()) } else { None };
    let texts: Vec<Text> = marks.iter().filter_map(text).collect();
    let mut drawn: Vec<String> =
        texts.iter().filter(|text| text.kind == TextKind::Number).map(|text| text.says.clone()).collect();
    let names: Vec<&String> = plan.set_ups.iter().map(|set_up| &set_up.cuts_faces[0]).collect();
    let qualities = &plan.forecast.as_ref().expect("a forecast").qualities;
    let mut due = Vec::new();
    for (at, one) in names.iter().enumerate() {
        for other in &names[at..] {
            let of = qualities.iter().filter(|quality| {
                let mut faces: Vec<&String> = quality.faces.iter().collect();
                faces.sort();
                faces.dedup();
                let mut asked = vec![*one, *other];
                asked.sort();
                asked.dedup();
                faces == asked
            });
            let least = of.map(|quality| quality.chance).min_by(|a, b| a.share.total_cmp(&b.share));
            if let Some(chance) = least.filter(|chance| chance.share <= 0.999) {
                due.push(match chance.of_100().as_str() {
                    "none" => "0".to_string(),
                    "less than 1" => "<1".to_string(),
                    number => number.to_string(),
                });
            }
        }
    }
    drawn.sort();
    due.sort();
    assert_eq!(drawn, due, "seed {seed}");
    due.len()
}
