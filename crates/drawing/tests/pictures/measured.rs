//! What is drawn measures what is written.

use drawing::{Curve, Dimension, Figure, Fill, LineKind, Mark, Part};
use engine::plan::{Plan, SetUp, Stretch};
use engine::quantity::Units;

use crate::{apart, drawn, named, room};

fn dimensions(figure: &Figure) -> impl Iterator<Item = &Dimension> {
    figure.marks.iter().filter_map(|mark| match mark {
        Mark::Dimension(dimension) => Some(dimension),
        _ => None,
    })
}

/// The first number of a text, and half of its last place, mm.
fn number_mm(says: &str, units: Units) -> (f64, f64) {
    let start = says.find(|c: char| c.is_ascii_digit()).unwrap_or_else(|| panic!("no number in {says}"));
    let number: String = says[start..].chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
    let value: f64 = number.parse().expect("a number");
    let places = number.split('.').nth(1).map_or(0, str::len);
    assert!(places >= 2, "{says}: too few places");
    let unit = if units == Units::Inch { 25.4 } else { 1.0 };
    (value * unit, 0.5 * unit * 0.1_f64.powi(places as i32))
}

#[test]
fn every_dimension_measures_what_it_says() {
    let mut seen = 0;
    for (seed, plan, figures) in drawn() {
        for figure in figures {
            for dimension in dimensions(figure) {
                let measured = apart(dimension.ends_mm[0], dimension.ends_mm[1]) / figure.scale.ratio();
                assert!((measured - dimension.value_mm).abs() < 1e-6, "{seed} {}: {dimension:?}", figure.name);
                let (said, half) = number_mm(&dimension.text.says, plan.units);
                assert!((said - measured).abs() <= half + 1e-9, "{seed} {}: {dimension:?}", figure.name);
                seen += 1;
            }
        }
    }
    assert!(seen > 20_000, "only {seen} dimensions");
}

/// ISO 129-1: numbers stand above their dimension line, which goes on unbroken below all of them, and along it; they are
/// read from below or from the right.
#[test]
fn every_number_stands_above_its_unbroken_line() {
    let mut upright = 0;
    for (seed, _, figures) in drawn() {
        for figure in figures {
            for dimension in dimensions(figure) {
                let [left, top, right, bottom] = dimension.text.frame_mm;
                let [line] = dimension.lines_mm[..] else { panic!("{seed} {}: a broken line", figure.name) };
                let [[x, y], [to_x, to_y]] = line;
                let (over, along, off) = if dimension.text.upright {
                    upright += 1;
                    // Read from the right, above is on the left.
                    (right < x, to_y.min(y) - 1e-9 <= top && bottom <= to_y.max(y) + 1e-9, x - right)
                } else {
                    (bottom < y, x.min(to_x) - 1e-9 <= left && right <= x.max(to_x) + 1e-9, y - bottom)
                };
                let level = (y - to_y).abs() < 1e-9;
                assert_eq!(level, !dimension.text.upright, "{seed} {}: {dimension:?}", figure.name);
                assert!(over && along && off < 1.0, "{seed} {}: {dimension:?}", figure.name);
            }
        }
    }
    assert!(upright > 400, "{upright}");
}

/// The values that the engine gives stand in the side view, each at its name.
#[test]
fn the_side_view_carries_the_values_of_the_plan() {
    // On less paper some numbers give way to the picture.
    for (seed, plan, figures) in drawn().iter().filter(|(seed, ..)| room(*seed)[1] > 105.0) {
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("side-{}", set_up.number));
            let out = &set_up.stick_out;
            let mut wanted = vec![
                ("stick-out", out.set_mm),
                ("least", out.least_mm),
                ("most", out.most_mm),
                ("bite", set_up.bite_mm),
            ];
            if let Some(seat) = set_up.seat.as_ref().filter(|seat| seat.packing_mm > 0.0) {
                wanted.push(("parallels", seat.packing_mm));
            }
            for (name, value_mm) in wanted {
                let found = dimensions(figure).find(|dimension| dimension.text.says.starts_with(name));
                let found = found.unwrap_or_else(|| panic!("{seed}: no {name}"));
                assert!((found.value_mm - value_mm).abs() < 1e-9, "{seed} {name}: {found:?}");
            }
            // The cut goes as deep as the table of passes does in all, and says it in the table's figures; what stays
            // clear makes up the stick-out with it.
            let found = |name: &str| dimensions(figure).find(|d| d.text.says.starts_with(name));
            let (cut, clear) = (found("cut").expect("a cut"), found("clears").expect("clear"));
            let total_mm = set_up.passes.last().expect("a pass").total_mm;
            assert!((cut.value_mm - total_mm).abs() < 1e-9, "{seed}: {} drawn, {total_mm} in the table", cut.value_mm);
            let total = engine::quantity::bare::bare(total_mm, plan.units);
            assert_eq!(cut.text.says, format!("cut {total} {}", plan.units.name()), "{seed}");
            assert!((clear.value_mm - (out.set_mm - total_mm)).abs() < 1e-6, "{seed}: {clear:?}");
            let piece = named(figures, &format!("before-after-{}", set_up.number));
            assert!(
                piece.says.contains(&format!(" {total} {} comes off", plan.units.name())),
                "{seed}: {}",
                piece.says
            );
        }
    }
}

