//! Roughness that the feed leaves, ideal and real, and the feed that a drawing's roughness asks.

use super::material::Family;
use super::number::{Chips, edge_row, numbers};
use crate::shop::ToolMaterial;

/// The feed for a roughness, and whether it lies where the formulas are believed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finish {
    /// Feed per revolution, mm.
    pub feed_mm: f64,
    /// The roughness would allow more, but a coarser feed would no longer be cut by the nose alone.
    pub held_by_nose: bool,
}

/// Ideal height of the scallops, `Rt = f² / (8 r_ε)`, µm; feed and nose in mm.
///
/// The parabola in place of the arc: under 1 % up to f = 0.4 r. Valid while the nose alone cuts the
/// surface, `f < 2 r sin κ'`. No nose: infinite, see [`rt_sharp_um`].
pub fn rt_um(feed_mm: f64, nose_mm: f64) -> f64 {
    if nose_mm > 0.0 { 1000.0 * feed_mm * feed_mm / (8.0 * nose_mm) } else { f64::INFINITY }
}

/// Ideal arithmetic mean, `Ra = f² / (18 √3 r_ε) ≈ f² / (31.2 r_ε)`, µm: exact for parabolic scallops.
pub fn ra_um(feed_mm: f64, nose_mm: f64) -> f64 {
    if nose_mm > 0.0 { 1000.0 * feed_mm * feed_mm / (18.0 * 3f64.sqrt() * nose_mm) } else { f64::INFINITY }
}

/// Ideal height left by a sharp corner, `Rt = f / (cot κ + cot κ')`, µm; angles in rad, each over 0 and under 180°.
pub fn rt_sharp_um(feed_mm: f64, kappa_rad: f64, minor_kappa_rad: f64) -> f64 {
    1000.0 * feed_mm / (1.0 / kappa_rad.tan() + 1.0 / minor_kappa_rad.tan())
}

/// Height with the skin that an edge pushes aside, `Rt = f²/(8 r) + (h_min/2)(1 + r h_min/f²)`, µm (Brammertz 1961).
///
/// Feed and nose in mm, least chip thickness `h_min` in µm. Infinite at no feed: the edge only rubs.
pub fn brammertz_rt_um(feed_mm: f64, nose_mm: f64, least_chip_um: f64) -> f64 {
    if feed_mm <= 0.0 {
        return f64::INFINITY;
    }
    let least_chip_mm = least_chip_um / 1000.0;
    rt_um(feed_mm, nose_mm) + least_chip_um / 2.0 * (1.0 + nose_mm * least_chip_mm / (feed_mm * feed_mm))
}

/// Feed below which the surface grows rougher again, `f = √(2 r h_min)`, mm: the least of Brammertz' curve.
pub fn finest_useful_feed_mm(nose_mm: f64, tool: ToolMaterial) -> f64 {
    (2.0 * nose_mm.max(0.0) * least_chip_um(tool) / 1000.0).sqrt()
}

/// Least chip thickness h_min of an edge, µm.
pub fn least_chip_um(tool: ToolMaterial) -> f64 {
    edge_row(tool).least_chip_um
}

/// Feed per revolution, mm, for a roughness asked by the drawing, with the usual allowance for real against ideal.
///
/// `None` unless both are above 0. See [`feed_for_ra_at`].
pub fn feed_for_ra(ra_um: f64, nose_mm: f64) -> Option<f64> {
    feed_for_ra_at(ra_um, nose_mm, real_over_ideal_default()).map(|finish| finish.feed_mm)
}

