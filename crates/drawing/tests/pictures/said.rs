//! What must be seen is there: numbers of jaws, their signs, letters of faces, words for those who cannot see.

use drawing::{Fill, Mark, Part, Projection, TextKind};
use engine::plan::Stretch;
use engine::quantity::Units;

use crate::measured::all_words;
use crate::{drawn, impossible, named, plans, room};

#[test]
fn every_jaw_has_its_number_and_its_sign_in_the_chuck() {
    for (seed, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("chuck-{}", set_up.number));
            let numbers =
                figure.marks.iter().filter(|mark| matches!(mark, Mark::Text(text) if text.kind == TextKind::Jaw));
            assert_eq!(numbers.count(), set_up.jaws.len(), "{seed} set-up {}", set_up.number);
            let signs = |fill: Fill| {
                let round = |mark: &&Mark| match mark {
                    Mark::Area(area) => area.part == Part::Sign && area.fill == fill && area.edge.len() == 1,
                    _ => false,
                };
                figure.marks.iter().filter(round).count()
            };
            let kept = set_up.jaws.iter().filter(|jaw| jaw.kept).count();
            // Each once in the picture; below it once for the jaws of which the same is said, or once what the sign means.
            let alike = |is_kept: bool| {
                let of = set_up.jaws.iter().filter(|jaw| jaw.kept == is_kept);
                let said = of.map(|jaw| format!("{} {:.3}", jaw.bears(), jaw.packing_mm));
                said.collect::<std::collections::BTreeSet<_>>().len()
            };
            for (fill, count, alike) in
                [(Fill::Ink, kept, alike(true)), (Fill::Paper, set_up.jaws.len() - kept, alike(false))]
            {
                let found = signs(fill);
                assert!(
                    found == count + alike || found == count + count.min(1),
                    "{seed} set-up {}: {found}",
                    set_up.number
                );
            }
            let words = all_words(figure).replace('\n', " ");
            assert_eq!(words.contains("leave alone"), kept > 0, "{seed} set-up {}: {words}", set_up.number);
            // The words of the sheet's table (crates/sheet, jaws of a set-up), never others for the same jaw.
            let has = |wanted: &str| words.split([' ', ';', ':']).any(|word| word == wanted);
            let others = kept < set_up.jaws.len();
            // A depth may be "set by hand" beside jaws that are only loosened.
            assert!(has("set") || !others || kept > 0, "{seed} set-up {}: {words}", set_up.number);
            assert_eq!(has("loosen"), others && kept > 0, "{seed} set-up {}: {words}", set_up.number);
        }
    }
}

/// What is drawn dark behind the piece has its name and its size beside it, whatever the paper.
#[test]
fn parallels_are_named_with_their_size_in_every_section() {
    let mut seen = 0;
    for (seed, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            let Some(seat) = set_up.seat.as_ref().filter(|seat| seat.packing_mm > 0.0) else { continue };
            let figure = named(figures, &format!("side-{}", set_up.number));
            let words = all_words(figure).replace(['\n', '\u{a0}'], " ");
            let plain = |says: String| says.replace('\u{a0}', " ");
            let on_hand = plain(engine::quantity::show::on_hand(seat.packing_mm, plan.units));
            let length = plain(engine::quantity::show::length(seat.packing_mm, plan.units));
            let said = [format!("parallels {on_hand}"), format!("{on_hand} parallels"), format!("parallels {length}")];
            assert!(said.iter().any(|said| words.contains(said)), "{seed}: {on_hand} in {words}");
            seen += 1;
        }
    }
    assert!(seen > 100, "{seen}");
}

/// A face that is hatched has its letter on it, or a thin line leads from the letter to a dot on it.
#[test]
fn the_face_just_cut_has_its_letter_where_it_is_seen() {
    let (mut seen, mut lacking) = (0, 0);
    for (_, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("before-after-{}", set_up.number));
            let hatched =
                figure.marks.iter().any(|mark| matches!(mark, Mark::Stroke(stroke) if stroke.part == Part::Cut));
            let name = &set_up.cuts_faces[0];
            let has = figure
                .marks
                .iter()
                .any(|mark| matches!(mark, Mark::Text(text) if text.kind == TextKind::Face && text.says == *name));
            seen += usize::from(hatched);
            lacking += usize::from(hatched && !has);
        }
    }
    assert!(seen > 1_000, "{seen}");
    assert_eq!(lacking, 0, "of {seen}");
}

