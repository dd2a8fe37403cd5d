//! Hostile texts: both readers give a value or faults with places inside the file, and never panic.
#![allow(missing_docs)]

use formats::{Fault, builtin, job, shop};
use proptest::prelude::*;

fn well_placed(text: &str, faults: &[Fault]) {
    for fault in faults {
        if let Some(span) = &fault.span {
            assert!(span.start <= span.end && span.end <= text.len(), "{fault:?} in {} bytes", text.len());
            assert!(text.is_char_boundary(span.start) && text.is_char_boundary(span.end), "{fault:?}");
        }
        assert!(!fault.says.is_empty());
    }
}

fn both(text: &str) {
    match job::read(text, "job") {
        Ok(read) => assert!(!read.job.title.is_empty()),
        Err(faults) => {
            assert!(!faults.is_empty(), "refused without a word");
            well_placed(text, &faults);
        }
    }
    if let Err(faults) = shop::read(text, "shop") {
        assert!(!faults.is_empty(), "refused without a word");
        well_placed(text, &faults);
    }
}

/// A valid file in which a few pieces were cut out, doubled, or overwritten by hostile ones.
fn spoilt(base: &str, cuts: &[(usize, usize, usize)]) -> String {
    const HOSTILE: [&str; 20] = [
        "",
        "'",
        "\"",
        "\"\"\"",
        "[",
        "]]",
        "{",
        "}",
        "=",
        ",",
        "nan",
        "-inf",
        "1e999",
        "0x",
        "\u{0}",
        "µ½″",
        "true",
        "[[lathe]]\n",
        "1 3/0 in",
        "\n",
    ];
    let mut text = base.to_string();
    for &(at, length, with) in cuts {
        let start = text.floor_char_boundary(at % (text.len() + 1));
        let end = text.ceil_char_boundary((start + length).min(text.len()));
        text.replace_range(start..end, HOSTILE[with % HOSTILE.len()]);
    }
    text
}

fn cuts() -> impl Strategy<Value = Vec<(usize, usize, usize)>> {
    prop::collection::vec((0usize..20_000, 0usize..12, 0usize..20), 1..6)
}

/// A value of any kind where another is due.
fn odd_value() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("[]".to_string()),
        Just("{}".to_string()),
        Just("[[]]".to_string()),
        Just("[{}]".to_string()),
        Just("1979-05-27T07:32:00Z".to_string()),
        Just("true".to_string()),
        Just("''".to_string()),
        any::<i64>().prop_map(|n| n.to_string()),
        any::<f64>().prop_map(|x| format!("{x:?}").replace("NaN", "nan")),
        "'[0-9 /.,-]{0,8} ?[a-zA-Z/ µ]{0,6}'",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn random_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        both(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn random_letters_of_toml(text in "[a-z0-9_.=\\[\\]{}\"'#,\\n -]{0,200}") {
        both(&text);
    }

    #[test]
    fn a_job_spoilt(cuts in cuts()) {
        both(&spoilt(builtin::demo_job_text(), &cuts));
    }

    #[test]
    fn a_shop_spoilt(cuts in cuts()) {
        both(&spoilt(builtin::shop_text(), &cuts));
    }

    #[test]
    fn any_value_of_a_job_of_another_kind(line in 0usize..60, value in odd_value()) {
        both(&revalued(builtin::demo_job_text(), line, &value));
    }

    #[test]
    fn any_value_of_a_shop_of_another_kind(line in 0usize..300, value in odd_value()) {
        both(&revalued(builtin::shop_text(), line, &value));
    }
}

/// The nth `key = value` line gets another value.
fn revalued(base: &str, nth: usize, value: &str) -> String {
    let with_values = base.lines().filter(|line| line.contains(" = ")).count();
    let mut seen = 0;
    let mut text = String::new();
    for line in base.lines() {
        let mut line = line.to_string();
        if let Some((key, _)) = line.clone().split_once(" = ") {
            if seen == nth % with_values {
                line = format!("{key} = {value}");
            }
            seen += 1;
        }
        text.push_str(&line);
        text.push('\n');
    }
    text
}
