//! At the machine: one step at a time, by touch and by keys, through reloads.

use std::time::Duration;

use fantoccini::Locator;
use fantoccini::key::Key;

use crate::bench::Bench;

async fn title(bench: &Bench) -> String {
    bench.text("return document.querySelector('.card.now h2').textContent").await
}

async fn step(bench: &Bench, key: Key) {
    tokio::time::sleep(Duration::from_millis(550)).await;
    bench.client.active_element().await.unwrap().send_keys(&char::from(key).to_string()).await.unwrap();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn steps_go_forward_and_back_and_survive_a_reload() {
    let bench = Bench::at_width(360).await;
    bench.script("document.querySelector('.head .button').click()").await;
    bench.until("document.querySelector('.card.now') !== null").await;
    assert_eq!(title(&bench).await, "Set-up 1: cut A");
    assert_eq!(bench.script("return document.querySelector('.card.now svg') !== null").await, true);
    step(&bench, Key::Right).await;
    bench.until("document.querySelector('.card.now h2').textContent === 'Step 1'").await;
    // Twice within half a second is once.
    tokio::time::sleep(Duration::from_millis(550)).await;
    bench
        .script("const press = () => document.querySelector('.card.now .next').click(); press(); press(); press();")
        .await;
    bench.until("document.querySelector('.card.now h2').textContent === 'Step 2'").await;
    step(&bench, Key::PageDown).await;
    bench.until("document.querySelector('.card.now h2').textContent === 'Step 3'").await;
    step(&bench, Key::Left).await;
    bench.until("document.querySelector('.card.now h2').textContent === 'Step 2'").await;
    bench.client.refresh().await.unwrap();
    bench.until("document.querySelector('.card.now') !== null").await;
    assert_eq!(title(&bench).await, "Step 2");
    step(&bench, Key::Escape).await;
    bench.until("document.querySelector('.card.now') === null && document.activeElement.id === 'plan'").await;
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_step_fits_a_phone_and_its_targets_a_finger() {
    let bench = Bench::at_width(360).await;
    let ids = bench.script("return [...document.querySelectorAll('.card')].map((card) => card.id)").await;
    let ids: Vec<String> = ids.as_array().unwrap().iter().map(|id| id.as_str().unwrap().to_string()).collect();
    assert!(ids.len() > 100);
    // 20 mm of CSS are 75.6 px; 4 mm between are 15.1 px.
    let measured = "const card = document.querySelector('.card.now'); \
        const boxes = [...card.querySelectorAll('.step')].map((step) => step.getBoundingClientRect()); \
        const small = boxes.some((box) => box.width < 75.5 || box.height < 75.5); \
        const near = boxes.slice(1).some((box, at) => box.left - boxes[at].right < 15); \
        const wide = card.scrollWidth > innerWidth || document.documentElement.scrollWidth > innerWidth; \
        return [small, near, wide, boxes.length > 6].map(String).join(' ')";
    for id in ids.iter().step_by(3) {
        bench.script(&format!("location.hash = '#{id}'")).await;
        bench.until(&format!("document.querySelector('.card.now')?.id === '{id}'")).await;
        assert_eq!(bench.text(measured).await, "false false false false", "{id}");
    }
    // Without a card of that name the whole plan is shown.
    bench.script("location.hash = '#machine-99-1'").await;
    bench.until("document.querySelector('.card.now') === null").await;
    assert!(bench.client.find(Locator::Id("plan")).await.unwrap().is_displayed().await.unwrap());
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_dial_is_the_largest_thing_in_sight() {
    let bench = Bench::at_width(820).await;
    let id = bench.text("return document.querySelector('.card .reading').closest('.card').id").await;
    bench.script(&format!("location.hash = '#{id}'")).await;
    bench.until("document.querySelector('.card.now .ring') !== null").await;
    let sizes = "const size = (of) => parseFloat(getComputedStyle(of).fontSize); const card = document.querySelector('.card.now'); \
        const ring = card.querySelector('.ring'); \
        return [...card.querySelectorAll('*')].every((other) => other === ring || size(other) < size(ring))";
    assert_eq!(bench.script(sizes).await, true);
    bench.close().await;
}

/// A pass shows its own set-up from the side and, before it is asked for, what the dial reads next.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_pass_shows_its_piece_and_the_dial_of_the_next() {
    let bench = Bench::at_width(820).await;
    let id = bench.text("return document.querySelector('[id^=machine-3-] .then').closest('.card').id").await;
    bench.script(&format!("location.hash = '#{id}'")).await;
    bench.until("document.querySelector('.card.now .picture svg') !== null").await;
    let same = "const drawn = document.querySelector('#set-up-3 figure.side svg title').textContent; \
        return document.querySelector('.card.now svg title').textContent === drawn";
    assert_eq!(bench.script(same).await, true);
    let next = "const here = document.querySelector('.card.now'); const plain = (of) => of.textContent.replace(/\\s+/g, ' ').trim(); \
        const dials = [...document.querySelectorAll('#set-up-3 .passes td.dial')].map(plain); \
        const at = dials.indexOf(plain(here.querySelector('.reading'))); \
        return at >= 0 && plain(here.querySelector('.then')) === 'Then ' + dials[at + 1]";
    assert_eq!(bench.script(next).await, true);
    let twice =
        "const ids = [...document.querySelectorAll('[id]')].map((of) => of.id); return ids.length - new Set(ids).size";
    assert_eq!(bench.script(twice).await, 0);
    bench.close().await;
}
