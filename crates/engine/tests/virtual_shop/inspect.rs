//! Measures a finished piece point by point, on its true corners and hills.

use super::recipe::{Recipe, Want};
use super::solid::{Face, Solid, V3, Which, across, clip, middle};
use super::zone::{least_squares, slab, strip};

/// Points on each edge of a face with hills, and rings towards its middle.
const EDGE_POINTS: usize = 8;
const RINGS: usize = 4;

/// What was measured for one want: of a size the least and greatest local size, of a zone twice its width; mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Least.
    pub least: f64,
    /// Greatest.
    pub most: f64,
}

/// Points of an outline at which its surface is measured; a bare plane needs its corners only.
fn samples(outline: &[V3], hilly: bool) -> Vec<V3> {
    let middle = middle(outline);
    if !hilly {
        return outline.iter().copied().chain([middle]).collect();
    }
    let mut points = vec![middle];
    for (at, from) in outline.iter().enumerate() {
        let to = outline[(at + 1) % outline.len()];
        for step in 0..EDGE_POINTS {
            let edge = from + (to - from) * (step as f64 / EDGE_POINTS as f64);
            points.extend((1..=RINGS).map(|ring| middle + (edge - middle) * (ring as f64 / RINGS as f64)));
        }
    }
    points
}

/// Points right beside the place where the spindle axis went through a face, where its slip goes up and down within a
/// step; none where that place lies outside of the outline, corners by the right hand about the normal.
fn beside_axis(face: &Face, outline: &[V3]) -> Vec<V3> {
    const BESIDE_MM: f64 = 0.05;
    const WAYS: u32 = 16;
    let Some(hills) = &face.hills else { return Vec::new() };
    let axis = hills.axis - face.normal * face.over(&hills.axis);
    let inside = |at: &V3| {
        let next = outline.iter().cycle().skip(1);
        outline.iter().zip(next).all(|(from, to)| (to - from).cross(&(at - from)).dot(&face.normal) >= 0.0)
    };
    let way = |at: u32| f64::from(at) / f64::from(WAYS) * std::f64::consts::TAU;
    let points = (0..WAYS).map(|at| axis + (hills.x * way(at).cos() + hills.y * way(at).sin()) * BESIDE_MM);
    points.filter(inside).collect()
}

/// Points of the true surface of a face.
fn surface(solid: &Solid, which: Which) -> Vec<V3> {
    let Some(face) = solid.face(which) else { return Vec::new() };
    let outline = solid.corners(which);
    if outline.len() < 3 {
        return Vec::new();
    }
    let points = samples(&outline, face.hills.is_some()).into_iter().chain(beside_axis(face, &outline));
    points.map(|at| face.surface(&at)).collect()
}

/// Points that stand for equal areas of an outline.
fn evenly(outline: &[V3]) -> Vec<V3> {
    const RINGS: usize = 4;
    let middle = middle(outline);
    let mut points = Vec::new();
    for (at, from) in outline.iter().enumerate() {
        let to = outline[(at + 1) % outline.len()];
        for step in 0..EDGE_POINTS {
            let edge = from + (to - from) * ((step as f64 + 0.5) / EDGE_POINTS as f64);
            for ring in 0..RINGS {
                // A ring twice as far out has twice the area.
                let there = middle + (edge - middle) * ((ring as f64 + 0.5) / RINGS as f64);
                points.extend(std::iter::repeat_n(there, 2 * ring + 1));
            }
        }
    }
    points
}

/// Normal of the mean plane of a face if that is asked, else of the plane that rests on a face from outside, balanced where it could rock: its slopes are those of the
/// least zone, since the greatest gap under a resting plane is the width of the zone in its direction.
fn datum(solid: &Solid, which: Which, mean: bool) -> Option<V3> {
    let face = solid.face(which)?;
    if face.hills.is_none() {
        return Some(face.normal);
    }
    let (u, v) = across(&face.normal);
    let seen = |at: &V3| V3::new(at.dot(&u), at.dot(&v), face.over(at));
    let [a, b] = match mean {
        false => slab(&surface(solid, which).iter().map(seen).collect::<Vec<_>>()).1,
        true => {
            least_squares(&evenly(&solid.corners(which)).iter().map(|at| seen(&face.surface(at))).collect::<Vec<_>>())
        }
    };
    Some((face.normal - u * a - v * b).normalize())
}

