//! Working a formula out from its values.

use std::f64::consts::PI;

use super::expr::{Expr, Function, Symbol};
use super::formula::{Formula, formula};
use super::shown::shown_number;
use crate::plan::{Known, Working};

/// Values by symbol, as the notation writes it; a list where the symbol stands for one. Angles in rad.
pub type Values<'a> = [(&'a str, Vec<f64>)];

/// Rounding of the machine is no step to the next whole number.
const ROUNDING: f64 = 1e-9;

/// Why a formula cannot be worked out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Wrong {
    /// A symbol without a value.
    #[error("{0} has no value")]
    NoValue(String),
    /// A list where one value is due, or the other way round.
    #[error("{0} is a list where one value is due")]
    List(String),
    /// No number comes out.
    #[error("no number comes out")]
    NoNumber,
    /// No formula of that name.
    #[error("no formula is called {0}")]
    NoFormula(String),
}

/// What comes out of an expression with these values.
///
/// # Errors
/// A symbol without a value, a list in place of one, or no finite number.
pub fn evaluate(expr: &Expr, values: &Values) -> Result<f64, Wrong> {
    let value = worked(expr, values)?;
    if value.is_finite() { Ok(value) } else { Err(Wrong::NoNumber) }
}

/// What comes out of a working's formula with the values that it lists, unrounded.
///
/// # Errors
/// As [`evaluate`]; or no formula of that name.
pub fn outcome(working: &Working) -> Result<f64, Wrong> {
    outcome_by(&row(working)?.right, working)
}

/// The same by another expression over the same symbols.
///
/// # Errors
/// As [`evaluate`].
pub fn outcome_by(expr: &Expr, working: &Working) -> Result<f64, Wrong> {
    with_values(expr, working, |value, _| value)
}

/// The same with each value as it is shown, digits cut off.
///
/// # Errors
/// As [`outcome`].
pub fn from_printed(working: &Working) -> Result<f64, Wrong> {
    let printed = |value: f64, unit: &str| shown_number(value, unit).parse().unwrap_or(f64::NAN);
    with_values(&row(working)?.right, working, printed)
}

fn row(working: &Working) -> Result<&'static Formula, Wrong> {
    formula(working.formula).ok_or_else(|| Wrong::NoFormula(working.formula.to_string()))
}

fn with_values(expr: &Expr, working: &Working, taken: impl Fn(f64, &str) -> f64) -> Result<f64, Wrong> {
    let plain = |known: &Known| {
        let each = known.values.iter().map(|&value| in_rad(taken(value, known.unit), known.unit));
        (known.symbol, each.collect::<Vec<f64>>())
    };
    let values: Vec<(&str, Vec<f64>)> = working.values.iter().map(plain).collect();
    Ok(evaluate(expr, &values)? / in_rad(1.0, working.unit))
}

/// Degrees are 180 to π; everything else stays.
fn in_rad(value: f64, unit: &str) -> f64 {
    match unit {
        "deg" => value.to_radians(),
        "1/deg" => value.to_degrees(),
        _ => value,
    }
}

fn worked(expr: &Expr, values: &Values) -> Result<f64, Wrong> {
    let of = |part: &Expr| worked(part, values);
    match expr {
        Expr::Number(text) => Expr::value_of_number(text).ok_or(Wrong::NoNumber),
        Expr::Pi => Ok(PI),
        Expr::Symbol(symbol) => one(symbol, values),
        Expr::Sum(terms) => terms
            .iter()
            .try_fold(0.0, |sum, term| Ok(if term.minus { sum - of(&term.of)? } else { sum + of(&term.of)? })),
        Expr::Product(factors) => factors.iter().try_fold(1.0, |so_far, factor| Ok(so_far * of(factor)?)),
        Expr::Quotient(over, under) => Ok(of(over)? / of(under)?),
        Expr::Power(base, exponent) => Ok(of(base)?.powf(of(exponent)?)),
        Expr::Root(under) => Ok(of(under)?.sqrt()),
        Expr::Call(function, parts) => call(*function, parts, values),
    }
}

