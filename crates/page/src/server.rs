//! What is answered at which address.

use std::collections::BTreeMap;
use std::io;
use std::net::TcpListener;

use ::sheet::{Paper, Setting};
use axum::body::Bytes;
use axum::extract::multipart::{Multipart, MultipartRejection};
use axum::extract::rejection::{BytesRejection, FormRejection, PathRejection};
use axum::extract::{DefaultBodyLimit, Form, Path};
use axum::http::{StatusCode, header};
use axum::middleware::from_fn;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use engine::plan::Plan;
use engine::quantity::bare::several;
use serde_json::json;

use crate::answer::answer;
use crate::asked::{Asked, Texts};
use crate::guard::guard;
use crate::planned::{Planned, compared, planned};
use crate::view;

/// Most that is taken in: a job and a shop are pages of text.
pub const MOST_BYTES: usize = 4 * 1024 * 1024;

const SCRIPT: &str = include_str!("../assets/page.js");
const STYLE: &str = include_str!("../assets/page.css");

/// Every address of the page.
pub fn router() -> Router {
    Router::new()
        .route("/", get(first).post(posted))
        .route("/new", get(|| page(Texts::blank("mm"))))
        .route("/new/inch", get(|| page(Texts::blank("inch"))))
        .route("/demo", get(first))
        .route("/open", post(open))
        .route("/plan", post(plan))
        .route("/save/job", post(save_job))
        .route("/save/shop", post(save_shop))
        .route("/sheet", post(sheet))
        .route("/stock", post(stock))
        .route("/stock/page", post(stock_page))
        .route("/working", post(working))
        .route("/working/{set_up}", post(working_page))
        .route("/page.js", get(|| text("text/javascript; charset=utf-8", SCRIPT.to_string())))
        .route("/page.css", get(|| text("text/css; charset=utf-8", format!("{}\n{STYLE}", drawing::PAGE_STYLE))))
        .fallback(|| refused(StatusCode::NOT_FOUND, "Not here", "There is nothing under this address."))
        .method_not_allowed_fallback(|| {
            refused(StatusCode::METHOD_NOT_ALLOWED, "Not so", "This address is not asked in this way.")
        })
        .layer(DefaultBodyLimit::max(MOST_BYTES))
        .layer(from_fn(guard))
}

/// Serves until Ctrl-C. The listener decides where; it should be a loopback one.
pub fn serve(listener: TcpListener) -> io::Result<()> {
    /// Plans worked on at a time; a browser drops the answers that it no longer waits for.
    const AT_A_TIME: usize = 2;
    listener.set_nonblocking(true)?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(AT_A_TIME)
        .enable_all()
        .build()?;
    let served = runtime.block_on(async {
        let listener = tokio::net::TcpListener::from_std(listener)?;
        let stopped = tokio::signal::ctrl_c();
        let server = axum::serve(listener, router());
        tokio::select! {
            done = async { server.await } => done,
            stopped = stopped => stopped,
        }
    });
    // A plan that is still worked on must not hold up the end.
    runtime.shutdown_background();
    served
}

async fn text(kind: &'static str, text: String) -> Response {
    ([(header::CONTENT_TYPE, kind)], text).into_response()
}

async fn refused(status: StatusCode, title: &'static str, says: &'static str) -> Response {
    (status, view::refusal(title, says)).into_response()
}

async fn first() -> Response {
    page(Texts::demo()).await
}

async fn posted(form: Result<Form<BTreeMap<String, String>>, FormRejection>) -> Response {
    match form {
        Ok(Form(form)) => page(Texts::posted(form)).await,
        Err(why) => not_read(why.status()),
    }
}

