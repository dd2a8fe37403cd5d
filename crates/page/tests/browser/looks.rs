//! Every view at every width, light and dark, on paper, at 200 %; read by a machine for what shuts people out.
//!
//! `TURNWRIGHT_SHOTS=FOLDER cargo test -p page --test browser views` keeps the pictures of every view.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::bench::Bench;

/// Views that are not reached by scrolling: what is done to come there.
const VIEWS: [(&str, &str); 9] = [
    ("top", "location.hash = ''; scrollTo(0, 0)"),
    ("forecast", "document.getElementById('forecast').scrollIntoView()"),
    ("weighed", "document.getElementById('weighed').scrollIntoView()"),
    ("middle", "document.getElementById('set-up-3').scrollIntoView()"),
    ("passes", "document.querySelector('#set-up-4 .passes').scrollIntoView()"),
    ("bottom", "scrollTo(0, document.documentElement.scrollHeight)"),
    (
        "working",
        "for (const of of ['#working-4', '#working-4-pass-3', '#working-4-pass-3 .working']) { \
        const fold = document.querySelector(of); if (fold) fold.open = true; } \
        (document.querySelector('#working-4-pass-3') || document.getElementById('working-4')).scrollIntoView()",
    ),
    ("machine", "location.hash = '#machine-1-0'"),
    ("dial", "location.hash = '#' + document.querySelector('.card .reading').closest('.card').id"),
];

/// Keeps a picture of what is seen, where that is asked for.
pub async fn shoot(bench: &Bench, name: &str) {
    let Some(folder) = std::env::var_os("TURNWRIGHT_SHOTS") else { return };
    std::fs::create_dir_all(&folder).unwrap();
    let png = bench.client.screenshot().await.unwrap();
    std::fs::write(Path::new(&folder).join(format!("{name}.png")), png).unwrap();
}

pub async fn no_sideways(bench: &Bench, name: &str) {
    let wide = "const most = document.documentElement.clientWidth; \
        const out = [...document.body.querySelectorAll('*')].filter((of) => of.getBoundingClientRect().right > most + 1 && \
            of.offsetParent !== null && !of.closest('.scroll, .editor, .unseen, .skip, svg, math')); \
        const names = out.slice(0, 3).map((of) => of.nodeName + '.' + of.className + ' ' + of.textContent.slice(0, 30)).join('; '); \
        return document.documentElement.scrollWidth > most ? 'page ' + document.documentElement.scrollWidth + ' ' + names : names";
    assert_eq!(bench.text(wide).await, "", "sideways at {name}");
}

/// Every view at a width, each looked at and kept.
async fn see(bench: &Bench, name: &str) {
    for (view, way) in VIEWS {
        bench.script(way).await;
        if view == "working" {
            // Workings come when they are opened.
            bench.until("document.querySelector('#working-4 .working math') !== null").await;
            bench.script(way).await;
        }
        tokio::time::sleep(std::time::Duration::from_millis(60)).await;
        let name = format!("{view}-{name}");
        no_sideways(bench, &name).await;
        shoot(bench, &name).await;
    }
    bench.script("location.hash = ''").await;
}

