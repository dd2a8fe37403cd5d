//! One way to cut a face at a moment: how it lies, how deep, worked out; every way that is allowed.

use super::blank::{Done, has, piece_after};
use super::facing::{CannotFace, Facing};
use super::hold::reach_mm;
use super::ledge;
use super::lie::{CannotLie, Lie, Surface, lies};
use super::measure::measures;
use super::twins::Twins;
use super::vee;
use super::window::{Depth, NoDepth, SeatOn, gripped_mm, most_overhang, seated, stopped, trade_bite, unseated};
use crate::part::Place;
use crate::plan::Measure;
use crate::shape::Piece;
use crate::task::Task;

/// A set-up that can be done.
#[derive(Debug, Clone)]
pub struct Way {
    /// Worked out.
    pub facing: Facing,
    /// Which tool of the task.
    pub tool: usize,
    /// What is measured.
    pub measure: Vec<Measure>,
    /// From the spindle axis to each jaw's face, in order round the chuck from X.
    pub reach_mm: Vec<f64>,
    /// Minutes that do not depend on the set-up before.
    pub own_minutes: OwnMinutes,
    /// The ends are still as sawn though they are to be faced.
    pub sawn_ends: bool,
}

/// Minutes of a set-up that do not depend on the one before.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct OwnMinutes {
    /// Touching off, between passes, setting the depth, seating again.
    pub handling: f64,
    /// In the cut.
    pub cutting: f64,
    /// Measuring.
    pub measuring: f64,
}

impl OwnMinutes {
    /// All together.
    pub fn total(&self) -> f64 {
        self.handling + self.cutting + self.measuring
    }
}

/// Why a face cannot be cut at a moment.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// It cannot lie so.
    Lie(CannotLie),
    /// Jaws touch each other or open too little or too far: between jaws, least, most.
    Opening(f64, f64, f64),
    /// Neighbouring jaws touch: reach of the nearer, half the jaw's width.
    JawsTouch(f64, f64),
    /// No depth in the jaws will do.
    Depth(NoDepth),
    /// Only a bite less than the trade asks would do: the bite, what is asked.
    Shallow(f64, f64),
    /// More would stand out than may without support: what would, what may.
    Overhang(f64, f64),
    /// The ends are to be faced first.
    EndsFirst,
    /// A finished flat exists that could square it, but does not bear.
    Unsquared,
    /// It cannot be cut in this hold.
    Face(CannotFace),
}

/// What is allowed: the trade's rules, or less where nothing else works.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Custom {
    /// Ends before sides, no bite less than a third of the length or half the gripped size.
    Trade,
    /// Sides may be cut while the ends are as sawn, a bite may be shallow; each is told as a caution.
    Need,
}

/// Every way to cut a face when the faces in `done` are cut; or every reason why there is none.
pub fn ways(
    task: &Task,
    twins: &mut Twins,
    custom: Custom,
    (done, at): (Done, usize),
) -> Result<Vec<Way>, Vec<Refusal>> {
    if custom == Custom::Trade && ends_wait(task, done, at) {
        return Err(vec![Refusal::EndsFirst]);
    }
    let piece = piece_after(task, done);
    let found = lies(task, &piece, done, at).map_err(|why| vec![Refusal::Lie(why)])?;
    let (mut ways, mut refused) = (Vec::new(), Vec::new());
    for lie in &found {
        let at_a_stop: Vec<Result<Depth, NoDepth>> = stopped(task, lie).map(Ok).into_iter().collect();
        for depths in [seated(task, lie), at_a_stop, vec![unseated(task, lie)]] {
            let mut last = None;
            for depth in depths {
                let way = allowed(task, custom, done, lie, depth)
                    .and_then(|depth| best_tool(task, twins, done, (&piece, lie, &depth)).map_err(Refusal::Face));
                match way {
                    Ok(way) => {
                        ways.push(way);
                        last = None;
                        break;
                    }
                    Err(why) => last = Some(why),
                }
            }
            refused.extend(last);
        }
    }
    if ways.is_empty() { Err(refused) } else { Ok(ways) }
}

/// The same for one face alone: nothing is taken over from set-ups like it.
pub fn ways_alone(task: &Task, custom: Custom, state: (Done, usize)) -> Result<Vec<Way>, Vec<Refusal>> {
    ways(task, &mut Twins::default(), custom, state)
}

/// Whether a side waits for an end that is still to be faced: sawn ends square nothing.
pub fn ends_wait(task: &Task, done: Done, at: usize) -> bool {
    let side = matches!(task.faces[at].place, Place::Side(_));
    side && task.faces[..2].iter().enumerate().any(|(end, face)| face.cut && !has(done, end))
}

fn allowed(
    task: &Task,
    custom: Custom,
    done: Done,
    lie: &Lie,
    depth: Result<Depth, NoDepth>,
) -> Result<Depth, Refusal> {
    check_jaws(task, lie)?;
    let depth = depth.map_err(Refusal::Depth)?;
    let overhang = most_overhang(task, lie);
    if depth.stick_out_mm > overhang + 1e-9 {
        return Err(Refusal::Overhang(depth.stick_out_mm, overhang));
    }
    if depth.shallow && custom == Custom::Trade {
        return Err(Refusal::Shallow(depth.bite_mm, trade_bite(task, lie)));
    }
    if squared(task, done, lie, &depth) { Ok(depth) } else { Err(Refusal::Unsquared) }
}

