//! Measure, then decide, beside two rules of thumb: the same random pieces in thirty invented shops.
//!
//! `TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test rules_of_thumb` writes `docs/measure-then-decide.md`; without it
//! the test compares.
#![allow(missing_docs)]

#[path = "../scenario/dice.rs"]
#[allow(dead_code)]
mod dice;
mod page;
mod piece;
mod shops;

use dice::Dice;
use engine::measure::{Rule, numbers, table};
use piece::{ALL, Fate, Luck, make};
use shops::{SEED, SHOPS, Shop, shops};

/// Pieces in every shop.
pub const PIECES: u32 = 8000;
/// Standard errors within which a difference counts as none.
pub const ERRORS: f64 = 3.0;

/// Means over the pieces of a shop, by rule, and what the program's rule saves against each, with its standard error.
#[derive(Debug, Clone)]
pub struct Compared {
    pub shop: Shop,
    pub means: Vec<Fate>,
    pub minutes: Vec<f64>,
    pub cost: Vec<f64>,
    /// Cost of each rule less that of ours, per piece and in passes, and the standard error of that.
    pub saves: Vec<(f64, f64)>,
}

/// What a piece cost, in passes: a bad one passed as good costs twice what a thrown away one does.
fn cost(shop: &Shop, fate: &Fate) -> f64 {
    let believes = &shop.believes;
    let work = fate.measures * shop.measure_share + fate.passes * (1.0 - shop.measure_share);
    work + believes.scrap_passes * (fate.scrap + numbers().escape_over_scrap.value * fate.escapes)
}

fn compare(shop: &Shop, number: u32) -> Compared {
    let rule = Rule::new(shop.believes).expect("a sound stop");
    let printed = table(&rule, shop.graduation_mm);
    let worth = rule.measuring_saves() > shop.measure_share;
    let mut dice = Dice::new(SEED * 1000 + u64::from(number));
    let fates: Vec<[Fate; 4]> = (0..PIECES)
        .map(|_| {
            let luck = Luck::new(&mut dice);
            ALL.map(|by| make(shop, (&rule, &printed, worth), by, &luck))
        })
        .collect();
    let n = f64::from(PIECES);
    let mean = |of: &dyn Fn(&[Fate; 4]) -> f64| fates.iter().map(of).sum::<f64>() / n;
    let each = |at: usize| Fate {
        passes: mean(&|all| all[at].passes),
        measures: mean(&|all| all[at].measures),
        scrap: mean(&|all| all[at].scrap),
        escapes: mean(&|all| all[at].escapes),
        first_time: mean(&|all| all[at].first_time),
    };
    let saves = |at: usize| {
        let saved = |all: &[Fate; 4]| cost(shop, &all[at]) - cost(shop, &all[2]);
        let by = mean(&saved);
        let variance = mean(&|all| (saved(all) - by).powi(2));
        (by, (variance / n).sqrt())
    };
    let costs: Vec<f64> = (0..4).map(|at| mean(&|all| cost(shop, &all[at]))).collect();
    Compared {
        shop: *shop,
        means: (0..4).map(each).collect(),
        minutes: costs.iter().map(|passes| passes * shop.pass_minutes).collect(),
        cost: costs,
        saves: (0..4).map(saves).collect(),
    }
}

fn all() -> Vec<Compared> {
    shops().iter().zip(0..).map(|(shop, number)| compare(shop, number)).collect()
}

/// The shops in which a rule of thumb is clearly cheaper than ours.
fn dearer(compared: &[Compared]) -> Vec<(usize, usize)> {
    let clearly = |one: &Compared, at: usize| one.saves[at].0 < -ERRORS * one.saves[at].1;
    (0..compared.len())
        .flat_map(|shop| (0..2).map(move |at| (shop, at)))
        .filter(|&(shop, at)| clearly(&compared[shop], at))
        .collect()
}

#[test]
fn ours_costs_no_more_than_either_rule_of_thumb_and_the_page_says_so() {
    let compared = all();
    for (shop, at) in dearer(&compared) {
        let one = &compared[shop];
        let says = format!("shop {}: {:?} saves {:?} {:?}", shop + 1, ALL[at], one.saves[at], one.shop);
        // Who knows his own scatter never does better by thumb.
        assert!(shop >= SHOPS.0 as usize, "{says}");
        // Who does not loses a measurement that he need not have made, and a hundredth, at most.
        assert!(-one.saves[at].0 < one.shop.measure_share + 0.01 * one.cost[2], "{says}");
    }
    page::compare_or_write("../../docs/measure-then-decide.md", &page::page(&compared));
}
