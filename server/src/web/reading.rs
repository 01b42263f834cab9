//! What a coach's page reads beside its view: all notes, one note to print, a client's sets.
//!
//! Until coaches sign in, the address says which coach it is, as `hello` does on the socket. Texts of notes are for
//! coaches alone, so only pages of this server get them: a page of another origin is kept from reading an answer by
//! the browser, and one whose name was made to resolve to this machine names a host that is not ours.

use std::sync::Arc;

use axum::Router;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use tokio::time::{Duration, timeout};
use turnabout_protocol::ids::{ClientId, GroupId, Key, NoteId};

use super::app::App;
use super::problem::Problem;
use crate::live::{Asked, Question};

/// How long the floor may take to answer.
const WITHIN: Duration = Duration::from_secs(1);

/// `/coaches/{key}/notes`, `/coaches/{key}/notes/{note}`, `/coaches/{key}/groups/{group}/clients/{client}/sets`.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new()
        .route("/coaches/{key}/notes", get(all_notes))
        .route("/coaches/{key}/notes/{note}", get(one_note))
        .route("/coaches/{key}/groups/{group}/clients/{client}/sets", get(sets))
}

type Answer = Result<Response, Problem>;

async fn all_notes(State(app): State<Arc<App>>, headers: HeaderMap, Path(key): Path<String>) -> Answer {
    ask(&app, &headers, &key, Asked::Notes).await
}

async fn one_note(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    Path((key, note)): Path<(String, String)>,
) -> Answer {
    let note = note.parse().map_err(|_| Problem::NotFound)?;
    ask(&app, &headers, &key, Asked::Note(NoteId(note))).await
}

async fn sets(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    Path((key, group, client)): Path<(String, String, String)>,
) -> Answer {
    let group = group.parse().map_err(|_| Problem::NotFound)?;
    let client = client.parse().map_err(|_| Problem::NotFound)?;
    ask(&app, &headers, &key, Asked::Sets(GroupId(group), ClientId(client))).await
}

async fn ask(app: &App, headers: &HeaderMap, key: &str, about: Asked) -> Answer {
    if !is_own(app, headers) {
        return Err(Problem::Foreign);
    }
    let coach: Key = key.parse().map_err(|_| Problem::NotFound)?;
    let told = timeout(WITHIN, app.floor.ask_about(Question { coach, about }));
    let told = told.await.map_err(|_| Problem::FloorGone)??.ok_or(Problem::NotFound)?;
    let body = serde_json::to_string(&told).expect("an answer is plain JSON");
    let head = [
        (header::CONTENT_TYPE, HeaderValue::from_static("application/json")),
        // A text that is erased here must not live on in a browser's cache.
        (header::CACHE_CONTROL, HeaderValue::from_static("no-store")),
    ];
    Ok((head, body).into_response())
}

/// Whether a page of this server asks, or no page at all: by the host it names, and by the origin where it says one.
pub(super) fn is_own(app: &App, headers: &HeaderMap) -> bool {
    let host = |own: &String, host: &HeaderValue| own.strip_prefix("http://") == host.to_str().ok();
    let named = headers.get(header::HOST);
    let ours = named.is_some_and(|named| app.origins.iter().any(|own| host(own, named)));
    let mut origins = headers.get_all(header::ORIGIN).iter();
    ours && origins.all(|origin| app.origins.iter().any(|own| own.as_bytes() == origin.as_bytes()))
}
