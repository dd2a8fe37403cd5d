//! The shapes of a plan, for the pictures: plain values in mm, so that a face draws without computing.

/// What is the same in every set-up: the bar, the part, the chuck.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// The bar, in the part's frame: z along the bar, x towards the first side, angles counter-clockwise seen on the
    /// front end (+z).
    pub bar: Solid,
    /// The finished part, in the same frame.
    pub part: Solid,
    /// Its faces in reading order: the two ends, then the sides counter-clockwise.
    pub faces: Vec<FaceShape>,
    /// Sizes that the drawing asks for, each between two faces.
    pub sizes: Vec<SizeShape>,
    /// The chuck.
    pub chuck: ChuckShape,
}

/// A prism along the bar: an outline from back to front.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Solid {
    /// Its outline in (x, y), counter-clockwise, convex, closed; empty: no metal.
    pub outline: Vec<Stretch>,
    /// Its end at −z.
    pub back_mm: f64,
    /// Its end at +z.
    pub front_mm: f64,
}

/// One stretch of an outline, run counter-clockwise round the metal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stretch {
    /// Straight.
    Line {
        /// Start.
        from_mm: [f64; 2],
        /// End.
        to_mm: [f64; 2],
    },
    /// Round, bulging outwards.
    Arc {
        /// Centre.
        centre_mm: [f64; 2],
        /// Radius.
        radius_mm: f64,
        /// Angle at the start.
        start_rad: f64,
        /// Angle run through, 0 to 2π.
        sweep_rad: f64,
    },
}

/// Where a face lies on the bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FacePlace {
    /// The end at +z.
    Front,
    /// The end at −z.
    Back,
    /// A side: angle of its outward normal from x, counter-clockwise seen on the front.
    Side {
        /// The angle.
        normal_rad: f64,
    },
}

/// A face of the part.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceShape {
    /// Its letter.
    pub name: String,
    /// Where it lies.
    pub place: FacePlace,
    /// Along its normal from the bar's axis (sides) or the middle of the bar's length (ends).
    pub distance_mm: f64,
    /// Whether it is cut; otherwise the bar's own surface stays.
    pub cut: bool,
}

/// A size between two opposite faces.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeShape {
    /// Letters of the two.
    pub between: [String; 2],
    /// Nominal.
    pub nominal_mm: f64,
    /// Upper limit less nominal.
    pub plus_mm: f64,
    /// Nominal less lower limit.
    pub minus_mm: f64,
}

/// The chuck as far as it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ChuckShape {
    /// Diameter of the body.
    pub body_mm: f64,
    /// Hole in its face.
    pub bore_mm: f64,
    /// Width of a jaw's face.
    pub jaw_width_mm: f64,
    /// From chuck face to jaw front.
    pub jaw_length_mm: f64,
    /// The ledge in the face of each jaw.
    pub ledge: Option<LedgeShape>,
    /// Its jaws are turned end for end.
    pub reversed: bool,
    /// From the bearing face of a jaw to its outer end, where the shop gives it.
    pub jaw_depth_mm: Option<f64>,
    /// Diameter that the jaws are bored to; `None`: they are not, or to the work.
    pub bored_mm: Option<f64>,
}

/// A ledge in the face of a jaw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LedgeShape {
    /// From the jaw fronts down to it.
    pub below_front_mm: f64,
    /// How far it reaches in from the bearing face.
    pub width_mm: f64,
}

/// What is held in one set-up, and how it lies.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Held {
    /// The piece before the cut, in the part's frame.
    pub before: Solid,
    /// The piece after it.
    pub after: Solid,
    /// How the part's frame lies in the set-up's.
    pub frame: Frame,
    /// The tool.
    pub tool: ToolShape,
    /// Width of each parallel behind the work, across its run; 0: none.
    pub parallel_width_mm: f64,
    /// Length of each parallel.
    pub parallel_length_mm: f64,
    /// Space that the last cut must keep to the jaw fronts.
    pub jaw_clearance_mm: f64,
}

/// The set-up's frame: origin on the spindle axis at the jaw fronts, Z away from the chuck, X towards jaw 1,
/// counter-clockwise seen from the tailstock.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Frame {
    /// Unit vectors X, Y, Z in the part's frame.
    pub axes: [[f64; 3]; 3],
    /// Its origin in the part's frame.
    pub origin_mm: [f64; 3],
}

impl Frame {
    /// A point of the part's frame, in the set-up's.
    pub fn place(&self, point_mm: [f64; 3]) -> [f64; 3] {
        let from: [f64; 3] = std::array::from_fn(|at| point_mm[at] - self.origin_mm[at]);
        self.turn(from)
    }

    /// A direction of the part's frame, in the set-up's.
    pub fn turn(&self, direction: [f64; 3]) -> [f64; 3] {
        self.axes.map(|axis| (0..3).map(|at| axis[at] * direction[at]).sum())
    }
}

/// The tool as far as it is drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ToolShape {
    /// Its name in the shop.
    pub name: String,
    /// Cutting edge angle κ_r, degrees.
    pub cutting_edge_angle_deg: f64,
    /// Nose radius.
    pub nose_mm: f64,
}
