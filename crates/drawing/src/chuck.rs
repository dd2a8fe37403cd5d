//! The chuck seen from the tailstock, jaw 1 upwards.

use std::f64::consts::FRAC_PI_2;

use engine::plan::{ContactKind, FaceShape, JawPlan, Plan, SetUp};
use engine::quantity::show;

use crate::board::{Board, KeyLine, key_height_mm, key_width_mm};
use crate::curve::bounds_of_all;
use crate::figure::{Arc, Curve, Figure, Fill, LineKind, Part, TextKind};
use crate::hatch::{Region, parted};
use crate::held;
use crate::jaw::{self, Bore};
use crate::lettering::{LARGE_MM, SMALL_MM, short};
use crate::outline::{Shown, face_of};
use crate::scale::Scale;
use crate::sight::Sight;
use crate::vector::{Flat, dot, go, quarter};
use crate::vee;

/// Space round the picture, mm.
const EDGE_MM: f64 = 1.5;
/// From the rim to the edge of the picture, mm.
const RIM_EDGE_MM: f64 = 0.5;
/// How much of a jaw is seen at least, behind its face, mm: its number and its sign find room.
const JAW_SEEN_MM: f64 = 9.5;
/// Packing is drawn at least this thick, mm; it must show beside the thick line of the surface that bears on it.
pub const PACKING_MM: f64 = 1.0;
/// The thick line of a bearing surface lies this far inside the piece, mm, so that its outer side is the surface.
pub const INSIDE_MM: f64 = 0.4;
/// A line shorter than this is none, mm.
const NO_LENGTH_MM: f64 = 1e-6;
/// Half of the short thick stroke where a round touches, mm.
pub const TOUCH_MM: f64 = 1.5;
/// A piece less wide than this on paper is small, mm.
const SMALL_PIECE_MM: f64 = 18.0;

/// The chuck seen from the tailstock, in at most `room_mm` of paper; one scale for all set-ups of the plan.
pub fn chuck_view(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Figure {
    chuck_view_at_most(plan, set_up, room_mm, Scale::LARGEST)
}

/// The same beside words that say what each jaw bears on and whether it is moved.
pub fn chuck_view_briefly(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Figure {
    drawn(plan, set_up, room_mm, Frame::chosen(plan, set_up, room_mm, Scale::LARGEST, &[Words::Short]))
}

/// The same, at no larger scale than this.
pub fn chuck_view_at_most(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2], most: Scale) -> Figure {
    drawn(plan, set_up, room_mm, Frame::chosen(plan, set_up, room_mm, most, &[Words::Whole, Words::Short]))
}

fn drawn(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2], frame: Frame) -> Figure {
    let Frame { words, scale, rim } = frame;
    let ratio = scale.ratio();
    let half_room = half_room_mm(plan, set_up, room_mm, words);
    let least = least_half_mm(plan, set_up, ratio, rim);
    let half = least.max(rim_mm(plan, ratio) + RIM_EDGE_MM).min(half_room).max(least);
    let rim = half >= rim_mm(plan, ratio) + RIM_EDGE_MM;
    let key = key(plan, set_up, room_mm[0], scale, words, rim);
    let width = (2.0 * (half + EDGE_MM)).max(key_width_mm(&key) + 1.0);
    let square = 2.0 * (half + EDGE_MM);
    let size_mm = [width, square + 1.0 + key_height_mm(&key)];
    let mut board = Board::new(size_mm, [width / 2.0, half + EDGE_MM], ratio);
    board.room[3] = square;
    let view = View { plan, set_up, half, rim };
    view.draw(&mut board);
    board.key(0.5, square + 1.0, &key);
    Figure {
        name: format!("chuck-{}", set_up.number),
        size_mm,
        title: format!("Set-up {}: the chuck seen from the tailstock", set_up.number),
        says: says(plan, set_up),
        scale,
        marks: board.into_marks(),
    }
}

/// How much is said below the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Words {
    /// Each jaw in words.
    Whole,
    /// What the signs mean.
    Short,
}

