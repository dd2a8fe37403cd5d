//! The pose that a clamped piece takes: balance of springs that only push, the screws turned in until each pair of jaws
//! has its force. Newton on turn, shift and screws, the touching springs found anew at each step; turns are rotation
//! matrices, nothing is linearised.
//!
//! Of friction it says three things. The work leans by far less than the angle of friction, so that each spring pushes
//! along its pad's own normal. Motions that no spring would resist stay where the eye left them. And what opposed pads
//! that do not face each other would turn is carried by friction as far as the recipe says.

use nalgebra::{Matrix3, Rotation3, SMatrix, SVector, SymmetricEigen};

use super::jaw::Pad;
use super::solid::V3;

/// Six of the pose, two screws.
pub type V8 = SVector<f64, 8>;
/// The same squared.
pub type M8 = SMatrix<f64, 8, 8>;

/// Steps of Newton's method at most; a clamped block needs three to eight.
const STEPS: usize = 80;
/// Shortest share of a step that is tried before it is taken all the same.
const SHORTEST: f64 = 1.0 / 64.0;
/// Arm by which turns and shifts are compared, mm.
const ARM_MM: f64 = 20.0;
/// A motion that meets less than this share of the stiffest is free.
const FREE: f64 = 1e-6;

/// What a pad finds on the work, in the frame of the set-up before the work moves.
#[derive(Debug, Clone, Copy)]
pub enum Touch {
    /// A plane: outward normal and distance from the origin.
    Plane {
        /// Outward.
        normal: V3,
        /// From the origin, mm.
        offset: f64,
    },
    /// A round bar: a point of its axis, the axis, its radius.
    Round {
        /// A point of the axis.
        axis: V3,
        /// Its direction.
        along: V3,
        /// Radius, mm.
        radius: f64,
    },
}

/// One spring between a pad and the work.
#[derive(Debug, Clone, Copy)]
pub struct Spring {
    /// On the pad's plane.
    pub at: V3,
    /// From the work into the pad.
    pub out: V3,
    /// Which screw closes the pad.
    pub screw: Option<usize>,
    /// How far pad and work stand towards each other there, mm.
    pub proud: f64,
    /// N/mm.
    pub stiffness: f64,
    /// What it finds.
    pub touch: Touch,
}

/// Where the work stands: x = turn · p + shift.
#[derive(Debug, Clone, Copy)]
pub struct Pose {
    /// Turn about the origin of the set-up.
    pub turn: Rotation3<f64>,
    /// Then shift, mm.
    pub shift: V3,
    /// How far the screws are turned in, mm.
    pub closed: [f64; 2],
}

impl Pose {
    /// As drawn.
    pub fn drawn() -> Self {
        Pose { turn: Rotation3::identity(), shift: V3::zeros(), closed: [0.0; 2] }
    }

    /// Where a point of the work as drawn is.
    pub fn place(&self, at: &V3) -> V3 {
        self.turn * at + self.shift
    }

    /// The turn as a vector, rad.
    pub fn turned(&self) -> V3 {
        turn_vector(&self.turn)
    }

    fn moved(&self, step: &V8) -> Self {
        let turn = Rotation3::new(V3::new(step[3], step[4], step[5]));
        Pose {
            turn: turn * self.turn,
            shift: turn * self.shift + V3::new(step[0], step[1], step[2]),
            closed: [self.closed[0] + step[6], self.closed[1] + step[7]],
        }
    }
}

/// A piece between pads.
#[derive(Debug, Clone)]
pub struct Clamped {
    /// Every spring.
    pub springs: Vec<Spring>,
    /// Force of each screw, N; `None`: no such screw.
    pub screws: [Option<f64>; 2],
    /// Forces on the work that stay as they are: where, N.
    pub loads: Vec<(V3, V3)>,
    /// A turning moment on the work that stays as it is, N mm.
    pub moment: V3,
    /// Where it stood by eye.
    pub eye: Pose,
}