fn check_jaws(task: &Task, lie: &Lie) -> Result<(), Refusal> {
    let (least, most) = (ledge::closes_to_mm(task), task.chuck.opening_mm.1);
    let reach: Vec<f64> = lie.sides.iter().map(|side| reach_mm(task, side)).collect();
    let jaws = reach.len();
    for at in 0..jaws {
        let across = if jaws.is_multiple_of(2) { reach[at] + reach[(at + jaws / 2) % jaws] } else { 2.0 * reach[at] };
        if across < least - 1e-9 || across > most + 1e-9 {
            return Err(Refusal::Opening(across, least, most));
        }
        // The noses are bevelled: a chuck that closes to less than the width of a jaw shows how far; a ledge as its jaw.
        let half = task.chuck.jaw_width_mm.min(task.chuck.opening_mm.0) / 2.0;
        let next = reach[(at + 1) % jaws];
        if jaws == 4 && reach[at].max(next) < half {
            return Err(Refusal::JawsTouch(reach[at].max(next), half));
        }
    }
    Ok(())
}

/// The trade's sense of squareness: in each direction in which a finished flat could square the new
/// one, one does, on a jaw or as the seat; never by eye once one exists.
fn squared(task: &Task, done: Done, lie: &Lie, depth: &Depth) -> bool {
    // The end of a stop touches one point and squares nothing.
    let squares = !matches!(depth.seat, SeatOn::Nothing | SeatOn::Stop(_));
    let seat = squares && matches!(lie.behind, Surface::Face(_));
    if seat {
        return true;
    }
    let finished_opposite = matches!(lie.behind, Surface::Face(_));
    let bears =
        |axis: usize| lie.sides.iter().skip(axis).step_by(2).any(|side| matches!(side.surface, Surface::Face(_)));
    let any_bears = lie.sides.iter().any(|side| matches!(side.surface, Surface::Face(_)));
    if finished_opposite {
        return along_the_jaws(task, lie, depth) || lie.sides.len() == 4 && bears(0) && bears(1);
    }
    any_bears || !could_square(task, done, lie)
}

/// Work held along the spindle for the length of the jaws, or as deep as it is thick, is squared by the jaws
/// on its own sides, as the end behind was.
fn along_the_jaws(task: &Task, lie: &Lie, depth: &Depth) -> bool {
    let along = !matches!(task.faces[lie.face].place, Place::Side(_));
    along && depth.bite_mm >= task.chuck.bears_mm().min(gripped_mm(lie)) - 1e-9
}

/// Whether any finished face stands square to the new one.
fn could_square(task: &Task, done: Done, lie: &Lie) -> bool {
    let new = task.faces[lie.face].place;
    task.faces.iter().enumerate().filter(|(at, _)| has(done, *at)).any(|(_, face)| match (new, face.place) {
        (Place::Side(_), Place::Front | Place::Back) | (Place::Front | Place::Back, Place::Side(_)) => true,
        (Place::Side(a), Place::Side(b)) => (a - b).cos().abs() < 1e-6,
        _ => false,
    })
}

/// The tool of fewest minutes; the wished one first among equals.
fn best_tool(
    task: &Task,
    twins: &mut Twins,
    done: Done,
    (piece, lie, depth): (&Piece, &Lie, &Depth),
) -> Result<Way, CannotFace> {
    let mut best: Option<Way> = None;
    let mut failed = None;
    for at in 0..task.tools.len() {
        match twins.face(task, at, piece, lie, depth) {
            Ok(facing) => {
                let way = way(task, done, facing, at);
                if best.as_ref().is_none_or(|so_far| way.own_minutes.total() < so_far.own_minutes.total() - 1e-9) {
                    best = Some(way);
                }
            }
            Err(why) => failed = failed.or(Some(why)),
        }
    }
    match (best, failed) {
        (Some(way), _) => Ok(way),
        (None, Some(why)) => Err(why),
        (None, None) => Err(CannotFace::Power(0.0, 0.0)),
    }
}

/// Whether the depth is set: by hand, or at the stop.
pub fn sets_depth(seat: SeatOn) -> bool {
    matches!(seat, SeatOn::Nothing | SeatOn::Stop(_))
}

fn way(task: &Task, done: Done, facing: Facing, tool: usize) -> Way {
    let measure = measures(task, done, &facing);
    let minutes = &task.minutes;
    let out = measure.iter().filter(|one| one.takes_out).count() as f64;
    let set_depth = if sets_depth(facing.depth.seat) { minutes.set_depth } else { 0.0 };
    let own_minutes = OwnMinutes {
        handling: minutes.touch_off
            + minutes.next_pass * facing.cuts.len() as f64
            + set_depth
            + minutes.lay_vee * vee::count(&facing.lie) as f64
            + out * minutes.turn_piece,
        cutting: facing.cutting_minutes,
        measuring: minutes.measure * measure.len() as f64,
    };
    let reach_mm = facing.lie.sides.iter().map(|side| reach_mm(task, side)).collect();
    let sawn_ends = ends_wait(task, done, facing.lie.face);
    Way { facing, tool, measure, reach_mm, own_minutes, sawn_ends }
}
