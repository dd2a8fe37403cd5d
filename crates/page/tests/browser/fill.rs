//! A job from nothing to a plan, and the two views of it.

use fantoccini::Locator;

use crate::bench::Bench;
use crate::looks::shoot;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_job_is_filled_in_from_nothing_to_a_plan() {
    let bench = Bench::at_width(1440).await;
    bench.client.find(Locator::LinkText("New job")).await.unwrap().click().await.unwrap();
    bench.until("document.getElementById('field-title').value === 'New job'").await;
    assert!(bench.answer().await.starts_with("No plan yet: "));
    // Scenario of our own: a keep for a water wheel's sluice.
    for (id, value) in [
        ("field-title", "Keep for a sluice"),
        ("field-part-width-size", "30"),
        ("field-part-height-size", "28"),
        ("field-part-length-size", "40"),
        ("field-stock-diameter", "50"),
        ("field-stock-length", "45"),
    ] {
        bench.fill(id, value).await;
    }
    bench.choose("field-stock-material", "low-carbon-steel").await;
    let answer = bench.answer().await;
    assert!(answer.starts_with("Possible: 6 set-ups"), "{answer}: {}", bench.faults().await);
    assert_eq!(bench.faults().await, "");
    let text = bench.text("return document.getElementById('job-text').value").await;
    for line in ["title = \"Keep for a sluice\"", "diameter = 50", "material = \"low-carbon-steel\"", "width = 30"] {
        assert!(text.contains(line), "{line} in {text}");
    }
    bench.until("document.title.startsWith('Keep for a sluice')").await;
    // Read out politely, after a rest.
    bench.until("document.getElementById('said').textContent.startsWith('Possible: 6 set-ups')").await;
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn text_and_fields_are_one_job() {
    let bench = Bench::at_width(1440).await;
    let text = bench.text("return document.getElementById('job-text').value").await;
    bench.paste("job-text", &text.replace("diameter = 58", "diameter = 60")).await;
    assert_eq!(bench.text("return document.getElementById('field-stock-diameter').value").await, "60");
    bench.choose("field-stock-form", "square").await;
    let text = bench.text("return document.getElementById('job-text').value").await;
    assert!(text.contains("across = 60") && text.contains("# as sawn"), "{text}");
    // Undone, step by step.
    let undo = bench.client.find(Locator::Id("undo")).await.unwrap();
    undo.click().await.unwrap();
    bench.until("document.getElementById('job-text').value.includes('diameter = 60')").await;
    bench.rests().await;
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_choice_told_by_one_event_alone_is_heard() {
    let bench = Bench::at_width(1440).await;
    for (event, form) in [("change", "square"), ("input", "hexagon"), ("change", "round")] {
        let choose = format!(
            "const f = document.getElementById('field-stock-form'); f.value = '{form}'; \
             f.dispatchEvent(new Event('{event}', {{ bubbles: true }}));"
        );
        bench.script(&choose).await;
        bench.rests().await;
        let text = bench.text("return document.getElementById('job-text').value").await;
        assert!(text.contains(&format!("= \"{form}\"")), "{event} {form}: {text}");
    }
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn typing_keeps_focus_caret_and_what_is_typed() {
    let bench = Bench::at_width(1440).await;
    bench.script("const f = document.getElementById('field-title'); f.focus(); f.setSelectionRange(5, 5);").await;
    let field = bench.client.find(Locator::Id("field-title")).await.unwrap();
    // A letter now and then, so that answers come in between.
    for letter in " rail".chars() {
        bench.client.active_element().await.unwrap().send_keys(&letter.to_string()).await.unwrap();
        tokio::time::sleep(std::time::Duration::from_millis(60)).await;
    }
    bench.rests().await;
    drop(field);
    assert_eq!(bench.text("return document.activeElement.id").await, "field-title");
    assert_eq!(
        bench.text("return document.getElementById('field-title').value").await,
        "Guide rail block for a sluice gate"
    );
    assert_eq!(bench.script("return document.activeElement.selectionStart").await, 10);
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_job_is_still_there_after_a_reload_and_files_are_opened() {
    let bench = Bench::at_width(1440).await;
    bench.fill("field-stock-diameter", "61").await;
    bench.client.refresh().await.unwrap();
    bench.until("document.getElementById('field-stock-diameter').value === '61'").await;
    bench.rests().await;
    let folder = std::env::temp_dir();
    let path = folder.join(format!("turnwright-job-{}.toml", std::process::id()));
    std::fs::write(&path, formats::builtin::demo_job_text().replace("= 58", "= 59")).unwrap();
    let file = bench.client.find(Locator::Id("file")).await.unwrap();
    file.send_keys(path.to_str().unwrap()).await.unwrap();
    bench.until("document.getElementById('field-stock-diameter').value === '59'").await;
    std::fs::write(&path, "[[lathe]]\nname = \"mine\"\n").unwrap();
    file.send_keys(path.to_str().unwrap()).await.unwrap();
    bench.until("document.getElementById('shop-text').value.includes('\"mine\"')").await;
    bench.rests().await;
    assert!(bench.faults().await.contains("Shop, line"));
    std::fs::write(&path, b"title = \"caf\xe9\"\n").unwrap();
    file.send_keys(path.to_str().unwrap()).await.unwrap();
    bench.until("document.getElementById('faults').textContent.includes('not UTF-8')").await;
    std::fs::remove_file(&path).unwrap();
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn it_works_without_script() {
    let bench = Bench::closed().await;
    bench.browser("Emulation.setScriptExecutionDisabled", serde_json::json!({ "value": true })).await;
    bench.client.goto(&bench.address).await.unwrap();
    let field = bench.client.find(Locator::Id("field-stock-diameter")).await.unwrap();
    field.clear().await.unwrap();
    field.send_keys("62").await.unwrap();
    bench.client.find(Locator::XPath("//button[text()='Plan it']")).await.unwrap().click().await.unwrap();
    // The click returns before the answer is there, and without script the page cannot be asked.
    let mut page = String::new();
    for _ in 0..100 {
        page = bench.client.source().await.unwrap_or_default();
        if page.contains("round bar 62") {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    assert!(page.contains("round bar 62") && page.contains("value=\"62\""));
    bench.client.find(Locator::LinkText("At the machine, step by step")).await.unwrap().click().await.unwrap();
    let next = bench.client.find(Locator::Css(".card:target .next")).await.unwrap();
    assert!(next.is_displayed().await.unwrap());
    assert!(!bench.client.find(Locator::Id("plan")).await.unwrap().is_displayed().await.unwrap());
    bench.client.clone().close().await.unwrap();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_number_is_worked_out_when_asked() {
    let bench = Bench::at_width(820).await;
    bench.script("document.querySelector('#working-4 > summary').click()").await;
    bench.until("document.querySelector('#working-4 .working math') !== null").await;
    // A value that another working gives leads there, also into a pass that is still folded or to the whole plan.
    let link = "return document.querySelector('#working-4 .knowns a').hash.slice(1)";
    let to = bench.text(link).await;
    bench.script("document.querySelector('#working-4 .knowns a').click()").await;
    bench.until(&format!("document.activeElement.parentElement?.id === '{to}'")).await;
    // They follow the job.
    let of = "[...document.querySelectorAll('#working-4 .working > summary')].map((of) => of.textContent).join()";
    let before = bench.text(&format!("return {of}")).await;
    bench.fill("field-stock-diameter", "59").await;
    bench.until(&format!("{of} !== {}", serde_json::json!(before))).await;
    assert_eq!(bench.script("return document.getElementById('working-4').open").await, true);
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_new_job_keeps_the_units_and_the_former_one_is_brought_back_after_a_reload() {
    let bench = Bench::at_width(1440).await;
    assert_eq!(bench.script("return document.getElementById('former').hidden").await, true);
    bench.fill("field-title", "Hinge of a gate").await;
    bench.choose("field-units", "inch").await;
    let mine = bench.text("return document.getElementById('job-text').value").await;
    bench.client.find(Locator::LinkText("New job")).await.unwrap().click().await.unwrap();
    bench.until("document.getElementById('field-title').value === 'New job'").await;
    bench.rests().await;
    assert_eq!(bench.text("return document.getElementById('field-units').value").await, "inch");
    // Another job that comes with the program does not take the place of the one that is kept.
    bench.client.find(Locator::LinkText("The job to try with")).await.unwrap().click().await.unwrap();
    bench.until("document.getElementById('field-title').value.startsWith('Guide block')").await;
    bench.client.refresh().await.unwrap();
    bench.rests().await;
    let back = bench.client.find(Locator::XPath("//button[text()='Bring back the job before']")).await.unwrap();
    back.click().await.unwrap();
    bench.until("document.getElementById('field-title').value === 'Hinge of a gate'").await;
    bench.rests().await;
    assert_eq!(bench.text("return document.getElementById('job-text').value").await, mine);
    assert!(bench.answer().await.starts_with("Possible: 6"));
    // A letter that the sheet's fonts lack is told beside its button, and no longer than it is there.
    bench.fill("field-title", "導 of a gate").await;
    let lacks =
        "return document.getElementById('lacks').checkVisibility() ? document.getElementById('lacks').textContent : ''";
    assert!(bench.text(lacks).await.contains("U+5C0E"));
    bench.script("document.getElementById('former').scrollIntoView({ block: 'end' })").await;
    shoot(&bench, "lacks-1440-light").await;
    bench.width(360).await;
    bench.script("document.getElementById('print').scrollIntoView({ block: 'center' })").await;
    shoot(&bench, "lacks-360-light").await;
    bench.fill("field-title", "Rail of a gate").await;
    assert_eq!(bench.text(lacks).await, "");
    bench.close().await;
}
