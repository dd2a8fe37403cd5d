//! What the last pass leaves on, as it is mapped: read back from the lines, against the rays of the plan.

use drawing::{Curve, Figure, Fill, LineKind, Mark, Part, Stroke};
use engine::plan::{SetUp, Surface, SurfaceRay};
use engine::quantity::{Units, bare};

use crate::measured::all_words;
use crate::{apart, drawn};

/// Paper that the sheet gives it.
const ROOM_MM: [f64; 2] = [41.0, 62.0];

struct Mapped {
    called: String,
    units: Units,
    set_up: &'static SetUp,
    surface: &'static Surface,
    figure: Figure,
}

fn maps() -> Vec<Mapped> {
    let mut maps = Vec::new();
    for (seed, plan, _) in drawn().iter().take(200) {
        for set_up in &plan.set_ups {
            let (Some(surface), Some(figure)) =
                (set_up.hold.surface.as_ref(), drawing::surface_map(set_up, plan.units, ROOM_MM))
            else {
                continue;
            };
            let called = format!("{seed} set-up {}", set_up.number);
            maps.push(Mapped { called, units: plan.units, set_up, surface, figure });
        }
    }
    maps
}

fn strokes(figure: &Figure, kind: LineKind, part: Part) -> Vec<[[f64; 2]; 2]> {
    let wanted = |stroke: &&Stroke| stroke.kind == kind && stroke.part == part;
    let all = figure.marks.iter().filter_map(|mark| if let Mark::Stroke(stroke) = mark { Some(stroke) } else { None });
    all.filter(wanted)
        .filter_map(|stroke| match stroke.curve {
            Curve::Line { from_mm, to_mm } => Some([from_mm, to_mm]),
            Curve::Arc(_) => None,
        })
        .collect()
}

/// The middle of the cross on the spindle axis.
fn axis(figure: &Figure) -> [f64; 2] {
    let cross = strokes(figure, LineKind::Narrow, Part::Centre);
    assert_eq!(cross.len(), 2, "a cross");
    [0, 1].map(|at| (cross[0][0][at] + cross[0][1][at]) / 2.0)
}

/// Distance from the axis, mm of the real thing, and angle from straight up against the clock, degrees.
fn polar(figure: &Figure, point: [f64; 2]) -> (f64, f64) {
    let middle = axis(figure);
    let angle_deg = (middle[0] - point[0]).atan2(middle[1] - point[1]).to_degrees().rem_euclid(360.0);
    (apart(point, middle) / figure.scale.ratio(), angle_deg)
}

fn on_paper(figure: &Figure, radius_mm: f64, angle_deg: f64) -> [f64; 2] {
    let (middle, (sin, cos)) = (axis(figure), angle_deg.to_radians().sin_cos());
    let out_mm = radius_mm * figure.scale.ratio();
    [middle[0] - out_mm * sin, middle[1] - out_mm * cos]
}

fn off_line(point: [f64; 2], [from, to]: [[f64; 2]; 2]) -> f64 {
    let way = [to[0] - from[0], to[1] - from[1]];
    let length2 = way[0] * way[0] + way[1] * way[1];
    let share = ((point[0] - from[0]) * way[0] + (point[1] - from[1]) * way[1]) / length2.max(1e-12);
    let share = share.clamp(0.0, 1.0);
    apart(point, [from[0] + share * way[0], from[1] + share * way[1]])
}

#[test]
fn the_outline_is_that_of_the_flat_at_the_scale_that_is_written() {
    let maps = maps();
    for Mapped { called, surface, figure, .. } in &maps {
        let outline = strokes(figure, LineKind::Wide, Part::Piece);
        for ray in &surface.rays {
            let end = on_paper(figure, ray.to_mm, ray.angle_deg);
            let off = outline.iter().map(|&line| off_line(end, line)).fold(f64::MAX, f64::min);
            assert!(off < 1e-6, "{called}: {} deg ends {off} mm beside the outline", ray.angle_deg);
        }
        let words = all_words(figure).replace(['\n', '\u{a0}'], " ");
        assert!(words.contains(&format!("scale {}", figure.scale.name())), "{called}: {words}");
    }
    assert!(maps.len() > 500, "{}", maps.len());
}

