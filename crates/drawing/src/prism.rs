//! A prism seen: which of its edges show, which are hidden, and where its round sides end to the eye.

use std::f64::consts::{PI, TAU};

use engine::plan::{Solid, Stretch};

use crate::figure::{Arc, Curve};
use crate::sight::Sight;
use crate::vector::{Flat, between, cross, dot, go, turn, unit};

/// A surface counts as seen when its normal leans to the eye by more than this; far above rounding.
const SEEN: f64 = 1e-9;
/// Neighbouring surfaces whose normals differ by less run smoothly into each other, rad.
const SMOOTH_RAD: f64 = 1e-6;

/// The edges of a prism as it is seen, y upwards.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Edges {
    /// Those that show.
    pub visible: Vec<Curve>,
    /// Those behind metal.
    pub hidden: Vec<Curve>,
}

/// A stretch of the outline, all of it seen or all of it not.
struct Side {
    stretch: Stretch,
    seen: bool,
}

/// The edges of a prism. It is convex, so an edge shows when one of its two surfaces does.
pub fn edges(solid: &Solid, sight: &Sight) -> Edges {
    let sides = sides(&solid.outline, sight);
    let mut found = Edges::default();
    for (z_mm, outward) in [(solid.front_mm, 1.0), (solid.back_mm, -1.0)] {
        let cap_seen = sight.eye[2] * outward > SEEN;
        for side in &sides {
            found.add(along(&side.stretch, z_mm, sight), cap_seen || side.seen);
        }
    }
    for at in 0..sides.len() {
        let (before, here) = (&sides[(at + sides.len() - 1) % sides.len()], &sides[at]);
        let crease =
            !crate::vector::same_way(normal_at(&before.stretch, 1.0), normal_at(&here.stretch, 0.0), SMOOTH_RAD);
        let outermost = before.seen != here.seen;
        if crease || outermost {
            let [x, y] = start(&here.stretch);
            let line = Curve::line(sight.point([x, y, solid.back_mm]), sight.point([x, y, solid.front_mm]));
            found.add(line, before.seen || here.seen);
        }
    }
    found.without_what_lies_under_visible()
}

/// The outline of the prism at a height, seen: for the ends.
pub fn cap(solid: &Solid, z_mm: f64, sight: &Sight) -> Vec<Curve> {
    solid.outline.iter().map(|stretch| along(stretch, z_mm, sight)).collect()
}

impl Edges {
    fn add(&mut self, curve: Curve, visible: bool) {
        if curve.is_point() {
            return;
        }
        if visible { self.visible.push(curve) } else { self.hidden.push(curve) }
    }

    fn without_what_lies_under_visible(mut self) -> Edges {
        let hidden = std::mem::take(&mut self.hidden);
        self.hidden = hidden.into_iter().flat_map(|curve| left_of(curve, &self.visible)).collect();
        self
    }
}

/// What of a hidden curve does not lie under a visible one.
fn left_of(curve: Curve, visible: &[Curve]) -> Vec<Curve> {
    match curve {
        Curve::Arc(arc) => {
            let under = |other: &Curve| matches!(other, Curve::Arc(other) if same_ellipse(&arc, other) && other.has((arc.from_rad + arc.to_rad) / 2.0));
            if visible.iter().any(under) { Vec::new() } else { vec![curve] }
        }
        Curve::Line { from_mm, to_mm } => {
            let along = between(from_mm, to_mm);
            let covered: Vec<(f64, f64)> = visible.iter().filter_map(|other| covers(from_mm, along, other)).collect();
            gaps(covered).into_iter().map(|(a, b)| Curve::line(go(from_mm, along, a), go(from_mm, along, b))).collect()
        }
    }
}

fn same_ellipse(a: &Arc, b: &Arc) -> bool {
    let near = |a: Flat, b: Flat| crate::vector::apart(a, b) < 1e-6;
    near(a.centre_mm, b.centre_mm) && near(a.halves_mm[0], b.halves_mm[0]) && near(a.halves_mm[1], b.halves_mm[1])
}