fn call(function: Function, parts: &[Expr], values: &Values) -> Result<f64, Wrong> {
    if let (Function::Sum | Function::Highest, Some(Expr::Symbol(symbol))) = (function, parts.first()) {
        let list = listed(symbol, values)?;
        return match parts.get(1) {
            Some(limit) => {
                let limit = worked(limit, values)?;
                list.iter().copied().filter(|&value| value <= limit).max_by(f64::total_cmp).ok_or(Wrong::NoNumber)
            }
            None => Ok(list.iter().sum()),
        };
    }
    let parts = parts.iter().map(|part| worked(part, values)).collect::<Result<Vec<f64>, Wrong>>()?;
    let first = parts.first().copied().ok_or(Wrong::NoNumber)?;
    Ok(match function {
        Function::Sin => first.sin(),
        Function::Cos => first.cos(),
        Function::Tan => first.tan(),
        Function::Acos => first.acos(),
        Function::Atan => first.atan(),
        Function::Min => parts.into_iter().fold(first, f64::min),
        Function::Max => parts.into_iter().fold(first, f64::max),
        Function::Floor => (first + ROUNDING).floor(),
        Function::Ceil => (first - ROUNDING).ceil(),
        Function::Sum | Function::Highest => return Err(Wrong::NoNumber),
    })
}

fn one(symbol: &Symbol, values: &Values) -> Result<f64, Wrong> {
    match listed(symbol, values)? {
        [value] => Ok(*value),
        _ => Err(Wrong::List(symbol.written.clone())),
    }
}

fn listed<'a>(symbol: &Symbol, values: &'a Values) -> Result<&'a [f64], Wrong> {
    let found = values.iter().find(|(written, _)| *written == symbol.written);
    found.map(|(_, value)| value.as_slice()).ok_or_else(|| Wrong::NoValue(symbol.written.clone()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::working::read_equation;

    fn value(text: &str, values: &Values) -> Result<f64, Wrong> {
        evaluate(&read_equation(&format!("y = {text}")).expect("a formula").1, values)
    }

    #[test]
    fn numbers_come_out_as_on_a_pocket_calculator() {
        for (text, wanted) in [
            ("2 + 3 * 4", 14.0),
            ("(2 + 3) * 4", 20.0),
            ("24 / 4 / 2", 3.0),
            ("24 / 4 * 2", 12.0),
            ("10 - 4 - 3", 3.0),
            ("-3 + 5", 2.0),
            ("2 * 3^2", 18.0),
            ("sqrt(16) + 4^0.5", 6.0),
            ("sin(pi / 6)", 0.5),
            ("4 * atan(1)", std::f64::consts::PI),
            ("acos(0) * 2", std::f64::consts::PI),
            ("max(1, 2, 3) - min(4, 5)", -1.0),
            ("ceil(2.1) + floor(2.9)", 5.0),
        ] {
            assert!((value(text, &[]).expect(text) - wanted).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn lists_are_added_up_and_chosen_from() {
        let values = [("n_i", vec![70.0, 170.0, 110.0]), ("n", vec![169.9])];
        assert_eq!(value("sum(n_i)", &values), Ok(350.0));
        assert_eq!(value("highest(n_i, n)", &values), Ok(110.0));
        assert_eq!(value("highest(n_i, 10)", &values), Err(Wrong::NoNumber));
        assert_eq!(value("n_i", &values), Err(Wrong::List("n_i".to_string())));
        assert_eq!(value("sum(2)", &values), Err(Wrong::NoNumber));
    }

    #[test]
    fn what_has_no_value_and_what_is_no_number_is_told() {
        assert_eq!(value("2 * q", &[]), Err(Wrong::NoValue("q".to_string())));
        assert_eq!(value("1 / 0", &[]), Err(Wrong::NoNumber));
        assert_eq!(value("sqrt(1 - 2)", &[]), Err(Wrong::NoNumber));
    }
}
