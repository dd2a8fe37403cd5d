//! Feeds of a set-up: from the lathe's list, within the tool's range, fine enough for the drawing.

use super::work::Work;
use crate::cutting;
use crate::dial::{Cut, CutKind};
use crate::task::{Task, ToolFacts};

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

/// Feeds to try at a cutting speed at the farthest corner, m/min, rising by the rough feed.
pub fn feeds(work: &Work, corner_m_min: f64) -> Vec<Feeds> {
    let (task, tool) = (work.task, work.tool);
    let most = if work.interrupted { tool.feed_mm.1 * task.rules.interrupted_feed_share } else { tool.feed_mm.1 };
    let most = most.max(tool.feed_mm.0);
    let within = |feed: &&f64| **feed >= tool.feed_mm.0 * (1.0 - 1e-9) && **feed <= most * (1.0 + 1e-9);
    let rough: Vec<f64> = task.lathe.feeds_mm.iter().filter(within).copied().collect();
    let wanted = finish_feed(task, tool, corner_m_min);
    if rough.is_empty() {
        let hand = |feed: f64| feed.clamp(tool.feed_mm.0, most);
        let rough_mm = hand(task.rules.hand_feed_rough_mm);
        return vec![Feeds { rough_mm, finish_mm: hand(wanted).min(rough_mm), by_hand: true }];
    }
    let finish_mm = rough.iter().rev().find(|feed| **feed <= wanted * (1.0 + 1e-9)).copied().unwrap_or(rough[0]);
    // No coarser than the rough feed: what machine and grip bear there they bear in the finishing cut too.
    rough.iter().map(|&rough_mm| Feeds { rough_mm, finish_mm: finish_mm.min(rough_mm), by_hand: false }).collect()
}

/// The coarsest feed that meets the drawing's roughness and is still one to finish with; without a roughness the usual one.
fn finish_feed(task: &Task, tool: &ToolFacts, corner_m_min: f64) -> f64 {
    let ratio = counted_ratio(task, corner_m_min);
    let asked = task.roughness_um.and_then(|ra_um| cutting::feed_for_ra_at(ra_um, tool.edge.nose_mm, ratio));
    let feed_mm =
        asked.map_or(task.rules.finish_feed_mm, |finish| finish.feed_mm.min(task.rules.coarsest_finish_feed_mm));
    feed_mm.max(tool.feed_mm.0)
}

/// Real over ideal roughness that is counted on: what is known at this cutting speed, m/min, never less than the usual.
pub fn counted_ratio(task: &Task, corner_m_min: f64) -> f64 {
    cutting::real_over_ideal(task.material.family, corner_m_min).max(cutting::real_over_ideal_default())
}

/// The feed of a cut.
pub fn feed_of(cut: &Cut, feeds: Feeds) -> f64 {
    match cut.kind {
        CutKind::Rough => feeds.rough_mm,
        CutKind::Finish => feeds.finish_mm,
    }
}
