//! What is made and how: the bar, the faces in order, what lies on which jaw. No chance in it.

use super::solid::{Face, Solid, V3, Which, middle};

/// The bar on the bench.
#[derive(Debug, Clone)]
pub struct Bar {
    /// Its section.
    pub section: Section,
    /// Its end at −z, mm.
    pub back: f64,
    /// Its end at +z, mm.
    pub front: f64,
}

/// Section of a bar.
#[derive(Debug, Clone)]
pub enum Section {
    /// Round: radius, axis (x, y), mm.
    Round(f64, [f64; 2]),
    /// Flats: outward normal, distance from the origin, mm.
    Flats(Vec<(V3, f64)>),
}

/// A face that the drawing asks for.
#[derive(Debug, Clone)]
pub struct Asked {
    /// Its letter.
    pub name: String,
    /// Outward.
    pub normal: V3,
    /// From the origin, mm.
    pub distance: f64,
}

/// What lies under a jaw or on the seat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    /// The bar's own skin.
    Bar,
    /// An end as sawn.
    Sawn,
    /// A finished face, by number.
    Face(usize),
}

/// One jaw.
#[derive(Debug, Clone)]
pub struct Hold {
    /// What lies on it.
    pub on: On,
    /// Across the jaw, from its middle, along Z × outward, mm.
    pub across: [f64; 2],
    /// Along the spindle, from the fronts of the jaws, mm: none above 0.
    pub along: [f64; 2],
    /// Not moved since the set-up before.
    pub kept: bool,
    /// Spring of jaw and packing, N/mm.
    pub stiffness: f64,
}

/// What the work is tapped back against.
#[derive(Debug, Clone)]
pub struct Seat {
    /// What lies on it.
    pub on: On,
    /// How deep behind the fronts of the jaws, mm.
    pub depth: f64,
    /// Where it bears: x from, to, y from, to, mm; one for the chuck face, two for parallels.
    pub pads: Vec<[f64; 4]>,
    /// Radius of the hole in it, mm.
    pub hole_radius: f64,
    /// Spring of all of it, N/mm.
    pub stiffness: f64,
    /// What the last tap leaves pressing, N.
    pub tap: f64,
}

/// One way of holding the piece, and the face cut in it.
#[derive(Debug, Clone)]
pub struct SetUp {
    /// Faces cut, by number; all but the first are as true to it as the machine is (none does that yet).
    pub cut: usize,
    /// X towards jaw 1, Y towards jaw 2, Z away from the chuck, in the part's frame.
    pub axes: [V3; 3],
    /// Where spindle axis and jaw fronts meet, in the part's frame.
    pub origin: V3,
    /// Jaws 1 to 4, at 0, 90, 180 and 270 degrees.
    pub jaws: [Option<Hold>; 4],
    /// Behind.
    pub seat: Option<Seat>,
    /// The finished face that the eye sets, where nothing bears.
    pub eye_by: Option<usize>,
    /// Force of each pair of jaws, N.
    pub clamp: f64,
}

/// What the drawing wants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Want {
    /// Every local two-point size between two faces in these limits, mm.
    Size {
        /// One.
        one: usize,
        /// The other.
        other: usize,
        /// Lower limit.
        least: f64,
        /// Upper limit.
        most: f64,
    },
    /// Parallelism of a face to a datum, mm.
    Parallel {
        /// Face.
        face: usize,
        /// Datum.
        datum: usize,
        /// Width of the zone.
        within: f64,
    },
    /// Perpendicularity of a face to a datum, mm.
    Square {
        /// Face.
        face: usize,
        /// Datum.
        datum: usize,
        /// Width of the zone.
        within: f64,
    },
    /// Flatness of a face, mm.
    Flat {
        /// Face.
        face: usize,
        /// Width of the zone.
        within: f64,
    },
}

/// A job for the virtual shop.
#[derive(Debug, Clone)]
pub struct Recipe {
    /// The bar.
    pub bar: Bar,
    /// The faces.
    pub faces: Vec<Asked>,
    /// In order; each face is cut once.
    pub set_ups: Vec<SetUp>,
    /// What the drawing wants.
    pub wants: Vec<Want>,
    /// Force under which the work is tapped back, before the jaws are tightened, as a share of the clamping force.
    pub light_share: f64,
    /// Share of the turn found while tapping that friction keeps when the jaws are tightened: 0 lets the tightened
    /// jaws and the last tap decide, 1 the light ones.
    pub kept_turn: f64,
    /// Share of the moment of opposed pads that do not face each other that friction carries.
    pub friction_carries: f64,
    /// Datums are the mean planes of their faces, not the planes that rest on them.
    pub mean_datums: bool,
    /// Middles of the faces as drawn, where sizes and places are brought true.
    pub middles: Vec<V3>,
}

impl Recipe {
    /// A recipe with the usual rules of the hands.
    pub fn new(bar: Bar, faces: Vec<Asked>, set_ups: Vec<SetUp>, wants: Vec<Want>) -> Self {
        let (light_share, kept_turn, friction_carries, middles) = (0.1, 0.0, 1.0, Vec::new());
        let mean_datums = false;
        let mut recipe =
            Recipe { bar, faces, set_ups, wants, light_share, kept_turn, friction_carries, mean_datums, middles };
        let drawn = recipe.drawn();
        recipe.middles = (0..recipe.faces.len()).map(|face| middle(&drawn.corners(Which::Finished(face)))).collect();
        recipe
    }

    /// The bar with ends that lean by these slopes in x and y: back, front.
    pub fn raw(&self, lean: [[f64; 2]; 2]) -> Solid {
        let end = |front: bool| {
            let (sign, at, lean) = if front { (1.0, self.bar.front, lean[1]) } else { (-1.0, -self.bar.back, lean[0]) };
            (Which::Sawn(front), Face::plane(V3::new(lean[0], lean[1], sign), at))
        };
        let mut faces = vec![end(false), end(true)];
        let mut round = None;
        match &self.bar.section {
            Section::Round(radius, axis) => round = Some((*radius, *axis)),
            Section::Flats(flats) => {
                let flats = flats.iter().enumerate();
                faces.extend(flats.map(|(at, (normal, offset))| (Which::Bar(at), Face::plane(*normal, *offset))));
            }
        }
        Solid { faces, round }
    }

    /// The piece with every face of the drawing true.
    fn drawn(&self) -> Solid {
        let mut solid = self.raw([[0.0; 2]; 2]);
        for (at, asked) in self.faces.iter().enumerate() {
            solid.faces.push((Which::Finished(at), Face::plane(asked.normal, asked.distance)));
        }
        solid
    }

    /// The face opposite to one, if the part has it.
    pub fn opposite(&self, face: usize) -> Option<usize> {
        (0..self.faces.len()).find(|&other| self.faces[other].normal.dot(&self.faces[face].normal) < -1.0 + 1e-9)
    }

    /// Size between two opposite faces that a cut aims at, mm: the middle of the limits, or as drawn.
    pub fn aim(&self, face: usize, opposite: usize) -> f64 {
        let limits = self.wants.iter().find_map(|want| match *want {
            Want::Size { one, other, least, most }
                if (one, other) == (face, opposite) || (other, one) == (face, opposite) =>
            {
                Some((least + most) / 2.0)
            }
            _ => None,
        });
        limits.unwrap_or(self.faces[face].distance + self.faces[opposite].distance)
    }
}
