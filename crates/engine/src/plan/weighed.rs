//! What else could be done: other orders beside the one that is taken, what would help most, what stands in the way.

use super::Chance;

/// Other plans and changes, weighed against the plan that is taken.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Weighed {
    /// The plans to choose from, the one taken first: the quickest, the truest, and the one between.
    pub choices: Vec<Choice>,
    /// The best of all plans with other set-ups; `None`: none was found.
    pub runner_up: Option<RunnerUp>,
    /// Changes that would make more pieces good, the one that helps most first.
    pub helps: Vec<Help>,
    /// Where most pieces fail: what stands in the way.
    pub blocking: Option<Blocking>,
}

/// A plan to choose.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What it is the best for: "balanced", "quickest", "truest", as a job asks for it.
    pub best_for: Vec<&'static str>,
    /// The flats in order, with the seats: "A, B, C on parallels".
    pub order: String,
    /// All minutes of the plan.
    pub minutes: f64,
    /// How many pieces keep every requirement.
    pub chance: Chance,
    /// Minutes for a good piece, scrapped ones counted; infinite: none is good.
    pub per_good_minutes: f64,
    /// Whether it is the plan that is taken.
    pub taken: bool,
}

/// The next best plan.
#[derive(Debug, Clone, PartialEq)]
pub struct RunnerUp {
    /// The plan.
    pub plan: Choice,
    /// Why it is not taken, in words.
    pub loses: String,
}

/// A change with what it would bring.
#[derive(Debug, Clone, PartialEq)]
pub struct Help {
    /// In words, what is to be changed.
    pub change: String,
    /// How many pieces would keep every requirement.
    pub chance: Chance,
    /// Minutes for a good piece then.
    pub per_good_minutes: f64,
}

/// What stands in the way of good pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Blocking {
    /// The fewest causes without which most pieces would be good, in words; empty: even without any cause few are.
    pub causes: Vec<String>,
    /// How many would be good without them.
    pub without: Chance,
    /// Requirements that fail most pieces even without any cause.
    pub fails: Vec<String>,
}

impl Choice {
    /// "A, B, C on parallels: 96 minutes, 81 of 100 good, 109 minutes for a good piece".
    pub fn says(&self) -> String {
        let per_good = match self.per_good_minutes {
            minutes if minutes.is_finite() => format!("{minutes:.0} minutes for a good piece"),
            _ => "no good piece to be expected".to_string(),
        };
        format!("{}: {:.0} minutes, {} of 100 good, {per_good}", self.order, self.minutes, self.chance.of_100())
    }

    /// "quickest and truest".
    pub fn best_for_says(&self) -> String {
        joined(self.best_for.iter().copied())
    }
}

impl Help {
    /// "a gauge of half the uncertainty: 88 of 100 good, 101 minutes for a good piece".
    pub fn says(&self) -> String {
        let per_good = match self.per_good_minutes {
            minutes if minutes.is_finite() => format!(", {minutes:.0} minutes for a good piece"),
            _ => String::new(),
        };
        format!("{}: {} of 100 good{per_good}", self.change, self.chance.of_100())
    }
}

impl Blocking {
    /// In a sentence.
    pub fn says(&self) -> String {
        if self.causes.is_empty() {
            let fails = joined(self.fails.iter().map(String::as_str));
            return format!("Even with every cause of error gone few pieces would be good: {fails} cannot be kept so.");
        }
        let causes = joined(self.causes.iter().map(String::as_str));
        let of_100 = self.without.of_100();
        let [without, alone] = match self.causes.len() {
            1 => ["it", ""],
            2 => ["both", "; to take one of them away is not enough"],
            _ => ["all of them", "; to take fewer away is not enough"],
        };
        format!("What stands in the way: {causes}. Without {without} {of_100} of 100 pieces would be good{alone}.")
    }
}

fn joined<'t>(what: impl Iterator<Item = &'t str>) -> String {
    let all: Vec<&str> = what.collect();
    match all.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => all.concat(),
    }
}