/// Middle of the chuck: the hole is drawn round it.
pub fn chuck_middle(figure: &Figure) -> [f64; 2] {
    let hole = figure.marks.iter().rev().find_map(|mark| match mark {
        Mark::Stroke(stroke) if stroke.part == Part::Chuck => match stroke.curve {
            Curve::Arc(arc) => Some(arc.centre_mm),
            Curve::Line { .. } => None,
        },
        _ => None,
    });
    hole.expect("a hole in the chuck")
}

/// Corners of the piece, where the set-up's frame puts them, seen from the tailstock with jaw 1 upwards.
fn corners(set_up: &SetUp, figure: &Figure) -> Vec<[f64; 2]> {
    let solid = &set_up.held.before;
    let middle = chuck_middle(figure);
    let ratio = figure.scale.ratio();
    let begins = solid.outline.iter().map(|stretch| match *stretch {
        Stretch::Line { from_mm, .. } => from_mm,
        Stretch::Arc { centre_mm: [x, y], radius_mm, start_rad, .. } => {
            [x + radius_mm * start_rad.cos(), y + radius_mm * start_rad.sin()]
        }
    });
    begins
        .flat_map(|[x, y]| [solid.back_mm, solid.front_mm].map(|z| set_up.held.frame.place([x, y, z])))
        .map(|[x, y, _]| [middle[0] - ratio * y, middle[1] - ratio * x])
        .collect()
}

/// Where a round lying across turns away from the eye: its middle and radius across the bar, on paper.
fn round_ends(set_up: &SetUp, figure: &Figure) -> Vec<[f64; 2]> {
    let (middle, ratio, solid) = (chuck_middle(figure), figure.scale.ratio(), &set_up.held.before);
    let along = set_up.held.frame.turn([0.0, 0.0, 1.0]);
    let across = [along[1], -along[0]];
    let mut ends = Vec::new();
    for stretch in &solid.outline {
        let Stretch::Arc { centre_mm: [x, y], radius_mm, .. } = *stretch else { continue };
        for z in [solid.back_mm, solid.front_mm] {
            for side in [-1.0, 1.0] {
                let [cx, cy, _] = set_up.held.frame.place([x, y, z]);
                let (px, py) = (cx + side * radius_mm * across[0], cy + side * radius_mm * across[1]);
                ends.push([middle[0] - ratio * py, middle[1] - ratio * px]);
            }
        }
    }
    ends
}

#[test]
fn the_piece_in_the_chuck_lies_where_its_frame_places_it() {
    let mut seen = 0;
    for (seed, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("chuck-{}", set_up.number));
            let corners = corners(set_up, figure);
            let rounds = round_ends(set_up, figure);
            let strokes = figure.marks.iter().filter_map(|mark| match mark {
                Mark::Stroke(stroke) if stroke.part == Part::Piece && stroke.kind == LineKind::Wide => {
                    Some(stroke.curve)
                }
                _ => None,
            });
            for end in strokes.flat_map(|curve| [curve.at(0.0), curve.at(1.0)]) {
                let is_corner = corners.iter().chain(&rounds).any(|&corner| apart(corner, end) < 1e-6);
                assert!(is_corner, "{seed} set-up {}: {end:?} is no corner", set_up.number);
                seen += 1;
            }
        }
    }
    assert!(seen > 10_000, "only {seen} ends of edges");
}

