//! What the jaws do at the weakest moment of a turn: arrows to scale on the piece as the chuck is seen.

use engine::plan::{JawLoad, Plan, SetUp, WeakestRound};
use engine::quantity::show;

use crate::board::{Board, KeyLine, key_height_mm};
use crate::chuck::polygon;
use crate::curve::bounds_of_all;
use crate::figure::{Curve, Figure, Fill, LineKind, Part, TextKind};
use crate::held;
use crate::lettering::SMALL_MM;
use crate::scale::Scale;
use crate::sight::Sight;
use crate::vector::{Flat, apart, between, go, quarter, unit};

/// The longest arrow that presses, mm of paper.
const PRESSES_MM: f64 = 7.0;
/// The longest arrow that rubs, or cuts, mm of paper.
const RUBS_MM: f64 = 14.0;
/// and no longer than this share of the room, so that arrows of neighbouring jaws keep apart.
const RUBS_SHARE: f64 = 0.22;
/// Beyond an arrow's tail stands the number of its jaw, mm.
const NUMBER_MM: f64 = 3.5;
/// Length of an arrow's head, mm.
const HEAD_MM: f64 = 2.2;
/// Half the width of an arrow's head, mm.
const HEAD_HALF_MM: f64 = 0.7;
/// Half the length of the stroke that ends the most a jaw can rub, mm.
const LIMIT_MM: f64 = 1.1;
/// How far below the surface rubbing is drawn, beside the head that presses on it, mm.
const RUBS_BELOW_MM: f64 = 2.0;
/// No larger than this, mm of paper for a mm of the piece.
const MOST_RATIO: f64 = 2.0;
/// A piece less wide than this on paper shows nothing, mm.
const LEAST_PIECE_MM: f64 = 6.0;
/// Space below the picture, mm.
const BELOW_MM: f64 = 1.5;

/// The jaws' forces at the weakest moment of the turn, seen from the tailstock, jaw 1 upwards, in at most `room_mm` of
/// paper; `None` where no jaw slips or the paper is too small.
pub fn jaw_forces(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Option<Figure> {
    drawn(plan, set_up, room_mm, key)
}

/// The same beside words that say what arrows and strokes are, and where angles are counted from.
pub fn jaw_forces_briefly(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2]) -> Option<Figure> {
    drawn(plan, set_up, room_mm, brief_key)
}

/// The words under the picture.
type Key = fn(&Plan, &WeakestRound, [Newtons; 2], Scale) -> String;

fn drawn(plan: &Plan, set_up: &SetUp, room_mm: [f64; 2], key: Key) -> Option<Figure> {
    let moment = &set_up.hold.round.as_ref()?.weakest;
    let normals = || moment.jaws.iter().map(|jaw| jaw.normal_n);
    let presses = Newtons::fit(normals(), PRESSES_MM);
    let rubs = moment.jaws.iter().map(|jaw| jaw.most_friction_n.max(jaw.rubs_n()));
    let rubs = Newtons::fit(rubs.chain([length(moment.cut_n)]), RUBS_MM.min(RUBS_SHARE * room_mm[0]));
    let piece = held::piece(set_up, &Sight::from_tailstock()).visible;
    // A jaw before a vee stands farther out than the piece reaches.
    let stands = set_up.jaws.iter().map(held::surface_mm);
    let reach = bounds_of_all(&piece).map(f64::abs).into_iter().chain(stands).fold(moment.radius_mm, f64::max);
    let round = presses.mm(normals().fold(0.0, f64::max)) + NUMBER_MM + SMALL_MM / 2.0 + 0.5;
    let key = |scale: Scale| KeyLine::words(&key(plan, moment, [presses, rubs], scale), room_mm[0] - 1.0);
    let longest = key_height_mm(&key(Scale { paper: 1, real: 10_000 }));
    let half_room = (room_mm[0].min(room_mm[1] - longest - BELOW_MM)) / 2.0 - round;
    let scale = Scale::largest_of_all(|ratio| ratio <= MOST_RATIO && reach * ratio <= half_room);
    if reach * scale.ratio() > half_room || 2.0 * reach * scale.ratio() < LEAST_PIECE_MM {
        return None;
    }
    let key = key(scale);
    let half = reach * scale.ratio() + round;
    let size_mm = [room_mm[0], 2.0 * half + BELOW_MM + key_height_mm(&key)];
    let mut board = Board::new(size_mm, [room_mm[0] / 2.0, half], scale.ratio());
    board.draw(LineKind::Narrow, Part::Piece, &piece);
    let arrows = Arrows { set_up, moment, presses, rubs };
    arrows.draw(&mut board);
    board.key(0.5, 2.0 * half + BELOW_MM, &key);
    Some(Figure {
        name: format!("forces-{}", set_up.number),
        size_mm,
        title: format!("Set-up {}: what the jaws do at the weakest moment of the turn", set_up.number),
        says: says(plan, moment),
        scale,
        marks: board.into_marks(),
    })
}

