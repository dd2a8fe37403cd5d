//! One set of random plans, and all rules on each of them.

use crate::case::Case;
use crate::rule::{Findings, Rule};
use crate::rules;

/// How many plans are judged.
const PLANS: u64 = 2_000;
/// At least this share of them must come out planned: rules judged on nothing say nothing.
const PLANNED_SHARE: f64 = 0.6;
/// Each rule must have been judged at least so often on the whole set.
const LEAST_JUDGED: u64 = 100;
/// Faults shown of each rule.
const SHOWN: usize = 12;

/// What the rules found on a stretch of seeds.
#[derive(Default)]
struct Tally {
    planned: u64,
    /// Seeds with a fault, and the first few faults, by rule.
    faults: Vec<(u64, Vec<String>)>,
    judged: Vec<u64>,
}

#[test]
fn all_rules_hold_on_every_random_plan() {
    let rules = rules();
    let only: Option<u64> = std::env::var("TRADE_SENSE_SEED").ok().and_then(|seed| seed.parse().ok());
    if let Some(seed) = only {
        println!("{:#?}\n{:#?}", crate::scenario::scenario(seed), without_audit(Case::of(seed)).plan);
    }
    let plans = std::env::var("TRADE_SENSE_PLANS").ok().and_then(|plans| plans.parse().ok()).unwrap_or(PLANS);
    let tally = match only {
        Some(seed) => judge(&rules, [seed].into_iter()),
        None => both_halves(&rules, plans),
    };
    let mut wrong = Vec::new();
    for (at, rule) in rules.iter().enumerate() {
        let (seeds, shown) = &tally.faults[at];
        println!("{} {}: judged {} times, {seeds} seeds at fault", rule.number, rule.test, tally.judged[at]);
        if *seeds > 0 {
            wrong.push(format!("{} {} ({seeds} seeds):\n    {}", rule.number, rule.keeps, shown.join("\n    ")));
        }
        if only.is_none() && plans == PLANS && tally.judged[at] < LEAST_JUDGED {
            wrong.push(format!("{} was judged only {} times", rule.number, tally.judged[at]));
        }
    }
    println!("{} of {plans} planned", tally.planned);
    assert!(wrong.is_empty(), "{} rules are broken:\n{}", wrong.len(), wrong.join("\n"));
    assert!(only.is_some() || tally.planned as f64 >= PLANNED_SHARE * plans as f64, "only {} planned", tally.planned);
}

/// A rule that cannot complain is none: each must complain of a plan that was spoilt for it.
#[test]
fn every_rule_complains_of_a_spoilt_plan() {
    let cases: Vec<Case> = (0..120).map(Case::of).collect();
    for rule in rules() {
        let complains = cases.iter().any(|case| {
            let mut spoilt = case.clone();
            (rule.spoil)(&mut spoilt);
            faults(&rule, case).faults.is_empty() && !faults(&rule, &spoilt).faults.is_empty()
        });
        assert!(complains, "{} does not complain of a plan spoilt for it", rule.number);
    }
}

fn without_audit(mut case: Case) -> Case {
    case.plan.set_ups.iter_mut().for_each(|set_up| set_up.audit = engine::plan::Audit::default());
    case
}

/// Even seeds on one thread, odd ones on another.
fn both_halves(rules: &[Rule], plans: u64) -> Tally {
    std::thread::scope(|scope| {
        let odd = scope.spawn(|| judge(rules, (1..plans).step_by(2)));
        let even = judge(rules, (0..plans).step_by(2));
        even.and(odd.join().expect("the other half panicked: its message stands above"))
    })
}

fn judge(rules: &[Rule], seeds: impl Iterator<Item = u64>) -> Tally {
    let mut tally = Tally { faults: vec![(0, Vec::new()); rules.len()], judged: vec![0; rules.len()], planned: 0 };
    for seed in seeds {
        let case = Case::of(seed);
        tally.planned += u64::from(case.planned());
        for (at, rule) in rules.iter().enumerate() {
            let found = faults(rule, &case);
            tally.judged[at] += found.judged;
            if let Some(first) = found.faults.first() {
                tally.faults[at].0 += 1;
                tally.faults[at].1.push(format!("seed {seed}: {first}"));
            }
        }
    }
    tally
}

fn faults(rule: &Rule, case: &Case) -> Findings {
    let mut found = Findings::default();
    (rule.judge)(case, &mut found);
    found
}

impl Tally {
    fn and(mut self, other: Tally) -> Tally {
        self.planned += other.planned;
        for (at, (seeds, shown)) in other.faults.into_iter().enumerate() {
            self.faults[at].0 += seeds;
            self.faults[at].1.extend(shown);
            self.faults[at].1.truncate(SHOWN);
            self.judged[at] += other.judged[at];
        }
        self
    }
}
