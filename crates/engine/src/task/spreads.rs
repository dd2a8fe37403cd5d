//! Where size and squareness are lost in this shop: what it says itself, else the table's spreads.

use super::{ScatterFacts, assumed};
use crate::accuracy::{Spreads, spread};
use crate::job::{Job, Surface};
use crate::plan::Assumed;
use crate::quantity::Plain;
use crate::shop::{Chuck, Lathe, Scatter, Shop};
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

/// A spread of the table: its row, the words for it, what the shop gives in plain numbers, where it goes.
type Asked = (&'static str, &'static str, fn(&Scatter) -> Option<f64>, fn(&mut Spreads) -> &mut f64);

/// What the forecast asks of a shop, with the words for it.
const ASKED: [Asked; 8] = [
    ("by_eye_mrad", "squared by eye alone", |of| of.by_eye.map(Plain::plain), |to| &mut to.by_eye_rad),
    ("chuck_face_mrad", "tilt of the chuck's face", |of| of.chuck_face.map(Plain::plain), |to| &mut to.chuck_face_rad),
    ("dirt_um", "dirt left at a point of a wiped bearing", |of| of.dirt.map(Plain::plain), |to| &mut to.dirt_mm),
    ("packing_um", "unevenness of packing along a jaw", |of| of.packing.map(Plain::plain), |to| &mut to.packing_mm),
    (
        "parallels_um",
        "parallels of a pair against each other",
        |of| of.parallels.map(Plain::plain),
        |to| &mut to.parallels_mm,
    ),
    ("roughness_share", "roughness about what feed and nose give", |of| of.roughness, |to| &mut to.roughness_share),
    ("sawn_mrad", "lean of a sawn end", |of| of.sawn_end.map(Plain::plain), |to| &mut to.sawn_rad),
    ("tapped_um", "tapped down, at the edge of the seat", |of| of.tapped.map(Plain::plain), |to| &mut to.tapped_mm),
];
/// What no shop gives.
const TAKEN: (&str, &str) = ("seat_over_jaw_stiffness", "stiffness of a seat over a jaw's while tapping down");

pub(super) fn resolve(job: &Job, shop: &Shop, skin: Surface, scatter: &ScatterFacts) -> SpreadFacts {
    let lathe = shop.lathes.iter().find(|lathe| job.lathe.as_ref().is_none_or(|name| *name == lathe.name));
    let chuck = shop.chucks.iter().find(|chuck| job.chuck.as_ref().is_none_or(|name| *name == chuck.name));
    let mut spreads = Spreads::from_table(skin_name(skin), (scatter.cut_mm, scatter.cut_share, scatter.touch_off_mm));
    let told = from_shop(&shop.scatter, skin, &mut spreads);
    of(lathe, chuck, spreads, told)
}

/// What the shop says of its spreads; those that it does not give.
fn from_shop(given: &Scatter, skin: Surface, spreads: &mut Spreads) -> Vec<Assumed> {
    let mut told = Vec::new();
    for (row, what, of, to) in ASKED {
        match of(given) {
            Some(value) => *to(spreads) = value,
            None => told.push(said(what, spread(row))),
        }
    }
    told.push(said(TAKEN.1, spread(TAKEN.0)));
    match given.skin {
        Some(angle) => spreads.bar_rad = angle.plain(),
        None => {
            told.push(said("lean of the bar's skin under a jaw", spread(&format!("bar_{}_mrad", skin_name(skin)))));
        }
    }
    told
}

fn of(lathe: Option<&Lathe>, chuck: Option<&Chuck>, mut spreads: Spreads, mut told: Vec<Assumed>) -> SpreadFacts {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{degrees, mm};

    /// What a shop gives stands where the table's value stood, and is no longer told as assumed.
    #[test]
    fn every_spread_of_the_table_gives_way_to_the_shops() {
        let table = Spreads::from_table("drawn", (0.006, 0.02, 0.008));
        let (lean, length) = (Some(degrees(1.25)), Some(mm(0.125)));
        let given = Scatter {
            by_eye: lean,
            chuck_face: lean,
            dirt: length,
            packing: length,
            parallels: length,
            roughness: Some(0.35),
            sawn_end: lean,
            skin: lean,
            tapped: length,
            ..Scatter::default()
        };
        let mut spreads = table;
        assert_eq!(from_shop(&Scatter::default(), Surface::Drawn, &mut spreads).len(), ASKED.len() + 2);
        assert_eq!(spreads, table);
        let told = from_shop(&given, Surface::Drawn, &mut spreads);
        assert_eq!(told.iter().map(|one| one.what.as_str()).collect::<Vec<_>>(), [TAKEN.1]);
        let leans = [spreads.by_eye_rad, spreads.chuck_face_rad, spreads.sawn_rad, spreads.bar_rad];
        assert!(leans.iter().all(|lean| (lean - 1.25f64.to_radians()).abs() < 1e-12), "{leans:?}");
        let lengths = [spreads.dirt_mm, spreads.packing_mm, spreads.parallels_mm, spreads.tapped_mm];
        assert_eq!((lengths, spreads.roughness_share), ([0.125; 4], 0.35));
    }
}
