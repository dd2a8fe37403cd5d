//! A formula in typst's mathematics, without the dollar signs: what the printed sheet sets.
//!
//! Only formulas are set so. Sizes of a drawing such as 1 3/8 are text: as mathematics they would come out as another
//! number.

use super::expr::{Expr, Function, Symbol, Term};
use super::formula::Formula;
use super::plain::angular;

/// `F_"c" = k_"c" A`.
pub fn typst_math(formula: &Formula) -> String {
    format!("{} = {}", typst_symbol(&formula.left), node(&formula.right))
}

/// `k_"c1.1"`.
pub fn typst_symbol(symbol: &Symbol) -> String {
    let base = letter(&symbol.base);
    if symbol.below.is_empty() { base } else { format!("{base}_\"{}\"", quoted(&symbol.below)) }
}

/// One letter leans as a quantity does; more than one would be read as a name of typst's.
fn letter(base: &str) -> String {
    let bare = base.trim_end_matches('′');
    let primes = "'".repeat(base.chars().count() - bare.chars().count());
    if bare.chars().count() == 1 { format!("{bare}{primes}") } else { format!("italic(\"{}\"){primes}", quoted(bare)) }
}

fn node(expr: &Expr) -> String {
    match expr {
        Expr::Number(text) => text.clone(),
        Expr::Pi => "π".to_string(),
        Expr::Symbol(symbol) => typst_symbol(symbol),
        Expr::Sum(terms) => terms.iter().enumerate().map(|(at, term)| added(at, term)).collect(),
        Expr::Product(factors) => factors.iter().enumerate().map(|(at, of)| multiplied(at, of)).collect(),
        Expr::Quotient(over, under) => format!("frac({}, {})", node(over), node(under)),
        Expr::Power(base, exponent) => format!("{}^({})", single(base), node(exponent)),
        Expr::Root(under) => format!("sqrt({})", node(under)),
        Expr::Call(function, parts) => called(*function, parts),
    }
}

fn added(at: usize, term: &Term) -> String {
    let of = if matches!(term.of, Expr::Sum(_)) { bracketed(&term.of) } else { node(&term.of) };
    match (at, term.minus) {
        (0, false) => of,
        (0, true) => format!("-{of}"),
        (_, false) => format!(" + {of}"),
        (_, true) => format!(" - {of}"),
    }
}

fn multiplied(at: usize, of: &Expr) -> String {
    let sign = match (at, of) {
        (0, _) => "",
        (_, Expr::Number(_)) => " × ",
        _ => " thin ",
    };
    format!("{sign}{}", if matches!(of, Expr::Sum(_)) { bracketed(of) } else { node(of) })
}

fn single(expr: &Expr) -> String {
    match expr {
        Expr::Number(_) | Expr::Pi | Expr::Symbol(_) => node(expr),
        Expr::Call(function, _) if !angular(*function) => node(expr),
        _ => bracketed(expr),
    }
}

fn called(function: Function, parts: &[Expr]) -> String {
    let inside = parts.iter().map(node).collect::<Vec<_>>().join(", ");
    match (function, parts) {
        (Function::Floor, _) => format!("floor({inside})"),
        (Function::Ceil, _) => format!("ceil({inside})"),
        (Function::Sum, _) => format!("sum {inside}"),
        (Function::Highest, [list, limit]) => {
            let list = node(list);
            format!("max {{{list} | {list} ≤ {}}}", node(limit))
        }
        (_, [Expr::Number(_) | Expr::Pi | Expr::Symbol(_)]) if angular(function) => {
            format!("{} {inside}", function.set_name())
        }
        _ => format!("{}({inside})", function.set_name()),
    }
}

fn bracketed(expr: &Expr) -> String {
    format!("({})", node(expr))
}

fn quoted(text: &str) -> String {
    text.replace('\\', "\\\\").replace('"', "\\\"")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::working::formula::formulas;
    use crate::working::read_equation;

    fn set(text: &str) -> String {
        node(&read_equation(&format!("y = {text}")).expect("a formula").1)
    }

    #[test]
    fn what_is_written_is_what_typst_reads() {
        assert_eq!(set("1000 * v_c / (2 * pi * r_1)"), "frac(1000 thin v_\"c\", 2 thin π thin r_\"1\")");
        assert_eq!(set("k_c1.1 * h^(-m_c)"), "k_\"c1.1\" thin h^(-m_\"c\")");
        assert_eq!(set("18 * 3 * sqrt(x)"), "18 × 3 thin sqrt(x)");
        assert_eq!(set("rho * sin(chi) * acos(1 - a / b)"), "ρ thin sin χ thin arccos(1 - frac(a, b))");
    }

    /// A whole number before a fraction reads as a mixed number: 1 3/8 would come out as 13/8.
    #[test]
    fn no_number_stands_before_a_fraction_of_numbers() {
        for row in formulas() {
            row.right.visit(&mut |expr| {
                if let Expr::Product(factors) = expr {
                    let mixed = factors.windows(2).any(|two| {
                        let number = |expr: &Expr| matches!(expr, Expr::Number(_));
                        number(&two[0])
                            && matches!(&two[1], Expr::Quotient(over, under) if number(over) && number(under))
                    });
                    assert!(!mixed, "{}", row.name);
                }
            });
        }
    }
}