/// Local sizes over the area that two faces share: least and greatest.
fn sizes(solid: &Solid, one: usize, other: usize) -> Option<Measured> {
    let [one, other] = [one, other].map(Which::Finished);
    let (face, opposite) = (solid.face(one)?, solid.face(other)?);
    let way = (face.normal - opposite.normal).normalize();
    let (outline, against) = (solid.corners(one), solid.corners(other));
    let mut shared = outline;
    for (at, from) in against.iter().enumerate() {
        let edge = against[(at + 1) % against.len()] - from;
        // Outward of the other face's outline, seen along the way of measuring.
        let out = edge.cross(&opposite.normal);
        let out = out - way * way.dot(&out);
        shared = clip(&shared, &out, out.dot(from));
    }
    if shared.len() < 3 {
        return None;
    }
    let hilly = face.hills.is_some() || opposite.hills.is_some();
    let beside = [beside_axis(face, &solid.corners(one)), beside_axis(opposite, &solid.corners(other))].concat();
    let over = |at: V3| at - way * (face.over(&at) / face.normal.dot(&way));
    let all = samples(&shared, hilly).into_iter().chain(beside.into_iter().map(over));
    let all = all.map(|at| local(face, opposite, &way, &at));
    let (least, most) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), size| (a.min(size), b.max(size)));
    Some(Measured { least, most })
}

/// The size at a point of a face, along a way.
pub fn local(face: &Face, opposite: &Face, way: &V3, at: &V3) -> f64 {
    let on = face.surface(at);
    let there = on + way * (-opposite.over(&on) / opposite.normal.dot(way));
    let there = opposite.surface(&there);
    (on - there).dot(way)
}

/// Width of the zone parallel to a datum.
fn parallel(solid: &Solid, face: usize, to: usize, mean: bool) -> Option<f64> {
    let datum = datum(solid, Which::Finished(to), mean)?;
    let points = surface(solid, Which::Finished(face));
    let all = points.iter().map(|at| at.dot(&datum));
    let (least, most) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)));
    (most >= least).then_some(most - least)
}

/// Width of the zone square to a datum, free to turn about the datum's normal.
fn square(solid: &Solid, face: usize, to: usize, mean: bool) -> Option<f64> {
    let datum = datum(solid, Which::Finished(to), mean)?;
    let normal = solid.face(Which::Finished(face))?.normal;
    let height = (normal - datum * datum.dot(&normal)).normalize();
    let along = datum.cross(&height);
    let points: Vec<(f64, f64)> =
        surface(solid, Which::Finished(face)).iter().map(|at| (at.dot(&along), at.dot(&height))).collect();
    let (width, slope) = strip(&points);
    // A strip is measured across itself.
    (!points.is_empty()).then_some(width / slope.hypot(1.0))
}

/// Width of the least zone of a face.
fn flat(solid: &Solid, face: usize) -> Option<f64> {
    let which = Which::Finished(face);
    let made = solid.face(which)?;
    if made.hills.is_none() {
        return Some(0.0);
    }
    let (u, v) = across(&made.normal);
    let points: Vec<V3> =
        surface(solid, which).iter().map(|at| V3::new(at.dot(&u), at.dot(&v), made.over(at))).collect();
    let (width, [a, b]) = slab(&points);
    Some(width / (1.0 + a * a + b * b).sqrt())
}

/// Angle from one face's outward normal to another's about an axis, rad; positive by the right hand.
pub fn angle_about(solid: &Solid, from: usize, to: usize, axis: &V3) -> Option<f64> {
    let normal = |which| solid.face(Which::Finished(which)).map(|face| face.normal);
    let (from, to) = (normal(from)?, normal(to)?);
    let in_plane = |normal: V3| (normal - axis * axis.dot(&normal)).normalize();
    let (from, to) = (in_plane(from), in_plane(to));
    Some(from.cross(&to).dot(axis).atan2(from.dot(&to)))
}

/// Measures one want; `None`: a face of it is not there.
pub fn measure(solid: &Solid, want: &Want, mean: bool) -> Option<Measured> {
    let twice = |width: f64| Measured { least: width, most: width };
    match *want {
        Want::Size { one, other, .. } => sizes(solid, one, other),
        Want::Parallel { face, datum, .. } => parallel(solid, face, datum, mean).map(twice),
        Want::Square { face, datum, .. } => square(solid, face, datum, mean).map(twice),
        Want::Flat { face, .. } => flat(solid, face).map(twice),
    }
}

/// Whether what was measured is what is wanted.
pub fn good(want: &Want, measured: &Measured) -> bool {
    match *want {
        Want::Size { least, most, .. } => measured.least >= least && measured.most <= most,
        Want::Parallel { within, .. } | Want::Square { within, .. } | Want::Flat { within, .. } => {
            measured.most <= within
        }
    }
}

