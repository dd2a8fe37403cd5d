//! The set-up from the side: a section along the spindle through two opposed jaws, the tailstock on the right.

use engine::plan::{JawPlan, Plan, SetUp};

use crate::board::{Board, KeyLine, key_height_mm, key_width_mm};
use crate::chuck::{INSIDE_MM, PACKING_MM, TOUCH_MM, broken, cut_face, polygon, rectangle, spread};
use crate::curve::bounds_of_all;
use crate::dimension::{Measured, Place, ROW_MM, Way, dimension, over_line_mm, past_line_mm, place_of, reaches_past};
use crate::figure::{Arc, Curve, Figure, Fill, LineKind, Part, TextKind};
use crate::hatch::Region;
use crate::held;
use crate::jaw;
use crate::lettering::{SMALL_MM, length, short, width_mm};
use crate::prism::{Edges, cap};
use crate::scale::Scale;
use crate::sight::Sight;
use crate::vector::{Flat, go};
use crate::vee;

/// How much of a jaw is seen behind its face, mm.
const JAW_SEEN_MM: f64 = 7.5;
/// Numbers give way where a piece would come out less wide than this, mm.
const SMALL_PIECE_MM: f64 = 15.0;
/// How much of the chuck's body is seen behind its face, mm.
const BODY_SEEN_MM: f64 = 5.0;
/// How much of the tool is seen, mm.
const TOOL_SEEN_MM: f64 = 7.5;
/// Length of the cutting edge that is drawn, mm.
const TOOL_EDGE_MM: f64 = 5.0;
/// Space between tool and work, mm.
const TOOL_OFF_MM: f64 = 1.5;
/// Angle of the tool's other edge to the new face, of which the plan knows nothing, rad.
const OTHER_EDGE_RAD: f64 = 0.17;
/// Name of the line, whole and short.
const WIDEST: [&str; 2] = ["widest line", "widest"];
/// Space round the picture, mm.
const EDGE_MM: f64 = 1.0;
/// How far a break line reaches past its end, mm.
const BREAK_MM: f64 = 1.2;
/// The band of what may stand out: how far below the line of the most, and how high, mm.
const BAND_MM: [f64; 2] = [0.5, 0.8];
/// From the picture to the first dimension line above it, mm.
const FIRST_ROW_MM: f64 = 0.8;

/// A section along the spindle, in at most `room_mm` of paper; one scale for all set-ups of the plan.
pub fn side_view(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Figure {
    side_view_at_most(plan, set_up, room_mm, Scale::LARGEST)
}

/// The same, at no larger scale than this.
pub fn side_view_at_most(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2], most: Scale) -> Figure {
    let longest = Scale { paper: 1, real: 10_000 };
    let views: Vec<Side> = plan.set_ups.iter().chain([set_up]).map(|each| Side::new(plan, each)).collect();
    let fits = |said: Said| {
        let keys: Vec<Vec<KeyLine>> = views.iter().map(|view| view.key(room_mm[0], longest, said)).collect();
        Scale::largest_up_to(most, |ratio| {
            views.iter().zip(&keys).all(|(view, key)| {
                let [width, height] = view.lay(ratio, key, said).size_mm;
                width <= room_mm[0] && height <= room_mm[1]
            })
        })
    };
    let wide_mm = views.iter().map(|view| view.bounds[3] - view.bounds[1]).fold(0.0, f64::max);
    let (said, scale) = chosen([Said::All, Said::Numbers, Said::Few].map(|said| (said, fits(said))), wide_mm);
    let view = Side::new(plan, set_up);
    let key = view.key(room_mm[0], scale, said);
    let paper = view.lay(scale.ratio(), &key, said);
    let mut board = Board::new(paper.size_mm, paper.origin, scale.ratio());
    board.room[3] = paper.size_mm[1] - key_height_mm(&key) - 1.0;
    view.draw(&mut board, &paper, said);
    board.key(0.5, paper.size_mm[1] - key_height_mm(&key), &key);
    Figure {
        name: format!("side-{}", set_up.number),
        size_mm: paper.size_mm,
        title: format!("Set-up {}: section through {}", set_up.number, view.jaws_words()),
        says: view.says(),
        scale,
        marks: board.into_marks(),
    }
}

/// How much is said in and below the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Said {
    /// Every number and every word.
    All,
    /// Every number.
    Numbers,
    /// What comes off, what stands out, what is held.
    Few,
}

/// Words give way where the picture comes out larger for it, numbers where a piece this wide would come out small.
fn chosen([all, numbers, few]: [(Said, Scale); 3], wide_mm: f64) -> (Said, Scale) {
    let with_numbers = if numbers.1.ratio() > all.1.ratio() { numbers } else { all };
    let small = wide_mm * with_numbers.1.ratio() < SMALL_PIECE_MM;
    if small && few.1.ratio() > with_numbers.1.ratio() { few } else { with_numbers }
}

