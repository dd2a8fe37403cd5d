//! Recipes for blocks: from the order and what the hands choose to what lies where.

use super::recipe::{Asked, Bar, Hold, On, Recipe, Seat, Section, SetUp, Want};
use super::solid::{Face, Solid, V3, Which};

/// The chuck and its springs.
#[derive(Debug, Clone, Copy)]
pub struct Chuck {
    /// Width of a jaw, mm.
    pub width: f64,
    /// Deepest bite, mm.
    pub length: f64,
    /// Spring of a jaw, N/mm.
    pub jaw: f64,
    /// Spring of the seat, N/mm.
    pub seat: f64,
    /// What the last tap leaves on the seat, N.
    pub tap: f64,
    /// Force of each pair, N.
    pub clamp: f64,
}

/// One step of the work.
#[derive(Debug, Clone, Copy)]
pub struct Step {
    /// Face to be cut: 0 front, 1 back, then +x, +y, −x, −y.
    pub cut: usize,
    /// Quarter turns of the piece in the chuck.
    pub turn: usize,
    /// Tapped back against the chuck face or parallels.
    pub seat: bool,
    /// How far the finished flat stands out of the jaws, mm.
    pub out: f64,
    /// Jaws left alone.
    pub kept: [bool; 4],
}

impl Step {
    /// A face, not turned, no seat, every jaw moved.
    pub fn cut(cut: usize) -> Self {
        Step { cut, turn: 0, seat: false, out: 6.0, kept: [false; 4] }
    }

    /// Turned by quarters.
    pub fn turned(self, turn: usize) -> Self {
        Step { turn, ..self }
    }

    /// Tapped back.
    pub fn seated(self) -> Self {
        Step { seat: true, ..self }
    }
}

/// Outward normals of a block's faces.
pub fn normals() -> [V3; 6] {
    [V3::z(), -V3::z(), V3::x(), V3::y(), -V3::x(), -V3::y()]
}

/// Faces of a block of these sizes in x, y, z.
pub fn faces(sizes: [f64; 3]) -> Vec<Asked> {
    let half = |normal: &V3| normal.abs().dot(&V3::from(sizes)) / 2.0;
    let letters = ["A", "B", "C", "D", "E", "F"];
    normals()
        .iter()
        .zip(letters)
        .map(|(normal, name)| Asked { name: name.to_string(), normal: *normal, distance: half(normal) })
        .collect()
}

/// Sizes, parallelism of opposite faces and perpendicularity of neighbours.
pub fn wants(sizes: [f64; 3], plus_minus: f64, parallel: f64, square: f64) -> Vec<Want> {
    let mut wants = Vec::new();
    for (one, other, size) in [(0, 1, sizes[2]), (2, 4, sizes[0]), (3, 5, sizes[1])] {
        wants.push(Want::Size { one, other, least: size - plus_minus, most: size + plus_minus });
        wants.push(Want::Parallel { face: other, datum: one, within: parallel });
    }
    for (face, datum) in [(2, 0), (3, 0), (4, 0), (5, 0), (3, 2), (4, 3), (5, 4), (2, 5)] {
        wants.push(Want::Square { face, datum, within: square });
    }
    wants
}

/// A block made in this order.
pub fn block(bar: Bar, sizes: [f64; 3], steps: &[Step], chuck: &Chuck, wants: Vec<Want>) -> Recipe {
    let faces = faces(sizes);
    let mut recipe = Recipe::new(bar, faces, Vec::new(), wants);
    let mut solid = recipe.raw([[0.0; 2]; 2]);
    let mut set_ups = Vec::new();
    for step in steps {
        set_ups.push(Bench { now: Now { recipe: &recipe, solid: &solid }, chuck, step }.set_up());
        let asked = &recipe.faces[step.cut];
        solid.faces.push((Which::Finished(step.cut), Face::plane(asked.normal, asked.distance)));
    }
    recipe.set_ups = set_ups;
    recipe
}

/// The piece as drawn at one moment.
pub struct Now<'a> {
    /// What is made.
    pub recipe: &'a Recipe,
    /// The piece.
    pub solid: &'a Solid,
}

struct Bench<'a> {
    now: Now<'a>,
    chuck: &'a Chuck,
    step: &'a Step,
}

