//! Least zones: how wide the gap between two parallel lines or planes must be to hold all points (ISO 1101).
//!
//! The least of the greatest is found by exchange: of three (four) points the least zone follows from the one way in
//! which they balance, and a point outside it takes the place of one of them.

use nalgebra::{Matrix3, Matrix4, Vector4};

use super::solid::V3;

/// Exchanges at most; each widens the zone, so that it ends long before.
const EXCHANGES: usize = 200;

/// Width and slope of the least strip over points (x, height).
pub fn strip(points: &[(f64, f64)]) -> (f64, f64) {
    let as_planes: Vec<V3> = points.iter().map(|(x, height)| V3::new(*x, 0.0, *height)).collect();
    let zone = Exchange { points: &as_planes, unknowns: 1 }.solve();
    (zone.0, zone.1[0])
}

/// Width and slopes of the least slab over points (x, y, height), measured along height.
pub fn slab(points: &[V3]) -> (f64, [f64; 2]) {
    Exchange { points, unknowns: 2 }.solve()
}

struct Exchange<'a> {
    points: &'a [V3],
    unknowns: usize,
}

impl Exchange<'_> {
    fn solve(&self) -> (f64, [f64; 2]) {
        let mut kept: Vec<usize> = self.first();
        let mut best = self.zone(&kept).unwrap_or((0.0, [0.0; 2], 0.0));
        for _ in 0..EXCHANGES {
            let off = |at: &usize| (self.residual(*at, &best.1) - best.2).abs();
            let Some(worst) = (0..self.points.len()).max_by(|one, other| off(one).total_cmp(&off(other))) else {
                break;
            };
            if off(&worst) <= best.0 / 2.0 + 1e-13 || kept.contains(&worst) {
                break;
            }
            let without = (0..kept.len()).map(|out| {
                let mut fewer = kept.clone();
                fewer[out] = worst;
                fewer
            });
            let zones = without.filter_map(|fewer| self.zone(&fewer).map(|zone| (fewer, zone)));
            let Some((wider, zone)) = zones.max_by(|one, other| one.1.0.total_cmp(&other.1.0)) else { break };
            (kept, best) = (wider, zone);
        }
        // What the plane found really needs, not what the kept points say.
        (self.range(&best.1), best.1)
    }

    fn residual(&self, at: usize, slope: &[f64; 2]) -> f64 {
        let point = &self.points[at];
        point.z - slope[0] * point.x - slope[1] * point.y
    }

    fn range(&self, slope: &[f64; 2]) -> f64 {
        let all = (0..self.points.len()).map(|at| self.residual(at, slope));
        let (least, most) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)));
        if most < least { 0.0 } else { most - least }
    }

    /// Points far apart to begin with.
    fn first(&self) -> Vec<usize> {
        let ways: &[[f64; 2]] =
            if self.unknowns == 1 { &[[1.0, 0.0], [-1.0, 0.0]] } else { &[[1.0, 0.3], [-1.0, -0.3], [-0.3, 1.0]] };
        let mut kept: Vec<usize> = Vec::new();
        for way in ways {
            let along = |at: &usize| self.points[*at].x * way[0] + self.points[*at].y * way[1];
            kept.extend((0..self.points.len()).max_by(|one, other| along(one).total_cmp(&along(other))));
        }
        let more = (0..self.points.len()).find(|at| {
            !kept.contains(at) && {
                let mut with = kept.clone();
                with.push(*at);
                self.zone(&with).is_some()
            }
        });
        kept.extend(more);
        kept
    }

    /// Width, slopes and middle of the zone of these few points: their only balance says who lies above and below.
    fn zone(&self, kept: &[usize]) -> Option<(f64, [f64; 2], f64)> {
        if kept.len() != self.unknowns + 2 {
            return None;
        }
        let weights = self.balance(kept)?;
        let sum: f64 = weights.iter().map(|weight| weight.abs()).sum();
        let lifted: f64 = kept.iter().zip(&weights).map(|(at, weight)| weight * self.points[*at].z).sum();
        let half = lifted / sum;
        let sides: Vec<f64> = weights.iter().map(|weight| if *weight < 0.0 { -1.0 } else { 1.0 }).collect();
        let plane = self.through(kept, &sides, half)?;
        Some((2.0 * half.abs(), [plane[0], plane[1]], plane[2]))
    }

    /// Weights that cancel in the plane and in number.
    fn balance(&self, kept: &[usize]) -> Option<Vec<f64>> {
        let at = |of: usize| (self.points[kept[of]].x, self.points[kept[of]].y);
        if self.unknowns == 1 {
            let (a, b, c) = (at(0).0, at(1).0, at(2).0);
            let weights = vec![b - c, c - a, a - b];
            return (weights.iter().any(|weight| weight.abs() > 1e-9)).then_some(weights);
        }
        let area = |one: usize, two: usize, three: usize| {
            let rows = [at(one), at(two), at(three)].map(|(x, y)| [x, y, 1.0]).concat();
            Matrix3::from_row_slice(&rows).determinant()
        };
        let weights = vec![area(1, 2, 3), -area(0, 2, 3), area(0, 1, 3), -area(0, 1, 2)];
        (weights.iter().any(|weight| weight.abs() > 1e-9)).then_some(weights)
    }

    /// Slopes and middle of the plane from which each point is `half` off on its side.
    fn through(&self, kept: &[usize], sides: &[f64], half: f64) -> Option<[f64; 3]> {
        if self.unknowns == 1 {
            // Two of the three that stand apart.
            let rows: Vec<(f64, f64)> = kept
                .iter()
                .zip(sides)
                .map(|(at, side)| (self.points[*at].x, self.points[*at].z - side * half))
                .collect();
            let by_x = |one: &&(f64, f64), other: &&(f64, f64)| one.0.total_cmp(&other.0);
            let (low, high) = (rows.iter().min_by(by_x)?, rows.iter().max_by(by_x)?);
            let slope = if high.0 > low.0 { (high.1 - low.1) / (high.0 - low.0) } else { 0.0 };
            return Some([slope, 0.0, low.1 - slope * low.0]);
        }
        let (mut rows, mut heights) = (Matrix4::zeros(), Vector4::zeros());
        for (row, (at, side)) in kept.iter().zip(sides).enumerate() {
            let point = &self.points[*at];
            rows.set_row(row, &nalgebra::RowVector4::new(point.x, point.y, 1.0, *side));
            heights[row] = point.z;
        }
        let solved = rows.lu().solve(&heights)?;
        Some([solved[0], solved[1], solved[2]])
    }
}

