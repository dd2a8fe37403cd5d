//! A round bar lying across a jaw: jaws must reach past its widest line.

/// How far a jaw that stops short must reach at least, as a share of the bar's radius, so that friction
/// alone keeps the bar from being squeezed out: `z_j/R = 1 − sin(atan μ)`, from `sin α = (R − z_j)/R`, `tan α ≤ μ`.
pub fn least_reach_over_radius(friction: f64) -> f64 {
    1.0 - friction.atan().sin()
}

/// Lean of the contact normal, rad, when the jaw's front end bears outside the widest line:
/// `sin α = (z_c − z_j)/R`; 0 when it reaches past. mm. `None`: it does not touch the round at all.
pub fn lean_rad(widest_line_mm: f64, reach_mm: f64, radius_mm: f64) -> Option<f64> {
    let sine = ((widest_line_mm - reach_mm) / radius_mm).max(0.0);
    (sine <= 1.0).then(|| sine.asin())
}
