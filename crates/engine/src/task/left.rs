//! Faces that stay as the bar has them: where the bar's own surface lies, against where the part has the face.

use super::flats::Face;
use crate::part::Place;
use crate::shape::Section;

/// Two surfaces are one within this, mm: rounding.
const SAME_MM: f64 = 1e-6;

/// A face that stays but is not there on the bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misplaced {
    /// Its index.
    pub face: usize,
    /// Where the bar's own surface that looks the same way lies, mm, counted as the face's distance is; `None`: a round
    /// has none.
    pub bar_mm: Option<f64>,
}

/// The bar's own surface that looks the way of a face, mm from the bar's middle; `None`: no flat looks that way.
pub fn own_surface_mm(bar: &Section, bar_length_mm: f64, place: Place) -> Option<f64> {
    match place {
        Place::Front | Place::Back => Some(bar_length_mm / 2.0),
        Place::Side(angle) => bar.flat_mm(angle),
    }
}

/// Lays every face that stays onto the bar's own surface where the limits of its size allow that; the opposite face,
/// if it is cut, goes with it, so that the size between the two comes out as it is asked.
pub fn settle(bar: &Section, bar_length_mm: f64, faces: &mut [Face]) {
    let moves: Vec<(usize, f64)> =
        (0..faces.len()).filter_map(|at| Some((at, within_limits(bar, bar_length_mm, faces, at)?))).collect();
    for (at, by_mm) in moves {
        faces[at].distance_mm += by_mm;
        match faces[at].across {
            Some(across) if faces[across.opposite].cut => faces[across.opposite].distance_mm -= by_mm,
            _ => {}
        }
    }
}

/// The faces that stay and are not there on the bar.
pub fn misplaced(bar: &Section, bar_length_mm: f64, faces: &[Face]) -> Vec<Misplaced> {
    let stays = faces.iter().enumerate().filter(|(_, face)| !face.cut);
    stays
        .map(|(at, face)| (Misplaced { face: at, bar_mm: own_surface_mm(bar, bar_length_mm, face.place) }, face))
        .filter(|(there, face)| there.bar_mm.is_none_or(|bar_mm| (bar_mm - face.distance_mm).abs() > SAME_MM))
        .map(|(there, _)| there)
        .collect()
}

/// How far a face that stays must be moved outwards to lie on the bar's own surface, if its limits bear that.
fn within_limits(bar: &Section, bar_length_mm: f64, faces: &[Face], at: usize) -> Option<f64> {
    let off = |face: &Face| Some(own_surface_mm(bar, bar_length_mm, face.place)? - face.distance_mm);
    let face = &faces[at];
    let here = (!face.cut).then(|| off(face))??;
    // Distances aim at the middle of the limits.
    let (band, there) = match (face.across, face.alone_mm) {
        (Some(across), _) => (across.plus_mm + across.minus_mm, Some(&faces[across.opposite])),
        (None, Some((plus, minus))) => (plus + minus, None),
        (None, None) => (0.0, None),
    };
    let half = band / 2.0 + SAME_MM;
    // With the opposite face cut the size is made there; with both left it is what the bar has.
    let size_off = match there {
        Some(there) if !there.cut => here + off(there)?,
        _ => here,
    };
    let each = there.filter(|there| !there.cut).and_then(off).unwrap_or(0.0);
    [here, each, size_off].iter().all(|off| off.abs() <= half).then_some(here)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::task::Across;
    use std::f64::consts::FRAC_PI_2;

    /// Two faces, up and down, `band_mm` wide limits between.
    fn pair(up: f64, down: f64, band_mm: f64, cut: [bool; 2]) -> Vec<Face> {
        let face = |at: usize, angle: f64, distance_mm: f64| Face {
            name: ["D", "F"][at].to_string(),
            place: Place::Side(angle),
            distance_mm,
            cut: cut[at],
            across: Some(Across {
                opposite: 1 - at,
                nominal_mm: up + down,
                aim_mm: up + down,
                plus_mm: band_mm / 2.0,
                minus_mm: band_mm / 2.0,
            }),
            alone_mm: None,
        };
        vec![face(0, FRAC_PI_2, up), face(1, -FRAC_PI_2, down)]
    }

    fn distances(faces: &[Face]) -> [f64; 2] {
        [faces[0].distance_mm, faces[1].distance_mm]
    }

    /// A bar of 50 by 30: its flats lie 15 from the middle, by halving.
    fn bar() -> Section {
        Section::rectangle(-25.0, 25.0, -15.0, 15.0)
    }

    #[test]
    fn a_face_near_the_bars_flat_is_laid_on_it_and_the_size_is_kept() {
        let mut faces = pair(14.9, 12.0, 0.3, [false, true]);
        settle(&bar(), 60.0, &mut faces);
        let [up, down] = distances(&faces);
        assert!((up - 15.0).abs() < 1e-12 && (up + down - 26.9).abs() < 1e-12, "{up} {down}");
        assert_eq!(misplaced(&bar(), 60.0, &faces), []);
    }

    #[test]
    fn a_face_beyond_its_limits_stays_and_is_named() {
        let mut faces = pair(14.0, 12.0, 0.3, [false, true]);
        settle(&bar(), 60.0, &mut faces);
        assert_eq!(distances(&faces), [14.0, 12.0]);
        assert_eq!(misplaced(&bar(), 60.0, &faces), [Misplaced { face: 0, bar_mm: Some(15.0) }]);
        let round = Section::round(29.0);
        assert_eq!(misplaced(&round, 60.0, &faces), [Misplaced { face: 0, bar_mm: None }]);
    }

    #[test]
    fn of_two_left_faces_the_size_between_them_must_be_the_bars() {
        // Each is off by 0.1, the size by 0.2: more than half of 0.3.
        let mut faces = pair(14.9, 14.9, 0.3, [false, false]);
        settle(&bar(), 60.0, &mut faces);
        assert_eq!(misplaced(&bar(), 60.0, &faces).len(), 2);
        let mut wide = pair(14.9, 14.9, 0.5, [false, false]);
        settle(&bar(), 60.0, &mut wide);
        assert_eq!((distances(&wide), misplaced(&bar(), 60.0, &wide).len()), ([15.0, 15.0], 0));
        // As thick as the bar, but lying beside it.
        let mut beside = pair(18.0, 12.0, 0.5, [false, false]);
        settle(&bar(), 60.0, &mut beside);
        assert_eq!(misplaced(&bar(), 60.0, &beside).len(), 2);
    }
}
