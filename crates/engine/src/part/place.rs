//! Where a flat lies on the bar.

/// Where a flat lies on the bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// The end at +z.
    Front,
    /// The end at -z.
    Back,
    /// A side, its outward normal at this angle from x, radians counter-clockwise seen on the front.
    Side(f64),
}
