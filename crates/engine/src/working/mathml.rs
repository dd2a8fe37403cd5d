//! A formula as MathML Core: what the page shows and a screen reader speaks.

use super::expr::{Expr, Function, Symbol, Term};
use super::formula::Formula;
use super::plain::{angular, plain};

/// The whole formula, a `<math>` element of its own; its words for those who see no mathematics as `alttext`.
pub fn mathml(formula: &Formula) -> String {
    format!(
        "<math display=\"block\" alttext=\"{}\"><mrow>{}<mo>=</mo>{}</mrow></math>",
        escaped(&plain(formula)),
        symbol(&formula.left),
        node(&formula.right)
    )
}

/// One symbol, a `<math>` element of its own, for a list of symbols.
pub fn mathml_symbol(of: &Symbol) -> String {
    format!("<math>{}</math>", symbol(of))
}

fn symbol(of: &Symbol) -> String {
    let base = format!("<mi>{}</mi>", escaped(&of.base));
    if of.below.is_empty() { base } else { format!("<msub>{base}<mtext>{}</mtext></msub>", escaped(&of.below)) }
}

fn node(expr: &Expr) -> String {
    match expr {
        Expr::Number(text) => format!("<mn>{}</mn>", escaped(text)),
        Expr::Pi => "<mi>π</mi>".to_string(),
        Expr::Symbol(of) => symbol(of),
        Expr::Sum(terms) => row(terms.iter().enumerate().map(|(at, term)| added(at, term)).collect()),
        Expr::Product(factors) => row(factors.iter().enumerate().map(|(at, of)| multiplied(at, of)).collect()),
        Expr::Quotient(over, under) => format!("<mfrac>{}{}</mfrac>", node(over), node(under)),
        Expr::Power(base, exponent) => format!("<msup>{}{}</msup>", single(base), node(exponent)),
        Expr::Root(under) => format!("<msqrt>{}</msqrt>", node(under)),
        Expr::Call(function, parts) => called(*function, parts),
    }
}

fn row(inside: String) -> String {
    format!("<mrow>{inside}</mrow>")
}

fn added(at: usize, term: &Term) -> String {
    let of = if matches!(term.of, Expr::Sum(_)) { bracketed(&term.of) } else { node(&term.of) };
    match (at, term.minus) {
        (0, false) => of,
        (_, true) => format!("<mo>−</mo>{of}"),
        (_, false) => format!("<mo>+</mo>{of}"),
    }
}

/// Side by side, with the sign that is heard and not seen; a cross keeps two numbers apart.
fn multiplied(at: usize, of: &Expr) -> String {
    let sign = match (at, of) {
        (0, _) => "",
        (_, Expr::Number(_)) => "<mo>×</mo>",
        _ => "<mo>&#x2062;</mo><mspace width=\"0.17em\"/>",
    };
    format!("{sign}{}", if matches!(of, Expr::Sum(_)) { bracketed(of) } else { node(of) })
}

fn single(expr: &Expr) -> String {
    match expr {
        Expr::Number(_) | Expr::Pi | Expr::Symbol(_) => node(expr),
        Expr::Call(function, _) if !angular(*function) => node(expr),
        _ => row(bracketed(expr)),
    }
}

fn called(function: Function, parts: &[Expr]) -> String {
    let inside = parts.iter().map(node).collect::<Vec<_>>().join("<mo>,</mo>");
    match (function, parts) {
        (Function::Floor, _) => row(format!("<mo>⌊</mo>{inside}<mo>⌋</mo>")),
        (Function::Ceil, _) => row(format!("<mo>⌈</mo>{inside}<mo>⌉</mo>")),
        (Function::Sum, _) => row(format!("<mo>∑</mo>{inside}")),
        (Function::Highest, [list, limit]) => {
            let list = node(list);
            row(format!("<mi>max</mi><mo>{{</mo>{list}<mo>|</mo>{list}<mo>≤</mo>{}<mo>}}</mo>", node(limit)))
        }
        (_, [Expr::Number(_) | Expr::Pi | Expr::Symbol(_)]) if angular(function) => {
            row(format!("<mi>{}</mi><mo>&#x2061;</mo><mspace width=\"0.17em\"/>{inside}", function.set_name()))
        }
        _ => row(format!("<mi>{}</mi><mo>&#x2061;</mo><mo>(</mo>{inside}<mo>)</mo>", function.set_name())),
    }
}

fn bracketed(expr: &Expr) -> String {
    format!("<mo>(</mo>{}<mo>)</mo>", node(expr))
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::working::formula::formulas;

    #[test]
    fn every_tag_that_opens_closes_and_none_is_strange() {
        let known = ["math", "mfrac", "mi", "mn", "mo", "mrow", "msqrt", "mspace", "msub", "msup", "mtext"];
        for row in formulas() {
            let mut open: Vec<&str> = Vec::new();
            let text = mathml(row);
            for tag in text.split('<').skip(1).map(|rest| rest.split('>').next().unwrap_or_default()) {
                let name = tag.trim_start_matches('/').split([' ', '/']).next().unwrap_or_default();
                assert!(known.contains(&name), "{}: {tag}", row.name);
                match (tag.starts_with('/'), tag.ends_with('/')) {
                    (true, _) => assert_eq!(open.pop(), Some(name), "{}", row.name),
                    (false, false) => open.push(name),
                    (false, true) => {}
                }
            }
            assert!(open.is_empty(), "{}: {open:?} left open", row.name);
        }
    }

    #[test]
    fn a_fraction_a_root_and_a_power_are_set() {
        let (_, expr) = crate::working::read_equation("y = sqrt(a_p / 2)^(1 - m)").expect("a formula");
        assert_eq!(
            node(&expr),
            "<msup><mrow><mo>(</mo><msqrt><mfrac><msub><mi>a</mi><mtext>p</mtext></msub><mn>2</mn></mfrac></msqrt>\
             <mo>)</mo></mrow><mrow><mn>1</mn><mo>−</mo><mi>m</mi></mrow></msup>"
        );
    }
}
