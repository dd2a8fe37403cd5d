//! Makes a piece: clamp, cut, turn round, clamp, cut, with all that is not true.

use nalgebra::Rotation3;

use super::contact::{Clamped, Pose, Spring, Touch, shortest, turn_vector};
use super::jaw::{CELLS, Height, Pad};
use super::noise::{Fresh, Throw};
use super::recipe::{On, Recipe, Seat, SetUp};
use super::solid::{Face, Hills, Solid, V3, Which};

/// A pad finds a face where the face is; this far outside its outline it still does, mm (sizes are off by less).
const EDGE_MM: f64 = 0.2;

/// How the pose of a clamped piece is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Springs that only push, finite turns.
    Real,
    /// One linear step with springs that push and pull: only to see where that fails.
    SmallMotions,
}

/// A piece that was made.
#[derive(Debug, Clone)]
pub struct Made {
    /// The piece.
    pub solid: Solid,
    /// The pose of each set-up.
    pub poses: Vec<Pose>,
    /// Share of springs that touched in each set-up.
    pub touching: Vec<f64>,
}

/// Why a piece was not made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spoiled {
    /// What should lie on a pad is not there, in this set-up.
    NothingThere(usize),
    /// No pose was found in this set-up.
    NoPose(usize),
}

/// A pad, its springs on the work, its force.
struct Bearing {
    pad: Pad,
    springs: Vec<Spring>,
    presses: f64,
    jaw: bool,
}

/// The frame of a set-up, and the piece in it.
struct InFrame<'a> {
    solid: &'a Solid,
    set_up: &'a SetUp,
}

impl InFrame<'_> {
    fn turn(&self, direction: &V3) -> V3 {
        V3::from_iterator(self.set_up.axes.iter().map(|axis| axis.dot(direction)))
    }

    fn place(&self, at: &V3) -> V3 {
        self.turn(&(at - self.set_up.origin))
    }

    fn back_turn(&self, direction: &V3) -> V3 {
        let [x, y, z] = &self.set_up.axes;
        x * direction.x + y * direction.y + z * direction.z
    }

    fn back(&self, at: &V3) -> V3 {
        self.set_up.origin + self.back_turn(at)
    }

    /// What a pad facing `out` finds of this kind.
    fn find(&self, on: On, out: &V3) -> Option<(Touch, Option<Which>)> {
        if let (On::Bar, Some((radius, axis))) = (on, self.solid.round) {
            let axis = self.place(&V3::new(axis[0], axis[1], 0.0));
            return Some((Touch::Round { axis, along: self.turn(&V3::z()), radius }, None));
        }
        let facing = |face: &Face| self.turn(&face.normal).dot(out);
        let fits = |which: &Which| match (on, which) {
            (On::Bar, Which::Bar(_)) | (On::Sawn, Which::Sawn(_)) => true,
            (On::Face(one), Which::Finished(other)) => one == *other,
            _ => false,
        };
        let found = self.solid.faces.iter().filter(|(which, _)| fits(which));
        let (which, face) = found.max_by(|one, other| facing(&one.1).total_cmp(&facing(&other.1)))?;
        (facing(face) > 0.5).then(|| (self.plane(face), Some(*which)))
    }

    fn plane(&self, face: &Face) -> Touch {
        Touch::Plane { normal: self.turn(&face.normal), offset: face.offset - face.normal.dot(&self.set_up.origin) }
    }

    /// The springs between a pad and what it finds.
    fn springs(&self, pad: &Pad, on: On) -> Option<Vec<Spring>> {
        let (touch, which) = self.find(on, &pad.out)?;
        let face = which.and_then(|which| self.solid.face(which));
        let mut springs = Vec::new();
        for spot in pad.bed() {
            let (at, height) = match touch {
                Touch::Plane { .. } => {
                    let at = self.back(&spot.at);
                    if !self.solid.has_but(which, &at, EDGE_MM) {
                        continue;
                    }
                    (spot.at, spot.height + face.map_or(0.0, |face| face.height(&at)))
                }
                Touch::Round { axis, along, .. } => {
                    // A line: the bed's share of one slice goes to the highest point of the round.
                    let over = axis + along * along.dot(&(spot.at - axis));
                    let at = spot.at + (over - spot.at) - pad.out * pad.out.dot(&(over - spot.at));
                    (at, pad.height_beside(&at))
                }
            };
            let (out, screw) = (pad.out, pad.screw);
            springs.push(Spring { at, out, screw, proud: height, stiffness: pad.stiffness * spot.share, touch });
        }
        let whole: f64 = springs.iter().map(|spring| spring.stiffness).sum();
        if whole <= 0.0 {
            return None;
        }
        for spring in &mut springs {
            spring.stiffness *= pad.stiffness / whole;
        }
        Some(springs)
    }
}

