//! The page that the comparison writes.

use crate::piece::ALL;
use crate::shops::{SEED, SHOPS};
use crate::{Compared, ERRORS, PIECES, dearer};

/// The whole page.
pub fn page(compared: &[Compared]) -> String {
    let mut text = head();
    for (one, number) in compared.iter().zip(1..) {
        text.push_str(&row(number, one));
    }
    text.push_str(&foot(compared));
    text
}

fn head() -> String {
    format!(
        "# Measure, then decide: three rules on the same pieces\n\n\
         Written by the tests (`TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test rules_of_thumb`), not by hand. {} invented\n\
         shops, {PIECES} pieces in each, seed {SEED}; every rule meets the same pieces with the same luck. In shops {} to {} what\n\
         scatters does so by half to twice what the shop believes of itself.\n\n\
         - *dial*: the last cut by the dial, as planned; then measured, and what reads over is cut off.\n\
         - *rest*: measured once before the last cut, and what reads over the middle of the limits is cut off.\n\
         - *ours*: measured, then decided (`measure::Rule::decide`), after a spring pass by the mean of the readings; by the dial\n  \
           where measuring costs more than it saves. *table*: the same, the first cut by the printed table.\n\n\
         A piece is passed when it reads within its limits and thrown away when it reads under them twice. Cost in passes\n\
         (a cut and a measurement), measurements and cuts counted apart; scrap at K passes, a bad piece passed as good at\n\
         twice that. *saves* is what ours saves a piece against the other, in passes, ± {ERRORS} standard errors.\n\n\
         | shop | limits ± mm | dial mm | gauge mm | before mm | K | scrap and bad pieces passed %: dial, rest, ours, table | cuts: dial, rest, ours, table | minutes a piece: dial, rest, ours, table | saves against dial | saves against rest |\n\
         |---|---|---|---|---|---|---|---|---|---|---|\n",
        SHOPS.0 + SHOPS.1,
        SHOPS.0 + 1,
        SHOPS.0 + SHOPS.1,
    )
}

fn row(number: u32, one: &Compared) -> String {
    let stop = &one.shop.believes;
    let four = |of: &dyn Fn(usize) -> String| (0..4).map(of).collect::<Vec<_>>().join(", ");
    let saves = |at: usize| format!("{:+.2} ± {:.2}", one.saves[at].0, ERRORS * one.saves[at].1);
    format!(
        "| {number} | {} | {} | {} | {:.3} | {:.0} | {} | {} | {} | {} | {} |\n",
        short(stop.band.width_mm() / 2.0),
        stop.cut.mark_mm,
        stop.gauge_mm,
        stop.expected.spread_mm,
        stop.scrap_passes,
        four(&|at| format!("{:.1}", 100.0 * (one.means[at].scrap + one.means[at].escapes))),
        four(&|at| format!("{:.2}", one.means[at].passes)),
        four(&|at| format!("{:.1}", one.minutes[at])),
        saves(0),
        saves(1),
    )
}

fn foot(compared: &[Compared]) -> String {
    let n = compared.len() as f64;
    let mean = |of: &dyn Fn(&Compared) -> f64| compared.iter().map(of).sum::<f64>() / n;
    let lost = |at: usize| 100.0 * mean(&|one| one.means[at].scrap + one.means[at].escapes);
    let passes = |at: usize| mean(&|one| one.means[at].passes);
    let minutes = |at: usize| mean(&|one| one.minutes[at]);
    let clear = |at: usize| compared.iter().filter(|one| one.saves[at].0 > ERRORS * one.saves[at].1).count();
    let named = |(shop, at): &(usize, usize)| {
        let one = &compared[*shop];
        format!("shop {} against {:?} ({:+.3} of {:.2} passes)", shop + 1, ALL[*at], one.saves[*at].0, one.cost[2])
    };
    let worse: Vec<String> = dearer(compared).iter().map(named).collect();
    let four = |of: &dyn Fn(usize) -> String| (0..4).map(of).collect::<Vec<_>>().join(", ");
    format!(
        "\nOver all shops (dial, rest, ours, table): lost {} %; cuts {}; minutes a piece {}. Ours is clearly cheaper than\n\
         the dial in {} shops and than the rest in {}. Clearly dearer: {}. These\n\
         shops scatter less than they believe: they measure where the dial alone would have done, and aim farther from scrap\n\
         than they need. A shop that gives its own numbers loses neither.\n",
        four(&|at| format!("{:.2}", lost(at))),
        four(&|at| format!("{:.2}", passes(at))),
        four(&|at| format!("{:.1}", minutes(at))),
        clear(0),
        clear(1),
        if worse.is_empty() { "none".to_string() } else { worse.join("; ") },
    )
}

/// Compares the page with the one in the repository, or writes it when `TURNWRIGHT_WRITE_DOCS` is set.
pub fn compare_or_write(path: &str, text: &str) {
    if std::env::var_os("TURNWRIGHT_WRITE_DOCS").is_some() {
        std::fs::write(path, text).expect("the docs folder can be written");
        return;
    }
    let there = std::fs::read_to_string(path).unwrap_or_default();
    assert!(there == text, "{path} is stale: run TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test rules_of_thumb");
}

/// Four places, no idle zeros.
fn short(value: f64) -> String {
    format!("{value:.4}").trim_end_matches('0').to_string()
}