/// A dimension of the section: from, to along the spindle, mm above the jaw fronts.
struct Row {
    from_mm: f64,
    to_mm: f64,
    says: String,
    /// Where the number stands that does not fit over its line.
    beyond: Place,
    /// Whether there is something at its ends to which extension lines lead.
    shown: [bool; 2],
}

impl Row {
    fn place(&self, ratio: f64) -> Place {
        place_of(self.value_mm() * ratio, &self.says, self.beyond)
    }

    fn value_mm(&self) -> f64 {
        self.to_mm - self.from_mm
    }

    /// Where it begins and ends on paper, from the jaw fronts to the left and to the right, mm.
    fn reach(&self, ratio: f64) -> [f64; 2] {
        let [before, after] = reaches_past(self.value_mm() * ratio, &self.says, self.place(ratio));
        [before - self.from_mm * ratio, after + self.to_mm * ratio]
    }
}

/// What is seen, in mm of the real thing: z to the right, u upwards.
struct Side<'a> {
    plan: &'a Plan,
    set_up: &'a SetUp,
    sight: Sight,
    piece: Edges,
    /// Box of the piece: least z, least u, most z, most u.
    bounds: [f64; 4],
    /// The jaw above and the jaw below.
    jaws: [Option<&'a JawPlan>; 2],
    /// Axis of the set-up that points up or down, 0: X, 1: Y.
    axis: usize,
    /// Widest line of the round, where jaws of this section bear on one.
    widest_mm: Option<f64>,
    top_mm: f64,
    floor_mm: f64,
}

/// Where things lie on paper.
struct Paper {
    size_mm: [f64; 2],
    origin: Flat,
    /// Above the axis: the upper edge of the picture; below it: the lower one.
    up: f64,
    down: f64,
}

