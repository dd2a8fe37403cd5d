//! The hold in its own units: lengths by the size of the grip, forces by the greatest limit.

use nalgebra::{Matrix3, Matrix6, SymmetricEigen, Vector3, Vector6};

use super::six::{Factor, Six, dot, norm};
use super::{Motion, PressLimit, PressPoint, Wrench};

/// Points and limits without units.
#[derive(Debug, Clone)]
pub struct System {
    /// For each point: what a motion does along its normal, and along two tangents times μ.
    pub rows: Vec<[Six; 3]>,
    /// For each point: its limit.
    pub limit_of: Vec<usize>,
    /// For each limit: its force.
    pub limits: Vec<f64>,
    /// For each limit: whether the sum is kept.
    pub kept: Vec<bool>,
    /// For each limit: how many points count for it.
    pub counts: Vec<f64>,
    /// Motions that no point resists, orthonormal.
    pub free: Vec<Six>,
    /// `Σ` over all points of their rows' squares, with the free motions filled up: an overall stiffness.
    pub stiffness: Factor,
    /// Unit of force, N.
    pub force_n: f64,
    size_mm: f64,
    reference_mm: Vector3<f64>,
}

/// A load without units.
#[derive(Debug, Clone, Copy)]
pub struct Load {
    /// The growing load, of length 1.
    pub growing: Six,
    /// The load that stays.
    pub constant: Six,
    /// Length of the growing load in units of force, N.
    pub size: f64,
}

/// Motions resisted by less than this share of the best resisted one count as free: rounding leaves 1e-16.
const FREE: f64 = 1e-12;

/// A load that pushes along a free motion by less than this share is rounding.
const ASTRAY: f64 = 1e-9;

impl System {
    /// From checked points and limits.
    pub fn of(points: &[PressPoint], limits: &[PressLimit]) -> System {
        let count = points.len() as f64;
        let reference_mm = points.iter().map(|point| point.at_mm).sum::<Vector3<f64>>() / count;
        let squares: f64 = points.iter().map(|point| (point.at_mm - reference_mm).norm_squared()).sum();
        let spread = (squares / count).sqrt();
        let size_mm = if spread > 0.0 { spread } else { 1.0 };
        let force_n = limits.iter().map(PressLimit::force_n).fold(0.0, f64::max);
        let rows: Vec<[Six; 3]> = points.iter().map(|point| rows_of(point, &reference_mm, size_mm)).collect();
        let mut counts = vec![0.0; limits.len()];
        points.iter().for_each(|point| counts[point.limit] += 1.0);
        let (stiffness, free) = stiffness_of(&rows);
        System {
            limit_of: points.iter().map(|point| point.limit).collect(),
            limits: limits.iter().map(|limit| limit.force_n() / force_n).collect(),
            kept: limits.iter().map(|limit| matches!(limit, PressLimit::Kept(_))).collect(),
            rows,
            counts,
            free,
            stiffness,
            force_n,
            size_mm,
            reference_mm,
        }
    }

    /// The load without units; `None` where it is no load or no number.
    pub fn load(&self, growing: &Wrench, constant: &Wrench) -> Option<Load> {
        let bare = |wrench: &Wrench| {
            let about = wrench.about(&self.reference_mm);
            let (force, moment) = (about.fixed_rows::<3>(0), about.fixed_rows::<3>(3) / self.size_mm);
            Vector6::new(force.x, force.y, force.z, moment.x, moment.y, moment.z)
        };
        let (growing, constant) = (bare(growing), bare(constant) / self.force_n);
        let size = growing.norm();
        let usable = size.is_finite() && size > 0.0 && constant.iter().all(|part| part.is_finite());
        usable.then(|| Load { growing: (growing / size).into(), constant: constant.into(), size })
    }

    /// A motion that the loads drive and nothing resists.
    pub fn free_motion(&self, load: &Load) -> Option<Motion> {
        let constant = norm(&load.constant);
        let driven = |free: &&Six| {
            dot(free, &load.growing).abs() > ASTRAY || dot(free, &load.constant).abs() > ASTRAY * constant.max(1.0)
        };
        self.free.iter().find(driven).map(|free| self.motion(free, load))
    }

    /// Forces of the points in N, from normal and tangents over μ.
    pub fn forces(&self, points: &[PressPoint], bare: &[[f64; 3]]) -> Vec<Vector3<f64>> {
        let force = |(point, [normal, one, other]): (&PressPoint, &[f64; 3])| {
            let (first, second) = tangents(&point.inward);
            (point.inward * *normal + (first * *one + second * *other) * point.friction) * self.force_n
        };
        points.iter().zip(bare).map(force).collect()
    }

    /// A motion about the origin, scaled so that the growing load does work 1 where it does any.
    pub fn motion(&self, bare: &Six, load: &Load) -> Motion {
        let work = dot(bare, &load.growing) * load.size;
        let part = if work.abs() > 1e-12 * load.size * norm(bare) { 1.0 / work } else { 1.0 };
        let shift = Vector3::new(bare[0], bare[1], bare[2]) * part;
        let turn = Vector3::new(bare[3], bare[4], bare[5]) * (part / self.size_mm);
        Motion { shift: shift - turn.cross(&self.reference_mm), turn }
    }
}

/// What a motion `(u, θ)` does at a point: along the normal and along two tangents times μ.
fn rows_of(point: &PressPoint, reference_mm: &Vector3<f64>, size_mm: f64) -> [Six; 3] {
    let arm = (point.at_mm - reference_mm) / size_mm;
    let row = |along: Vector3<f64>| {
        let moment = arm.cross(&along);
        [along.x, along.y, along.z, moment.x, moment.y, moment.z]
    };
    let (first, second) = tangents(&point.inward);
    [row(point.inward), row(first * point.friction), row(second * point.friction)]
}

/// Two unit vectors square to a normal and to each other.
fn tangents(normal: &Vector3<f64>) -> (Vector3<f64>, Vector3<f64>) {
    let least = normal.iamin();
    let first = normal.cross(&Matrix3::identity().column(least)).normalize();
    (first, normal.cross(&first))
}

fn stiffness_of(rows: &[[Six; 3]]) -> (Factor, Vec<Six>) {
    let mut sum = Matrix6::zeros();
    for row in rows.iter().flatten() {
        let row = Vector6::from(*row);
        sum += row * row.transpose();
    }
    let eigen = SymmetricEigen::new(sum);
    let most = eigen.eigenvalues.max();
    let mut free = Vec::new();
    for at in 0..6 {
        if eigen.eigenvalues[at] <= FREE * most {
            let motion = eigen.eigenvectors.column(at).into_owned();
            sum += motion * motion.transpose() * most;
            free.push(motion.into());
        }
    }
    let mut factor = Factor::default();
    let rows: [Six; 6] = std::array::from_fn(|row| std::array::from_fn(|column| sum[(row, column)]));
    factor.set(&rows, sum.diagonal().amax());
    (factor, free)
}
