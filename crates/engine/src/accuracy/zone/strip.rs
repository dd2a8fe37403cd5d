//! The narrowest strip between two parallel planes that are not upright: the plane of Chebyshev's approximation.
//!
//! `min t` over a, b, c with `|z − a x − b y − c| ≤ t` at every point: a linear program. Its dual has one column for each
//! side of each point and four rows; the simplex method on that dual exchanges one of four points at a time (Stiefel
//! 1959). Points in one upright plane, or one over another, have fewer rows.

use nalgebra::Vector3;

use super::plane::ends;

/// The strip.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// a and b of the middle plane z = a x + b y + c.
    pub slopes: [f64; 2],
    /// c, mm.
    pub height_mm: f64,
    /// Along z, between the two planes, mm.
    pub width_mm: f64,
    /// How much narrower no strip can be, mm: the width less the bound of the dual. Rounding, or 0.
    pub gap_mm: f64,
    /// The points that hold it, rising: three and one, or two and two; fewer where fewer are enough.
    pub held_by: Vec<usize>,
}

/// Violations below this share of the heights' range are rounding.
const ROUNDING: f64 = 1e-13;
/// Points that lie off a line by less than this share of its length lie on it.
const ON_LINE: f64 = 1e-9;

/// The narrowest strip about points with z upright. Any number of points, in any place: all on one upright plane, on
/// one upright line, or one point give the narrowest of many (with the least slope). `None` without points, or where a
/// coordinate is no number.
pub fn least_strip(points: &[Vector3<f64>]) -> Option<Strip> {
    let first = points.first()?;
    if points.iter().any(|point| !point.iter().all(|value| value.is_finite())) {
        return None;
    }
    // Heights and places in units of their own ranges about the first point: rounding is the same for all.
    let scale = points.iter().map(|point| (point - first).xy().norm()).fold(0.0, f64::max);
    let (low, high) = ends(points.iter().map(|point| point.z));
    let range = high - low;
    let heights: Vec<f64> =
        points.iter().map(|point| if range > 0.0 { (point.z - low) / range } else { 0.0 }).collect();
    let flat: Vec<[f64; 2]> = points
        .iter()
        .map(|point| if scale > 0.0 { [(point.x - first.x) / scale, (point.y - first.y) / scale] } else { [0.0; 2] })
        .collect();
    let (slopes, found) = solve(&flat, &heights);
    let slopes = slopes.map(|slope| if scale > 0.0 { slope * range / scale } else { 0.0 });
    let over = |point: &Vector3<f64>| point.z - slopes[0] * point.x - slopes[1] * point.y;
    let (least, most) = ends(points.iter().map(over));
    let width_mm = most - least;
    Some(Strip {
        slopes,
        height_mm: (least + most) / 2.0,
        width_mm,
        gap_mm: (width_mm - 2.0 * found.half * range).max(0.0),
        held_by: found.held_by,
    })
}

/// The bound of the dual, and who makes it.
struct Found {
    half: f64,
    held_by: Vec<usize>,
}

/// Slopes and bound in scaled units.
fn solve(flat: &[[f64; 2]], heights: &[f64]) -> ([f64; 2], Found) {
    let Some(far) = farthest(flat, |at| flat[at][0].hypot(flat[at][1])) else {
        let (_, found) = exchange::<2>(&vec![[1.0, 0.0]; flat.len()], heights, [0, 0, 0]);
        return ([0.0; 2], found);
    };
    let along = flat[far];
    let beside = |at: usize| (along[0] * flat[at][1] - along[1] * flat[at][0]).abs();
    match farthest(flat, beside) {
        None => {
            let length = along[0].hypot(along[1]);
            let on = |at: &[f64; 2]| (at[0] * along[0] + at[1] * along[1]) / length;
            let columns: Vec<[f64; 3]> = flat.iter().map(|at| [on(at), 1.0, 0.0]).collect();
            let (answer, found) = exchange::<3>(&columns, heights, [0, far, 0]);
            ([answer[0] * along[0] / length, answer[0] * along[1] / length], found)
        }
        Some(side) => {
            let columns: Vec<[f64; 4]> = flat.iter().map(|at| [at[0], at[1], 1.0, 0.0]).collect();
            let (answer, found) = exchange::<4>(&columns, heights, [0, far, side]);
            ([answer[0], answer[1]], found)
        }
    }
}

