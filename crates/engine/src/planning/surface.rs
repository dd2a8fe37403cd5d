//! What the finishing cut leaves on, and where: the tool goes to the middle while work and machine spring apart.

use std::f64::consts::FRAC_PI_2;

use super::hold::Hold;
use super::report::from_jaw_1_deg;
use super::search::Chosen;
use super::workings::Taken;
use crate::holding::{Spring, TurnCut, machine_spring_um};
use crate::part::Place;
use crate::plan::{Surface, SurfacePlace, SurfaceRay};
use crate::shape::Point;
use crate::task::Task;

/// Rays from the axis, evenly round; more go to the corners of the flat.
const RAYS: u32 = 72;
/// Stretches between the places along a ray.
const STRETCHES: u32 = 8;
/// Rays nearer than this are one, degrees.
const SAME_DEG: f64 = 1e-6;

/// How work and overhang give way to a cut together.
pub fn spring(held: &Hold, cut: &TurnCut) -> Spring {
    match &held.centre {
        Some((centre, jaws)) => Spring::of_propped(jaws, &held.overhang, centre, cut),
        None => Spring::of_contacts(&held.grip, cut) + Spring::of_overhang(&held.overhang, cut),
    }
}

/// What stays on over the flat after its last pass.
pub fn surface(task: &Task, chosen: &Chosen, taken: &[Taken]) -> Option<Surface> {
    let facing = &chosen.way.facing;
    let (at, last) = taken.iter().enumerate().next_back()?;
    let pass = &last.pass;
    let cut = facing.hold.turn_cut(pass.start_radius_mm, facing.depth.stick_out_mm - pass.total_mm, pass.force_n);
    let (spring, machine_um) =
        (spring(&facing.hold, &cut), machine_spring_um(pass.force_n.passive, task.lathe.stiffness_n_um));
    let ray = |angle_deg: f64| {
        let (from_mm, to_mm) = inside(task, chosen, last, angle_deg)?;
        let left = |step: u32| {
            let share = f64::from(step) / f64::from(STRETCHES);
            spring.at_um(from_mm + share * (to_mm - from_mm), angle_deg) + machine_um
        };
        let angle_deg = from_jaw_1_deg(chosen, angle_deg);
        Some(SurfaceRay { angle_deg, from_mm, to_mm, left_um: (0..=STRETCHES).map(left).collect() })
    };
    let mut rays: Vec<SurfaceRay> = angles(task, chosen, last).into_iter().filter_map(ray).collect();
    rays.sort_by(|one, other| one.angle_deg.total_cmp(&other.angle_deg));
    summed_up(at + 1, chosen.way.facing.lie.sides.len(), rays)
}

/// Angles of the rays in the axes of the lie, degrees.
fn angles(task: &Task, chosen: &Chosen, taken: &Taken) -> Vec<f64> {
    let even = (0..RAYS).map(|step| 360.0 * f64::from(step) / f64::from(RAYS));
    let corners = taken.floor.section.corners();
    let to_corners = corners.into_iter().filter(|corner| corner.norm() > 0.0).map(|corner| {
        let [x, y] = floor_axes(task, chosen).map(|axis| axis.dot(&corner));
        y.atan2(x).to_degrees().rem_euclid(360.0)
    });
    let mut angles: Vec<f64> = even.chain(to_corners).collect();
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|later, earlier| *later - *earlier < SAME_DEG);
    angles.pop_if(|last| 360.0 - *last < SAME_DEG);
    angles
}

/// X and Y of the set-up in the plane in which the floor is given.
fn floor_axes(task: &Task, chosen: &Chosen) -> [Point; 2] {
    let lie = &chosen.way.facing.lie;
    match task.faces[lie.face].place {
        Place::Side(_) => [Point::x(), Point::y()],
        Place::Front | Place::Back => [lie.axes[0], lie.axes[1]].map(|axis| Point::new(axis.x, axis.y)),
    }
}

/// Where a ray from the axis runs over the flat, from and to, mm.
fn inside(task: &Task, chosen: &Chosen, taken: &Taken, angle_deg: f64) -> Option<(f64, f64)> {
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    let [x, y] = floor_axes(task, chosen);
    let way = x * cos + y * sin;
    let (from, to) = taken.floor.section.chord(way.y.atan2(way.x) - FRAC_PI_2, 0.0)?;
    (to > 0.0).then_some((from.max(0.0), to))
}

fn summed_up(pass: usize, jaws: usize, rays: Vec<SurfaceRay>) -> Option<Surface> {
    let places = || rays.iter().flat_map(SurfaceRay::places);
    let highest = places().max_by(|one, other| one.left_um.total_cmp(&other.left_um))?;
    let lowest = places().min_by(|one, other| one.left_um.total_cmp(&other.left_um))?;
    let reach_mm = rays.iter().map(|ray| ray.to_mm).fold(0.0, f64::max);
    let towards = towards(&highest, reach_mm, jaws);
    Some(Surface { pass, highest, lowest, towards, rays })
}

/// Where a place lies, as the hands find it: by the jaws.
fn towards(place: &SurfacePlace, reach_mm: f64, jaws: usize) -> String {
    /// Within this share of the reach a place is in the middle.
    const MIDDLE: f64 = 0.2;
    if place.radius_mm < MIDDLE * reach_mm {
        return "in the middle".to_string();
    }
    let apart_deg = 360.0 / jaws as f64;
    // In quarters of the way from jaw to jaw: the two next to a jaw are its own.
    let quarter = (place.angle_deg / apart_deg * 4.0).rem_euclid(4.0 * jaws as f64);
    let before = (quarter / 4.0).floor() as usize % jaws;
    let next = (before + 1) % jaws;
    match quarter % 4.0 {
        along if along <= 1.0 => format!("towards jaw {}", before + 1),
        along if along >= 3.0 => format!("towards jaw {}", next + 1),
        _ => format!("between jaws {} and {}", before.min(next) + 1, before.max(next) + 1),
    }
}