#[test]
fn the_face_cut_is_named_in_every_picture_of_its_set_up() {
    for (seed, plan, figures) in drawn() {
        for set_up in &plan.set_ups {
            let name = &set_up.cuts_faces[0];
            let figure = named(figures, &format!("before-after-{}", set_up.number));
            assert!(all_words(figure).contains(&format!("face {name}")), "{seed}");
            assert!(figure.says.contains(&format!("ace {name} is cut now")), "{seed}: {}", figure.says);
        }
        let strip = named(figures, "order");
        for set_up in &plan.set_ups {
            let caption = format!("{}: {}", set_up.number, set_up.cuts_faces[0]);
            assert!(all_words(strip).contains(&caption), "{seed}: {caption}");
        }
    }
}

/// Tops of the captions over the small pictures: one for each row.
fn rows(strip: &drawing::Figure) -> usize {
    let tops = strip.marks.iter().filter_map(|mark| match mark {
        Mark::Text(text) if text.says.contains(": ") && text.strong => Some(format!("{:.3}", text.frame_mm[1])),
        _ => None,
    });
    tops.collect::<std::collections::BTreeSet<_>>().len()
}

#[test]
fn the_order_lies_in_as_many_rows_as_it_may_and_is_largest_so() {
    for (seed, plan) in &plans()[..100] {
        let one = drawing::order_strip_in_rows(plan, [180.0, 90.0], 1);
        let two = drawing::order_strip_in_rows(plan, [180.0, 90.0], 2);
        assert_eq!(rows(&one), 1, "{seed}");
        assert!(rows(&two) <= 2, "{seed}");
        assert!(two.scale.ratio() >= one.scale.ratio(), "{seed}");
        // A second row is taken for a larger picture only.
        assert!(rows(&two) == 1 || two.scale.ratio() > one.scale.ratio(), "{seed}");
        for strip in [&one, &two] {
            assert!(strip.size_mm[0] <= 180.0 && strip.size_mm[1] <= 90.0, "{seed}: {:?}", strip.size_mm);
            for set_up in &plan.set_ups {
                assert!(all_words(strip).contains(&format!("{}: {}", set_up.number, set_up.cuts_faces[0])), "{seed}");
            }
        }
    }
    let second =
        plans()[..100].iter().filter(|(_, plan)| rows(&drawing::order_strip_in_rows(plan, [180.0, 90.0], 2)) == 2);
    assert!(second.count() > 5);
}

/// Whatever the piece, it lies within a ball round its bar, whose shadow is a circle of the same diameter, which the
/// isometric view enlarges by √(3/2) (ISO 5456-3, from memory): in a cell with that much room the scale can be so large. Words over a picture take 6.5 mm, the key a line or two of 4.4 mm.
#[test]
fn the_order_is_no_smaller_than_its_room_allows() {
    let ladder = [4.0, 3.0, 2.0, 1.5, 1.0, 2.0 / 3.0, 0.5, 1.0 / 3.0, 0.25, 0.2, 1.0 / 6.0, 0.125, 0.1];
    let mut held = 0;
    for (seed, plan) in &plans()[..150] {
        let bar = &plan.set_ups[0].held.before;
        let points = bar.outline.iter().flat_map(|stretch| match stretch {
            Stretch::Line { from_mm, to_mm } => vec![from_mm[0].hypot(from_mm[1]), to_mm[0].hypot(to_mm[1])],
            Stretch::Arc { centre_mm, radius_mm, .. } => vec![centre_mm[0].hypot(centre_mm[1]) + radius_mm],
        });
        let across_mm = 2.0 * points.fold(0.0, f64::max);
        let ball_mm = 1.5_f64.sqrt() * across_mm.hypot(bar.front_mm - bar.back_mm);
        for room in [[170.0, 45.0], [176.0, 70.0], [170.0, 110.0]] {
            let count = plan.set_ups.len();
            let cell = |rows: usize| {
                let columns = count.div_ceil(rows) as f64;
                (room[0] / columns - 5.0).min((room[1] - 2.0 * 4.4) / rows as f64 - 3.0 - 6.5)
            };
            let most_mm = (1..=count).map(cell).fold(0.0, f64::max);
            let Some(fits) = ladder.iter().find(|ratio| **ratio * ball_mm <= most_mm) else { continue };
            let strip = drawing::order_strip(plan, room);
            assert!(strip.scale.ratio() >= fits - 1e-9, "{seed} in {room:?}: {} under {fits}", strip.scale.name());
            held += 1;
        }
    }
    assert!(held > 200, "{held}");
}

