//! The spreads that the forecast starts from, each with its source; a shop may set its own.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::sourced::{Sourced, table};

/// Standard deviations of what is new or unknown at a bench; mm and rad inside, as everywhere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spreads {
    /// Axial slip of the spindle, full needle, mm.
    pub axial_slip_mm: f64,
    /// How far the bar's skin leans where a jaw bears, rad.
    pub bar_rad: f64,
    /// A motion that only the eye sets, rad.
    pub by_eye_rad: f64,
    /// The chuck's face, fixed to the jaws, rad.
    pub chuck_face_rad: f64,
    /// Cross slide out of square: what is known of it, positive facing hollow, rad.
    pub cross_slide_rad: f64,
    /// ... and what is not, rad.
    pub cross_slide_spread_rad: f64,
    /// Scatter of the last cut, mm.
    pub cut_scatter_mm: f64,
    /// Dial and spring, as a share of the last cut.
    pub dial_share: f64,
    /// What is left at one point of a wiped bearing, mm.
    pub dirt_mm: f64,
    /// Face of a jaw; it stays with the jaw, rad.
    pub jaw_tilt_rad: f64,
    /// Soft packing from one end of a jaw to the other, mm.
    pub packing_mm: f64,
    /// One of a pair of parallels against the other, mm.
    pub parallels_mm: f64,
    /// New at every grip, rad.
    pub regrip_tilt_rad: f64,
    /// Roughness about what feed and nose give, as a share.
    pub roughness_share: f64,
    /// An end as sawn, rad.
    pub sawn_rad: f64,
    /// Stiffness of a seat while work is tapped down on it, over a jaw's.
    pub seat_over_jaw_stiffness: f64,
    /// Tapped down on a clean seat: at its edge, mm.
    pub tapped_mm: f64,
    /// Touching off, mm.
    pub touch_off_mm: f64,
}

impl Spreads {
    /// What the table says, for a bar of this skin; how sizes scatter comes from elsewhere: of the last cut, mm, as a
    /// share of it, and of touching off, mm.
    pub fn from_table(skin: &str, (cut_scatter_mm, dial_share, touch_off_mm): (f64, f64, f64)) -> Spreads {
        let mrad = |name: &str| spread(name).value / 1e3;
        let um = |name: &str| spread(name).value / 1e3;
        Spreads {
            axial_slip_mm: um("axial_slip_um"),
            bar_rad: mrad(&format!("bar_{skin}_mrad")),
            by_eye_rad: mrad("by_eye_mrad"),
            chuck_face_rad: mrad("chuck_face_mrad"),
            cross_slide_rad: mrad("cross_slide_mrad"),
            cross_slide_spread_rad: mrad("cross_slide_spread_mrad"),
            cut_scatter_mm,
            dial_share,
            dirt_mm: um("dirt_um"),
            jaw_tilt_rad: mrad("jaw_tilt_mrad"),
            packing_mm: um("packing_um"),
            parallels_mm: um("parallels_um"),
            regrip_tilt_rad: mrad("regrip_tilt_mrad"),
            roughness_share: spread("roughness_share").value,
            sawn_rad: mrad("sawn_mrad"),
            seat_over_jaw_stiffness: spread("seat_over_jaw_stiffness").value,
            tapped_mm: um("tapped_um"),
            touch_off_mm,
        }
    }
}

/// The row of that name; names are given in code and checked by a test.
pub fn spread(name: &str) -> &'static Sourced {
    rows().get(name).expect("every name asked for stands in the table")
}

/// Every row by its name.
pub fn rows() -> &'static BTreeMap<String, Sourced> {
    static ROWS: OnceLock<BTreeMap<String, Sourced>> = OnceLock::new();
    ROWS.get_or_init(|| table(TABLE))
}

const TABLE: &str = include_str!("../../data/noises.toml");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_sorted_positive_and_sourced() {
        for (name, row) in crate::sourced::checked(TABLE) {
            assert!(row.source.len() > 20, "{name}");
            let unit = if name.ends_with("_um") {
                "um"
            } else if name.ends_with("_mrad") {
                "mrad"
            } else {
                "1"
            };
            assert_eq!(row.unit, unit, "{name}");
        }
    }

    #[test]
    fn every_skin_has_its_spread() {
        for skin in ["hot_rolled", "drawn", "turned", "ground", "cast"] {
            assert!(Spreads::from_table(skin, (0.006, 0.02, 0.008)).bar_rad > 0.0);
        }
    }
}