/// The first place of the largest measure, if it is more than nothing.
fn farthest(flat: &[[f64; 2]], measure: impl Fn(usize) -> f64) -> Option<usize> {
    let mut best = None;
    let mut most = ON_LINE;
    for at in 0..flat.len() {
        if measure(at) > most {
            (best, most) = (Some(at), measure(at));
        }
    }
    best
}

/// A side of a point: above (+1) or below (−1) the middle plane.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Touch {
    point: usize,
    side: f64,
}

/// The simplex method on the dual. A column of a point is (functions of its place, 0); the last row sums all weights to
/// one. It begins with both sides of the first point, half of the weight each, and the others at nothing.
fn exchange<const N: usize>(columns: &[[f64; N]], heights: &[f64], begin: [usize; 3]) -> ([f64; N], Found) {
    let column = |touch: Touch| {
        let mut full = columns[touch.point].map(|value| touch.side * value);
        full[N - 1] = 1.0;
        full
    };
    let mut basis = [Touch { point: begin[0], side: 1.0 }; N];
    basis[N - 1].side = -1.0;
    for (touch, point) in basis.iter_mut().zip(begin).take(N - 1) {
        touch.point = point;
    }
    let most_steps = 200 + 40 * heights.len();
    let (mut best, mut stalled) = (f64::NEG_INFINITY, 0);
    for _ in 0..most_steps {
        let rows = basis.map(column);
        let costs = basis.map(|touch| touch.side * heights[touch.point]);
        let Some(answer) = eliminate(rows, costs) else { break };
        stalled = if answer[N - 1] > best + ROUNDING { 0 } else { stalled + 1 };
        best = best.max(answer[N - 1]);
        // Bland's rule, the first instead of the worst, cannot go in circles where steps are of length nothing.
        let Some(enters) = entering(columns, heights, &answer, stalled > 2 * N) else { break };
        let Some(leaves) = leaving(rows, &basis, column(enters)) else { break };
        basis[leaves] = enters;
    }
    finish(heights, &basis, column)
}

/// The bound that the last basis gives, and the points with weight in it.
fn finish<const N: usize>(
    heights: &[f64],
    basis: &[Touch; N],
    column: impl Fn(Touch) -> [f64; N],
) -> ([f64; N], Found) {
    let rows = basis.map(column);
    let answer = eliminate(rows, basis.map(|touch| touch.side * heights[touch.point])).unwrap_or([0.0; N]);
    let weights = weights(rows, last_unit()).unwrap_or([0.0; N]);
    let mut held_by: Vec<usize> =
        basis.iter().zip(weights).filter(|(_, weight)| *weight > ROUNDING).map(|(touch, _)| touch.point).collect();
    held_by.sort_unstable();
    held_by.dedup();
    let half = basis
        .iter()
        .zip(weights)
        .map(|(touch, weight)| weight.max(0.0) * touch.side * heights[touch.point])
        .sum::<f64>()
        .max(0.0);
    (answer, Found { half, held_by })
}

fn last_unit<const N: usize>() -> [f64; N] {
    let mut unit = [0.0; N];
    unit[N - 1] = 1.0;
    unit
}

/// The side of a point that lies outside the strip of an answer: the farthest, or the first.
fn entering<const N: usize>(columns: &[[f64; N]], heights: &[f64], answer: &[f64; N], first: bool) -> Option<Touch> {
    let mut worst = None;
    let mut most = ROUNDING;
    for (point, (column, height)) in columns.iter().zip(heights).enumerate() {
        let fitted: f64 = column.iter().zip(answer).map(|(value, slope)| value * slope).sum();
        let off = height - fitted;
        if off.abs() - answer[N - 1] > most {
            most = off.abs() - answer[N - 1];
            worst = Some(Touch { point, side: off.signum() });
            if first {
                break;
            }
        }
    }
    worst
}

/// Which of the basis leaves so that no weight goes below nothing; of several the first by point and side.
fn leaving<const N: usize>(rows: [[f64; N]; N], basis: &[Touch; N], enters: [f64; N]) -> Option<usize> {
    let (now, change) = (weights(rows, last_unit())?, weights(rows, enters)?);
    let mut leaves: Option<(f64, usize)> = None;
    for at in (0..N).filter(|&at| change[at] > ROUNDING) {
        let ratio = now[at].max(0.0) / change[at];
        let order = |at: usize| (basis[at].point, basis[at].side < 0.0);
        let sooner = leaves.is_none_or(|(least, other)| {
            ratio < least - ROUNDING || (ratio <= least + ROUNDING && order(at) < order(other))
        });
        if sooner {
            leaves = Some((ratio, at));
        }
    }
    leaves.map(|(_, at)| at)
}

