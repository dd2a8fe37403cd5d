//! The notation in which formulas are written in `data/formulas.toml`: `F_c = k_c * b * h^(1 - m_c)`.
//!
//! Sums `+ -`, products `*` and quotients `/` from left to right, powers `^`, brackets, functions by name
//! (`sqrt(x)`, `atan(x)`, `min(x, y)`), plain decimal numbers, `pi`, and symbols: letters (Greek by name), primes,
//! and after `_` what hangs below. A fraction of whole numbers as shop drawings write it ("1 3/8") cannot be written.

use winnow::ascii::{digit1, multispace0};
use winnow::combinator::{alt, delimited, eof, opt, preceded, repeat, separated};
use winnow::token::{one_of, take_while};
use winnow::{ModalResult, Parser};

use super::expr::{Expr, Function, Symbol, Term};

/// A text that is no equation of the notation.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no formula from here: {left:?}")]
pub struct Misread {
    /// What was left to read.
    pub left: String,
}

/// How deep brackets may stand in one another: more is no formula of a textbook.
const DEEPEST: usize = 20;

/// Reads `symbol = expression`.
///
/// # Errors
/// Where the text stops being an equation.
pub fn read_equation(text: &str) -> Result<(Symbol, Expr), Misread> {
    let mut input = text;
    let refuse = |left: &str| Misread { left: left.to_string() };
    if deepest_bracket(text) > DEEPEST {
        return Err(refuse(text));
    }
    equation(&mut input).map_err(|_| refuse(input))
}

fn deepest_bracket(text: &str) -> usize {
    let mut depth = 0_usize;
    let depths = text.chars().map(|letter| {
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        depth
    });
    depths.max().unwrap_or(0)
}

fn equation(input: &mut &str) -> ModalResult<(Symbol, Expr)> {
    let left = spaced(symbol_text).parse_next(input)?;
    spaced('=').parse_next(input)?;
    let right = sum.parse_next(input)?;
    eof.parse_next(input)?;
    Ok((Symbol::new(&left), right))
}

fn spaced<'a, O>(
    inner: impl Parser<&'a str, O, winnow::error::ErrMode<winnow::error::ContextError>>,
) -> impl Parser<&'a str, O, winnow::error::ErrMode<winnow::error::ContextError>> {
    delimited(multispace0, inner, multispace0)
}

fn sum(input: &mut &str) -> ModalResult<Expr> {
    let first_minus = opt(spaced('-')).parse_next(input)?.is_some();
    let first = product.parse_next(input)?;
    let more: Vec<Term> = repeat(0.., term).parse_next(input)?;
    if more.is_empty() && !first_minus {
        return Ok(first);
    }
    Ok(Expr::Sum(std::iter::once(Term { minus: first_minus, of: first }).chain(more).collect()))
}

fn term(input: &mut &str) -> ModalResult<Term> {
    let sign = spaced(one_of(['+', '-'])).parse_next(input)?;
    product.map(|of| Term { minus: sign == '-', of }).parse_next(input)
}

fn product(input: &mut &str) -> ModalResult<Expr> {
    let first = power.parse_next(input)?;
    let more: Vec<(char, Expr)> = repeat(0.., (spaced(one_of(['*', '/'])), power)).parse_next(input)?;
    Ok(more.into_iter().fold(first, |so_far, (sign, next)| match (sign, so_far) {
        ('/', so_far) => Expr::Quotient(Box::new(so_far), Box::new(next)),
        (_, Expr::Product(mut factors)) => {
            factors.push(next);
            Expr::Product(factors)
        }
        (_, so_far) => Expr::Product(vec![so_far, next]),
    }))
}

fn power(input: &mut &str) -> ModalResult<Expr> {
    let base = atom.parse_next(input)?;
    match opt(preceded(spaced('^'), atom)).parse_next(input)? {
        Some(exponent) => Ok(Expr::Power(Box::new(base), Box::new(exponent))),
        None => Ok(base),
    }
}

fn atom(input: &mut &str) -> ModalResult<Expr> {
    spaced(alt((number, bracketed, call, named))).parse_next(input)
}

