//! Checks of the engine against things outside the project: published tables, worked examples,
//! standards, closed forms. Each names its source; the table `docs/checks.md` is written from here.
//!
//! `TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test outside` writes the table anew; without it
//! the test compares, so that the table cannot go stale.
#![allow(missing_docs)]

mod aim;
mod bending;
mod bored;
mod centre;
mod chain;
mod check;
mod clamping;
mod conform;
mod cutting;
mod dials;
mod fits;
mod geometry;
mod holding;
mod last_hold;
#[path = "../plain/mod.rs"]
mod plain;
mod stock;
mod vee;
mod zones;

use check::Check;

fn all() -> Vec<Check> {
    [
        geometry::checks(),
        stock::checks(),
        cutting::checks(),
        holding::checks(),
        bending::checks(),
        centre::checks(),
        bored::checks(),
        last_hold::checks(),
        clamping::checks(),
        dials::checks(),
        fits::checks(),
        zones::checks(),
        chain::checks(),
        conform::checks(),
        aim::checks(),
        vee::checks(),
    ]
    .concat()
}

#[test]
fn every_check_agrees_with_its_source() {
    let wrong: Vec<String> = all().iter().filter(|check| !check.agrees()).map(Check::row).collect();
    assert!(wrong.is_empty(), "{} checks disagree:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_check_has_an_id_of_its_own_and_a_source() {
    let checks = all();
    let mut ids: Vec<&str> = checks.iter().map(|check| check.id).collect();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), checks.len(), "two checks share an id");
    assert!(checks.iter().all(|check| check.source.len() > 8), "a check without a source");
}

#[test]
fn the_table_in_docs_is_the_one_that_the_checks_make() {
    check::compare_or_write("../../docs/checks.md", &check::table(&all()));
}
