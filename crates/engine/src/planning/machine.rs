//! How deep tool, wish, power and torque let a cut be.

use super::cuts::{BACK_OFF, DepthBinding, TRIES};
use super::facing::CannotFace;
use super::work::Work;
use crate::cutting::{self, Level};
use crate::quantity::Plain;

/// The thinnest rough cut worth taking.
pub fn least_cut_mm(work: &Work) -> f64 {
    cutting::least_finish_mm(&work.task.material, work.tool.edge.tool).max(work.task.lathe.dial.mark_depth_mm)
}

/// The deepest cut that tool, wish, power and torque allow at a feed.
pub fn deepest_by_machine(work: &Work, rpm: f64, feed_mm: f64) -> Result<(f64, DepthBinding), CannotFace> {
    let (task, tool) = (work.task, work.tool);
    let mut deepest = (tool.deepest_mm, DepthBinding::Tool);
    if let Some(wish) = task.wishes.deepest_cut.map(Plain::plain)
        && wish < deepest.0
    {
        deepest = (wish, DepthBinding::Wish);
    }
    // What a skin asks of the first cut goes before the look of the chip.
    let skin = if work.on_skin { task.rules.under_skin_mm } else { 0.0 };
    let ribbon = (feed_mm * task.rules.most_depth_over_feed).max(skin);
    if ribbon < deepest.0 {
        deepest = (ribbon, DepthBinding::Chip);
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
