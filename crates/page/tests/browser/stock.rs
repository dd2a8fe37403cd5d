//! The bars that the shop lists, in the browser: compared where it is asked for, taken into the job.

use crate::bench::Bench;
use crate::looks::{no_sideways, shoot};

const HERE: &str = "return document.getElementById('bars').textContent";

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn bars_are_compared_and_one_is_taken_into_the_job() {
    let bench = Bench::at_width(1440).await;
    bench.script("document.getElementById('compare').click()").await;
    bench.until("document.querySelector('#bars .bars') !== null").await;
    let first = bench.text("return document.querySelector('#bars [data-take]').getAttribute('aria-label')").await;
    let before = bench.answer().await;
    bench.script("document.querySelector('#bars [data-take]').click()").await;
    bench.until("document.getElementById('bars').classList.contains('of-before')").await;
    bench.until(&format!("document.getElementById('answer').textContent !== {before:?}")).await;
    let now = bench.answer().await;
    assert!(now.starts_with("Possible"), "{before} then {now}");
    let bar = "const of = (key) => document.getElementById('field-stock-' + key)?.value; \
        return of('form') + ' ' + (of('diameter') || of('across') || of('width') + ' x ' + of('thickness'))";
    assert_eq!(first, format!("Take it: {} mm", bench.text(bar).await));
    assert!(bench.text(HERE).await.contains("as it was before"));
    assert_eq!(bench.text("return document.activeElement.id").await, "field-stock-form");
    // Undone, and compared anew.
    bench.script("document.getElementById('undo').click()").await;
    let outcome = before.trim_end_matches('.');
    bench.until(&format!("document.getElementById('answer').textContent.startsWith({outcome:?})")).await;
    bench.rests().await;
    bench.script("document.getElementById('compare').click()").await;
    bench.until("!document.getElementById('bars').classList.contains('of-before')").await;
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn views_of_the_bars_fit_every_width_light_and_dark() {
    let bench = Bench::at_width(1440).await;
    bench.script("document.getElementById('compare').click()").await;
    bench.until("document.querySelector('#bars .bars') !== null").await;
    for scheme in ["light", "dark"] {
        bench.scheme(scheme).await;
        for width in [320, 360, 820, 1440] {
            bench.width(width).await;
            bench.script("document.getElementById('compare').scrollIntoView()").await;
            tokio::time::sleep(std::time::Duration::from_millis(60)).await;
            no_sideways(&bench, &format!("bars-{width}-{scheme}")).await;
            shoot(&bench, &format!("bars-{width}-{scheme}")).await;
        }
    }
    // The bar left open: chosen, with the table in the plan.
    bench.width(1440).await;
    bench.scheme("light").await;
    let open = "const text = document.getElementById('job-text'); \
        text.value = text.value.replace(/form +=.*/, 'form = \"any\"').replace(/diameter +=.*/, '').replace(/length +=.*as sawn/, ''); \
        text.dispatchEvent(new Event('input', { bubbles: true }))";
    bench.script(open).await;
    bench.until("document.getElementById('why-bar') !== null").await;
    for scheme in ["light", "dark"] {
        bench.scheme(scheme).await;
        for width in [320, 360, 820, 1440] {
            bench.width(width).await;
            bench.script("document.getElementById('why-bar').scrollIntoView()").await;
            tokio::time::sleep(std::time::Duration::from_millis(60)).await;
            no_sideways(&bench, &format!("why-bar-{width}-{scheme}")).await;
            shoot(&bench, &format!("why-bar-{width}-{scheme}")).await;
        }
    }
    bench.close().await;
}
