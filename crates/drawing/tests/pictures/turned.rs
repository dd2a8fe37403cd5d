//! The hold over one turn as it is plotted: read back from the lines, against the factors of the plan.

use drawing::{Curve, Figure, Fill, LineKind, Mark, Part};
use engine::plan::SetUp;

use crate::{apart, drawn};

/// Paper that the sheet gives it.
const ROOM_MM: [f64; 2] = [41.0, 62.0];

/// Room that the page gives it.
const PAGE_ROOM_MM: [f64; 2] = [76.0, 100.0];

/// Corners of the wide line, in order; the last one is the first again.
fn corners(figure: &Figure) -> Vec<[f64; 2]> {
    let ends = figure.marks.iter().filter_map(|mark| match mark {
        Mark::Stroke(stroke) if stroke.kind == LineKind::Wide => match stroke.curve {
            Curve::Line { from_mm, to_mm } => Some([from_mm, to_mm]),
            Curve::Arc(_) => None,
        },
        _ => None,
    });
    ends.map(|[from, _]| from).collect()
}

/// A circle of this kind of line: its middle and its radius.
fn circle(figure: &Figure, kind: LineKind) -> ([f64; 2], f64) {
    let found = figure.marks.iter().find_map(|mark| match mark {
        Mark::Stroke(stroke) if stroke.kind == kind => match stroke.curve {
            Curve::Arc(arc) => Some((arc.centre_mm, arc.halves_mm[0][0].hypot(arc.halves_mm[0][1]))),
            Curve::Line { .. } => None,
        },
        _ => None,
    });
    found.expect("a circle")
}

/// Middle of the mark on the weakest moment.
fn mark(figure: &Figure) -> [f64; 2] {
    let found = figure.marks.iter().find_map(|mark| match mark {
        Mark::Area(area) if area.fill == Fill::Ink && area.part == Part::Sign => {
            let starts = area.edge.iter().map(|curve| curve.at(0.0));
            let sum = starts.fold([0.0; 2], |sum, point| [sum[0] + point[0], sum[1] + point[1]]);
            Some(sum.map(|coordinate| coordinate / area.edge.len() as f64))
        }
        _ => None,
    });
    found.expect("a mark")
}

fn plots(room_mm: [f64; 2]) -> Vec<(u64, &'static SetUp, Figure)> {
    let of = |(seed, plan, _): &(u64, &'static engine::plan::Plan, Vec<Figure>)| {
        let seed = *seed;
        plan.set_ups.iter().filter_map(move |set_up| Some((seed, set_up, drawing::turn_plot(set_up, room_mm)?)))
    };
    drawn().iter().take(200).flat_map(of).collect::<Vec<_>>()
}

/// The dashed circle stands for the factor needed: distances are to its radius as factors are to that one; what is
/// beyond the rim ends at the rim.
#[test]
fn distances_are_the_factors_of_the_plan_and_jaw_1_is_up() {
    let (mut seen, mut inside) = (0, 0);
    for (seed, set_up, figure) in plots(ROOM_MM) {
        let round = set_up.hold.round.as_ref().expect("a plotted turn");
        let (middle, needed_mm) = circle(&figure, LineKind::Dashed);
        let (_, rim_mm) = circle(&figure, LineKind::Narrow);
        let corners = corners(&figure);
        let called = format!("{seed} set-up {}", set_up.number);
        assert_eq!(corners.len(), round.factors.len(), "{called}");
        for (at, (corner, factor)) in corners.iter().zip(&round.factors).enumerate() {
            let out_mm = apart(*corner, middle);
            let wanted_mm = factor.map_or(rim_mm, |factor| factor / set_up.hold.required * needed_mm).min(rim_mm);
            assert!((out_mm - wanted_mm).abs() < 1e-6, "{called}, {at}: {out_mm} for {wanted_mm}");
            // Against the clock from straight up; y of paper runs downwards.
            let angle = std::f64::consts::TAU * at as f64 / corners.len() as f64;
            let place = [middle[0] - out_mm * angle.sin(), middle[1] - out_mm * angle.cos()];
            assert!(apart(*corner, place) < 1e-6, "{called}, {at}");
            inside += usize::from(wanted_mm < rim_mm);
        }
        seen += 1;
    }
    assert!(seen > 500 && inside > 5_000, "{seen} plots, {inside} factors inside the rim");
}

#[test]
fn the_least_is_marked_where_it_is_least_and_said() {
    for (seed, set_up, figure) in plots(ROOM_MM) {
        let round = set_up.hold.round.as_ref().expect("a plotted turn");
        let least = round.factors.iter().flatten().copied().fold(f64::MAX, f64::min);
        let (middle, needed_mm) = circle(&figure, LineKind::Dashed);
        let mark = mark(&figure);
        let out_mm = apart(mark, middle);
        assert!((out_mm - least / set_up.hold.required * needed_mm).abs() < 1e-6, "{seed} set-up {}", set_up.number);
        let nearest = corners(&figure).iter().map(|corner| apart(*corner, middle)).fold(f64::MAX, f64::min);
        assert!((nearest - out_mm).abs() < 1e-6, "{seed} set-up {}", set_up.number);
        assert!(corners(&figure).iter().any(|corner| apart(*corner, mark) < 1e-6), "{seed}");
        // Cut to one place, as the hold tells it: never more than there is.
        let cut = (least * 10.0 + 1e-6).floor() / 10.0;
        assert!(cut < least + 1e-6 && figure.says.contains(&format!("weakest {cut:.1} ")), "{seed}: {}", figure.says);
    }
}

/// The strong number beside the mark is the one of the heading and of the hold in words, cut and not rounded up.
#[test]
fn the_number_at_the_mark_is_the_factor_that_the_hold_tells() {
    let strong = |figure: &Figure| {
        figure.marks.iter().find_map(|mark| match mark {
            Mark::Text(text) if text.strong => Some((text.says.clone(), text.frame_mm)),
            _ => None,
        })
    };
    let (mut seen, mut lettered) = (0, 0);
    for (seed, set_up, figure) in plots(PAGE_ROOM_MM) {
        seen += 1;
        let has = set_up.hold.has();
        let told = has.strip_prefix("a factor of ").unwrap_or_else(|| panic!("{seed}: {has}"));
        assert!(figure.title.contains(&format!("held {told} times")), "{seed}: {} but {has}", figure.title);
        let Some((says, [left, top, right, bottom])) = strong(&figure) else { continue };
        lettered += 1;
        assert_eq!(says, told, "{seed}");
        let middle = [(left + right) / 2.0, (top + bottom) / 2.0];
        assert!(apart(middle, mark(&figure)) < 6.0, "{seed}: the number stands {middle:?}");
    }
    assert!(seen > 100 && lettered * 10 > seen * 8, "{lettered} of {seen}");
}
