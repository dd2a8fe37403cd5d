//! The answer to a change, in lines of JSON: first what is in sight, then the forecast and the set-ups that are not, the
//! steps at the machine, last other orders beside the plan. The browser shows each while the next is made.

use std::convert::Infallible;

use axum::body::{Body, Bytes};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use http_body_util::channel::{Channel, Sender};
use maud::{Markup, PreEscaped};
use serde_json::{Value, json};
use tokio::runtime::Handle;
use tokio::task::spawn_blocking;

use crate::asked::{Seen, Texts};
use crate::planned::{Planned, planned};
use crate::view::{self, Drawn};

/// Lines that wait for the browser; it takes them as they come.
const WAITING: usize = 4;

/// Plans away from the threads that answer; `seen`: what the browser shows just now. `None`: planning failed.
pub async fn answer(texts: Texts, seen: Seen) -> Option<Response> {
    let begun = spawn_blocking(move || {
        let planned = planned(&texts);
        let first = first(&texts, &planned, &seen);
        (planned, first, seen)
    });
    let (planned, first, seen) = begun.await.ok()?;
    let (mut lines, body) = Channel::<Bytes, Infallible>::new(WAITING);
    spawn_blocking(move || {
        // A browser that no longer listens gets no more.
        let _ = send(&mut lines, &first).and_then(|()| rest(&mut lines, &planned, &seen));
    });
    Some(([(header::CONTENT_TYPE, "application/x-ndjson")], Body::new(body)).into_response())
}

/// JSON written in this crate, which a development build optimises: in the server's it takes as long as the plan.
fn send(lines: &mut Sender<Bytes>, value: &Value) -> Option<()> {
    let line = Bytes::from(format!("{value}\n"));
    Handle::current().block_on(lines.send_data(line)).ok()
}

/// The parts of the page that hang on the texts, as the script swaps them; what is out of sight is only named.
fn first(texts: &Texts, planned: &Planned, seen: &Seen) -> Value {
    let parts = view::parts(texts, planned, Drawn::Only(seen));
    let html = |part: Option<Markup>| part.map(|PreEscaped(html)| html);
    json!({
        "job": texts.job,
        "shop": texts.shop,
        "title": planned.plan.as_ref().map(|plan| plan.title.as_str()),
        "answer": parts.answer,
        "share": planned.plan.as_ref().and_then(view::share),
        "faults": parts.faults.0,
        "fields": html(parts.fields),
        "job_lines": parts.job_lines.0,
        "shop_lines": parts.shop_lines.0,
        "plan": html(parts.plan),
        "lacks": parts.lacks,
    })
}

/// What the first line left out; without a plan there is nothing.
fn rest(lines: &mut Sender<Bytes>, planned: &Planned, seen: &Seen) -> Option<()> {
    let plan = planned.plan.as_ref()?;
    if view::forecast_comes_later(plan, Drawn::Only(seen)) {
        let PreEscaped(html) = view::forecast(plan);
        send(lines, &json!({ "forecast": true, "html": html }))?;
    }
    for set_up in plan.set_ups.iter().filter(|set_up| !seen.in_sight.contains(&set_up.number)) {
        let PreEscaped(html) = view::set_up(set_up, plan);
        send(lines, &json!({ "set_up": set_up.number, "html": html }))?;
    }
    let PreEscaped(machine) = view::cards(plan);
    send(lines, &json!({ "machine": machine }))?;
    let PreEscaped(html) = view::weighed(planned.weighed().as_ref());
    send(lines, &json!({ "weighed": html }))
}