/// Feed per revolution for a roughness, a nose and a ratio of real over ideal roughness.
///
/// `f = √(18 √3 r Ra / ratio)`, never more than half the nose radius, where the scallops stop being
/// arcs of the nose (minor cutting edge angle 15°). Below [`finest_useful_feed_mm`] a finer feed does
/// not help. `None` unless all three are above 0.
pub fn feed_for_ra_at(ra_um: f64, nose_mm: f64, ratio: f64) -> Option<Finish> {
    let possible = [ra_um, nose_mm, ratio].iter().all(|it| *it > 0.0 && it.is_finite());
    if !possible {
        return None;
    }
    let asked_mm = (18.0 * 3f64.sqrt() * nose_mm * ra_um / 1000.0 / ratio).sqrt();
    let most_mm = numbers().nose_only_feed_share.value * nose_mm;
    Some(Finish { feed_mm: asked_mm.min(most_mm), held_by_nose: asked_mm > most_mm })
}

/// Real over ideal roughness where nothing more is known.
pub fn real_over_ideal_default() -> f64 {
    numbers().real_over_ideal_roughness.value
}

/// Real over ideal roughness at a cutting speed in m/min: built-up edge at low speed (Groover, Fig. 24.2).
///
/// On a straight line between the rows of the table, held constant beyond; cast iron has rows of its own.
pub fn real_over_ideal(family: Family, speed_m_min: f64) -> f64 {
    let chips = if family == Family::CastIron { Chips::Brittle } else { Chips::Ductile };
    let points: Vec<(f64, f64)> = numbers()
        .roughness_ratio
        .iter()
        .filter(|row| row.work == chips)
        .map(|row| (row.speed_m_min, row.ratio))
        .collect();
    between(&points, speed_m_min).unwrap_or_else(real_over_ideal_default)
}

/// Straight line between points that rise in x, held constant beyond them; `None` without points or at NaN.
fn between(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let (first, last) = (points.first()?, points.last()?);
    if x.is_nan() {
        return None;
    }
    if x <= first.0 {
        return Some(first.1);
    }
    let inside = points.windows(2).find(|pair| x <= pair[1].0);
    Some(inside.map_or(last.1, |pair| pair[0].1 + (pair[1].1 - pair[0].1) * (x - pair[0].0) / (pair[1].0 - pair[0].0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn slow_steel_is_rougher_than_the_feed_says_and_quick_steel_is_not() {
        assert!(real_over_ideal(Family::Steel, 25.0) > 2.0);
        assert!((real_over_ideal(Family::Steel, 65.0) - (2.1 + 1.25) / 2.0).abs() < 1e-12);
        assert!(real_over_ideal(Family::Steel, 900.0) < 1.05);
        assert_eq!(real_over_ideal(Family::CastIron, 20.0), 1.25);
        assert_eq!(real_over_ideal(Family::Steel, f64::NAN), real_over_ideal_default());
    }

    #[test]
    fn ordinary_drawings_ask_ordinary_feeds() {
        // Ra 1.6 with a 0.8 nose: 0.1 to 0.2 mm per revolution in any shop (common practice, no source).
        assert!((0.1..=0.2).contains(&feed_for_ra(1.6, 0.8).unwrap()));
        assert_eq!(feed_for_ra(0.0, 0.8), None);
        assert_eq!(feed_for_ra(1.6, f64::NAN), None);
        assert!(feed_for_ra_at(50.0, 0.4, 1.0).unwrap().held_by_nose);
    }

    proptest! {
        #[test]
        fn the_feed_gives_back_its_roughness(ra in 0.1..3.0f64, nose in 0.4..3.0f64, ratio in 1.0..2.5f64) {
            let finish = feed_for_ra_at(ra, nose, ratio).unwrap();
            prop_assert!(finish.held_by_nose || (ra_um(finish.feed_mm, nose) * ratio / ra - 1.0).abs() < 1e-9);
        }

        #[test]
        fn no_feed_is_smoother_than_the_finest_useful_one(nose in 0.2..3.0f64, feed in 0.005..0.6f64) {
            for tool in ToolMaterial::ALL {
                let best = brammertz_rt_um(finest_useful_feed_mm(nose, tool), nose, least_chip_um(tool));
                prop_assert!(brammertz_rt_um(feed, nose, least_chip_um(tool)) >= best * (1.0 - 1e-12));
            }
        }
    }
}