/// Jaws, dial and pass stay in one piece, whatever the width: no number is torn from its unit or out of sight.
const DIAL_WHOLE: &str = "for (const of of document.querySelectorAll('.set-up')) of.style.contentVisibility = 'visible'; \
    return [...document.querySelectorAll('td.dial')].filter((cell) => { \
        const box = cell.getBoundingClientRect(); \
        const scroll = cell.closest('.scroll').getBoundingClientRect(); \
        const ring = cell.querySelector('.ring').getBoundingClientRect(); \
        const unit = cell.querySelector('.unit').getBoundingClientRect(); \
        return box.height > 0 && (box.right > scroll.right + 1 || box.height > 80 || Math.abs(ring.bottom - unit.bottom) > 12); \
    }).map((cell) => cell.textContent)";

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn views_fit_in_inches_too() {
    let bench = Bench::at_width(1440).await;
    bench.paste("job-text", include_str!("../../../../examples/bell-frame-shoe.toml")).await;
    assert!(bench.answer().await.starts_with("Possible"), "{}", bench.faults().await);
    for scheme in ["light", "dark"] {
        bench.scheme(scheme).await;
        for width in [360, 820, 1440] {
            bench.width(width).await;
            see(&bench, &format!("{width}-{scheme}-inch")).await;
            assert_eq!(bench.script(DIAL_WHOLE).await, json!([]), "{width}");
        }
    }
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn views_fit_every_width_light_and_dark() {
    let bench = Bench::at_width(1440).await;
    for scheme in ["light", "dark"] {
        bench.scheme(scheme).await;
        for width in [320, 360, 820, 1440] {
            bench.width(width).await;
            see(&bench, &format!("{width}-{scheme}")).await;
            assert_eq!(bench.script(DIAL_WHOLE).await, json!([]), "{width}");
            for (state, diameter) in [("faulty", "58 furlong"), ("impossible", "40"), ("back", "58")] {
                bench.fill("field-stock-diameter", diameter).await;
                bench.script("scrollTo(0, 0)").await;
                let name = format!("{state}-{width}-{scheme}");
                no_sideways(&bench, &name).await;
                shoot(&bench, &name).await;
            }
        }
    }
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn text_twice_as_large_and_wider_spaced_still_fits() {
    let bench = Bench::at_width(640).await;
    bench.script("document.documentElement.style.fontSize = '200%'").await;
    no_sideways(&bench, "200 % of 640").await;
    shoot(&bench, "double-640-light").await;
    // Spacing of WCAG 2.2, 1.4.12.
    bench
        .script(
            "const s = document.body.style; s.lineHeight = '1.5'; s.letterSpacing = '0.12em'; s.wordSpacing = '0.16em'",
        )
        .await;
    no_sideways(&bench, "spaced").await;
    bench.close().await;
}

/// Tables and pictures that reach out of sight.
const OUT_OF_SIGHT: &str = "for (const of of document.querySelectorAll('.set-up, .forecast')) of.style.contentVisibility = 'visible'; \
    document.querySelectorAll('.more').forEach((fold) => { fold.open = true }); \
    return [...document.querySelectorAll('.scroll, .strip')] \
        .filter((of) => of.offsetParent !== null && of.scrollWidth > of.clientWidth + 1) \
        .map((of) => of.getAttribute('aria-label') + ' ' + of.scrollWidth + ' > ' + of.clientWidth)";

/// Letters of pictures that are smaller on the screen than these px, as they are set: font size times what the picture is
/// shrunk or enlarged by.
const SMALL_LETTERS: &str = "return [...document.querySelectorAll('#planned svg.drawing')].filter((of) => of.getClientRects().length > 0) \
    .flatMap((svg) => [...svg.querySelectorAll('text')].map((text) => \
        [parseFloat(text.getAttribute('font-size')) * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width, text.textContent])) \
    .filter(([size]) => size < 10.9).map(([size, says]) => says + ': ' + size.toFixed(1) + ' px')";

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn at_no_width_a_table_or_a_picture_reaches_out_of_sight_or_has_letters_too_small() {
    let bench = Bench::at_width(1440).await;
    for job in ["guide-block", "bell-frame-shoe"] {
        if job == "bell-frame-shoe" {
            bench.paste("job-text", include_str!("../../../../examples/bell-frame-shoe.toml")).await;
        }
        for width in [320, 360, 430, 500, 640, 820, 1024, 1440] {
            bench.width(width).await;
            assert_eq!(bench.script(OUT_OF_SIGHT).await, json!([]), "{job} at {width}");
            assert_eq!(bench.script(SMALL_LETTERS).await, json!([]), "{job} at {width}");
        }
    }
    bench.close().await;
}

/// What of a card's number or of its buttons' words is broken or runs out of its box, px; 0: nothing.
const OUT_OF_BOX: &str = "const card = document.querySelector('.card.now'); \
    const words = (of) => { const range = document.createRange(); range.selectNodeContents(of); return range; }; \
    const steps = [...card.querySelectorAll('.step')].map((of) => \
        words(of).getBoundingClientRect().width - of.getBoundingClientRect().width); \
    const numbers = [...card.querySelectorAll('.ring, .turns, .large, .signal')].map((of) => \
        Math.max(of.getBoundingClientRect().right - innerWidth, words(of).getClientRects().length > 1 ? 100 : 0)); \
    return Math.max(0, ...steps, ...numbers)";

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn on_a_phone_with_text_twice_as_large_no_number_is_broken() {
    let bench = Bench::at_width(360).await;
    bench.script("document.documentElement.style.fontSize = '200%'").await;
    bench.script("for (const of of document.querySelectorAll('.set-up')) of.style.contentVisibility = 'visible'").await;
    no_sideways(&bench, "200 % of 360").await;
    // Nothing of a table is out of sight, and nothing has to be moved sideways for it.
    let hidden =
        "return [...document.querySelectorAll('.scroll')].filter((of) => of.scrollWidth > of.clientWidth + 1).length";
    assert_eq!(bench.script(hidden).await, 0);
    let cards = "return [...document.querySelectorAll('.card')].filter((card, at) => \
        at % 9 === 0 || card.querySelector('.reading, .stop')).map((card) => card.id)";
    for card in bench.script(cards).await.as_array().unwrap() {
        let card = card.as_str().unwrap();
        bench.script(&format!("location.hash = '#{card}'")).await;
        bench.until(&format!("document.querySelector('.card.now')?.id === '{card}'")).await;
        let out = bench.script(OUT_OF_BOX).await.as_f64().unwrap();
        assert!(out < 1.0, "{card}: {out} px");
    }
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn touch_targets_are_large_enough() {
    let bench = Bench::at_width(360).await;
    // 44 px for what is not in the flow of a sentence; WCAG 2.2, 2.5.5.
    let small = "return [...document.querySelectorAll('input:not([type=hidden]), select, button, summary, .button, .order a, .answer a')] \
        .filter((of) => of.offsetParent !== null).map((of) => [of.id || of.textContent.slice(0, 20), of.getBoundingClientRect()]) \
        .filter(([, box]) => box.height < 43.5 || box.width < 43.5).map(([name, box]) => name + ' ' + box.width + ' x ' + box.height)";
    assert_eq!(bench.script(small).await, json!([]));
    bench.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn on_paper_the_plan_stands_alone() {
    let bench = Bench::at_width(1440).await;
    bench.browser("Emulation.setEmulatedMedia", json!({ "media": "print" })).await;
    let shown = "const seen = (of) => of !== null && of.offsetParent !== null && of.getClientRects().length > 0; \
        return [seen(document.querySelector('.inputs')), seen(document.querySelector('#set-up-6 .passes')), \
                seen(document.querySelector('.first')), seen(document.querySelector('.card'))].map(String).join(' ')";
    assert_eq!(bench.text(shown).await, "false true true false");
    let printed = bench.browser("Page.printToPDF", json!({ "paperWidth": 8.27, "paperHeight": 11.69 })).await;
    assert!(printed["data"].as_str().unwrap().len() > 10_000);
    // In short: an overview of two pages at most, then each set-up on its own; 26 pages were 20 too many.
    let pages = pages(printed["data"].as_str().unwrap());
    assert!((7..=9).contains(&pages), "{pages} pages on paper");
    if let Some(folder) = std::env::var_os("TURNWRIGHT_SHOTS") {
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(Path::new(&folder).join("print.pdf.base64"), printed["data"].as_str().unwrap()).unwrap();
    }
    // What is not the plan of the job as it stands is not printed.
    bench.paste("field-stock-diameter", "furlong").await;
    assert_eq!(bench.script("return document.getElementById('planned').getClientRects().length").await, 0);
    bench.close().await;
}

/// Pages of a PDF written as base64 text: its objects `/Type /Page`, which the browser leaves uncompressed.
fn pages(base64: &str) -> usize {
    let value = |letter: u8| match letter {
        b'A'..=b'Z' => Some(letter - b'A'),
        b'a'..=b'z' => Some(letter - b'a' + 26),
        b'0'..=b'9' => Some(letter - b'0' + 52),
        b'+' => Some(62),
        b'/' => Some(63),
        _ => None,
    };
    let bits: Vec<u32> = base64.bytes().filter_map(value).map(u32::from).collect();
    let pdf: Vec<u8> = bits
        .chunks_exact(4)
        .flat_map(|four| {
            let whole = four.iter().fold(0, |sum, part| sum << 6 | part);
            [(whole >> 16) as u8, (whole >> 8) as u8, whole as u8]
        })
        .collect();
    String::from_utf8_lossy(&pdf).matches("/Type /Page\n").count()
}

/// How much of what is written on a card lies under its buttons, px.
const UNDER_BUTTONS: &str = "const card = document.querySelector('.card.now'); card.scrollTop = 0; \
    const nav = card.querySelector('nav').getBoundingClientRect(); \
    return [...card.querySelectorAll('.body > *, h2, .place, .rest')].map((of) => of.getBoundingClientRect()) \
        .map((box) => Math.min(Math.min(box.right, nav.right) - Math.max(box.left, nav.left), \
            Math.min(box.bottom, nav.bottom) - Math.max(box.top, nav.top))).reduce((most, one) => Math.max(most, one), 0)";

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn on_a_phone_on_its_side_the_buttons_cover_no_text() {
    let bench = Bench::at_width(1440).await;
    let size = json!({ "width": 740, "height": 360, "deviceScaleFactor": 1, "mobile": false });
    bench.browser("Emulation.setDeviceMetricsOverride", size).await;
    let cards = bench.script("return [...document.querySelectorAll('.card')].map((card) => card.id)").await;
    for (at, card) in cards.as_array().unwrap().iter().enumerate() {
        let card = card.as_str().unwrap();
        bench.script(&format!("location.hash = '#{card}'")).await;
        bench.until(&format!("document.querySelector('.card.now')?.id === '{card}'")).await;
        let under = bench.script(UNDER_BUTTONS).await.as_f64().unwrap();
        assert!(under < 1.0, "{card}: {under} px under the buttons");
        if at < 12 {
            shoot(&bench, &format!("side-{at}-740-light")).await;
        }
    }
    // 20 mm each, 4 mm apart, all in sight.
    let steps = "return [...document.querySelectorAll('.card.now .step')].map((of) => of.getBoundingClientRect()) \
        .every((box) => box.height > 75 && box.width > 75 && box.bottom <= 360 && box.top >= 0)";
    assert_eq!(bench.script(steps).await, true);
    bench.script("location.hash = ''").await;
    no_sideways(&bench, "740 x 360").await;
    shoot(&bench, "side-top-740-light").await;
    bench.close().await;
}

/// The accessibility checker: from the environment, or where `./test` puts it.
fn axe() -> String {
    let beside = Path::new(env!("CARGO_TARGET_TMPDIR")).join("../browser/node_modules/axe-core/axe.min.js");
    let path = std::env::var_os("TURNWRIGHT_AXE").map_or(beside, PathBuf::from);
    std::fs::read_to_string(&path).unwrap_or_else(|_| {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("../browser");
        panic!(
            "{} is missing; type: npm install --no-audit --no-fund --prefix {} axe-core@4.10.3",
            path.display(),
            folder.display()
        )
    })
}

async fn nothing_serious(bench: &Bench, axe: &str, name: &str) {
    bench.script(axe).await;
    let run = "const done = arguments[arguments.length - 1]; axe.run(document, { resultTypes: ['violations'] }) \
        .then((found) => done(found.violations.map((found) => found.impact + ': ' + found.id + ' ' + \
            found.nodes.slice(0, 4).map((node) => node.target.join(' ') + ' ' + (node.failureSummary || '')).join(' | '))), \
            (why) => done([String(why)]));";
    let found = bench.client.execute_async(run, Vec::new()).await.unwrap();
    let found: Vec<&str> = found.as_array().unwrap().iter().filter_map(Value::as_str).collect();
    let serious: Vec<&&str> =
        found.iter().filter(|line| !line.starts_with("minor") && !line.starts_with("moderate")).collect();
    assert!(serious.is_empty(), "{name}: {serious:#?}");
    for line in found {
        println!("{name}: {line}");
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_accessibility_checker_finds_nothing_serious() {
    let axe = axe();
    let bench = Bench::at_width(1440).await;
    for scheme in ["light", "dark"] {
        bench.scheme(scheme).await;
        for width in [360, 1440] {
            bench.width(width).await;
            nothing_serious(&bench, &axe, &format!("plan {scheme} {width}")).await;
            bench.script("document.getElementById('forecast').scrollIntoView()").await;
            nothing_serious(&bench, &axe, &format!("forecast {scheme} {width}")).await;
            bench.script("document.getElementById('weighed').scrollIntoView()").await;
            nothing_serious(&bench, &axe, &format!("other orders {scheme} {width}")).await;
        }
        bench.script("document.querySelectorAll('details').forEach((fold) => { fold.open = true })").await;
        nothing_serious(&bench, &axe, &format!("unfolded {scheme}")).await;
        bench.fill("field-stock-diameter", "furlong").await;
        nothing_serious(&bench, &axe, &format!("faulty {scheme}")).await;
        bench.fill("field-stock-diameter", "40").await;
        nothing_serious(&bench, &axe, &format!("impossible {scheme}")).await;
        bench.fill("field-stock-diameter", "58").await;
        bench.script("location.hash = '#machine-2-3'").await;
        nothing_serious(&bench, &axe, &format!("machine {scheme}")).await;
        bench.script("location.hash = ''").await;
    }
    bench.close().await;
}
