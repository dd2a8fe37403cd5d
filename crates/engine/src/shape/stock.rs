//! The least bar that would do.

use std::sync::OnceLock;

use serde::Deserialize;

use super::Section;
use crate::job::Surface;

/// Least bar for a part: bare, and with what the trade leaves on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeastStock {
    /// Smallest circle round the section, diameter, mm.
    pub bare_mm: f64,
    /// With clean-up allowance for the bar's surface, diameter, mm.
    pub with_allowance_mm: f64,
    /// Where the allowance comes from.
    pub source: &'static str,
}

/// What a bar must lose so that its skin is gone, on the diameter across corners.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SectionAllowance {
    /// Name of the surface, as in a job.
    pub surface: String,
    /// Least, on diameter, mm.
    pub least_on_diameter_mm: f64,
    /// Usual most, on diameter, mm.
    pub most_on_diameter_mm: f64,
    /// Least, as a share of the bar's diameter on each side.
    pub share_per_side: f64,
    /// Where it comes from.
    pub source: String,
}

/// What a sawn end must lose.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EndAllowance {
    /// Least, each end, mm.
    pub least_per_end_mm: f64,
    /// Usual most, each end, mm.
    pub most_per_end_mm: f64,
    /// How far a saw runs out of square, as a share of what it cuts across.
    pub out_of_square_share: f64,
    /// Where it comes from.
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    section: Vec<SectionAllowance>,
    end: EndAllowance,
}

/// Least round bar for a part's section; `None` where there is no metal.
///
/// The bar must be the larger of corners + allowance and corners / (1 − 2 share): a skin that grows
/// with the bar must come off both sides.
pub fn least_round_mm(part: &Section, surface: Surface) -> Option<LeastStock> {
    let bare_mm = 2.0 * part.enclosing_circle()?.radius_mm;
    let row = section_allowance(surface);
    let with_allowance_mm = (bare_mm + row.least_on_diameter_mm).max(bare_mm / (1.0 - 2.0 * row.share_per_side));
    Some(LeastStock { bare_mm, with_allowance_mm, source: &row.source })
}

/// Least length of a sawn bar, mm, for a part of that length of which `ends_faced` (0 to 2) ends are
/// cut, from a bar that wide across: each end loses the least allowance, or what the saw ran out of
/// square if that is more.
pub fn least_length_mm(part_length_mm: f64, across_mm: f64, ends_faced: u8) -> f64 {
    let row = end_allowance();
    let each = row.least_per_end_mm.max(row.out_of_square_share * across_mm);
    part_length_mm + f64::from(ends_faced.min(2)) * each
}

/// The row of a surface.
pub fn section_allowance(surface: Surface) -> &'static SectionAllowance {
    let rows = &table().section;
    let found = rows.iter().find(|row| row.surface == name(surface));
    found.expect("the table has a row for every surface, as its test shows")
}

/// The row of sawn ends.
pub fn end_allowance() -> &'static EndAllowance {
    &table().end
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../data/stock_allowance.toml")).expect("the table parses, as its test shows")
    })
}

fn name(surface: Surface) -> &'static str {
    match surface {
        Surface::HotRolled => "hot-rolled",
        Surface::Drawn => "drawn",
        Surface::Turned => "turned",
        Surface::Ground => "ground",
        Surface::Cast => "cast",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sorted_complete_in_range_and_sourced() {
        let rows = &table().section;
        let names: Vec<&str> = rows.iter().map(|row| row.surface.as_str()).collect();
        let mut sorted = names.clone();
        sorted.sort_unstable();
        sorted.dedup();
        assert_eq!(names, sorted);
        for surface in [Surface::HotRolled, Surface::Drawn, Surface::Turned, Surface::Ground, Surface::Cast] {
            assert_eq!(section_allowance(surface).surface, name(surface));
        }
        for row in rows {
            assert!(row.least_on_diameter_mm > 0.0 && row.least_on_diameter_mm <= row.most_on_diameter_mm);
            assert!(row.most_on_diameter_mm <= 10.0 && (0.0..0.1).contains(&row.share_per_side));
            assert!(row.source.len() > 20);
        }
        let end = end_allowance();
        assert!(end.least_per_end_mm > 0.0 && end.least_per_end_mm <= end.most_per_end_mm);
        assert!((0.0..0.2).contains(&end.out_of_square_share) && end.source.len() > 20);
    }

    #[test]
    fn a_part_without_metal_needs_no_bar() {
        assert_eq!(least_round_mm(&Section::empty(), Surface::Drawn), None);
    }

    #[test]
    fn ends_that_stay_as_sawn_lose_nothing() {
        assert_eq!(least_length_mm(44.0, 58.0, 0), 44.0);
        assert!(least_length_mm(44.0, 58.0, 1) < least_length_mm(44.0, 58.0, 2));
        assert_eq!(least_length_mm(44.0, 58.0, 2), least_length_mm(44.0, 58.0, 9));
    }
}
