//! Other orders beside the plan, in the browser: there as served, told anew after a change, one taken with its button.

use fantoccini::Locator;

use crate::bench::Bench;

const TAKEN: &str = "return [...document.querySelectorAll('#weighed tbody tr')] \
    .find((row) => row.textContent.includes('this plan')).querySelector('th').textContent";

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_order_beside_the_plan_is_taken_with_its_button() {
    let bench = Bench::at_width(1440).await;
    let rows = "return document.querySelectorAll('#weighed tbody tr').length";
    assert!(bench.script(rows).await.as_u64().unwrap() >= 1);
    // Asked for the fewest minutes, an order of more good pieces stands beside it.
    let job = concat!(include_str!("../../../../examples/sundial-foot.toml"), "\n[order]\nseek = \"quickest\"\n");
    bench.paste("job-text", job).await;
    assert!(bench.script(rows).await.as_u64().unwrap() >= 2);
    assert!(bench.text(TAKEN).await.contains("fewest minutes"));
    let button = bench.client.find(Locator::Css("#weighed button.take")).await.unwrap();
    let seek = button.attr("data-seek").await.unwrap().unwrap();
    button.click().await.unwrap();
    bench.until(&format!("document.getElementById('field-order-seek').value === '{seek}'")).await;
    bench.until(&format!("document.getElementById('job-text').value.includes('seek = \"{seek}\"')")).await;
    bench.rests().await;
    let words = if seek == "truest" { "most good pieces" } else { "fewest minutes for a good piece" };
    let taken = bench.text(TAKEN).await;
    assert!(taken.contains(words), "{taken}");
    assert_eq!(bench.script("return document.querySelectorAll('.waits').length").await, 0);
    bench.close().await;
}