/// How deep a pad and the work are in each other at a spring (negative: apart), and how that grows with the pose.
fn bite(spring: &Spring, pose: &Pose) -> (f64, V8) {
    let closed = spring.screw.map_or(0.0, |screw| pose.closed[screw]);
    let (depth, push, at) = match spring.touch {
        Touch::Plane { normal, offset } => {
            let normal = pose.turn * normal;
            let lean = normal.dot(&spring.out);
            let gap = (normal.dot(&spring.at) - offset - normal.dot(&pose.shift)) / lean;
            (-gap, normal / lean, spring.at - spring.out * gap)
        }
        Touch::Round { axis, along, radius } => {
            let (axis, along) = (pose.place(&axis), pose.turn * along);
            let towards = (spring.out - along * along.dot(&spring.out)).normalize();
            let at = axis + along * along.dot(&(spring.at - axis)) + towards * radius;
            ((at - spring.at).dot(&spring.out), spring.out, at)
        }
    };
    let arm = at.cross(&push);
    let mut grows = V8::from_column_slice(&[push.x, push.y, push.z, arm.x, arm.y, arm.z, 0.0, 0.0]);
    if let Some(screw) = spring.screw {
        grows[6 + screw] = 1.0;
    }
    (depth + closed + spring.proud, grows)
}

/// The way a spring pushes, as force, moment and screws, for each newton.
fn pushes(spring: &Spring) -> V8 {
    let at = match spring.touch {
        Touch::Plane { .. } => spring.at,
        // On the line of the round that faces the pad.
        Touch::Round { axis, along, .. } => {
            let over = axis + along * along.dot(&(spring.at - axis));
            over + spring.out * spring.out.dot(&(spring.at - over))
        }
    };
    let (out, arm) = (spring.out, at.cross(&spring.out));
    let mut way = V8::from_column_slice(&[out.x, out.y, out.z, arm.x, arm.y, arm.z, 0.0, 0.0]);
    if let Some(screw) = spring.screw {
        way[6 + screw] = 1.0;
    }
    way
}

/// Shifts in mm and turns by `ARM_MM` beside one another.
fn scale() -> V8 {
    V8::from_column_slice(&[1.0, 1.0, 1.0, ARM_MM, ARM_MM, ARM_MM, 1.0, 1.0])
}

impl Clamped {
    /// Springs that keep the by-eye pose in the motions that nothing else resists.
    fn free(&self) -> M8 {
        let scale = scale();
        let mut scaled = M8::zeros();
        for spring in &self.springs {
            let way = pushes(spring).component_div(&scale);
            scaled += way * way.transpose() * spring.stiffness;
        }
        let eigen = SymmetricEigen::new(scaled);
        let stiffest = eigen.eigenvalues.max();
        let mut ways = M8::zeros();
        for (at, value) in eigen.eigenvalues.iter().enumerate() {
            if *value < FREE * stiffest {
                ways += eigen.eigenvectors.column(at) * eigen.eigenvectors.column(at).transpose();
            }
        }
        // A free turn is kept as a turn, wherever its axis lies: how the springs give under the clamping force shifts
        // the work, and must not turn it. What is left are the free shifts.
        let mut keeps = M8::zeros();
        for (from, least) in [(3, FREE), (0, 1.0 - FREE)] {
            let block = SymmetricEigen::new(ways.fixed_view::<3, 3>(from, from).into_owned());
            for (at, _) in block.eigenvalues.iter().enumerate().filter(|(_, share)| **share > least) {
                let way = block.eigenvectors.column(at);
                let arm = if from == 3 { ARM_MM * ARM_MM } else { 1.0 };
                let mut kept = keeps.fixed_view_mut::<3, 3>(from, from);
                kept += way * way.transpose() * (stiffest * arm);
            }
        }
        keeps
    }

    fn off_eye(&self, pose: &Pose) -> V8 {
        let turned = turn_vector(&(pose.turn * self.eye.turn.inverse()));
        let shifted = pose.shift - self.eye.shift;
        V8::from_column_slice(&[shifted.x, shifted.y, shifted.z, turned.x, turned.y, turned.z, 0.0, 0.0])
    }

