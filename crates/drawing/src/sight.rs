//! From where a thing is seen: directions of the paper in the part's frame.

use engine::plan::Frame;

use crate::vector::{Flat, Space, dot3, sum3};

/// A parallel view.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sight {
    /// What lies at the origin of the picture.
    pub origin: Space,
    /// What points to the right; a mm of it is drawn as its length.
    pub right: Space,
    /// What points upwards.
    pub up: Space,
    /// Towards the eye.
    pub eye: Space,
}

impl Sight {
    /// A view given in the part's own frame.
    pub fn of_part(right: Space, up: Space) -> Sight {
        let eye = [
            right[1] * up[2] - right[2] * up[1],
            right[2] * up[0] - right[0] * up[2],
            right[0] * up[1] - right[1] * up[0],
        ];
        Sight { origin: [0.0; 3], right, up, eye }
    }

    /// The same view of a piece as a set-up's frame holds it.
    pub fn through(self, frame: &Frame) -> Sight {
        let into = |v: Space| sum3([(v[0], frame.axes[0]), (v[1], frame.axes[1]), (v[2], frame.axes[2])]);
        Sight { origin: frame.origin_mm, right: into(self.right), up: into(self.up), eye: into(self.eye) }
    }

    /// Isometric, in the set-up's frame: X upwards, Y to the left front, Z to the right front. Enlarged by √(3/2), as
    /// drawing practice has it (ISO 5456-3, from memory), so that lengths along the three axes are true.
    pub fn isometric() -> Sight {
        let c = 0.75_f64.sqrt();
        Sight::of_part([0.0, -c, c], [1.0, -0.5, -0.5])
    }

    /// The set-up seen from the tailstock, jaw 1 upwards.
    pub fn from_tailstock() -> Sight {
        Sight::of_part([0.0, -1.0, 0.0], [1.0, 0.0, 0.0])
    }

    /// Where a point of the part's frame is seen, y upwards.
    pub fn point(&self, p: Space) -> Flat {
        let from: Space = std::array::from_fn(|at| p[at] - self.origin[at]);
        [dot3(from, self.right), dot3(from, self.up)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn isometric_axes_stand_at_a_third_of_a_turn_and_are_true() {
        // ISO 5456-3: axes at 120 degrees to each other.
        let sight = Sight::isometric();
        let ends = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(|axis| sight.point(axis));
        for (at, end) in ends.iter().enumerate() {
            assert!((end[0].hypot(end[1]) - 1.0).abs() < 1e-12);
            let next = ends[(at + 1) % 3];
            assert!((end[0] * next[0] + end[1] * next[1] + 0.5).abs() < 1e-12);
        }
        let [x, y, z] = sight.eye;
        assert!((x - y).abs() < 1e-12 && (y - z).abs() < 1e-12 && x > 0.0);
    }
}