/// How many newtons a mm of an arrow stands for.
#[derive(Debug, Clone, Copy)]
struct Newtons(f64);

impl Newtons {
    /// The finest of 1, 2, 5, 10, ... with which none of these is longer.
    fn fit(forces_n: impl Iterator<Item = f64>, longest_mm: f64) -> Newtons {
        let least = forces_n.fold(1.0, f64::max) / longest_mm;
        let decade = 10.0_f64.powf(least.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0].into_iter().find(|step| step * decade >= least * (1.0 - 1e-9));
        Newtons(step.unwrap_or(10.0) * decade)
    }

    fn mm(self, force_n: f64) -> f64 {
        force_n / self.0
    }
}

struct Arrows<'a> {
    set_up: &'a SetUp,
    moment: &'a WeakestRound,
    presses: Newtons,
    rubs: Newtons,
}

impl Arrows<'_> {
    fn draw(&self, board: &mut Board) {
        let find = |load: &JawLoad| self.set_up.jaws.iter().find(|jaw| jaw.jaw == load.jaw);
        let jaws = self.moment.jaws.iter().filter_map(|load| Some((load, find(load)?)));
        let jaws = jaws.map(|(load, jaw)| {
            let out = on_paper(held::direction_rad(self.set_up, jaw));
            (load, out, go(board.origin, out, held::surface_mm(jaw) * board.ratio))
        });
        let jaws: Vec<(&JawLoad, Flat, Flat)> = jaws.collect();
        for (load, out, touch) in &jaws {
            self.jaw(board, load, *out, *touch);
        }
        self.cut(board);
        // Beyond the arrow's tail, or beside it where something is in the way.
        for (load, out, touch) in &jaws {
            let tail = go(*touch, *out, self.presses.mm(load.normal_n));
            let beside = |t: f64| go(go(tail, *out, -SMALL_MM), quarter(*out), t);
            let places = [go(tail, *out, NUMBER_MM), beside(NUMBER_MM), beside(-NUMBER_MM)];
            board.label(TextKind::Jaw, &load.jaw.to_string(), SMALL_MM, false, &places);
        }
    }

    /// Pressing from outside on to the surface; rubbing along it, with the most that it can come to on either side.
    fn jaw(&self, board: &mut Board, load: &JawLoad, out: Flat, touch: Flat) {
        let tail = go(touch, out, self.presses.mm(load.normal_n));
        arrow(board, Part::Jaw, tail, touch);
        let along = quarter(out);
        let base = go(touch, out, -RUBS_BELOW_MM);
        let most = self.rubs.mm(load.most_friction_n);
        board.stroke(LineKind::Narrow, Part::Sign, Curve::line(go(base, along, -most), go(base, along, most)));
        for side in [-1.0, 1.0] {
            let end = go(base, along, side * most);
            board.stroke(LineKind::Narrow, Part::Sign, Curve::line(go(end, out, -LIMIT_MM), go(end, out, LIMIT_MM)));
        }
        let rubs = paper([load.friction_n[0], load.friction_n[1]]);
        let share = self.rubs.mm(rubs[0] * along[0] + rubs[1] * along[1]);
        arrow(board, Part::Sign, base, go(base, along, share));
    }

    /// The force of the tool, its head at the tool.
    fn cut(&self, board: &mut Board) {
        let at = go(board.origin, on_paper(self.moment.angle_deg.to_radians()), self.moment.radius_mm * board.ratio);
        let force = paper([self.moment.cut_n[0], self.moment.cut_n[1]]);
        let force_mm = force.map(|part| self.rubs.mm(part));
        let tail = [at[0] - force_mm[0], at[1] - force_mm[1]];
        arrow(board, Part::Tool, tail, at);
        let places: Vec<Flat> = [at, between(at, tail), tail].iter().flat_map(|on| around(*on)).collect();
        board.label(TextKind::Word, "tool", SMALL_MM, false, &places);
    }
}

