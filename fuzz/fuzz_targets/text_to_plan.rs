//! Any text as job and shop, planned where both can be read: no panic, and JSON without odd numbers.
//!
//! A line of dashes parts the job from the shop; without one the built-in shop serves.
#![no_main]

use formats::{builtin, job, plan, shop};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let (job_text, shop_text) = text.split_once("\n----\n").unwrap_or((text, builtin::shop_text()));
    let (Ok(job), Ok(shop)) = (job::read(job_text, "job"), shop::read(shop_text, "shop")) else { return };
    // More sides than ten are planned in the trade's order and take long under the fuzzer.
    if job.job.part.names.len() > 8 {
        return;
    }
    if let Ok(plan) = engine::plan(&job.job, &shop.shop) {
        let total = plan.minutes.total();
        assert!(total.is_finite() && total >= 0.0, "{total} minutes");
        assert!(!plan::to_json(&plan, true).is_empty());
    }
});
