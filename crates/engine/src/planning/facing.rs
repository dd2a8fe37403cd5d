//! Facing one face of a held piece: speed, feed, cuts, and that all of it holds.

use super::cuts::{DepthBinding, Trial, best_cuts};
use super::feeds::Feeds;
use super::hold::{Hold, hold, mass};
use super::judge::{LeastSlip, judge};
use super::lie::Lie;
use super::speed::{self, SpeedPick, TooFast};
use super::swing::check_swing;
use super::window::{Depth, SeatOn, contact_bite};
use super::work::Work;
use crate::cutting;
use crate::dial::{Cut, SplitFault};
use crate::holding::{Centre, GripFault};
use crate::shape::Piece;
use crate::task::{Task, ToolFacts};

/// A set-up worked out: how it is held, how fast it turns, which cuts it takes.
#[derive(Debug, Clone)]
pub struct Facing {
    /// How the piece lies.
    pub lie: Lie,
    /// How deep.
    pub depth: Depth,
    /// The piece before the cut.
    pub piece: Piece,
    /// Contact points and preload, at the set-up's speed.
    pub hold: Hold,
    /// Spindle speed.
    pub speed: SpeedPick,
    /// The cuts, every total on a mark of the dial.
    pub cuts: Vec<Cut>,
    /// Feed of the rough cuts and of the finishing cut.
    pub feeds: Feeds,
    /// Whether the edge leaves the metal in a turn.
    pub interrupted: bool,
    /// The first cut goes through scale or cast skin.
    pub on_skin: bool,
    /// The first cut is taken under the skin, as the trade asks.
    pub under_skin: bool,
    /// Factor needed.
    pub required: f64,
    /// Least factors over the cuts.
    pub slip: LeastSlip,
    /// What held the depth of the rough cuts down.
    pub depth_binding: DepthBinding,
    /// Cutting speed at the farthest corner of the finished floor, m/min.
    pub corner_m_min: f64,
    /// Minutes in the cut, approach included.
    pub cutting_minutes: f64,
}

/// Why a face cannot be cut so.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotFace {
    /// No listed speed is slow enough.
    TooFast(TooFast),
    /// The grip cannot be reckoned.
    Grip(GripFault),
    /// Even a thin cut slips: factor, needed, depth.
    Slips(f64, f64, f64),
    /// Even a thin cut slips once the edge is worn: factor, needed, depth.
    SlipsWorn(f64, f64, f64),
    /// First slip permits it, but no balance is left soon after: factor, needed.
    LastHold(f64, f64),
    /// Even a thin cut asks more power than there is: watts, watts there.
    Power(f64, f64),
    /// Even a thin cut springs too far: micrometres, limit.
    Springs(f64, f64),
    /// The depth cannot be counted on the dial.
    Split(SplitFault),
    /// The start radius is past the travel of the cross slide: needed, travel.
    CrossTravel(f64, f64),
    /// The jaws, opened for the piece, swing wider than the lathe clears over the bed: needed, swing.
    JawsSwing(f64, f64),
    /// The piece swings wider than the lathe clears: needed, swing, what.
    Swing(f64, f64, &'static str),
}

/// Works a set-up out, or says why it cannot be.
pub fn face(task: &Task, tool: &ToolFacts, piece: &Piece, lie: &Lie, depth: &Depth) -> Result<Facing, CannotFace> {
    let work = Work::new(task, tool, piece, lie, depth);
    check_swing(task, &work)?;
    let (_, kg, unbalance) = mass(task, piece, lie, depth);
    let speed = speed::pick(task, tool, work.start_radius_mm, work.interrupted, (unbalance, kg))
        .map_err(CannotFace::TooFast)?;
    let held = hold(task, piece, lie, depth, speed.set_rpm).map_err(CannotFace::Grip)?;
    let best =
        cuts_set_by_hand(&work, &held, speed.set_rpm).map_or_else(|| best_cuts(&work, &held, speed.set_rpm), Ok)?;
    Ok(faced(&work, held, speed, best))
}

/// Works the same set-up out with a centre in the end that is faced.
pub fn face_on_centre(
    (task, tool): (&Task, &ToolFacts),
    (piece, lie, depth): (&Piece, &Lie, &Depth),
    centre: Centre,
) -> Result<Facing, CannotFace> {
    let work = Work::new(task, tool, piece, lie, depth);
    check_swing(task, &work)?;
    let (_, kg, unbalance) = mass(task, piece, lie, depth);
    let speed = speed::pick(task, tool, work.start_radius_mm, work.interrupted, (unbalance, kg))
        .map_err(CannotFace::TooFast)?;
    let held = hold(task, piece, lie, depth, speed.set_rpm).and_then(|held| held.propped(centre));
    let held = held.map_err(CannotFace::Grip)?;
    let best = best_cuts(&work, &held, speed.set_rpm)?;
    Ok(faced(&work, held, speed, best))
}

fn faced(work: &Work, hold: Hold, speed: SpeedPick, best: Trial) -> Facing {
    let corner_m_min = cutting::speed_m_min(speed.set_rpm, 2.0 * work.start_radius_mm);
    Facing {
        corner_m_min,
        lie: work.lie.clone(),
        depth: *work.depth,
        piece: work.piece.clone(),
        hold,
        speed,
        cuts: best.cuts,
        feeds: best.feeds,
        interrupted: work.interrupted,
        on_skin: work.on_skin,
        under_skin: best.under_skin,
        required: work.required,
        slip: best.slip,
        depth_binding: best.binding,
        cutting_minutes: best.cutting_minutes,
    }
}

/// Work that nothing seats comes out a little deeper or shallower than meant: cuts that hold with less bite too.
fn cuts_set_by_hand(work: &Work, held: &Hold, rpm: f64) -> Option<Trial> {
    let less = less_bite(work)?;
    let shallower = Work::new(work.task, work.tool, work.piece, work.lie, &less);
    let weaker = hold(work.task, work.piece, work.lie, &less, rpm).ok()?;
    let mut trial = best_cuts(&shallower, &weaker, rpm).ok()?;
    let slip = judge(work, held, &trial.cuts, trial.feeds).ok()?;
    trial.slip = slip;
    Some(trial)
}

/// The bite as it may come out by hand; `None`: seated, or the contacts would no longer bear.
fn less_bite(work: &Work) -> Option<Depth> {
    let (task, depth) = (work.task, work.depth);
    let bite_mm = depth.bite_mm - task.rules.set_by_hand_mm;
    let may = depth.seat == SeatOn::Nothing && bite_mm >= contact_bite(task, work.lie);
    may.then_some(Depth { bite_mm, stick_out_mm: depth.stick_out_mm + task.rules.set_by_hand_mm, ..*depth })
}

/// Whether the cuts of a facing would still hold with another bite.
pub fn holds_at(task: &Task, tool: &ToolFacts, facing: &Facing, bite_mm: f64) -> bool {
    let stick_out_mm = facing.depth.stick_out_mm + facing.depth.bite_mm - bite_mm;
    let depth = Depth { bite_mm, stick_out_mm, ..facing.depth };
    let work = Work::new(task, tool, &facing.piece, &facing.lie, &depth);
    hold(task, &facing.piece, &facing.lie, &depth, facing.speed.set_rpm)
        .is_ok_and(|held| judge(&work, &held, &facing.cuts, facing.feeds).is_ok())
}