/// The pad of a jaw; a round finds a line of it.
fn jaw_pad(frame: &InFrame, jaw: usize, throw: &Throw, fresh: &Fresh, reach: f64) -> Option<Pad> {
    let hold = frame.set_up.jaws[jaw].as_ref()?;
    let (sin, cos) = [(0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0)][jaw];
    let (out, u, v) = (V3::new(cos, sin, 0.0), V3::new(-sin, cos, 0.0), V3::z());
    let ([a, b], [c, d]) = (hold.across, hold.along);
    // What lies between jaw and work leans it as the jaw's own face would.
    let between = match hold.on {
        On::Bar => fresh.skin[jaw],
        On::Face(_) if d > c => fresh.packing[jaw] / (d - c),
        _ => 0.0,
    };
    let tilt = [throw.jaw[jaw][1] + fresh.jaw[jaw][1], throw.jaw[jaw][0] + fresh.jaw[jaw][0] + between];
    let mut half = [(b - a) / 2.0, (d - c) / 2.0];
    if let (On::Bar, Some(_)) = (hold.on, frame.solid.round) {
        let along = frame.turn(&V3::z());
        half[if along.z.abs() > 0.5 { 0 } else { 1 }] = 0.0;
    }
    // Of a line each end has its own dirt.
    let mut corners = fresh.dirt[jaw];
    for (_, to, from) in
        [(0, 1, 0), (0, 3, 2), (1, 3, 0), (1, 1, 2)].into_iter().filter(|(side, ..)| half[*side] <= 0.0)
    {
        corners[to] = corners[from];
    }
    Some(Pad {
        middle: out * reach + u * ((a + b) / 2.0) + v * ((c + d) / 2.0),
        out,
        u,
        v,
        half,
        screw: jaw.checked_sub(2),
        stiffness: hold.stiffness,
        height: Height { level: 0.0, tilt, corners },
        hole_radius: 0.0,
        cells: CELLS,
    })
}

/// The pads of the seat.
fn seat_pads(seat: &Seat, throw: &Throw, fresh: &Fresh) -> Vec<Pad> {
    let area = |pad: &[f64; 4]| ((pad[1] - pad[0]).max(1e-3)) * ((pad[3] - pad[2]).max(1e-3));
    let whole: f64 = seat.pads.iter().map(area).sum();
    let lean = |axis: usize| {
        let ends = seat.pads.iter().flat_map(|pad| [pad[2 * axis], pad[2 * axis + 1]]);
        let (least, most) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)));
        let tapped = if most > least { fresh.tapped[axis] / ((most - least) / 2.0) } else { 0.0 };
        tapped + if seat.on == On::Bar { fresh.skin[4 + axis] } else { 0.0 }
    };
    let leans = [lean(0), lean(1)];
    let pad = |(number, pad): (usize, &[f64; 4])| {
        let middle = V3::new((pad[0] + pad[1]) / 2.0, (pad[2] + pad[3]) / 2.0, -seat.depth);
        let tilt = [0, 1].map(|axis| throw.seat[axis] + fresh.seat[axis] + leans[axis]);
        let tilted = tilt[0] * middle.x + tilt[1] * middle.y;
        let over = if number == 0 { 0.0 } else { fresh.parallels };
        Pad {
            middle,
            out: -V3::z(),
            u: V3::x(),
            v: V3::y(),
            half: [(pad[1] - pad[0]) / 2.0, (pad[3] - pad[2]) / 2.0],
            screw: None,
            stiffness: seat.stiffness * area(pad) / whole,
            height: Height { level: tilted + over + seat.tap / seat.stiffness, tilt, corners: fresh.dirt[4] },
            hole_radius: seat.hole_radius,
            cells: CELLS,
        }
    };
    seat.pads.iter().enumerate().map(pad).collect()
}

