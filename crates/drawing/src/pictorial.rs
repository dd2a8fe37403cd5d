//! The piece in isometric view, hidden edges left out, with the letters of its faces.

use engine::plan::{FaceShape, Plan, SetUp, Solid};

use crate::board::{Board, KeyLine, key_height_mm, key_width_mm};
use crate::chuck::{cut_face, polygon, spread};
use crate::curve::{bounds_of, bounds_of_all};
use crate::dimension::arrow;
use crate::figure::{Curve, Figure, Fill, LineKind, Part, TextKind};
use crate::hatch::Region;
use crate::held;
use crate::lettering::{self, LARGE_MM, LINE_MM, SMALL_MM, short, width_in_mm};
use crate::outline::{Shown, face_of, normal};
use crate::prism::{cap, edges};
use crate::scale::Scale;
use crate::sight::Sight;
use crate::vector::{Flat, between, dot3, go, unit};

/// Space between the two pictures, mm: an arrow stands there.
const BETWEEN_MM: f64 = 12.0;
/// Space round a picture, mm.
const EDGE_MM: f64 = 1.5;

/// The piece before and after a set-up, in at most `room_mm` of paper; one scale for all set-ups of the plan.
pub fn before_after(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Figure {
    before_after_at_most(plan, set_up, room_mm, Scale::LARGEST)
}

/// The same, at no larger scale than this.
pub fn before_after_at_most(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2], most: Scale) -> Figure {
    let all = || plan.set_ups.iter().chain([set_up]);
    let fits = |ratio: f64| {
        all().all(|each| {
            let [width, height] = before_after_size(plan, each, ratio, room_mm[0]);
            width <= room_mm[0] && height <= room_mm[1]
        })
    };
    let scale = Scale::largest_up_to(most, fits);
    let ratio = scale.ratio();
    let [width, height] = before_after_size(plan, set_up, ratio, room_mm[0]);
    let key = key(plan, set_up, room_mm[0], scale);
    let size_mm = [width.max(key_width_mm(&key) + 1.0), height];
    let box_mm = picture_box(set_up);
    let cell = (box_mm[2] - box_mm[0]) * ratio;
    let high = (box_mm[3] - box_mm[1]) * ratio;
    let pair = 2.0 * cell + BETWEEN_MM + 2.0 * EDGE_MM;
    let left = (size_mm[0] - pair) / 2.0 + EDGE_MM - box_mm[0] * ratio;
    let down = EDGE_MM + box_mm[3] * ratio;
    let mut board = Board::new(size_mm, [left, down], ratio);
    board.room[3] = EDGE_MM + high + EDGE_MM;
    // First, so that letters keep clear of it.
    arrow_between(&mut board, [size_mm[0] / 2.0, EDGE_MM + high / 2.0]);
    piece(&mut board, plan, set_up, Moment::Before, LARGE_MM);
    board.origin[0] = left + cell + BETWEEN_MM;
    piece(&mut board, plan, set_up, Moment::After, LARGE_MM);
    let y = high + 2.0 * EDGE_MM + LINE_MM / 2.0;
    for (at, says) in ["before", "after"].into_iter().enumerate() {
        let x = size_mm[0] / 2.0 + (at as f64 - 0.5) * (cell + BETWEEN_MM);
        board.text(lettering::centred(TextKind::Word, says, SMALL_MM, [x, y]));
    }
    board.key(0.5, high + 2.0 * EDGE_MM + LINE_MM, &key);
    Figure {
        name: format!("before-after-{}", set_up.number),
        size_mm,
        title: format!("Set-up {}: the piece before and after", set_up.number),
        says: says(plan, set_up),
        scale,
        marks: board.into_marks(),
    }
}

/// When a piece is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moment {
    /// Before the cut.
    Before,
    /// After it, with what was there before.
    After,
}

