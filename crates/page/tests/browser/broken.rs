//! Twenty and more ways to break it: plain words, nothing executed, and back again.

use fantoccini::Locator;

use crate::bench::Bench;

fn demo() -> &'static str {
    formats::builtin::demo_job_text()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_typed_into_fields_is_answered_at_the_field() {
    let bench = Bench::at_width(1440).await;
    for (id, value, says) in [
        ("field-stock-diameter", "58 furlong", "furlong"),
        ("field-stock-diameter", "58,5", "58,5"),
        ("field-stock-diameter", "-58", "Diameter of the bar"),
        ("field-stock-diameter", "0", "Diameter of the bar"),
        ("field-stock-diameter", "1e999", "Diameter of the bar"),
        ("field-stock-length", "five", "Length as sawn"),
        ("field-part-width-plus", "-0.2", "Width, C to E"),
        ("field-part-roughness", "Rz 3 um", "Roughness"),
        ("field-part-square", "0.06 in 3", "Square within"),
        ("field-title", &"x".repeat(300), "What it is called"),
    ] {
        let was = bench.text(&format!("return document.getElementById('{id}').value")).await;
        bench.fill(id, value).await;
        assert!(bench.answer().await.starts_with("No plan yet: "), "{id} {value}: {}", bench.answer().await);
        let told = bench.faults().await;
        assert!(told.contains(says), "{id} {value}: {told}");
        let marked = "const f = document.querySelector('#fields [aria-invalid=true]'); \
                      return f ? document.getElementById(f.getAttribute('aria-describedby').split(' ').pop()).textContent : ''";
        assert!(!bench.text(marked).await.is_empty(), "{id} {value} is not marked");
        assert_eq!(bench.script("return document.getElementById('stale').hidden").await, false);
        // The first fault leads to its field.
        bench.client.find(Locator::Css("#faults a")).await.unwrap().click().await.unwrap();
        assert!(bench.text("return document.activeElement.id").await.starts_with("field-"));
        bench.fill(id, &was).await;
        assert!(bench.answer().await.starts_with("Possible: 6"), "{id} back to {was}: {}", bench.faults().await);
        assert_eq!(bench.script("return document.getElementById('stale').hidden").await, true);
    }
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_pasted_as_text_is_answered_in_plain_words() {
    let bench = Bench::at_width(1440).await;
    let swapped = |from: &str, to: &str| demo().replacen(from, to, 1);
    for (text, says) in [
        (String::new(), "\"Bare numbers are\" is missing"),
        ("title = \"a\nunits".to_string(), "not TOML"),
        ("\u{0}\u{1}\u{7f}".to_string(), "not TOML"),
        ("a".repeat(200_000), "not TOML"),
        (demo().repeat(100), "100 jobs"),
        (swapped("square =", "sqare ="), "did you mean `square`"),
        (swapped("medium-carbon-steel", "cheese"), "cheese"),
        (swapped("[part]", "[use]\nlathe = \"moon lathe\"\n[part]"), "moon lathe"),
        (swapped("flat   =", "leave = [\"A\", \"B\", \"C\", \"D\", \"E\", \"F\"]\nflat ="), "nothing is to be cut"),
        (swapped("units = \"mm\"", "units = 3"), "Bare numbers are"),
        (swapped("[stock]", "stock = 3\n[stok]"), "stock"),
    ] {
        bench.paste("job-text", &text).await;
        let told = bench.faults().await;
        assert!(told.contains(says), "{says}: {told}");
        bench.paste("job-text", demo()).await;
        assert_eq!(bench.faults().await, "", "after {says}");
    }
    let shop = formats::builtin::shop_text();
    for (text, says) in [("name = \"empty\"\nunits = \"mm\"\n", "no `[[lathe]]`"), ("][", "not TOML")] {
        bench.paste("shop-text", text).await;
        assert!(bench.faults().await.contains(says), "{says}: {}", bench.faults().await);
        bench.paste("shop-text", shop).await;
        assert_eq!(bench.faults().await, "", "after {says}");
    }
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_line_of_a_fault_is_marked_and_led_to() {
    let bench = Bench::at_width(1440).await;
    bench.paste("job-text", &demo().replacen("square =", "sqare =", 1)).await;
    assert_eq!(bench.text("return document.querySelector('#job-lines b').textContent").await, "! 19");
    bench.client.find(Locator::Css("#faults a.line")).await.unwrap().click().await.unwrap();
    let chosen = "const a = document.activeElement; return a.value.slice(a.selectionStart, a.selectionEnd)";
    assert!(bench.text(chosen).await.starts_with("sqare = 0.06"));
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn ten_megabytes_are_refused_and_the_page_lives_on() {
    let bench = Bench::at_width(1440).await;
    bench
        .script(
            "const f = document.getElementById('job-text'); f.value = '#'.repeat(10 * 1024 * 1024); \
                  f.dispatchEvent(new Event('input', { bubbles: true }));",
        )
        .await;
    bench.until("document.getElementById('faults').textContent.includes('10485760 letters')").await;
    bench.paste("job-text", demo()).await;
    assert!(bench.answer().await.starts_with("Possible: 6"));
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn nothing_typed_is_executed() {
    let bench = Bench::at_width(1440).await;
    let script = "</textarea><img src=x onerror='window.done = 1'><script>window.done = 2</script>";
    bench.fill("field-title", script).await;
    assert_eq!(bench.text("return document.querySelector('#planned h2').textContent").await, script);
    bench.paste("job-text", &demo().replace("\"round\"", &format!("'''{script}'''"))).await;
    assert!(bench.faults().await.contains("Form of the bar"));
    bench.paste("shop-text", &formats::builtin::shop_text().replace("school lathe", "<b onclick=x>lathe</b>")).await;
    bench.paste("job-text", demo()).await;
    assert_eq!(
        bench
            .script("return window.done === undefined && document.querySelector('main img, main b[onclick]') === null")
            .await,
        true
    );
    assert!(
        bench.text("return document.getElementById('planned').textContent").await.contains("<b onclick=x>lathe</b>")
    );
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_impossible_job_says_why_and_what_would_free_it() {
    let bench = Bench::at_width(820).await;
    bench.fill("field-stock-diameter", "40").await;
    assert!(bench.answer().await.starts_with("Not possible as asked"));
    let told = bench.text("return document.querySelector('.reasons').textContent").await;
    assert!(told.contains("Way out: "), "{told}");
    bench.choose("field-stock-form", "flat").await;
    bench.choose("field-stock-form", "round").await;
    bench.choose("field-part-kind", "prism").await;
    bench.choose("field-part-kind", "block").await;
    bench.choose("field-units", "inch").await;
    assert!(bench.text("return document.getElementById('job-text').value").await.contains("diameter = \"40 mm\""));
    bench.close().await;
}

/// Puts a text into the clipboard as a copy does, then pastes it with the keys, as a person would.
async fn pasted_by_hand(bench: &Bench, id: &str, making: &str) {
    let copy = format!(
        "window.carried = {making}; document.addEventListener('copy', (event) => {{ \
         event.clipboardData.setData('text/plain', window.carried); event.preventDefault(); }}, {{ once: true }}); \
         const f = document.getElementById('{id}'); f.closest('details')?.setAttribute('open', ''); f.focus(); f.select();"
    );
    bench.script(&copy).await;
    let field = bench.client.find(Locator::Id(id)).await.unwrap();
    let control = char::from(fantoccini::key::Key::Control);
    field.send_keys(&format!("{control}c")).await.unwrap();
    field.send_keys(&format!("{control}v")).await.unwrap();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_paste_that_is_no_job_does_not_land_and_the_text_stays() {
    let bench = Bench::at_width(1440).await;
    let whole = format!("{}.repeat(100)", serde_json::json!(demo()));
    for (id, making, says) in [
        ("job-text", "'x = 1\\n'.repeat(1700000)", "10200000 letters"),
        ("shop-text", "'x\\n'.repeat(120000)", "120001 lines"),
        ("job-text", whole.as_str(), "100 jobs at once"),
        ("field-title", "'x\\n'.repeat(5000000)", "10000000 letters for one field"),
    ] {
        let value = format!("return document.getElementById('{id}').value");
        let was = bench.text(&value).await;
        let start = std::time::Instant::now();
        pasted_by_hand(&bench, id, making).await;
        bench.until(&format!("document.getElementById('faults').textContent.includes('{says}')")).await;
        println!("{says}: {:.2?}", start.elapsed());
        assert!(start.elapsed().as_secs_f64() < 5.0, "{says}: {:?}", start.elapsed());
        assert_eq!(bench.text(&value).await, was, "{says}");
        assert!(bench.answer().await.contains("what was here before stays"), "{says}");
        assert_eq!(bench.script("return document.getElementById('stale').hidden").await, true, "{says}");
    }
    // What is a job lands.
    let other = serde_json::json!(demo().replace("diameter = 58", "diameter = 57")).to_string();
    pasted_by_hand(&bench, "job-text", &other).await;
    bench.until("document.getElementById('field-stock-diameter').value === '57'").await;
    bench.rests().await;
    assert_eq!(bench.faults().await, "");
    bench.close().await;
}