/// From the spindle axis to what a jaw finds, as drawn.
fn reach(recipe: &Recipe, frame: &InFrame, on: On, out: &V3) -> f64 {
    match frame.find(on, out) {
        Some((Touch::Round { axis, radius, .. }, _)) => axis.dot(out) + radius,
        Some((Touch::Plane { normal, offset }, _)) => match on {
            On::Face(face) => recipe.faces[face].distance - recipe.faces[face].normal.dot(&frame.set_up.origin),
            // A sawn end is met where it stands on the axis of its jaw.
            On::Bar | On::Sawn => offset / normal.dot(out),
        },
        None => 0.0,
    }
}

/// Every pad of a set-up with its springs.
fn bearings(recipe: &Recipe, frame: &InFrame, throw: &Throw, fresh: &Fresh) -> Option<Vec<Bearing>> {
    let set_up = frame.set_up;
    let mut all = Vec::new();
    for jaw in 0..4 {
        let Some(hold) = &set_up.jaws[jaw] else { continue };
        let out = [V3::x(), V3::y(), -V3::x(), -V3::y()][jaw];
        let off = if jaw < 2 { fresh.centring[jaw] } else { -fresh.centring[jaw - 2] };
        let mut pad = jaw_pad(frame, jaw, throw, fresh, reach(recipe, frame, hold.on, &out) + off)?;
        if pad.screw.is_none() {
            // The work is trued up under force: what the jaw gives is made up beforehand.
            pad.height.level += set_up.clamp / hold.stiffness;
        }
        let springs = frame.springs(&pad, hold.on)?;
        all.push(Bearing { pad, springs, presses: set_up.clamp, jaw: true });
    }
    if let Some(seat) = &set_up.seat {
        for pad in seat_pads(seat, throw, fresh) {
            let springs = frame.springs(&pad, seat.on)?;
            all.push(Bearing { pad, springs, presses: 0.0, jaw: false });
        }
    }
    Some(all)
}

/// The pose by eye: the named face set as drawn, then the error of the eye.
fn by_eye(frame: &InFrame, recipe: &Recipe, fresh: &Fresh) -> Pose {
    let [x, y, z] = fresh.eye;
    let mut turn = Rotation3::new(V3::new(x, y, z));
    if let Some(face) = frame.set_up.eye_by
        && let Some(made) = frame.solid.face(Which::Finished(face))
    {
        turn *= shortest(&frame.turn(&made.normal), &frame.turn(&recipe.faces[face].normal));
    }
    Pose { turn, ..Pose::drawn() }
}

/// The clamped piece of a set-up, under a share of its clamping force.
fn clamped(recipe: &Recipe, frame: &InFrame, all: &[Bearing], eye: Pose, share: f64) -> Clamped {
    let springs: Vec<Spring> = all.iter().flat_map(|bearing| bearing.springs.iter().copied()).collect();
    let force =
        |screw| all.iter().any(|bearing| bearing.pad.screw == Some(screw)).then_some(frame.set_up.clamp * share);
    let jaws: Vec<(&Pad, &[Spring], f64)> = all
        .iter()
        .filter(|bearing| bearing.jaw)
        .map(|bearing| (&bearing.pad, bearing.springs.as_slice(), bearing.presses * share))
        .collect();
    let moment = -Clamped::out_of_line(&jaws).1 * recipe.friction_carries;
    let loads = frame.set_up.seat.iter().map(|seat| (seat_middle(all), V3::new(0.0, 0.0, -seat.tap))).collect();
    Clamped { springs, screws: [force(0), force(1)], loads, moment, eye }
}

/// Where the tap goes: the middle of what bears on the seat.
fn seat_middle(all: &[Bearing]) -> V3 {
    let springs = all.iter().filter(|bearing| !bearing.jaw).flat_map(|bearing| &bearing.springs);
    let (whole, moment) = springs.fold((0.0, V3::zeros()), |(whole, moment), spring| {
        (whole + spring.stiffness, moment + spring.at * spring.stiffness)
    });
    moment / whole
}

