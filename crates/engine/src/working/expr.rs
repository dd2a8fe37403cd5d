//! The tree of a formula: what every face walks that sets it, and what works it out.

/// A formula's right side.
#[derive(Debug, Clone, PartialEq)]
pub enum Expr {
    /// A number, as it is written: "1000", "31.2".
    Number(String),
    /// The circle's number.
    Pi,
    /// A quantity.
    Symbol(Symbol),
    /// Two or more terms, added or taken away in order.
    Sum(Vec<Term>),
    /// Two or more factors.
    Product(Vec<Expr>),
    /// Over, under.
    Quotient(Box<Expr>, Box<Expr>),
    /// Base, exponent.
    Power(Box<Expr>, Box<Expr>),
    /// Square root.
    Root(Box<Expr>),
    /// A function of its arguments.
    Call(Function, Vec<Expr>),
}

/// One term of a sum.
#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    /// Taken away.
    pub minus: bool,
    /// The term without its sign.
    pub of: Expr,
}

/// A symbol: a letter and what hangs below it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Symbol {
    /// As in the notation: "k_c1.1", "r_epsilon".
    pub written: String,
    /// The letter, Greek ones as such: "k", "κ", "Ra"; may end in primes.
    pub base: String,
    /// What hangs below: "c1.1", "ε"; empty: nothing.
    pub below: String,
}

/// Functions that formulas use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Function {
    /// Sine.
    Sin,
    /// Cosine.
    Cos,
    /// Tangent.
    Tan,
    /// Angle of a cosine, 0 to π.
    Acos,
    /// Angle of a tangent, −π/2 to π/2.
    Atan,
    /// The least of its arguments.
    Min,
    /// The largest of its arguments.
    Max,
    /// The whole number below.
    Floor,
    /// The whole number above.
    Ceil,
    /// All numbers of a list together.
    Sum,
    /// The highest number of a list (first argument) that is not above a limit (second).
    Highest,
}

impl Function {
    /// All of them.
    pub const ALL: [Function; 11] = [
        Function::Sin,
        Function::Cos,
        Function::Tan,
        Function::Acos,
        Function::Atan,
        Function::Min,
        Function::Max,
        Function::Floor,
        Function::Ceil,
        Function::Sum,
        Function::Highest,
    ];

    /// Its name in the notation.
    pub fn name(self) -> &'static str {
        match self {
            Function::Sin => "sin",
            Function::Cos => "cos",
            Function::Tan => "tan",
            Function::Acos => "acos",
            Function::Atan => "atan",
            Function::Min => "min",
            Function::Max => "max",
            Function::Floor => "floor",
            Function::Ceil => "ceil",
            Function::Sum => "sum",
            Function::Highest => "highest",
        }
    }

    /// Its name as it is set (ISO 80000-2): "arccos".
    pub fn set_name(self) -> &'static str {
        match self {
            Function::Acos => "arccos",
            Function::Atan => "arctan",
            other => other.name(),
        }
    }

    /// How many arguments it takes, least and most.
    pub fn arguments(self) -> (usize, usize) {
        match self {
            Function::Min | Function::Max => (2, usize::MAX),
            Function::Highest => (2, 2),
            _ => (1, 1),
        }
    }
}

/// Greek letters by name, and as they are set.
pub(super) const GREEK: [(&str, &str); 17] = [
    ("alpha", "α"),
    ("beta", "β"),
    ("chi", "χ"),
    ("delta", "δ"),
    ("epsilon", "ε"),
    ("eta", "η"),
    ("gamma", "γ"),
    ("kappa", "κ"),
    ("lambda", "λ"),
    ("mu", "μ"),
    ("nu", "ν"),
    ("omega", "ω"),
    ("phi", "φ"),
    ("psi", "ψ"),
    ("rho", "ρ"),
    ("tau", "τ"),
    ("theta", "θ"),
];

impl Symbol {
    /// From the notation: "k_c1.1", "r_epsilon", "N'_0".
    pub fn new(written: &str) -> Symbol {
        let (base, below) = written.split_once('_').unwrap_or((written, ""));
        let letters = base.trim_end_matches('\'');
        let primes = "′".repeat(base.len() - letters.len());
        Symbol {
            written: written.to_string(),
            base: format!("{}{primes}", as_set(letters)),
            below: as_set(below).to_string(),
        }
    }
}

/// A Greek letter for its name, anything else as it is.
fn as_set(name: &str) -> &str {
    GREEK.iter().find(|(known, _)| *known == name).map_or(name, |(_, letter)| letter)
}

impl Expr {
    /// A number of the notation; `None` for what is no plain decimal number.
    pub fn value_of_number(text: &str) -> Option<f64> {
        text.parse().ok()
    }

    /// Every symbol, once, in the order of reading.
    pub fn symbols(&self) -> Vec<&Symbol> {
        let mut found = Vec::new();
        self.visit(&mut |expr| {
            if let Expr::Symbol(symbol) = expr
                && !found.contains(&symbol)
            {
                found.push(symbol);
            }
        });
        found
    }

    /// Shows every node, the whole before its parts.
    pub fn visit<'a>(&'a self, see: &mut impl FnMut(&'a Expr)) {
        see(self);
        match self {
            Expr::Number(_) | Expr::Pi | Expr::Symbol(_) => {}
            Expr::Sum(terms) => terms.iter().for_each(|term| term.of.visit(see)),
            Expr::Product(parts) | Expr::Call(_, parts) => parts.iter().for_each(|part| part.visit(see)),
            Expr::Quotient(one, other) | Expr::Power(one, other) => {
                one.visit(see);
                other.visit(see);
            }
            Expr::Root(of) => of.visit(see),
        }
    }
}
