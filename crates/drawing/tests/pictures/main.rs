//! What every picture of a plan must keep, over random jobs in mm and inches and over the example jobs.
#![allow(missing_docs)]

mod clear;

mod forced;
mod jaws;
mod mapped;
mod measured;
mod related;
mod said;
mod spread;
mod turned;
mod written;

#[path = "../../../engine/tests/scenario/mod.rs"]
#[allow(dead_code)]
mod scenario;

use std::sync::OnceLock;

use drawing::{Curve, Figure, Mark, Projection};
use engine::plan::{Outcome, Plan};
use engine::quantity::Units;

/// How many planned jobs are drawn.
const JOBS: usize = 510;
/// Sizes of paper that a sheet or a page may give.
const ROOMS: [[f64; 2]; 4] = [[110.0, 130.0], [85.0, 110.0], [175.0, 120.0], [95.0, 80.0]];

/// Plans of random jobs that can be done, each with its seed.
pub fn plans() -> &'static [(u64, Plan)] {
    static PLANS: OnceLock<Vec<(u64, Plan)>> = OnceLock::new();
    PLANS.get_or_init(|| {
        let halves: Vec<Vec<(u64, Plan)>> = std::thread::scope(|scope| {
            let half = |odd: u64| {
                scope.spawn(move || (0..).map(|at| 2 * at + odd).filter_map(planned).take(JOBS / 2).collect())
            };
            [half(0), half(1)].map(|half| half.join().expect("a half planned")).into()
        });
        halves.into_iter().flatten().collect()
    })
}

fn planned(seed: u64) -> Option<(u64, Plan)> {
    let scenario = scenario::scenario(seed);
    let mut plan = engine::plan(&scenario.job, &scenario.shop).ok()?;
    plan.set_ups.iter_mut().for_each(|set_up| set_up.audit = engine::plan::Audit::default());
    (plan.outcome == Outcome::Planned).then_some((seed, plan))
}

/// All pictures of all plans that can be done.
pub fn drawn() -> &'static [(u64, &'static Plan, Vec<Figure>)] {
    static DRAWN: OnceLock<Vec<(u64, &'static Plan, Vec<Figure>)>> = OnceLock::new();
    DRAWN.get_or_init(|| {
        let draw = |(seed, plan): &'static (u64, Plan)| (*seed, plan, figures(plan, room(*seed)));
        let (one, other) = plans().split_at(JOBS / 2);
        std::thread::scope(|scope| {
            let other = scope.spawn(move || other.iter().map(draw).collect::<Vec<_>>());
            let mut all: Vec<_> = one.iter().map(draw).collect();
            all.extend(other.join().expect("the other half drawn"));
            all
        })
    })
}

/// Plans of random jobs that cannot be done.
pub fn impossible() -> Vec<(u64, Plan)> {
    let plan = |seed| {
        let scenario = scenario::scenario(seed);
        Some((seed, engine::plan(&scenario.job, &scenario.shop).ok()?))
    };
    (0..).filter_map(plan).filter(|(_, plan)| plan.outcome != Outcome::Planned).take(20).collect()
}

/// The room of a plan, by its seed.
pub fn room(seed: u64) -> [f64; 2] {
    ROOMS[(seed / 2 % 4) as usize]
}

/// All pictures of a plan.
pub fn figures(plan: &Plan, room: [f64; 2]) -> Vec<Figure> {
    let mut all = vec![
        drawing::part_drawing(plan, Projection::usual(plan.units), room),
        drawing::bar_and_part(plan, room),
        drawing::order_strip(plan, room),
    ];
    for set_up in &plan.set_ups {
        all.push(drawing::chuck_view(plan, set_up, room));
        all.push(drawing::side_view(plan, set_up, room));
        all.push(drawing::before_after(plan, set_up, room));
        all.extend(drawing::turn_plot(set_up, room));
        all.extend(drawing::jaw_forces(plan, set_up, room));
        all.extend(drawing::surface_map(set_up, plan.units, room));
    }
    for (at, quality) in plan.forecast.iter().flat_map(|forecast| &forecast.qualities).enumerate() {
        all.extend(drawing::spread(quality, at, plan.units, room[0]));
        all.extend(drawing::causes(quality, at, room[0]));
    }
    all.extend(drawing::relations(plan, room));
    all
}

/// The picture of this name.
pub fn named<'a>(figures: &'a [Figure], name: &str) -> &'a Figure {
    figures.iter().find(|figure| figure.name == name).unwrap_or_else(|| panic!("no {name}"))
}

/// Straight pieces of a curve, fine enough for a hundredth of a mm.
pub fn pieces(curve: &Curve) -> Vec<[[f64; 2]; 2]> {
    let count = if matches!(curve, Curve::Line { .. }) { 1 } else { 300 };
    let at = |step: usize| curve.at(step as f64 / count as f64);
    (0..count).map(|step| [at(step), at(step + 1)]).collect()
}

/// Straight pieces of every line of a mark.
pub fn lines(mark: &Mark) -> Vec<[[f64; 2]; 2]> {
    match mark {
        Mark::Stroke(stroke) => pieces(&stroke.curve),
        Mark::Area(area) => area.edge.iter().flat_map(pieces).collect(),
        Mark::Text(_) => Vec::new(),
        Mark::Dimension(dimension) => dimension.lines_mm.iter().chain(&dimension.extensions_mm).copied().collect(),
    }
}

pub fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

#[test]
fn the_jobs_are_many_and_speak_both_units() {
    assert_eq!(plans().len(), JOBS);
    let inch = plans().iter().filter(|(_, plan)| plan.units == Units::Inch).count();
    assert!(inch > JOBS / 8 && inch < JOBS / 2, "{inch} in inches");
}
