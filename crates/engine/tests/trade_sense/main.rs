//! Trade sense.
#![allow(missing_docs)]

#[path = "../scenario/mod.rs"]
mod scenario;

#[test]
fn probe() {
    use std::collections::BTreeMap;
    let mut reasons: BTreeMap<String, u32> = BTreeMap::new();
    let (mut planned, mut slowest) = (0, vec![]);
    let n: u64 = std::env::var("N").ok().and_then(|n| n.parse().ok()).unwrap_or(200);
    let all = std::time::Instant::now();
    for seed in 0..n {
        let s = scenario::scenario(seed);
        let t = std::time::Instant::now();
        match engine::plan(&s.job, &s.shop) {
            Ok(plan) => match plan.outcome {
                engine::plan::Outcome::Planned => planned += 1,
                engine::plan::Outcome::Impossible(r) => {
                    let mut k: Vec<&str> = r.iter().map(|r| r.rule).collect();
                    k.sort(); k.dedup();
                    *reasons.entry(k.join(" ")).or_default() += 1;
                }
            },
            Err(p) => *reasons.entry(format!("{p:?}")).or_default() += 1,
        }
        slowest.push((t.elapsed().as_millis(), seed));
    }
    slowest.sort(); slowest.reverse();
    println!("{planned}/{n} in {:?} slowest {:?}", all.elapsed(), &slowest[..8]);
    for (k, v) in reasons { println!("{v:4} {k}"); }
}
