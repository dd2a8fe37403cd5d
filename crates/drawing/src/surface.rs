//! What the last pass leaves on a flat: lines of equal height over its outline, seen as the chuck is seen.

use engine::plan::{SetUp, Surface, SurfacePlace, SurfaceRay};
use engine::quantity::Units;
use engine::quantity::bare::height;

use crate::board::{Board, KeyLine, key_height_mm};
use crate::chuck::polygon;
use crate::figure::{Curve, Figure, Fill, LineKind, Part, TextKind};
use crate::hatch::{around, within};
use crate::lettering::{self, SMALL_MM};
use crate::scale::Scale;
use crate::vector::{Flat, between, cross, go};

/// Room round the flat for the jaws' numbers, mm.
const ROUND_MM: f64 = 5.6;
/// A map with less room than this from its middle to its edge is none, mm.
const LEAST_MM: f64 = 3.0;
/// Space below the map, mm.
const BELOW_MM: f64 = 2.0;
/// Half of the signs on the highest and the lowest place, mm.
const SIGN_MM: f64 = 1.1;
/// Half the cross on the spindle axis, mm.
const AXIS_MM: f64 = 1.5;
/// Room that a number keeps to lines of other heights, and its own line to it, mm.
const CLEAR_MM: f64 = 0.4;
/// Most lines of equal height.
const MOST_LINES: f64 = 4.0;
/// What a line's number counts: a micrometre, or a ten-thousandth of an inch.
const INCH_UM: f64 = 2.54;
/// Steps from line to line, times a power of ten.
const STEPS: [f64; 3] = [1.0, 2.0, 5.0];

/// The map of a set-up's flat in at most `room_mm` of paper; `None` where nothing was cut or the paper is too small.
pub fn surface_map(set_up: &SetUp, units: Units, room_mm: [f64; 2]) -> Option<Figure> {
    mapped(set_up, units, room_mm, key)
}

/// The same beside words that say what the signs are.
pub fn surface_map_briefly(set_up: &SetUp, units: Units, room_mm: [f64; 2]) -> Option<Figure> {
    mapped(set_up, units, room_mm, brief_key)
}

fn mapped(
    set_up: &SetUp,
    units: Units,
    room_mm: [f64; 2],
    key: fn(&Surface, Units, Scale) -> String,
) -> Option<Figure> {
    let surface = set_up.hold.surface.as_ref()?;
    let half_mm = half_sizes_mm(surface);
    let longest = Scale { paper: 1, real: 10_000 };
    let key_of = |scale| KeyLine::words(&key(surface, units, scale), room_mm[0] - 1.0);
    let room = [room_mm[0], room_mm[1] - key_height_mm(&key_of(longest)) - BELOW_MM].map(|room| room / 2.0 - ROUND_MM);
    if room[0].min(room[1]) < LEAST_MM {
        return None;
    }
    let scale = Scale::largest_of_all(|ratio| (0..2).all(|axis| ratio * half_mm[axis] <= room[axis]));
    let key = key_of(scale);
    let half = half_mm.map(|half| half * scale.ratio() + ROUND_MM);
    let middle = [room_mm[0] / 2.0, half[1]];
    let size_mm = [room_mm[0], 2.0 * half[1] + BELOW_MM + key_height_mm(&key)];
    let map = Map { surface, middle, ratio: scale.ratio(), half_mm };
    let mut board = Board::new(size_mm, middle, 1.0);
    map.draw(&mut board, set_up, units);
    board.key(0.5, 2.0 * half[1] + BELOW_MM, &key);
    Some(Figure {
        name: format!("surface-{}", set_up.number),
        size_mm,
        title: format!("Set-up {}: {}", set_up.number, heading(surface, units)),
        says: says(set_up, surface, units),
        scale,
        marks: board.into_marks(),
    })
}

/// A surface and where it lies on paper.
struct Map<'a> {
    surface: &'a Surface,
    middle: Flat,
    ratio: f64,
    half_mm: [f64; 2],
}

/// How far the flat reaches from the spindle axis, across and up, mm.
fn half_sizes_mm(surface: &Surface) -> [f64; 2] {
    surface.rays.iter().fold([0.0; 2], |[across, up]: [f64; 2], ray| {
        let (sin, cos) = ray.angle_deg.to_radians().sin_cos();
        [across.max((ray.to_mm * sin).abs()), up.max((ray.to_mm * cos).abs())]
    })
}