#[test]
fn jaws_stand_at_their_reach_and_packing_fills_the_gap() {
    for (seed, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("chuck-{}", set_up.number));
            let (middle, ratio) = (chuck_middle(figure), figure.scale.ratio());
            for jaw in &set_up.jaws {
                let angle = std::f64::consts::TAU * f64::from(jaw.jaw - 1) / set_up.jaws.len() as f64;
                // X upwards, Y to the left; y of paper runs downwards.
                let way = [-angle.sin(), -angle.cos()];
                let out = |point: [f64; 2]| ((point[0] - middle[0]) * way[0] + (point[1] - middle[1]) * way[1]) / ratio;
                let aside =
                    |point: [f64; 2]| ((point[0] - middle[0]) * way[1] - (point[1] - middle[1]) * way[0]) / ratio;
                let half = nose_mm(plan, set_up, usize::from(jaw.jaw) - 1);
                let face = figure.marks.iter().any(|mark| match mark {
                    Mark::Stroke(stroke) if stroke.part == Part::Jaw => {
                        let [a, b] = [stroke.curve.at(0.0), stroke.curve.at(1.0)];
                        [a, b].iter().all(|&end| {
                            (out(end) - jaw.reach_mm).abs() < 1e-6 && (aside(end).abs() - half).abs() < 1e-6
                        }) && apart(a, b) > ratio * half
                    }
                    _ => false,
                });
                assert!(face, "{seed} set-up {}: jaw {} is not at its reach", set_up.number, jaw.jaw);
            }
        }
    }
}

/// Half the width of a jaw's nose where the fronts of its neighbours meet its own: plane geometry, with four jaws the
/// least reach of its neighbours, with three alike `r √3`; never more than half the jaw.
fn nose_mm(plan: &Plan, set_up: &SetUp, at: usize) -> f64 {
    let (half, jaws) = (plan.scene.chuck.jaw_width_mm / 2.0, &set_up.jaws);
    let near = |by: usize| jaws[(at + by) % jaws.len()].reach_mm;
    match jaws.len() {
        4 => half.min(near(1)).min(near(3)),
        3 => half.min(jaws[at].reach_mm * 3f64.sqrt()),
        other => panic!("{other} jaws"),
    }
}

/// Two convex polygons share an area only where no side of either has the other wholly beyond it.
pub fn share_area(one: &[[f64; 2]], other: &[[f64; 2]]) -> bool {
    let beyond = |these: &[[f64; 2]], those: &[[f64; 2]]| {
        (0..these.len()).any(|at| {
            let (a, b) = (these[at], these[(at + 1) % these.len()]);
            let long = apart(a, b);
            let off = |p: &[f64; 2]| ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / long;
            let inside = these.iter().map(off).sum::<f64>();
            long > 1e-6 && those.iter().all(|p| off(p) * inside.signum() < 1e-6)
        })
    };
    !beyond(one, other) && !beyond(other, one)
}

#[test]
fn no_two_jaws_overlap() {
    let (mut seen, mut bevelled) = (0, 0);
    for (seed, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("chuck-{}", set_up.number));
            let jaws: Vec<Vec<[f64; 2]>> = figure
                .marks
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Area(area) if area.part == Part::Jaw => {
                        Some(area.edge.iter().map(|side| side.at(0.0)).collect())
                    }
                    _ => None,
                })
                .collect();
            assert_eq!(jaws.len(), set_up.jaws.len(), "{seed} set-up {}", set_up.number);
            let half = plan.scene.chuck.jaw_width_mm / 2.0;
            bevelled += usize::from((0..jaws.len()).any(|at| nose_mm(plan, set_up, at) < half - 1e-9));
            for (at, one) in jaws.iter().enumerate() {
                for other in &jaws[at + 1..] {
                    assert!(!share_area(one, other), "{seed} set-up {}: {one:?} {other:?}", set_up.number);
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 10_000 && bevelled > 10, "{seen} pairs, {bevelled} with bevels");
}

