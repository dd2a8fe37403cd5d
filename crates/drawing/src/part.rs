//! The part as a drawing: two views with sizes, limits and letters, in first or third angle; and the bar round it.

use std::f64::consts::{FRAC_PI_2, TAU};

use engine::plan::{FacePlace, FaceShape, Outcome, Plan, SizeShape, Solid, Stretch};
use engine::quantity::limits::toleranced;

use crate::board::{Board, KeyLine, key_height_mm, key_width_mm};
use crate::chuck::spread;
use crate::curve::bounds_of_all;
use crate::dimension::{Measured, Place, Way, dimension, over_line_mm, past_line_mm, place_of, reaches_past};
use crate::figure::{Curve, Figure, LineKind, Part, TextKind};
use crate::hatch::Region;
use crate::lettering::{self, LARGE_MM, SMALL_MM, bare, length, short, width_in_mm};
use crate::outline::flat;
use crate::pictorial::box_of;
use crate::prism::{cap, edges, normal_at, start};
use crate::projection::{Projection, SIGN_MM, sign};
use crate::scale::Scale;
use crate::sight::Sight;
use crate::vector::{Flat, cross, dot, go, quarter, same_way, unit};

/// Directions agree within this, rad.
const SAME_RAD: f64 = 1e-5;
/// From the part to the letters of its faces, mm.
const LETTER_OFF_MM: f64 = 4.0;
/// From the part to its dimension lines, mm.
const LINE_OFF_MM: f64 = 11.0;
/// Space between the views, mm.
const BETWEEN_MM: f64 = 4.0;
/// Sizes leave their lines for words where the part is drawn so many times larger for it: two steps of the series.
const MUCH_LARGER: f64 = 3.9;
/// Space round the picture, mm.
const EDGE_MM: f64 = 1.0;

/// The part in two views, in at most `room_mm` of paper: its end, and its length beside it.
pub fn part_drawing(plan: &Plan, projection: Projection, room_mm: [f64; 2]) -> Figure {
    let (drawn, scale) = largest(plan, projection, room_mm);
    let key = drawn.key(room_mm[0], scale);
    let paper = drawn.lay(scale.ratio(), &key);
    let mut board = Board::new(paper.size_mm, paper.end, scale.ratio());
    board.room[3] = paper.size_mm[1] - key_height_mm(&key).max(SIGN_MM[1]);
    drawn.draw(&mut board, &paper);
    board.key(0.5, paper.size_mm[1] - key_height_mm(&key).max(SIGN_MM[1]), &key);
    let corner = [paper.size_mm[0] - SIGN_MM[0] - 1.0, paper.size_mm[1] - SIGN_MM[1] - 0.5];
    sign(&mut board, projection, corner);
    Figure {
        name: "part".to_string(),
        size_mm: paper.size_mm,
        title: format!("The part, {}", projection.name()),
        says: drawn.says(),
        scale,
        marks: board.into_marks(),
    }
}

/// The arrangement of views that comes out largest. Where paper is so narrow that numbers on lines would make the part
/// small, they stand in words.
fn largest<'a>(plan: &'a Plan, projection: Projection, room_mm: [f64; 2]) -> (Drawn<'a>, Scale) {
    let best = |lined: bool| {
        let all =
            [Second::Beside, Second::Stacked].map(|second| [Way::Level, Way::Upright].map(|corner| (second, corner)));
        let all = all.into_iter().flatten().map(|(second, corner)| {
            let drawn = Drawn::new(plan, projection, second, corner, lined);
            let scale = drawn.scale(room_mm);
            (drawn, scale)
        });
        let larger = |best: (Drawn<'a>, Scale), next: (Drawn<'a>, Scale)| {
            if next.1.ratio() > best.1.ratio() { next } else { best }
        };
        all.reduce(larger).expect("four arrangements are tried")
    };
    let (lined, words) = (best(true), best(false));
    if words.1.ratio() > MUCH_LARGER * lined.1.ratio() { words } else { lined }
}

/// Angles inside the part between neighbouring flats, where they are not all right ones: one line where all are alike.
fn inside_angles(faces: &[FaceShape]) -> Vec<String> {
    let side = |face: &FaceShape| match face.place {
        FacePlace::Side { normal_rad } => Some((normal_rad.rem_euclid(TAU), short(&face.name))),
        FacePlace::Front | FacePlace::Back => None,
    };
    let mut sides: Vec<(f64, String)> = faces.iter().filter_map(side).collect();
    sides.sort_by(|one, other| one.0.total_cmp(&other.0));
    let pair = |at: usize| {
        let (here, next) = (&sides[at], &sides[(at + 1) % sides.len()]);
        let inside = 180.0 - (next.0 - here.0).rem_euclid(TAU).to_degrees();
        let text = format!("{inside:.2}");
        (format!("{}°", text.trim_end_matches('0').trim_end_matches('.')), format!("{} to {}", here.1, next.1))
    };
    let pairs: Vec<(String, String)> = (0..sides.len()).map(pair).collect();
    match pairs.first() {
        Some((first, _)) if pairs.iter().all(|(angle, _)| angle == first) => {
            let right = first == "90°";
            (!right).then(|| format!("inside angle of flats side by side {first}")).into_iter().collect()
        }
        _ => pairs.iter().map(|(angle, between)| format!("inside angle {between} {angle}")).collect(),
    }
}

