//! A polygon as wedges from one point to its edges: integrals of functions of the distance from that point.

use nalgebra::Matrix2;

use crate::shape::Point;

/// The triangle between a point and an edge, in polar coordinates about the point.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wedge {
    /// Distance of the edge's line from the point, mm, negative where the point lies outside it.
    pub height_mm: f64,
    /// Unit direction from the point square to the edge.
    pub out: Point,
    /// Unit direction along the edge, counter-clockwise.
    pub along: Point,
    /// Tangents of the angles of the edge's ends from `out`.
    pub tangents: [f64; 2],
}

/// The wedges of a convex polygon, corners counter-clockwise, about a point. Those of an edge whose line goes through
/// the point have no area and are left out.
pub(super) fn wedges(corners: &[Point], about: Point) -> Vec<Wedge> {
    let nexts = corners.iter().cycle().skip(1);
    let wedge = |(from, to): (&Point, &Point)| {
        let length = (to - from).norm();
        let along = (to - from) / length;
        let out = Point::new(along.y, -along.x);
        let height_mm = out.dot(&(from - about));
        let reach = |end: &Point| along.dot(&(end - about)) / height_mm;
        let some = length > 0.0 && height_mm.abs() > 1e-12 * length;
        some.then(|| Wedge { height_mm, out, along, tangents: [reach(from), reach(to)] })
    };
    corners.iter().zip(nexts).filter_map(wedge).collect()
}

/// ∫ sec θ between the angles of two tangents.
fn sec(tangents: [f64; 2]) -> f64 {
    tangents[1].asinh() - tangents[0].asinh()
}

/// ∫ sec³ θ.
fn sec3(tangents: [f64; 2]) -> f64 {
    let whole = |t: f64| (t * t.hypot(1.0) + t.asinh()) / 2.0;
    whole(tangents[1]) - whole(tangents[0])
}

/// In all of these p = s h (out + t along) with s from 0 to 1 and t between the tangents, so that dA = h² s ds dt: an
/// edge that the point lies outside of is taken off by itself.
impl Wedge {
    /// Difference between the ends of a function of the secant.
    fn secants(&self, of: impl Fn(f64) -> f64) -> f64 {
        of(self.tangents[1].hypot(1.0)) - of(self.tangents[0].hypot(1.0))
    }

    /// ∫ r dA, mm³.
    pub fn distance(&self) -> f64 {
        self.height_mm.abs().powi(3) / 3.0 * sec3(self.tangents)
    }

    /// ∫ r p dA about the point, mm⁴.
    pub fn distance_moment(&self) -> Point {
        let fourth = self.height_mm.abs() * self.height_mm.powi(3) / 4.0;
        (self.out * sec3(self.tangents) + self.along * (self.secants(|sec| sec.powi(3)) / 3.0)) * fourth
    }

    /// ∫ p/r dA, mm²: first moment of the unit direction.
    pub fn direction(&self) -> Point {
        let half = self.height_mm.abs() * self.height_mm / 2.0;
        (self.out * sec(self.tangents) + self.along * self.secants(|sec| sec)) * half
    }

    /// ∫ (u·p/r) p dA, mm³, for a unit direction u.
    pub fn direction_moment(&self, u: Point) -> Point {
        let third = self.height_mm.abs().powi(3) / 3.0;
        let (one, three) = (sec(self.tangents), sec3(self.tangents));
        let (out, along) = (u.dot(&self.out), u.dot(&self.along));
        let mixed = self.secants(|sec| sec);
        (self.out * (out * one + along * mixed) + self.along * (out * mixed + along * (three - one))) * third
    }
}

/// Integrals over a region of what slip and cone leave there, all about one point.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Integrals {
    /// ∫ dA, mm².
    pub area: f64,
    /// ∫ p dA, mm³.
    pub first: Point,
    /// ∫ p pᵀ dA, mm⁴.
    pub second: Matrix2<f64>,
    /// ∫ p/r dA, mm².
    pub direction: Point,
    /// ∫ p pᵀ/r dA, mm³.
    pub direction_moment: Matrix2<f64>,
    /// ∫ r dA, mm³.
    pub distance: f64,
    /// ∫ r p dA, mm⁴.
    pub distance_moment: Point,
}

impl Integrals {
    /// Takes a wedge in.
    pub fn add(&mut self, wedge: &Wedge) {
        let height = wedge.height_mm;
        let [from, to] = wedge.tangents;
        let powers = [to - from, (to * to - from * from) / 2.0, (to.powi(3) - from.powi(3)) / 3.0];
        self.area += height.powi(2) / 2.0 * powers[0];
        self.first += (wedge.out * powers[0] + wedge.along * powers[1]) * (height.powi(3) / 3.0);
        let (out, along) = (wedge.out, wedge.along);
        let mixed = out * along.transpose() + along * out.transpose();
        let spread = out * out.transpose() * powers[0] + mixed * powers[1] + along * along.transpose() * powers[2];
        self.second += spread * (height.powi(4) / 4.0);
        self.direction += wedge.direction();
        for (axis, unit) in [Point::x(), Point::y()].into_iter().enumerate() {
            let moment = self.direction_moment.column(axis) + wedge.direction_moment(unit);
            self.direction_moment.set_column(axis, &moment);
        }
        self.distance += wedge.distance();
        self.distance_moment += wedge.distance_moment();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Midpoint rule over a grid of a rectangle, the point inside and outside it.
    #[test]
    fn integrals_are_those_of_a_fine_grid() {
        const STEPS: usize = 600;
        let corners = [[0.0, 0.0], [6.0, 0.0], [6.0, 4.0], [0.0, 4.0]].map(|[x, y]| Point::new(x, y));
        let u = Point::new(0.6, 0.8);
        for about in [Point::new(1.0, 1.5), Point::new(-2.0, 5.0), Point::new(7.0, 2.0)] {
            let wedges = wedges(&corners, about);
            let (mut distance, mut by_distance, mut direction, mut by_direction) =
                (0.0, Point::zeros(), Point::zeros(), Point::zeros());
            let cell = 24.0 / (STEPS * STEPS) as f64;
            for at in 0..STEPS * STEPS {
                let (column, row) = ((at % STEPS) as f64 + 0.5, (at / STEPS) as f64 + 0.5);
                let p = Point::new(column * 6.0, row * 4.0) / STEPS as f64 - about;
                let r = p.norm();
                distance += r * cell;
                by_distance += p * r * cell;
                direction += p / r * cell;
                by_direction += p * (u.dot(&p) / r * cell);
            }
            let near = |ours: f64, grid: f64| (ours - grid).abs() < 2e-4 * (1.0 + grid.abs());
            assert!(near(wedges.iter().map(Wedge::distance).sum(), distance), "{about}");
            for (ours, grid) in [
                (wedges.iter().map(Wedge::distance_moment).sum::<Point>(), by_distance),
                (wedges.iter().map(Wedge::direction).sum::<Point>(), direction),
                (wedges.iter().map(|wedge| wedge.direction_moment(u)).sum::<Point>(), by_direction),
            ] {
                assert!(near(ours.x, grid.x) && near(ours.y, grid.y), "{about}: {ours} {grid}");
            }
        }
    }
}