    /// What is out of balance, and how it grows with the pose; `both`: springs pull too.
    fn unbalance(&self, pose: &Pose, both: bool, keeps: &M8) -> (V8, M8) {
        let (mut out, mut grows) = (V8::zeros(), M8::zeros());
        for spring in &self.springs {
            let (depth, deepens) = bite(spring, pose);
            if depth > 0.0 || both {
                let way = pushes(spring);
                out += way * (spring.stiffness * depth);
                grows.ger(spring.stiffness, &way, &deepens, 1.0);
            }
        }
        for (at, force) in &self.loads {
            let arm = pose.place(at).cross(force);
            out -= V8::from_column_slice(&[force.x, force.y, force.z, arm.x, arm.y, arm.z, 0.0, 0.0]);
        }
        for at in 0..3 {
            out[3 + at] -= self.moment[at];
        }
        for screw in 0..2 {
            match self.screws[screw] {
                Some(force) => out[6 + screw] -= force,
                None => grows[(6 + screw, 6 + screw)] += self.springs[0].stiffness,
            }
        }
        (out + keeps * self.off_eye(pose), grows + keeps)
    }

    /// The pose that the work takes, and the steps that it took to find it; `None`: it was not found.
    pub fn settle(&self, start: &Pose) -> Option<(Pose, usize)> {
        let keeps = self.free();
        let merit = |out: &V8| out.component_div(&scale()).norm();
        let mut pose = *start;
        let (mut out, mut grows) = self.unbalance(&pose, false, &keeps);
        for step in 0..STEPS {
            // Where too little touches, as if everything did.
            let full = -grows.lu().solve(&out).or_else(|| self.unbalance(&pose, true, &keeps).1.lu().solve(&out))?;
            let mut share = 1.0;
            let (moved, left) = loop {
                let moved = pose.moved(&(full * share));
                let left = self.unbalance(&moved, false, &keeps);
                if merit(&left.0) < merit(&out) || share <= SHORTEST {
                    break (moved, left);
                }
                share /= 2.0;
            };
            (pose, out, grows) = (moved, left.0, left.1);
            if full.component_mul(&scale()).norm() < 1e-9 {
                return Some((pose, step + 1));
            }
        }
        None
    }

    /// The pose of small motions with springs that push and pull: one linear step from the work as drawn. Only for
    /// showing where that stops being true.
    pub fn linear(&self) -> Option<Pose> {
        let (out, grows) = self.unbalance(&Pose::drawn(), true, &self.free());
        let step = grows.lu().solve(&-out)?;
        Some(Pose::drawn().moved(&step))
    }

    /// Share of the springs that touch.
    pub fn touching(&self, pose: &Pose) -> f64 {
        let touching = self.springs.iter().filter(|spring| bite(spring, pose).0 > 0.0).count();
        touching as f64 / self.springs.len() as f64
    }

    /// Force and moment about the origin of springs all pressed alike, each pad with its force: what friction has to
    /// carry where opposed pads do not face each other.
    pub fn out_of_line(pads: &[(&Pad, &[Spring], f64)]) -> (V3, V3) {
        let (mut force, mut moment) = (V3::zeros(), V3::zeros());
        for (pad, springs, presses) in pads {
            let whole: f64 = springs.iter().map(|spring| spring.stiffness).sum();
            for spring in *springs {
                let push = -pad.out * (presses * spring.stiffness / whole);
                let at = match spring.touch {
                    Touch::Plane { .. } => spring.at,
                    Touch::Round { axis, along, radius } => {
                        axis + along * along.dot(&(spring.at - axis)) + pad.out * radius
                    }
                };
                force += push;
                moment += at.cross(&push);
            }
        }
        (force, moment)
    }
}

/// A turn under a quarter as a vector, rad: from its sines, where the usual cosine would lose half the digits.
pub fn turn_vector(turn: &Rotation3<f64>) -> V3 {
    let of = turn.matrix();
    let sines = V3::new(of[(2, 1)] - of[(1, 2)], of[(0, 2)] - of[(2, 0)], of[(1, 0)] - of[(0, 1)]) / 2.0;
    let sine = sines.norm();
    if sine < 1e-12 { sines } else { sines * (sine.asin() / sine) }
}

/// The turn that brings one direction to another by the shortest way.
pub fn shortest(from: &V3, to: &V3) -> Rotation3<f64> {
    Rotation3::rotation_between(from, to).unwrap_or_else(|| Rotation3::from_matrix(&Matrix3::identity()))
}