/// Where the second view lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Second {
    /// On the right of the first: what is seen from the left (first angle) or from the right (third angle).
    Beside,
    /// What is seen from above: below the first (first angle) or above it (third angle).
    Stacked,
}

/// The part with the sizes of the drawing.
struct Drawn<'a> {
    plan: &'a Plan,
    projection: Projection,
    second: Second,
    /// Which size across the end may have its number in the lower left corner, where it is longer than its line.
    corner: Way,
    /// Whether sizes stand on dimension lines; else in words.
    lined: bool,
    solid: Solid,
    /// Looking on the front end, the first side to the right.
    end_sight: Sight,
    /// Looking on a side, the bar lying level.
    long_sight: Sight,
    end_box: [f64; 4],
    long_box: [f64; 4],
}

struct Paper {
    size_mm: [f64; 2],
    end: Flat,
    long: Flat,
}

impl<'a> Drawn<'a> {
    fn new(plan: &'a Plan, projection: Projection, second: Second, corner: Way, lined: bool) -> Drawn<'a> {
        let solid = nominal(plan);
        let turned = first_side(&plan.scene.faces);
        let ([rx, ry], [ux, uy]) = (unit(turned), quarter(unit(turned)));
        let end_sight = Sight::of_part([rx, ry, 0.0], [ux, uy, 0.0]);
        let long_sight = match (second, projection) {
            // What is seen from the left has the front end on its right, what is seen from the right on its left.
            (Second::Beside, Projection::FirstAngle) => Sight::of_part([0.0, 0.0, 1.0], [ux, uy, 0.0]),
            (Second::Beside, Projection::ThirdAngle) => Sight::of_part([0.0, 0.0, -1.0], [ux, uy, 0.0]),
            // What is seen from above has the front end below, in either angle.
            (Second::Stacked, _) => Sight::of_part([rx, ry, 0.0], [0.0, 0.0, -1.0]),
        };
        let (end_box, long_box) = (box_of(&solid, &end_sight), box_of(&solid, &long_sight));
        Drawn { plan, projection, second, corner, lined, solid, end_sight, long_sight, end_box, long_box }
    }

    fn scale(&self, room_mm: [f64; 2]) -> Scale {
        let key = self.key(room_mm[0], Scale { paper: 1, real: 1_000_000 });
        Scale::largest(|ratio| {
            let [width, height] = self.lay(ratio, &key).size_mm;
            width <= room_mm[0] && height <= room_mm[1]
        })
    }

    /// The size whose two faces lie level, upright, or at the ends, where the part has both; with its faces' places.
    fn size(&self, wanted: Wanted) -> Option<(&'a SizeShape, [f64; 2])> {
        self.plan.scene.sizes.iter().filter(|_| self.lined).find_map(|size| {
            let ends = self.ends(size, wanted)?;
            ((ends[1] - ends[0] - size.nominal_mm).abs() < 1e-9).then_some((size, ends))
        })
    }

    /// Where the two faces of a size are seen along its direction, in rising order.
    fn ends(&self, size: &SizeShape, wanted: Wanted) -> Option<[f64; 2]> {
        let faces = size.between.clone().map(|name| self.plan.scene.faces.iter().find(|face| face.name == name));
        let [Some(one), Some(other)] = faces else { return None };
        match (one.place, other.place, wanted) {
            (FacePlace::Front, FacePlace::Back, Wanted::Long) | (FacePlace::Back, FacePlace::Front, Wanted::Long) => {
                let axis = usize::from(self.second == Second::Stacked);
                Some([self.long_box[axis], self.long_box[axis + 2]])
            }
            (FacePlace::Side { normal_rad: a }, FacePlace::Side { normal_rad: b }, Wanted::Level | Wanted::Upright) => {
                let way = first_side(&self.plan.scene.faces) + if wanted == Wanted::Level { 0.0 } else { FRAC_PI_2 };
                let opposite = way + 2.0 * FRAC_PI_2;
                let both = [(a, b), (b, a)];
                let lies = both.iter().any(|&(a, b)| same_way(a, way, SAME_RAD) && same_way(b, opposite, SAME_RAD));
                let shows = |angle: f64| self.solid.outline.iter().any(|stretch| is_flat(stretch, angle));
                let axis = usize::from(wanted == Wanted::Upright);
                (lies && shows(a) && shows(b)).then(|| [self.end_box[axis], self.end_box[axis + 2]])
            }
            _ => None,
        }
    }

    /// What a size says: "36.00 ±0.05", "45.00 0 -0.10".
    fn number(&self, size: &SizeShape) -> String {
        toleranced(size.nominal_mm, size.plus_mm, size.minus_mm, self.plan.units)
    }

    fn key(&self, room_mm: f64, scale: Scale) -> Vec<KeyLine> {
        let room = room_mm - SIGN_MM[0] - 5.0;
        let units = self.plan.units;
        let drawn =
            [Wanted::Level, Wanted::Upright, Wanted::Long].map(|wanted| self.size(wanted).map(|(size, _)| size));
        let mut lines = Vec::new();
        let in_words = self.plan.scene.sizes.iter().filter(|size| !drawn.contains(&Some(size)));
        let mut said: Vec<(String, Vec<String>)> = Vec::new();
        for size in in_words {
            let (number, between) = (self.number(size), size.between.clone().map(|name| short(&name)).join(" to "));
            match said.iter_mut().find(|(same, _)| *same == number) {
                Some((_, all)) => all.push(between),
                None => said.push((number, vec![between])),
            }
        }
        for (number, between) in said {
            let words = format!("{} {}", between.join(", "), lettering::unbroken(&number));
            lines.extend(KeyLine::words(&words, room));
        }
        for face in self.plan.scene.faces.iter().filter(|face| self.stands_alone(face)) {
            let says = format!("{} {} from the bar's middle", short(&face.name), bare(face.distance_mm, units));
            lines.extend(KeyLine::words(&says, room));
        }
        lines.extend(inside_angles(&self.plan.scene.faces).iter().flat_map(|says| KeyLine::words(says, room)));
        let stays: Vec<String> =
            self.plan.scene.faces.iter().filter(|face| !face.cut).map(|face| short(&face.name)).collect();
        if !stays.is_empty() {
            lines.extend(KeyLine::words(&format!("stays as the bar is: {}", stays.join(", ")), room));
        }
        let unit = if units == engine::quantity::Units::Mm { "mm" } else { "inches" };
        lines.extend(KeyLine::words(
            &format!("sizes in {unit}; {}; scale\u{a0}{}", self.projection.name(), scale.name()),
            room,
        ));
        lines
    }

    /// Whether a side has no opposite one, so that its place must be said by its distance.
    fn stands_alone(&self, face: &FaceShape) -> bool {
        matches!(face.place, FacePlace::Side { .. })
            && face.cut
            && !self.plan.scene.sizes.iter().any(|size| size.between.contains(&face.name))
    }

    fn says(&self) -> String {
        let sizes: Vec<String> = self
            .plan
            .scene
            .sizes
            .iter()
            .map(|size| {
                let unit = self.plan.units.name();
                format!("{} to {} {} {unit}", short(&size.between[0]), short(&size.between[1]), self.number(size))
            })
            .collect();
        format!(
            "The part on its end {} and along its length, {}. Sizes: {}.",
            self.plan.scene.faces.first().map_or("A", |face| &face.name),
            self.projection.name(),
            sizes.join("; ")
        )
    }

    fn lay(&self, ratio: f64, key: &[KeyLine]) -> Paper {
        let stacked = self.second == Second::Stacked;
        let wide = |b: [f64; 4]| (b[2] - b[0]) * ratio;
        let high = |b: [f64; 4]| (b[3] - b[1]) * ratio;
        let says = |wanted: Wanted| self.size(wanted).map(|(size, _)| self.number(size));
        let (level, upright, long) = (says(Wanted::Level), says(Wanted::Upright), says(Wanted::Long));
        let past = |wanted: Wanted, says: &Option<String>, along: f64| {
            says.as_ref().map_or([0.0; 2], |says| reaches_past(along, says, self.place(wanted, along, says)))
        };
        let names = LETTER_OFF_MM + self.longest_name_mm() + 1.0;
        let has_upright = upright.is_some() || (stacked && long.is_some());
        let lead = if has_upright { self.upright_off_mm() + over_line_mm() } else { 0.0 };
        let past_level = past(Wanted::Level, &level, wide(self.end_box));
        let left = EDGE_MM + lead.max(names).max(past_level[0]);
        let after_end = names.max(past_level[1]);
        let letters = LETTER_OFF_MM + 4.0;
        let past_upright = past(Wanted::Upright, &upright, high(self.end_box));
        let top_of_end = letters.max(past_upright[1]);
        let below_end = (LINE_OFF_MM + past_line_mm()).max(past_upright[0]);
        let foot = key_height_mm(key).max(SIGN_MM[1]) + 1.0;
        let [end_wide, end_high] = [wide(self.end_box), high(self.end_box)];
        let [long_wide, long_high] = [wide(self.long_box), high(self.long_box)];
        let (size, end_at, long_at) = if stacked {
            let past_long = past(Wanted::Long, &long, long_high).map(|past| past.max(letters));
            let end_whole = top_of_end + end_high + below_end;
            let long_whole = past_long[1] + long_high + past_long[0];
            let (end_top, long_top) = match self.projection {
                Projection::FirstAngle => (EDGE_MM, EDGE_MM + end_whole),
                Projection::ThirdAngle => (EDGE_MM + long_whole, EDGE_MM),
            };
            let size = [left + end_wide.max(long_wide) + after_end + EDGE_MM, EDGE_MM + end_whole + long_whole + foot];
            (size, [left, end_top + top_of_end], [left, long_top + past_long[1]])
        } else {
            let past_long = past(Wanted::Long, &long, long_wide).map(|past| past.max(names));
            let second = left + end_wide + after_end + BETWEEN_MM + past_long[0];
            let high = end_high.max(long_high) + below_end;
            let size = [second + long_wide + past_long[1] + EDGE_MM, EDGE_MM + top_of_end + high + foot];
            (size, [left, EDGE_MM + top_of_end], [second, EDGE_MM + top_of_end])
        };
        let width = size[0].max(key_width_mm(key) + SIGN_MM[0] + 5.0);
        Paper {
            size_mm: [width, size[1]],
            end: [end_at[0] - self.end_box[0] * ratio, end_at[1] + self.end_box[3] * ratio],
            long: [long_at[0] - self.long_box[0] * ratio, long_at[1] + self.long_box[3] * ratio],
        }
    }

    /// Where the number of a size this long on paper stands.
    fn place(&self, wanted: Wanted, along_mm: f64, says: &str) -> Place {
        let before = match wanted {
            Wanted::Level => self.corner == Way::Level,
            Wanted::Upright => self.corner == Way::Upright,
            Wanted::Long => false,
        };
        place_of(along_mm, says, if before { Place::Before } else { Place::After })
    }

    /// From the part to an upright dimension line: names of sides find room before it.
    fn upright_off_mm(&self) -> f64 {
        LINE_OFF_MM.max(LETTER_OFF_MM + self.longest_name_mm() + over_line_mm())
    }

    fn longest_name_mm(&self) -> f64 {
        let widths = self.plan.scene.faces.iter().map(|face| width_in_mm(&short(&face.name), self.letter_mm(), true));
        widths.fold(0.0, f64::max)
    }

    /// Letters are large, words small.
    fn letter_mm(&self) -> f64 {
        let words = self.plan.scene.faces.iter().any(|face| face.name.chars().count() > 2);
        if words { SMALL_MM } else { LARGE_MM }
    }

    fn draw(&self, board: &mut Board, paper: &Paper) {
        let seen = edges(&self.solid, &self.end_sight);
        board.draw(LineKind::Wide, Part::Piece, &seen.visible);
        self.across(board, Wanted::Level);
        self.across(board, Wanted::Upright);
        self.end_letters(board);
        board.origin = paper.long;
        let seen = edges(&self.solid, &self.long_sight);
        board.draw(LineKind::Wide, Part::Piece, &seen.visible);
        board.draw(LineKind::Dashed, Part::Piece, &seen.hidden);
        self.across(board, Wanted::Long);
        self.long_letters(board);
    }

    fn across(&self, board: &mut Board, wanted: Wanted) {
        let Some((size, ends)) = self.size(wanted) else { return };
        let says = self.number(size);
        let b = if wanted == Wanted::Long { self.long_box } else { self.end_box };
        let [left, bottom] = board.at([b[0], b[1]]);
        let place = self.place(wanted, (ends[1] - ends[0]) * board.ratio, &says);
        let upright = wanted == Wanted::Upright || (wanted == Wanted::Long && self.second == Second::Stacked);
        let measured = if upright {
            let along = |u: f64| -board.at([0.0, u])[1];
            Measured {
                way: Way::Upright,
                ends: ends.map(along),
                at: left - self.upright_off_mm(),
                from: [Some(left - 1.0); 2],
                value_mm: size.nominal_mm,
                says: &says,
                place,
            }
        } else {
            let along = |x: f64| board.at([x, 0.0])[0];
            Measured {
                way: Way::Level,
                ends: ends.map(along),
                at: bottom + LINE_OFF_MM,
                from: [Some(bottom + 1.0); 2],
                value_mm: size.nominal_mm,
                says: &says,
                place,
            }
        };
        board.dimension(dimension(&measured));
    }

    fn end_letters(&self, board: &mut Board) {
        for face in &self.plan.scene.faces {
            let (middles, farther) = match face.place {
                FacePlace::Front => (self.in_the_end(board), None),
                FacePlace::Back => continue,
                FacePlace::Side { normal_rad } => {
                    let (on, reach) = self.side_on_paper(board, normal_rad);
                    let way = self.way_out(normal_rad);
                    (self.beside(on, way, reach, &face.name), Some((on, way)))
                }
            };
            let name = short(&face.name);
            let placed = board.label(TextKind::Face, &name, self.letter_mm(), true, &middles)
                || board.label(TextKind::Face, &name, SMALL_MM, true, &middles);
            if let (false, Some((on, way))) = (placed, farther) {
                let places = led_places(on, way);
                if !board.led(TextKind::Face, &name, SMALL_MM, on, &places) {
                    // Its thin line may cross a dimension's, as long as it crosses no number.
                    board.led_from_within(TextKind::Face, &name, SMALL_MM, on, &places);
                }
            }
        }
    }

    /// Places on the end, if it is large enough for its letter: beyond it the letter would name a side.
    fn in_the_end(&self, board: &Board) -> Vec<Flat> {
        let middle = board.at(self.end_middle());
        let corner = board.at([self.end_box[0], self.end_box[1]]);
        let half = [0, 1].map(|axis| (corner[axis] - middle[axis]).abs() - SMALL_MM / 2.0);
        let inside = |place: &Flat| (0..2).all(|axis| (place[axis] - middle[axis]).abs() <= half[axis]);
        spread(middle, 8.0).into_iter().filter(inside).collect()
    }

    fn end_middle(&self) -> Flat {
        let b = self.end_box;
        [(b[0] + b[2]) / 2.0, (b[1] + b[3]) / 2.0]
    }

    /// Out of a side, on paper.
    fn way_out(&self, normal_rad: f64) -> Flat {
        let turned = normal_rad - first_side(&self.plan.scene.faces);
        [turned.cos(), -turned.sin()]
    }

    /// The middle of a side on paper, and half of its length.
    fn side_on_paper(&self, board: &Board, normal_rad: f64) -> (Flat, f64) {
        let found = self.solid.outline.iter().find(|stretch| is_flat(stretch, normal_rad));
        let on_paper = |point: [f64; 2]| board.at(self.end_sight.point([point[0], point[1], 0.0]));
        match found {
            Some(Stretch::Line { from_mm, to_mm }) => {
                let (from, to) = (on_paper(*from_mm), on_paper(*to_mm));
                ([(from[0] + to[0]) / 2.0, (from[1] + to[1]) / 2.0], crate::vector::apart(from, to) / 2.0)
            }
            _ => (on_paper(crate::outline::round_towards(&self.solid.outline, normal_rad).unwrap_or([0.0; 2])), 0.0),
        }
    }

    /// Places for the letter of a side: outside it, then inside; no farther aside than the flat is long, or the letter
    /// would name its neighbour.
    fn beside(&self, at: Flat, way: Flat, reach: f64, name: &str) -> Vec<Flat> {
        let half = width_in_mm(&short(name), self.letter_mm(), true) / 2.0 * way[0].abs();
        let asides = [0.0, 3.5, -3.5, 5.5, -5.5, 7.5, -7.5];
        let mut places = Vec::new();
        for off in
            [0.0, 1.0, 2.5].map(|more| LETTER_OFF_MM + more).into_iter().chain([-LETTER_OFF_MM, -LETTER_OFF_MM - 1.5])
        {
            let off = off + half * off.signum() - if off > 0.0 { 0.5 } else { 0.0 };
            for aside in asides.into_iter().filter(|aside: &f64| aside.abs() <= reach) {
                places.push(go(go(at, way, off), quarter(way), aside));
            }
        }
        places
    }

    fn long_letters(&self, board: &mut Board) {
        let b = self.long_box;
        for face in &self.plan.scene.faces {
            let front = match face.place {
                FacePlace::Front => true,
                FacePlace::Back => false,
                FacePlace::Side { .. } => continue,
            };
            let (x, y) = ((b[0] + b[2]) / 2.0, (b[1] + b[3]) / 2.0);
            // Where the face is seen, and the way out from it on paper.
            let (on, way) = match (self.second, front == (self.projection == Projection::FirstAngle)) {
                (Second::Beside, true) => ([b[2], y], [1.0, 0.0]),
                (Second::Beside, false) => ([b[0], y], [-1.0, 0.0]),
                (Second::Stacked, _) if front => ([x, b[1]], [0.0, 1.0]),
                (Second::Stacked, _) => ([x, b[3]], [0.0, -1.0]),
            };
            let name = short(&face.name);
            let half = width_in_mm(&name, self.letter_mm(), true) / 2.0 * f64::abs(way[0]);
            let at = board.at(on);
            let (upper, lower) = (board.at([b[0], b[1]]), board.at([b[2], b[3]]));
            let reach = if way[0] == 0.0 { upper[0] - lower[0] } else { upper[1] - lower[1] }.abs() / 2.0;
            let places: Vec<Flat> = [0.0, 0.5, 1.0]
                .into_iter()
                .flat_map(|more| {
                    let off = half + more + if way[0] == 0.0 { LETTER_OFF_MM - 0.5 } else { 2.0 };
                    let asides =
                        [0.0, -3.5, 3.5, -5.0, 5.0].into_iter().filter(move |aside: &f64| aside.abs() <= reach);
                    asides.map(move |aside| go(go(at, way, off), quarter(way), aside))
                })
                .collect();
            board.label(TextKind::Face, &name, self.letter_mm(), true, &places);
        }
        let seen = self.plan.scene.faces.iter().filter(|face| {
            let FacePlace::Side { normal_rad } = face.place else { return false };
            let way = unit(normal_rad);
            dot(way, [self.long_sight.eye[0], self.long_sight.eye[1]]) > 0.999
        });
        for face in seen {
            let middle = board.at([(b[0] + b[2]) / 2.0, (b[1] + b[3]) / 2.0]);
            let corner = board.at([b[0], b[1]]);
            let inside =
                |place: &Flat| (0..2).all(|at| (place[at] - middle[at]).abs() <= (corner[at] - middle[at]).abs());
            let places: Vec<Flat> = spread(middle, 8.0).into_iter().filter(inside).collect();
            board.label(TextKind::Face, &short(&face.name), self.letter_mm(), true, &places);
        }
    }
}

/// Places for a letter that a leader joins to its flat: ever farther out and aside.
fn led_places(on: Flat, way: Flat) -> Vec<Flat> {
    let asides = [0.0, 3.5, -3.5, 5.5, -5.5, 7.5, -7.5, 10.0, -10.0, 13.0, -13.0];
    let place = |off: f64| asides.map(|aside| go(go(on, way, off), quarter(way), aside));
    [5.0, 6.5, 8.0, 10.0, 12.5, 15.0].into_iter().flat_map(place).collect()
}

/// Which dimension is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Wanted {
    Level,
    Upright,
    Long,
}

