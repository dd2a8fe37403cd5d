//! Points and directions in the plane and in space.

use std::f64::consts::TAU;

/// A point or direction of the plane.
pub type Flat = [f64; 2];
/// A point or direction of space.
pub type Space = [f64; 3];

/// a + b·t.
pub fn go(a: Flat, b: Flat, t: f64) -> Flat {
    [a[0] + b[0] * t, a[1] + b[1] * t]
}

/// From a to b.
pub fn between(a: Flat, b: Flat) -> Flat {
    [b[0] - a[0], b[1] - a[1]]
}

/// Distance of two points.
pub fn apart(a: Flat, b: Flat) -> f64 {
    let [x, y] = between(a, b);
    x.hypot(y)
}

/// Inner product.
pub fn dot(a: Flat, b: Flat) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// Of a x b, what stands out of the plane.
pub fn cross(a: Flat, b: Flat) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

/// Unit vector at this angle.
pub fn unit(angle_rad: f64) -> Flat {
    [angle_rad.cos(), angle_rad.sin()]
}

/// A quarter turn anticlockwise where y points upwards.
pub fn quarter(a: Flat) -> Flat {
    [-a[1], a[0]]
}

/// Inner product in space.
pub fn dot3(a: Space, b: Space) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Sum of the vectors, each times its factor.
pub fn sum3(parts: [(f64, Space); 3]) -> Space {
    std::array::from_fn(|at| parts.iter().map(|(times, vector)| times * vector[at]).sum())
}

/// How far the second angle lies behind the first, 0 to 2π.
pub fn turn(from_rad: f64, to_rad: f64) -> f64 {
    (to_rad - from_rad).rem_euclid(TAU)
}

/// Whether two directions agree within this angle.
pub fn same_way(a_rad: f64, b_rad: f64, within_rad: f64) -> bool {
    let off = turn(a_rad, b_rad);
    off <= within_rad || TAU - off <= within_rad
}