/// Which share of a line another line on the same straight covers.
fn covers(from: Flat, along: Flat, other: &Curve) -> Option<(f64, f64)> {
    let Curve::Line { from_mm, to_mm } = other else { return None };
    let length = along[0].hypot(along[1]);
    let off = |p: Flat| (cross(along, between(from, p)) / length).abs();
    if off(*from_mm) > 1e-6 || off(*to_mm) > 1e-6 {
        return None;
    }
    let share = |p: Flat| dot(between(from, p), along) / (length * length);
    let (a, b) = (share(*from_mm), share(*to_mm));
    Some((a.min(b), a.max(b)))
}

/// What of 0 to 1 is not covered.
fn gaps(mut covered: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    covered.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut free, mut at) = (Vec::new(), 0.0);
    for (from, to) in covered.into_iter().chain([(1.0, 1.0)]) {
        if from > at + 1e-6 {
            free.push((at, from.min(1.0)));
        }
        at = f64::max(at, to);
        if at >= 1.0 {
            break;
        }
    }
    free
}

fn sides(outline: &[Stretch], sight: &Sight) -> Vec<Side> {
    let eye = [sight.eye[0], sight.eye[1]];
    let parted = outline.iter().flat_map(|stretch| parted(stretch, eye));
    parted.map(|stretch| Side { seen: dot(unit(normal_at(&stretch, 0.5)), eye) > SEEN, stretch }).collect()
}

/// A round stretch parted where its surface turns away from the eye.
fn parted(stretch: &Stretch, eye: Flat) -> Vec<Stretch> {
    let Stretch::Arc { centre_mm, radius_mm, start_rad, sweep_rad } = *stretch else { return vec![*stretch] };
    if eye[0].hypot(eye[1]) < SEEN {
        return vec![*stretch];
    }
    let towards = eye[1].atan2(eye[0]);
    let mut ends: Vec<f64> = [towards + PI / 2.0, towards - PI / 2.0]
        .into_iter()
        .map(|angle| turn(start_rad, angle))
        .filter(|&off| off > SMOOTH_RAD && off < sweep_rad - SMOOTH_RAD && off < TAU - SMOOTH_RAD)
        .collect();
    ends.sort_by(f64::total_cmp);
    ends.push(sweep_rad);
    let mut from = 0.0;
    ends.into_iter()
        .map(|to| {
            let piece = Stretch::Arc { centre_mm, radius_mm, start_rad: start_rad + from, sweep_rad: to - from };
            from = to;
            piece
        })
        .collect()
}

/// Angle of the outward normal at a share of the stretch.
pub fn normal_at(stretch: &Stretch, share: f64) -> f64 {
    match stretch {
        Stretch::Line { from_mm, to_mm } => {
            let [x, y] = between(*from_mm, *to_mm);
            (-x).atan2(y)
        }
        Stretch::Arc { start_rad, sweep_rad, .. } => start_rad + sweep_rad * share,
    }
}

/// Where a stretch begins.
pub fn start(stretch: &Stretch) -> Flat {
    match stretch {
        Stretch::Line { from_mm, .. } => *from_mm,
        Stretch::Arc { centre_mm, radius_mm, start_rad, .. } => go(*centre_mm, unit(*start_rad), *radius_mm),
    }
}