/// Angle of the first side's normal: it is drawn to the right.
fn first_side(faces: &[FaceShape]) -> f64 {
    faces
        .iter()
        .find_map(|face| match face.place {
            FacePlace::Side { normal_rad } => Some(normal_rad),
            _ => None,
        })
        .unwrap_or(0.0)
}

fn is_flat(stretch: &Stretch, normal_rad: f64) -> bool {
    matches!(stretch, Stretch::Line { .. }) && same_way(normal_at(stretch, 0.5), normal_rad, SAME_RAD)
}

/// The part with its nominal sizes: the engine aims at the middle of the limits, a drawing shows what it says.
fn nominal(plan: &Plan) -> Solid {
    let more = end_moved(plan);
    let (back_mm, front_mm) = (plan.scene.part.back_mm - more, plan.scene.part.front_mm + more);
    let outline = asked(plan, |face| face.distance_mm + half_off(plan, face)).unwrap_or_else(|| adjusted(plan));
    Solid { outline, back_mm, front_mm }
}

/// The section as the drawing asks for it, whatever the bar can give, each side at this distance; `None` where a side
/// stays as the bar is.
fn asked(plan: &Plan, distance: impl Fn(&FaceShape) -> f64) -> Option<Vec<Stretch>> {
    let side = |face: &FaceShape| match face.place {
        FacePlace::Side { normal_rad } => Some((normal_rad, distance(face), face.cut)),
        _ => None,
    };
    let mut sides: Vec<(f64, f64, bool)> = plan.scene.faces.iter().filter_map(side).collect();
    if sides.len() < 3 || sides.iter().any(|side| !side.2) {
        return None;
    }
    sides.sort_by(|a, b| a.0.total_cmp(&b.0));
    let count = sides.len();
    let corner = |at: usize| {
        let ((a, p, _), (b, q, _)) = (sides[at], sides[(at + 1) % count]);
        let (n, m) = (unit(a), unit(b));
        let across = cross(n, m);
        [(p * m[1] - q * n[1]) / across, (q * n[0] - p * m[0]) / across]
    };
    let corners: Vec<Flat> = (0..count).map(corner).collect();
    if corners.iter().flatten().any(|place| !place.is_finite()) {
        return None;
    }
    let line = |at: usize| Stretch::Line { from_mm: corners[(at + count - 1) % count], to_mm: corners[at] };
    Some((0..count).map(line).collect())
}

