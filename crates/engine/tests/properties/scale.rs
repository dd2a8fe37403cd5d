//! Geometry has no size of its own: k times every length gives k times the radii, k² the areas, k³ the
//! volumes, and the same shares and entries. A whole plan is *not* free of scale, since marks of a dial,
//! listed feeds and speeds, nose radius, clearances and tables of forces keep their size; so this is
//! asked of bar, piece and floor only.

use std::f64::consts::TAU;

use engine::part::Place;
use engine::shape::{Piece, Point, Section};
use proptest::prelude::*;

/// A round bar with some flats on it, k times as large.
fn piece(radius: f64, length: f64, flats: &[(f64, f64)], k: f64) -> Piece {
    let bar = Piece::new(Section::round(k * radius), -k * length / 2.0, k * length / 2.0);
    flats.iter().fold(bar, |piece, &(angle, share)| piece.with_side(angle, k * share * radius))
}

fn same(ours: f64, theirs: f64, size: f64) -> Result<(), TestCaseError> {
    prop_assert!((ours - theirs).abs() <= 1e-9 * size, "{} is not {}", ours, theirs);
    Ok(())
}

proptest! {
    #![proptest_config(super::seeded(256, 43))]

    #[test]
    fn floors_and_volumes_scale(
        k in 0.02..50.0f64,
        (radius, length) in (10.0..60.0f64, 10.0..90.0f64),
        flats in prop::collection::vec((0.0..TAU, 0.4..0.95f64), 0..5),
        (angle, share) in (0.0..TAU, 0.45..0.9f64),
        (x, y) in (-0.4..0.4f64, -0.4..0.4f64),
    ) {
        let (one, large) = (piece(radius, length, &flats, 1.0), piece(radius, length, &flats, k));
        let bar_mm3 = radius * radius * length;
        same(large.volume_mm3() / k.powi(3), one.volume_mm3(), bar_mm3)?;
        for place in [Place::Side(angle), Place::Front, Place::Back] {
            let height = match place { Place::Side(_) => share * radius, _ => share * length / 2.0 };
            let axis = Point::new(x * radius, y * radius);
            let (floor, floor_k) = (one.floor(place, height, axis), large.floor(place, k * height, axis * k));
            same(floor_k.area_mm2() / k.powi(2), floor.area_mm2(), radius * length)?;
            same(floor_k.start_radius_mm / k, floor.start_radius_mm, radius)?;
            same(floor_k.end_radius_mm / k, floor.end_radius_mm, radius)?;
            same(floor_k.mean_share(), floor.mean_share(), 1.0)?;
            prop_assert_eq!(floor_k.most_entries(), floor.most_entries());
            let top = one.reach_mm(place);
            if top > height {
                same(large.removed_mm3(place, k * top, k * height) / k.powi(3), one.removed_mm3(place, top, height), bar_mm3)?;
            }
        }
    }
}
