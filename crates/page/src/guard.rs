//! Who may ask: browsers on this machine that look at this page, and nobody else.

use axum::extract::Request;
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use crate::view;

/// Nothing from elsewhere, nothing inline, no frame round it.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; \
                      connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// A page that names no referrer at all posts its forms with the origin `null`, which is a stranger's.
const SAME: &str = "same-origin";

/// Refuses what does not come from this machine's own page, and says with every answer what it may load.
pub async fn guard(request: Request, next: Next) -> Response {
    let mut response = match stranger(request.headers()) {
        Some(says) => (StatusCode::FORBIDDEN, view::refusal("Not from here", &says)).into_response(),
        None => next.run(request).await,
    };
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, SAME),
        (header::CACHE_CONTROL, "no-store"),
        (HeaderName::from_static("cross-origin-resource-policy"), SAME),
        (HeaderName::from_static("cross-origin-opener-policy"), SAME),
    ] {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    response
}

/// Why the asker is a stranger; `None`: it is this page, or somebody typed the address.
fn stranger(headers: &HeaderMap) -> Option<String> {
    let Some(host) = text(headers, &header::HOST) else {
        return Some("The request names no host.".to_string());
    };
    if !is_loopback(host) {
        return Some(
            "This page answers only under the address of this machine itself: 127.0.0.1 or localhost.".to_string(),
        );
    }
    let origin = headers.get(header::ORIGIN)?.to_str().unwrap_or_default();
    (origin != format!("http://{host}"))
        .then(|| "The request comes from another page; only this page may ask.".to_string())
}

fn text<'h>(headers: &'h HeaderMap, name: &HeaderName) -> Option<&'h str> {
    headers.get(name)?.to_str().ok()
}

/// A host name, with or without port, that means this machine.
fn is_loopback(host: &str) -> bool {
    let (name, port) = match host.rsplit_once(':') {
        Some((name, port)) if !port.contains(']') => (name, port),
        _ => (host, ""),
    };
    let known = ["127.0.0.1", "localhost", "[::1]"];
    known.iter().any(|known| name.eq_ignore_ascii_case(known)) && port.bytes().all(|byte| byte.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_names_of_this_machine_are_loopback() {
        for host in ["127.0.0.1", "127.0.0.1:7070", "localhost:80", "LOCALHOST", "[::1]:7070", "[::1]"] {
            assert!(is_loopback(host), "{host}");
        }
        for host in
            ["", "example.org", "127.0.0.1.example.org", "localhost.example.org:80", "10.0.0.1", "[::1]x", "a:b"]
        {
            assert!(!is_loopback(host), "{host}");
        }
    }
}
