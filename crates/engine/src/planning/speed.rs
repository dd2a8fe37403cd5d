//! The spindle speed: the highest on the plate for which every limit holds.

use crate::cutting::{self, Duty};
use crate::holding;
use crate::shop::ChuckKind;
use crate::task::{Task, ToolFacts};

/// Under a milligram metre the piece runs true.
pub const EVEN_KG_MM: f64 = 1e-6;

/// A lever position and what bounds it.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedPick {
    /// Lever position.
    pub set_rpm: f64,
    /// What the tightest limit allows.
    pub most_rpm: f64,
    /// Which limit that is, in words.
    pub binding: String,
    /// Cutting speed that the table and the interruption allow, m/min.
    pub table_m_min: f64,
}

/// No listed speed is slow enough.
#[derive(Debug, Clone, PartialEq)]
pub struct TooFast {
    /// The lowest on the plate.
    pub lowest_rpm: f64,
    /// What is allowed.
    pub most_rpm: f64,
    /// Which limit that is, in words.
    pub binding: String,
    /// What kind of limit it is.
    pub bound: Bound,
}

/// What bounds the speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// Cutting speed of the table.
    CuttingSpeed,
    /// The mark of the chuck, or its share.
    Chuck,
    /// What the turning of the jaws takes from their grip.
    Grip,
    /// Work that is out of balance.
    Balance,
}

/// Picks the speed for a start radius, mm; unbalance in kg mm and mass of the piece in kg.
pub fn pick(
    task: &Task,
    tool: &ToolFacts,
    start_radius_mm: f64,
    interrupted: bool,
    (unbalance_kg_mm, piece_kg): (f64, f64),
) -> Result<SpeedPick, TooFast> {
    let table_m_min = table_speed(task, tool, interrupted);
    let (chuck_rpm, chuck_words) = chuck_limit(task, interrupted, off_axis(task, unbalance_kg_mm, piece_kg));
    let mut limits = vec![
        (
            cutting::rpm_for(table_m_min, 2.0 * start_radius_mm),
            speed_words(table_m_min, start_radius_mm, interrupted, task),
            Bound::CuttingSpeed,
        ),
        (chuck_rpm, chuck_words, Bound::Chuck),
        (grip_speed(task), "grip lost to the turning of the jaws".to_string(), Bound::Grip),
    ];
    if unbalance_kg_mm > EVEN_KG_MM {
        let uneven = balance_limits(task, unbalance_kg_mm, piece_kg);
        limits.extend(uneven.into_iter().map(|(rpm, words)| (rpm, words, Bound::Balance)));
    }
    // The table's speed is advice and may be passed by a little; no other limit may.
    let hard_rpm = limits.iter().skip(1).map(|limit| limit.0).fold(f64::INFINITY, f64::min);
    let (most_rpm, binding, bound) = limits.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((
        f64::INFINITY,
        String::new(),
        Bound::CuttingSpeed,
    ));
    let lowest_rpm = task.lathe.speeds_rpm.first().copied().unwrap_or(0.0);
    match cutting::next_listed(&listed_up_to(task, hard_rpm), most_rpm) {
        Some(set_rpm) => {
            Ok(SpeedPick { set_rpm, most_rpm, binding: named(set_rpm, most_rpm, binding, task), table_m_min })
        }
        None => Err(TooFast { lowest_rpm, most_rpm, binding, bound }),
    }
}

/// What the chuck allows, and why: its mark, or less where jaws that move one by one hold work in an interrupted cut
/// or off its axis.
pub fn chuck_limit(task: &Task, interrupted: bool, off_axis: bool) -> (f64, String) {
    let chuck = &task.chuck;
    let why = if interrupted { "an interrupted cut" } else { "work off the axis" };
    if !swings(task, interrupted, off_axis) {
        return (chuck.marked_rpm, "highest speed marked on the chuck".to_string());
    }
    match chuck.interrupted_rpm {
        Some(rpm) if rpm < chuck.marked_rpm => (rpm, format!("the shop's highest speed in this chuck for {why}")),
        Some(_) => (chuck.marked_rpm, "highest speed marked on the chuck".to_string()),
        None => {
            let share = task.rules.independent_speed_share;
            let words = format!(
                "{:.0} % of the {:.0} rpm marked on the chuck: independent jaws, {why}",
                100.0 * share,
                chuck.marked_rpm
            );
            (share * chuck.marked_rpm, words)
        }
    }
}

