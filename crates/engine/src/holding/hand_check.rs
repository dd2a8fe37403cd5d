//! Checks of a grip that a machinist can do on paper.

/// Factor on the torque of the cut: `μ ΣN r / T`. N, mm, N·mm.
pub fn torque_factor(friction: f64, all_jaws_n: f64, gripped_radius_mm: f64, torque_n_mm: f64) -> f64 {
    friction * all_jaws_n * gripped_radius_mm / torque_n_mm
}

/// Factor on a push along the spindle: `μ ΣN / F_a`.
pub fn push_out_factor(friction: f64, all_jaws_n: f64, axial_n: f64) -> f64 {
    friction * all_jaws_n / axial_n
}

/// Factor on both together, on the same patches: `μ ΣN / √((T/r)² + F_a²)`.
pub fn twist_and_push_factor(
    friction: f64,
    all_jaws_n: f64,
    gripped_radius_mm: f64,
    torque_n_mm: f64,
    axial_n: f64,
) -> f64 {
    friction * all_jaws_n / (torque_n_mm / gripped_radius_mm).hypot(axial_n)
}

/// Force of all jaws together, N, that just keeps a side force from levering the work out:
/// `F = 4 P a / (μ D)`, a from the middle of the bite. Exact for three and for four jaws that bear at one height.
pub fn lever_out_force_n(side_n: f64, arm_mm: f64, friction: f64, gripped_diameter_mm: f64) -> f64 {
    4.0 * side_n * arm_mm / (friction * gripped_diameter_mm)
}

/// Factor on that side force: `μ ΣN D / (4 P a)`.
pub fn lever_out_factor(friction: f64, all_jaws_n: f64, gripped_diameter_mm: f64, side_n: f64, arm_mm: f64) -> f64 {
    all_jaws_n / lever_out_force_n(side_n, arm_mm, friction, gripped_diameter_mm)
}

/// Force of all jaws together, N, to drive the work: `F_spz = F_c S_z / μ · d_cut/d_gripped`.
pub fn gripping_force_n(cutting_n: f64, factor: f64, friction: f64, cut_over_gripped_diameter: f64) -> f64 {
    cutting_n * factor / friction * cut_over_gripped_diameter
}
