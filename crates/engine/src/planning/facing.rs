//! Facing one face of a held piece: floors, speed, feed, cuts, and whether all of it holds.

use std::cell::OnceCell;

use nalgebra::Vector2;

use super::hold::{ANGLES, Hold, hold, mass};
use super::lie::{Lie, Surface};
use super::speed::{self, SpeedPick, TooFast};
use super::window::Depth;
use crate::cutting::{self, Level};
use crate::dial::{Cut, CutKind, SplitFault, Wanted, split};
use crate::holding::{self, GripFault, TurnCut, Worst, WorstSlip, machine_spring_um};
use crate::part::Place;
use crate::plan::Force3;
use crate::shape::{Floor, Piece};
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
    /// Minutes in the cut, approach included.
    pub cutting_minutes: f64,
}

/// Feeds of a set-up, mm per revolution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Feeds {
    /// Rough cuts.
    pub rough_mm: f64,
    /// Finishing cut.
    pub finish_mm: f64,
    /// Fed by hand: the lathe lists no feed that the tool takes.
    pub by_hand: bool,
}

/// Least factors over all cuts of a set-up, each with the cut it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LeastSlip {
    /// A jaw slips.
    pub jaw: Option<(usize, Worst)>,
    /// A point slips in the finishing cut.
    pub point: Option<Worst>,
    /// A point lifts.
    pub lift: Option<(usize, Worst)>,
}

/// What held the depth of the rough cuts down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DepthBinding {
    /// Nothing: all in few cuts.
    Nothing,
    /// The tool's deepest cut.
    Tool,
    /// The job's wish.
    Wish,
    /// Mean power over a turn.
    Power,
    /// Peak power or torque.
    Torque,
    /// First slip.
    Slip,
    /// A point of a jaw lifts.
    Lift,
    /// Spring at the tool.
    Spring,
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
    /// Even a thin cut asks more power than there is: watts, watts there.
    Power(f64, f64),
    /// Even a thin cut springs too far: micrometres, limit.
    Springs(f64, f64),
    /// The depth cannot be counted on the dial.
    Split(SplitFault),
    /// The start radius is past the travel of the cross slide: needed, travel.
    CrossTravel(f64, f64),
    /// The piece swings wider than the lathe clears: needed, swing, what.
    Swing(f64, f64, &'static str),
}

/// Factors by which too deep a cut is made shallower before it is tried again: a little less than the
/// factor found, since force grows a little slower than depth.
const BACK_OFF: f64 = 0.97;
/// Tries before a depth is given up; each takes at least 3 % off.
const TRIES: usize = 24;
/// Minutes within this share count as equal when cuts are chosen: fewer cuts are then better.
const LIKE_MINUTES: f64 = 0.05;

/// Works a set-up out, or says why it cannot be.
pub fn face(task: &Task, tool: &ToolFacts, piece: &Piece, lie: &Lie, depth: &Depth) -> Result<Facing, CannotFace> {
    let work = Work::new(task, tool, piece, lie, depth);
    check_swing(task, &work)?;
    let (_, kg, unbalance) = mass(task, piece, lie, depth);
    let speed = speed::pick(task, tool, work.start_radius_mm, work.interrupted, (unbalance, kg))
        .map_err(CannotFace::TooFast)?;
    let held = hold(task, piece, lie, depth, speed.set_rpm).map_err(CannotFace::Grip)?;
    let best = best_cuts(&work, &held, speed.set_rpm)?;
    Ok(Facing {
        lie: lie.clone(),
        depth: *depth,
        piece: piece.clone(),
        hold: held,
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
    })
}

/// Whether the cuts of a facing would still hold with another bite.
pub fn holds_at(task: &Task, tool: &ToolFacts, facing: &Facing, bite_mm: f64) -> bool {
    let stick_out_mm = facing.depth.stick_out_mm + facing.depth.bite_mm - bite_mm;
    let depth = Depth { bite_mm, stick_out_mm, ..facing.depth };
    let work = Work::new(task, tool, &facing.piece, &facing.lie, &depth);
    hold(task, &facing.piece, &facing.lie, &depth, facing.speed.set_rpm)
        .is_ok_and(|held| judge(&work, &held, &facing.cuts, facing.feeds).is_ok())
}

