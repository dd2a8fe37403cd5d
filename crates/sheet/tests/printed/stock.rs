//! A plan whose bar was chosen: why, on the overview, and the bars side by side with the working.

use std::fs;

use engine::plan::{Outcome, Plan};
use sheet::Paper;

use crate::bench::{copy, flat, folder};
use crate::everything_is_kept;

/// The plan of the guide block with its bar left open, and something more of its text changed.
fn open(from: &str, to: &str) -> Plan {
    let text = fs::read_to_string(folder().join("guide-block.toml")).unwrap();
    let kept = |line: &&str| !line.starts_with("diameter") && !line.starts_with("length   =");
    let text: String = text.lines().filter(kept).map(|line| format!("{line}\n")).collect();
    let text = text.replacen("form     = \"round\"", "form = \"any\"", 1).replacen(from, to, 1);
    let job = formats::job::read_any(&text, "job").unwrap_or_else(|faults| panic!("{faults:?}"));
    let shop = formats::shop::read(formats::builtin::shop_text(), "shop").unwrap();
    engine::planning::plan_any(&job.job, &shop.shop).unwrap_or_else(|problems| panic!("{problems:?}"))
}

#[test]
fn the_bars_that_one_was_chosen_from_stand_with_the_working() {
    for paper in [Paper::A4, Paper::Letter] {
        let copy = copy("guide-block, any bar", open("", ""), paper);
        everything_is_kept(&copy);
        let choice = copy.plan.stock_choice.as_ref().unwrap();
        let working = flat(&copy.words_of(&copy.pages_of("Working")));
        let overview = flat(&copy.words_of(&copy.pages_of("Overview")));
        assert!(overview.contains(&format!("chosen: {}", choice.says)), "{overview}");
        assert!(working.contains("Why this bar") && working.contains(&choice.sentence()), "{working}");
        for row in choice.open() {
            let cells = choice.cells(row, copy.plan.units);
            let says: Vec<&str> = cells.iter().map(String::as_str).filter(|cell| !cell.is_empty()).collect();
            assert!(working.contains(&says.join(" ")), "{says:?} in {working}");
        }
    }
}

#[test]
fn where_no_bar_will_do_the_sheet_says_so_on_its_page() {
    let plan = open("width  = { size = 36", "width  = { size = 90");
    assert!(matches!(plan.outcome, Outcome::Impossible(_)));
    everything_is_kept(&copy("guide-block, too wide for any bar", plan, Paper::A4));
}
