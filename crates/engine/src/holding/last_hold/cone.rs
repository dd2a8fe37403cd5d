//! The second-order cone of one contact: scaling, products and steps of the interior-point method.
//!
//! Triples `(a, b, c)` of the cone `a ≥ √(b² + c²)`. Symbols after Vandenberghe, "The CVXOPT linear and
//! quadratic cone program solvers" (2010), sections 4 and 5 (from memory): `s` slack, `x` force, `λ` scaled
//! point, Nesterov-Todd scaling `W x = W⁻¹ s = λ`.

/// A triple of the cone or a direction in its space.
pub type Triple = [f64; 3];

/// Nesterov-Todd scaling of a pair inside the cone.
#[derive(Debug, Clone, Copy)]
pub struct Scaling {
    /// `w̄`, with `w̄ᵀJw̄ = 1`.
    bar: Triple,
    /// `1 / (1 + w̄₀)`.
    onward: f64,
    /// `η = (sᵀJs / xᵀJx)^¼`.
    eta: f64,
    /// `1/η`.
    back: f64,
    /// `λ = W x = W⁻¹ s`.
    pub point: Triple,
}

impl Scaling {
    /// For `s` and `x` both strictly inside.
    #[inline]
    pub fn of(s: &Triple, x: &Triple) -> Scaling {
        let (root_s, root_x) = (depth(s).sqrt(), depth(x).sqrt());
        let (part_s, part_x) = (1.0 / root_s, 1.0 / root_x);
        let twice_gamma = (2.0 * (1.0 + dot(s, x) * part_s * part_x)).sqrt();
        let (part_s, part_x) = (part_s / twice_gamma, part_x / twice_gamma);
        let bar = [s[0] * part_s + x[0] * part_x, s[1] * part_s - x[1] * part_x, s[2] * part_s - x[2] * part_x];
        let eta = (root_s / root_x).sqrt();
        let scaling = Scaling { bar, onward: 1.0 / (1.0 + bar[0]), eta, back: 1.0 / eta, point: [0.0; 3] };
        Scaling { point: scaling.apply(x), ..scaling }
    }

    /// `W u`.
    #[inline]
    pub fn apply(&self, u: &Triple) -> Triple {
        let [w0, w1, w2] = self.bar;
        let along = w1 * u[1] + w2 * u[2];
        let onward = u[0] + along * self.onward;
        [self.eta * (w0 * u[0] + along), self.eta * (u[1] + onward * w1), self.eta * (u[2] + onward * w2)]
    }

    /// `W⁻¹ u`.
    #[inline]
    pub fn undo(&self, u: &Triple) -> Triple {
        let [w0, w1, w2] = self.bar;
        let along = w1 * u[1] + w2 * u[2];
        let onward = along * self.onward - u[0];
        [self.back * (w0 * u[0] - along), self.back * (u[1] + onward * w1), self.back * (u[2] + onward * w2)]
    }

    /// `W⁻² = share · (2 u uᵀ − J)`: the share and `u = J w̄`.
    #[inline]
    pub fn inverse_square(&self) -> (f64, Triple) {
        (self.back * self.back, [self.bar[0], -self.bar[1], -self.bar[2]])
    }
}

/// Where less than this share of `a²` is left of `a² − b² − c²`, it is worked out so that little cancels.
const CANCELS: f64 = 1e-2;

/// `uᵀ J u = a² − b² − c²`.
#[inline]
pub fn depth(u: &Triple) -> f64 {
    let (square, aside) = (u[0] * u[0], u[1] * u[1] + u[2] * u[2]);
    let plain = square - aside;
    if plain > CANCELS * square {
        return plain;
    }
    let aside = aside.sqrt();
    (u[0] - aside) * (u[0] + aside)
}

/// `u ∘ v`.
#[inline]
pub fn product(u: &Triple, v: &Triple) -> Triple {
    [dot(u, v), u[0] * v[1] + v[0] * u[1], u[0] * v[2] + v[0] * u[2]]
}

/// The `q` with `u ∘ q = d`, for `u` inside.
#[inline]
pub fn quotient(u: &Triple, d: &Triple) -> Triple {
    let first = (u[0] * d[0] - u[1] * d[1] - u[2] * d[2]) / depth(u);
    let part = 1.0 / u[0];
    [first, (d[1] - first * u[1]) * part, (d[2] - first * u[2]) * part]
}

/// Scalar product.
#[inline]
pub fn dot(u: &Triple, v: &Triple) -> f64 {
    u[0] * v[0] + u[1] * v[1] + u[2] * v[2]
}

/// How far one may go from a point inside along a direction, up to `farthest`: the least positive root of
/// `a α² + 2 b α + c = 0`. A way through the tip has a double root, which rounding may hide: the way never goes
/// beyond `u₀ = 0`. The cone is convex: a way whose end is well inside has no root before it.
#[inline]
pub fn way_out(from: &Triple, along: &Triple, farthest: f64) -> f64 {
    let end = [from[0] + farthest * along[0], from[1] + farthest * along[1], from[2] + farthest * along[2]];
    let square = end[0] * end[0];
    if end[0] > 0.0 && square - end[1] * end[1] - end[2] * end[2] > CANCELS * square {
        return farthest;
    }
    way_to_the_border(from, along).min(farthest)
}

fn way_to_the_border(from: &Triple, along: &Triple) -> f64 {
    let a = along[0] * along[0] - along[1] * along[1] - along[2] * along[2];
    let b = from[0] * along[0] - from[1] * along[1] - from[2] * along[2];
    let c = depth(from);
    let tip = if along[0] < 0.0 { -from[0] / along[0] } else { f64::INFINITY };
    let inside = b * b - a * c;
    if inside < 0.0 {
        return tip;
    }
    let below = inside.sqrt() - b;
    if below > 0.0 { tip.min(c / below) } else { tip }
}

#[cfg(test)]
mod tests {
    use super::*;

    const S: Triple = [2.0, 0.7, -1.1];
    const X: Triple = [1.3, -0.4, 0.9];

    fn near(one: &Triple, other: &Triple) -> bool {
        one.iter().zip(other).all(|(a, b)| (a - b).abs() < 1e-12)
    }

    #[test]
    fn scaling_takes_both_to_the_same_point() {
        let scaling = Scaling::of(&S, &X);
        assert!(near(&scaling.apply(&X), &scaling.undo(&S)));
        assert!(near(&scaling.undo(&scaling.apply(&S)), &S));
        let (share, u) = scaling.inverse_square();
        let twice = 2.0 * dot(&u, &S);
        let squared = [share * (twice * u[0] - S[0]), share * (twice * u[1] + S[1]), share * (twice * u[2] + S[2])];
        assert!(near(&squared, &scaling.undo(&scaling.undo(&S))));
    }

    #[test]
    fn quotient_undoes_the_product() {
        assert!(near(&quotient(&S, &product(&S, &X)), &X));
    }

    #[test]
    fn the_way_out_ends_on_the_cone() {
        let along = [-1.0, 0.3, 0.2];
        let far = way_out(&S, &along, 100.0);
        let end = [S[0] + far * along[0], S[1] + far * along[1], S[2] + far * along[2]];
        assert!(depth(&end).abs() < 1e-12 && end[0] > 0.0);
        assert_eq!(way_out(&S, &[1.0, 0.2, 0.1], 9.0), 9.0);
        assert_eq!(way_to_the_border(&S, &[1.0, 0.2, 0.1]), f64::INFINITY);
        assert!((way_out(&S, &S.map(|part| -part), 9.0) - 1.0).abs() < 1e-12, "through the tip");
    }
}
