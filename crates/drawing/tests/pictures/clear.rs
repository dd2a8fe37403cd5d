//! No letter lies on another or on a line that matters.

use drawing::{Figure, LineKind, Mark, Part, Text, TextKind};

use crate::{drawn, figures, impossible, lines, named, room};

fn texts(figure: &Figure) -> Vec<&Text> {
    figure
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Text(text) => Some(text),
            Mark::Dimension(dimension) => Some(&dimension.text),
            _ => None,
        })
        .collect()
}

fn overlap(a: [f64; 4], b: [f64; 4]) -> bool {
    a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]
}

/// Visible edges, jaws, bearing surfaces, hatching, dimension lines, signs. Broken narrow lines may run under a letter,
/// which interrupts them.
fn matters(mark: &Mark) -> bool {
    match mark {
        Mark::Stroke(stroke) => {
            matches!(stroke.kind, LineKind::Thick | LineKind::Wide | LineKind::Narrow) && stroke.part != Part::Old
        }
        Mark::Dimension(_) => true,
        Mark::Area(_) | Mark::Text(_) => false,
    }
}

/// Whether a straight piece runs through a box: a Cohen-Sutherland style halving, independent of the crate's own.
fn crosses(line: [[f64; 2]; 2], frame: [f64; 4]) -> bool {
    let outside = |p: [f64; 2]| [p[0] <= frame[0], p[0] >= frame[2], p[1] <= frame[1], p[1] >= frame[3]];
    let (a, b) = (outside(line[0]), outside(line[1]));
    if (0..4).any(|side| a[side] && b[side]) {
        return false;
    }
    if !a.contains(&true) || !b.contains(&true) {
        return true;
    }
    if (line[0][0] - line[1][0]).abs() + (line[0][1] - line[1][1]).abs() < 1e-6 {
        return false;
    }
    let middle = [(line[0][0] + line[1][0]) / 2.0, (line[0][1] + line[1][1]) / 2.0];
    crosses([line[0], middle], frame) || crosses([middle, line[1]], frame)
}

/// The box round straight pieces, a little wider, since a level line has no area.
fn frame_of(lines: &[[[f64; 2]; 2]]) -> [f64; 4] {
    lines.iter().flatten().fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, p| {
        [b[0].min(p[0] - 1e-3), b[1].min(p[1] - 1e-3), b[2].max(p[0] + 1e-3), b[3].max(p[1] + 1e-3)]
    })
}

pub fn check(seed: u64, figure: &Figure) {
    let texts = texts(figure);
    for (at, text) in texts.iter().enumerate() {
        for other in &texts[at + 1..] {
            assert!(
                !overlap(text.frame_mm, other.frame_mm),
                "seed {seed}, {}: \"{}\" lies on \"{}\"",
                figure.name,
                text.says,
                other.says
            );
        }
    }
    for mark in figure.marks.iter().filter(|mark| matters(mark)) {
        let lines = lines(mark);
        let frame = frame_of(&lines);
        for text in texts.iter().filter(|text| overlap(frame, text.frame_mm)) {
            for &line in &lines {
                assert!(
                    !crosses(line, text.frame_mm),
                    "seed {seed}, {}: \"{}\" at {:?} is crossed by {mark:?}",
                    figure.name,
                    text.says,
                    text.frame_mm
                );
            }
        }
    }
}

#[test]
fn no_letter_lies_on_another_or_on_a_line_that_matters() {
    let mut seen = 0;
    for (seed, _, figures) in drawn() {
        for figure in figures {
            check(*seed, figure);
            seen += texts(figure).len();
        }
    }
    assert!(seen > 50_000, "only {seen} texts");
    for (seed, plan) in impossible() {
        for figure in figures(&plan, room(seed)) {
            check(seed, &figure);
        }
    }
}

/// A letter beside a flat stands along it, or a thin line leads from the letter to a dot on the flat.
#[test]
fn it_is_clear_which_flat_a_letter_names() {
    let mut led = 0;
    for (seed, plan, figures) in drawn() {
        let turned = plan.scene.faces.iter().find_map(normal_rad).expect("a side");
        for figure in ["part", "bar-and-part"].map(|name| named(figures, name)) {
            let edges = edges(figure);
            let leaders = leaders(figure);
            for [on, _] in &leaders {
                assert!(
                    edges.iter().any(|&edge| off(*on, edge) < 1e-6),
                    "{seed} {}: a dot beside the part",
                    figure.name
                );
            }
            led += leaders.len();
            for face in &plan.scene.faces {
                let Some(normal_rad) = normal_rad(face) else { continue };
                let angle = normal_rad - turned;
                let flats: Vec<_> = edges.iter().copied().filter(|&edge| across(edge, angle) < 1e-4).collect();
                for text in
                    texts(figure).into_iter().filter(|text| text.kind == TextKind::Face && text.says == face.name)
                {
                    let beside = flats.iter().any(|&edge| stands_along(middle(text), edge));
                    let led = leaders.iter().any(|[on, end]| {
                        beside_box(*end, text.frame_mm) < 0.5 && flats.iter().any(|&edge| off(*on, edge) < 1e-6)
                    });
                    // On its own face, seen from the front.
                    assert!(
                        beside || led || flats.is_empty(),
                        "{seed} {}: which flat does {} name?",
                        figure.name,
                        face.name
                    );
                }
            }
        }
    }
    assert!(led > 5, "only {led} leaders");
}