/// A stretch at a height along the bar, seen.
fn along(stretch: &Stretch, z_mm: f64, sight: &Sight) -> Curve {
    let seen = |[x, y]: Flat| sight.point([x, y, z_mm]);
    match *stretch {
        Stretch::Line { from_mm, to_mm } => Curve::line(seen(from_mm), seen(to_mm)),
        Stretch::Arc { centre_mm, radius_mm, start_rad, sweep_rad } => {
            let half = |axis: usize| [sight.right[axis] * radius_mm, sight.up[axis] * radius_mm];
            let arc = Arc {
                centre_mm: seen(centre_mm),
                halves_mm: [half(0), half(1)],
                from_rad: start_rad,
                to_rad: start_rad + sweep_rad,
            };
            if cross(arc.halves_mm[0], arc.halves_mm[1]).abs() > 1e-9 * radius_mm * radius_mm {
                return Curve::Arc(arc);
            }
            // Seen from its own plane an arc is a straight line; parted before, it runs along it only once.
            Curve::line(arc.point(arc.from_rad), arc.point(arc.to_rad))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::bounds_of_all;
    use crate::vector::apart;

    fn polygon(corners: &[Flat]) -> Vec<Stretch> {
        (0..corners.len())
            .map(|at| Stretch::Line { from_mm: corners[at], to_mm: corners[(at + 1) % corners.len()] })
            .collect()
    }

    fn cube(size: f64) -> Solid {
        let outline = polygon(&[[0.0, 0.0], [size, 0.0], [size, size], [0.0, size]]);
        Solid { outline, back_mm: 0.0, front_mm: size }
    }

    fn round(radius_mm: f64, length: f64) -> Solid {
        let arc = Stretch::Arc { centre_mm: [0.0, 0.0], radius_mm, start_rad: 0.3, sweep_rad: TAU };
        Solid { outline: vec![arc], back_mm: 0.0, front_mm: length }
    }

    /// A round with one flat at y = `at`.
    fn flatted(radius: f64, at: f64, length: f64) -> Solid {
        let half = (radius * radius - at * at).sqrt();
        let from = at.atan2(-half);
        let outline = vec![
            Stretch::Line { from_mm: [half, at], to_mm: [-half, at] },
            Stretch::Arc {
                centre_mm: [0.0, 0.0],
                radius_mm: radius,
                start_rad: from,
                sweep_rad: turn(from, at.atan2(half)),
            },
        ];
        Solid { outline, back_mm: 0.0, front_mm: length }
    }

    #[test]
    fn a_cube_shows_nine_edges_and_hides_three_each_as_long_as_it_is() {
        // Euler: 12 edges; in isometric three meet behind (closed form).
        let found = edges(&cube(10.0), &Sight::isometric());
        assert_eq!((found.visible.len(), found.hidden.len()), (9, 3));
        for curve in found.visible.iter().chain(&found.hidden) {
            assert!((apart(curve.start(), curve.end()) - 10.0).abs() < 1e-9);
        }
        // The outer contour is a regular hexagon of radius 10 about the middle, at (0, 0).
        let bounds = bounds_of_all(&found.visible);
        let wide = 10.0 * 0.75_f64.sqrt();
        for (got, want) in bounds.iter().zip([-wide, -10.0, wide, 10.0]) {
            assert!((got - want).abs() < 1e-9, "{bounds:?}");
        }
        // The hidden three meet in one point.
        let ends: Vec<Flat> = found.hidden.iter().flat_map(|curve| [curve.start(), curve.end()]).collect();
        assert!(ends.iter().any(|p| ends.iter().filter(|q| apart(*p, **q) < 1e-9).count() == 3));
    }

    #[test]
    fn a_cube_seen_square_on_is_four_edges_with_nothing_hidden_that_would_show() {
        let sight = Sight::of_part([1.0, 0.0, 0.0], [0.0, 1.0, 0.0]);
        let found = edges(&cube(10.0), &sight);
        assert_eq!((found.visible.len(), found.hidden.len()), (4, 0), "{found:?}");
        let sight = Sight::of_part([0.0, 0.0, 1.0], [0.0, 1.0, 0.0]);
        let found = edges(&cube(10.0), &sight);
        assert_eq!(bounds_of_all(&found.visible), [0.0, 0.0, 10.0, 10.0]);
        assert!(found.hidden.is_empty(), "{found:?}");
    }

    #[test]
    fn the_outer_lines_of_a_cylinder_touch_both_ellipses_at_their_widest() {
        let found = edges(&round(20.0, 50.0), &Sight::isometric());
        let lines: Vec<&Curve> = found.visible.iter().filter(|curve| matches!(curve, Curve::Line { .. })).collect();
        assert_eq!(lines.len(), 2);
        // In isometric a circle of radius r becomes an ellipse with half axes r sqrt(3/2) and r / sqrt(2) (ISO
        // 5456-3: 1.22 and 0.71), the long one square to the axis, so the two lines are 2 r sqrt(3/2) apart.
        let (a, b) = (lines[0], lines[1]);
        let along = between(a.start(), a.end());
        let gap = cross(along, between(a.start(), b.start())).abs() / 50.0;
        assert!((gap - 40.0 * 1.5_f64.sqrt()).abs() < 1e-9, "{gap}");
        let arcs: Vec<&Arc> = found
            .visible
            .iter()
            .chain(&found.hidden)
            .filter_map(|curve| match curve {
                Curve::Arc(arc) => Some(arc),
                Curve::Line { .. } => None,
            })
            .collect();
        for arc in &arcs {
            let (long, short, _) = arc.axes();
            assert!((long - 20.0 * 1.5_f64.sqrt()).abs() < 1e-9 && (short - 20.0 / 2_f64.sqrt()).abs() < 1e-9);
        }
        // Each end of a line is an end of an arc there, and the line is tangent to it.
        for line in lines {
            for end in [line.start(), line.end()] {
                let meets = arcs.iter().any(|arc| {
                    [arc.from_rad, arc.to_rad].into_iter().any(|t| {
                        let tangent = between(
                            [0.0; 2],
                            go(
                                [arc.halves_mm[0][0] * -t.sin(), arc.halves_mm[0][1] * -t.sin()],
                                arc.halves_mm[1],
                                t.cos(),
                            ),
                        );
                        apart(arc.point(t), end) < 1e-9 && cross(tangent, along).abs() < 1e-6
                    })
                });
                assert!(meets);
            }
        }
        // One half turn of the far end is hidden, the other half shows: each is π long.
        let hidden: f64 = found
            .hidden
            .iter()
            .map(|curve| match curve {
                Curve::Arc(arc) => arc.to_rad - arc.from_rad,
                Curve::Line { .. } => 99.0,
            })
            .sum();
        assert!((hidden - PI).abs() < 1e-9);
    }

    #[test]
    fn a_cylinder_seen_on_its_end_is_one_circle() {
        let found = edges(&round(20.0, 50.0), &Sight::of_part([1.0, 0.0, 0.0], [0.0, 1.0, 0.0]));
        assert_eq!(found.hidden.len(), 0);
        assert!(found.visible.iter().all(|curve| matches!(curve, Curve::Arc(_))));
    }

    #[test]
    fn a_round_with_a_flat_has_edges_at_the_flat_and_where_the_round_turns_away() {
        // Flat at y = 12 of radius 20: half width 16. Seen from +x the contour runs from y = -20 to y = 12 and both
        // edges of the flat lie in one line.
        let solid = flatted(20.0, 12.0, 50.0);
        let found = edges(&solid, &Sight::of_part([0.0, 0.0, 1.0], [0.0, 1.0, 0.0]));
        let bounds = bounds_of_all(&found.visible);
        for (got, want) in bounds.iter().zip([0.0, -20.0, 50.0, 12.0]) {
            assert!((got - want).abs() < 1e-9, "{bounds:?}");
        }
        assert!(found.hidden.is_empty(), "{found:?}");
        // Seen from +y both edges of the flat show, at x = 16 and -16, inside the contour at 20 and -20.
        let found = edges(&solid, &Sight::of_part([0.0, 0.0, 1.0], [1.0, 0.0, 0.0]));
        let mut heights: Vec<f64> = found
            .visible
            .iter()
            .filter(|curve| (apart(curve.start(), curve.end()) - 50.0).abs() < 1e-9)
            .map(|curve| curve.start()[1])
            .collect();
        heights.sort_by(f64::total_cmp);
        assert_eq!(heights.len(), 4);
        for (got, want) in heights.iter().zip([-20.0, -16.0, 16.0, 20.0]) {
            assert!((got - want).abs() < 1e-9, "{heights:?}");
        }
    }

    #[test]
    fn a_flat_that_a_round_runs_into_smoothly_has_no_edge_there() {
        // A stadium: two half circles joined by straight lines that touch them.
        let arc =
            |x: f64, start_rad: f64| Stretch::Arc { centre_mm: [x, 0.0], radius_mm: 10.0, start_rad, sweep_rad: PI };
        let outline = vec![
            Stretch::Line { from_mm: [-15.0, -10.0], to_mm: [15.0, -10.0] },
            arc(15.0, -PI / 2.0),
            Stretch::Line { from_mm: [15.0, 10.0], to_mm: [-15.0, 10.0] },
            arc(-15.0, PI / 2.0),
        ];
        let solid = Solid { outline, back_mm: 0.0, front_mm: 30.0 };
        let found = edges(&solid, &Sight::isometric());
        let lines = found.visible.iter().filter(|c| matches!(c, Curve::Line { .. })).count();
        // Two contour lines along z, and of the four straight cap edges the two in front and the one behind that shows.
        assert_eq!(lines, 2 + 3, "{found:?}");
    }
}
