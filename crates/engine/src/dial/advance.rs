//! What a slide set over at an angle moves along the bed and across it.

/// Advance along the bed for a travel of the slide, mm; set over in rad from along the bed.
///
/// `travel × cos(set over)`: the depth when facing.
pub fn along_bed_mm(travel_mm: f64, set_over_rad: f64) -> f64 {
    travel_mm * set_over_rad.cos()
}

/// Advance across the bed for a travel of the slide, mm; set over in rad from along the bed.
///
/// `travel × sin(set over)`: the depth per side when turning with a top slide set over.
pub fn across_bed_mm(travel_mm: f64, set_over_rad: f64) -> f64 {
    travel_mm * set_over_rad.sin()
}

/// Set-over from along the bed, rad, at which the slide advances this share of its travel along the bed.
///
/// `arccos(share)`; `None` unless 0 < share <= 1.
pub fn set_over_for_depth_rad(share: f64) -> Option<f64> {
    (share > 0.0 && share <= 1.0).then(|| share.acos())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_two_advances_are_the_legs_of_a_right_triangle() {
        for degrees in [0.0_f64, 5.74, 29.5, 45.0, 60.0, 84.26, 89.9] {
            let (along, across) = (along_bed_mm(2.0, degrees.to_radians()), across_bed_mm(2.0, degrees.to_radians()));
            assert!((along.hypot(across) - 2.0).abs() < 1e-12);
        }
    }

    #[test]
    fn a_share_that_no_angle_gives_is_refused() {
        for share in [0.0, -0.1, 1.01, f64::NAN, f64::INFINITY] {
            assert_eq!(set_over_for_depth_rad(share), None);
        }
        assert_eq!(set_over_for_depth_rad(1.0), Some(0.0));
    }
}