/// Places for a word round a point.
fn around(on: Flat) -> [Flat; 8] {
    std::array::from_fn(|step| go(on, unit(std::f64::consts::FRAC_PI_4 * step as f64), 6.0))
}

/// An arrow from tail to head; too short for a head, it is a line.
fn arrow(board: &mut Board, part: Part, tail: Flat, head: Flat) {
    let length = apart(tail, head);
    if length < 1e-6 {
        return;
    }
    let back = [(tail[0] - head[0]) / length, (tail[1] - head[1]) / length];
    board.stroke(LineKind::Wide, part, Curve::line(tail, head));
    let root = go(head, back, HEAD_MM.min(length));
    let side = quarter(back);
    let corners = [head, go(root, side, HEAD_HALF_MM), go(root, side, -HEAD_HALF_MM)];
    board.fill_paper(Fill::Ink, part, polygon(&corners));
}

/// A direction of the set-up on paper, y downwards: X upwards, Y to the left.
fn on_paper(angle_rad: f64) -> Flat {
    paper([angle_rad.cos(), angle_rad.sin()])
}

fn paper([x, y]: [f64; 2]) -> Flat {
    [-y, -x]
}

fn length(force: [f64; 3]) -> f64 {
    force.iter().fold(0.0, |sum: f64, part| sum.hypot(*part))
}

fn key(plan: &Plan, moment: &WeakestRound, [presses, rubs]: [Newtons; 2], scale: Scale) -> String {
    let each = |newtons: Newtons| show::force(newtons.0, plan.units);
    format!(
        "arrows on the work, tool {:.0} deg from jaw 1: pressing 1 mm = {}; rubbing and cut 1 mm = {}; strokes: the \
         most a jaw can rub; scale\u{a0}{}",
        moment.angle_deg,
        each(presses),
        each(rubs),
        scale.name()
    )
}

fn brief_key(plan: &Plan, moment: &WeakestRound, [presses, rubs]: [Newtons; 2], scale: Scale) -> String {
    let each = |newtons: Newtons| show::force(newtons.0, plan.units);
    format!(
        "tool at {:.0} deg; 1 mm: pressing {}, rubbing and cut {}; scale {}",
        moment.angle_deg,
        each(presses),
        each(rubs),
        scale.name()
    )
}

fn says(plan: &Plan, moment: &WeakestRound) -> String {
    let jaw = |load: &JawLoad| {
        let along = match load.friction_n[2] {
            pull if pull > 0.0 => "away from",
            _ => "towards",
        };
        format!(
            "jaw {} presses with {} and rubs with {} of at most {}, {} of it along the spindle {along} the chuck",
            load.jaw,
            show::force(load.normal_n, plan.units),
            show::force(load.rubs_n(), plan.units),
            show::force(load.most_friction_n, plan.units),
            show::force(load.friction_n[2].abs(), plan.units),
        )
    };
    let jaws: Vec<String> = moment.jaws.iter().map(jaw).collect();
    format!(
        "What the jaws do to the work with the tool {:.0} degrees against the clock from jaw 1, where the least is left \
         before a jaw slips; seen from the tailstock. The tool pushes with {}. {}.",
        moment.angle_deg,
        show::force(length(moment.cut_n), plan.units),
        jaws.join("; ")
    )
}
