//! Properties of sections, floors and circles on arbitrary shapes, against plain numeric sampling.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::{Bearing, Edge, Floor, Piece, Point, Section, direction, enclosing_circle};
use crate::part::Place;

/// A bar, cuts into it (angle, share of the bar's radius), then where it is put.
#[derive(Debug, Clone)]
struct Recipe {
    round: bool,
    size_mm: f64,
    cuts: Vec<(f64, f64)>,
    shift: (f64, f64),
    turn_rad: f64,
}

impl Recipe {
    fn made(&self, scale: f64) -> Section {
        let size = self.size_mm * scale;
        let bar =
            if self.round { Section::round(size) } else { Section::rectangle(-size, size, -0.7 * size, 0.7 * size) };
        let cut = self.cuts.iter().fold(bar, |section, &(angle, share)| section.clip(angle, share * size));
        cut.turned(self.turn_rad).moved(self.shift.0 * size, self.shift.1 * size)
    }
}

fn recipe() -> impl Strategy<Value = Recipe> {
    let cuts = prop::collection::vec((0.0..TAU, 0.2..1.1f64), 0..6);
    (any::<bool>(), 1.0..80.0f64, cuts, (-1.2..1.2f64, -1.2..1.2f64), 0.0..TAU)
        .prop_map(|(round, size_mm, cuts, shift, turn_rad)| Recipe { round, size_mm, cuts, shift, turn_rad })
}

/// Corners of a many-sided polygon along the edges.
fn polygonised(section: &Section, pieces: u32) -> Vec<Point> {
    let along = |edge: &Edge| -> Vec<Point> {
        match *edge {
            Edge::Line(line) => vec![line.from],
            Edge::Arc(arc) => {
                let at = |i: u32| arc.at(arc.start_rad + arc.sweep_rad * f64::from(i) / f64::from(pieces));
                (0..pieces).map(at).collect()
            }
        }
    };
    section.edges().iter().flat_map(along).collect()
}

/// Area and ∫x², ∫y² about the origin of a polygon, by the shoelace formulas.
fn shoelace(points: &[Point]) -> (f64, f64, f64) {
    let pairs = points.iter().zip(points.iter().cycle().skip(1));
    pairs.fold((0.0, 0.0, 0.0), |sums, (p, q)| {
        let twice = p.x * q.y - p.y * q.x;
        (
            sums.0 + twice / 2.0,
            sums.1 + twice / 12.0 * (p.x * p.x + p.x * q.x + q.x * q.x),
            sums.2 + twice / 12.0 * (p.y * p.y + p.y * q.y + q.y * q.y),
        )
    })
}

/// Share of sampled points of a circle inside a polygon, and how often it goes in.
fn sampled_share(polygon: &[Point], radius: f64, samples: u32) -> (f64, u32) {
    let inside = |p: Point| {
        let pairs = polygon.iter().zip(polygon.iter().cycle().skip(1));
        pairs.into_iter().all(|(a, b)| (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) >= 0.0)
    };
    let at = |i: u32| inside(direction(TAU * (f64::from(i) + 0.5) / f64::from(samples)) * radius);
    let marks: Vec<bool> = (0..samples).map(at).collect();
    let entries = (0..marks.len()).filter(|&i| marks[i] && !marks[(i + marks.len() - 1) % marks.len()]).count();
    (marks.iter().filter(|&&mark| mark).count() as f64 / f64::from(samples), entries as u32)
}