/// Packing on paper is as thick as it is, and never under 0.7 mm, so that it shows.
#[test]
fn packing_shows() {
    let mut seen = 0;
    for (seed, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            for figure in ["chuck", "side"].map(|kind| named(figures, &format!("{kind}-{}", set_up.number))) {
                for mark in &figure.marks {
                    let Mark::Area(area) = mark else { continue };
                    if area.part != Part::Packing {
                        continue;
                    }
                    let sides = area.edge.iter().map(|side| apart(side.at(0.0), side.at(1.0)));
                    let thin = sides.fold(f64::MAX, f64::min);
                    let thickest = set_up.jaws.iter().map(|jaw| jaw.packing_mm).fold(0.0, f64::max);
                    assert!(thin >= 0.7 && thin <= (thickest * figure.scale.ratio()).max(1.0) + 1e-6, "{seed}: {thin}");
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 1_000, "{seen}");
}

/// A pictorial view is true along the three axes: an edge along the bar measures the piece's length.
#[test]
fn edges_of_the_pictorial_view_measure_the_piece() {
    let mut seen = 0;
    for (seed, plan, figures) in drawn() {
        for set_up in plan.set_ups.iter().filter(|set_up| is_straight(set_up)) {
            let figure = named(figures, &format!("before-after-{}", set_up.number));
            let long = (set_up.held.before.front_mm - set_up.held.before.back_mm) * figure.scale.ratio();
            let found = figure.marks.iter().any(|mark| match mark {
                Mark::Stroke(stroke) if stroke.part == Part::Piece => {
                    (apart(stroke.curve.at(0.0), stroke.curve.at(1.0)) - long).abs() < 1e-6
                }
                _ => false,
            });
            assert!(found, "{seed} set-up {}", set_up.number);
            seen += 1;
        }
    }
    assert!(seen > 100, "{seen}");
}

fn is_straight(set_up: &SetUp) -> bool {
    set_up.held.before.outline.iter().all(|stretch| matches!(stretch, Stretch::Line { .. }))
}

#[test]
fn one_kind_of_picture_has_one_scale_over_all_set_ups_and_keeps_to_its_room() {
    for (seed, plan, figures) in drawn() {
        let room = room(*seed);
        let mut scales: Vec<Vec<String>> = vec![Vec::new(); 3];
        for set_up in &plan.set_ups {
            let three = ["chuck", "side", "before-after"];
            let three = three.map(|kind| named(figures, &format!("{kind}-{}", set_up.number)));
            for (at, figure) in three.iter().enumerate() {
                scales[at].push(figure.scale.name());
            }
        }
        for kind in &scales {
            assert!(kind.windows(2).all(|pair| pair[0] == pair[1]), "{seed}: {kind:?}");
        }
        for figure in figures {
            let [width, height] = figure.size_mm;
            assert!(
                width <= room[0] + 1e-9 && height <= room[1] + 1e-9,
                "{seed} {}: {:?} in {room:?}",
                figure.name,
                figure.size_mm
            );
        }
    }
}

/// What a drawing's size asks for: least and most, in the plan's units; `None`: it does not end so.
fn read_back(says: &str) -> Option<[f64; 2]> {
    let words: Vec<&str> = says.split_whitespace().collect();
    let number = |word: &str| word.parse::<f64>().ok();
    match words[..] {
        [.., nominal, both] if both.starts_with('±') => {
            let (nominal, both) = (number(nominal)?, number(both.trim_start_matches('±'))?);
            Some([nominal - both, nominal + both])
        }
        [.., nominal, above, below] if number(nominal).is_some() && number(below).is_some() => {
            for limit in [above, below] {
                // ISO 129-1: a limit of nothing is a 0 without sign, any other carries its sign (from memory).
                let nothing = number(limit) == Some(0.0);
                assert!(if nothing { limit == "0" } else { limit.starts_with(['+', '-']) }, "{says}");
            }
            Some([number(nominal)? + number(below)?, number(nominal)? + number(above)?])
        }
        _ => None,
    }
}

/// Sizes of the part drawing are the drawing's: what its numbers allow lies within what is asked and is nearly all of it.
#[test]
fn the_part_drawing_says_the_sizes_that_are_asked() {
    let mut seen = 0;
    for (seed, plan, figures) in drawn() {
        let figure = named(figures, "part");
        let said = all_words(figure);
        let unit = if plan.units == Units::Inch { 25.4 } else { 1.0 };
        let allowed: Vec<[f64; 2]> =
            said.lines().filter_map(read_back).map(|of| of.map(|value| value * unit)).collect();
        for size in &plan.scene.sizes {
            let asked = [size.nominal_mm - size.minus_mm, size.nominal_mm + size.plus_mm];
            let band = asked[1] - asked[0];
            let keeps = |[least, most]: &[f64; 2]| {
                *least >= asked[0] - 1e-6 && *most <= asked[1] + 1e-6 && most - least >= 0.95 * band - 1e-6
            };
            assert!(allowed.iter().any(keeps), "{seed}: {size:?} is not said: {said}");
            seen += 1;
        }
    }
    assert!(seen > 1_000, "{seen}");
}

/// The rim of the chuck is a whole circle of its size, or it is not there and the words say so.
#[test]
fn the_rim_of_the_chuck_is_whole_or_said_to_be_left_out() {
    let mut whole = 0;
    for (seed, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("chuck-{}", set_up.number));
            let arcs: Vec<_> = figure
                .marks
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Stroke(stroke) if stroke.part == Part::Chuck => match stroke.curve {
                        Curve::Arc(arc) => Some((arc, stroke.kind)),
                        Curve::Line { .. } => panic!("{seed}: a straight line for the chuck"),
                    },
                    _ => None,
                })
                .collect();
            let rim = plan.scene.chuck.body_mm / 2.0 * figure.scale.ratio();
            for (arc, kind) in &arcs {
                assert!((arc.to_rad - arc.from_rad - std::f64::consts::TAU).abs() < 1e-12, "{seed}: {arc:?}");
                assert_eq!(*kind, LineKind::Narrow);
            }
            let seen = arcs.iter().any(|(arc, _)| (arc.axes().0 - rim).abs() < 1e-9);
            let said = all_words(figure).replace('\n', " ").contains("without the rim");
            assert!(seen != said, "{seed} set-up {}: rim drawn: {seen}, said to be left out: {said}", set_up.number);
            whole += usize::from(seen);
        }
    }
    assert!(whole > 500, "{whole}");
}