/// The section that comes out of the bar, its flats moved to their nominal places.
fn adjusted(plan: &Plan) -> Vec<Stretch> {
    let part = &plan.scene.part;
    let moved: Vec<f64> = part.outline.iter().map(|stretch| outwards(plan, stretch)).collect();
    let count = part.outline.len();
    let shifted: Vec<Stretch> = (0..count).map(|at| shift(&part.outline[at], moved[at])).collect();
    let corners: Vec<Flat> = (0..count)
        .map(|at| {
            let before = (at + count - 1) % count;
            if moved[at] == 0.0 && moved[before] == 0.0 {
                return start(&part.outline[at]);
            }
            meet(&shifted[before], &shifted[at], start(&part.outline[at]))
        })
        .collect();
    (0..count).map(|at| ended(&shifted[at], corners[at], corners[(at + 1) % count])).collect()
}

/// How far outwards a straight stretch of the part lies when its size is nominal.
fn outwards(plan: &Plan, stretch: &Stretch) -> f64 {
    let flats = |face: &&FaceShape| match face.place {
        FacePlace::Side { normal_rad } => {
            is_flat(stretch, normal_rad) && flat(&[*stretch], normal_rad, face.distance_mm).is_some()
        }
        _ => false,
    };
    plan.scene.faces.iter().find(flats).map_or(0.0, |face| half_off(plan, face))
}