/// The same cases at every run; `PROPTEST_CASES` asks for more of them.
fn config() -> ProptestConfig {
    ProptestConfig { failure_persistence: None, rng_seed: RngSeed::Fixed(36), ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn the_two_sides_of_a_cut_add_up(recipe in recipe(), angle in 0.0..TAU, share in -1.5..1.5f64) {
        let whole = recipe.made(1.0);
        let at = share * recipe.size_mm;
        let sum = whole.clip(angle, at).area() + whole.clip(angle + PI, -at).area();
        prop_assert!((sum - whole.area()).abs() <= 1e-9 * whole.area());
    }

    #[test]
    fn strips_add_up_to_the_whole(recipe in recipe(), angle in 0.0..TAU, strips in 1u32..40) {
        let whole = recipe.made(1.0);
        prop_assume!(!whole.is_empty());
        let (low, high) = (-whole.extent_mm(angle + PI), whole.extent_mm(angle));
        let at = |i: u32| low + (high - low) * f64::from(i) / f64::from(strips);
        let sum: f64 = (0..strips).map(|i| whole.strip_area(angle, at(i), at(i + 1))).sum();
        prop_assert!((sum - whole.area()).abs() <= 1e-9 * whole.area());
    }

    #[test]
    fn areas_and_moments_scale(recipe in recipe(), k in 0.01..100.0f64) {
        let (one, many) = (recipe.made(1.0), recipe.made(k));
        let (a, b) = (one.second_moments(), many.second_moments());
        prop_assert!((many.area() - k * k * one.area()).abs() <= 1e-9 * many.area());
        let polar = |m: super::SecondMoments| m.about_x_mm4 + m.about_y_mm4;
        prop_assert!((polar(b) - k.powi(4) * polar(a)).abs() <= 1e-8 * polar(b));
    }

    #[test]
    fn turning_and_moving_change_nothing(recipe in recipe(), angle in -7.0..7.0f64, radius in 0.05..2.0f64) {
        let here = recipe.made(1.0);
        let turned = here.turned(angle);
        prop_assert!((turned.area() - here.area()).abs() <= 1e-9 * here.area());
        prop_assert!((turned.perimeter_mm() - here.perimeter_mm()).abs() <= 1e-9 * here.perimeter_mm());
        let polar = |s: &Section| s.second_moments().about_x_mm4 + s.second_moments().about_y_mm4;
        prop_assert!((polar(&turned.moved(400.0, -300.0)) - polar(&here)).abs() <= 1e-7 * polar(&here));
        let about = |s: &Section| s.share_inside(Point::zeros(), radius * recipe.size_mm).share;
        prop_assert!((about(&turned) - about(&here)).abs() <= 1e-6);
    }

    #[test]
    fn share_inside_agrees_with_sampling(recipe in recipe(), radius in 0.05..2.2f64) {
        let section = recipe.made(1.0);
        let radius = radius * recipe.size_mm;
        let polygon = polygonised(&section, 400);
        prop_assume!(polygon.len() > 2);
        let exact = section.share_inside(Point::zeros(), radius);
        let (share, entries) = sampled_share(&polygon, radius, 4000);
        // Arcs that graze are seen or missed by the sampling: compare the count where it is clear.
        prop_assert!((exact.share - share).abs() <= 0.012, "{exact:?} {share}");
        prop_assert!(exact.entries.abs_diff(entries) <= 1);
        prop_assert!((0.0..=1.0).contains(&exact.share));
    }

    #[test]
    fn moments_agree_with_a_fine_polygon(recipe in recipe()) {
        let section = recipe.made(1.0);
        let Some(centre) = section.centroid() else { return Ok(()) };
        let (area, xx, yy) = shoelace(&polygonised(&section.moved(-centre.x, -centre.y), 4000));
        let moments = section.second_moments();
        prop_assert!((section.area() - area).abs() <= 2e-6 * area);
        prop_assert!((moments.about_y_mm4 - xx).abs() <= 4e-6 * xx);
        prop_assert!((moments.about_x_mm4 - yy).abs() <= 4e-6 * yy);
    }

    #[test]
    fn a_thin_strip_is_its_chord_times_its_width(recipe in recipe(), angle in 0.0..TAU, share in 0.05..0.95f64) {
        let section = recipe.made(1.0);
        prop_assume!(!section.is_empty());
        let (low, high) = (-section.extent_mm(angle + PI), section.extent_mm(angle));
        let (h, width) = (low + share * (high - low), 1e-5 * (high - low));
        let (from, to) = section.chord(angle, h).expect("the line runs through the section");
        let strip = section.strip_area(angle, h - width / 2.0, h + width / 2.0);
        prop_assert!((strip - (to - from) * width).abs() <= 1e-3 * (to - from).max(0.1 * (high - low)) * width);
    }

    #[test]
    fn what_bears_lies_at_the_extent(recipe in recipe(), angle in -7.0..7.0f64) {
        let section = recipe.made(1.0);
        prop_assume!(!section.is_empty());
        let support = section.support(angle).expect("there is metal");
        let at = match support.bearing {
            Bearing::Round { at, .. } | Bearing::Corner(at) => at,
            Bearing::Flat { from, to } => (from + to) / 2.0,
        };
        prop_assert!((direction(angle).dot(&at) - support.extent_mm).abs() <= 1e-7 * recipe.size_mm);
        let beyond = polygonised(&section, 50).iter().map(|p| direction(angle).dot(p)).fold(f64::MIN, f64::max);
        prop_assert!(beyond <= support.extent_mm + 1e-9 * recipe.size_mm);
    }

    #[test]
    fn distances_agree_with_sampling(recipe in recipe(), x in -2.0..2.0f64, y in -2.0..2.0f64) {
        let section = recipe.made(1.0);
        prop_assume!(!section.is_empty());
        let point = Point::new(x, y) * recipe.size_mm;
        let edge: Vec<Point> = section.edges().iter().flat_map(sampled).collect();
        let far = edge.iter().map(|p| (p - point).norm()).fold(0.0, f64::max);
        let near = edge.iter().map(|p| (p - point).norm()).fold(f64::INFINITY, f64::min);
        let allowed = 0.01 * recipe.size_mm;
        prop_assert!((section.farthest_from(point) - far).abs() <= allowed);
        let expected = if section.contains(point) { 0.0 } else { near };
        prop_assert!((section.nearest_to(point) - expected).abs() <= allowed);
    }

    #[test]
    fn mean_share_agrees_with_sampling(recipe in recipe()) {
        let floor = Floor::new(recipe.made(1.0));
        prop_assume!(floor.start_radius_mm - floor.end_radius_mm > 1e-3);
        let steps = 20_000;
        let width = (floor.start_radius_mm - floor.end_radius_mm) / f64::from(steps);
        let at = |i: u32| floor.end_radius_mm + (f64::from(i) + 0.5) * width;
        let crossings: Vec<_> = (0..steps).map(|i| (at(i), floor.share_at(at(i)))).collect();
        let mean = crossings.iter().map(|(_, c)| c.share).sum::<f64>() / f64::from(steps);
        prop_assert!((floor.mean_share() - mean).abs() <= 3e-5, "{} {mean}", floor.mean_share());
        let area: f64 = crossings.iter().map(|(r, c)| c.share * TAU * r * width).sum();
        prop_assert!((floor.area_mm2() - area).abs() <= 2e-4 * area);
        // The axis may lie just inside or just outside: look close to the end of the pass too.
        let close = (0..50).map(|i| floor.end_radius_mm + width * 0.5f64.powi(i)).map(|r| floor.share_at(r).share);
        let worst = crossings.iter().map(|(_, c)| c.share).chain(close).fold(0.0, f64::max);
        let arc = crossings.iter().map(|(r, c)| TAU * r * c.share).fold(0.0, f64::max);
        prop_assert!(floor.longest_arc_mm() >= arc * (1.0 - 1e-6) && floor.longest_arc_mm() <= arc * 1.02);
        prop_assert!(floor.worst_share() >= worst - 1e-6 && floor.worst_share() <= worst + 0.02);
        let entries = crossings.iter().map(|(_, c)| c.entries).max().unwrap_or(0);
        prop_assert!(floor.most_entries() >= entries);
    }

    #[test]
    fn passes_add_up_to_what_is_gone(recipe in recipe(), length in 1.0..200.0f64, passes in 1u32..12, depth in 0.01..0.6f64) {
        let piece = Piece::new(recipe.made(1.0), -length / 2.0, length / 2.0);
        prop_assume!(!piece.is_empty());
        for place in [Place::Front, Place::Back, Place::Side(recipe.turn_rad + 1.0)] {
            let top = piece.reach_mm(place);
            let bottom = top - depth * recipe.size_mm.min(length);
            let at = |i: u32| top + (bottom - top) * f64::from(i) / f64::from(passes);
            let removed: f64 = (0..passes).map(|i| piece.removed_mm3(place, at(i), at(i + 1))).sum();
            let gone = piece.volume_mm3() - piece.with_flat(place, bottom).volume_mm3();
            prop_assert!((removed - gone).abs() <= 1e-9 * piece.volume_mm3(), "{place:?}");
        }
    }

    #[test]
    fn the_enclosing_circle_is_the_smallest(points in prop::collection::vec((-50.0..50.0f64, -50.0..50.0f64), 2..9)) {
        let points: Vec<Point> = points.into_iter().map(|(x, y)| Point::new(x, y)).collect();
        let circle = enclosing_circle(&points).expect("there are points");
        let reach = |centre: Point| points.iter().map(|p| (p - centre).norm()).fold(0.0, f64::max);
        prop_assert!(reach(circle.centre) <= circle.radius_mm * (1.0 + 1e-9));
        // The farthest distance is a convex function of the centre: no neighbour may do better.
        for i in 0..16 {
            let beside = circle.centre + direction(TAU * f64::from(i) / 16.0) * 1e-3;
            prop_assert!(reach(beside) >= circle.radius_mm * (1.0 - 1e-12));
        }
    }

    #[test]
    fn nothing_panics(values in prop::collection::vec(any::<f64>(), 12), angle in any::<f64>(), n in 0usize..6) {
        let points: Vec<Point> = values.chunks(2).map(|pair| Point::new(pair[0], pair[1])).collect();
        let rounds = [Section::round(values[0]), Section::rectangle(values[0], values[1], values[2], values[3])];
        let others = [Section::polygon(&points[..n]), Section::round(20.0), Section::rectangle(-1.0, 1.0, -1.0, 1.0)];
        for section in rounds.iter().chain(&others) {
            let cut = section.clip(angle, values[4]).turned(values[5]).moved(values[6], values[7]).clip(values[8], 0.5);
            let floor = Floor::new(cut.clone());
            let _ = (floor.mean_share(), floor.most_entries(), floor.worst_share(), floor.share_at(values[9]));
            let _ = (cut.area(), cut.centroid(), cut.second_moments(), cut.support(angle), cut.chord(angle, values[10]));
            let _ = (cut.strip_area(angle, values[1], values[2]), cut.share_inside(points[0], values[11]));
            let _ = (cut.farthest_from(points[1]), cut.nearest_to(points[2]), cut.enclosing_circle());
        }
        let _ = (enclosing_circle(&points), Section::from_sides(&[(angle, values[0]), (values[1], values[2])]));
    }
}

/// Points along an edge.
fn sampled(edge: &Edge) -> Vec<Point> {
    let at = |i: u32| match *edge {
        Edge::Line(line) => line.from + (line.to - line.from) * (f64::from(i) / 500.0),
        Edge::Arc(arc) => arc.at(arc.start_rad + arc.sweep_rad * f64::from(i) / 500.0),
    };
    (0..=500).map(at).collect()
}

#[test]
fn a_line_that_only_touches_cuts_nothing() {
    let round = Section::round(25.0);
    assert_eq!(round.clip(0.7, 25.0), round);
    assert_eq!(round.clip(0.7, f64::INFINITY), round);
    assert!(round.clip(0.7, -25.0).is_empty());
    let block = Section::rectangle(-3.0, 3.0, -2.0, 2.0);
    assert_eq!(block.clip(0.0, 3.0), block);
    assert_eq!(block.clip(PI / 4.0, 5.0 / 2f64.sqrt() + 1e-13), block);
    assert!(block.clip(PI, -3.0).is_empty());
}

#[test]
fn what_cannot_be_a_region_has_no_metal() {
    for radius in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(Section::round(radius).is_empty());
    }
    assert!(Section::rectangle(1.0, 1.0, 0.0, 2.0).is_empty());
    assert!(Section::polygon(&[Point::new(0.0, 0.0), Point::new(1.0, 1.0), Point::new(2.0, 2.0)]).is_empty());
    assert!(Section::polygon(&[Point::new(0.0, f64::NAN), Point::new(1.0, 1.0), Point::new(2.0, 0.0)]).is_empty());
    assert!(Section::round(5.0).clip(f64::NAN, 1.0).is_empty());
    assert!(Section::round(5.0).clip(0.0, f64::NAN).is_empty());
    assert!(Piece::new(Section::round(5.0), 3.0, 3.0).is_empty());
    assert_eq!(Section::from_sides(&[(0.0, 1.0), (FRAC_PI_2, 1.0)]), None);
}