fn bracketed(input: &mut &str) -> ModalResult<Expr> {
    delimited('(', sum, ')').parse_next(input)
}

fn number(input: &mut &str) -> ModalResult<Expr> {
    (digit1, opt(('.', digit1))).take().map(|text: &str| Expr::Number(text.to_string())).parse_next(input)
}

fn call(input: &mut &str) -> ModalResult<Expr> {
    let name = take_while(1.., |c: char| c.is_ascii_lowercase()).parse_next(input)?;
    let parts: Vec<Expr> = delimited('(', separated(1.., sum, ','), ')').parse_next(input)?;
    if name == "sqrt" && parts.len() == 1 {
        return Ok(Expr::Root(Box::new(parts.into_iter().next().unwrap_or(Expr::Pi))));
    }
    let known = Function::ALL.into_iter().find(|function| function.name() == name);
    match known {
        Some(function) if (function.arguments().0..=function.arguments().1).contains(&parts.len()) => {
            Ok(Expr::Call(function, parts))
        }
        _ => winnow::combinator::fail.parse_next(input),
    }
}

fn named(input: &mut &str) -> ModalResult<Expr> {
    let text = symbol_text.parse_next(input)?;
    Ok(if text == "pi" { Expr::Pi } else { Expr::Symbol(Symbol::new(&text)) })
}

/// Letters, primes, and below: letters, digits and inner points.
fn symbol_text(input: &mut &str) -> ModalResult<String> {
    let letters = take_while(1.., |c: char| c.is_ascii_alphabetic());
    let below =
        (one_of(|c: char| c.is_ascii_alphanumeric()), take_while(0.., |c: char| c.is_ascii_alphanumeric() || c == '.'));
    (letters, take_while(0.., '\''), opt(('_', below))).take().map(str::to_string).parse_next(input)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::working::plain::plain_expr;
    use proptest::prelude::*;

    fn right(text: &str) -> String {
        plain_expr(&read_equation(&format!("y = {text}")).unwrap_or_else(|why| panic!("{text}: {why}")).1)
    }

    #[test]
    fn what_is_written_is_what_is_meant() {
        for (text, set) in [
            ("a + b * c", "a + b c"),
            ("(a + b) * c", "(a + b) c"),
            ("a / b * c", "(a / b) c"),
            ("c * a / b", "c a / b"),
            ("a / (b * c)", "a / (b c)"),
            ("a - (b - c)", "a − (b − c)"),
            ("-a + b", "−a + b"),
            ("k_c1.1 * h^(1 - m_c)", "k sub c1.1 h to the power (1 − m sub c)"),
            ("(a * b)^2", "(a b)²"),
            ("sqrt(R^2 - h^2)", "√(R² − h²)"),
            ("sqrt(3) * r", "√3 r"),
            ("max(a, b)^(-m)", "max(a, b) to the power (−m)"),
            ("rho * F_c * sin(chi)", "ρ F sub c sin χ"),
            ("atan(a / b)", "arctan(a / b)"),
            ("min(a, b / 2)", "min(a, b / 2)"),
            ("1000 * v_c / (pi * d)", "1000 v sub c / (π d)"),
            ("r * 2", "r × 2"),
            ("N'_0", "N′ sub 0"),
        ] {
            assert_eq!(right(text), set);
        }
    }

    #[test]
    fn what_is_no_formula_is_refused_at_its_place() {
        for text in [
            "",
            "y",
            "y =",
            "y = a +",
            "y = 1 3/8",
            "y = a b",
            "y = f(a)",
            "y = min(a)",
            "y = (a",
            "y = a)",
            "= a",
            "y = a == b",
        ] {
            assert!(read_equation(text).is_err(), "{text}");
        }
        let deep = format!("y = {}a{}", "(".repeat(5000), ")".repeat(5000));
        assert!(read_equation(&deep).is_err());
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "[a-c_0-9+*/^() .,=-]{0,60}|.{0,40}") {
            let _ = read_equation(&text);
        }
    }
}