/// Whether corners and jaws swing unevenly: jaws that move one by one, an interrupted cut or work off its axis; or the
/// shop gives a speed for such work in this chuck.
pub fn swings(task: &Task, interrupted: bool, off_axis: bool) -> bool {
    let bounded = task.chuck.kind == ChuckKind::Independent || task.chuck.interrupted_rpm.is_some();
    bounded && (interrupted || off_axis)
}

/// Whether a piece is told as out of balance.
pub fn off_axis(task: &Task, unbalance_kg_mm: f64, piece_kg: f64) -> bool {
    unbalance_kg_mm >= task.rules.off_axis_mm * piece_kg
}

/// Lever positions that pass no limit which is more than advice.
fn listed_up_to(task: &Task, hard_rpm: f64) -> Vec<f64> {
    task.lathe.speeds_rpm.iter().copied().filter(|&rpm| rpm <= hard_rpm).collect()
}

/// Cutting speed of the table, lowered where the cut is interrupted, m/min.
fn table_speed(task: &Task, tool: &ToolFacts, interrupted: bool) -> f64 {
    let share = match task.wishes.speed_share_interrupted {
        Some(wish) if interrupted => wish,
        _ => cutting::speed_share(tool.edge.tool, Duty::Rough, interrupted),
    };
    tool.speed_m_min * share
}

fn speed_words(table_m_min: f64, radius_mm: f64, interrupted: bool, task: &Task) -> String {
    let speed = crate::quantity::show::speed(table_m_min, task.units);
    let radius = crate::quantity::show::length(radius_mm, task.units);
    if interrupted {
        format!(
            "cutting speed {speed}, lowered for the interrupted cut, at the farthest corner, {radius} from the axis"
        )
    } else {
        format!("cutting speed {speed} at the rim, {radius} from the axis")
    }
}

/// The highest speed of the plate below the limit; when the plate ends first, the lathe is the limit.
fn named(set_rpm: f64, most_rpm: f64, binding: String, task: &Task) -> String {
    let top = task.lathe.speeds_rpm.last().copied().unwrap_or(set_rpm);
    if set_rpm == top && most_rpm > top * 1.02 { "the lathe has no higher speed".to_string() } else { binding }
}

/// The speed at which the jaws' turning force takes a third of what is counted on.
pub fn grip_speed(task: &Task) -> f64 {
    let chuck = &task.chuck;
    let allowed_n = chuck.nominal_force_n * chuck.low_share * task.rules.grip_lost_share;
    let per_rpm = holding::centrifugal_force_n(chuck.jaw_mass_kg, chuck.jaw_mass_radius_mm, 1.0);
    if per_rpm > 0.0 { (allowed_n / per_rpm).sqrt() } else { f64::INFINITY }
}

/// Limits by the balance grade and by the weight of the lathe, each with its words.
pub fn balance_limits(task: &Task, unbalance_kg_mm: f64, piece_kg: f64) -> Vec<(f64, String)> {
    let numbers = holding::numbers();
    let rotor = task.lathe.rotor_mass_kg + piece_kg;
    vec![
        (
            holding::grade_speed_rpm(unbalance_kg_mm, rotor, numbers.balance_grade_mm_s.value),
            format!("unbalance of {unbalance_kg_mm:.2} kg mm, balance grade G{}", numbers.balance_grade_mm_s.value),
        ),
        (
            holding::lathe_share_speed_rpm(unbalance_kg_mm, task.lathe.mass_kg, numbers.unbalance_share_of_lathe.value),
            format!("unbalance of {unbalance_kg_mm:.2} kg mm against the weight of the lathe"),
        ),
    ]
}