impl Now<'_> {
    /// What lies outermost this way, and how far out.
    pub fn outermost(&self, way: &V3) -> (On, f64) {
        for (which, face) in &self.solid.faces {
            if let (Which::Finished(at), true) = (which, face.normal.dot(way) > 0.999) {
                return (On::Face(*at), face.offset);
            }
        }
        if way.z.abs() > 0.5 {
            return (On::Sawn, if way.z > 0.0 { self.recipe.bar.front } else { -self.recipe.bar.back });
        }
        let far = match &self.recipe.bar.section {
            Section::Round(radius, axis) => radius + axis[0] * way.x + axis[1] * way.y,
            Section::Flats(flats) => flats.iter().find(|flat| flat.0.dot(way) > 0.999).map_or(0.0, |flat| flat.1),
        };
        (On::Bar, far)
    }

    /// What lies on a surface, from origin, along `u` and `v`: least and most of each.
    pub fn reaches(&self, on: On, way: &V3, origin: &V3, u: &V3, v: &V3) -> [f64; 4] {
        let which = self.solid.faces.iter().rev().find(|(which, face)| {
            let kind = match (on, which) {
                (On::Face(one), Which::Finished(other)) => one == *other,
                (On::Bar, Which::Bar(_)) | (On::Sawn, Which::Sawn(_)) => true,
                _ => false,
            };
            kind && face.normal.dot(way) > 0.999
        });
        let corners = match which {
            Some((which, _)) => self.solid.corners(*which),
            // A line of a round bar.
            None => [self.outermost(&V3::z()).1, -self.outermost(&-V3::z()).1]
                .map(|z| way * self.outermost(way).1 + V3::z() * z)
                .to_vec(),
        };
        let range = |axis: &V3| {
            let all = corners.iter().map(|corner| (corner - origin).dot(axis));
            all.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| (least.min(at), most.max(at)))
        };
        let ((a, b), (c, d)) = (range(u), range(v));
        [a, b, c, d]
    }
}

impl Bench<'_> {
    fn set_up(&self) -> SetUp {
        let z = self.now.recipe.faces[self.step.cut].normal;
        let start = if z.z.abs() > 0.5 { V3::x() } else { V3::z() };
        let round = [start, z.cross(&start), -start, -z.cross(&start)];
        let (x, y) = (round[self.step.turn % 4], round[(self.step.turn + 1) % 4]);
        let middle = |way: &V3| way * ((self.now.outermost(way).1 - self.now.outermost(&-way).1) / 2.0);
        let front = self.now.recipe.faces[self.step.cut].distance - self.step.out;
        let origin = middle(&x) + middle(&y) + z * front;
        let axes = [x, y, z];
        let behind = front + self.now.outermost(&-z).1;
        let bite = behind.min(self.chuck.length);
        let ways = [x, y, -x, -y];
        let hold = |jaw: usize| Some(self.hold(&ways[jaw], axes, &origin, bite, jaw));
        SetUp {
            cut: self.step.cut,
            axes,
            origin,
            jaws: [hold(0), hold(1), hold(2), hold(3)],
            seat: self.step.seat.then(|| self.seat(axes, &origin, behind)),
            eye_by: self.eye_by(&ways),
            clamp: self.chuck.clamp,
        }
    }

    fn hold(&self, way: &V3, axes: [V3; 3], origin: &V3, bite: f64, jaw: usize) -> Hold {
        let on = self.now.outermost(way).0;
        let u = axes[2].cross(way);
        let [a, b, c, d] = self.now.reaches(on, way, origin, &u, &axes[2]);
        let half = self.chuck.width / 2.0;
        let (mut across, mut along) = ([a.max(-half), b.min(half)], [c.max(-bite), d.min(0.0)]);
        if on == On::Sawn {
            // Soft packing gives way to any lean: an end as sawn squares nothing.
            across = [(across[0] + across[1]) / 2.0; 2];
            along = [(along[0] + along[1]) / 2.0; 2];
        }
        Hold { on, across, along, kept: self.step.kept[jaw], stiffness: self.chuck.jaw }
    }

    fn seat(&self, axes: [V3; 3], origin: &V3, depth: f64) -> Seat {
        let way = -axes[2];
        let on = self.now.outermost(&way).0;
        let whole = self.now.reaches(on, &way, origin, &axes[0], &axes[1]);
        Seat { on, depth, pads: vec![whole], hole_radius: 0.0, stiffness: self.chuck.seat, tap: self.chuck.tap }
    }

    /// A finished side set by eye where none bears, for a side.
    fn eye_by(&self, ways: &[V3; 4]) -> Option<usize> {
        let cut = self.now.recipe.faces[self.step.cut].normal;
        if cut.z.abs() > 0.5 {
            return None;
        }
        let side = |way: &V3| matches!(self.now.outermost(way).0, On::Face(face) if face > 1);
        if ways.iter().any(side) || (self.step.seat && side(&-cut)) {
            return None;
        }
        let mut finished = self.now.solid.faces.iter().filter_map(|(which, _)| match which {
            Which::Finished(face) if *face > 1 => Some(*face),
            _ => None,
        });
        finished.next_back()
    }
}

/// A round bar a little larger than a block.
pub fn round_bar(sizes: [f64; 3]) -> Bar {
    let radius = (sizes[0].hypot(sizes[1]) / 2.0 + 0.5).ceil();
    let half = sizes[2] / 2.0 + 2.0;
    Bar { section: Section::Round(radius, [0.0, 0.0]), back: -half, front: half }
}

/// A square bar a little larger than a block.
pub fn square_bar(sizes: [f64; 3]) -> Bar {
    let sides = normals();
    let flats = sides[2..].iter().map(|normal| (*normal, normal.abs().dot(&V3::from(sizes)) / 2.0 + 1.5));
    let half = sizes[2] / 2.0 + 2.0;
    Bar { section: Section::Flats(flats.collect()), back: -half, front: half }
}
