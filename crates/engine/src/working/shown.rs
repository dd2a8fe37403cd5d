//! How a value of a working is shown: digits enough to work it through again by hand, and no more.

/// Digits of a value that is not exact in fewer.
const DIGITS: i32 = 4;

/// Rounding: no number of a plan is so small.
const NOTHING: f64 = 1e-9;

/// The number with its unit: "667.7 N", "0.12", "75 deg".
pub fn shown(value: f64, unit: &str) -> String {
    let number = shown_number(value, unit);
    if unit == "1" { number } else { format!("{number} {unit}") }
}

/// The number alone: four digits, more where it is whole or where its unit asks for finer; exact ones without idle
/// zeros.
pub fn shown_number(value: f64, unit: &str) -> String {
    if !value.is_finite() {
        return "no number".to_string();
    }
    if value.abs() < NOTHING {
        return "0".to_string();
    }
    let places = places(value, unit);
    let text = format!("{value:.places$}");
    let exact = text.parse::<f64>().is_ok_and(|read| (read - value).abs() <= 1e-9 * value.abs());
    if exact && text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}

fn places(value: f64, unit: &str) -> usize {
    let finest: i32 = match unit {
        "mm" | "min" => 3,
        "in" | "rev" => 4,
        "deg" => 2,
        _ => 0,
    };
    let before = value.abs().log10().floor() as i32 + 1;
    (DIGITS - before).clamp(finest, 12).unsigned_abs() as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_digits_and_whole_numbers_whole() {
        for (value, unit, text) in [
            (667.734, "N", "667.7 N"),
            (10_331.4, "N", "10331 N"),
            (0.0746, "mm", "0.0746 mm"),
            (0.074_603_2, "mm", "0.07460 mm"),
            (29.998_4, "mm", "29.998 mm"),
            (30.0, "mm", "30 mm"),
            (0.12, "1", "0.12"),
            (2.0, "1", "2"),
            (75.0, "deg", "75 deg"),
            (1.0 / 3.0, "1", "0.3333"),
            (-6.0, "deg", "-6 deg"),
            (0.0, "mm", "0 mm"),
            (1100.0, "rpm", "1100 rpm"),
        ] {
            assert_eq!(shown(value, unit), text);
        }
        assert_eq!(shown(f64::NAN, "N"), "no number N");
    }
}