/// The floor of a face at a height, about the spindle axis.
pub fn floor_at(piece: &Piece, place: Place, lie: &Lie, height_mm: f64) -> Floor {
    let axis = match place {
        Place::Side(_) => Vector2::new(lie.axis_mm.0, lie.axis_mm.1),
        Place::Front | Place::Back => {
            let axis = lie.axes[0] * lie.axis_mm.0 + lie.axes[1] * lie.axis_mm.1;
            Vector2::new(axis.x, axis.y)
        }
    };
    piece.floor(place, height_mm, axis)
}

/// What stays the same while cuts are tried.
struct Work<'a> {
    task: &'a Task,
    tool: &'a ToolFacts,
    piece: &'a Piece,
    lie: &'a Lie,
    depth: &'a Depth,
    place: Place,
    total_mm: f64,
    start_radius_mm: f64,
    /// The finished floor, which is the widest.
    floor: Floor,
    /// Greatest r × share: what the mean power over a turn goes with; worked out when it is asked for.
    mean_radius_mm: OnceCell<f64>,
    interrupted: bool,
    on_skin: bool,
    required: f64,
}

impl<'a> Work<'a> {
    fn new(task: &'a Task, tool: &'a ToolFacts, piece: &'a Piece, lie: &'a Lie, depth: &'a Depth) -> Self {
        let place = task.faces[lie.face].place;
        let floor = floor_at(piece, place, lie, lie.floor_mm);
        let on_skin = top_surface(task, lie) == Surface::Bar && is_skin(task);
        let interrupted = leaves_the_metal(&floor);
        let numbers = holding::numbers();
        let needed = if interrupted || on_skin { &numbers.needed_interrupted } else { &numbers.needed_continuous };
        Work {
            task,
            tool,
            piece,
            lie,
            depth,
            place,
            total_mm: lie.top_mm - lie.floor_mm,
            start_radius_mm: floor.start_radius_mm,
            floor,
            mean_radius_mm: OnceCell::new(),
            interrupted,
            on_skin,
            required: needed.value,
        }
    }

    fn mean_radius_mm(&self) -> f64 {
        *self.mean_radius_mm.get_or_init(|| mean_radius(&self.floor))
    }

    /// Height over the jaw fronts after a total depth.
    fn height_mm(&self, total_mm: f64) -> f64 {
        self.depth.stick_out_mm - total_mm
    }

    fn radius_mm(&self, total_mm: f64) -> f64 {
        floor_at(self.piece, self.place, self.lie, self.lie.top_mm - total_mm).start_radius_mm
    }

    fn force(&self, depth_mm: f64, feed_mm: f64, level: Level) -> Force3 {
        cutting::force(&self.task.material, &self.tool.edge, depth_mm, feed_mm, level)
    }
}

/// Whether the edge leaves the metal in a turn: it does so just inside the farthest corner, unless the floor is round.
fn leaves_the_metal(floor: &Floor) -> bool {
    floor.share_at(floor.start_radius_mm * (1.0 - 1e-6)).share < 1.0
}

/// Whether the bar's surface is one that a first cut should go under.
fn is_skin(task: &Task) -> bool {
    matches!(task.skin, crate::job::Surface::HotRolled | crate::job::Surface::Cast)
}

/// What the first cut meets: the bar's skin on a side, a sawn end on an end.
fn top_surface(task: &Task, lie: &Lie) -> Surface {
    match task.faces[lie.face].place {
        Place::Side(_) => Surface::Bar,
        Place::Front | Place::Back => Surface::Sawn,
    }
}

/// Greatest radius × share in the metal, mm: what the mean power over a turn goes with.
pub fn mean_radius(floor: &Floor) -> f64 {
    floor.longest_arc_mm() / std::f64::consts::TAU
}

fn check_swing(task: &Task, work: &Work) -> Result<(), CannotFace> {
    let lie = work.lie;
    let swung = swung_radius_mm(work.piece, work.place, lie);
    let jaws = task.chuck.body_mm / 2.0 + task.rules.jaw_swing_mm;
    let clears = [
        (2.0 * swung, task.lathe.swing_over_slide_mm, "the cross slide"),
        (2.0 * swung.max(jaws), task.lathe.swing_over_bed_mm, "the bed"),
    ];
    for (needed, swing, what) in clears {
        if let Some(swing) = swing
            && needed > swing
        {
            return Err(CannotFace::Swing(needed, swing, what));
        }
    }
    let across = work.start_radius_mm + task.rules.approach_mm;
    match task.lathe.cross_travel_mm {
        Some(travel) if across > travel => Err(CannotFace::CrossTravel(across, travel)),
        _ => Ok(()),
    }
}