/// Half of what the nominal size is more than what is aimed at, where a face has an opposite one.
fn half_off(plan: &Plan, face: &FaceShape) -> f64 {
    let size = plan.scene.sizes.iter().find(|size| size.between.contains(&face.name));
    let distance = |name: &String| plan.scene.faces.iter().find(|face| face.name == *name).map(|face| face.distance_mm);
    let off = size.and_then(|size| {
        let [one, other] = [distance(&size.between[0])?, distance(&size.between[1])?];
        Some((size.nominal_mm - one - other) / 2.0)
    });
    off.unwrap_or(0.0)
}

fn end_moved(plan: &Plan) -> f64 {
    plan.scene.faces.iter().find(|face| face.place == FacePlace::Front).map_or(0.0, |face| half_off(plan, face))
}

fn shift(stretch: &Stretch, by_mm: f64) -> Stretch {
    let way = unit(normal_at(stretch, 0.0));
    match *stretch {
        Stretch::Line { from_mm, to_mm } => {
            Stretch::Line { from_mm: go(from_mm, way, by_mm), to_mm: go(to_mm, way, by_mm) }
        }
        arc => arc,
    }
}

/// Where two neighbouring stretches meet, near where they met.
fn meet(a: &Stretch, b: &Stretch, near: Flat) -> Flat {
    match (a, b) {
        (Stretch::Line { .. }, Stretch::Line { .. }) => {
            let (n, m) = (unit(normal_at(a, 0.0)), unit(normal_at(b, 0.0)));
            let (p, q) = (dot(n, start(a)), dot(m, start(b)));
            let across = cross(n, m);
            if across.abs() < 1e-9 { near } else { [(p * m[1] - q * n[1]) / across, (q * n[0] - p * m[0]) / across] }
        }
        (line @ Stretch::Line { .. }, Stretch::Arc { centre_mm, radius_mm, .. })
        | (Stretch::Arc { centre_mm, radius_mm, .. }, line @ Stretch::Line { .. }) => {
            let n = unit(normal_at(line, 0.0));
            let circle = Curve::circle(*centre_mm, *radius_mm);
            let found = circle.crossings(n, dot(n, start(line)));
            let apart = |point: &Flat| crate::vector::apart(*point, near);
            found.into_iter().min_by(|a, b| apart(a).total_cmp(&apart(b))).unwrap_or(near)
        }
        _ => near,
    }
}

