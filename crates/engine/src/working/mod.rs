//! The working of a number: its formula as a tree, worked out from the values that the plan lists, and set as text,
//! MathML or typst.
//!
//! Formulas are rows of `data/formulas.toml`, written in a notation of our own (`notation`). The plan lists
//! [`crate::plan::Working`]s, which name a row and give a value for each of its symbols.

mod evaluate;
mod expr;
mod formula;
mod mathml;
mod notation;
mod plain;
mod shown;
mod typeset;

pub use evaluate::{Values, Wrong, evaluate, from_printed, outcome, outcome_by};
pub use expr::{Expr, Function, Symbol, Term};
pub use formula::{Formula, Meaning, formula, formulas};
pub use mathml::{mathml, mathml_symbol};
pub use notation::{Misread, read_equation};
pub use plain::{plain, plain_symbol};
pub use shown::{shown, shown_briefly, shown_in_inches, shown_known, shown_number, unit_as_set};
pub use typeset::{typst_math, typst_symbol};