/// A line of equal height in pieces.
struct Level {
    says: String,
    pieces: Vec<[Flat; 2]>,
}

impl Map<'_> {
    fn draw(&self, board: &mut Board, set_up: &SetUp, units: Units) {
        self.jaws(board, set_up);
        let outline = self.outline();
        board.polyline(LineKind::Wide, Part::Piece, &outline);
        let levels: Vec<Level> = levels_um(self.surface, units).into_iter().map(|um| self.level(um, units)).collect();
        self.signs(board);
        let boxes: Vec<[f64; 4]> = (0..levels.len()).filter_map(|at| number(board, &levels, at)).collect();
        for piece in levels.iter().flat_map(|level| &level.pieces) {
            for curve in around(*piece, &boxes) {
                board.stroke(LineKind::Narrow, Part::Sign, curve);
            }
        }
    }

    /// On paper, jaw 1 up, against the clock.
    fn place(&self, angle_deg: f64, out_mm: f64) -> Flat {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        [self.middle[0] - out_mm * self.ratio * sin, self.middle[1] - out_mm * self.ratio * cos]
    }

    fn of(&self, place: &SurfacePlace) -> Flat {
        self.place(place.angle_deg, place.radius_mm)
    }

    fn jaws(&self, board: &mut Board, set_up: &SetUp) {
        let apart_deg = 360.0 / set_up.jaws.len().max(1) as f64;
        for (at, jaw) in set_up.jaws.iter().enumerate() {
            let angle_deg = apart_deg * at as f64;
            let reach_mm = self.beside_mm(angle_deg);
            let out = |paper_mm: f64| self.place(angle_deg, reach_mm + paper_mm / self.ratio);
            board.stroke(LineKind::Narrow, Part::Jaw, Curve::line(out(0.5), out(1.6)));
            let number = lettering::centred(TextKind::Jaw, &jaw.jaw.to_string(), SMALL_MM, out(ROUND_MM - 1.7));
            board.text(number);
        }
        let [x, y] = self.middle;
        board.stroke(LineKind::Narrow, Part::Centre, Curve::line([x - AXIS_MM, y], [x + AXIS_MM, y]));
        board.stroke(LineKind::Narrow, Part::Centre, Curve::line([x, y - AXIS_MM], [x, y + AXIS_MM]));
    }

    /// Where a jaw's number may stand: beyond the box round the flat in its direction, or the round that the flat's
    /// farthest corner goes, whichever is nearer, mm.
    fn beside_mm(&self, angle_deg: f64) -> f64 {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        let across = self.half_mm[0] / sin.abs().max(1e-9);
        let up = self.half_mm[1] / cos.abs().max(1e-9);
        let farthest = self.surface.rays.iter().map(|ray| ray.to_mm).fold(0.0, f64::max);
        across.min(up).min(farthest)
    }

    /// Pairs of neighbouring rays; all round where the axis lies in the flat.
    fn pairs(&self) -> Vec<[&SurfaceRay; 2]> {
        let rays = &self.surface.rays;
        let round = rays.iter().all(|ray| ray.from_mm == 0.0);
        let gap = |[one, other]: &[&SurfaceRay; 2]| (other.angle_deg - one.angle_deg).rem_euclid(360.0);
        let next = |at: usize| [&rays[at], &rays[(at + 1) % rays.len()]];
        let mut pairs: Vec<[&SurfaceRay; 2]> = (0..rays.len()).map(next).collect();
        if !round {
            // The widest gap is where the flat is not.
            let widest = (0..pairs.len()).max_by(|&a, &b| gap(&pairs[a]).total_cmp(&gap(&pairs[b])));
            if let Some(widest) = widest {
                pairs.rotate_left(widest + 1);
                pairs.pop();
            }
        }
        pairs
    }

    fn outline(&self) -> Vec<Flat> {
        let pairs = self.pairs();
        let outer = |ray: &SurfaceRay| self.place(ray.angle_deg, ray.to_mm);
        let inner = |ray: &SurfaceRay| self.place(ray.angle_deg, ray.from_mm);
        let Some([first, _]) = pairs.first() else { return Vec::new() };
        let mut points = vec![outer(first)];
        points.extend(pairs.iter().map(|[_, next]| outer(next)));
        if first.from_mm > 0.0 || pairs.iter().any(|[_, next]| next.from_mm > 0.0) {
            points.extend(pairs.iter().rev().map(|[_, next]| inner(next)));
            points.push(inner(first));
            points.push(outer(first));
        }
        without_straight(&points)
    }

    /// The highest place filled, the lowest open.
    fn signs(&self, board: &mut Board) {
        let corners = |[x, y]: Flat| [[x - SIGN_MM, y], [x, y - SIGN_MM], [x + SIGN_MM, y], [x, y + SIGN_MM]];
        if self.surface.is_even() {
            return;
        }
        board.plate(LineKind::Narrow, Fill::Paper, Part::Bearing, &corners(self.of(&self.surface.lowest)));
        board.fill_paper(Fill::Ink, Part::Bearing, polygon(&corners(self.of(&self.surface.highest))));
    }

    /// Where the height crosses a level, straight through every cell between two rays.
    fn level(&self, level_um: f64, units: Units) -> Level {
        let cells = self.pairs().into_iter().flat_map(|[one, other]| {
            let (one, other): (Vec<_>, Vec<_>) = (one.places().collect(), other.places().collect());
            (1..one.len().min(other.len()))
                .map(move |at| [one[at - 1], one[at], other[at], other[at - 1]])
                .collect::<Vec<_>>()
        });
        let pieces = cells.flat_map(|cell| self.through(&cell, level_um)).collect();
        Level { says: counted(level_um, units), pieces }
    }

    fn through(&self, cell: &[SurfacePlace; 4], level_um: f64) -> Vec<[Flat; 2]> {
        let crossing = |at: usize| {
            let [a, b] = [cell[at], cell[(at + 1) % 4]];
            let crosses = (a.left_um < level_um) != (b.left_um < level_um);
            let share = (level_um - a.left_um) / (b.left_um - a.left_um);
            crosses.then(|| go(self.of(&a), between(self.of(&a), self.of(&b)), share))
        };
        // Two crossings, or four in a saddle: neighbours belong together.
        let found: Vec<Flat> = (0..4).filter_map(crossing).collect();
        found.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
    }
}