/// The farthest point of the piece from the spindle axis.
pub fn swung_radius_mm(piece: &Piece, place: Place, lie: &Lie) -> f64 {
    match place {
        Place::Front | Place::Back => floor_at(piece, place, lie, lie.top_mm).start_radius_mm,
        Place::Side(angle) => {
            let across =
                |sign: f64| piece.section.extent_mm(angle + sign * std::f64::consts::FRAC_PI_2) - sign * lie.axis_mm.0;
            let along = (piece.front_mm - lie.axis_mm.1).max(lie.axis_mm.1 - piece.back_mm);
            across(1.0).max(across(-1.0)).hypot(along)
        }
    }
}

/// Cuts at one feed that hold.
struct Trial {
    cuts: Vec<Cut>,
    feeds: Feeds,
    slip: LeastSlip,
    binding: DepthBinding,
    under_skin: bool,
    cutting_minutes: f64,
    /// With the minutes between the passes: what cuts are compared by.
    minutes: f64,
}

/// The cuts of least minutes over the feeds; within 5 % the fewest cuts.
fn best_cuts(work: &Work, held: &Hold, rpm: f64) -> Result<Trial, CannotFace> {
    let mut best: Option<Trial> = None;
    let mut failed = None;
    for feeds in feeds(work).into_iter().rev() {
        match try_feed(work, held, rpm, feeds) {
            Ok(trial) if best.as_ref().is_none_or(|so_far| better(&trial, so_far)) => best = Some(trial),
            Ok(_) => {}
            Err(why) => failed = Some(why),
        }
        // A finer feed takes longer for the same cuts: once the tool bounds the depth it cannot win.
        if best.as_ref().is_some_and(|trial| {
            matches!(trial.binding, DepthBinding::Nothing | DepthBinding::Tool | DepthBinding::Wish)
        }) {
            break;
        }
    }
    best.ok_or_else(|| failed.unwrap_or(CannotFace::Split(SplitFault::TooThin(work.total_mm, 0.0))))
}

fn better(trial: &Trial, so_far: &Trial) -> bool {
    if trial.minutes < so_far.minutes * (1.0 - LIKE_MINUTES) {
        return true;
    }
    trial.minutes <= so_far.minutes * (1.0 + LIKE_MINUTES) && trial.cuts.len() < so_far.cuts.len()
}

/// Feeds to try, rising by the rough feed.
fn feeds(work: &Work) -> Vec<Feeds> {
    let (task, tool) = (work.task, work.tool);
    let most = if work.interrupted { tool.feed_mm.1 * task.rules.interrupted_feed_share } else { tool.feed_mm.1 };
    let most = most.max(tool.feed_mm.0);
    let within = |feed: &&f64| **feed >= tool.feed_mm.0 * (1.0 - 1e-9) && **feed <= most * (1.0 + 1e-9);
    let rough: Vec<f64> = task.lathe.feeds_mm.iter().filter(within).copied().collect();
    let wanted = finish_feed(task, tool);
    if rough.is_empty() {
        let hand = |feed: f64| feed.clamp(tool.feed_mm.0, most);
        return vec![Feeds { rough_mm: hand(task.rules.hand_feed_rough_mm), finish_mm: hand(wanted), by_hand: true }];
    }
    let finish_mm = cutting::next_listed(&rough, wanted).unwrap_or(rough[0]);
    rough.iter().map(|&rough_mm| Feeds { rough_mm, finish_mm, by_hand: false }).collect()
}

/// The coarsest feed that meets the drawing's roughness, no coarser than the trade finishes with.
fn finish_feed(task: &Task, tool: &ToolFacts) -> f64 {
    let usual = task.rules.finish_feed_mm;
    let asked = task.roughness_um.and_then(|ra_um| cutting::feed_for_ra(ra_um, tool.edge.nose_mm)).unwrap_or(usual);
    asked.min(usual).max(tool.feed_mm.0)
}

