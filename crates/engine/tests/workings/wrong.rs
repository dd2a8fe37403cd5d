//! Formulas gone wrong: every change of one node that could be a slip of the pen.

use engine::working::{Expr, Formula, Function, Term};

/// Every tree that differs from the formula's in one node, with what was changed.
pub fn wrong(row: &Formula) -> Vec<(String, Expr)> {
    let others: Vec<Expr> = row.right.symbols().into_iter().cloned().map(Expr::Symbol).collect();
    changed(&row.right, &others)
}

fn changed(expr: &Expr, others: &[Expr]) -> Vec<(String, Expr)> {
    let mut found = itself(expr, others);
    let parts = parts(expr);
    for (at, part) in parts.iter().enumerate() {
        for (what, other) in changed(part, others) {
            found.push((what, with_part(expr, at, other)));
        }
    }
    found
}

fn itself(expr: &Expr, others: &[Expr]) -> Vec<(String, Expr)> {
    let told = |what: &str, expr: Expr| (what.to_string(), expr);
    match expr {
        Expr::Number(text) => {
            let value: f64 = text.parse().expect("a number");
            vec![told(&format!("{text} a hundredth more"), Expr::Number(format!("{}", value * 1.01)))]
        }
        Expr::Pi => vec![told("pi as 3.14", Expr::Number("3.14".to_string()))],
        Expr::Symbol(symbol) => {
            let other = others.iter().filter(|other| *other != expr).cloned();
            other.map(|other| told(&format!("{} mistaken for {other:?}", symbol.written), other)).collect()
        }
        Expr::Sum(terms) => (0..terms.len())
            .flat_map(|at| {
                let mut turned = terms.clone();
                turned[at].minus = !turned[at].minus;
                let mut less = terms.clone();
                less.remove(at);
                let flipped = told(&format!("sign of term {at}"), Expr::Sum(turned));
                [Some(flipped), (!less.is_empty()).then(|| told(&format!("term {at} left out"), Expr::Sum(less)))]
            })
            .flatten()
            .collect(),
        Expr::Product(factors) => (0..factors.len())
            .map(|at| {
                let mut less = factors.clone();
                less.remove(at);
                told(&format!("factor {at} left out"), Expr::Product(less))
            })
            .collect(),
        Expr::Quotient(over, under) => vec![
            told("turned over", Expr::Quotient(under.clone(), over.clone())),
            told("multiplied", Expr::Product(vec![(**over).clone(), (**under).clone()])),
        ],
        Expr::Power(base, _) => vec![told("exponent left out", (**base).clone())],
        Expr::Root(under) => vec![told("root left out", (**under).clone())],
        Expr::Call(function, parts) => instead(*function)
            .into_iter()
            .map(|other| told(&format!("{other:?} for {function:?}"), Expr::Call(other, parts.clone())))
            .collect(),
    }
}

fn instead(function: Function) -> Vec<Function> {
    match function {
        Function::Sin => vec![Function::Cos, Function::Tan],
        Function::Cos => vec![Function::Sin],
        Function::Tan => vec![Function::Sin],
        Function::Acos | Function::Atan => vec![Function::Sin],
        Function::Min => vec![Function::Max],
        Function::Max => vec![Function::Min],
        Function::Floor => vec![Function::Ceil],
        Function::Ceil => vec![Function::Floor],
        Function::Sum | Function::Highest => Vec::new(),
    }
}

fn parts(expr: &Expr) -> Vec<Expr> {
    match expr {
        Expr::Number(_) | Expr::Pi | Expr::Symbol(_) => Vec::new(),
        Expr::Sum(terms) => terms.iter().map(|term| term.of.clone()).collect(),
        Expr::Product(parts) => parts.clone(),
        // A list stays a list.
        Expr::Call(Function::Sum | Function::Highest, parts) => parts[1..].to_vec(),
        Expr::Call(_, parts) => parts.clone(),
        Expr::Quotient(one, other) | Expr::Power(one, other) => vec![(**one).clone(), (**other).clone()],
        Expr::Root(under) => vec![(**under).clone()],
    }
}

fn with_part(expr: &Expr, at: usize, part: Expr) -> Expr {
    let replaced = |list: &[Expr], at: usize| {
        let mut list = list.to_vec();
        list[at] = part.clone();
        list
    };
    match expr {
        Expr::Sum(terms) => {
            let mut terms = terms.clone();
            terms[at] = Term { minus: terms[at].minus, of: part };
            Expr::Sum(terms)
        }
        Expr::Product(parts) => Expr::Product(replaced(parts, at)),
        Expr::Call(function @ (Function::Sum | Function::Highest), parts) => {
            Expr::Call(*function, replaced(parts, at + 1))
        }
        Expr::Call(function, parts) => Expr::Call(*function, replaced(parts, at)),
        Expr::Quotient(one, _) if at == 1 => Expr::Quotient(one.clone(), Box::new(part)),
        Expr::Quotient(_, other) => Expr::Quotient(Box::new(part), other.clone()),
        Expr::Power(one, _) if at == 1 => Expr::Power(one.clone(), Box::new(part)),
        Expr::Power(_, other) => Expr::Power(Box::new(part), other.clone()),
        Expr::Root(_) => Expr::Root(Box::new(part)),
        other => other.clone(),
    }
}