/// Where the work stands in a set-up: tapped back under light jaws, then tightened with a last tap.
pub fn pose(
    recipe: &Recipe,
    solid: &Solid,
    set_up: &SetUp,
    (throw, fresh): (&Throw, &Fresh),
    method: Method,
) -> Result<(Pose, f64), bool> {
    let frame = InFrame { solid, set_up };
    let all = bearings(recipe, &frame, throw, fresh).ok_or(false)?;
    let eye = by_eye(&frame, recipe, fresh);
    let tight = clamped(recipe, &frame, &all, eye, 1.0);
    let small = tight.linear().ok_or(true)?;
    if method == Method::SmallMotions {
        return Ok((small, 1.0));
    }
    let mut found = tight.settle(&small).ok_or(true)?.0;
    if set_up.seat.is_some() && recipe.kept_turn > 0.0 {
        let light = clamped(recipe, &frame, &all, eye, recipe.light_share);
        let tapped = light.settle(&light.linear().ok_or(true)?).ok_or(true)?.0;
        let back = turn_vector(&(tapped.turn * found.turn.inverse())) * recipe.kept_turn;
        found.turn = Rotation3::new(back) * found.turn;
    }
    let touching = tight.touching(&found);
    Ok((found, touching))
}

/// The face that the spindle leaves on the work in this pose: square to the spindle, with the hills of cone and slip,
/// at the place that the finishing cut brings.
fn face_cut(recipe: &Recipe, solid: &Solid, set_up: &SetUp, pose: &Pose, throw: &Throw, fresh: &Fresh) -> Face {
    let frame = InFrame { solid, set_up };
    let back = pose.turn.inverse();
    let direction = |machine: V3| frame.back_turn(&(back * machine));
    let normal = direction(V3::z());
    let axis = frame.back(&(back * -pose.shift));
    let hills = Hills { axis, x: direction(V3::x()), y: direction(V3::y()), cone: throw.cone, slip: throw.slip };
    let through = where_to(recipe, solid, set_up.cut, &normal, throw, fresh);
    let offset = normal.dot(&through) - under_gauge(&hills, &through);
    Face { normal, offset, hills: (throw.cone != 0.0 || throw.slip != [0.0; 2]).then_some(hills) }
}

/// What a gauge finds of the hills: slip that goes once round under its face counts by its mean.
fn under_gauge(hills: &Hills, at: &V3) -> f64 {
    /// Half of a micrometer's measuring face, mm (6.5 across is usual).
    const HALF_MM: f64 = 3.25;
    let from = at - hills.axis;
    let radius = from.dot(&hills.x).hypot(from.dot(&hills.y));
    let cone = hills.cone * radius;
    // The mean direction over a disc at a small distance from the axis grows as distance over radius of the disc.
    cone + (hills.height(at) - cone) * (radius / HALF_MM).min(1.0)
}

/// The point of the part that the finished surface passes through.
fn where_to(recipe: &Recipe, solid: &Solid, cut: usize, normal: &V3, throw: &Throw, fresh: &Fresh) -> V3 {
    let drawn = &recipe.faces[cut];
    let opposite = recipe.opposite(cut);
    let made = opposite.and_then(|other| Some((other, solid.face(Which::Finished(other))?)));
    match made {
        Some((other, face)) => {
            let drawn_middle = recipe.middles[other];
            let flat = drawn_middle - face.normal * face.over(&drawn_middle);
            let on_it = flat + face.normal * face.hills.as_ref().map_or(0.0, |hills| under_gauge(hills, &flat));
            let across = (normal - face.normal).normalize();
            on_it + across * (recipe.aim(cut, other) + throw.gauge + fresh.size)
        }
        None => recipe.middles[cut] + drawn.normal * fresh.place,
    }
}

/// Makes one piece.
pub fn make(recipe: &Recipe, throw: &Throw, method: Method) -> Result<Made, Spoiled> {
    let mut solid = recipe.raw(throw.sawn);
    let (mut poses, mut touching) = (Vec::new(), Vec::new());
    for (number, set_up) in recipe.set_ups.iter().enumerate() {
        let fresh = &throw.fresh[number];
        let found = pose(recipe, &solid, set_up, (throw, fresh), method);
        let (pose, touched) = found.map_err(|there| match there {
            true => Spoiled::NoPose(number),
            false => Spoiled::NothingThere(number),
        })?;
        let face = face_cut(recipe, &solid, set_up, &pose, throw, fresh);
        solid.faces.push((Which::Finished(set_up.cut), face));
        poses.push(pose);
        touching.push(touched);
    }
    Ok(Made { solid, poses, touching })
}
