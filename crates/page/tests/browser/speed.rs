//! From the question to the painted answer: each change gets its own, and how long it took is told.

use crate::bench::Bench;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn each_change_paints_its_own_plan() {
    let bench = Bench::at_width(1440).await;
    let [mut took, mut answered, mut whole] = [const { Vec::new() }; 3];
    for round in 0..40 {
        bench.script("performance.clearMarks()").await;
        let diameter = 58.1 + f64::from(round % 9) / 10.0;
        bench.fill("field-stock-diameter", &format!("{diameter:.1}")).await;
        let took_ms = "const since = (name) => performance.getEntriesByName(name).pop().startTime - performance.getEntriesByName('asked').pop().startTime; \
            return ['painted', 'answered', 'whole'].map(since)";
        let all = bench.script(took_ms).await;
        let shown = format!("return document.body.innerText.includes('round bar {diameter:.1} mm')");
        assert_eq!(bench.script(&shown).await, true, "round {round}: {diameter:.1}");
        took.push(all[0].as_f64().unwrap());
        answered.push(all[1].as_f64().unwrap());
        whole.push(all[2].as_f64().unwrap());
    }
    for times in [&mut took, &mut answered, &mut whole] {
        times.sort_by(f64::total_cmp);
    }
    let at = |times: &[f64], share: usize| times[times.len() * share / 100];
    let p95 = at(&took, 95);
    println!("replan to painted: median {:.0} ms, p95 {p95:.0} ms of {}", at(&took, 50), took.len());
    println!("replan to answered: median {:.0} ms, p95 {:.0} ms", at(&answered, 50), at(&answered, 95));
    println!("replan to the last set-up out of sight: median {:.0} ms, p95 {:.0} ms", at(&whole, 50), at(&whole, 95));
    bench.close().await;
}
