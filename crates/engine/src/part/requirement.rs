//! Everything that is asked of the part, one by one, in plain numbers.

/// One thing that is asked of the part.
#[derive(Debug, Clone, PartialEq)]
pub struct Requirement {
    /// What is asked.
    pub kind: Kind,
    /// The face or faces toleranced, as indices into the faces of the part; of two, the earlier first.
    pub faces: Vec<usize>,
    /// The face that it is counted from.
    pub datum: Option<usize>,
    /// Lower limit, mm: of a size; 0 for the width of a zone.
    pub lower_mm: f64,
    /// Upper limit, mm: of a size; the width of a zone.
    pub upper_mm: f64,
    /// Nominal, mm: the size; 0 for the width of a zone; for an angle see [`Kind::Angle`].
    pub nominal_mm: f64,
    /// Where the limits come from: "the drawing", "ISO 2768-1 m", "ISO 286 h8".
    pub from: String,
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Size between two opposite faces: every local two-point size within the limits (ISO 14405-1).
    Size,
    /// Distance of a side without an opposite from its place's middle: the bar's axis moved by the part's offset.
    Distance,
    /// Parallelism: the face between two planes parallel to the datum (ISO 1101).
    Parallel,
    /// Perpendicularity: the face between two planes square to the datum, free to turn about the datum's normal.
    Square,
    /// Angle between the face and the datum. The limits are the deviation from the nominal angle, mm at the end of the
    /// shorter leg, positive where the two outward normals stand wider apart; the nominal is the length of that leg.
    Angle,
    /// Flatness: the face between two planes, free to move and turn.
    Flat,
    /// Position of the middle between two opposite sides: twice its farthest distance from where the job lays it on
    /// the bar (a zone between planes, ISO 1101).
    Position,
    /// Arithmetic mean roughness Ra.
    Rough,
}

impl Requirement {
    /// Width of what is allowed, mm: upper less lower limit.
    pub fn band_mm(&self) -> f64 {
        self.upper_mm - self.lower_mm
    }

    /// Middle of what is allowed, mm.
    pub fn middle_mm(&self) -> f64 {
        (self.upper_mm + self.lower_mm) / 2.0
    }
}