/// Weights w with Σ w_i row_i = `sum`.
fn weights<const N: usize>(rows: [[f64; N]; N], sum: [f64; N]) -> Option<[f64; N]> {
    let mut turned = [[0.0; N]; N];
    for (at, row) in rows.iter().enumerate() {
        for (to, value) in row.iter().enumerate() {
            turned[to][at] = *value;
        }
    }
    eliminate(turned, sum)
}

/// Solves rows · x = right by elimination with row exchange; `None` for a singular one.
fn eliminate<const N: usize>(mut rows: [[f64; N]; N], mut right: [f64; N]) -> Option<[f64; N]> {
    for at in 0..N {
        let pivot = (at..N).max_by(|&one, &other| rows[one][at].abs().total_cmp(&rows[other][at].abs()))?;
        if rows[pivot][at].abs() < ROUNDING {
            return None;
        }
        rows.swap(at, pivot);
        right.swap(at, pivot);
        for below in at + 1..N {
            let times = rows[below][at] / rows[at][at];
            let pivot_row = rows[at];
            for (value, pivot) in rows[below].iter_mut().zip(pivot_row).skip(at) {
                *value -= times * pivot;
            }
            right[below] -= times * right[at];
        }
    }
    let mut x = [0.0; N];
    for at in (0..N).rev() {
        let known: f64 = (at + 1..N).map(|to| rows[at][to] * x[to]).sum();
        x[at] = (right[at] - known) / rows[at][at];
    }
    Some(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(list: &[[f64; 3]]) -> Vec<Vector3<f64>> {
        list.iter().map(|&[x, y, z]| Vector3::new(x, y, z)).collect()
    }

    #[test]
    fn a_tent_is_held_by_three_and_one() {
        let tent = points(&[[0.0, 0.0, 0.0], [4.0, 0.0, 0.0], [0.0, 4.0, 0.0], [1.0, 1.0, 0.3], [1.0, 2.0, 0.1]]);
        let strip = least_strip(&tent).expect("a strip");
        assert!((strip.width_mm - 0.3).abs() < 1e-15 && strip.gap_mm < 1e-15, "{strip:?}");
        assert_eq!(strip.held_by, [0, 1, 2, 3]);
    }

    #[test]
    fn a_twisted_square_is_held_by_two_and_two() {
        let twist = points(&[[0.0, 0.0, 0.1], [1.0, 1.0, 0.1], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]);
        let strip = least_strip(&twist).expect("a strip");
        assert!((strip.width_mm - 0.1).abs() < 1e-15);
        assert_eq!(strip.held_by.len(), 4);
    }

    #[test]
    fn few_points_and_points_in_line_are_answered() {
        assert!(least_strip(&[]).is_none());
        for few in [
            &[[1.0, 2.0, 3.0]][..],
            &[[0.0, 0.0, 1.0], [5.0, 0.0, 2.0]],
            &[[0.0, 0.0, 1.0], [1.0, 0.0, 2.0], [0.0, 1.0, 5.0]],
        ] {
            let strip = least_strip(&points(few)).expect("a strip");
            assert!(strip.width_mm < 1e-14, "{few:?} {strip:?}");
        }
        // In one upright plane: the middle of three stands out by 0.2, 1:1 between its neighbours.
        let line = points(&[[0.0, 0.0, 0.0], [1.0, 2.0, 0.2], [2.0, 4.0, 0.0]]);
        assert!((least_strip(&line).expect("a strip").width_mm - 0.2).abs() < 1e-15);
        // One over another: nothing but their distance.
        let tower = points(&[[1.0, 1.0, 0.0], [1.0, 1.0, 0.7], [1.0, 1.0, 0.3]]);
        let strip = least_strip(&tower).expect("a strip");
        assert_eq!((strip.width_mm, strip.held_by), (0.7, vec![0, 1]));
        let level = points(&[[0.0, 0.0, 2.0], [3.0, 0.0, 2.0], [0.0, 3.0, 2.0], [3.0, 3.0, 2.0]]);
        assert_eq!(least_strip(&level).expect("a strip").width_mm, 0.0);
    }
}