fn ended(stretch: &Stretch, from: Flat, to: Flat) -> Stretch {
    match *stretch {
        Stretch::Line { .. } => Stretch::Line { from_mm: from, to_mm: to },
        Stretch::Arc { centre_mm, radius_mm, sweep_rad, .. } => {
            let angle = |point: Flat| (point[1] - centre_mm[1]).atan2(point[0] - centre_mm[0]);
            let start_rad = angle(from);
            let ends = crate::vector::turn(start_rad, angle(to));
            // A whole turn ends where it begins.
            let sweep_rad = if (sweep_rad - ends).abs() > std::f64::consts::PI { sweep_rad } else { ends };
            Stretch::Arc { centre_mm, radius_mm, start_rad, sweep_rad }
        }
    }
}

/// The section of the part laid over that of the bar, in at most `room_mm` of paper; also where nothing is planned.
pub fn bar_and_part(plan: &Plan, room_mm: [f64; 2]) -> Figure {
    let turned = first_side(&plan.scene.faces);
    let ([rx, ry], [ux, uy]) = (unit(turned), quarter(unit(turned)));
    let sight = Sight::of_part([rx, ry, 0.0], [ux, uy, 0.0]);
    let part = part_asked(plan);
    let bounds = crate::curve::round_both(box_of(&plan.scene.bar, &sight), box_of(&part, &sight));
    let key = |scale: Scale| overlay_key(plan, room_mm[0], scale);
    let size = |ratio: f64, key: &[KeyLine]| {
        let width = ((bounds[2] - bounds[0]) * ratio + 2.0 * OVERLAY_EDGE_MM).max(key_width_mm(key) + 1.0);
        [width, (bounds[3] - bounds[1]) * ratio + 2.0 * OVERLAY_EDGE_MM + key_height_mm(key)]
    };
    let scale = Scale::largest(|ratio| {
        let [width, height] = size(ratio, &key(Scale { paper: 1, real: 1_000_000 }));
        width <= room_mm[0] && height <= room_mm[1]
    });
    let ratio = scale.ratio();
    let key = key(scale);
    let size_mm = size(ratio, &key);
    let origin = [size_mm[0] / 2.0 - (bounds[0] + bounds[2]) / 2.0 * ratio, OVERLAY_EDGE_MM + bounds[3] * ratio];
    let mut board = Board::new(size_mm, origin, ratio);
    let ends = [&plan.scene.bar, &part].map(|solid| cap(solid, solid.front_mm, &sight));
    board.draw(LineKind::Narrow, Part::Old, &ends[0]);
    board.draw(LineKind::Wide, Part::Piece, &ends[1]);
    overlay_letters(&mut board, plan, &part, &sight);
    let edge = ends[1].iter().map(|curve| board.on_paper(curve)).collect();
    board.hatch(&Region { edge, beyond: None });
    board.key(0.5, size_mm[1] - key_height_mm(&key), &key);
    Figure {
        name: "bar-and-part".to_string(),
        size_mm,
        title: "The part in the bar".to_string(),
        says: overlay_says(plan),
        scale,
        marks: board.into_marks(),
    }
}