fn try_feed(work: &Work, held: &Hold, rpm: f64, feeds: Feeds) -> Result<Trial, CannotFace> {
    let (mut deepest, mut binding) = deepest_by_machine(work, rpm, feeds.rough_mm)?;
    let mut last = None;
    for _ in 0..TRIES {
        let (cuts, under_skin) = split_cuts(work, deepest)?;
        if cuts.iter().filter(|cut| cut.kind == CutKind::Rough).count() <= 1 && binding == DepthBinding::Tool {
            binding = DepthBinding::Nothing;
        }
        match judge(work, held, &cuts, feeds) {
            Ok(slip) => {
                let cutting_minutes = cutting_minutes(work, &cuts, feeds, rpm);
                let minutes = cutting_minutes + work.task.minutes.next_pass * cuts.len() as f64;
                return Ok(Trial { cuts, feeds, slip, binding, under_skin, cutting_minutes, minutes });
            }
            Err(short) => {
                let taken = cuts.iter().map(|cut| cut.depth_mm).fold(0.0, f64::max);
                last = Some(short.says(taken));
                binding = short.binding;
                deepest = deepest.min(taken) * (short.share * BACK_OFF).clamp(0.3, BACK_OFF);
                if deepest < least_cut_mm(work) {
                    break;
                }
            }
        }
    }
    Err(last.unwrap_or(CannotFace::Slips(0.0, work.required, deepest)))
}

/// The thinnest rough cut worth taking.
fn least_cut_mm(work: &Work) -> f64 {
    cutting::least_finish_mm(&work.task.material, work.tool.edge.tool).max(work.task.lathe.dial.mark_depth_mm)
}

/// The deepest cut that tool, wish, power and torque allow at a feed.
fn deepest_by_machine(work: &Work, rpm: f64, feed_mm: f64) -> Result<(f64, DepthBinding), CannotFace> {
    let (task, tool) = (work.task, work.tool);
    let mut deepest = (tool.deepest_mm, DepthBinding::Tool);
    if let Some(wish) = task.wishes.deepest_cut.map(crate::quantity::Plain::plain)
        && wish < deepest.0
    {
        deepest = (wish, DepthBinding::Wish);
    }
    for _ in 0..TRIES {
        let (over, binding, power) = over_machine(work, rpm, work.force(deepest.0, feed_mm, Level::Safe).cutting);
        if over <= 1.0 {
            return Ok(deepest);
        }
        deepest = (deepest.0 / over * BACK_OFF, binding);
        if deepest.0 < least_cut_mm(work) {
            return Err(CannotFace::Power(power, task.lathe.edge_power_w));
        }
    }
    Ok(deepest)
}

/// How far a cutting force is over what the machine gives, as a factor; which limit; the power asked.
fn over_machine(work: &Work, rpm: f64, cutting_n: f64) -> (f64, DepthBinding, f64) {
    let lathe = &work.task.lathe;
    let power = |radius_mm: f64| cutting::power_w(cutting_n, cutting::speed_m_min(rpm, 2.0 * radius_mm));
    let peak = power(work.start_radius_mm);
    // The mean never passes the power of a whole turn at the farthest corner: most often that is enough to know.
    let mean = if peak <= lathe.edge_power_w { peak } else { power(work.mean_radius_mm()) };
    let torque = cutting::torque_nm(cutting_n, work.start_radius_mm);
    let by_mean = mean / lathe.edge_power_w;
    let by_peak = peak / (lathe.edge_power_w * work.task.rules.peak_over_motor);
    let by_torque = lathe.most_torque_nm.map_or(0.0, |most| torque / most);
    if by_mean >= by_peak.max(by_torque) {
        (by_mean, DepthBinding::Power, mean)
    } else {
        (by_peak.max(by_torque), DepthBinding::Torque, peak)
    }
}

/// The cuts for a deepest cut; under the skin where that is possible.
fn split_cuts(work: &Work, deepest_mm: f64) -> Result<(Vec<Cut>, bool), CannotFace> {
    let (task, tool) = (work.task, work.tool);
    let least_finish_mm = cutting::least_finish_mm(&task.material, tool.edge.tool);
    let wish = task.wishes.finishing_cut.map_or(task.rules.finishing_cut_mm, crate::quantity::Plain::plain);
    let wanted = |least_first_mm: f64| Wanted {
        total_mm: work.total_mm,
        finish_mm: wish.max(least_finish_mm).min(deepest_mm),
        least_finish_mm: least_finish_mm.min(deepest_mm),
        deepest_mm,
        least_first_mm,
        least_mm: least_finish_mm.min(deepest_mm),
    };
    if work.on_skin {
        let skin = task.rules.under_skin_mm.min(work.total_mm);
        if let Ok(cuts) = split(&wanted(skin), &task.lathe.dial) {
            return Ok((cuts, true));
        }
    }
    split(&wanted(0.0), &task.lathe.dial).map(|cuts| (cuts, !work.on_skin)).map_err(CannotFace::Split)
}