/// The same way without the points that lie straight between their neighbours.
fn without_straight(points: &[Flat]) -> Vec<Flat> {
    /// Off the straight line by less than this, mm.
    const STRAIGHT_MM: f64 = 1e-6;
    let mut kept: Vec<Flat> = Vec::with_capacity(points.len());
    for (at, &point) in points.iter().enumerate() {
        let straight = match (kept.last(), points.get(at + 1)) {
            (Some(&before), Some(&after)) => {
                let way = between(before, after);
                let length = way[0].hypot(way[1]);
                length > STRAIGHT_MM && (cross(way, between(before, point)) / length).abs() < STRAIGHT_MM
            }
            _ => false,
        };
        if !straight {
            kept.push(point);
        }
    }
    kept
}

/// Puts a level's number on its line where there is room, and gives back the box that the line leaves free.
fn number(board: &mut Board, levels: &[Level], at: usize) -> Option<[f64; 4]> {
    let own = &levels[at];
    let others = || levels.iter().enumerate().filter(|(other, _)| *other != at).flat_map(|(_, level)| &level.pieces);
    let wider = |frame: [f64; 4]| [frame[0] - CLEAR_MM, frame[1] - CLEAR_MM, frame[2] + CLEAR_MM, frame[3] + CLEAR_MM];
    own.pieces.iter().map(|piece| go(piece[0], between(piece[0], piece[1]), 0.5)).find_map(|middle| {
        let frame = wider(lettering::centred(TextKind::Number, &own.says, SMALL_MM, middle).frame_mm);
        let crossed = others().any(|[from, to]| within(*from, between(*from, *to), frame).is_some());
        (!crossed && board.label(TextKind::Number, &own.says, SMALL_MM, false, &[middle])).then_some(frame)
    })
}

