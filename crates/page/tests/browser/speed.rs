//! From the question to the painted answer: each change gets its own, and how long it took is told.

use crate::bench::Bench;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn each_change_paints_its_own_plan() {
    let bench = Bench::at_width(1440).await;
    for (place, look) in [
        ("the head of the plan", "scrollTo(0, 0)"),
        ("set-up 3", "document.getElementById('set-up-3').scrollIntoView()"),
    ] {
        let [mut took, mut answered, mut whole] = [const { Vec::new() }; 3];
        for round in 0..40 {
            bench.script(look).await;
            bench.script("performance.clearMarks()").await;
            let diameter = 58.1 + f64::from(round % 9) / 10.0;
            bench.fill("field-stock-diameter", &format!("{diameter:.1}")).await;
            let took_ms = "const since = (name) => performance.getEntriesByName(name).pop().startTime - performance.getEntriesByName('asked').pop().startTime; \
                return ['painted', 'answered', 'whole'].map(since)";
            let all = bench.script(took_ms).await;
            let shown = format!(
                "return document.body.innerText.replaceAll('\u{a0}', ' ').includes('round bar {diameter:.1} mm')"
            );
            assert_eq!(bench.script(&shown).await, true, "round {round}: {diameter:.1}");
            took.push(all[0].as_f64().unwrap());
            answered.push(all[1].as_f64().unwrap());
            whole.push(all[2].as_f64().unwrap());
        }
        for (what, times) in
            [("painted", &mut took), ("answered", &mut answered), ("the last set-up out of sight", &mut whole)]
        {
            times.sort_by(f64::total_cmp);
            let at = |share: usize| times[times.len() * share / 100];
            println!(
                "{place} in sight, replan to {what}: median {:.0} ms, p95 {:.0} ms of {}",
                at(50),
                at(95),
                times.len()
            );
        }
    }
    bench.close().await;
}
