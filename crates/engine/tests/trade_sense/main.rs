//! Trade sense: rules that any plan must keep, judged together on one set of random plans.
//!
//! `TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test trade_sense` writes the table
//! `docs/trade-sense.md` anew; without it a test compares, so that table and rules cannot part.
//! `TRADE_SENSE_SEED=17` judges that one seed alone and shows its plan;
//! `TRADE_SENSE_PLANS=100` judges fewer, while a rule is being written.
#![allow(missing_docs)]

mod case;
mod cuts;
mod data;
mod depths;
mod hands;
mod holding;
mod jaws;
mod measuring;
mod order;
mod ordinary;
mod rule;
mod set;
mod solid;
mod speeds;
mod table;
mod vees;
mod words;

#[path = "../plain/mod.rs"]
mod plain;
#[path = "../scenario/mod.rs"]
mod scenario;

use rule::Rule;

/// Every rule that is judged on random plans, in the order of their numbers.
fn rules() -> Vec<Rule> {
    let mut all = [
        jaws::rules(),
        depths::rules(),
        order::rules(),
        speeds::rules(),
        cuts::rules(),
        holding::rules(),
        measuring::rules(),
        hands::rules(),
        words::rules(),
        vees::rules(),
    ]
    .concat();
    all.sort_by_key(|rule| rule.number);
    all
}