/// A judgement that fell short: by which share of what is needed.
struct Short {
    share: f64,
    binding: DepthBinding,
    value: f64,
    needed: f64,
}

impl Short {
    fn says(&self, depth_mm: f64) -> CannotFace {
        match self.binding {
            DepthBinding::Spring => CannotFace::Springs(self.value, self.needed),
            _ => CannotFace::Slips(self.value, self.needed, depth_mm),
        }
    }
}

/// Judges every cut of a set-up: jaw slip, lift, spring; point slip in the finishing cut.
fn judge(work: &Work, held: &Hold, cuts: &[Cut], feeds: Feeds) -> Result<LeastSlip, Short> {
    let mut least = LeastSlip::default();
    for (at, cut) in cuts.iter().enumerate() {
        judge_cut(work, held, (at, cut), feeds, &mut least)?;
    }
    Ok(least)
}

fn judge_cut(
    work: &Work,
    held: &Hold,
    (at, cut): (usize, &Cut),
    feeds: Feeds,
    least: &mut LeastSlip,
) -> Result<(), Short> {
    let numbers = holding::numbers();
    let finishing = cut.kind == CutKind::Finish;
    let force = work.force(cut.depth_mm, feed_of(cut, feeds), Level::Likely);
    let turn = held.turn_cut(work.radius_mm(cut.total_mm), work.height_mm(cut.total_mm), force);
    let worst = worst_of(held, &turn, finishing);
    let short = |worst: Option<Worst>, needed: f64, binding| match worst {
        Some(worst) if worst.factor < needed => {
            Err(Short { share: worst.factor / needed, binding, value: worst.factor, needed })
        }
        _ => Ok(()),
    };
    short(worst.jaw, work.required, DepthBinding::Slip)?;
    short(worst.lift, numbers.needed_lift.value, DepthBinding::Lift)?;
    if finishing {
        short(worst.point, numbers.needed_finishing_point.value, DepthBinding::Slip)?;
        least.point = worst.point;
    } else {
        let spring = spring_um(work.task, held, &turn);
        let most = numbers.most_spring_um.value;
        if spring > most {
            return Err(Short { share: most / spring, binding: DepthBinding::Spring, value: spring, needed: most });
        }
    }
    keep_least(&mut least.jaw, at, worst.jaw);
    keep_least(&mut least.lift, at, worst.lift);
    Ok(())
}

/// Least factors of a turn; the single points are asked for in the finishing cut only.
fn worst_of(held: &Hold, turn: &TurnCut, finishing: bool) -> WorstSlip {
    if finishing {
        return held.grip.worst_over_turn(turn, ANGLES);
    }
    WorstSlip {
        jaw: held.grip.worst_jaw_over_turn(turn, ANGLES),
        point: None,
        lift: held.grip.worst_lift_over_turn(turn, ANGLES),
    }
}

fn keep_least(least: &mut Option<(usize, Worst)>, at: usize, found: Option<Worst>) {
    if let Some(found) = found
        && least.is_none_or(|(_, so_far)| found.factor < so_far.factor)
    {
        *least = Some((at, found));
    }
}

/// How far a cut pushes work and machine apart along the spindle, most over four angles, µm.
pub fn spring_um(task: &Task, held: &Hold, turn: &TurnCut) -> f64 {
    let work = (0..4)
        .map(|quarter| {
            let load = turn.at_angle(90.0 * f64::from(quarter));
            held.grip.spring_um(&load.at_mm, &load.force_n)
        })
        .fold(0.0, f64::max);
    work + machine_spring_um(turn.force.passive, task.lathe.stiffness_n_um)
}

/// The feed of a cut.
pub fn feed_of(cut: &Cut, feeds: Feeds) -> f64 {
    match cut.kind {
        CutKind::Rough => feeds.rough_mm,
        CutKind::Finish => feeds.finish_mm,
    }
}

/// Minutes in the cut, approach included.
fn cutting_minutes(work: &Work, cuts: &[Cut], feeds: Feeds, rpm: f64) -> f64 {
    let rules = &work.task.rules;
    cuts.iter()
        .map(|cut| {
            let floor = floor_at(work.piece, work.place, work.lie, work.lie.top_mm - cut.total_mm);
            cutting::facing_minutes(
                floor.start_radius_mm + rules.approach_mm,
                floor.end_radius_mm,
                feed_of(cut, feeds),
                rpm,
            )
        })
        .sum()
}
