//! The steps of one set-up while they are put together.

use std::collections::BTreeSet;

use super::{Caution, MOST_CAUTIONS};
use crate::plan::Hand;

/// Reasons that this plan has told already.
pub(super) type Reasons = BTreeSet<&'static str>;

/// Steps in order, with the cautions that stand at them.
pub(super) struct Steps<'a> {
    reasons: &'a mut Reasons,
    hands: Vec<Hand>,
    cautions: Vec<String>,
}

impl<'a> Steps<'a> {
    /// No steps yet; `given`: cautions that the set-up carries already.
    pub fn new(reasons: &'a mut Reasons, given: &[String]) -> Self {
        let cautions = given.iter().take(MOST_CAUTIONS).cloned().collect();
        Steps { reasons, hands: Vec::new(), cautions }
    }

    /// A step that needs no reason.
    pub fn does(&mut self, does: impl Into<String>) {
        self.put(does.into(), None);
    }

    /// A step with its reason, told only the first time in a plan.
    pub fn because(&mut self, does: impl Into<String>, why: &'static str) {
        let why = self.reasons.insert(why).then(|| why.to_string());
        self.put(does.into(), why);
    }

    /// A step said in full with its reason the first time in a plan, and in few words after that.
    pub fn in_full_once(&mut self, full: impl Into<String>, why: &'static str, short: impl Into<String>) {
        let first = self.reasons.insert(why);
        self.put(if first { full.into() } else { short.into() }, first.then(|| why.to_string()));
    }

    /// Whether what bears this name is told for the first time in the plan.
    pub fn first_time(&mut self, name: &'static str) -> bool {
        self.reasons.insert(name)
    }

    /// A step with what must be known at this very place.
    pub fn noting(&mut self, does: impl Into<String>, note: String) {
        self.put(does.into(), Some(note));
    }

    /// The same, told only the first time in a plan under this name.
    pub fn noting_once(&mut self, does: impl Into<String>, name: &'static str, note: String) {
        let note = self.reasons.insert(name).then_some(note);
        self.put(does.into(), note);
    }

    /// A step with its caution, which is repeated at every set-up where it holds. A set-up that
    /// carries its full number already says the step alone.
    pub fn careful(&mut self, does: impl Into<String>, caution: Caution) {
        let text = caution.text();
        let stands = self.cautions.contains(&text);
        let room = self.cautions.len() < MOST_CAUTIONS;
        if room && !stands {
            self.cautions.push(text.clone());
        }
        self.put(does.into(), (room || stands).then_some(text));
    }

    /// The passes from one index up to, not including, another.
    pub fn passes(&mut self, from: usize, to: usize) {
        self.hands.push(Hand::Passes { from, to });
    }

    /// Stop and measure.
    pub fn stop(&mut self, measure: usize) {
        self.hands.push(Hand::Stop(measure));
    }

    /// The steps and the cautions.
    pub fn done(self) -> (Vec<Hand>, Vec<String>) {
        (self.hands, self.cautions)
    }

    fn put(&mut self, does: String, why: Option<String>) {
        self.hands.push(Hand::Do { does, why });
    }
}