/// How a picture is framed.
#[derive(Debug, Clone, Copy)]
struct Frame {
    words: Words,
    scale: Scale,
    /// Whether the rim of the chuck is seen, which then is whole.
    rim: bool,
}

impl Frame {
    /// With the whole rim, unless the piece comes out small for it; with all words, unless they make the picture smaller.
    fn chosen(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2], most: Scale, all_words: &[Words]) -> Frame {
        let with_rim = |rim| Frame::with_rim(plan, set_up, room_mm, rim, most, all_words);
        let seen = with_rim(true);
        let reach = all(plan, set_up).map(|each| piece_reach_mm(plan, each)).fold(0.0, f64::max);
        if 2.0 * reach * seen.scale.ratio() >= SMALL_PIECE_MM {
            return seen;
        }
        let closer = with_rim(false);
        if closer.scale.ratio() > seen.scale.ratio() { closer } else { seen }
    }

    /// The first of these words that does not make the picture smaller.
    fn with_rim(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2], rim: bool, most: Scale, all_words: &[Words]) -> Frame {
        let framed = all_words.iter().map(|&words| {
            let half_room = half_room_mm(plan, set_up, room_mm, words);
            let fits = |ratio| least_half_mm(plan, set_up, ratio, rim) <= half_room;
            let scale = Scale::largest_up_to(most, fits);
            Frame { words, scale, rim }
        });
        let larger = |best: Frame, next: Frame| if next.scale.ratio() > best.scale.ratio() { next } else { best };
        framed.reduce(larger).expect("some words are given")
    }
}

/// Half the side of the square that is left beside the words, of whichever set-up says most.
fn half_room_mm(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2], words: Words) -> f64 {
    let longest = Scale { paper: 1, real: 10_000 };
    let keys = all(plan, set_up).map(|each| key_height_mm(&key(plan, each, room_mm[0], longest, words, false)));
    let high = room_mm[1] - keys.fold(0.0, f64::max) - 1.0;
    (room_mm[0].min(high) / 2.0 - EDGE_MM).max(0.0)
}

fn key(plan: &Plan, set_up: &SetUp, room_mm: f64, scale: Scale, words: Words, rim: bool) -> Vec<KeyLine> {
    let room = room_mm - 1.0;
    let of_all_jaws = || jaw::words(plan, set_up).into_iter().flat_map(|says| KeyLine::words(&says, room));
    let lines: Vec<KeyLine> = match words {
        Words::Whole => {
            let jaws = held::jaws_words(plan, set_up).into_iter();
            let jaws = jaws.flat_map(|(kept, says)| KeyLine::of_jaw(kept, &says, room));
            let behind = KeyLine::words(&format!("behind: {}", held::seat_words(plan, set_up)), room);
            let now = KeyLine::words(&format!("hatched: cut now, {}", held::faces_words(&set_up.cuts_faces)), room);
            jaws.chain(of_all_jaws()).chain(behind).chain(now).collect()
        }
        Words::Short => {
            let first = |kept: bool| set_up.jaws.iter().find(|jaw| jaw.kept == kept);
            let signs = [true, false].into_iter().filter_map(first);
            let signs = signs.flat_map(|jaw| KeyLine::of_jaw(jaw.kept, held::handling(set_up, jaw), room));
            let packed = set_up.jaws.iter().find(|jaw| jaw.packing_mm > 0.0);
            let packing = packed.map(|jaw| format!("dark: packing {}", show::on_hand(jaw.packing_mm, plan.units)));
            signs.chain(packing.into_iter().flat_map(|says| KeyLine::words(&says, room))).chain(of_all_jaws()).collect()
        }
    };
    let from = match (words, rim) {
        (Words::Whole, true) => "seen from the tailstock; ",
        (Words::Whole, false) => "seen from the tailstock, without the rim; ",
        (Words::Short, true) => "",
        (Words::Short, false) => "without the rim; ",
    };
    let last = format!("{from}scale\u{a0}{}", scale.name());
    lines.into_iter().chain(KeyLine::words(&last, room)).collect()
}