/// From line to line, µm: a round number of the unit, and not more lines than a few.
fn step_um(surface: &Surface, units: Units) -> f64 {
    let range_um = surface.from_flat_um();
    let tens = (0..12).map(|power| 10f64.powi(power - 2));
    let mut steps = tens.flat_map(|ten| STEPS.map(|step| step * ten * unit_um(units)));
    steps.find(|step| range_um / step <= MOST_LINES).unwrap_or(f64::MAX)
}

/// Heights of the lines, µm.
fn levels_um(surface: &Surface, units: Units) -> Vec<f64> {
    let (low, high) = (surface.lowest.left_um, surface.highest.left_um);
    let step = step_um(surface, units);
    if surface.is_even() || !(low / step).is_finite() || !(high / step).is_finite() {
        return Vec::new();
    }
    let (first, last) = ((low / step).floor() as i64 + 1, (high / step).ceil() as i64 - 1);
    (first..=last).map(|at| at as f64 * step).collect()
}

fn unit_um(units: Units) -> f64 {
    if units == Units::Inch { INCH_UM } else { 1.0 }
}

/// A height in its unit, with no more places than the steps have.
fn counted(level_um: f64, units: Units) -> String {
    let value = (level_um / unit_um(units) * 100.0).round() / 100.0;
    format!("{}", if value == 0.0 { 0.0 } else { value })
}

fn heading(surface: &Surface, units: Units) -> String {
    if surface.is_even() {
        return "the last pass leaves the flat even".to_string();
    }
    format!("the last pass leaves the flat {} high {}", height(surface.from_flat_um(), units), surface.towards)
}

fn key(surface: &Surface, units: Units, scale: Scale) -> String {
    if surface.is_even() {
        let left = height(surface.highest.left_um, units);
        return format!("{left} left on all over; cross: spindle axis; scale\u{a0}{}", scale.name());
    }
    let unit = if units == Units::Inch { "0.0001 in" } else { "um" };
    let step = counted(step_um(surface, units), units);
    format!(
        "left on in {unit}, a line every {step}; filled: most, {}, {}; open: least, {}; cross: spindle axis; scale\u{a0}{}",
        height(surface.highest.left_um, units),
        surface.towards,
        height(surface.lowest.left_um, units),
        scale.name()
    )
}

fn brief_key(surface: &Surface, units: Units, scale: Scale) -> String {
    if surface.is_even() {
        let left = height(surface.highest.left_um, units);
        return format!("{left} all over; scale {}", scale.name());
    }
    let step = counted(step_um(surface, units), units);
    let lines = if units == Units::Inch { format!("in 0.0001 in, every {step}") } else { format!("every {step} um") };
    format!(
        "{lines}; most {} {}, least {}; scale {}",
        height(surface.highest.left_um, units),
        surface.towards,
        height(surface.lowest.left_um, units),
        scale.name()
    )
}

fn says(set_up: &SetUp, surface: &Surface, units: Units) -> String {
    let apart_deg = 360.0 / set_up.jaws.len().max(1) as f64;
    let edges: Vec<String> = set_up
        .jaws
        .iter()
        .enumerate()
        .filter_map(|(at, jaw)| {
            Some(format!("towards jaw {} {}", jaw.jaw, height(edge_um(surface, apart_deg * at as f64)?, units)))
        })
        .collect();
    format!(
        "What pass {} leaves on the flat because work, overhang and machine spring apart, seen from the tailstock: most {} {}, \
         least {}; {} between them, the rest is taken out by setting the size. At the edge: {}.",
        surface.pass,
        height(surface.highest.left_um, units),
        surface.towards,
        height(surface.lowest.left_um, units),
        height(surface.from_flat_um(), units),
        if edges.is_empty() { "no flat there".to_string() } else { edges.join(", ") }
    )
}

/// What is left on at the edge of the flat, at the ray of this angle.
fn edge_um(surface: &Surface, angle_deg: f64) -> Option<f64> {
    /// A ray this near stands for the angle, degrees.
    const NEAR_DEG: f64 = 2.6;
    let off = |ray: &SurfaceRay| {
        let off = (ray.angle_deg - angle_deg).rem_euclid(360.0);
        off.min(360.0 - off)
    };
    let nearest = surface.rays.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
    (off(nearest) < NEAR_DEG).then(|| nearest.left_um.last().copied()).flatten()
}