#[test]
fn an_empty_section_answers_without_metal() {
    let none = Section::empty();
    let floor = Floor::new(none.clone());
    assert_eq!((none.area(), none.centroid(), none.support(0.0), none.chord(0.0, 0.0)), (0.0, None, None, None));
    assert_eq!((floor.mean_share(), floor.most_entries(), floor.worst_share()), (0.0, 0, 0.0));
    assert_eq!((floor.start_radius_mm, floor.end_radius_mm), (0.0, 0.0));
    assert_eq!(none.enclosing_circle(), None);
}

#[test]
fn a_witness_of_the_round_still_bears_as_a_round() {
    // A square of 36 from a round of 50: arcs of 50.9 - 50 remain at the corners.
    let cut = Section::round(25.0).within_rectangle(-18.0, 18.0, -18.0, 18.0);
    assert_eq!(cut.edges().len(), 8);
    let corner = cut.support(PI / 4.0).expect("metal");
    assert!(matches!(corner.bearing, Bearing::Round { radius_mm: 25.0, .. }));
    let flat = cut.support(PI).expect("metal");
    assert!(matches!(flat.bearing, Bearing::Flat { .. }));
    assert!((flat.extent_mm - 18.0).abs() < 1e-12);
    let beside = cut.support(0.2).expect("metal");
    assert!(matches!(beside.bearing, Bearing::Corner(_)));
}