fn says(plan: &Plan, set_up: &SetUp) -> String {
    let jaws: Vec<String> = set_up.jaws.iter().map(|jaw| held::jaw_words(plan, set_up, jaw)).collect();
    let of_all_jaws = jaw::words(plan, set_up);
    format!(
        "The chuck seen from the tailstock, jaw 1 at the top, the jaws counted counter-clockwise. {}. Behind: {}. {} \
         towards you and cut now.",
        jaws.into_iter().chain(of_all_jaws).collect::<Vec<_>>().join("; "),
        held::seat_words(plan, set_up),
        match set_up.cuts_faces.len() {
            1 => format!("Face {} looks", short(&set_up.cuts_faces[0])),
            _ => "The faces to be cut look".to_string(),
        }
    )
}

/// Every set-up of the plan, and this one where it is not among them.
fn all<'a>(plan: &'a Plan, set_up: &'a SetUp) -> impl Iterator<Item = &'a SetUp> {
    plan.set_ups.iter().chain([set_up])
}

/// Half the side of the least picture: the piece, what was there, and enough of each jaw.
fn least_half_mm(plan: &Plan, set_up: &SetUp, ratio: f64, rim: bool) -> f64 {
    let one = |each: &SetUp| {
        let jaws = each.jaws.iter().map(|jaw| jaw.reach_mm * ratio + JAW_SEEN_MM);
        jaws.fold(piece_reach_mm(plan, each) * ratio + 1.0, f64::max)
    };
    let hole = plan.scene.chuck.bore_mm / 2.0 * ratio;
    let chuck = if rim { rim_mm(plan, ratio).max(hole) } else { hole } + RIM_EDGE_MM;
    all(plan, set_up).map(one).fold(chuck, f64::max)
}

/// Radius of the chuck's body on paper.
fn rim_mm(plan: &Plan, ratio: f64) -> f64 {
    plan.scene.chuck.body_mm / 2.0 * ratio
}

fn piece_reach_mm(plan: &Plan, set_up: &SetUp) -> f64 {
    let sight = Sight::from_tailstock();
    let bounds = |curves: &[Curve]| bounds_of_all(curves).map(f64::abs).into_iter().fold(0.0, f64::max);
    let gone = held::gone(plan, set_up, &sight);
    let piece = bounds(&held::piece(set_up, &sight).visible);
    if gone.is_empty() { piece } else { piece.max(bounds(&gone)) }
}

struct View<'a> {
    plan: &'a Plan,
    set_up: &'a SetUp,
    /// Half the side of the picture, mm of paper.
    half: f64,
    /// Whether the rim is seen.
    rim: bool,
}

