//! An answer comes in parts, what is in sight first: in the end the page is the one that is served for the same text,
//! and what did not come is told.

use crate::bench::Bench;

/// What differs between the plan in sight and the plan as it is first served for the same texts; empty: nothing.
async fn differs(bench: &Bench) -> String {
    let script = "const done = arguments[arguments.length - 1]; \
        const body = new URLSearchParams({ job: document.getElementById('job-text').value, shop: document.getElementById('shop-text').value }); \
        fetch('/', { method: 'POST', body }).then((response) => response.text()).then((html) => { \
          const fresh = new DOMParser().parseFromString(html, 'text/html'); \
          const [is, due] = [document, fresh].map((of) => [...of.getElementById('planned').children]); \
          const names = (of) => of.map((part) => part.id || part.nodeName).join(' '); \
          if (names(is) !== names(due)) return done(names(is) + ' for ' + names(due)); \
          done(is.filter((part, at) => !part.isEqualNode(due[at])).map((part) => part.id || part.nodeName).join(' ')); \
        });";
    bench.client.execute_async(script, Vec::new()).await.unwrap().as_str().unwrap().to_string()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn wherever_one_looks_the_whole_plan_is_the_one_that_is_served() {
    let bench = Bench::at_width(1440).await;
    for (at, diameter) in [(0, "59.5"), (2, "60"), (6, "61"), (0, "40"), (0, "62"), (4, "58.5")] {
        let look = match at {
            0 => "scrollTo(0, 0)".to_string(),
            number => format!("document.getElementById('set-up-{number}').scrollIntoView()"),
        };
        bench.script(&look).await;
        let text = bench.text("return document.getElementById('job-text').value").await;
        let old = text.lines().find(|line| line.starts_with("diameter")).unwrap();
        bench.paste("job-text", &text.replace(old, &format!("diameter = {diameter}"))).await;
        assert_eq!(differs(&bench).await, "", "diameter {diameter}, set-up {at} in sight");
    }
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_answer_that_breaks_off_says_so_and_leaves_no_old_set_up() {
    let bench = Bench::at_width(1440).await;
    let cut = "window.whole = window.fetch; window.fetch = async (...all) => { \
        const text = await (await window.whole(...all)).text(); return new Response(text.split('\\n', 4).join('\\n') + '\\n'); };";
    bench.script(cut).await;
    bench.fill("field-stock-diameter", "60").await;
    assert!(bench.faults().await.contains("stopped in the middle of its answer"), "{}", bench.faults().await);
    let shown = bench.text("return [...document.querySelectorAll('.set-up')].map((of) => of.textContent.includes('did not arrive')).join()").await;
    assert_eq!(shown, "false,false,true,true,true,true");
    assert_eq!(bench.script("return document.getElementById('stale').hidden").await, false);
    assert_eq!(bench.text("return document.getElementById('machine').textContent").await, "");
    bench.script("window.fetch = window.whole").await;
    bench.fill("field-stock-diameter", "60.5").await;
    assert_eq!((bench.faults().await, differs(&bench).await), (String::new(), String::new()));
    assert_eq!(bench.script("return document.getElementById('stale').hidden").await, true);
    bench.close().await;
}
