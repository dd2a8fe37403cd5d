//! A vee between a jaw and the work: two flanks share the jaw's push.
//!
//! α is half the angle between the flanks, rad. A flank's normal leans from the jaw's push by a quarter turn less α.

use nalgebra::{Matrix3, SMatrix, Vector3, Vector4};

use super::Held;
use super::grip::Bearing;

/// Normal force of each flank, N, for a push `F` that drives the work into the vee: `F/(2 (sin α + μ cos α))`. Without
/// friction it is `F/(2 sin α)`, the most; friction that keeps the work from going in leaves less.
pub fn flank_force_n(push_n: f64, half_rad: f64, friction: f64) -> f64 {
    push_n / (2.0 * wedge_share(half_rad, friction))
}

/// What of the flanks' normal forces pushes along the jaw: `sin α + μ cos α`.
pub fn wedge_share(half_rad: f64, friction: f64) -> f64 {
    half_rad.sin() + friction * half_rad.cos()
}

/// Whether friction alone keeps the work in a vee when the jaw is slackened: `tan α ≤ μ`.
pub fn sticks_in_vee(half_rad: f64, friction: f64) -> bool {
    half_rad.tan() <= friction
}

/// How many times the friction of a flat face holds along a groove, by the same push: `1/sin α`.
pub fn friction_times_in_groove(half_rad: f64) -> f64 {
    1.0 / half_rad.sin()
}

/// Depth of a sharp groove of this width at its lips, mm: `w/(2 tan α)`.
pub fn groove_depth_mm(width_mm: f64, half_rad: f64) -> f64 {
    width_mm / (2.0 * half_rad.tan())
}

/// From the bottom of a sharp groove to the axis of a round that lies in it, mm: `R/sin α`.
pub fn round_over_groove_mm(radius_mm: f64, half_rad: f64) -> f64 {
    radius_mm / half_rad.sin()
}

/// Across the groove, from its middle to where a round in it touches a flank, mm: `R cos α`.
pub fn round_touches_mm(radius_mm: f64, half_rad: f64) -> f64 {
    radius_mm * half_rad.cos()
}

/// Where two lines that a pair of flanks lies on meet: how far out, and how far towards the first flank's side, mm. The
/// lines lie `first_mm` and `second_mm` from the same origin along normals that lean either way by a quarter turn less α.
pub fn groove_bottom_mm(first_mm: f64, second_mm: f64, half_rad: f64) -> (f64, f64) {
    ((first_mm + second_mm) / (2.0 * half_rad.sin()), (first_mm - second_mm) / (2.0 * half_rad.cos()))
}

/// How far from the middle of its back a vee may be pressed by one flank, mm, when the force acts so far across the
/// groove: `v + (h_b + v/tan α)/tan α`, h_b the block behind the bottom of the groove.
pub fn push_lands_mm(across_mm: f64, behind_groove_mm: f64, half_rad: f64) -> f64 {
    across_mm + (behind_groove_mm + across_mm / half_rad.tan()) / half_rad.tan()
}

/// Jaws whose points do not push the same way, each as its whole push on what lies against it: the part along the
/// mean push, and the rest, which friction on the jaw must carry.
pub(super) fn pushes(held: &[Held], points: &[Bearing]) -> Vec<Bearing> {
    let mut jaws: Vec<u8> = held.iter().map(|point| point.contact.jaw).collect();
    jaws.dedup();
    jaws.into_iter().filter_map(|jaw| push(jaw, held, points)).collect()
}

fn push(jaw: u8, held: &[Held], points: &[Bearing]) -> Option<Bearing> {
    let own: Vec<(&Held, &Bearing)> = held.iter().zip(points).filter(|(point, _)| point.contact.jaw == jaw).collect();
    let (first, _) = own.first()?;
    if own.iter().all(|(point, _)| point.contact.inward == first.contact.inward) {
        return None;
    }
    let mean = mean_push(own.iter().map(|(point, _)| point.contact.inward))?;
    let parts = own.iter().map(|(point, bearing)| {
        let turn = turned(&point.contact.inward, &mean);
        (turn * bearing.standing, turn * bearing.response)
    });
    let start = (Vector4::zeros(), SMatrix::<f64, 4, 6>::zeros());
    let (standing, response) = parts.fold(start, |sum, part| (sum.0 + part.0, sum.1 + part.1));
    let friction = own.iter().map(|(point, _)| point.contact.friction).fold(f64::MAX, f64::min);
    Some(Bearing { jaw, friction, standing, response })
}

/// Mean of the directions in which flanks push, each flank once.
pub(super) fn mean_push(inwards: impl Iterator<Item = Vector3<f64>>) -> Option<Vector3<f64>> {
    let mut flanks: Vec<Vector3<f64>> = Vec::new();
    inwards.for_each(|inward| {
        if !flanks.contains(&inward) {
            flanks.push(inward);
        }
    });
    flanks.iter().sum::<Vector3<f64>>().try_normalize(0.0)
}

/// From a normal force along `inward` and friction beside it to a force along `mean` and what is beside that.
fn turned(inward: &Vector3<f64>, mean: &Vector3<f64>) -> SMatrix<f64, 4, 4> {
    let mut whole = SMatrix::<f64, 3, 4>::zeros();
    whole.fixed_view_mut::<3, 1>(0, 0).copy_from(inward);
    whole.fixed_view_mut::<3, 3>(0, 1).copy_from(&Matrix3::identity());
    let along = mean.transpose() * whole;
    let mut turned = SMatrix::<f64, 4, 4>::zeros();
    turned.fixed_view_mut::<1, 4>(0, 0).copy_from(&along);
    turned.fixed_view_mut::<3, 4>(1, 0).copy_from(&(whole - mean * along));
    turned
}
