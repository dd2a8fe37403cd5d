//! What the jaws do at the weakest moment: arrows read back from the picture, against the plan; and the plan's forces
//! against balance.

use drawing::{Curve, Figure, LineKind, Mark, Part};
use engine::plan::{Plan, SetUp, WeakestRound};

use crate::{apart, drawn};

/// Paper that the page gives it.
const ROOM_MM: [f64; 2] = [76.0, 100.0];
/// The plan's set-ups leave out nothing but the work's weight and its unbalance.
const WEIGHT_AND_UNBALANCE_N: f64 = 60.0;

fn pictures() -> Vec<(u64, &'static SetUp, Figure)> {
    let of = |(seed, plan, _): &(u64, &'static Plan, Vec<Figure>)| {
        let (seed, plan) = (*seed, *plan);
        let figure = move |set_up| Some((seed, set_up, drawing::jaw_forces(plan, set_up, ROOM_MM)?));
        plan.set_ups.iter().filter_map(figure)
    };
    drawn().iter().take(200).flat_map(of).collect()
}

fn weakest(set_up: &SetUp) -> &WeakestRound {
    &set_up.hold.round.as_ref().expect("a turn").weakest
}

/// Wide lines of this part, from tail to head.
fn arrows(figure: &Figure, of: Part) -> Vec<[[f64; 2]; 2]> {
    let line = |mark: &Mark| match mark {
        Mark::Stroke(stroke) if stroke.kind == LineKind::Wide && stroke.part == of => match stroke.curve {
            Curve::Line { from_mm, to_mm } => Some([from_mm, to_mm]),
            Curve::Arc(_) => None,
        },
        _ => None,
    };
    figure.marks.iter().filter_map(line).collect()
}

/// "1 mm = 200 N": the newtons behind a word.
fn newtons(figure: &Figure, behind: &str) -> f64 {
    let words: Vec<&str> = figure
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Text(text) => Some(text.says.as_str()),
            _ => None,
        })
        .collect();
    let words = words.join(" ").replace('\u{a0}', " ");
    let after = words.split(&format!("{behind} 1 mm = ")).nth(1).unwrap_or_else(|| panic!("{behind}: {words}"));
    let (number, rest) = after.split_once(' ').expect("a number and its unit");
    let number: f64 = number.parse().expect("a number");
    if rest.starts_with("kN") { 1000.0 * number } else { number }
}

#[test]
fn arrows_are_as_long_as_the_forces_and_point_where_they_act() {
    let mut seen = 0;
    for (seed, set_up, figure) in pictures() {
        let moment = weakest(set_up);
        let presses = newtons(&figure, "pressing");
        let rubs = newtons(&figure, "rubbing and cut");
        let pressing = arrows(&figure, Part::Jaw);
        assert_eq!(pressing.len(), moment.jaws.len(), "{seed}");
        for ([tail, head], load) in pressing.iter().zip(&moment.jaws) {
            assert!((apart(*tail, *head) * presses - load.normal_n).abs() < 1e-6 * load.normal_n, "{seed}: {load:?}");
            // Jaw 1 is up, the jaws counted against the clock; y of paper runs downwards.
            let angle = std::f64::consts::TAU * f64::from(load.jaw - 1) / set_up.jaws.len() as f64;
            let along = [(head[0] - tail[0]), (head[1] - tail[1])];
            let inward = [angle.sin(), angle.cos()];
            let cosine = (along[0] * inward[0] + along[1] * inward[1]) / apart(*tail, *head);
            assert!((cosine - 1.0).abs() < 1e-9, "{seed}: jaw {} {cosine}", load.jaw);
        }
        let cut = arrows(&figure, Part::Tool);
        assert_eq!(cut.len(), 1, "{seed}");
        let [x, y, _] = moment.cut_n;
        let drawn = [(cut[0][1][0] - cut[0][0][0]) * rubs, (cut[0][1][1] - cut[0][0][1]) * rubs];
        assert!((drawn[0] + y).abs() < 1e-6 * y.abs().max(1.0), "{seed}: {drawn:?} {x} {y}");
        assert!((drawn[1] + x).abs() < 1e-6 * x.abs().max(1.0), "{seed}: {drawn:?} {x} {y}");
        seen += 1;
    }
    assert!(seen > 500, "{seen} pictures");
}

/// Newton: what the jaws, a seat and the tool do comes to nothing but for weight and unbalance, and along the spindle to
/// nothing at all; and the share of friction that is used up is one part in the factor or more, since it grows with the
/// cut.
#[test]
fn jaws_and_tool_balance() {
    let mut seen = 0;
    for (seed, plan, _) in drawn().iter().take(200) {
        for set_up in &plan.set_ups {
            let Some(round) = &set_up.hold.round else { continue };
            let mut sum = round.weakest.cut_n;
            sum[2] += round.weakest.seat_n;
            for load in &round.weakest.jaws {
                let angle = std::f64::consts::TAU * f64::from(load.jaw - 1) / set_up.jaws.len() as f64;
                sum[0] += load.friction_n[0] - load.normal_n * angle.cos();
                sum[1] += load.friction_n[1] - load.normal_n * angle.sin();
                sum[2] += load.friction_n[2];
                let least = round.factors.iter().flatten().copied().fold(f64::MAX, f64::min);
                assert!(load.rubs_n() < load.most_friction_n || least < 1.0, "{seed}: {load:?}");
                seen += 1;
            }
            let scale: f64 = round.weakest.jaws.iter().map(|load| load.normal_n).sum();
            assert!(sum[2].abs() < 1e-9 * scale, "{seed} set-up {}: {sum:?}", set_up.number);
            assert!(sum[0].hypot(sum[1]) < WEIGHT_AND_UNBALANCE_N + 1e-9 * scale, "{seed}: {sum:?}");
        }
    }
    assert!(seen > 2_000, "{seen} jaws");
}
