//! By keyboard alone.

use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::key::Key;

use crate::bench::Bench;

async fn press(bench: &Bench, key: Key) {
    let value = char::from(key);
    let keys = KeyActions::new("keys".to_string()).then(KeyAction::Down { value }).then(KeyAction::Up { value });
    bench.client.perform_actions(keys).await.unwrap();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_control_is_reached_in_order_and_seen() {
    let bench = Bench::at_width(1440).await;
    let mut seen = Vec::new();
    for _ in 0..60 {
        press(&bench, Key::Tab).await;
        let name = "const a = document.activeElement; return a.id || a.textContent.trim().slice(0, 40)";
        seen.push(bench.text(name).await);
        let outlined = "const a = document.activeElement; if (a === document.body) return true; const s = getComputedStyle(a); \
                        const r = a.getBoundingClientRect(); \
                        return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2 && r.bottom > 0 && r.top < innerHeight";
        assert_eq!(bench.script(outlined).await, true, "the focus is not seen on {:?}", seen.last());
    }
    assert_eq!(seen[0], "To the plan");
    let place = |id: &str| seen.iter().position(|name| name == id).unwrap_or_else(|| panic!("{id} in {seen:?}"));
    let order = ["field-title", "field-part-width-size", "field-stock-diameter", "field-use-lathe", "job-text", "file"];
    assert!(order.windows(2).all(|pair| place(pair[0]) < place(pair[1])), "{seen:?}");
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_job_is_changed_and_followed_with_keys_alone() {
    let bench = Bench::at_width(820).await;
    let to = async |id: &str| {
        for _ in 0..120 {
            if bench.text("return document.activeElement.id").await == id {
                return;
            }
            press(&bench, Key::Tab).await;
        }
        panic!("{id} is not reached");
    };
    to("field-stock-diameter").await;
    press(&bench, Key::End).await;
    press(&bench, Key::Backspace).await;
    bench.client.active_element().await.unwrap().send_keys("9").await.unwrap();
    // Enter plans and does not leave the page.
    press(&bench, Key::Enter).await;
    bench.rests().await;
    assert!(bench.text("return document.getElementById('planned').textContent").await.contains("round bar 59"));
    to("field-stock-form").await;
    bench.client.active_element().await.unwrap().send_keys("s").await.unwrap();
    bench.rests().await;
    bench.until("document.getElementById('job-text').value.includes('form     = \"square\"')").await;
    bench.close().await;
}