pub fn all_words(figure: &Figure) -> String {
    let texts = figure.marks.iter().filter_map(|mark| match mark {
        Mark::Text(text) => Some(text.says.as_str()),
        Mark::Dimension(dimension) => Some(dimension.text.says.as_str()),
        _ => None,
    });
    texts.collect::<Vec<_>>().join("\n")
}

#[test]
fn the_part_is_drawn_at_its_nominal_sizes() {
    fn sizes(plan: &Plan) -> usize {
        plan.scene.sizes.len()
    }
    let (mut lined, mut asked) = (0, 0);
    // On narrower paper sizes may stand in words, for the sake of the scale.
    for (seed, plan, figures) in drawn().iter().filter(|(seed, ..)| room(*seed)[0] > 100.0) {
        let figure = named(figures, "part");
        asked += sizes(plan).min(3);
        for dimension in dimensions(figure) {
            let is_asked = plan.scene.sizes.iter().any(|size| (size.nominal_mm - dimension.value_mm).abs() < 1e-9);
            assert!(is_asked, "{seed}: {dimension:?}");
            lined += 1;
        }
    }
    assert!(lined * 10 > asked * 9, "{lined} of {asked} sizes are drawn");
}

#[test]
fn the_band_of_the_stick_out_goes_from_the_least_to_the_most() {
    let mut seen = 0;
    for (seed, plan, all) in drawn() {
        for set_up in &plan.set_ups {
            let figure = named(all, &format!("side-{}", set_up.number));
            let most = figure.marks.iter().find_map(|mark| match mark {
                Mark::Dimension(dimension) if dimension.text.says.starts_with("most ") => Some(dimension),
                _ => None,
            });
            let Some(most) = most else { continue };
            let dark = figure.marks.iter().filter_map(|mark| match mark {
                Mark::Area(area) if area.fill == Fill::Dark && area.part == Part::Sign => Some(area),
                _ => None,
            });
            let across = dark.flat_map(|area| area.edge.iter().map(|curve| curve.at(0.0)[0]));
            let [from, to] = across.fold([f64::MAX, f64::MIN], |[least, most], x| [least.min(x), most.max(x)]);
            let front = most.ends_mm[0][0].min(most.ends_mm[1][0]);
            let out = &set_up.stick_out;
            let ratio = figure.scale.ratio();
            assert!(out.most_mm - out.least_mm < 1e-9 || (from - front - out.least_mm * ratio).abs() < 1e-6, "{seed}");
            assert!(out.most_mm - out.least_mm < 1e-9 || (to - front - out.most_mm * ratio).abs() < 1e-6, "{seed}");
            seen += usize::from(out.most_mm > out.least_mm);
        }
    }
    assert!(seen > 300, "{seen} bands");
}
