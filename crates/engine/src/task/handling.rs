//! Handling times, packing and parallels.

use super::{Gaps, PackingFacts};
use crate::holding;
use crate::quantity::Plain;
use crate::shop::{Packing, Shop};

/// Handling times in minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandlingMinutes {
    /// First set-up, or one that keeps no jaw.
    pub set_up: f64,
    /// Turning the piece with jaws left alone.
    pub turn_piece: f64,
    /// One measurement.
    pub measure: f64,
    /// Touching off.
    pub touch_off: f64,
    /// Between two passes.
    pub next_pass: f64,
    /// Setting the depth without a seat.
    pub set_depth: f64,
    /// Laying a vee between a jaw and the work.
    pub lay_vee: f64,
    /// Turning all jaws end for end.
    pub reverse_jaws: f64,
}

pub(super) fn minutes(shop: &Shop, gaps: &mut Gaps) -> HandlingMinutes {
    let given = &shop.minutes;
    HandlingMinutes {
        set_up: given.set_up.unwrap_or_else(|| gaps.assume("minutes, set up", "minutes for the first set-up")),
        turn_piece: given
            .turn_piece
            .unwrap_or_else(|| gaps.assume("minutes, turn piece", "minutes to turn the piece in the chuck")),
        measure: given.measure.unwrap_or_else(|| gaps.assume("minutes, measure", "minutes for one measurement")),
        touch_off: given
            .touch_off
            .unwrap_or_else(|| gaps.assume("minutes, touch off", "minutes to touch off and zero")),
        next_pass: given.next_pass.unwrap_or_else(|| gaps.assume("minutes, next pass", "minutes between two passes")),
        set_depth: given.set_depth.unwrap_or_else(|| {
            gaps.assume("minutes, set depth", "minutes to set the depth in the jaws without a seat")
        }),
        // Only a plan that lays one tells of it.
        lay_vee: given.lay_vee.unwrap_or_else(|| super::defaults::number("minutes, lay vee")),
        reverse_jaws: given.reverse_jaws.unwrap_or_else(|| super::defaults::number("minutes, reverse jaws")),
    }
}

/// The packing used: of the first kind on hand, the thickness nearest to the usual one.
pub(super) fn packing(shop: &Shop, gaps: &mut Gaps) -> PackingFacts {
    let usual = super::defaults::number("packing thickness");
    let Some(packing) = shop.packing.first() else {
        note_strength(holding::USUAL_PACKING, gaps);
        return PackingFacts {
            material: holding::USUAL_PACKING.to_string(),
            thickness_mm: gaps.assume("packing thickness", "thickness of soft copper packing on finished flats"),
            friction: gaps.assume("packing friction", "friction of packing"),
            flows_at: named_strength(holding::USUAL_PACKING),
            on_hand: Vec::new(),
        };
    };
    if packing.yield_strength.is_none() {
        note_strength(&packing.material, gaps);
    }
    if let Some(friction) = packing.friction {
        super::believed::packing_friction(&packing.material, friction, gaps);
    }
    let nearest = packing
        .thickness
        .iter()
        .map(|&thickness| thickness.plain())
        .min_by(|a, b| (a - usual).abs().total_cmp(&(b - usual).abs()));
    PackingFacts {
        material: packing.material.clone(),
        thickness_mm: nearest
            .unwrap_or_else(|| gaps.assume("packing thickness", "thickness of packing on finished flats")),
        friction: packing.friction.unwrap_or_else(|| gaps.assume("packing friction", "friction of packing")),
        flows_at: strength(packing),
        on_hand: shop.packing.iter().map(on_hand).collect(),
    }
}

fn on_hand(packing: &Packing) -> (String, Vec<f64>, Option<f64>) {
    let thickness_mm = packing.thickness.iter().map(|&thickness| thickness.plain()).collect();
    (packing.material.clone(), thickness_mm, strength(packing).map(|(mpa, _)| mpa))
}

/// Where packing flows, MPa: as the shop gives it, or by its name.
fn strength(packing: &Packing) -> Option<(f64, String)> {
    let given = packing.yield_strength.map(|given| (given.plain(), "the shop: the packing's yield".to_string()));
    given.or_else(|| named_strength(&packing.material))
}

pub(super) fn note_strength(material: &str, gaps: &mut Gaps) {
    if let Some((strength_mpa, source)) = named_strength(material) {
        let what = format!("strength at which packing of {material} flows");
        gaps.assumed.push(super::assumed(&what, &format!("{strength_mpa:.0} MPa"), &source));
    }
}

pub(super) fn named_strength(name: &str) -> Option<(f64, String)> {
    holding::packing_metal(name).map(|row| (row.yield_mpa, format!("{}: {}", row.name, row.source)))
}

/// Heights of all parallels on hand, rising; the length of the shortest kind and the thickness of the thickest.
pub(super) fn parallels(shop: &Shop, gaps: &mut Gaps) -> (Vec<f64>, f64, f64) {
    let mut heights: Vec<f64> =
        shop.parallels.iter().flat_map(|kind| kind.pairs.iter().map(|&height| height.plain())).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup();
    if heights.is_empty() {
        return (heights, 0.0, 0.0);
    }
    let shortest = shop.parallels.iter().filter_map(|kind| kind.length).map(Plain::plain).min_by(f64::total_cmp);
    let thickest = shop.parallels.iter().filter_map(|kind| kind.width).map(Plain::plain).max_by(f64::total_cmp);
    let length = shortest.unwrap_or_else(|| gaps.assume("parallels length", "length of the parallels"));
    let width = thickest.unwrap_or_else(|| gaps.assume("parallels width", "thickness of each parallel"));
    (heights, length, width)
}
