//! How sizes scatter in this shop, and what scrap costs: the shop's own numbers, else those of the table.

use super::{Gaps, assumed};
use crate::job::Surface;
use crate::measure::numbers;
use crate::quantity::{Plain, Units, show};
use crate::shop::Shop;
use crate::sourced::Sourced;

/// Standard deviations in mm, shares of a length, minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScatterFacts {
    /// A touch-off.
    pub touch_off_mm: f64,
    /// The bar where it is touched off, against where it was measured.
    pub bar_mm: f64,
    /// A finished face on its seat.
    pub seat_mm: f64,
    /// The screw, of the travel since the touch-off.
    pub screw_share: f64,
    /// A finishing cut whatever its depth.
    pub cut_mm: f64,
    /// Dial and spring of a finishing cut, of its depth.
    pub cut_share: f64,
    /// Minutes until a new blank lies at the lathe.
    pub new_blank_minutes: f64,
}

/// `blank_minutes`: what the shop's list of bars says of this one.
pub(super) fn resolve(
    shop: &Shop,
    blank_minutes: Option<f64>,
    skin: Surface,
    units: Units,
    gaps: &mut Gaps,
) -> ScatterFacts {
    let (given, table) = (&shop.scatter, numbers());
    let bar =
        if matches!(skin, Surface::HotRolled | Surface::Cast) { &table.rough_skin_mm } else { &table.bright_skin_mm };
    let mut length = |given: Option<f64>, row: &Sourced, what: &str| {
        given.unwrap_or_else(|| {
            gaps.assumed.push(assumed(what, &show::fine_length(row.value, units), &row.source));
            row.value
        })
    };
    let touch_off_mm = length(given.touch_off.map(Plain::plain), &table.touch_off_scatter_mm, "scatter of a touch-off");
    let bar_mm = length(given.bar.map(Plain::plain), bar, "scatter of the bar's surface under the first touch-off");
    let seat_mm =
        length(given.seat.map(Plain::plain), &table.seat_scatter_mm, "scatter of a finished face on its seat");
    let cut_mm = length(given.cut.map(Plain::plain), &table.cut_scatter_mm, "scatter of a finishing cut");
    let mut share = |given: Option<f64>, row: &Sourced, what: &str| {
        given.unwrap_or_else(|| {
            gaps.assumed.push(assumed(what, &format!("{} %", row.value * 100.0), &row.source));
            row.value
        })
    };
    let screw_share = share(given.screw, &table.screw_error_share, "error of the depth screw, of its travel");
    let cut_share =
        share(given.cut_share, &table.cut_error_share, "error of dial and spring, of a finishing cut's depth");
    let new_blank_minutes = blank_minutes.or(given.new_blank_minutes).unwrap_or_else(|| {
        let row = &table.new_blank_minutes;
        gaps.assumed.push(assumed("minutes for a new blank after scrap", &format!("{} min", row.value), &row.source));
        row.value
    });
    ScatterFacts { touch_off_mm, bar_mm, seat_mm, screw_share, cut_mm, cut_share, new_blank_minutes }
}
