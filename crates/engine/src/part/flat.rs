//! Flats: the first kind of feature.

/// A flat to be cut, in the part's frame shifted to the bar: normal and distance from the bar's axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Flat {
    /// Its letter.
    pub name: String,
    /// Where it lies.
    pub place: Place,
    /// Distance from the bar's axis (sides) or from the middle of the part (ends), mm, positive outwards.
    pub distance_mm: f64,
}

/// Where a flat lies on the bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// The end at +z.
    Front,
    /// The end at -z.
    Back,
    /// A side, its outward normal at this angle from x, radians counter-clockwise.
    Side(f64),
}
