//! Workings while they are gathered: a formula's row by name, its symbols filled one by one.

use crate::plan::{Known, Working};
use crate::working::formula;

/// A value for a symbol, and where it comes from.
#[derive(Clone)]
pub struct Given {
    symbol: &'static str,
    values: Vec<f64>,
    from: String,
    worked: Option<String>,
}

/// A value that is given.
pub fn given(symbol: &'static str, value: f64, from: impl Into<String>) -> Given {
    Given { symbol, values: vec![value], from: from.into(), worked: None }
}

/// A list that is given.
pub fn listed(symbol: &'static str, values: Vec<f64>, from: impl Into<String>) -> Given {
    Given { symbol, values, from: from.into(), worked: None }
}

/// A value that another working of this key gives.
pub fn worked(symbol: &'static str, value: f64, key: &str) -> Given {
    Given { symbol, values: vec![value], from: format!("worked out: {key}"), worked: Some(key.to_string()) }
}

/// Workings in the order in which they build on one another.
#[derive(Default)]
pub struct Workings {
    scope: String,
    list: Vec<Working>,
}

impl Workings {
    /// From now on of this pass, from 1.
    pub fn of_pass(&mut self, number: usize) {
        self.scope = format!("pass {number} ");
    }

    /// From now on of the whole set-up.
    pub fn of_set_up(&mut self) {
        self.scope.clear();
    }

    /// The key of a number of the pass or set-up now at hand.
    pub fn key(&self, what: &str) -> String {
        format!("{}{what}", self.scope)
    }

    /// Whether the list has a number of this key.
    pub fn has(&self, what: &str) -> bool {
        let key = self.key(what);
        self.list.iter().any(|working| working.of == key)
    }

    /// Adds one and gives its key back. What is no number has no working.
    pub fn add(&mut self, what: &str, value: f64, named: &'static str, values: Vec<Given>) -> String {
        let key = self.key(what);
        let finite = value.is_finite() && values.iter().all(|given| given.values.iter().all(|value| value.is_finite()));
        if finite {
            let says =
                if self.scope.is_empty() { what.to_string() } else { format!("{}: {what}", self.scope.trim_end()) };
            self.list.push(working(key.clone(), says, value, named, values));
        }
        key
    }

    /// All of them.
    pub fn done(self) -> Vec<Working> {
        self.list
    }
}

fn working(of: String, says: String, value: f64, named: &'static str, values: Vec<Given>) -> Working {
    let row = formula(named).expect("every name asked for is a row of the table: a test plans until each was used");
    let known = |given: Given| {
        let meaning = row.meaning(given.symbol).expect("symbols are those of the row: the same test fills each");
        Known {
            symbol: given.symbol,
            meaning: &meaning.says,
            values: given.values,
            unit: &meaning.unit,
            from: given.from,
            worked: given.worked,
        }
    };
    Working {
        of,
        says,
        formula: &row.name,
        values: values.into_iter().map(known).collect(),
        value,
        unit: &row.unit,
        source: &row.source,
    }
}