impl View<'_> {
    fn draw(&self, board: &mut Board) {
        let sight = Sight::from_tailstock();
        let piece = held::piece(self.set_up, &sight);
        self.body(board);
        board.draw(LineKind::DoubleChain, Part::Old, &held::gone(self.plan, self.set_up, &sight));
        for jaw in &self.set_up.jaws {
            board.fill_paper(Fill::Pale, Part::Ledge, polygon(&self.ledge(board, jaw)));
        }
        self.fill_piece(board);
        board.draw(LineKind::Wide, Part::Piece, &piece.visible);
        for jaw in &self.set_up.jaws {
            self.ledge_edge(board, jaw);
            self.jaw(board, jaw);
        }
        self.parallels(board);
        for jaw in &self.set_up.jaws {
            self.bearing(board, jaw, &piece);
        }
        for jaw in &self.set_up.jaws {
            self.jaw_number(board, jaw);
        }
        let floor = self.floor(&sight);
        for name in &self.set_up.cuts_faces {
            // Not beyond the piece, or the letter would name a jaw.
            let surfaces = self.set_up.jaws.iter().map(|jaw| held::surface_mm(jaw) * board.ratio);
            let middles = spread(board.origin, surfaces.fold(9.0, f64::min));
            let strong = board.label(TextKind::Face, &short(name), LARGE_MM, true, &middles);
            if !strong {
                board.label(TextKind::Face, &short(name), SMALL_MM, true, &middles);
            }
        }
        for jaw in &self.set_up.jaws {
            self.surface_name(board, jaw);
        }
        board.hatch(&Region { edge: floor.iter().map(|curve| board.on_paper(curve)).collect(), beyond: None });
    }

    /// The rim and the hole, narrow: they only say where the chuck is.
    fn body(&self, board: &mut Board) {
        if self.rim {
            let rim = Curve::circle(board.origin, rim_mm(self.plan, board.ratio));
            board.stroke(LineKind::Narrow, Part::Chuck, rim);
        }
        let hole = Curve::circle(board.origin, self.plan.scene.chuck.bore_mm / 2.0 * board.ratio);
        board.stroke(LineKind::Narrow, Part::Chuck, hole);
    }

    fn fill_piece(&self, board: &mut Board) {
        board.fill(Fill::Paper, Part::Piece, &self.covers());
    }

    /// The closed edge of what the piece covers, in the view.
    fn covers(&self) -> Vec<Curve> {
        let sight = Sight::from_tailstock().through(&self.set_up.held.frame);
        let solid = &self.set_up.held.before;
        if held::lies_across(self.set_up) {
            rectangle(bounds_of_all(&held::piece(self.set_up, &Sight::from_tailstock()).visible))
        } else {
            crate::prism::cap(solid, solid.front_mm, &sight)
        }
    }

    /// Corners of a jaw's ledge on paper, from one side round its tip to the other.
    fn ledge(&self, board: &Board, jaw: &JawPlan) -> Vec<Flat> {
        let (out, across) = self.ways(jaw);
        // Across on paper runs against across in the view, y being turned over.
        let point = |[r, t]: Flat| go(go(board.origin, out, r * board.ratio), across, -t * board.ratio);
        jaw::ledge_edge(self.plan, self.set_up, jaw).into_iter().map(point).collect()
    }

    /// The edge of a ledge: broken where the piece hides it.
    fn ledge_edge(&self, board: &mut Board, jaw: &JawPlan) {
        let hides: Vec<Curve> = self.covers().iter().map(|curve| board.on_paper(curve)).collect();
        for pair in self.ledge(board, jaw).windows(2) {
            let (hidden, seen) = parted([pair[0], pair[1]], &hides);
            if let Some([from, to]) = hidden {
                board.stroke(LineKind::Dashed, Part::Ledge, Curve::line(from, to));
            }
            for [from, to] in seen {
                board.stroke(LineKind::Wide, Part::Ledge, Curve::line(from, to));
            }
        }
    }

    /// Paper direction of a jaw, y downwards, and across it.
    fn ways(&self, jaw: &JawPlan) -> (Flat, Flat) {
        let way = view_of(held::direction_rad(self.set_up, jaw));
        let out = [way[0], -way[1]];
        (out, quarter(out))
    }

    fn jaw(&self, board: &mut Board, jaw: &JawPlan) {
        let (out, across) = self.ways(jaw);
        let half = self.plan.scene.chuck.jaw_width_mm / 2.0 * board.ratio;
        let nose = nose_mm(self.plan, self.set_up, jaw) * board.ratio;
        let reach = jaw.reach_mm * board.ratio;
        let rim = rim_mm(self.plan, board.ratio);
        // As far as both corners of the jaw's end stay in the picture.
        let room = |axis: usize| (self.half - half * across[axis].abs()) / out[axis].abs().max(1e-9);
        let edge = room(0).min(room(1));
        let to_rim = (reach + JAW_SEEN_MM).max((rim * rim - half * half).max(0.0).sqrt());
        let turned = self.plan.scene.chuck.jaw_depth_mm.filter(|_| self.plan.scene.chuck.reversed);
        let whole = turned.map_or(to_rim, |depth_mm| reach + depth_mm * board.ratio);
        let end = whole.min(edge).max(reach + 1.0);
        let origin = board.origin;
        let point = |r: f64, t: f64| go(go(origin, out, r), across, t);
        // The bevel runs as far back as the jaw is seen, or until the jaw has its whole width.
        let widens = engine::holding::nose_widens(self.set_up.jaws.len());
        let bore = jaw::bore(self.plan, self.set_up, jaw, nose / board.ratio);
        let nose = bore.map_or(nose, |bore| bore.half_mm * board.ratio);
        // Counter-clockwise in the view is backwards across the jaw on paper.
        let [late, early] = bore.map_or([reach; 2], |bore| bore.edges_out_mm().map(|out| out * board.ratio));
        let front = early.min(late);
        let behind = if widens > 0.0 { ((half - nose) / widens).clamp(0.0, end - front) } else { 0.0 };
        let wide = nose + behind * widens;
        let mut corners = vec![point(early, -nose), point(early + behind, -wide), point(end, -wide), point(end, wide)];
        corners.extend([point(late + behind, wide), point(late, nose)]);
        let face = bore.map(|bore| self.arc(board, jaw, &bore, (bore.centre_mm, bore.radius_mm)));
        let mut filled = polygon(&corners);
        if let (Some(face), Some(last)) = (face, filled.last_mut()) {
            *last = face;
        }
        board.fill_paper(Fill::Pale, Part::Jaw, filled);
        let cut_off = whole > edge + 1e-9;
        let sides = [[1, 0], [0, 5], [5, 4], [2, 1], [4, 3], [3, 2]];
        let seen = if cut_off { &sides[..5] } else { &sides[..] };
        for &[a, b] in seen {
            if let (Some(face), [0, 5]) = (face, [a, b]) {
                board.stroke(LineKind::Wide, Part::Jaw, face);
            } else if gap(corners[a], corners[b]) > NO_LENGTH_MM {
                board.stroke(LineKind::Wide, Part::Jaw, Curve::line(corners[a], corners[b]));
            }
        }
        if cut_off {
            board.polyline(LineKind::Narrow, Part::Sign, &broken(corners[2], corners[3]));
        }
        if jaw.vee.is_some() {
            return self.vee(board, jaw);
        }
        if jaw.packing_mm > 0.0 {
            let inner = held::surface_mm(jaw) * board.ratio;
            let outer = reach.max(inner + PACKING_MM);
            let half = nose.min(plate_mm(self.plan, self.set_up, jaw) * board.ratio);
            let corners = [point(inner, -half), point(outer, -half), point(outer, half), point(inner, half)];
            board.plate(LineKind::Narrow, Fill::Dark, Part::Packing, &corners);
        }
    }

    /// An arc before a bored jaw, from its clockwise edge in the view to the other.
    fn arc(&self, board: &Board, jaw: &JawPlan, bore: &Bore, ([out_mm, aside_mm], radius_mm): (Flat, f64)) -> Curve {
        let (out, across) = self.ways(jaw);
        let centre_mm = go(go(board.origin, out, out_mm * board.ratio), across, -aside_mm * board.ratio);
        let half = |way: Flat| way.map(|part| part * radius_mm * board.ratio);
        let [from_rad, to_rad] = bore.ends_rad(radius_mm).map(|angle| -angle);
        Curve::Arc(Arc { centre_mm, halves_mm: [half(out), half(across)], from_rad, to_rad })
    }

    /// The block between jaw and work: its profile where the groove runs along the spindle, else its top.
    fn vee(&self, board: &mut Board, jaw: &JawPlan) {
        let (Some(vee), Some((lips, back))) = (&jaw.vee, vee::stands_mm(jaw)) else { return };
        let (out, across) = self.ways(jaw);
        // Across on paper runs against across in the view, y being turned over.
        let point = |[r, t]: Flat| go(go(board.origin, out, r * board.ratio), across, -t * board.ratio);
        let half = vee.length_mm / 2.0;
        let plates: Vec<[Flat; 4]> = if vee.along_spindle {
            vee::halves(jaw).into_iter().map(|half| half.map(point)).collect()
        } else {
            vec![[[lips, -half], [back, -half], [back, half], [lips, half]].map(point)]
        };
        let bears: Vec<[Flat; 2]> = if vee.along_spindle {
            vee::flanks(jaw).into_iter().map(|ends| ends.map(point)).collect()
        } else {
            Vec::new()
        };
        for plate in plates {
            board.plate(LineKind::Narrow, Fill::Dark, Part::Vee, &plate);
        }
        for [from, to] in bears {
            board.stroke(LineKind::Thick, Part::Bearing, Curve::line(from, to));
        }
    }

    fn parallels(&self, board: &mut Board) {
        let Some(axis) = held::parallels_axis(self.set_up) else { return };
        let held = &self.set_up.held;
        let beside = self.plan.scene.chuck.jaw_width_mm / 2.0;
        let along = view_of(axis as f64 * FRAC_PI_2);
        let along = [along[0], -along[1]];
        let half = (held.parallel_length_mm / 2.0 * board.ratio).min(self.half);
        for side in [-1.0, 1.0] {
            let point = |s: f64, off: f64| go(go(board.origin, along, s), quarter(along), side * off * board.ratio);
            let (near, far) = (beside, beside + held.parallel_width_mm);
            let corners =
                [point(-half, near), point(half, near), point(half, far), point(-half, far), point(-half, near)];
            board.polyline(LineKind::Dashed, Part::Parallel, &corners);
        }
    }

    fn bearing(&self, board: &mut Board, jaw: &JawPlan, piece: &crate::prism::Edges) {
        if jaw.vee.is_some() {
            return;
        }
        let (out, across) = self.ways(jaw);
        let half = nose_mm(self.plan, self.set_up, jaw);
        if let (ContactKind::Bored, Some(bore)) = (jaw.contact, jaw::bore(self.plan, self.set_up, jaw, half)) {
            let radius = bore.work_radius_mm - INSIDE_MM / board.ratio;
            let arc = self.arc(board, jaw, &bore, (bore.work_centre_mm(jaw), radius));
            return board.stroke(LineKind::Thick, Part::Bearing, arc);
        }
        let out_mm = held::surface_mm(jaw);
        let towards = view_of(held::direction_rad(self.set_up, jaw));
        // Across on paper runs against across in the view, y being turned over.
        let stretch = held::outermost(piece, towards, out_mm).map(|(a, b)| (-b, -a));
        let surface = go(board.origin, out, out_mm * board.ratio);
        let point = |t: f64| go(surface, across, t);
        let inside = |t: f64| go(point(t), out, -INSIDE_MM);
        let (from, to) = match stretch {
            Some((least, most)) => (least.max(-half) * board.ratio, most.min(half) * board.ratio),
            None => {
                let at = -held::touches_at(self.set_up, jaw) * board.ratio;
                (at - TOUCH_MM, at + TOUCH_MM)
            }
        };
        if to > from {
            board.stroke(LineKind::Thick, Part::Bearing, Curve::line(inside(from), inside(to)));
        }
        if let (ContactKind::LineAcross, Some((least, most))) = (jaw.contact, stretch) {
            let (least, most) = (least * board.ratio - 2.5, most * board.ratio + 2.5);
            board.stroke(LineKind::Chain, Part::Centre, Curve::line(point(least), point(most)));
        }
    }

    fn jaw_number(&self, board: &mut Board, jaw: &JawPlan) {
        let (out, across) = self.ways(jaw);
        let reach = jaw.reach_mm * board.ratio;
        let place = |r: f64, t: f64| go(go(board.origin, out, r), across, t);
        let beside = self.plan.scene.chuck.jaw_width_mm / 2.0 * board.ratio + 2.8;
        let mut places = Vec::new();
        for t in [0.0, beside, -beside, beside + 3.0, -beside - 3.0] {
            places.extend((0..24).map(|step| place(reach + 3.4 + 0.4 * f64::from(step), t)));
        }
        board.label(TextKind::Jaw, &jaw.jaw.to_string(), SMALL_MM, true, &places);
        if let Some(middle) = board.free_square(crate::board::JAW_SIGN_MM + 0.2, &places) {
            board.jaw_sign(middle, jaw.kept);
        }
    }

    fn surface_name(&self, board: &mut Board, jaw: &JawPlan) {
        let (out, across) = self.ways(jaw);
        let surface = held::surface_mm(jaw) * board.ratio;
        // Before its own jaw and on its own side of the axis, or nowhere: the words below name it too.
        let half = (self.plan.scene.chuck.jaw_width_mm / 2.0 * board.ratio).max(3.0);
        let mut middles = Vec::new();
        for back in [3.0, 3.8, 4.6, 5.4].into_iter().filter(|back| back + 1.0 < surface) {
            for aside in [0.0, 2.0, -2.0, 4.0, -4.0].into_iter().filter(|aside: &f64| aside.abs() <= half) {
                middles.push(go(go(board.origin, out, surface - back), across, aside));
            }
        }
        board.label(TextKind::Face, &short(&jaw.bears_on), SMALL_MM, false, &middles);
    }

    /// The edge of the face that is cut, in the view.
    fn floor(&self, sight: &Sight) -> Vec<Curve> {
        let held = &self.set_up.held;
        let seen = sight.through(&held.frame);
        let face = cut_face(self.plan, self.set_up).and_then(|face| face_of(&held.after, face));
        match face {
            Some(Shown::End(z_mm)) => crate::prism::cap(&held.after, z_mm, &seen),
            Some(Shown::Side([from, to])) => crate::pictorial::side_edge(from, to, &held.after, &seen),
            None => Vec::new(),
        }
    }
}

