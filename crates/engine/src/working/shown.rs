//! How a value of a working is shown: digits enough to work it through again by hand, and no more.

use super::expr::{Expr, Function};
use super::formula::Formula;
use crate::plan::Known;
use crate::quantity::{Units, show};

/// Digits of a value that is not exact in fewer.
const DIGITS: i32 = 4;

/// Rounding: no number of a plan is so small.
const NOTHING: f64 = 1e-9;

/// The number with its unit: "667.7 N", "0.12", "75 deg".
pub fn shown(value: f64, unit: &str) -> String {
    with_unit(shown_number(value, unit), unit)
}

/// A value that goes into a formula, with its unit; of a list all numbers.
pub fn shown_known(known: &Known) -> String {
    let numbers: Vec<String> = known.values.iter().map(|&value| shown_number(value, known.unit)).collect();
    with_unit(numbers.join(", "), known.unit)
}

/// The same number as an inch job speaks, where it does so differently: "0.110 in" for 2.794 mm.
pub fn shown_in_inches(value: f64, unit: &str) -> Option<String> {
    match unit {
        "mm" => Some(show::fine_length(value, Units::Inch)),
        "mm2" => Some(shown(value / show::MM_PER_INCH.powi(2), "in2")),
        "mm3" => Some(shown(value / show::MM_PER_INCH.powi(3), "in3")),
        "m/min" => Some(show::speed(value, Units::Inch)),
        "um" => Some(show::roughness(value, Units::Inch)),
        "N" => Some(format!("{:.0} lbf", value / show::NEWTONS_PER_LBF)),
        "W" => Some(format!("{:.2} hp", value / show::WATTS_PER_HP)),
        "kg" => Some(format!("{:.2} lb", value / show::KG_PER_LB)),
        _ => None,
    }
}

/// Most numbers of a list that stand in a cell of a table.
const MOST_IN_A_CELL: usize = 3;

/// The numbers of a value without their unit; of a long list the first and the last, how many there are, and what
/// they come to where the formula adds them up: "45, 70, 110 ... 1200 (10 numbers)".
pub fn shown_briefly(known: &Known, formula: &Formula) -> String {
    let shown: Vec<String> = known.values.iter().map(|&value| shown_number(value, known.unit)).collect();
    let (Some(last), true) = (shown.last(), shown.len() > MOST_IN_A_CELL) else { return shown.join(", ") };
    let together = if adds_up(formula, known.symbol) {
        format!(", together {}", shown_number(known.values.iter().sum(), known.unit))
    } else {
        String::new()
    };
    format!("{} ... {last} ({} numbers{together})", shown[..MOST_IN_A_CELL - 1].join(", "), shown.len())
}

fn adds_up(formula: &Formula, symbol: &str) -> bool {
    let mut found = false;
    formula.right.visit(&mut |expr| {
        if let Expr::Call(Function::Sum, parts) = expr {
            found |= matches!(parts.first(), Some(Expr::Symbol(of)) if of.written == symbol);
        }
    });
    found
}

fn with_unit(number: String, unit: &str) -> String {
    if unit == "1" { number } else { format!("{number} {}", unit_as_set(unit)) }
}

/// A unit with its exponents raised: "mm²" for "mm2".
pub fn unit_as_set(unit: &str) -> String {
    unit.replace('2', "²").replace('3', "³").replace("um", "µm")
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
        assert_eq!(shown(6e-15, "N"), "0 N");
        assert_eq!(shown(0.251_46, "mm2"), "0.2515 mm²");
        assert_eq!(shown(24.0, "N/um"), "24 N/µm");
        assert_eq!(shown(3.0, "N2"), "3 N²");
    }

    #[test]
    fn a_long_list_gives_its_ends_its_count_and_what_it_comes_to() {
        let known = |symbol: &'static str, unit: &'static str, values: &[f64]| Known {
            symbol,
            meaning: "",
            values: values.to_vec(),
            unit,
            from: String::new(),
            worked: None,
        };
        let row = |name: &str| crate::working::formula(name).expect("a row of the table");
        let plate = known("n_i", "rpm", &[45.0, 70.0, 110.0, 170.0, 1200.0]);
        assert_eq!(shown_briefly(&plate, row("speed set")), "45, 70 ... 1200 (5 numbers)");
        let minutes = known("t_i", "min", &[1.25, 2.0, 0.5, 0.25]);
        assert_eq!(shown_briefly(&minutes, row("minutes in the cut")), "1.25, 2 ... 0.25 (4 numbers, together 4)");
        assert_eq!(shown_briefly(&known("t_i", "min", &[1.25, 2.0]), row("minutes in the cut")), "1.25, 2");
    }

    #[test]
    fn an_inch_job_reads_its_own_units() {
        // 2.794 mm: 0.11 in exactly. 1000 N: 224.8 lbf, 750 W: 1.0058 hp (exact definitions of pound-force and horsepower).
        assert_eq!(shown_in_inches(2.794, "mm").as_deref(), Some("0.1100 in"));
        // 0.3016 / 25.4^2 = 0.000 467 5: the section of a chip keeps its digits.
        assert_eq!(shown_in_inches(0.3016, "mm2").as_deref(), Some("0.0004675 in²"));
        assert_eq!(shown_in_inches(1000.0, "N").as_deref(), Some("225 lbf"));
        assert_eq!(shown_in_inches(750.0, "W").as_deref(), Some("1.01 hp"));
        assert_eq!(shown_in_inches(315.0, "rpm"), None);
    }
}
