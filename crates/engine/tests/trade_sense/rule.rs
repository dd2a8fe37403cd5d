//! A rule of the trade: what it says, how it is judged, and a plan spoilt so that it must complain.

use crate::case::Case;

/// A rule that any plan must keep.
#[derive(Clone, Copy)]
pub struct Rule {
    /// Its number in the table: "T01".
    pub number: &'static str,
    /// What a plan keeps.
    pub keeps: &'static str,
    /// How it is judged.
    pub how: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// The function that judges it.
    pub test: &'static str,
    /// Judges one planned or impossible case.
    pub judge: fn(&Case, &mut Findings),
    /// Breaks a good plan so that the rule must complain.
    pub spoil: fn(&mut Case),
}

/// A rule under the name of the function that judges it.
#[macro_export]
macro_rules! rule {
    ($number:literal, $judge:ident, $spoil:expr, $keeps:literal, $how:literal, $source:literal) => {
        $crate::rule::Rule {
            number: $number,
            keeps: $keeps,
            how: $how,
            source: $source,
            test: stringify!($judge),
            judge: $judge,
            spoil: $spoil,
        }
    };
}

/// What judging found: how often something was judged, and what was wrong.
#[derive(Debug, Clone, Default)]
pub struct Findings {
    /// How often.
    pub judged: u64,
    /// What was wrong, in words with numbers.
    pub faults: Vec<String>,
}

impl Findings {
    /// One thing judged; `says` is asked only when it is wrong.
    pub fn check(&mut self, right: bool, says: impl FnOnce() -> String) {
        self.judged += 1;
        if !right {
            self.faults.push(says());
        }
    }
}
