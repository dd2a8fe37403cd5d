//! The table of rules in the documentation.

use crate::ordinary;
use crate::rules;

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/trade-sense.md");

const HEAD: &str = "# Trade sense: what any plan must keep

Written by the tests (`TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test trade_sense`), not by hand.

Rules that a machinist takes for granted. A plan that breaks one is wrong however good its numbers look. All of them are
judged on one set of 2,000 random plans (seeds 0 to 1999 of `crates/engine/tests/scenario`), of which at least 60 % must
come out planned. Each is judged from the plan's own values, named here as in the plan's JSON, from job and shop, and from
a plain geometry of the test's own, never by the planner's function for the same thing. Each rule must also complain of a
plan that was spoilt for it. Limits marked *shop* or *data* are rows with a source.

\"Common practice, no source\" is said where no page was found that could be cited; \"geometry\" and \"statics\" follow by
themselves.

| no. | a plan keeps | how a test judges it | source | test |
|---|---|---|---|---|
";

const ORDINARY: &str = "
Ordinary cases must come out ordinary; these are fixed scenarios with invented sizes.

| no. | case | what must come out | source | test |
|---|---|---|---|---|
";

#[test]
fn the_table_in_docs_lists_the_rules_that_are_judged() {
    let text = text();
    if std::env::var_os("TURNWRIGHT_WRITE_DOCS").is_some() {
        std::fs::write(FILE, &text).expect("the docs folder can be written");
        return;
    }
    let there = std::fs::read_to_string(FILE).unwrap_or_default();
    assert!(
        there == text,
        "docs/trade-sense.md is stale: TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test trade_sense"
    );
}

#[test]
fn every_rule_has_a_number_and_a_function_of_its_own_and_a_source() {
    let mut seen: Vec<(&str, &str)> = rules().iter().map(|rule| (rule.number, rule.test)).collect();
    seen.extend(ordinary::CASES.iter().map(|case| (case.number, case.test)));
    let count = seen.len();
    assert!(count >= 25 && rules().iter().all(|rule| rule.source.len() >= "geometry".len()));
    for part in [|pair: &(&'static str, &'static str)| pair.0, |pair: &(&'static str, &'static str)| pair.1] {
        let mut names: Vec<&str> = seen.iter().map(part).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count, "two rules share a number or a function");
    }
}

fn text() -> String {
    let mut text = HEAD.to_string();
    for rule in rules() {
        text.push_str(&format!(
            "| {} | {} | {} | {} | `{}` |\n",
            rule.number, rule.keeps, rule.how, rule.source, rule.test
        ));
    }
    text.push_str(ORDINARY);
    for case in ordinary::CASES {
        text.push_str(&format!(
            "| {} | {} | {} | {} | `{}` |\n",
            case.number, case.what, case.comes, case.source, case.test
        ));
    }
    text.push_str(&format!("\n{} rules on random plans, {} fixed cases.\n", rules().len(), ordinary::CASES.len()));
    text
}
