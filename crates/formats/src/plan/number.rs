//! Numbers of the JSON.

use serde_json::Value;

/// Nine significant digits; null for what is no number or has no limit; never a negative zero.
pub(super) fn number(value: f64) -> Value {
    if !value.is_finite() {
        return Value::Null;
    }
    let rounded = format!("{value:.8e}").parse::<f64>().unwrap_or(value);
    Value::from(if rounded == 0.0 { 0.0 } else { rounded })
}

/// A number that may be without limit.
pub(super) fn factor(value: Option<f64>) -> Value {
    value.map_or(Value::Null, number)
}

/// A point or a vector.
pub(super) fn vector(values: [f64; 3]) -> Value {
    Value::from(values.map(number).to_vec())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_to_nine_digits_and_never_odd() {
        for (value, text) in [
            (9.524999999999999, "9.525"),
            (34.0, "34.0"),
            (0.1 + 0.2, "0.3"),
            (123_456_789.4, "123456789.0"),
            (1.0 / 3.0, "0.333333333"),
            (-0.0, "0.0"),
            (-1e-300, "-1e-300"),
            (f64::NAN, "null"),
            (f64::INFINITY, "null"),
            (f64::MAX, "1.79769313e308"),
        ] {
            assert_eq!(number(value).to_string().replace("e+", "e"), text);
        }
    }
}