/// A filled sign where most stays on, an open one where least does; jaw 1 is up.
#[test]
fn the_highest_and_the_lowest_place_are_marked_where_they_are() {
    let mut seen = 0;
    for Mapped { called, surface, figure, .. } in maps().iter().filter(|map| !map.surface.is_even()) {
        for (fill, place) in [(Fill::Ink, surface.highest), (Fill::Paper, surface.lowest)] {
            let sign = figure.marks.iter().find_map(|mark| match mark {
                Mark::Area(area) if area.fill == fill && area.part == Part::Bearing => Some(&area.edge),
                _ => None,
            });
            let edge = sign.expect("a sign");
            let sum = edge.iter().map(|curve| curve.at(0.0)).fold([0.0; 2], |sum, p| [sum[0] + p[0], sum[1] + p[1]]);
            let middle = sum.map(|coordinate| coordinate / edge.len() as f64);
            let wanted = on_paper(figure, place.radius_mm, place.angle_deg);
            assert!(apart(middle, wanted) < 1e-6, "{called}: {fill:?}");
            seen += 1;
        }
    }
    assert!(seen > 500, "{seen}");
}

/// What stays on at a place, between the rays of the plan.
fn left_um(rays: &[SurfaceRay], radius_mm: f64, angle_deg: f64) -> Option<f64> {
    let along = |ray: &SurfaceRay, share: f64| {
        let place = share.clamp(0.0, 1.0) * (ray.left_um.len() - 1) as f64;
        let at = (place as usize).min(ray.left_um.len() - 2);
        ray.left_um[at] + (ray.left_um[at + 1] - ray.left_um[at]) * (place - at as f64)
    };
    let turn = |from: f64, to: f64| (to - from).rem_euclid(360.0);
    (0..rays.len()).map(|at| [&rays[at], &rays[(at + 1) % rays.len()]]).find_map(|[one, other]| {
        let (whole, part) = (turn(one.angle_deg, other.angle_deg), turn(one.angle_deg, angle_deg));
        if part > whole || whole > 90.0 {
            return None;
        }
        // Ends of the chord from ray to ray, in the direction asked.
        let (a, b) = (part.to_radians(), (whole - part).to_radians());
        let chord = |one_mm: f64, other_mm: f64| {
            one_mm * other_mm * whole.to_radians().sin() / (one_mm * a.sin() + other_mm * b.sin()).max(1e-12)
        };
        let (from_mm, to_mm) = (chord(one.from_mm, other.from_mm), chord(one.to_mm, other.to_mm));
        let share = (radius_mm - from_mm) / (to_mm - from_mm);
        // The share of the chord that lies before the direction.
        let aside = one.to_mm * a.sin() / (one.to_mm * a.sin() + other.to_mm * b.sin()).max(1e-12);
        Some(along(one, share) + (along(other, share) - along(one, share)) * aside)
    })
}

#[test]
fn every_line_runs_where_its_height_is_left_on() {
    let (mut seen, mut lines) = (0, 0);
    for Mapped { called, units, surface, figure, .. } in &maps() {
        let words = all_words(figure).replace(['\n', '\u{a0}'], " ");
        let Some((_, rest)) = words.split_once("a line every ") else {
            assert!(surface.is_even(), "{called}: {words}");
            continue;
        };
        let step: f64 = rest.split([' ', ';']).next().and_then(|step| step.parse().ok()).expect("a step");
        let step_um = if *units == Units::Inch { step * 2.54 } else { step };
        for [from, to] in strokes(figure, LineKind::Narrow, Part::Sign) {
            for point in [from, to] {
                let (radius_mm, angle_deg) = polar(figure, point);
                // On the axis every direction has its own height.
                if radius_mm < 0.15 * surface.highest.radius_mm.max(surface.lowest.radius_mm) {
                    continue;
                }
                let Some(left) = left_um(&surface.rays, radius_mm, angle_deg) else { continue };
                let off = (left / step_um - (left / step_um).round()).abs();
                assert!(
                    off < 0.1,
                    "{called}: {left} um at {radius_mm} mm, {angle_deg} deg is no multiple of {step_um}"
                );
                seen += 1;
            }
            lines += 1;
        }
    }
    assert!(seen > 20_000 && lines > 10_000, "{seen} ends of {lines}");
}

#[test]
fn what_is_said_is_what_the_plan_has() {
    for Mapped { called, units, set_up, surface, figure } in &maps() {
        let most = bare::height(surface.highest.left_um, *units);
        let least = bare::height(surface.lowest.left_um, *units);
        assert!(figure.says.contains(&format!("most {most} {}", surface.towards)), "{called}: {}", figure.says);
        assert!(figure.says.contains(&format!("least {least}")), "{called}: {}", figure.says);
        let places = || surface.rays.iter().flat_map(SurfaceRay::places).map(|place| place.left_um);
        assert_eq!(places().fold(f64::MIN, f64::max), surface.highest.left_um, "{called}");
        assert_eq!(places().fold(f64::MAX, f64::min), surface.lowest.left_um, "{called}");
        assert!(surface.highest.left_um <= set_up.hold.spring_um + 1e-9, "{called}: more than the spring");
    }
}
