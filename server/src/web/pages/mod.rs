//! The web pages: static shells, and the modules and styles that draw the views.
//!
//! There is no inline script or style anywhere, so the policy of every page can forbid both.

mod assets;
mod joined;
mod language;
mod shell;
#[cfg(test)]
mod tests;

use axum::{
    Router,
    extract::Path,
    http::{
        HeaderMap, HeaderName, HeaderValue, StatusCode,
        header::{
            CACHE_CONTROL, CONTENT_SECURITY_POLICY, CONTENT_TYPE, REFERRER_POLICY, VARY,
            X_CONTENT_TYPE_OPTIONS,
        },
    },
    middleware::map_response,
    response::{IntoResponse, Response},
    routing::get,
};
use maud::Markup;
use turnabout_protocol::text::Language;

/// What a page may do: load its own modules and styles, talk to its own server, and nothing else.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; \
                      img-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'; \
                      frame-ancestors 'none'";

/// The name of an asset's folder is a hash of its content, so the content never changes.
const FOR_EVER: &str = "public, max-age=31536000, immutable";

/// `/`, `/coach`, `/board`, the sheets of paper (`/incident`, `/summary`, `/session`, `/briefing`), `/programme` and
/// their files under `/assets/{hash}/`, each with the headers of a careful page.
pub fn routes() -> Router {
    Router::new()
        .route("/", get(|headers: HeaderMap| async move { page(&headers, shell::index) }))
        .route("/coach", get(|headers: HeaderMap| async move { page(&headers, shell::coach) }))
        .route("/board", get(|headers: HeaderMap| async move { page(&headers, shell::board) }))
        .route("/incident", get(|headers: HeaderMap| async move { page(&headers, shell::incident) }))
        .route("/programme", get(|headers: HeaderMap| async move { page(&headers, shell::programme) }))
        .route("/summary", get(|headers: HeaderMap| async move { page(&headers, shell::summary) }))
        .route("/session", get(|headers: HeaderMap| async move { page(&headers, shell::session) }))
        .route("/briefing", get(|headers: HeaderMap| async move { page(&headers, shell::briefing) }))
        .route("/assets/{folder}/{name}", get(asset))
        .route("/assets/{folder}/{page}/{name}", get(script))
        .layer(map_response(guard))
}

fn page(headers: &HeaderMap, shell: fn(Language) -> Markup) -> Response {
    let body = shell(language::asked(headers)).into_string();
    let head = [
        (CONTENT_TYPE, "text/html; charset=utf-8"),
        // A shell names the folder of its assets: one from yesterday would name one that is gone.
        (CACHE_CONTROL, "no-cache"),
        (VARY, "accept-language"),
    ];
    (head, body).into_response()
}

async fn asset(Path((folder, name)): Path<(String, String)>) -> Response {
    match assets::find(&folder, &name) {
        Some(asset) => ([(CONTENT_TYPE, asset.media), (CACHE_CONTROL, FOR_EVER)], asset.body).into_response(),
        None => StatusCode::NOT_FOUND.into_response(),
    }
}

async fn script(Path((folder, page, name)): Path<(String, String, String)>) -> Response {
    match joined::find(&folder, &page, &name) {
        Some(body) => ([(CONTENT_TYPE, assets::SCRIPT), (CACHE_CONTROL, FOR_EVER)], body).into_response(),
        None => StatusCode::NOT_FOUND.into_response(),
    }
}

async fn guard(mut response: Response) -> Response {
    let guards: [(HeaderName, &'static str); 3] = [
        (CONTENT_SECURITY_POLICY, POLICY),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (REFERRER_POLICY, "no-referrer"),
    ];
    for (name, value) in guards {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    response
}