/// Half the width of a jaw's nose, mm of the work: bevelled where its neighbours stand near.
fn nose_mm(plan: &Plan, set_up: &SetUp, jaw: &JawPlan) -> f64 {
    half_between(plan, set_up, jaw, |jaw| jaw.reach_mm)
}

/// Half the width of packing that its neighbours leave room for, mm of the work.
fn plate_mm(plan: &Plan, set_up: &SetUp, jaw: &JawPlan) -> f64 {
    half_between(plan, set_up, jaw, held::surface_mm)
}

fn half_between(plan: &Plan, set_up: &SetUp, jaw: &JawPlan, out_mm: fn(&JawPlan) -> f64) -> f64 {
    let all: Vec<f64> = set_up.jaws.iter().map(out_mm).collect();
    engine::holding::nose_half_mm(plan.scene.chuck.jaw_width_mm, &all, usize::from(jaw.jaw.saturating_sub(1)))
}

fn gap(one: Flat, other: Flat) -> f64 {
    (one[0] - other[0]).hypot(one[1] - other[1])
}

/// The face that is cut in a set-up.
pub fn cut_face<'a>(plan: &'a Plan, set_up: &SetUp) -> Option<&'a FaceShape> {
    let name = set_up.cuts_faces.last()?;
    plan.scene.faces.iter().find(|face| face.name == *name)
}

