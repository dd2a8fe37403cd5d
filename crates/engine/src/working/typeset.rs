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
        (Function::Round, _) => format!("op(\"round\")({inside})"),
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
