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

/// Feeds to try, rising by the rough feed.
pub fn feeds(work: &Work) -> Vec<Feeds> {
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

/// The feed of a cut.
pub fn feed_of(cut: &Cut, feeds: Feeds) -> f64 {
    match cut.kind {
        CutKind::Rough => feeds.rough_mm,
        CutKind::Finish => feeds.finish_mm,
    }
}
