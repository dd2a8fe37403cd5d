//! Hatching of a convex region, with room left for letters.

use crate::figure::Curve;
use crate::vector::{Flat, between, dot, go, quarter};

/// What is hatched: inside a closed convex edge, and where `normal · p >= offset` if that is asked.
#[derive(Debug, Clone)]
pub struct Region {
    /// The closed edge, mm of paper.
    pub edge: Vec<Curve>,
    /// Half of the plane to which it is restricted.
    pub beyond: Option<(Flat, f64)>,
}

/// Hatching lines at 45 degrees, this far apart, that keep clear of the boxes.
pub fn hatch(region: &Region, apart_mm: f64, boxes: &[[f64; 4]]) -> Vec<Curve> {
    let across = [0.5_f64.sqrt(), 0.5_f64.sqrt()];
    let along = quarter(across);
    let bounds = crate::curve::bounds_of_all(&region.edge);
    let corners = [[bounds[0], bounds[1]], [bounds[2], bounds[3]]].map(|corner| dot(corner, across));
    if !(corners[0].is_finite() && corners[1].is_finite()) || corners[1] < corners[0] {
        return Vec::new();
    }
    let (first, last) = ((corners[0] / apart_mm).ceil() as i64, (corners[1] / apart_mm).floor() as i64);
    (first..=last)
        .filter_map(|step| inside(region, across, along, step as f64 * apart_mm))
        .flat_map(|line| around(line, boxes))
        .collect()
}

/// The stretch of the line `across · p = offset` that lies in the region.
fn inside(region: &Region, across: Flat, along: Flat, offset: f64) -> Option<[Flat; 2]> {
    let points = region.edge.iter().flat_map(|curve| curve.crossings(across, offset));
    let places: Vec<f64> = points.map(|point| dot(point, along)).collect();
    let (mut least, mut most) =
        (places.iter().copied().fold(f64::MAX, f64::min), places.iter().copied().fold(f64::MIN, f64::max));
    let at = |place: f64| go([across[0] * offset, across[1] * offset], along, place);
    if let (Some((normal, beyond)), true) = (region.beyond, most > least) {
        let rate = dot(normal, along);
        let limit = (beyond - dot(normal, at(0.0))) / rate;
        if rate > 1e-12 {
            least = least.max(limit);
        } else if rate < -1e-12 {
            most = most.min(limit);
        }
    }
    // A stroke shorter than it is wide is a spot.
    (most - least > 0.3).then(|| [at(least), at(most)])
}

/// A line parted by a closed convex edge: what of it lies inside, and what before and behind.
pub fn parted([from, to]: [Flat; 2], edge: &[Curve]) -> (Option<[Flat; 2]>, Vec<[Flat; 2]>) {
    let along = between(from, to);
    let length = along[0].hypot(along[1]);
    if length <= NONE_MM {
        return (None, Vec::new());
    }
    let way = along.map(|part| part / length);
    let across = quarter(way);
    let places = edge.iter().flat_map(|curve| curve.crossings(across, dot(from, across))).map(|at| dot(at, way));
    let (least, most) = places.fold((f64::MAX, f64::MIN), |(least, most), at| (least.min(at), most.max(at)));
    let (least, most) = ((least - dot(from, way)).max(0.0), (most - dot(from, way)).min(length));
    let stretch = |(a, b): (f64, f64)| (b - a > NONE_MM).then(|| [go(from, way, a), go(from, way, b)]);
    if most - least <= NONE_MM {
        return (None, vec![[from, to]]);
    }
    (stretch((least, most)), [(0.0, least), (most, length)].into_iter().filter_map(stretch).collect())
}

/// A line shorter than this is none, mm.
const NONE_MM: f64 = 1e-6;

/// A line with the stretches left out that run through boxes.
pub fn around(line: [Flat; 2], boxes: &[[f64; 4]]) -> Vec<Curve> {
    let along = between(line[0], line[1]);
    let mut free = vec![(0.0, 1.0)];
    for hidden in boxes.iter().filter_map(|frame| within(line[0], along, *frame)) {
        free = free.into_iter().flat_map(|stretch| without(stretch, hidden)).collect();
    }
    free.into_iter().map(|(a, b)| Curve::line(go(line[0], along, a), go(line[0], along, b))).collect()
}

fn without((a, b): (f64, f64), (from, to): (f64, f64)) -> Vec<(f64, f64)> {
    [(a, b.min(from)), (a.max(to), b)].into_iter().filter(|(a, b)| b - a > 1e-9).collect()
}

/// The share of a line inside a box.
pub fn within(from: Flat, along: Flat, frame: [f64; 4]) -> Option<(f64, f64)> {
    let (mut least, mut most) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let (low, high) = (frame[axis] - from[axis], frame[axis + 2] - from[axis]);
        if along[axis].abs() < 1e-12 {
            if low > 0.0 || high < 0.0 {
                return None;
            }
            continue;
        }
        let (a, b) = (low / along[axis], high / along[axis]);
        least = least.max(a.min(b));
        most = most.min(a.max(b));
    }
    (most > least).then_some((least, most))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vector::apart;

    #[test]
    fn a_line_is_parted_by_what_hides_it() {
        let circle = [Curve::circle([0.0, 0.0], 5.0)];
        let (inside, outside) = parted([[3.0, -10.0], [3.0, 2.0]], &circle);
        // Half a chord at 3 mm from the middle of a circle of 5: 4 mm.
        assert!(inside.is_some_and(|[a, b]| apart(a, [3.0, -4.0]) < 1e-9 && apart(b, [3.0, 2.0]) < 1e-9));
        assert!(outside.len() == 1 && apart(outside[0][1], [3.0, -4.0]) < 1e-9, "{outside:?}");
        assert_eq!(parted([[6.0, 0.0], [6.0, 2.0]], &circle).0, None);
    }

    #[test]
    fn hatching_of_a_circle_is_as_long_as_its_chords() {
        let region = Region { edge: vec![Curve::circle([0.0, 0.0], 10.0)], beyond: None };
        for line in hatch(&region, 1.0, &[]) {
            let off = (line.start()[0] + line.start()[1]) / 2_f64.sqrt();
            // Chord at a distance d from the middle: 2 sqrt(r² - d²).
            assert!((apart(line.start(), line.end()) - 2.0 * (100.0 - off * off).sqrt()).abs() < 1e-9);
        }
        let half = Region { beyond: Some(([1.0, 0.0], 4.0)), ..region };
        let lines = hatch(&half, 1.0, &[[5.0, -1.0, 7.0, 1.0]]);
        assert!(!lines.is_empty());
        assert!(lines.iter().all(|line| line.start()[0] > 4.0 - 1e-9 && line.end()[0] > 4.0 - 1e-9));
        assert!(
            lines
                .iter()
                .all(|line| within(line.start(), between(line.start(), line.end()), [5.1, -0.9, 6.9, 0.9]).is_none())
        );
    }
}
