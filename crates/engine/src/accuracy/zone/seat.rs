//! What a chip under the work, or between work and jaw, does.

/// Lean, mm per mm, of work that rests on a chip at one side and on a support `base_mm` away: thickness over base. Under
/// a seat the base is the seat's own, between work and jaw it is the bite, which is short.
pub fn chip_tilt(thickness_mm: f64, base_mm: f64) -> f64 {
    thickness_mm / base_mm
}

/// What a lean amounts to over a length, mm.
pub fn over_mm(lean: f64, length_mm: f64) -> f64 {
    lean * length_mm
}
