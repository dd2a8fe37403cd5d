//! The pose that a clamped piece takes: the least elastic energy of springs that only push, the screws turned in until
//! each pair of jaws has its force. Newton on turn, shift and screws, the touching springs found anew at each step;
//! turns are rotation matrices, nothing is linearised. Friction has no part in it but where `Clamping` says so.

use nalgebra::{Matrix3, Rotation3, SMatrix, SVector};

use super::jaw::Pad;
use super::solid::V3;

/// Six of the pose, two screws.
pub type V8 = SVector<f64, 8>;
/// The same squared.
pub type M8 = SMatrix<f64, 8, 8>;

/// Steps of Newton's method at most; a clamped block needs four to eight.
const STEPS: usize = 60;
/// Spring that keeps the by-eye pose where nothing else does, as a share of a jaw's.
const BY_EYE_SHARE: f64 = 1e-7;
/// Arm by which that spring resists turning, mm.
const BY_EYE_ARM_MM: f64 = 100.0;

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
        self.turn.scaled_axis()
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

impl Clamped {
    /// Stiffness of the springs that keep the by-eye pose: along, turning.
    fn by_eye(&self) -> (f64, f64) {
        let most = self.springs.iter().map(|spring| spring.stiffness).sum::<f64>();
        (most * BY_EYE_SHARE, most * BY_EYE_SHARE * BY_EYE_ARM_MM * BY_EYE_ARM_MM)
    }

    fn off_eye(&self, pose: &Pose) -> (V3, V3) {
        ((pose.turn * self.eye.turn.inverse()).scaled_axis(), pose.shift - self.eye.shift)
    }

    /// Elastic energy less the work of screws and loads, N mm.
    pub fn energy(&self, pose: &Pose) -> f64 {
        let of = |spring: &Spring| {
            let deep = bite(spring, pose).0.max(0.0);
            0.5 * spring.stiffness * deep * deep
        };
        let springs: f64 = self.springs.iter().map(of).sum();
        let screws: f64 = (0..2).map(|at| self.screws[at].unwrap_or(0.0) * pose.closed[at]).sum();
        let loads: f64 = self.loads.iter().map(|(at, force)| force.dot(&(pose.place(at) - at))).sum();
        let (turned, shifted) = self.off_eye(pose);
        let (along, turning) = self.by_eye();
        let eye = 0.5 * (along * shifted.norm_squared() + turning * turned.norm_squared());
        springs - screws - loads - self.moment.dot(&pose.turned()) + eye
    }

    /// Slope and curvature of the energy; `both`: springs pull too.
    fn slope(&self, pose: &Pose, both: bool) -> (V8, M8) {
        let (mut slope, mut curve) = (V8::zeros(), M8::zeros());
        for spring in &self.springs {
            let (depth, grows) = bite(spring, pose);
            if depth > 0.0 || both {
                slope += grows * (spring.stiffness * depth);
                curve.ger(spring.stiffness, &grows, &grows, 1.0);
            }
        }
        for (at, force) in &self.loads {
            let arm = (pose.place(at)).cross(force);
            slope -= V8::from_column_slice(&[force.x, force.y, force.z, arm.x, arm.y, arm.z, 0.0, 0.0]);
        }
        let ((turned, shifted), (along, turning)) = (self.off_eye(pose), self.by_eye());
        for at in 0..3 {
            slope[at] += along * shifted[at];
            slope[3 + at] += turning * turned[at] - self.moment[at];
            curve[(at, at)] += along;
            curve[(3 + at, 3 + at)] += turning;
        }
        for screw in 0..2 {
            match self.screws[screw] {
                Some(force) => {
                    slope[6 + screw] -= force;
                    curve[(6 + screw, 6 + screw)] += along;
                }
                None => curve[(6 + screw, 6 + screw)] += 1.0,
            }
        }
        (slope, curve)
    }

    /// The pose that the work takes, and the steps that it took to find it; `None`: it was not found.
    pub fn settle(&self, start: &Pose) -> Option<(Pose, usize)> {
        let mut pose = *start;
        let mut energy = self.energy(&pose);
        for step in 0..STEPS {
            let (slope, curve) = self.slope(&pose, false);
            let full = -curve.cholesky()?.solve(&slope);
            let mut share = 1.0;
            let (moved, lower) = loop {
                let moved = pose.moved(&(full * share));
                let lower = self.energy(&moved);
                // The last steps gain less than rounding shows.
                if lower <= energy + 1e-12 * energy.abs() || share < 1e-4 {
                    break (moved, lower);
                }
                share /= 2.0;
            };
            (pose, energy) = (moved, lower);
            let turned = V3::new(full[3], full[4], full[5]).norm();
            if share == 1.0 && turned < 1e-11 && full.norm() < 1e-9 {
                return Some((pose, step + 1));
            }
        }
        None
    }

    /// The pose of small motions with springs that push and pull: one linear step from the work as drawn. Only for
    /// showing where that stops being true.
    pub fn linear(&self) -> Option<Pose> {
        let eye = self.eye.turned();
        let (slope, curve) = self.slope(&Pose::drawn(), true);
        let step = -curve.cholesky()?.solve(&slope);
        debug_assert!(eye.norm() < 0.5);
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

/// The turn that brings one direction to another by the shortest way.
pub fn shortest(from: &V3, to: &V3) -> Rotation3<f64> {
    Rotation3::rotation_between(from, to).unwrap_or_else(|| Rotation3::from_matrix(&Matrix3::identity()))
}
