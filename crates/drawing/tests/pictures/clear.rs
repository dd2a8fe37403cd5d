//! No letter lies on another or on a line that matters.

use drawing::{Figure, LineKind, Mark, Part, Text};

use crate::{drawn, figures, impossible, lines, room};

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

fn check(seed: u64, figure: &Figure) {
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