/// Space round the bar, mm.
const OVERLAY_EDGE_MM: f64 = 2.0;

/// The part as the drawing asks for it, where each side is aimed at.
fn part_asked(plan: &Plan) -> Solid {
    let outline = asked(plan, |face| face.distance_mm).unwrap_or_else(|| plan.scene.part.outline.clone());
    Solid { outline, ..plan.scene.part.clone() }
}

fn overlay_letters(board: &mut Board, plan: &Plan, part: &Solid, sight: &Sight) {
    let turned = first_side(&plan.scene.faces);
    for face in &plan.scene.faces {
        let FacePlace::Side { normal_rad } = face.place else { continue };
        let Some(stretch) = part.outline.iter().find(|stretch| is_flat(stretch, normal_rad)) else { continue };
        let Stretch::Line { from_mm, to_mm } = stretch else { continue };
        let on = [(from_mm[0] + to_mm[0]) / 2.0, (from_mm[1] + to_mm[1]) / 2.0, 0.0];
        let angle = normal_rad - turned;
        let (at, way) = (board.at(sight.point(on)), [angle.cos(), -angle.sin()]);
        let reach = crate::vector::apart(*from_mm, *to_mm) / 2.0 * board.ratio;
        let asides = [0.0, 2.5, -2.5, 5.0, -5.0];
        let places: Vec<Flat> = [3.0, 3.8, 4.6, 6.0]
            .into_iter()
            .flat_map(|off| asides.map(|aside| (off, aside)))
            .filter(|(_, aside): &(f64, f64)| aside.abs() <= reach)
            .map(|(off, aside)| go(go(at, way, -off), quarter(way), aside))
            .collect();
        let name = short(&face.name);
        if !board.label(TextKind::Face, &name, SMALL_MM, true, &places) {
            board.led(TextKind::Face, &name, SMALL_MM, at, &led_places(at, way));
        }
    }
}

fn overlay_key(plan: &Plan, room_mm: f64, scale: Scale) -> Vec<KeyLine> {
    let room = room_mm - 1.0;
    let mut lines = KeyLine::words("narrow: the bar; wide and hatched: the part", room);
    lines.extend(KeyLine::words(&least_words(plan), room));
    lines.extend(KeyLine::words(&format!("scale\u{a0}{}", scale.name()), room));
    lines
}

fn least_words(plan: &Plan) -> String {
    let least = length(plan.stock.least_round_mm, plan.units);
    format!("round over the part's corners {least}")
}

fn overlay_says(plan: &Plan) -> String {
    let outcome = match plan.outcome {
        Outcome::Planned => "",
        Outcome::Impossible(_) => " The job cannot be done as asked.",
    };
    let wide = bounds_of_all(&cap(&plan.scene.bar, 0.0, &Sight::of_part([1.0, 0.0, 0.0], [0.0, 1.0, 0.0])));
    let across = if wide[0] > wide[2] { 0.0 } else { wide[2] - wide[0] };
    format!(
        "The section of the part laid over the section of the bar, {} wide. {}.{outcome}",
        length(across, plan.units),
        capital(&least_words(plan))
    )
}

fn capital(says: &str) -> String {
    let mut letters = says.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
