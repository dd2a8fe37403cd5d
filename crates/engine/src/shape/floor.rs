//! The floor of a facing pass, as the tool meets it: circles about the spindle axis.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::crossing::{Outside, beyond_disc, inside};
use super::{Arc, Crossing, Edge, Point, Section};

/// Gauss-Legendre nodes and weights on [-1, 1], 12 points, the positive half (Abramowitz and Stegun
/// 1964, table 25.4).
const GAUSS: [(f64, f64); 6] = [
    (0.125_233_408_511_468_9, 0.249_147_045_813_402_8),
    (0.367_831_498_998_180_2, 0.233_492_536_538_354_8),
    (0.587_317_954_286_617_4, 0.203_167_426_723_065_9),
    (0.769_902_674_194_304_7, 0.160_078_328_543_346_2),
    (0.904_117_256_370_474_9, 0.106_939_325_995_318_4),
    (0.981_560_634_246_719_2, 0.047_175_336_386_511_8),
];
/// Largest ratio of radii that one quadrature runs over.
const PIECE: f64 = 2.5;
/// Circles looked at between two kinks when the worst revolution is sought.
const LOOKS: u32 = 8;
/// Steps of the search for the worst revolution, each to two thirds: 20 leave 1e-4 of a stretch, and a summit
/// is flat, so that its height is off by the square of that; a rise to the end of a stretch ends there exactly.
const STEPS: u32 = 20;
/// So small a share of the start radius is at the axis.
const AT_THE_AXIS: f64 = 1e-9;

/// The floor of a pass about the spindle axis, which is the origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Floor {
    /// The floor.
    pub section: Section,
    /// The farthest corner, where the tool starts, mm.
    pub start_radius_mm: f64,
    /// Where it ends: 0 if the axis lies inside, else the nearest point, mm.
    pub end_radius_mm: f64,
    /// Radii at which an edge or a corner comes in or goes out, with start and end, rising, mm.
    kinks_mm: Vec<f64>,
}

impl Floor {
    /// A floor with the spindle axis at the origin.
    pub fn new(section: Section) -> Floor {
        let axis = Point::zeros();
        let (start, end) = (section.farthest_from(axis), section.nearest_to(axis));
        let kinks_mm = kinks(&section, end, start);
        Floor { section, start_radius_mm: start, end_radius_mm: end, kinks_mm }
    }

    /// A floor with the spindle axis at that point of it, mm.
    pub fn about(section: &Section, axis: Point) -> Floor {
        Floor::new(section.moved(-axis.x, -axis.y))
    }

    /// Area, mm².
    pub fn area_mm2(&self) -> f64 {
        self.section.area()
    }

    /// How the circle of that radius runs through the floor.
    pub fn share_at(&self, radius_mm: f64) -> Crossing {
        self.section.share_inside(Point::zeros(), radius_mm)
    }

    /// Share of the pass's time in the metal: the mean of the share over the radius, since feed and
    /// speed are constant. `1/(r1 − r0) ∫ share dr`.
    ///
    /// Closed form for straight edges and for rounds about the spindle axis; for rounds off the axis
    /// 12-point Gauss quadrature between kinks, within 1e-9.
    pub fn mean_share(&self) -> f64 {
        let way = self.start_radius_mm - self.end_radius_mm;
        if way <= self.section.nothing_mm() {
            return self.share_at(self.start_radius_mm).share;
        }
        let sum: f64 = self.stretches().map(|(from, to)| self.arc_sum(from, to)).sum();
        (sum / (TAU * way)).clamp(0.0, 1.0)
    }

    /// Most entries in a revolution over the pass; 0 for a cut that is never interrupted.
    pub fn most_entries(&self) -> u32 {
        self.stretches().map(|(from, to)| self.share_at((from + to) / 2.0).entries).max().unwrap_or(0)
    }

    /// Largest share of a revolution in the metal over the pass. Exact where the axis lies in the
    /// floor, since the share then only falls with the radius; else searched, within 1e-6.
    pub fn worst_share(&self) -> f64 {
        if self.end_radius_mm == 0.0 {
            return self.share_at(self.start_radius_mm * AT_THE_AXIS).share;
        }
        self.most_of(|radius| self.share_at(radius).share)
    }

    /// Longest way of the tool in the metal in a revolution, 2πr times the share, mm, within 1e-6:
    /// times force and speed it is the mean power over the worst revolution.
    pub fn longest_arc_mm(&self) -> f64 {
        self.most_of(|radius| TAU * radius * self.share_at(radius).share)
    }

    /// Largest value over the floor: looked for in every stretch, worked out in those that may hold it.
    fn most_of(&self, value: impl Fn(f64) -> f64) -> f64 {
        let looked: Vec<(Look, f64)> = self.stretches().map(|(from, to)| look(&value, from, to)).collect();
        let seen = looked.iter().map(|(look, _)| look.value).fold(0.0, f64::max);
        let close = looked.iter().filter(|(look, rise)| look.value + rise >= seen);
        close.map(|(look, _)| summit(&value, look)).fold(seen, f64::max)
    }

    /// The stretches of radius between kinks.
    fn stretches(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.kinks_mm.windows(2).map(|pair| (pair[0], pair[1]))
    }

    /// ∫ (angle in the metal) dr between two neighbouring kinks, rad mm.
    fn arc_sum(&self, from: f64, to: f64) -> f64 {
        let middle = (from + to) / 2.0;
        let Some(outside) = self.section.outside(Point::zeros(), middle) else { return 0.0 };
        if outside.is_empty() {
            return TAU * (to - from);
        }
        // Between kinks the same edges bound the same arcs: width + both half widths stay constant.
        let arcs = inside(&outside);
        arcs.iter()
            .map(|arc| {
                let (before, after) = (&outside[arc.before], &outside[arc.after]);
                let constant = arc.width_rad + before.half_rad + after.half_rad;
                constant * (to - from) - self.half_sum(before, from, to) - self.half_sum(after, from, to)
            })
            .sum()
    }

