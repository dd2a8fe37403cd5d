//! How true it comes out, in the browser: sent when it changed, told beside what it was before.

use crate::bench::Bench;

const STAMP: &str = "return document.getElementById('forecast').dataset.stamp";

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_change_tells_the_chance_beside_the_one_before_the_field_was_touched() {
    let bench = Bench::at_width(1440).await;
    let first = bench.answer().await;
    assert!(first.ends_with(" of 100 pieces good.") && !first.contains("was"), "{first}");
    let now = |says: &str| says.split("min; ").nth(1).unwrap().split(" of 100").next().unwrap().to_string();
    // Letter by letter: each may be a plan of its own, and all are told beside the one before the first letter.
    bench.fill("field-part-square", "0.03").await;
    let changed = bench.answer().await;
    assert!(changed.ends_with(&format!(", was {}.", now(&first))), "{first} then {changed}");
    bench.fill("field-part-square", "0.02").await;
    let again = bench.answer().await;
    assert!(again.contains(", was "), "{again}");
    // Another field begins anew.
    bench.fill("field-part-parallel", "0.02").await;
    let other = bench.answer().await;
    assert!(!other.contains(", was ") || other.ends_with(&format!(", was {}.", now(&again))), "{again} then {other}");
    // Another job is not compared, pasted or chosen.
    bench.paste("job-text", include_str!("../../../../examples/bell-frame-shoe.toml")).await;
    let pasted = bench.answer().await;
    assert!(pasted.ends_with(" of 100 pieces good.") && !pasted.contains("was"), "{pasted}");
    bench.client.find(fantoccini::Locator::LinkText("The job to try with")).await.unwrap().click().await.unwrap();
    bench.until(&format!("document.getElementById('answer').textContent === {first:?}")).await;
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_forecast_that_stays_is_left_as_it_is_and_one_that_moves_is_shown() {
    let bench = Bench::at_width(1440).await;
    let mark = "document.querySelector('#forecast h3').marked = true";
    let marked = "return document.querySelector('#forecast h3').marked === true";
    for (look, square) in [
        ("scrollTo(0, 0)", "0.03"),
        ("document.getElementById('forecast').scrollIntoView()", "0.02"),
        ("scrollTo(0, 9000)", "0.04"),
    ] {
        bench.script(look).await;
        let before = bench.text(STAMP).await;
        bench.script(mark).await;
        bench.fill("field-title", &format!("Gate {square}")).await;
        assert_eq!(bench.text(STAMP).await, before);
        assert_eq!(bench.script(marked).await, true);
        bench.fill("field-part-square", square).await;
        assert_ne!(bench.text(STAMP).await, before, "{look}");
        let veiled = "return document.querySelectorAll('.waits').length";
        assert_eq!(bench.script(veiled).await, 0);
    }
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn on_a_phone_the_pictures_fit_and_all_opens_without_hovering() {
    let bench = Bench::at_width(360).await;
    for scheme in ["light", "dark"] {
        bench.scheme(scheme).await;
        bench.script("document.querySelectorAll('#forecast details').forEach((fold) => { fold.open = true })").await;
        let out = "return [...document.querySelectorAll('#forecast svg')].map((svg) => svg.getBoundingClientRect()) \
            .filter((box) => box.width < 250 || box.right > 360 || box.height < 60).length";
        assert_eq!(bench.script(out).await, 0);
        // What is read is no smaller than 11 px on a phone.
        let small = "return Math.min(...[...document.querySelectorAll('#forecast svg text')].map((text) => \
            parseFloat(text.getAttribute('font-size')) * text.ownerSVGElement.getBoundingClientRect().width / \
            text.ownerSVGElement.viewBox.baseVal.width))";
        let least = bench.script(small).await.as_f64().unwrap();
        assert!(least > 11.0, "{least} px");
    }
    bench.close().await;
}