/// Names are set lower, led out or cut off; the pieces do not shrink for them.
#[test]
fn long_names_leave_the_order_as_large_as_letters_do() {
    for (seed, plan) in &plans()[..150] {
        let mut named = plan.clone();
        let long = |name: &str| format!("{name}-side-of-it");
        named.scene.faces.iter_mut().for_each(|face| face.name = long(&face.name));
        named.set_ups.iter_mut().flat_map(|set_up| &mut set_up.cuts_faces).for_each(|name| *name = long(name));
        for room in [[170.0, 45.0], [176.0, 70.0], [170.0, 110.0]] {
            let [short, long] = [plan, &named].map(|plan| drawing::order_strip(plan, room));
            assert!(long.scale.ratio() >= short.scale.ratio(), "{seed}: {} {}", long.scale.name(), short.scale.name());
            assert!(long.size_mm[0] <= room[0] + 1e-9 && long.size_mm[1] <= room[1] + 1e-9, "{seed}");
        }
    }
}

#[test]
fn every_face_of_the_part_has_its_letter_in_the_part_drawing() {
    for (seed, plan, figures) in drawn() {
        let figure = named(figures, "part");
        for face in &plan.scene.faces {
            let found = figure
                .marks
                .iter()
                .any(|mark| matches!(mark, Mark::Text(text) if text.kind == TextKind::Face && text.says == face.name));
            assert!(found, "{seed}: no letter {}", face.name);
        }
    }
}

#[test]
fn every_picture_says_itself_in_sentences() {
    for (_, _, figures) in &drawn()[..100] {
        for figure in figures {
            assert!(!figure.title.is_empty() && figure.says.ends_with('.'), "{}: {}", figure.name, figure.says);
            let says = figure.says.to_lowercase();
            assert!(!["safe", "guarantee", "will hold"].iter().any(|word| says.contains(word)));
        }
    }
}

#[test]
fn inches_are_drawn_in_third_angle_and_millimetres_in_first() {
    assert_eq!(Projection::usual(Units::Inch), Projection::ThirdAngle);
    assert_eq!(Projection::usual(Units::Mm), Projection::FirstAngle);
    for (_, plan) in &plans()[..50] {
        // Third angle: what is seen from the right stands on the right, so the front end is next to the end view; first
        // angle: what is seen from the left stands there, the front end on the far side (ISO 5456-2).
        for (projection, front_first) in [(Projection::FirstAngle, false), (Projection::ThirdAngle, true)] {
            let figure = drawing::part_drawing(plan, projection, [260.0, 200.0]);
            let place = |name: &str, last: bool| {
                let mut places: Vec<f64> = figure
                    .marks
                    .iter()
                    .filter_map(|mark| match mark {
                        Mark::Text(text) if text.kind == TextKind::Face && text.says == name => Some(text.frame_mm[0]),
                        _ => None,
                    })
                    .collect();
                places.sort_by(f64::total_cmp);
                if last { places.last().copied() } else { places.first().copied() }
            };
            let (a, b) = (place("A", true), place("B", true));
            assert_eq!(a < b, front_first);
        }
    }
}

#[test]
fn impossible_jobs_have_their_part_and_their_bar_drawn() {
    for (seed, plan) in impossible() {
        for figure in [
            drawing::part_drawing(&plan, Projection::usual(plan.units), room(seed)),
            drawing::bar_and_part(&plan, room(seed)),
        ] {
            let strokes = figure.marks.iter().filter(|mark| matches!(mark, Mark::Stroke(_))).count();
            assert!(strokes > 3, "{seed}: {}", figure.name);
        }
        let strip = drawing::order_strip(&plan, room(seed));
        assert!(all_words(&strip).contains("no set-up"));
    }
}