/// Direction in the view from the tailstock, y upwards, of a direction of the set-up: X upwards, Y to the left.
fn view_of(angle_rad: f64) -> Flat {
    [-angle_rad.sin(), angle_rad.cos()]
}

/// Places for a letter: the middle, then ever farther from it.
pub fn spread(middle: Flat, most_mm: f64) -> Vec<Flat> {
    let mut places = vec![middle];
    for ring in 1..=6 {
        let r = most_mm * f64::from(ring) / 6.0;
        places.extend((0..12).map(|at| go(middle, crate::vector::unit(f64::from(at) * FRAC_PI_2 / 3.0), r)));
    }
    places
}

/// The four sides of a box.
pub fn rectangle([left, top, right, bottom]: [f64; 4]) -> Vec<Curve> {
    polygon(&[[left, top], [right, top], [right, bottom], [left, bottom]])
}

/// The sides of a polygon.
pub fn polygon(corners: &[Flat]) -> Vec<Curve> {
    (0..corners.len()).map(|at| Curve::line(corners[at], corners[(at + 1) % corners.len()])).collect()
}

/// A break line: straight with a jag in its middle.
pub fn broken(from: Flat, to: Flat) -> Vec<Flat> {
    let along = [to[0] - from[0], to[1] - from[1]];
    let length = dot(along, along).sqrt().max(1e-9);
    let side = quarter([along[0] / length, along[1] / length]);
    let at = |share: f64, off: f64| go(go(from, along, share), side, off);
    let jag = (1.2 / length).min(0.2);
    vec![from, at(0.5 - jag, 0.0), at(0.5 - jag / 2.0, 1.2), at(0.5 + jag / 2.0, -1.2), at(0.5 + jag, 0.0), to]
}