fn key(plan: &Plan, set_up: &SetUp, room_mm: f64, scale: Scale) -> Vec<KeyLine> {
    let (top, floor) = held::top_and_floor_mm(set_up);
    let off = lettering::unbroken(&lettering::length(top - floor, plan.units));
    KeyLine::words(
        &format!(
            "hatched: cut now, {}; {off} comes off; scale\u{a0}{}",
            held::faces_words(&set_up.cuts_faces),
            scale.name()
        ),
        room_mm - 1.0,
    )
}

fn says(plan: &Plan, set_up: &SetUp) -> String {
    let (top, floor) = held::top_and_floor_mm(set_up);
    let there: Vec<String> = plan
        .scene
        .faces
        .iter()
        .filter(|face| face.cut && face_of(&set_up.held.before, face).is_some())
        .map(|face| short(&face.name))
        .collect();
    let there =
        if there.is_empty() { "No face is cut yet".to_string() } else { format!("Cut before: {}", there.join(", ")) };
    format!(
        "The piece as it is before the set-up and after it, from the same side. {there}. {} is cut now, {} comes off.",
        capital(&held::faces_words(&set_up.cuts_faces)),
        lettering::length(top - floor, plan.units)
    )
}

fn capital(says: &str) -> String {
    let mut letters = says.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn before_after_size(plan: &Plan, set_up: &SetUp, ratio: f64, room_mm: f64) -> [f64; 2] {
    let box_mm = picture_box(set_up);
    // The written scale never changes the number of lines by more than its own characters: count the longest.
    let key = key(plan, set_up, room_mm, Scale { paper: 1, real: 1_000_000 });
    let pair = 2.0 * (box_mm[2] - box_mm[0]) * ratio + BETWEEN_MM + 2.0 * EDGE_MM;
    let width = pair.max(key_width_mm(&key) + 1.0);
    [width, (box_mm[3] - box_mm[1]) * ratio + 2.0 * EDGE_MM + LINE_MM + key_height_mm(&key)]
}

/// The box round the piece before the cut, which holds the piece after it.
fn picture_box(set_up: &SetUp) -> [f64; 4] {
    let found = edges(&set_up.held.before, &sight(set_up));
    let bounds = bounds_of_all(found.visible.iter().chain(&found.hidden));
    if bounds[0] > bounds[2] { [0.0; 4] } else { bounds }
}

fn sight(set_up: &SetUp) -> Sight {
    Sight::isometric().through(&set_up.held.frame)
}

/// The piece of a set-up with its letters, and hatching on the face just cut.
pub fn piece(board: &mut Board, plan: &Plan, set_up: &SetUp, moment: Moment, letter_mm: f64) {
    let held = &set_up.held;
    let sight = sight(set_up);
    let solid = if moment == Moment::Before { &held.before } else { &held.after };
    if moment == Moment::After {
        let gone = edges(&held.before, &sight).visible;
        board.draw(LineKind::DoubleChain, Part::Old, &gone);
        // What was there lies round the piece; over it only the piece is seen.
        board.fill(Fill::Paper, Part::Piece, &silhouette(solid, &sight));
    }
    board.draw(LineKind::Wide, Part::Piece, &edges(solid, &sight).visible);
    let now = cut_face(plan, set_up).filter(|_| moment == Moment::After);
    for face in &plan.scene.faces {
        let just_cut = now.is_some_and(|now| now.name == face.name);
        if face.cut {
            letter(board, solid, face, &sight, letter_mm, just_cut);
        }
    }
    if let Some(shown) = now.and_then(|face| face_of(solid, face)) {
        let edge: Vec<Curve> = face_edge(solid, shown, &sight).iter().map(|curve| board.on_paper(curve)).collect();
        board.hatch(&Region { edge, beyond: None });
    }
}

/// Everything that a piece covers to the eye: its two ends and what lies between, as one closed edge.
pub fn silhouette(solid: &Solid, sight: &Sight) -> Vec<Curve> {
    // The outermost edges are those with metal on one side only: seen surfaces meet unseen ones there. Straight pieces
    // close enough to the curves serve, since this is only filled.
    let points = [solid.back_mm, solid.front_mm]
        .into_iter()
        .flat_map(|z_mm| cap(solid, z_mm, sight))
        .flat_map(|curve| curve.straightened(0.02))
        .flatten();
    polygon(&hull(points.collect()))
}

/// The convex hull, anticlockwise (Andrew's monotone chain).
fn hull(mut points: Vec<Flat>) -> Vec<Flat> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let half = |points: &mut dyn Iterator<Item = Flat>| {
        let mut chain: Vec<Flat> = Vec::new();
        for point in points {
            while chain.len() > 1 && turns_right(chain[chain.len() - 2], chain[chain.len() - 1], point) {
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut lower = half(&mut points.iter().copied());
    lower.extend(half(&mut points.iter().rev().copied()));
    lower
}

fn turns_right(a: Flat, b: Flat, c: Flat) -> bool {
    crate::vector::cross(crate::vector::between(a, b), crate::vector::between(a, c)) <= 0.0
}

/// The letter of a face where the face shows and is there.
fn letter(board: &mut Board, solid: &Solid, face: &FaceShape, sight: &Sight, letter_mm: f64, strong: bool) {
    if dot3(normal(face.place), sight.eye) < 0.05 {
        return;
    }
    let Some(shown) = face_of(solid, face) else { return };
    let edge = face_edge(solid, shown, sight);
    let bounds = bounds_of_all(edge.iter());
    let centre = board.at([(bounds[0] + bounds[2]) / 2.0, (bounds[1] + bounds[3]) / 2.0]);
    let spread_mm = ((bounds[2] - bounds[0]).min(bounds[3] - bounds[1]) * board.ratio / 3.0).min(8.0);
    let name = short(&face.name);
    let middles: Vec<Flat> = spread(centre, spread_mm).into_iter().collect();
    let placed = board.label(TextKind::Face, &name, letter_mm, strong, &middles)
        || (letter_mm > SMALL_MM && board.label(TextKind::Face, &name, SMALL_MM, strong, &middles));
    if !placed {
        let round = silhouette(solid, sight).iter().map(|curve| board.on_paper(curve).start()).collect::<Vec<_>>();
        board.led_from_within(TextKind::Face, &name, SMALL_MM, centre, &outside(centre, &round));
    }
}

/// Places round a point outside a convex polygon, the nearest first.
fn outside(centre: Flat, polygon: &[Flat]) -> Vec<Flat> {
    const WAYS: u32 = 24;
    const OFF_MM: [f64; 13] = [4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 16.0, 19.0, 22.0, 26.0];
    let way = |at: u32| unit(std::f64::consts::TAU * f64::from(at) / f64::from(WAYS));
    let places = OFF_MM.into_iter().flat_map(|off| (0..WAYS).map(move |at| go(centre, way(at), off)));
    places.filter(|place| !is_within(*place, polygon)).collect()
}

/// Whether a point lies in a convex polygon, in whichever sense it runs.
fn is_within(point: Flat, polygon: &[Flat]) -> bool {
    let next = polygon.iter().cycle().skip(1);
    let sides = polygon.iter().zip(next).map(|(&a, &b)| crate::vector::cross(between(a, b), between(a, point)));
    let (least, most) = sides.fold((0.0_f64, 0.0_f64), |(least, most), side| (least.min(side), most.max(side)));
    least >= 0.0 || most <= 0.0
}

/// The edge of a face, seen.
pub fn face_edge(solid: &Solid, shown: Shown, sight: &Sight) -> Vec<Curve> {
    match shown {
        Shown::End(z_mm) => cap(solid, z_mm, sight),
        Shown::Side([from, to]) => side_edge(from, to, solid, sight),
    }
}

/// The four edges of a side over a straight stretch of the outline, seen.
pub fn side_edge(from: Flat, to: Flat, solid: &Solid, sight: &Sight) -> Vec<Curve> {
    let seen = |[x, y]: Flat, z_mm: f64| sight.point([x, y, z_mm]);
    polygon(&[seen(from, solid.back_mm), seen(to, solid.back_mm), seen(to, solid.front_mm), seen(from, solid.front_mm)])
}

fn arrow_between(board: &mut Board, [x, y]: Flat) {
    board.stroke(LineKind::Narrow, Part::Sign, Curve::line([x - 4.0, y], [x + 4.0, y]));
    board.fill_paper(Fill::Ink, Part::Sign, polygon(&arrow([x + 4.0, y], [1.0, 0.0])));
}

/// All set-ups in order, in at most `room_mm` of paper, one scale; the face cut is hatched.
pub fn order_strip(plan: &Plan, room_mm: [f64; 2]) -> Figure {
    order_strip_in_rows(plan, room_mm, plan.set_ups.len())
}

/// The same in no more rows than these, in as many of them as make it largest; where two come out equally large, in
/// the fewer.
pub fn order_strip_in_rows(plan: &Plan, room_mm: [f64; 2], most_rows: usize) -> Figure {
    let of = |rows: usize| (rows, Scale::largest_of_all(|ratio| Strip::new(plan, ratio, room_mm, rows).fits(room_mm)));
    let all = (1..=most_rows.clamp(1, plan.set_ups.len().max(1))).map(of);
    let larger = |best: (usize, Scale), next: (usize, Scale)| if next.1.ratio() > best.1.ratio() { next } else { best };
    let (rows, scale) = all.reduce(larger).unwrap_or((1, Scale::default()));
    let strip = Strip::new(plan, scale.ratio(), room_mm, rows);
    // Paper too narrow for anything is kept to as well as may be.
    let strip = if strip.fits(room_mm) { strip } else { Strip::new(plan, scale.ratio(), room_mm, most_rows) };
    let key = strip.key(scale);
    let [width, height] = strip.size_mm();
    let size_mm = [width.max(key_width_mm(&key) + 1.0), height];
    let mut board = Board::new(size_mm, [0.0; 2], scale.ratio());
    for (at, set_up) in plan.set_ups.iter().enumerate() {
        strip.draw(&mut board, plan, set_up, at);
    }
    board.key(0.5, size_mm[1] - key_height_mm(&key), &key);
    Figure {
        name: "order".to_string(),
        size_mm,
        title: "The set-ups in order".to_string(),
        says: strip_says(plan),
        scale,
        marks: board.into_marks(),
    }
}

/// How the small pictures lie in rows.
struct Strip {
    columns: usize,
    rows: usize,
    /// Width of the widest picture and height of the highest, mm of the real thing.
    box_mm: [f64; 2],
    ratio: f64,
    cell: [f64; 2],
    /// Height of capitals of what stands over each picture, mm.
    caption_mm: f64,
    room: f64,
    empty: bool,
}

impl Strip {
    fn new(plan: &Plan, ratio: f64, room_mm: [f64; 2], rows: usize) -> Strip {
        // Each piece stands in the middle of its cell, wherever it is held.
        let sizes = plan.set_ups.iter().map(picture_box).map(|[left, low, right, high]| [right - left, high - low]);
        let box_mm = sizes.fold([0.0; 2], |most: [f64; 2], size| [most[0].max(size[0]), most[1].max(size[1])]);
        let count = plan.set_ups.len().max(1);
        // As even rows as may be.
        let columns = count.div_ceil(rows.max(1));
        let rows = count.div_ceil(columns);
        let most = room_mm[0] / columns as f64 - BESIDE_MM;
        let widest = |height_mm: f64| {
            let captions = plan.set_ups.iter().map(|set_up| width_in_mm(&caption(set_up), height_mm, true));
            captions.fold(0.0, f64::max)
        };
        // Long names are set lower, and cut off at the last, before they make the pictures smaller.
        let caption_mm = if widest(LARGE_MM) <= most { LARGE_MM } else { SMALL_MM };
        let cell = [
            (box_mm[0] * ratio).max(widest(caption_mm).min(most)) + BESIDE_MM,
            box_mm[1] * ratio + 2.0 * EDGE_MM + CAPTION_MM,
        ];
        Strip { columns, rows, box_mm, ratio, cell, caption_mm, room: room_mm[0], empty: plan.set_ups.is_empty() }
    }

    fn key(&self, scale: Scale) -> Vec<KeyLine> {
        let says = if self.empty {
            "no set-up: not possible as asked".to_string()
        } else {
            format!("hatched: the face cut; scale\u{a0}{}", scale.name())
        };
        KeyLine::words(&says, self.room - 1.0)
    }

    fn size_mm(&self) -> [f64; 2] {
        let key = self.key(Scale { paper: 1, real: 1_000_000 });
        let width = (self.columns as f64 * self.cell[0]).max(key_width_mm(&key) + 1.0);
        let rows = if self.empty { 0.0 } else { self.rows as f64 * self.cell[1] };
        [width, rows + key_height_mm(&key)]
    }

    fn fits(&self, room_mm: [f64; 2]) -> bool {
        let [width, height] = self.size_mm();
        width <= room_mm[0] && height <= room_mm[1]
    }

    fn draw(&self, board: &mut Board, plan: &Plan, set_up: &SetUp, at: usize) {
        let left = (at % self.columns) as f64 * self.cell[0];
        let top = (at / self.columns) as f64 * self.cell[1];
        let own = picture_box(set_up);
        let middle = [(own[0] + own[2]) / 2.0, (own[1] + own[3]) / 2.0];
        let high = self.box_mm[1] * self.ratio;
        board.origin = [
            left + self.cell[0] / 2.0 - middle[0] * self.ratio,
            top + CAPTION_MM + EDGE_MM + high / 2.0 + middle[1] * self.ratio,
        ];
        let place = [left + self.cell[0] / 2.0, top + CAPTION_MM / 2.0];
        let caption = lettering::cut_to(&caption(set_up), self.caption_mm, true, self.cell[0] - BESIDE_MM);
        board.text(lettering::centred_strong(TextKind::Word, &caption, self.caption_mm, place));
        // A letter that finds no place on its face stands beside its own piece.
        let whole = board.room;
        board.room = [left, top + CAPTION_MM, left + self.cell[0], top + self.cell[1]];
        piece(board, plan, set_up, Moment::After, SMALL_MM);
        board.room = whole;
    }
}

/// What a small picture and the words over it keep clear beside them, both sides together, mm.
const BESIDE_MM: f64 = 2.0 * EDGE_MM + 2.0;
/// Height of the line over a small picture, mm.
const CAPTION_MM: f64 = 6.5;

/// "1 A": number of the set-up and what it cuts.
fn caption(set_up: &SetUp) -> String {
    let faces: Vec<String> = set_up.cuts_faces.iter().map(|name| short(name)).collect();
    format!("{}: {}", set_up.number, faces.join(" "))
}

fn strip_says(plan: &Plan) -> String {
    if plan.set_ups.is_empty() {
        return "There is no set-up: the job cannot be done as asked.".to_string();
    }
    let steps: Vec<String> = plan
        .set_ups
        .iter()
        .map(|set_up| format!("{} cuts {}", set_up.number, held::faces_words(&set_up.cuts_faces)))
        .collect();
    format!("The piece after each set-up, the face just cut hatched. In order: {}.", steps.join("; "))
}

/// The box round a solid as a sight shows it.
pub fn box_of(solid: &Solid, sight: &Sight) -> [f64; 4] {
    let found = edges(solid, sight);
    let bounds = bounds_of_all(found.visible.iter().chain(&found.hidden));
    if bounds[0] > bounds[2] { bounds_of([sight.point([0.0; 3])]) } else { bounds }
}
