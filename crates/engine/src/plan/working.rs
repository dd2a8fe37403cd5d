//! Where the numbers of a plan come from: for each the formula, the values in it, and their sources.

/// One number of the plan and how it was worked out. In SI and millimetres whatever the job's units.
#[derive(Debug, Clone, PartialEq)]
pub struct Working {
    /// Which number: a key that stays the same from plan to plan, "pass 3 cutting force".
    pub of: String,
    /// What it is, in words: "pass 3: cutting force, likely".
    pub says: String,
    /// Name of the formula's row, as in `working::formula`.
    pub formula: &'static str,
    /// The values in it, one for each symbol on its right side.
    pub values: Vec<Known>,
    /// What comes out, unrounded, in `unit`.
    pub value: f64,
    /// Unit of the value: "N", "mm", "rpm"; "1": none.
    pub unit: &'static str,
    /// Where the formula comes from.
    pub source: &'static str,
}

/// A value that goes into a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// Its symbol, written as in the formula: "k_c1.1".
    pub symbol: &'static str,
    /// What the symbol means.
    pub meaning: &'static str,
    /// The value, unrounded, in `unit`; where the symbol stands for a list, all of it.
    pub values: Vec<f64>,
    /// Unit of the value; "deg" and "1/deg" are made rad before they go in.
    pub unit: &'static str,
    /// Where the value comes from, in words.
    pub from: String,
    /// The working that gives it, by its key: in the same set-up, or in the plan where that has none.
    pub worked: Option<String>,
}