impl<'a> Side<'a> {
    fn new(plan: &'a Plan, set_up: &'a SetUp) -> Side<'a> {
        let along_bar = set_up.held.frame.turn([0.0, 0.0, 1.0]);
        let axis = usize::from(held::lies_across(set_up) && along_bar[0].abs() > 0.5);
        // X upwards, or against Y: both times the tailstock on the right and the picture right-handed.
        let up = if axis == 0 { [1.0, 0.0, 0.0] } else { [0.0, -1.0, 0.0] };
        let sight = Sight::of_part([0.0, 0.0, 1.0], up);
        let piece = held::piece(set_up, &sight);
        let bounds = bounds_of_all(piece.visible.iter());
        let bounds = if bounds[0] > bounds[2] { [0.0; 4] } else { bounds };
        let jaws = opposed(set_up, axis);
        let widest_mm = jaws.iter().flatten().find_map(|jaw| held::widest_line_mm(set_up, jaw));
        let (top_mm, floor_mm) = held::top_and_floor_mm(set_up);
        Side { plan, set_up, sight, piece, bounds, jaws, axis, widest_mm, top_mm, floor_mm }
    }

    fn jaws_words(&self) -> String {
        let numbers: Vec<String> = self.jaws.iter().flatten().map(|jaw| jaw.jaw.to_string()).collect();
        match numbers.as_slice() {
            [] => "the chuck".to_string(),
            [one] => format!("jaw {one}"),
            [most @ .., last] => format!("jaws {} and {last}", most.join(", ")),
        }
    }

    fn key(&self, room_mm: f64, scale: Scale, said: Said) -> Vec<KeyLine> {
        let whole = said == Said::All;
        let room = room_mm - 1.0;
        let tool = &self.set_up.held.tool;
        let packed: Vec<&&JawPlan> = self.jaws.iter().flatten().filter(|jaw| jaw.packing_mm > 0.0).collect();
        let size = |jaw: &JawPlan| engine::quantity::show::on_hand(jaw.packing_mm, self.plan.units);
        let packing = match packed.as_slice() {
            [] => None,
            [one] => Some(format!("dark: packing {} at jaw {}", size(one), one.jaw)),
            [one, other, ..] => Some(format!("dark: packing {} at jaws {} and {}", size(one), one.jaw, other.jaw)),
        };
        let mut lines = Vec::new();
        if whole {
            lines.push(format!("behind: {}", held::seat_words(self.plan, self.set_up)));
        }
        lines.extend(packing);
        lines.extend(jaw::words(self.plan, self.set_up));
        // Where neither words nor a size name them, the key does.
        if said == Said::Few {
            lines.extend(self.parallels_words());
        }
        if whole && self.widest_mm.is_some() {
            lines.push("past: what the jaws reach past the widest line".to_string());
        }
        if whole {
            lines.push(format!("tool: {}, cutting edge angle {:.0}°", tool.name, tool.cutting_edge_angle_deg));
        }
        lines.push(format!("section through {}; scale\u{a0}{}", self.jaws_words(), scale.name()));
        lines.iter().flat_map(|says| KeyLine::words(says, room)).collect()
    }

    fn parallels_words(&self) -> Option<String> {
        let seat = self.set_up.seat.as_ref().filter(|seat| seat.packing_mm > 0.0)?;
        let height = engine::quantity::show::on_hand(seat.packing_mm, self.plan.units);
        Some(format!("dark, behind: parallels {}", crate::lettering::unbroken(&height)))
    }

    fn says(&self) -> String {
        let units = self.plan.units;
        let out = &self.set_up.stick_out;
        let widest = match self.widest_mm {
            Some(at) => format!(" The jaws reach {} past the widest line of the round.", length(-at, units)),
            None => String::new(),
        };
        let jaws = jaw::words(self.plan, self.set_up);
        let jaws = if jaws.is_empty() { String::new() } else { format!(" {}.", jaws.join("; ")) };
        format!(
            "Section along the spindle through {}, the tailstock on the right. The piece sits {} deep in the jaws and \
             stands out {}; {} at least, {} at most. {} comes off; then the face is {} in front of the jaws.{widest} \
             Behind: {}.{jaws}",
            self.jaws_words(),
            length(self.set_up.bite_mm, units),
            length(out.set_mm, units),
            length(out.least_mm, units),
            length(out.most_mm, units),
            length(self.top_mm - self.floor_mm, units),
            length(self.floor_mm, units),
            held::seat_words(self.plan, self.set_up)
        )
    }

    /// Dimensions above the picture, from the inner one outwards.
    fn rows_above(&self, said: Said) -> Vec<Row> {
        let units = self.plan.units;
        let out = &self.set_up.stick_out;
        let row = |to_mm: f64, says: String, at_end: bool| Row {
            from_mm: 0.0,
            to_mm,
            says,
            beyond: Place::Before,
            shown: [true, at_end],
        };
        let off = Row {
            from_mm: self.floor_mm,
            to_mm: self.top_mm,
            says: format!("cut {}", length(self.top_mm - self.floor_mm, units)),
            beyond: Place::After,
            shown: [true, true],
        };
        let stick_out = row(out.set_mm, format!("stick-out {}", length(out.set_mm, units)), true);
        if said == Said::Few {
            return vec![off, stick_out];
        }
        vec![
            off,
            row(self.floor_mm, format!("clears {}", length(self.floor_mm, units)), true),
            stick_out,
            row(out.least_mm, format!("least {}", length(out.least_mm, units)), false),
            row(out.most_mm, format!("most {}", length(out.most_mm, units)), false),
        ]
    }

    /// Dimensions below the picture, from the inner one outwards.
    fn rows_below(&self, said: Said) -> Vec<Row> {
        let units = self.plan.units;
        let row = |from_mm: f64, to_mm: f64, says: String| Row {
            from_mm,
            to_mm,
            says,
            beyond: Place::After,
            shown: [true, true],
        };
        let mut rows = Vec::new();
        if let Some(at) = self.widest_mm.filter(|&at| at < 0.0 && said != Said::Few) {
            rows.push(row(at, 0.0, format!("past {}", length(-at, units))));
        }
        let bite = self.set_up.bite_mm;
        rows.push(row(-bite, 0.0, format!("bite {}", length(bite, units))));
        if let Some(seat) = self.set_up.seat.as_ref().filter(|seat| seat.packing_mm > 0.0 && said != Said::Few) {
            let height = seat.packing_mm;
            rows.push(row(-bite - height, -bite, format!("parallels {}", length(height, units))));
        }
        rows
    }

    fn jaw_length_mm(&self) -> f64 {
        self.plan.scene.chuck.jaw_length_mm
    }

    fn lay(&self, ratio: f64, key: &[KeyLine], said: Said) -> Paper {
        let (above, below) = (self.rows_above(said), self.rows_below(said));
        let rows = above.iter().chain(&below).map(|row| row.reach(ratio));
        let [before, after] = rows.fold([0.0_f64; 2], |most, reach| [most[0].max(reach[0]), most[1].max(reach[1])]);
        let left = [before, self.jaw_length_mm() * ratio + BODY_SEEN_MM, -self.bounds[0] * ratio + 2.0]
            .into_iter()
            .fold(0.0, f64::max)
            + EDGE_MM;
        let tool = self.floor_mm * ratio + TOOL_EDGE_MM + 5.0;
        let right = after.max(self.top_mm.max(self.set_up.stick_out.most_mm) * ratio + 5.0).max(tool) + EDGE_MM;
        let reach = |at: usize| self.jaws[at].map_or(0.0, |jaw| jaw.reach_mm * ratio + JAW_SEEN_MM);
        let up = reach(0).max(self.bounds[3] * ratio + 2.0);
        let down = (reach(1) + BREAK_MM).max(self.tool_tip(ratio) * ratio + TOOL_SEEN_MM + 1.0);
        let rows = EDGE_MM + over_line_mm() + FIRST_ROW_MM + (above.len() - 1) as f64 * ROW_MM;
        let high = rows + up + down + over_line_mm() + (below.len() - 1) as f64 * ROW_MM + past_line_mm();
        Paper {
            size_mm: [(left + right).max(key_width_mm(key) + 1.0), high + key_height_mm(key) + 1.5],
            origin: [left, rows + up],
            up,
            down,
        }
    }

    /// How far below the axis the tool's nose stands, mm of the real thing.
    fn tool_tip(&self, ratio: f64) -> f64 {
        let angle = self.set_up.held.tool.cutting_edge_angle_deg.to_radians();
        -self.bounds[1] + (TOOL_OFF_MM + (TOOL_EDGE_MM * angle.cos()).max(0.0)) / ratio
    }

    fn draw(&self, board: &mut Board, paper: &Paper, said: Said) {
        self.body(board, paper);
        self.parallels(board, paper);
        self.old(board, paper);
        self.fill_piece(board);
        board.draw(LineKind::Wide, Part::Piece, &self.piece.visible);
        self.floor(board);
        for at in 0..2 {
            if let Some(jaw) = self.jaws[at] {
                self.jaw(board, jaw, if at == 0 { 1.0 } else { -1.0 });
            }
        }
        self.axis(board);
        self.seat(board);
        self.tool(board, paper);
        self.dimensions(board, paper, said);
        self.letters(board);
        self.hatch(board);
    }

    fn body(&self, board: &mut Board, paper: &Paper) {
        let face = -self.jaw_length_mm() * board.ratio;
        let left = board.origin[0];
        let x = |z: f64| left + z;
        let (top, bottom) = (board.origin[1] - paper.up, board.origin[1] + paper.down_of_jaws(self, board.ratio));
        let hole = self.plan.scene.chuck.bore_mm / 2.0 * board.ratio;
        let behind = face - BODY_SEEN_MM;
        for (from, to) in [(top, board.origin[1] - hole), (board.origin[1] + hole, bottom)] {
            if to > from {
                let corners = [[x(behind), from], [x(face), from], [x(face), to], [x(behind), to]];
                board.fill_paper(Fill::Pale, Part::Chuck, polygon(&corners));
                board.polyline(LineKind::Narrow, Part::Chuck, &[corners[1], corners[2]]);
                let inner = if from == top { [corners[3], corners[2]] } else { [corners[0], corners[1]] };
                board.polyline(LineKind::Narrow, Part::Chuck, &inner);
            }
        }
    }

    fn parallels(&self, board: &mut Board, paper: &Paper) {
        let Some(seat) = self.set_up.seat.as_ref().filter(|seat| seat.packing_mm > 0.0) else { return };
        let (near, far) = (-self.set_up.bite_mm, -self.set_up.bite_mm - seat.packing_mm);
        let beside = self.plan.scene.chuck.jaw_width_mm / 2.0;
        let width = self.set_up.held.parallel_width_mm;
        let half = self.set_up.held.parallel_length_mm / 2.0;
        let stretches = match held::parallels_axis(self.set_up) {
            Some(axis) if axis == self.axis => {
                let most = |room: f64| half.min((room - 1.0) / board.ratio);
                vec![(-most(paper.down_of_jaws(self, board.ratio)), most(paper.up))]
            }
            Some(_) => vec![(-beside - width, -beside), (beside, beside + width)],
            // Which way they lie is not said: they are behind the piece.
            None => vec![(self.bounds[1], self.bounds[3])],
        };
        for (from, to) in stretches {
            let corners = [[far, from], [near, from], [near, to], [far, to]].map(|corner| board.at(corner));
            board.plate(LineKind::Wide, Fill::Dark, Part::Parallel, &corners);
        }
    }

    fn old(&self, board: &mut Board, paper: &Paper) {
        let (top, bottom) = (board.origin[1] - paper.up, board.origin[1] + paper.down);
        let gone = held::gone(self.plan, self.set_up, &self.sight);
        for curve in gone {
            let on_paper = board.on_paper(&curve);
            let bounds = on_paper.bounds();
            let inside = bounds[0] >= 0.0 && bounds[2] <= paper.size_mm[0] && bounds[1] >= top && bounds[3] <= bottom;
            if inside {
                board.stroke(LineKind::DoubleChain, Part::Old, on_paper);
            }
        }
    }

    fn fill_piece(&self, board: &mut Board) {
        board.fill(Fill::Paper, Part::Piece, &self.outline());
    }

    /// The closed edge of the piece as it is seen.
    fn outline(&self) -> Vec<Curve> {
        if held::lies_across(self.set_up) {
            let held = &self.set_up.held;
            cap(&held.before, held.before.front_mm, &self.sight.through(&held.frame))
        } else {
            rectangle(self.bounds)
        }
    }

    /// Where the face will be.
    fn floor(&self, board: &mut Board) {
        let crossings =
            self.outline().iter().flat_map(|curve| curve.crossings([1.0, 0.0], self.floor_mm)).collect::<Vec<_>>();
        let least = crossings.iter().map(|point| point[1]).fold(f64::MAX, f64::min);
        let most = crossings.iter().map(|point| point[1]).fold(f64::MIN, f64::max);
        if most > least {
            board.draw(LineKind::Wide, Part::Piece, &[Curve::line([self.floor_mm, least], [self.floor_mm, most])]);
        }
    }

    fn jaw(&self, board: &mut Board, jaw: &JawPlan, way: f64) {
        let r = board.ratio;
        let (face, reach) = (-self.jaw_length_mm(), jaw.reach_mm);
        let end = reach + JAW_SEEN_MM / r;
        let mut corners = vec![[0.0, way * end], [0.0, way * reach]];
        if let Some((tip, _, below)) = jaw::ledge_mm(self.plan, jaw) {
            corners.extend([[-below, way * reach], [-below, way * tip], [face, way * tip]]);
        } else {
            corners.push([face, way * reach]);
        }
        corners.push([face, way * end]);
        let corners: Vec<Flat> = corners.into_iter().map(|corner| board.at(corner)).collect();
        board.fill_paper(Fill::Pale, Part::Jaw, polygon(&corners));
        board.polyline(LineKind::Wide, Part::Jaw, &corners);
        board.polyline(LineKind::Narrow, Part::Sign, &broken(corners[corners.len() - 1], corners[0]));
        if jaw.vee.is_some() {
            return self.vee(board, jaw, way);
        }
        if jaw.packing_mm > 0.0 {
            let surface = held::surface_mm(jaw);
            let outer = reach.max(surface + PACKING_MM / r);
            let ledge = jaw::ledge_mm(self.plan, jaw).map_or(face, |(_, _, below)| -below);
            let back = ledge.max(self.bounds[0]);
            let corners = [[0.0, way * surface], [0.0, way * outer], [back, way * outer], [back, way * surface]];
            board.plate(LineKind::Narrow, Fill::Dark, Part::Packing, &corners.map(|corner| board.at(corner)));
        }
        self.bearing(board, jaw, way);
    }

    /// The block between jaw and work: its profile where the groove runs across the jaw, else cut along the groove.
    fn vee(&self, board: &mut Board, jaw: &JawPlan, way: f64) {
        let Some(vee) = &jaw.vee else { return };
        let place = |[r, z]: Flat| board.at([z, way * r]);
        let long = vee.length_mm.min(self.jaw_length_mm());
        let plates: Vec<[Flat; 4]> = if vee.along_spindle {
            vec![[[vee.groove_mm, 0.0], [jaw.reach_mm, 0.0], [jaw.reach_mm, -long], [vee.groove_mm, -long]].map(place)]
        } else {
            vee::halves(jaw).into_iter().map(|half| half.map(place)).collect()
        };
        let bears: Vec<[Flat; 2]> = if vee.along_spindle {
            Vec::new()
        } else {
            vee::flanks(jaw).into_iter().map(|ends| ends.map(place)).collect()
        };
        for plate in plates {
            board.plate(LineKind::Narrow, Fill::Dark, Part::Vee, &plate);
        }
        for [from, to] in bears {
            board.stroke(LineKind::Thick, Part::Bearing, Curve::line(from, to));
        }
    }

    fn bearing(&self, board: &mut Board, jaw: &JawPlan, way: f64) {
        let surface = held::surface_mm(jaw);
        let touch = TOUCH_MM / board.ratio;
        // Across upwards is against z, across downwards along it.
        let stretch = match held::widest_line_mm(self.set_up, jaw) {
            Some(at) => Some((at - touch, at + touch)),
            None if held::lies_across(self.set_up) => held::outermost(&self.piece, [0.0, way], surface)
                .map(|(a, b)| if way > 0.0 { (-b, -a) } else { (a, b) }),
            None => Some((self.bounds[0], self.bounds[2])),
        };
        if let Some((least, most)) = stretch {
            let (from, to) = (least.max(-self.jaw_length_mm()), most.min(0.0));
            if to > from {
                let at = way * (surface - INSIDE_MM / board.ratio);
                board.draw(LineKind::Thick, Part::Bearing, &[Curve::line([from, at], [to, at])]);
            }
        }
    }

    /// The spindle's axis, and the widest line of the round.
    fn axis(&self, board: &mut Board) {
        let past = 3.0 / board.ratio;
        let from = (-self.jaw_length_mm()).min(self.bounds[0]) - past;
        board.draw(LineKind::Chain, Part::Centre, &[Curve::line([from, 0.0], [self.top_mm + past, 0.0])]);
        if let Some(at) = self.widest_mm {
            let (low, high) = (self.bounds[1] - past, self.bounds[3] + past);
            board.draw(LineKind::Chain, Part::Centre, &[Curve::line([at, low], [at, high])]);
        }
    }

    /// Where the piece bears on what is behind it.
    fn seat(&self, board: &mut Board) {
        let Some(seat) = &self.set_up.seat else { return };
        let back = self.bounds[0];
        let whole = if held::lies_across(self.set_up) {
            held::outermost(&self.piece, [-1.0, 0.0], -back).map(|(a, b)| (-b, -a))
        } else {
            Some((self.bounds[1], self.bounds[3]))
        };
        let touch = TOUCH_MM / board.ratio;
        let (low, high) = whole.unwrap_or_else(|| {
            let points = self.outline();
            let at =
                points.iter().flat_map(|curve| curve.crossings([1.0, 0.0], back + 1e-6)).map(|point| point[1]).next();
            let at = at.unwrap_or(0.0);
            (at - touch, at + touch)
        });
        let beside = self.plan.scene.chuck.jaw_width_mm / 2.0;
        let width = self.set_up.held.parallel_width_mm;
        let hole = self.plan.scene.chuck.bore_mm / 2.0;
        let bears = match held::parallels_axis(self.set_up) {
            Some(axis) if axis == self.axis => vec![(low, high)],
            Some(_) => vec![(low.max(-beside - width), high.min(-beside)), (low.max(beside), high.min(beside + width))],
            None if seat.packing_mm > 0.0 => vec![(low, high)],
            None if seat.on == "jaw step" => self.on_ledges((low, high)),
            None if seat.stop_mm.is_some() => vec![(low.max(-touch), high.min(touch))],
            None => vec![(low, high.min(-hole)), (low.max(hole), high)],
        };
        for (from, to) in bears.into_iter().filter(|(from, to)| to > from) {
            let at = back + INSIDE_MM / board.ratio;
            board.draw(LineKind::Thick, Part::Bearing, &[Curve::line([at, from], [at, to])]);
        }
    }

    /// What of the flat behind, so far down and up, lies on the ledges of the jaws of this section; where it lies on
    /// none, on those of the jaws before and behind it.
    fn on_ledges(&self, (low, high): (f64, f64)) -> Vec<(f64, f64)> {
        let tip = |at: usize| self.jaws[at].and_then(|jaw| jaw::ledge_mm(self.plan, jaw)).map(|(tip, ..)| tip);
        let [above, below] = [tip(0).map(|tip| (tip.max(low), high)), tip(1).map(|tip| (low, high.min(-tip)))];
        let on: Vec<(f64, f64)> = [above, below].into_iter().flatten().filter(|(from, to)| to > from).collect();
        let beside = self.plan.scene.chuck.jaw_width_mm / 2.0;
        if on.is_empty() { vec![(low.max(-beside), high.min(beside))] } else { on }
    }

    /// The tool under the work, ready to feed upwards to the axis; only its nose and its cutting edge are true.
    fn tool(&self, board: &mut Board, paper: &Paper) {
        let tool = &self.set_up.held.tool;
        let r = board.ratio;
        let angle = tool.cutting_edge_angle_deg.to_radians();
        let nose_mm = tool.nose_mm.clamp(0.0, 0.3 * TOOL_EDGE_MM / r);
        // Directions on paper, y downwards: the edge from the nose outwards, the other edge back along the new face.
        let (edge, other) = ([angle.sin(), -angle.cos()], [OTHER_EDGE_RAD.sin(), OTHER_EDGE_RAD.cos()]);
        let tip = board.at([self.floor_mm, -self.tool_tip(r)]);
        let bottom = board.origin[1] + paper.down - BREAK_MM;
        // The nose is round; it touches the line of the new face.
        let radius = nose_mm * r;
        let centre = [tip[0] + radius, tip[1]];
        let touch = |way: Flat, side: f64| go(centre, [way[1] * side, -way[0] * side], radius);
        let (a, b) = (touch(edge, 1.0), touch(other, -1.0));
        let far = go(a, edge, TOOL_EDGE_MM);
        let end = go(b, other, (bottom - b[1]) / other[1].max(0.1));
        let corner = [far[0].max(end[0] + 3.0), bottom];
        let from = (a[1] - centre[1]).atan2(a[0] - centre[0]);
        let to = (b[1] - centre[1]).atan2(b[0] - centre[0]);
        let sweep = crate::vector::turn(to, from);
        let halves_mm = [[radius, 0.0], [0.0, radius]];
        let nose = Curve::Arc(Arc { centre_mm: centre, halves_mm, from_rad: to, to_rad: to + sweep });
        let sides = [nose, Curve::line(a, far), Curve::line(far, [far[0], bottom])];
        let outline: Vec<Curve> = if corner[0] > far[0] {
            vec![nose, Curve::line(a, far), Curve::line(far, corner), Curve::line(corner, end), Curve::line(end, b)]
        } else {
            let mut all = sides.to_vec();
            all.extend([Curve::line([far[0], bottom], end), Curve::line(end, b)]);
            all
        };
        board.fill_paper(Fill::Pale, Part::Tool, outline.clone());
        let last = outline.len() - 2;
        for (at, curve) in outline.iter().enumerate() {
            if at != last {
                board.stroke(LineKind::Wide, Part::Tool, *curve);
            }
        }
        board.polyline(LineKind::Narrow, Part::Sign, &broken(outline[last].start(), outline[last].end()));
    }

    fn dimensions(&self, board: &mut Board, paper: &Paper, said: Said) {
        let [x, y] = board.origin;
        let r = board.ratio;
        for (at, row) in self.rows_above(said).iter().enumerate() {
            let line = y - paper.up - at as f64 * ROW_MM - FIRST_ROW_MM;
            let jaw = y - paper.up + 0.5;
            let from = [row.from_mm, row.to_mm].map(|z| if z == 0.0 { jaw } else { y - self.bounds[3] * r - 1.0 });
            board.dimension(dimension(&Measured {
                way: Way::Level,
                ends: [x + row.from_mm * r, x + row.to_mm * r],
                at: line,
                from: [row.shown[0].then_some(from[0]), row.shown[1].then_some(from[1])],
                value_mm: row.value_mm(),
                says: &row.says,
                place: row.place(r),
            }));
        }
        if said != Said::Few {
            let last = self.rows_above(said).len() - 1;
            self.band(board, y - paper.up - last as f64 * ROW_MM - FIRST_ROW_MM);
        }
        let jaws = paper.down_of_jaws(self, r);
        for (at, row) in self.rows_below(said).iter().enumerate() {
            let line = y + paper.down + over_line_mm() + at as f64 * ROW_MM;
            let from = [row.from_mm, row.to_mm]
                .map(|z| Some(y + if z == 0.0 { jaws - 0.5 } else { -self.bounds[1] * r + 1.0 }));
            board.dimension(dimension(&Measured {
                way: Way::Level,
                ends: [x + row.from_mm * r, x + row.to_mm * r],
                at: line,
                from,
                value_mm: row.value_mm(),
                says: &row.says,
                place: row.place(r),
            }));
        }
    }

    /// What may stand out, from the least to the most, below the line of the most; parted where it is set.
    fn band(&self, board: &mut Board, line: f64) {
        let out = &self.set_up.stick_out;
        let x = |z_mm: f64| board.origin[0] + z_mm * board.ratio;
        let (top, bottom) = (line + BAND_MM[0], line + BAND_MM[0] + BAND_MM[1]);
        let box_of = |from: f64, to: f64| polygon(&[[from, top], [to, top], [to, bottom], [from, bottom]]);
        let (least, set, most) = (x(out.least_mm), x(out.set_mm), x(out.most_mm));
        for (from, to) in [(least, set), (set, most)].into_iter().filter(|(from, to)| to > from) {
            board.fill_paper(Fill::Dark, Part::Sign, box_of(from, to));
        }
        board.fill_paper(Fill::Paper, Part::Sign, box_of(set - BAND_MM[1] / 2.0, set + BAND_MM[1] / 2.0));
    }

    fn letters(&self, board: &mut Board) {
        for at in 0..2 {
            if let Some(jaw) = self.jaws[at] {
                self.jaw_letters(board, jaw, if at == 0 { 1.0 } else { -1.0 });
            }
        }
        let r = board.ratio;
        if let Some(seat) = &self.set_up.seat {
            let near = |off: f64, aside: f64| board.at([self.bounds[0] + off / r, aside / r]);
            let half = width_mm(&short(&seat.face), SMALL_MM) / 2.0;
            let asides = [3.0, -3.0, 5.0, -5.0, 7.0, -7.0].into_iter();
            let asides: Vec<f64> =
                asides.filter(|aside| self.bounds[1] * r < *aside && *aside < self.bounds[3] * r).collect();
            let places = [2.6, 3.4, 4.2].into_iter().flat_map(|off| asides.iter().map(move |aside| (off, *aside)));
            let middles: Vec<Flat> = places.map(|(off, aside)| near(off + half, aside)).collect();
            board.label(TextKind::Face, &short(&seat.face), SMALL_MM, false, &middles);
        }
        if let Some(at) = self.widest_mm {
            let shares = [0.3, 0.36, 0.25, 0.42, 0.2, 0.7, 0.64, 0.75, 0.58, 0.8];
            let (low, high) = (self.bounds[1], self.bounds[3]);
            let places = |says: &str| {
                let off = (width_mm(says, SMALL_MM) / 2.0 + 1.0) / r;
                let beside = |share: f64| [at + off, at - off].map(|z| board.at([z, low + share * (high - low)]));
                shares.into_iter().flat_map(beside).collect::<Vec<Flat>>()
            };
            let (whole, part) = (places(WIDEST[0]), places(WIDEST[1]));
            if !board.label(TextKind::Word, WIDEST[0], SMALL_MM, false, &whole) {
                board.label(TextKind::Word, WIDEST[1], SMALL_MM, false, &part);
            }
        }
        if let Some(face) = cut_face(self.plan, self.set_up) {
            let middle = board.at([(self.top_mm + self.floor_mm) / 2.0, 3.0 / r]);
            // Beside its own face, not beyond the piece.
            let (one, other) = (board.at([0.0, self.bounds[1]])[1], board.at([0.0, self.bounds[3]])[1]);
            let beside = |place: &Flat| (one.min(other)..=one.max(other)).contains(&place[1]);
            let places: Vec<Flat> = spread(middle, 9.0).into_iter().filter(beside).collect();
            board.label(TextKind::Face, &short(&face.name), SMALL_MM, true, &places);
        }
    }

    fn jaw_letters(&self, board: &mut Board, jaw: &JawPlan, way: f64) {
        let r = board.ratio;
        let place = |z: f64, u: f64| board.at([z / r, way * (jaw.reach_mm + u / r)]);
        let length = self.jaw_length_mm() * r;
        let mut places = Vec::new();
        for u in [JAW_SEEN_MM * 0.5, JAW_SEEN_MM * 0.62, JAW_SEEN_MM * 0.4] {
            places.extend((0..40).map(|step| place(-length * (0.06 + 0.022 * f64::from(step)), u)));
        }
        board.label(TextKind::Jaw, &jaw.jaw.to_string(), SMALL_MM, true, &places);
        if let Some(middle) = board.free_square(crate::board::JAW_SIGN_MM + 0.2, &places) {
            board.jaw_sign(middle, jaw.kept);
        }
        let surface = held::surface_mm(jaw) * r;
        let mut middles = Vec::new();
        for back in [3.0, 3.8, 4.6].into_iter().filter(|back| back + 1.0 < surface) {
            for share in [0.3, 0.5, 0.7, 0.15] {
                middles.push(board.at([-self.set_up.bite_mm * share, way * (surface - back) / r]));
            }
        }
        board.label(TextKind::Face, &short(&jaw.bears_on), SMALL_MM, false, &middles);
    }

    fn hatch(&self, board: &mut Board) {
        let edge = self.outline().iter().map(|curve| board.on_paper(curve)).collect();
        let floor = board.at([self.floor_mm, 0.0])[0];
        board.hatch(&Region { edge, beyond: Some(([1.0, 0.0], floor)) });
    }
}

impl Paper {
    /// From the axis down to where the jaw below is broken off, mm of paper.
    fn down_of_jaws(&self, side: &Side, ratio: f64) -> f64 {
        side.jaws[1].map_or(self.down, |jaw| jaw.reach_mm * ratio + JAW_SEEN_MM)
    }
}

/// The jaws above and below the axis. With three jaws the lower one is brought into the plane, which is true where it
/// bears on a round; else it is left out.
fn opposed(set_up: &SetUp, axis: usize) -> [Option<&JawPlan>; 2] {
    let count = set_up.jaws.len();
    let jaw = |number: usize| set_up.jaws.iter().find(|jaw| usize::from(jaw.jaw) == number);
    if count == 4 {
        // Upwards X, or against Y.
        return if axis == 0 { [jaw(1), jaw(3)] } else { [jaw(4), jaw(2)] };
    }
    if count.is_multiple_of(2) {
        return [jaw(1), jaw(1 + count / 2)];
    }
    [
        jaw(1),
        jaw(2).filter(|jaw| {
            matches!(jaw.contact, engine::plan::ContactKind::LineAlong | engine::plan::ContactKind::Bored)
        }),
    ]
}