/// Slopes of the least squares plane z = a x + b y + c.
pub fn least_squares(points: &[V3]) -> [f64; 2] {
    let middle = points.iter().sum::<V3>() / points.len() as f64;
    let (mut xx, mut xy, mut yy, mut xz, mut yz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for point in points {
        let from = point - middle;
        xx += from.x * from.x;
        xy += from.x * from.y;
        yy += from.y * from.y;
        xz += from.x * from.z;
        yz += from.y * from.z;
    }
    let det = xx * yy - xy * xy;
    [(xz * yy - yz * xy) / det, (yz * xx - xz * xy) / det]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(points: &[V3], slope: [f64; 2]) -> f64 {
        let off = points.iter().map(|point| point.z - slope[0] * point.x - slope[1] * point.y);
        let (least, most) = off.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)));
        most - least
    }

    #[test]
    fn flatness_of_five_points_is_that_of_a_general_linear_program() {
        // Points printed in a question on an engineers' forum; least zone 0.0672623 along z by a general linear program
        // (scipy's), worked out apart from this.
        let points = [[11.5, 7.0, 1.1], [18.5, 6.9, 1.03], [4.5, 13.0, 1.02], [25.5, 30.0, 1.03], [11.5, 37.5, 1.02]]
            .map(V3::from);
        let (width, slope) = slab(&points);
        assert!((width - 0.067_262_3).abs() < 5e-8, "{width}");
        assert!((slope[0] + 4.285_714e-4).abs() < 1e-9 && (slope[1] + 2.622_951e-3).abs() < 1e-9, "{slope:?}");
        let fitted = least_squares(&points);
        assert!((range(&points, fitted) - 0.072_097_3).abs() < 1e-6);
    }

    #[test]
    fn flatness_of_nine_points_and_of_a_cone() {
        let heights = [0.0, 3.0, 4.0, 2.0, 6.0, 5.0, 1.0, 4.0, 8.0];
        let grid: Vec<V3> = (0..9)
            .map(|at| V3::new(25.0 * f64::from(at % 3), 25.0 * f64::from(at / 3), heights[at as usize]))
            .collect();
        assert!((slab(&grid).0 - 3.5).abs() < 1e-12, "{:?}", slab(&grid));
        let cone: Vec<V3> = grid
            .iter()
            .map(|point| V3::new(point.x - 25.0, point.y - 25.0, 0.1 * (point.x - 25.0).hypot(point.y - 25.0)))
            .collect();
        assert!((slab(&cone).0 - 3.535_534).abs() < 1e-6, "{:?}", slab(&cone));
    }

    #[test]
    fn a_zone_is_never_wider_than_any_other_slope_would_make_it() {
        let mut dice = super::super::dice::Dice::new(5);
        for _ in 0..200 {
            let points: Vec<V3> = (0..30)
                .map(|_| V3::new(dice.between(-20.0, 20.0), dice.between(-30.0, 30.0), dice.between(0.0, 1.0)))
                .collect();
            let (width, slope) = slab(&points);
            assert!((range(&points, slope) - width).abs() < 1e-12);
            let flat: Vec<(f64, f64)> = points.iter().map(|point| (point.x, point.z)).collect();
            let (strip_width, strip_slope) = strip(&flat);
            for _ in 0..50 {
                let (a, b) = (dice.between(-0.01, 0.01), dice.between(-0.01, 0.01));
                assert!(range(&points, [slope[0] + a, slope[1] + b]) >= width - 1e-12);
                let (least, most) = flat
                    .iter()
                    .map(|(x, z)| z - (strip_slope + a) * x)
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| (least.min(at), most.max(at)));
                assert!(most - least >= strip_width - 1e-12);
            }
        }
    }
}