#[test]
fn a_face_about_its_own_axis_is_never_interrupted() {
    let floor = Floor::new(Section::round(20.0));
    assert_eq!((floor.start_radius_mm, floor.end_radius_mm), (20.0, 0.0));
    assert_eq!((floor.mean_share(), floor.most_entries(), floor.worst_share()), (1.0, 0, 1.0));
}

#[test]
fn the_longest_arc_of_a_square_is_the_circle_that_its_flats_touch() {
    // 2πr up to the flats; beyond them r (π − 4 acos(a/2r)) falls at once, its slope there minus infinity.
    let floor = Floor::new(Section::rectangle(-18.0, 18.0, -18.0, 18.0));
    assert!((floor.longest_arc_mm() - 36.0 * PI).abs() < 1e-4);
}

#[test]
fn a_floor_beside_the_axis_ends_at_its_nearest_point() {
    let floor = Floor::about(&Section::rectangle(-10.0, 10.0, -5.0, 5.0), Point::new(-16.0, 0.0));
    assert!((floor.end_radius_mm - 6.0).abs() < 1e-12);
    assert!((floor.start_radius_mm - 26f64.hypot(5.0)).abs() < 1e-12);
    // One arc until the far side comes in at 26; from there to the far corners one arc at each.
    assert_eq!((floor.share_at(15.0).entries, floor.share_at(26.2).entries, floor.most_entries()), (1, 2, 2));
    // At the near corners' radius the arc runs from corner to corner: 2 atan(5/6).
    assert!((floor.worst_share() - (5f64 / 6.0).atan() / PI).abs() < 1e-6);
}

#[test]
fn a_slender_floor_has_two_entries_and_four_near_its_corners() {
    // Half sides 30 and 5: at 20 both ends stick out; past 30 only the four corners, up to 30.41.
    let floor = Floor::new(Section::rectangle(-30.0, 30.0, -5.0, 5.0));
    assert_eq!([4.0, 20.0, 30.2, 31.0].map(|r| floor.share_at(r).entries), [0, 2, 4, 0]);
    assert_eq!(floor.most_entries(), 4);
}
