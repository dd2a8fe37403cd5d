//! A formula as plain text: for the terminal, for readers of screens, for anything without mathematics.

use super::expr::{Expr, Function, Symbol, Term};
use super::formula::Formula;

/// "F sub c = k sub c A K sub γ": as it is read aloud, without signs that only a typist knows.
pub fn plain(formula: &Formula) -> String {
    format!("{} = {}", plain_symbol(&formula.left), plain_expr(&formula.right))
}

/// "k sub c1.1", "r sub ε".
pub fn plain_symbol(symbol: &Symbol) -> String {
    if symbol.below.is_empty() { symbol.base.clone() } else { format!("{} sub {}", symbol.base, symbol.below) }
}

pub(super) fn plain_expr(expr: &Expr) -> String {
    match expr {
        Expr::Number(text) => text.clone(),
        Expr::Pi => "π".to_string(),
        Expr::Symbol(symbol) => plain_symbol(symbol),
        Expr::Sum(terms) => terms.iter().enumerate().map(|(at, term)| added(at, term)).collect(),
        Expr::Product(factors) => {
            let last = factors.len().saturating_sub(1);
            factors.iter().enumerate().map(|(at, factor)| multiplied(at, factor, at == last)).collect()
        }
        Expr::Quotient(over, under) => format!("{} / {}", factor(over), divisor(under)),
        Expr::Power(base, exponent) => raised(&single(base), exponent),
        Expr::Root(under) => format!("√{}", single(under)),
        Expr::Call(function, parts) => called(*function, parts),
    }
}

fn added(at: usize, term: &Term) -> String {
    let text = if matches!(term.of, Expr::Sum(_)) { bracketed(&term.of) } else { plain_expr(&term.of) };
    match (at, term.minus) {
        (0, false) => text,
        (0, true) => format!("−{text}"),
        (_, false) => format!(" + {text}"),
        (_, true) => format!(" − {text}"),
    }
}

/// Factors stand side by side; a cross keeps two numbers apart, brackets a quotient from what follows it.
fn multiplied(at: usize, of: &Expr, last: bool) -> String {
    let sign = match (at, of) {
        (0, _) => "",
        (_, Expr::Number(_)) => " × ",
        _ => " ",
    };
    let quotient = matches!(of, Expr::Quotient(..)) && !last;
    format!("{sign}{}", if quotient { bracketed(of) } else { factor(of) })
}

fn factor(expr: &Expr) -> String {
    if matches!(expr, Expr::Sum(_)) { bracketed(expr) } else { plain_expr(expr) }
}

fn divisor(expr: &Expr) -> String {
    match expr {
        Expr::Sum(_) | Expr::Product(_) | Expr::Quotient(..) => bracketed(expr),
        _ => plain_expr(expr),
    }
}

fn single(expr: &Expr) -> String {
    match expr {
        Expr::Number(_) | Expr::Pi | Expr::Symbol(_) => plain_expr(expr),
        Expr::Call(function, _) if !angular(*function) => plain_expr(expr),
        _ => bracketed(expr),
    }
}

fn called(function: Function, parts: &[Expr]) -> String {
    let inside = parts.iter().map(plain_expr).collect::<Vec<_>>().join(", ");
    match (function, parts) {
        (Function::Highest, [list, limit]) => {
            let list = plain_expr(list);
            format!("highest {list} with {list} ≤ {}", plain_expr(limit))
        }
        (Function::Sum, _) => format!("sum of all {inside}"),
        (_, [Expr::Number(_) | Expr::Pi | Expr::Symbol(_)]) if angular(function) => {
            format!("{} {inside}", function.set_name())
        }
        _ => format!("{}({inside})", function.set_name()),
    }
}

/// Functions of an angle, which need no brackets round a single letter.
pub(super) fn angular(function: Function) -> bool {
    matches!(function, Function::Sin | Function::Cos | Function::Tan)
}

/// Whole numbers stand raised, everything else is said.
fn raised(base: &str, exponent: &Expr) -> String {
    match exponent {
        Expr::Number(text) if text.chars().all(|sign| sign.is_ascii_digit()) => {
            let raise = |digit: char| digit.to_digit(10).and_then(|digit| "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().nth(digit as usize));
            format!("{base}{}", text.chars().filter_map(raise).collect::<String>())
        }
        _ => format!("{base} to the power {}", single(exponent)),
    }
}

fn bracketed(expr: &Expr) -> String {
    format!("({})", plain_expr(expr))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::working::read_equation;

    #[test]
    fn no_sign_of_a_typist_is_left() {
        let said = |text: &str| plain_expr(&read_equation(&format!("y = {text}")).expect("a formula").1);
        assert_eq!(said("k_c1.1 * max(h, h_0)^(-m_c)"), "k sub c1.1 max(h, h sub 0) to the power (−m sub c)");
        assert_eq!(said("rho * V / 10^9"), "ρ V / 10⁹");
        assert_eq!(said("sqrt((x + y)^2)"), "√((x + y)²)");
        for formula in crate::working::formulas() {
            assert!(!plain(formula).contains(['_', '^', '[']), "{}", plain(formula));
        }
    }
}
