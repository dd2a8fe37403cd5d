//! The piece: a convex solid of half-spaces, some of them with the small hills that facing leaves on a flat.
//!
//! Everything is in the part's frame, mm: z along the bar, the origin in the middle of the part.

use nalgebra::Vector3;

/// A point or a direction.
pub type V3 = Vector3<f64>;

/// Sides of the prism that stands for a round bar where faces are clipped; contacts take the true cylinder.
const PRISM_SIDES: usize = 64;
/// Half the side of the square from which a face is clipped, mm: more than any piece.
const FAR_MM: f64 = 1e4;

/// What facing leaves on a flat beside its plane: a surface about the spindle axis.
#[derive(Debug, Clone)]
pub struct Hills {
    /// A point of the spindle axis.
    pub axis: V3,
    /// Across the spindle, towards jaw 1.
    pub x: V3,
    /// Across the spindle, towards jaw 2.
    pub y: V3,
    /// Rise per mm from the axis, rad: positive is hollow.
    pub cone: f64,
    /// Axial slip once per turn: height at angle θ from jaw 1 is `slip[0] cos θ + slip[1] sin θ`, mm.
    pub slip: [f64; 2],
}

impl Hills {
    /// Height over the plane at a point, mm.
    pub fn height(&self, at: &V3) -> f64 {
        let from = at - self.axis;
        let (x, y) = (from.dot(&self.x), from.dot(&self.y));
        let radius = x.hypot(y);
        if radius < 1e-9 {
            return 0.0;
        }
        self.cone * radius + (self.slip[0] * x + self.slip[1] * y) / radius
    }
}

/// A face: the material lies at `normal · p ≤ offset`, but for the hills.
#[derive(Debug, Clone)]
pub struct Face {
    /// Outward, of length 1.
    pub normal: V3,
    /// Distance of the plane from the origin, mm.
    pub offset: f64,
    /// Hills on it.
    pub hills: Option<Hills>,
}

impl Face {
    /// A bare plane.
    pub fn plane(normal: V3, offset: f64) -> Self {
        Face { normal: normal.normalize(), offset, hills: None }
    }

    /// How far a point lies over the plane, mm.
    pub fn over(&self, at: &V3) -> f64 {
        self.normal.dot(at) - self.offset
    }

    /// Height of the hills, mm.
    pub fn height(&self, at: &V3) -> f64 {
        self.hills.as_ref().map_or(0.0, |hills| hills.height(at))
    }

    /// The point of the surface over a point of the plane.
    pub fn surface(&self, at: &V3) -> V3 {
        at + self.normal * self.height(at)
    }
}

/// What a face of the solid is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// A finished face of the part, by number.
    Finished(usize),
    /// A flat of the bar, by number.
    Bar(usize),
    /// An end as sawn: true is the front.
    Sawn(bool),
}

/// The piece at one moment.
#[derive(Debug, Clone)]
pub struct Solid {
    /// Its faces.
    pub faces: Vec<(Which, Face)>,
    /// Radius and axis (x, y) of a round bar.
    pub round: Option<(f64, [f64; 2])>,
}

impl Solid {
    /// The face of this name, if it was made.
    pub fn face(&self, which: Which) -> Option<&Face> {
        self.faces.iter().find(|(name, _)| *name == which).map(|(_, face)| face)
    }

    /// Corners of a face by cutting a large square with every other half-space; in order, outward normal by the right
    /// hand. Empty: the face is cut away.
    pub fn corners(&self, which: Which) -> Vec<V3> {
        let Some(face) = self.face(which) else { return Vec::new() };
        let mut outline = square(face);
        for (name, other) in &self.faces {
            if *name != which {
                outline = clip(&outline, &other.normal, other.offset);
            }
        }
        let Some((radius, centre)) = self.round else { return outline };
        for side in 0..PRISM_SIDES {
            let (sin, cos) = (std::f64::consts::TAU * side as f64 / PRISM_SIDES as f64).sin_cos();
            outline = clip(&outline, &V3::new(cos, sin, 0.0), radius + centre[0] * cos + centre[1] * sin);
        }
        outline
    }

    /// Whether a point lies in the metal or on it, every face but one, within `slack_mm`.
    pub fn has_but(&self, but: Option<Which>, at: &V3, slack_mm: f64) -> bool {
        let flats = self.faces.iter().all(|(name, face)| Some(*name) == but || face.over(at) <= slack_mm);
        flats
            && self.round.is_none_or(|(radius, centre)| (at.x - centre[0]).hypot(at.y - centre[1]) <= radius + slack_mm)
    }
}

