//! Where size and squareness are lost in this shop: what it says itself, else the table's spreads.

use super::{ScatterFacts, assumed};
use crate::accuracy::{Spreads, spread};
use crate::job::{Job, Surface};
use crate::plan::Assumed;
use crate::quantity::Plain;
use crate::shop::{Chuck, Lathe, Shop};
use crate::sourced::Sourced;

/// Spreads of the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadFacts {
    /// Standard deviations.
    pub spreads: Spreads,
    /// Tilt of each jaw's face where the shop gives one value per jaw, rad; else empty.
    pub jaw_faces_rad: Vec<f64>,
    /// What of it the shop did not give, each with its source.
    pub assumed: Vec<Assumed>,
}

/// What the forecast asks of a shop, with the words for it.
const ASKED: [(&str, &str); 9] = [
    ("by_eye_mrad", "squared by eye alone"),
    ("chuck_face_mrad", "tilt of the chuck's face"),
    ("dirt_um", "dirt left at a point of a wiped bearing"),
    ("packing_um", "unevenness of packing along a jaw"),
    ("parallels_um", "parallels of a pair against each other"),
    ("roughness_share", "roughness about what feed and nose give"),
    ("sawn_mrad", "lean of a sawn end"),
    ("seat_over_jaw_stiffness", "stiffness of a seat over a jaw's while tapping down"),
    ("tapped_um", "tapped down, at the edge of the seat"),
];

pub(super) fn resolve(job: &Job, shop: &Shop, skin: Surface, scatter: &ScatterFacts) -> SpreadFacts {
    let lathe = shop.lathes.iter().find(|lathe| job.lathe.as_ref().is_none_or(|name| *name == lathe.name));
    let chuck = shop.chucks.iter().find(|chuck| job.chuck.as_ref().is_none_or(|name| *name == chuck.name));
    of(lathe, chuck, skin, scatter)
}

fn of(lathe: Option<&Lathe>, chuck: Option<&Chuck>, skin: Surface, scatter: &ScatterFacts) -> SpreadFacts {
    let mut spreads = Spreads::from_table(skin_name(skin), (scatter.cut_mm, scatter.cut_share, scatter.touch_off_mm));
    let mut told: Vec<Assumed> = ASKED.iter().map(|(name, what)| said(what, spread(name))).collect();
    let skin_row = format!("bar_{}_mrad", skin_name(skin));
    told.push(said("lean of the bar's skin under a jaw", spread(&skin_row)));
    match lathe.and_then(|lathe| lathe.spindle_axial_slip) {
        Some(slip) => spreads.axial_slip_mm = slip.plain(),
        None => told.push(said("axial slip of the spindle, full needle", spread("axial_slip_um"))),
    }
    match lathe.and_then(|lathe| lathe.cross_slide_out_of_square) {
        Some(angle) => (spreads.cross_slide_rad, spreads.cross_slide_spread_rad) = (angle.plain(), 0.0),
        None => told.push(said("cross slide out of square, facing hollow", spread("cross_slide_mrad"))),
    }
    match chuck.and_then(|chuck| chuck.regrip_tilt) {
        Some(angle) => spreads.regrip_tilt_rad = angle.plain(),
        None => told.push(said("tilt new at every grip", spread("regrip_tilt_mrad"))),
    }
    let mut jaw_faces_rad = Vec::new();
    match chuck.map_or(&[][..], |chuck| chuck.jaw_tilt.as_slice()) {
        [] => told.push(said("tilt of a jaw's face", spread("jaw_tilt_mrad"))),
        [between] => spreads.jaw_tilt_rad = between.plain(),
        each => jaw_faces_rad = each.iter().map(|angle| angle.plain()).collect(),
    }
    SpreadFacts { spreads, jaw_faces_rad, assumed: told }
}

fn said(what: &str, row: &Sourced) -> Assumed {
    let unit = match row.unit.as_str() {
        "1" => String::new(),
        "um" => " µm".to_string(),
        other => format!(" {other}"),
    };
    assumed(what, &format!("{}{unit}", row.value), &row.source)
}

fn skin_name(skin: Surface) -> &'static str {
    match skin {
        Surface::HotRolled => "hot_rolled",
        Surface::Drawn => "drawn",
        Surface::Turned => "turned",
        Surface::Ground => "ground",
        Surface::Cast => "cast",
    }
}
