//! What an indicator says of work in the jaws: cosine error of its lever, tilt from two planes.

/// What the point of a lever indicator moved, mm, when its lever stands at an angle to the surface: `reading cos α`.
pub fn lever_moved_mm(reading_mm: f64, angle_deg: f64) -> f64 {
    reading_mm * angle_deg.to_radians().cos()
}

/// Offset of the axis from two opposite readings, mm: half their difference; positive towards the first.
pub fn offset_mm(one_mm: f64, opposite_mm: f64) -> f64 {
    (one_mm - opposite_mm) / 2.0
}

/// Tilt of the work, rad, from the offsets (x, y) of its axis in two planes so far apart, mm.
pub fn tilt_rad(near_mm: (f64, f64), far_mm: (f64, f64), apart_mm: f64) -> f64 {
    (far_mm.0 - near_mm.0).hypot(far_mm.1 - near_mm.1) / apart_mm
}

/// Whole movement of the needle on a face at this diameter, mm, of work that is tilted.
pub fn face_run_out_mm(diameter_mm: f64, tilt_rad: f64) -> f64 {
    diameter_mm * tilt_rad
}