/// A file, job or shop; the other one stays.
async fn open(multipart: Result<Multipart, MultipartRejection>) -> Response {
    let mut multipart = match multipart {
        Ok(multipart) => multipart,
        Err(why) => return not_read(why.status()),
    };
    let mut parts: BTreeMap<String, String> = BTreeMap::new();
    loop {
        match multipart.next_field().await {
            Ok(None) => break,
            Ok(Some(field)) => {
                let name = field.name().unwrap_or_default().to_string();
                match field.bytes().await.map(|bytes| String::from_utf8(bytes.to_vec())) {
                    Ok(Ok(text)) => parts.insert(name, text),
                    Ok(Err(_)) => {
                        return refused(
                            StatusCode::UNPROCESSABLE_ENTITY,
                            "Not read",
                            "The file is not UTF-8 text; save it as UTF-8 and open it again.",
                        )
                        .await;
                    }
                    Err(why) => return not_read(why.status()),
                };
            }
            Err(why) => return not_read(why.status()),
        }
    }
    let file = parts.remove("file").unwrap_or_default();
    let into = if is_shop(&file) { "shop" } else { "job" };
    if !file.trim().is_empty() {
        parts.insert(into.to_string(), file);
    }
    page(Texts::posted(parts)).await
}

/// Whether a text is of a shop: it has tables that only a shop has.
fn is_shop(text: &str) -> bool {
    text.lines().any(|line| {
        ["[[lathe]]", "[[chuck]]", "[[tool]]", "[[gauge]]"].iter().any(|of| line.trim_start().starts_with(of))
    })
}

async fn plan(body: Result<Bytes, BytesRejection>) -> Response {
    match asked(body) {
        Ok(mut asked) => {
            let seen = std::mem::take(&mut asked.seen);
            answer(Texts::asked(asked), seen).await.unwrap_or_else(failed)
        }
        Err(why) => said(why),
    }
}

/// The bars that the shop lists side by side, for the script to put in their place.
async fn stock(body: Result<Bytes, BytesRejection>) -> Response {
    match asked(body) {
        Ok(asked) => {
            let texts = Texts::asked(asked);
            let work = tokio::task::spawn_blocking(move || {
                let html = view::bars(&compared(&texts)).0;
                Json(json!({ "html": html })).into_response()
            });
            work.await.unwrap_or_else(|_| failed())
        }
        Err(why) => said(why),
    }
}

/// The same as a page of its own.
async fn stock_page(form: Result<Form<BTreeMap<String, String>>, FormRejection>) -> Response {
    let Form(form) = match form {
        Ok(form) => form,
        Err(why) => return not_read(why.status()),
    };
    let texts = Texts::posted(form);
    let work = tokio::task::spawn_blocking(move || view::bars_page(&compared(&texts)).into_response());
    work.await.unwrap_or_else(|_| failed())
}

/// The workings of a set-up, for the script to put in their place.
async fn working(body: Result<Bytes, BytesRejection>) -> Response {
    match asked(body) {
        Ok(asked) => {
            let set_up = asked.set_up;
            worked(Texts::asked(asked), move |_, planned| {
                let html = planned.plan.as_ref().map(|plan| view::workings(plan, set_up).0);
                Json(json!({ "html": html })).into_response()
            })
            .await
        }
        Err(why) => said(why),
    }
}

/// The same as a page of its own.
async fn working_page(
    set_up: Result<Path<u32>, PathRejection>,
    form: Result<Form<BTreeMap<String, String>>, FormRejection>,
) -> Response {
    let Ok(Path(set_up)) = set_up else {
        let says = "A set-up is named by its number, as in /working/1.";
        return refused(StatusCode::BAD_REQUEST, "No such set-up", says).await;
    };
    let form = match form {
        Ok(Form(form)) => form,
        Err(why) => return not_read(why.status()),
    };
    worked(Texts::posted(form), move |_, planned| match &planned.plan {
        Some(plan) if set_up as usize > plan.set_ups.len() => {
            let says = format!("There is no set-up {set_up}: the plan has {}.", several(plan.set_ups.len(), "set-up"));
            (StatusCode::NOT_FOUND, view::refusal("No such set-up", &says)).into_response()
        }
        Some(plan) => view::working_page(plan, set_up).into_response(),
        None => no_plan("There is no plan to work out yet: mend what the page lists first."),
    })
    .await
}

fn no_plan(says: &str) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, view::refusal("Not yet", says)).into_response()
}

