//! What touches the work: plane pads (jaws, chuck face, parallels) with their own tilt and dirt, each on a fine bed of
//! springs that can only push.
//!
//! The frame is the set-up's: Z along the spindle away from the chuck, X towards jaw 1, origin on the spindle axis at
//! the fronts of the jaws.

use super::solid::V3;

/// Cells along each side of a pad as a rule; two Gauss points in each, so that a full bed has its exact second moments.
pub const CELLS: usize = 3;

/// How a pad's face lies off its plane: positive stands towards the work, mm.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Height {
    /// All of it.
    pub level: f64,
    /// Slopes along `u` and `v`, rad.
    pub tilt: [f64; 2],
    /// At the corners (−u −v), (+u −v), (+u +v), (−u +v), bilinear between: dirt.
    pub corners: [f64; 4],
}

/// A plane pad.
#[derive(Debug, Clone)]
pub struct Pad {
    /// Its middle.
    pub middle: V3,
    /// From the work into the pad.
    pub out: V3,
    /// Along its face.
    pub u: V3,
    /// Along its face, across `u`.
    pub v: V3,
    /// Half its sizes along `u` and `v`, mm; 0: an edge or a point.
    pub half: [f64; 2],
    /// Which screw closes it.
    pub screw: Option<usize>,
    /// Spring of the whole, N/mm.
    pub stiffness: f64,
    /// Its height.
    pub height: Height,
    /// Grid points nearer than this to the spindle axis have nothing under them: the hole of the chuck.
    pub hole_radius: f64,
    /// Cells along each side.
    pub cells: usize,
}

/// A point of a pad's bed.
#[derive(Debug, Clone, Copy)]
pub struct Spot {
    /// Where, on the pad's plane.
    pub at: V3,
    /// Share of the pad's area.
    pub share: f64,
    /// Height of the pad there, mm.
    pub height: f64,
}

impl Pad {
    /// Its bed.
    pub fn bed(&self) -> Vec<Spot> {
        let (us, vs) = (gauss(self.half[0], self.cells), gauss(self.half[1], self.cells));
        let mut spots = Vec::with_capacity(us.len() * vs.len());
        for &(u, u_share) in &us {
            for &(v, v_share) in &vs {
                let at = self.middle + self.u * u + self.v * v;
                if at.x.hypot(at.y) >= self.hole_radius {
                    spots.push(Spot { at, share: u_share * v_share, height: self.height_at(u, v) });
                }
            }
        }
        spots
    }

    /// Height over the plane at (u, v), mm.
    pub fn height_at(&self, u: f64, v: f64) -> f64 {
        let part = |along: f64, half: f64| if half > 0.0 { along / half } else { 0.0 };
        let (a, b) = (part(u, self.half[0]), part(v, self.half[1]));
        let [one, two, three, four] = self.height.corners;
        let dirt = one * (1.0 - a) * (1.0 - b) + two * (1.0 + a) * (1.0 - b);
        let dirt = dirt + three * (1.0 + a) * (1.0 + b) + four * (1.0 - a) * (1.0 + b);
        self.height.level + self.height.tilt[0] * u + self.height.tilt[1] * v + dirt / 4.0
    }

    /// Height where a point lies beside the pad's middle.
    pub fn height_beside(&self, at: &V3) -> f64 {
        let from = at - self.middle;
        self.height_at(from.dot(&self.u), from.dot(&self.v))
    }
}

/// Points and shares over −half to half.
fn gauss(half: f64, cells: usize) -> Vec<(f64, f64)> {
    if half <= 0.0 {
        return vec![(0.0, 1.0)];
    }
    let cell = half / cells as f64;
    let inner = cell / 3.0_f64.sqrt();
    let middles = (0..cells).map(|at| -half + cell * (2 * at + 1) as f64);
    middles.flat_map(|middle| [middle - inner, middle + inner]).map(|at| (at, 0.5 / cells as f64)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bed_has_the_second_moment_of_the_rectangle_and_its_dirt_is_bilinear() {
        let pad = Pad {
            middle: V3::new(20.0, 0.0, -10.0),
            out: V3::x(),
            u: V3::y(),
            v: V3::z(),
            half: [11.0, 10.0],
            screw: None,
            stiffness: 1.0,
            height: Height { level: 0.0, tilt: [0.0, 0.0], corners: [0.0, 0.02, 0.02, 0.0] },
            hole_radius: 0.0,
            cells: CELLS,
        };
        let bed = pad.bed();
        let whole: f64 = bed.iter().map(|spot| spot.share).sum();
        let second: f64 = bed.iter().map(|spot| spot.share * (spot.at.z + 10.0).powi(2)).sum();
        assert!((whole - 1.0).abs() < 1e-12 && (second - 400.0 / 12.0).abs() < 1e-9, "{whole} {second}");
        assert!((pad.height_at(11.0, 3.0) - 0.02).abs() < 1e-15 && pad.height_at(-11.0, 3.0).abs() < 1e-15);
    }
}