    /// ∫ (half width that this edge puts outside) dr, rad mm.
    fn half_sum(&self, outside: &Outside, from: f64, to: f64) -> f64 {
        match self.section.edges()[outside.edge] {
            Edge::Line(line) => line_sum(line.distance_mm, to) - line_sum(line.distance_mm, from),
            Edge::Arc(arc) => disc_sum(&arc, self.section.nothing_mm(), from, to),
        }
    }
}

/// The best of a few looks into a stretch, and the radii next to it.
struct Look {
    value: f64,
    low_mm: f64,
    high_mm: f64,
}

/// The best look into a stretch, taken to have one summit, and how far the summit may rise over it:
/// no more than twice the largest step between neighbouring looks.
fn look(value: impl Fn(f64) -> f64, from: f64, to: f64) -> (Look, f64) {
    let step = (to - from) / f64::from(LOOKS);
    let seen: Vec<f64> = (0..LOOKS).map(|i| value(from + step * (f64::from(i) + 0.5))).collect();
    let best = (0..seen.len()).max_by(|&a, &b| seen[a].total_cmp(&seen[b])).unwrap_or(0);
    let rise = seen.windows(2).map(|pair| (pair[1] - pair[0]).abs()).fold(0.0, f64::max);
    let at = from + step * (best as f64 + 0.5);
    (Look { value: seen[best], low_mm: (at - step).max(from), high_mm: (at + step).min(to) }, 2.0 * rise)
}

/// Largest value about a look, by thirds.
fn summit(value: impl Fn(f64) -> f64, look: &Look) -> f64 {
    let (mut low, mut high) = (look.low_mm, look.high_mm);
    for _ in 0..STEPS {
        let third = (high - low) / 3.0;
        if value(low + third) < value(high - third) { low += third } else { high -= third }
    }
    [low, high].map(&value).into_iter().fold(look.value, f64::max)
}

/// Radii between end and start at which an edge or a corner comes in or goes out, ends included.
fn kinks(section: &Section, end: f64, start: f64) -> Vec<f64> {
    if section.is_empty() {
        return Vec::new();
    }
    let mut kinks = vec![end, start];
    for edge in section.edges() {
        kinks.push(edge.from().norm());
        match edge {
            Edge::Line(line) => kinks.push(line.distance_mm.abs()),
            Edge::Arc(arc) => {
                kinks.extend([(arc.radius_mm - arc.centre.norm()).abs(), arc.radius_mm + arc.centre.norm()])
            }
        }
    }
    kinks.retain(|&radius| (end..=start).contains(&radius));
    kinks.sort_by(f64::total_cmp);
    kinks.dedup_by(|later, earlier| *later - *earlier <= section.nothing_mm());
    kinks
}

/// Integral of acos(d/r) over r: `r acos(d/r) − d arcosh(r/d)` for d > 0, and
/// acos(−d/r) = π − acos(d/r).
fn line_sum(distance: f64, radius: f64) -> f64 {
    let d = distance.abs();
    let positive = if d == 0.0 {
        FRAC_PI_2 * radius
    } else {
        let r = radius.max(d);
        r * (d / r).acos() - d * (r / d).acosh()
    };
    if distance < 0.0 { PI * radius - positive } else { positive }
}

/// Integral of the half width outside a disc.
///
/// Cut into pieces over which the radius grows little: where the disc's edge passes close by the axis the half width
/// changes over that small radius, and one rule over all would miss it.
fn disc_sum(arc: &Arc, nothing: f64, from: f64, to: f64) -> f64 {
    let (mut sum, mut low) = (0.0, from);
    while low > nothing && to > PIECE * low {
        sum += disc_piece(arc, nothing, low, PIECE * low);
        low *= PIECE;
    }
    sum + disc_piece(arc, nothing, low, to)
}

/// Gauss quadrature; r = m − w cos θ takes out the square roots at both ends.
fn disc_piece(arc: &Arc, nothing: f64, from: f64, to: f64) -> f64 {
    let (middle, width) = ((from + to) / 2.0, (to - from) / 2.0);
    let half_at = |radius: f64| beyond_disc(arc.centre.norm(), arc.radius_mm, radius, nothing);
    let at = |node: f64| {
        let (sine, cosine) = (FRAC_PI_2 * (1.0 + node)).sin_cos();
        half_at(middle - width * cosine) * sine
    };
    width * FRAC_PI_2 * GAUSS.iter().map(|&(node, weight)| weight * (at(node) + at(-node))).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quadrature_over_a_round_off_the_axis_is_as_near_as_stated() {
        for off in [0.001, 0.03, 0.3, 0.8, 0.9, 0.97, 0.99, 0.999, 1.0, 1.001, 1.01, 1.03, 1.1, 1.5, 3.0] {
            let arc = Arc { centre: Point::new(off, 0.0), radius_mm: 1.0, start_rad: 0.0, sweep_rad: TAU };
            let (from, to) = ((1.0 - off).abs(), 1.0 + off);
            let whole = disc_sum(&arc, 1e-12, from, to);
            // The same rule on pieces that shrink towards the near end, where the square root sits.
            let cut = |i: i32| if i == 0 { from } else { from + (to - from) * 0.7f64.powi(100 - i) };
            let pieces: f64 = (0..100).map(|i| disc_sum(&arc, 1e-12, cut(i), cut(i + 1))).sum();
            let error = (whole - pieces).abs() / (PI * (to - from));
            assert!(error < 1e-9, "{off}: {error}");
        }
    }
}