fn normal_rad(face: &engine::plan::FaceShape) -> Option<f64> {
    match face.place {
        engine::plan::FacePlace::Side { normal_rad } => Some(normal_rad),
        _ => None,
    }
}

/// Straight visible edges of the part.
fn edges(figure: &Figure) -> Vec<[[f64; 2]; 2]> {
    let edge = |mark: &Mark| match mark {
        Mark::Stroke(stroke) if stroke.kind == LineKind::Wide && stroke.part == Part::Piece => match stroke.curve {
            drawing::Curve::Line { from_mm, to_mm } => Some([from_mm, to_mm]),
            drawing::Curve::Arc(_) => None,
        },
        _ => None,
    };
    figure.marks.iter().filter_map(edge).collect()
}

/// Leaders, from their dot to their letter; every one has a dot.
fn leaders(figure: &Figure) -> Vec<[[f64; 2]; 2]> {
    let dots: Vec<[f64; 2]> = figure
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Area(area) if area.part == Part::Leader => match area.edge[..] {
                [drawing::Curve::Arc(arc)] => Some(arc.centre_mm),
                _ => None,
            },
            _ => None,
        })
        .collect();
    let lines: Vec<_> = figure
        .marks
        .iter()
        .filter(|mark| matches!(mark, Mark::Stroke(stroke) if stroke.part == Part::Leader))
        .flat_map(lines)
        .collect();
    assert_eq!(lines.len(), dots.len(), "{}", figure.name);
    assert!(lines.iter().zip(&dots).all(|(line, dot)| line[0] == *dot), "{}", figure.name);
    lines
}

/// How far a point is from a straight piece.
fn off(point: [f64; 2], [a, b]: [[f64; 2]; 2]) -> f64 {
    let (along, from) = ([b[0] - a[0], b[1] - a[1]], [point[0] - a[0], point[1] - a[1]]);
    let share = (along[0] * from[0] + along[1] * from[1]) / (along[0] * along[0] + along[1] * along[1]);
    let share = share.clamp(0.0, 1.0);
    (from[0] - share * along[0]).hypot(from[1] - share * along[1])
}

/// How far an edge is from lying square to a normal at this angle, as a sine.
fn across([a, b]: [[f64; 2]; 2], angle: f64) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    ((along[0] * angle.cos() - along[1] * angle.sin()) / along[0].hypot(along[1])).abs()
}

/// Whether a point lies beside an edge and not past its ends.
fn stands_along(point: [f64; 2], [a, b]: [[f64; 2]; 2]) -> bool {
    let (along, from) = ([b[0] - a[0], b[1] - a[1]], [point[0] - a[0], point[1] - a[1]]);
    let share = (along[0] * from[0] + along[1] * from[1]) / (along[0] * along[0] + along[1] * along[1]);
    (-1e-6..=1.0 + 1e-6).contains(&share)
}

fn middle(text: &Text) -> [f64; 2] {
    // Capitals stand from 0.031 em under the middle of the box upwards; half their height above the base line is meant.
    let [left, top, right, _] = text.frame_mm;
    let em = text.height_mm / 0.729;
    [(left + right) / 2.0, top + 0.76 * em - text.height_mm / 2.0]
}

/// How far a point is from a box.
fn beside_box([x, y]: [f64; 2], [left, top, right, bottom]: [f64; 4]) -> f64 {
    (left - x).max(x - right).max(0.0).hypot((top - y).max(y - bottom).max(0.0))
}

#[test]
fn crossing_is_found_where_it_is() {
    let frame = [0.0, 0.0, 2.0, 1.0];
    assert!(crosses([[-1.0, 0.5], [3.0, 0.5]], frame));
    assert!(crosses([[-1.0, -1.0], [2.0, 2.0]], frame));
    assert!(!crosses([[-1.0, 0.0], [3.0, 0.0]], frame));
    assert!(!crosses([[-1.0, 0.8], [0.9, 3.0]], frame));
}

#[test]
fn lettering_is_at_least_two_and_a_half_mm_high() {
    // looks.md and ISO 3098: notes 2.5 mm at least.
    for (_, _, figures) in &drawn()[..50] {
        for figure in figures {
            assert!(texts(figure).iter().all(|text| text.height_mm >= 2.5 - 1e-9));
        }
    }
}
