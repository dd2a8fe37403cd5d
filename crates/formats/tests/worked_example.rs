//! The hand calculation of `docs/worked-example.md` against the program.
//!
//! Job, shop and every hand value are read from the page itself, so that the page cannot drift from the
//! test. The hand values come from the formulas on the page, worked out apart from the program.
#![allow(missing_docs)]

use serde_json::Value;

const PAGE: &str = include_str!("../../../docs/worked-example.md");
const HEADING: &str = "| quantity | by hand | unit | program |";

/// One row of a marked table.
struct Row {
    quantity: String,
    by_hand: String,
    path: String,
}

/// The text between a fence that opens with this word and the end of the fence.
fn fenced(word: &str) -> &'static str {
    let open = format!("```toml {word}\n");
    let from = PAGE.find(&open).unwrap_or_else(|| panic!("the page has no block {word}")) + open.len();
    let length = PAGE[from..].find("\n```").expect("the block ends");
    &PAGE[from..from + length]
}

/// The set-up that cuts C, as the program plans it from the page's job and shop.
fn set_up() -> Value {
    set_up_with(fenced("shop"))
}

fn set_up_with(shop: &str) -> Value {
    let job = formats::job::read(fenced("job"), "page").expect("the page's job reads").job;
    let shop = formats::shop::read(shop, "page").expect("the page's shop reads").shop;
    let plan = engine::plan(&job, &shop).expect("the page's job fits its shop");
    let plan: Value = serde_json::from_str(&formats::plan::to_json(&plan, true)).expect("JSON");
    let set_ups = plan["set_ups"].as_array().expect("set-ups");
    let cuts_c = |set_up: &&Value| set_up["cuts_faces"] == serde_json::json!(["C"]);
    set_ups.iter().find(cuts_c).expect("a set-up that cuts C").clone()
}

fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    let mut inside = false;
    for line in PAGE.lines() {
        if line == HEADING {
            inside = true;
        } else if inside && !line.starts_with('|') {
            inside = false;
        } else if inside && !line.starts_with("|---") {
            let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
            assert_eq!(cells.len(), 4, "{line}");
            rows.push(Row {
                quantity: cells[0].to_string(),
                by_hand: cells[1].to_string(),
                path: cells[3].trim_matches('`').to_string(),
            });
        }
    }
    rows
}

/// The value at `passes[2].force_n.cutting`.
fn at<'a>(value: &'a Value, path: &str) -> Option<&'a Value> {
    let pointer = path.replace('[', "/").replace(']', "").replace('.', "/");
    value.pointer(&format!("/{pointer}"))
}

/// Half a unit of the last place written by hand, with room for the last bit of a sum.
fn half_a_unit(by_hand: &str) -> f64 {
    let places = by_hand.split_once('.').map_or(0, |(_, places)| places.len());
    0.5 * 10f64.powi(-(places as i32)) * (1.0 + 1e-9)
}

/// What is wrong with a row; nothing: it agrees.
fn disagreement(set_up: &Value, row: &Row) -> Option<String> {
    let Some(ours) = at(set_up, &row.path) else { return Some(format!("{}: nothing at {}", row.quantity, row.path)) };
    let agrees = match (ours, row.by_hand.parse::<f64>()) {
        (Value::Number(number), Ok(by_hand)) => {
            number.as_f64().is_some_and(|ours| (ours - by_hand).abs() <= half_a_unit(&row.by_hand))
        }
        (Value::String(text), _) => text.contains(&row.by_hand),
        _ => false,
    };
    (!agrees).then(|| format!("{}: by hand {}, program {ours} at {}", row.quantity, row.by_hand, row.path))
}

#[test]
fn every_hand_value_is_the_programs_within_its_last_place() {
    let (set_up, rows) = (set_up(), rows());
    assert!(rows.len() >= 120, "only {} rows were found on the page", rows.len());
    let wrong: Vec<String> = rows.iter().filter_map(|row| disagreement(&set_up, row)).collect();
    assert!(wrong.is_empty(), "{} of {} rows disagree:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}

#[test]
fn a_value_one_unit_off_in_the_last_place_is_caught() {
    let set_up = set_up();
    let numbers = rows().into_iter().filter(|row| row.by_hand.parse::<f64>().is_ok() && row.by_hand.contains('.'));
    let mut tried = 0;
    for row in numbers {
        let by_hand: f64 = row.by_hand.parse().expect("filtered");
        let places = row.by_hand.split_once('.').map_or(0, |(_, places)| places.len());
        let off = Row { by_hand: format!("{:.places$}", by_hand + 2.2 * half_a_unit(&row.by_hand)), ..row };
        assert!(disagreement(&set_up, &off).is_some(), "{} passes at {}", off.quantity, off.by_hand);
        tried += 1;
    }
    assert!(tried >= 50);
}

#[test]
fn the_mark_on_the_chuck_is_not_passed_even_by_the_two_percent_of_the_plate() {
    // The shop's own speed for interrupted cuts stands in place of half the mark.
    let marked = |rpm: &str| {
        let both = format!("marked_speed = \"{rpm}\"\ninterrupted_speed = \"{rpm}\"");
        let shop = fenced("shop").replace("marked_speed = \"1500 rpm\"", &both);
        set_up_with(&shop)["speed"]["set_rpm"].as_f64()
    };
    assert_eq!(marked("315 rpm"), Some(315.0));
    assert_eq!(marked("310 rpm"), Some(200.0));
}

#[test]
fn half_the_mark_bounds_an_interrupted_cut_in_independent_jaws_unless_the_shop_says_otherwise() {
    let speed =
        |lines: &str| set_up_with(&fenced("shop").replace("marked_speed = \"1500 rpm\"", lines))["speed"].clone();
    let set = |lines: &str| speed(lines)["set_rpm"].as_f64();
    // The plate has 200 and 315; half of 630 is 315.
    assert_eq!(set("marked_speed = \"630 rpm\""), Some(315.0));
    assert_eq!(set("marked_speed = \"628 rpm\""), Some(200.0));
    assert_eq!(set("marked_speed = \"628 rpm\"\ninterrupted_speed = \"600 rpm\""), Some(315.0));
    assert_eq!(set("marked_speed = \"1500 rpm\"\ninterrupted_speed = \"250 rpm\""), Some(200.0));
    let words = speed("marked_speed = \"628 rpm\"")["binding"].to_string();
    assert!(words.contains("50 % of the 628 rpm marked on the chuck"), "{words}");
}
