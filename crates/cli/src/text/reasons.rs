//! Why a job cannot be done, and what would free it.

use engine::plan::Reason;
use engine::quantity::Units;
use engine::quantity::limits::places;
use engine::quantity::show::{force, length_to, power};

use super::number::rpm;
use super::page::Page;

/// Every reason with its value, its limit and a way out.
pub fn print(reasons: &[Reason], units: Units, page: &mut Page) {
    page.blank();
    page.line("WHY NOT");
    for (index, reason) in reasons.iter().enumerate() {
        page.item(&format!("{:>3}.", index + 1), &format!("{} ({}): {}", reason.place, reason.rule, reason.says));
        if let Some([here, limit]) = compared(reason, units) {
            page.item("    ", &format!("{here} here, against a limit of {limit}."));
        }
        page.item("    ", &format!("Way out: {}", reason.way_out));
    }
}

/// Value and limit, where the two can be compared: a yes or a no, a count and a lack say all in words.
fn compared(reason: &Reason, units: Units) -> Option<[String; 2]> {
    let both = [reason.value, reason.limit];
    if !both.iter().all(|number| number.is_finite() && *number > 0.0) {
        return None;
    }
    let places = places(&both, reason.value - reason.limit, units);
    match reason.unit {
        "mm" => Some(both.map(|number| length_to(number, units, places))),
        "n" => Some(both.map(|number| force(number, units))),
        "w" => Some(both.map(|number| power(number, units))),
        "rpm" => Some(both.map(|number| format!("{} rpm", rpm(number)))),
        "um" => Some(both.map(|number| format!("{number:.1} um"))),
        "1" if !both.iter().all(|number| number.fract() == 0.0) => {
            Some(both.map(|number| format!("a factor of {number:.2}")))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(value: f64, limit: f64, unit: &'static str) -> Option<[String; 2]> {
        let (place, says, way_out) = (String::new(), String::new(), String::new());
        compared(&Reason { rule: "rule", place, says, value, limit, unit, way_out }, Units::Mm)
    }

    #[test]
    fn value_and_limit_are_told_only_where_they_can_be_compared() {
        for (value, limit, unit) in [
            (3.0, 4.0, "1"),
            (0.0, 1.0, "1"),
            (-31.73, 0.0, "mm"),
            (0.0, 0.02, "mm"),
            (f64::INFINITY, 4.0, "mm"),
            (f64::NAN, 1.5, "1"),
            (3.0, 4.0, "jaws"),
        ] {
            assert_eq!(said(value, limit, unit), None, "{value} {limit} {unit}");
        }
        let pair = |here: &str, limit: &str| Some([here.to_string(), limit.to_string()]);
        assert_eq!(said(1.25, 2.0, "1"), pair("a factor of 1.25", "a factor of 2.00"));
        assert_eq!(said(52.0, 53.74, "mm"), pair("52.00 mm", "53.74 mm"));
        assert_eq!(said(0.003, 0.02, "mm"), pair("0.003 mm", "0.020 mm"));
        assert_eq!(said(1800.0, 1120.0, "w"), pair("1.80 kW", "1.12 kW"));
    }
}