/// What the script asks, or why it is not read.
fn asked(body: Result<Bytes, BytesRejection>) -> Result<Asked, (StatusCode, String)> {
    let body = body.map_err(|why| (why.status(), too_large_or(why.status())))?;
    serde_json::from_slice(&body)
        .map_err(|why| (StatusCode::UNPROCESSABLE_ENTITY, format!("The request is not what this page asks: {why}.")))
}

fn said((status, says): (StatusCode, String)) -> Response {
    (status, Json(json!({ "says": says }))).into_response()
}

async fn save_job(form: Result<Form<BTreeMap<String, String>>, FormRejection>) -> Response {
    save(form, |texts| (texts.job, "job.toml"))
}

async fn save_shop(form: Result<Form<BTreeMap<String, String>>, FormRejection>) -> Response {
    save(form, |texts| (texts.shop, "shop.toml"))
}

fn save(
    form: Result<Form<BTreeMap<String, String>>, FormRejection>,
    which: fn(Texts) -> (String, &'static str),
) -> Response {
    match form {
        Ok(Form(form)) => {
            let (text, name) = which(Texts::posted(form));
            let name = format!("attachment; filename=\"{name}\"");
            let kind = "application/toml; charset=utf-8".to_string();
            ([(header::CONTENT_TYPE, kind), (header::CONTENT_DISPOSITION, name)], text).into_response()
        }
        Err(why) => not_read(why.status()),
    }
}

/// The sheet of the job as PDF, in the browser's own window.
async fn sheet(form: Result<Form<BTreeMap<String, String>>, FormRejection>) -> Response {
    let Form(mut form) = match form {
        Ok(form) => form,
        Err(why) => return not_read(why.status()),
    };
    let paper = match form.remove("paper").as_deref() {
        None | Some("a4") => Paper::A4,
        Some("letter") => Paper::Letter,
        Some(_) => {
            let says = "There is no such paper here: a4 or letter is read.";
            return refused(StatusCode::UNPROCESSABLE_ENTITY, "No such paper", says).await;
        }
    };
    let date = form.remove("date").filter(|date| !date.trim().is_empty());
    let setting = Setting { paper, date, without_working: form.remove("without_working").is_some() };
    let texts = Texts::posted(form);
    worked(texts, move |_, planned| match &planned.plan {
        Some(plan) => printed(plan, &setting),
        None => no_plan("There is no plan to print yet: mend what the page lists first."),
    })
    .await
}

fn printed(plan: &Plan, setting: &Setting) -> Response {
    match ::sheet::pdf(std::slice::from_ref(plan), setting) {
        Ok(pdf) => {
            let kind = "application/pdf";
            let name = "inline; filename=\"sheet.pdf\"";
            ([(header::CONTENT_TYPE, kind), (header::CONTENT_DISPOSITION, name)], pdf).into_response()
        }
        Err(why) => (StatusCode::INTERNAL_SERVER_ERROR, view::refusal("No sheet", &format!("{why}."))).into_response(),
    }
}

fn not_read(status: StatusCode) -> Response {
    (status, view::refusal("Not read", &too_large_or(status))).into_response()
}

fn too_large_or(status: StatusCode) -> String {
    match status {
        StatusCode::PAYLOAD_TOO_LARGE => {
            format!("That is more than {} MB; a job and a shop are pages of text.", MOST_BYTES / 1024 / 1024)
        }
        _ => "What was sent cannot be read.".to_string(),
    }
}

async fn page(texts: Texts) -> Response {
    worked(texts, |texts, planned| view::document(texts, planned).into_response()).await
}

/// Plans away from the threads that answer.
async fn worked(texts: Texts, show: impl FnOnce(&Texts, &Planned) -> Response + Send + 'static) -> Response {
    let work = tokio::task::spawn_blocking(move || show(&texts, &planned(&texts).and_weighed()));
    work.await.unwrap_or_else(|_| failed())
}

fn failed() -> Response {
    let says = "Planning this job failed: a fault of Turnwright. Keep the job's text, please, and report it.";
    (StatusCode::INTERNAL_SERVER_ERROR, view::refusal("A fault of ours", says)).into_response()
}
