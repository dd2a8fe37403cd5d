//! A job and a shop that read well, their numbers changed: the planner answers, and its answer keeps what
//! every plan keeps.
//!
//! Four bytes change one number: which, and by what. Most changes are shares near one, so that jobs stay
//! such as could be; some are the ends of the range.
#![no_main]

use engine::plan::{Outcome, Plan};
use formats::{builtin, job, plan, shop};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let (mut job_text, mut shop_text) = (builtin::demo_job_text().to_string(), builtin::shop_text().to_string());
    for change in bytes.chunks_exact(4).take(12) {
        let text = if change[0] & 1 == 0 { &mut job_text } else { &mut shop_text };
        *text = changed(text, usize::from(change[0] >> 1) + 128 * usize::from(change[1] & 1), change[2], change[3]);
    }
    let (Ok(job), Ok(shop)) = (job::read(&job_text, "job"), shop::read(&shop_text, "shop")) else { return };
    if let Ok(plan) = engine::plan(&job.job, &shop.shop) {
        keeps(&plan);
        assert!(!plan::to_json(&plan, true).is_empty());
    }
});

/// The text with its nth number outside comments changed.
fn changed(text: &str, nth: usize, how: u8, how_much: u8) -> String {
    let places = numbers(text);
    if places.is_empty() {
        return text.to_string();
    }
    let (from, to) = places[nth % places.len()];
    let value: f64 = text[from..to].parse().unwrap_or(1.0);
    let share = f64::from(how_much) / 128.0;
    let value = match how % 8 {
        0..=3 => value * (0.5 + share / 2.0),
        4 => value * share * 4.0,
        5 => share,
        6 => value + share - 1.0,
        _ => [0.0, 1e-9, 1e-3, 1.0, 1e3, 1e6, 1e12, -1.0][usize::from(how_much % 8)],
    };
    format!("{}{value:?}{}", &text[..from], &text[to..])
}

/// Where plain decimal numbers stand as values.
fn numbers(text: &str) -> Vec<(usize, usize)> {
    let mut places = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let code = line.split('#').next().unwrap_or("");
        if let Some(equals) = code.find('=') {
            let bytes = code.as_bytes();
            let mut at = equals + 1;
            while at < bytes.len() {
                let digit = bytes[at].is_ascii_digit();
                let begins = digit && !bytes[at - 1].is_ascii_alphanumeric() && bytes[at - 1] != b'-';
                let end = at + bytes[at..].iter().take_while(|b| b.is_ascii_digit() || **b == b'.').count();
                if begins {
                    places.push((start + at, start + end));
                }
                at = if digit { end } else { at + 1 };
            }
        }
        start += line.len();
    }
    places
}

/// What every plan keeps, whatever the numbers.
fn keeps(plan: &Plan) {
    let reasons = match &plan.outcome {
        Outcome::Planned => 0,
        Outcome::Impossible(reasons) => reasons.len(),
    };
    assert_eq!(plan.set_ups.is_empty(), reasons > 0, "{:?}", plan.outcome);
    for set_up in &plan.set_ups {
        assert!(!set_up.passes.is_empty());
        assert!(set_up.minutes.total().is_finite() && set_up.minutes.total() >= 0.0, "{:?}", set_up.minutes);
        assert!(set_up.bite_mm > 0.0 && set_up.stick_out.set_mm >= set_up.stick_out.least_mm - 1e-6);
        assert!(set_up.hold.slip_factor.is_none_or(|factor| factor >= set_up.hold.required), "{:?}", set_up.hold);
        assert!(set_up.speed.set_rpm <= set_up.speed.most_rpm * 1.02 + 1e-6, "{:?}", set_up.speed);
        for pass in &set_up.passes {
            assert!(pass.depth_mm > 0.0 && pass.minutes.is_finite() && pass.removed_mm3 > 0.0, "{pass:?}");
        }
    }
}