/// Everything that the drawing wants, measured; `None`: a face was never made.
pub fn all(recipe: &Recipe, solid: &Solid) -> Option<Vec<Measured>> {
    recipe.wants.iter().map(|want| measure(solid, want, recipe.mean_datums)).collect()
}

#[cfg(test)]
mod tests {
    use super::super::solid::Hills;
    use super::*;

    fn block(half: f64) -> Solid {
        let normals = [V3::z(), -V3::z(), V3::x(), -V3::x(), V3::y(), -V3::y()];
        let faces = normals.iter().enumerate();
        Solid { faces: faces.map(|(at, n)| (Which::Finished(at), Face::plane(*n, half))).collect(), round: None }
    }

    #[test]
    fn two_hollow_faces_read_small_in_the_middle_and_stand_proud_at_the_corners() {
        // Closed form: corners of a centred cone of slope γ on a square of side L stand γ L/√2 proud; the size between
        // two such faces differs by twice that from middle to corner. 0.02 read over a disc of 300: γ 1.333e-4.
        let cone = 0.02 / 150.0;
        let mut solid = block(25.0);
        for at in 0..2 {
            let hills = Hills { axis: V3::zeros(), x: V3::x(), y: V3::y(), cone, slip: [0.0; 2] };
            solid.faces[at].1.hills = Some(hills);
        }
        let sizes = sizes(&solid, 0, 1).unwrap();
        assert!((sizes.most - sizes.least - 0.009_428).abs() < 1e-6, "{sizes:?}");
        assert!((flat(&solid, 0).unwrap() - 0.004_714).abs() < 1e-6);
        // Its four corners carry the datum: no tilt.
        assert!((datum(&solid, Which::Finished(0), false).unwrap() - V3::z()).norm() < 1e-9);
    }

    #[test]
    fn once_per_turn_slip_leans_the_mean_plane_by_more_than_its_own_reading() {
        // Closed form: the least squares plane of A cos θ over a square of half side a has slope A (√2 + ln(1+√2))/(2a);
        // full indicator reading 2A = 0.010 gives 0.0115 across, whatever the size.
        for half in [10.0, 25.0] {
            let hills = Hills { axis: V3::zeros(), x: V3::x(), y: V3::y(), cone: 0.0, slip: [0.005, 0.0] };
            let steps = 200;
            let place = |at: usize| half * ((2 * at + 1) as f64 / f64::from(steps as u32) - 1.0);
            let points: Vec<V3> = (0..steps * steps)
                .map(|at| V3::new(place(at % steps), place(at / steps), 0.0))
                .map(|at| V3::new(at.x, at.y, hills.height(&at)))
                .collect();
            let across = super::super::zone::least_squares(&points)[0] * 2.0 * half;
            assert!((across - 0.011_478).abs() < 2e-6, "{across}");
        }
    }

    #[test]
    fn perpendicularity_turns_freely_about_the_normal_of_its_datum() {
        // Worked with a general library: datum z = 8e-5 x − 4e-5 y, five points of a face: zone 0.0152001.
        let datum = V3::new(-8e-5, 4e-5, 1.0).normalize();
        let points =
            [[0.0, 5.0, 5.0], [0.003, 45.0, 5.0], [0.010, 5.0, 45.0], [0.015, 45.0, 45.0], [0.006, 25.0, 25.0]];
        let height = (V3::x() - datum * datum.x).normalize();
        let along = datum.cross(&height);
        let projected: Vec<(f64, f64)> =
            points.map(V3::from).iter().map(|at| (at.dot(&along), at.dot(&height))).collect();
        assert!((strip(&projected).0 - 0.015_200_1).abs() < 1e-7, "{}", strip(&projected).0);
    }

    #[test]
    fn a_leaning_face_is_out_by_its_lean_times_its_length_and_only_in_the_angle() {
        let mut solid = block(20.0);
        solid.faces[2].1 = Face::plane(V3::new(1.0, 2e-4, 3e-4), 20.0);
        assert!((square(&solid, 2, 0, false).unwrap() - 40.0 * 3e-4).abs() < 1e-6);
        assert!((square(&solid, 2, 4, false).unwrap() - 40.0 * 2e-4).abs() < 1e-6);
        assert!((parallel(&solid, 2, 3, false).unwrap() - 40.0 * 5e-4).abs() < 1e-5);
        let sizes = sizes(&solid, 2, 3).unwrap();
        assert!((sizes.most - sizes.least - 40.0 * 5e-4).abs() < 1e-5, "{sizes:?}");
    }
}
