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
    bench.paste("job-text", include_str!("../../../../examples/sundial-foot.toml")).await;
    assert!(bench.script(rows).await.as_u64().unwrap() >= 2);
    assert!(bench.text(TAKEN).await.contains("fewest minutes for a good piece"));
    bench.client.find(Locator::Css("#weighed button[data-seek=quickest]")).await.unwrap().click().await.unwrap();
    bench.until("document.getElementById('field-order-seek').value === 'quickest'").await;
    bench.until("document.getElementById('job-text').value.includes('seek = \"quickest\"')").await;
    bench.rests().await;
    let taken = bench.text(TAKEN).await;
    assert!(taken.contains("fewest minutes") && !taken.contains("good piece"), "{taken}");
    assert_eq!(bench.script("return document.querySelectorAll('.waits').length").await, 0);
    bench.close().await;
}
