//! Figures as SVG: well formed, finite, inside their box, ids of their own, nothing of a job taken for markup.

use std::collections::BTreeSet;

use drawing::{Curve, Dress, Mark, PAGE_STYLE, svg};

use crate::{drawn, figures, impossible, lines, plans, room};

#[test]
fn figures_are_well_formed_and_hold_only_finite_numbers() {
    for (seed, _, figures) in drawn() {
        let mut ids = BTreeSet::new();
        for figure in figures {
            for dress in [Dress::Page, Dress::Paper] {
                let text = svg(figure, dress);
                assert!(!text.contains("NaN") && !text.contains("inf"), "{seed} {}", figure.name);
                if *seed % 10 != 0 {
                    continue;
                }
                let tree =
                    roxmltree::Document::parse(&text).unwrap_or_else(|why| panic!("{seed} {}: {why}", figure.name));
                let root = tree.root_element();
                assert_eq!(root.attribute("role"), Some("img"));
                let labels = root.attribute("aria-labelledby").expect("labels");
                for id in labels.split(' ') {
                    assert!(tree.descendants().any(|node| node.attribute("id") == Some(id)));
                }
                if dress == Dress::Paper {
                    for node in tree.descendants().filter(|node| node.attribute("id").is_some()) {
                        assert!(
                            ids.insert(node.attribute("id").expect("an id").to_string()),
                            "{seed}: twice the same id"
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn everything_lies_inside_its_box() {
    let all = drawn().iter().map(|(seed, _, figures)| (*seed, figures.clone()));
    let impossible = impossible().into_iter().map(|(seed, plan)| (seed, figures(&plan, room(seed))));
    for (seed, figures) in all.chain(impossible) {
        for figure in figures {
            let [width, height] = figure.size_mm;
            let inside = |[x, y]: [f64; 2]| x >= -1e-6 && y >= -1e-6 && x <= width + 1e-6 && y <= height + 1e-6;
            for mark in &figure.marks {
                for point in lines(mark).into_iter().flatten() {
                    assert!(
                        inside(point),
                        "{seed} {}: {point:?} outside {:?} of {mark:?}",
                        figure.name,
                        figure.size_mm
                    );
                }
                let text = match mark {
                    drawing::Mark::Text(text) => text,
                    drawing::Mark::Dimension(dimension) => &dimension.text,
                    _ => continue,
                };
                let [left, top, right, bottom] = text.frame_mm;
                assert!(inside([left, top]) && inside([right, bottom]), "{seed} {}: {text:?}", figure.name);
            }
        }
    }
}

#[test]
fn markup_and_odd_letters_in_names_are_only_text() {
    let (_, plan) = &plans()[0];
    for name in
        ["<script>alert(1)</script>", "a & \"b\" 'c'", "\u{0}\u{1b}[31m", "名前の長いとても長い面", "ß\u{202e}x", ""]
    {
        let mut plan = plan.clone();
        plan.title = name.to_string();
        let old = plan.scene.faces[2].name.clone();
        plan.scene.faces[2].name = name.to_string();
        for size in &mut plan.scene.sizes {
            size.between.iter_mut().filter(|between| **between == old).for_each(|between| *between = name.to_string());
        }
        for set_up in &mut plan.set_ups {
            set_up.held.tool.name = name.repeat(30);
            set_up.cuts_faces.iter_mut().filter(|face| **face == old).for_each(|face| *face = name.to_string());
            set_up.jaws.iter_mut().filter(|jaw| jaw.bears_on == old).for_each(|jaw| jaw.bears_on = name.to_string());
        }
        for figure in figures(&plan, [110.0, 130.0]) {
            for dress in [Dress::Page, Dress::Paper] {
                let text = svg(&figure, dress);
                let tree = roxmltree::Document::parse(&text).unwrap_or_else(|why| panic!("{name}: {why}"));
                assert!(!tree.descendants().any(|node| node.tag_name().name() == "script"));
            }
        }
    }
}

#[test]
fn every_line_is_written_where_it_is_drawn_and_arcs_as_arcs() {
    let mut arcs = 0;
    for (seed, _, figures) in drawn().iter().filter(|(seed, _, _)| seed % 10 == 0) {
        for figure in figures {
            let due: Vec<Option<Curve>> = figure.marks.iter().flat_map(curves).collect();
            arcs += due.iter().filter(|curve| matches!(curve, Some(Curve::Arc(_)))).count();
            for dress in [Dress::Page, Dress::Paper] {
                let text = svg(figure, dress);
                let tree = roxmltree::Document::parse(&text).expect("SVG");
                let paths = tree.descendants().filter_map(|node| node.attribute("d"));
                let written: Vec<(char, [[f64; 2]; 2])> = paths.flat_map(pieces).collect();
                assert_eq!(written.len(), due.len(), "{seed} {}", figure.name);
                for ((letter, ends), curve) in written.iter().zip(&due) {
                    assert_eq!(*letter == 'A', matches!(curve, Some(Curve::Arc(_))), "{seed} {}", figure.name);
                    let Some(curve) = curve else { continue };
                    for (is, due) in ends.iter().zip([curve.start(), curve.end()]) {
                        // Rounded to a thousandth, in both directions; a curve may begin where the one before was rounded to.
                        let off = (is[0] - due[0]).hypot(is[1] - due[1]);
                        assert!(off < 1.001e-3, "{seed} {}: {is:?} for {due:?}", figure.name);
                    }
                }
            }
        }
    }
    assert!(arcs > 1000, "{arcs}");
}

/// The curves of a mark in their order; `None`: a side of an arrow, whose place is the writer's own.
fn curves(mark: &Mark) -> Vec<Option<Curve>> {
    match mark {
        Mark::Stroke(stroke) => vec![Some(stroke.curve)],
        Mark::Area(area) => area.edge.iter().copied().map(Some).collect(),
        Mark::Text(_) => Vec::new(),
        Mark::Dimension(dimension) => {
            let lines = dimension.extensions_mm.iter().chain(&dimension.lines_mm);
            let lines = lines.map(|line| Some(Curve::line(line[0], line[1])));
            lines.chain([None; 6]).collect()
        }
    }
}

/// The lines and arcs of a path with their ends, the two halves of an arc as one.
fn pieces(path: &str) -> Vec<(char, [[f64; 2]; 2])> {
    let (mut at, mut from, mut half, mut found) = ([0.0; 2], [0.0; 2], false, Vec::new());
    for part in path.trim_end_matches('Z').split_inclusive(['M', 'L', 'A']).collect::<Vec<_>>().windows(2) {
        let letter = part[0].chars().last().expect("a letter");
        let numbers =
            part[1].trim_end_matches(['M', 'L', 'A']).split(' ').map(|number| number.parse().expect("a number"));
        let numbers: Vec<f64> = numbers.collect();
        let to = [numbers[numbers.len() - 2], numbers[numbers.len() - 1]];
        match letter {
            'A' if !half => (from, half) = (at, true),
            'A' => {
                found.push(('A', [from, to]));
                half = false;
            }
            'L' => found.push(('L', [at, to])),
            _ => {}
        }
        at = to;
    }
    found
}

#[test]
fn paper_is_black_and_grey_and_no_line_is_under_0_18_mm() {
    let (_, plan) = &plans()[0];
    for figure in figures(plan, [110.0, 130.0]) {
        let text = svg(&figure, Dress::Paper);
        let tree = roxmltree::Document::parse(&text).expect("SVG");
        for node in tree.descendants() {
            for name in ["fill", "stroke"] {
                if let Some(colour) = node.attribute(name).filter(|colour| colour.starts_with('#')) {
                    let digits: BTreeSet<char> = colour[1..].chars().collect();
                    assert!(
                        digits.len() == 1
                            || (colour.len() == 7 && colour[1..3] == colour[3..5] && colour[3..5] == colour[5..7]),
                        "{colour}"
                    );
                }
            }
            if let Some(width) = node.attribute("stroke-width") {
                assert!(width.parse::<f64>().expect("a width") >= 0.18);
            }
        }
    }
}

#[test]
fn letters_are_those_of_the_sheet_and_as_wide_as_their_boxes() {
    let (_, plan) = &plans()[0];
    for figure in figures(plan, [110.0, 130.0]) {
        let paper = svg(&figure, Dress::Paper);
        assert!(paper.contains("font-family=\"DejaVu Sans\" font-stretch=\"semi-condensed\""), "{paper}");
        let page = svg(&figure, Dress::Page);
        let tree = roxmltree::Document::parse(&page).expect("SVG");
        let texts: Vec<_> = tree.descendants().filter(|node| node.has_tag_name("text")).collect();
        let frames: Vec<[f64; 4]> = figure
            .marks
            .iter()
            .filter_map(|mark| match mark {
                drawing::Mark::Text(text) => Some(text),
                drawing::Mark::Dimension(dimension) => Some(&dimension.text),
                _ => None,
            })
            .map(|text| text.frame_mm)
            .collect();
        assert_eq!(texts.len(), frames.len());
        for (text, [left, top, right, bottom]) in texts.iter().zip(frames) {
            let length: f64 = text.attribute("textLength").expect("a length").parse().expect("a number");
            let along = if text.attribute("transform").is_some() { bottom - top } else { right - left };
            assert!((length - along).abs() < 1e-3, "{}: {length} in {along}", figure.name);
        }
    }
}

#[test]
fn the_style_of_the_page_has_light_and_dark_and_every_variable() {
    for name in ["--ink", "--paper", "--now", "--stop", "--danger"] {
        assert_eq!(PAGE_STYLE.matches(&format!("{name}:")).count(), 2, "{name}");
    }
}

#[test]
fn the_smallest_room_and_the_largest_break_nothing() {
    for (_, plan) in &plans()[..20] {
        for room in [[0.0, 0.0], [5.0, 5.0], [30.0, 20.0], [2000.0, 3000.0], [f64::NAN, -1.0]] {
            for figure in figures(plan, room) {
                assert!(!svg(&figure, Dress::Page).contains("NaN"));
            }
        }
    }
}