/// A large square on a face.
fn square(face: &Face) -> Vec<V3> {
    let (u, v) = across(&face.normal);
    let middle = face.normal * face.offset;
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(a, b)| middle + (u * a + v * b) * FAR_MM).to_vec()
}

/// Two directions across a normal, right-handed with it.
pub fn across(normal: &V3) -> (V3, V3) {
    let least = normal.iamin();
    let mut aside = V3::zeros();
    aside[least] = 1.0;
    let u = (aside - normal * normal.dot(&aside)).normalize();
    (u, normal.cross(&u))
}

/// What of an outline lies at `normal · p ≤ offset`.
pub fn clip(outline: &[V3], normal: &V3, offset: f64) -> Vec<V3> {
    let mut left = Vec::with_capacity(outline.len() + 1);
    for (at, from) in outline.iter().enumerate() {
        let to = &outline[(at + 1) % outline.len()];
        let (here, there) = (normal.dot(from) - offset, normal.dot(to) - offset);
        if here <= 0.0 {
            left.push(*from);
        }
        if (here < 0.0 && there > 0.0) || (here > 0.0 && there < 0.0) {
            left.push(from + (to - from) * (here / (here - there)));
        }
    }
    left
}

/// Middle of an outline by area.
pub fn middle(outline: &[V3]) -> V3 {
    let first = outline[0];
    let (mut whole, mut moment) = (0.0, V3::zeros());
    for pair in outline[1..].windows(2) {
        let area = (pair[0] - first).cross(&(pair[1] - first)).norm();
        whole += area;
        moment += (first + pair[0] + pair[1]) * (area / 3.0);
    }
    moment / whole
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block() -> Solid {
        let normals = [V3::x(), -V3::x(), V3::y(), -V3::y(), V3::z(), -V3::z()];
        let faces = normals.iter().enumerate();
        Solid {
            faces: faces.map(|(at, n)| (Which::Finished(at), Face::plane(*n, 10.0 + at as f64))).collect(),
            round: None,
        }
    }

    #[test]
    fn a_block_has_the_corners_that_it_must_have() {
        let corners = block().corners(Which::Finished(4));
        assert_eq!(corners.len(), 4);
        for corner in &corners {
            assert!((corner.z - 14.0).abs() < 1e-9);
            assert!((corner.x - 10.0).abs() < 1e-9 || (corner.x + 11.0).abs() < 1e-9);
            assert!((corner.y - 12.0).abs() < 1e-9 || (corner.y + 13.0).abs() < 1e-9);
        }
        let middle = middle(&corners);
        assert!((middle - V3::new(-0.5, -0.5, 14.0)).norm() < 1e-9, "{middle}");
    }

    #[test]
    fn three_tilted_planes_meet_where_their_equations_say() {
        let mut solid = block();
        solid.faces[0].1 = Face::plane(V3::new(1.0, 0.01, -0.02), 10.0);
        solid.faces[4].1 = Face::plane(V3::new(0.03, -0.01, 1.0), 14.0);
        let by_equations = nalgebra::Matrix3::from_rows(&[
            solid.faces[0].1.normal.transpose(),
            solid.faces[2].1.normal.transpose(),
            solid.faces[4].1.normal.transpose(),
        ])
        .lu()
        .solve(&V3::new(10.0, 12.0, 14.0))
        .unwrap();
        let nearest = |which| {
            let distance = |corner: &V3| (corner - by_equations).norm();
            solid.corners(which).iter().map(distance).fold(f64::INFINITY, f64::min)
        };
        assert!(nearest(Which::Finished(0)) < 1e-9 && nearest(Which::Finished(4)) < 1e-9);
    }

    #[test]
    fn a_flat_on_a_round_bar_is_as_wide_as_its_chord() {
        let mut solid = block();
        solid.round = Some((12.0, [0.0, 0.0]));
        solid.faces[2].1.offset = 20.0;
        solid.faces[3].1.offset = 20.0;
        let corners = solid.corners(Which::Finished(0));
        let most = corners.iter().map(|corner| corner.y).fold(f64::MIN, f64::max);
        // Within what 64 sides stand off the circle.
        assert!((most - (144.0_f64 - 100.0).sqrt()).abs() < 0.03, "{most}");
    }
}
