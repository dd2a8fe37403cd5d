//! How long the page and the sheet of a block of six faces take, beside the plan alone in the same run, and how large
//! they are. `cargo bench -p page`.
#![allow(missing_docs, reason = "divan makes public items")]

use axum::body::Body;
use axum::http::{Method, Request, header};
use divan::{Bencher, black_box};
use engine::plan::Plan;
use http_body_util::BodyExt;
use serde_json::json;
use sheet::{Paper, Setting};
use tokio::runtime::{Builder, Runtime};
use tower::ServiceExt;

fn main() {
    let (first, answer) = (ask(&runtime(), request("/")), ask(&runtime(), change()));
    let sizes = [first.len(), answer.len(), first_line(&runtime()).len()].map(|bytes| bytes / 1000);
    println!("first page {} kB, answer to a change {} kB, {} kB of it in sight", sizes[0], sizes[1], sizes[2]);
    for paper in [Paper::A4, Paper::Letter] {
        println!("sheet on {paper:?} {} kB", sheet_of(&plan(), paper).len() / 1000);
    }
    divan::main();
}

/// The reference: the plan alone, from the two texts.
#[divan::bench(max_time = 3)]
fn plan_alone(bencher: Bencher) {
    bencher.bench(plan);
}

/// From a changed field to the answer that the script paints.
#[divan::bench(max_time = 3)]
fn answer_to_a_change(bencher: Bencher) {
    let runtime = runtime();
    bencher.bench(|| ask(black_box(&runtime), change()));
}

/// The same up to what is in sight at the head of the page, which is painted first.
#[divan::bench(max_time = 3)]
fn answer_in_sight(bencher: Bencher) {
    let runtime = runtime();
    bencher.bench(|| first_line(black_box(&runtime)));
}

/// The page as first served, plan and pictures in it.
#[divan::bench(max_time = 3)]
fn first_page(bencher: Bencher) {
    let runtime = runtime();
    bencher.bench(|| ask(black_box(&runtime), request("/")));
}

/// The whole sheet as PDF, once the typesetter is warm.
#[divan::bench(max_time = 6)]
fn sheet_a4(bencher: Bencher) {
    let plan = plan();
    bencher.bench(|| sheet_of(black_box(&plan), Paper::A4));
}

fn plan() -> Plan {
    let job = formats::job::read(formats::builtin::demo_job_text(), "job").expect("the demonstration job reads").job;
    let shop = formats::shop::read(formats::builtin::shop_text(), "shop").expect("the built-in shop reads").shop;
    engine::plan(&job, &shop).expect("the demonstration fits the shop")
}

fn sheet_of(plan: &Plan, paper: Paper) -> Vec<u8> {
    let setting = Setting { paper, date: Some("2031-03-05".to_string()), without_working: false };
    sheet::pdf(std::slice::from_ref(plan), &setting).expect("the sheet is typeset")
}

fn runtime() -> Runtime {
    Builder::new_current_thread().enable_all().build().expect("a runtime")
}

fn ask(runtime: &Runtime, request: Request<Body>) -> Vec<u8> {
    runtime.block_on(async {
        let response = page::router().oneshot(request).await.expect("an answer");
        response.into_body().collect().await.expect("a body").to_bytes().to_vec()
    })
}

fn first_line(runtime: &Runtime) -> Vec<u8> {
    runtime.block_on(async {
        let mut body = page::router().oneshot(change()).await.expect("an answer").into_body();
        body.frame().await.expect("a line").expect("sent").into_data().expect("data").to_vec()
    })
}

fn request(path: &str) -> Request<Body> {
    let asked = Request::builder().uri(path).header(header::HOST, "127.0.0.1:7421");
    asked.body(Body::empty()).expect("a request")
}

fn change() -> Request<Body> {
    let body = json!({
        "job": formats::builtin::demo_job_text(),
        "shop": formats::builtin::shop_text(),
        "changes": [["stock.diameter", "58.5"]],
    });
    Request::builder()
        .method(Method::POST)
        .uri("/plan")
        .header(header::HOST, "127.0.0.1:7421")
        .header(header::CONTENT_TYPE, "application/json")
        .body(Body::from(body.to_string()))
        .expect("a request")
}
