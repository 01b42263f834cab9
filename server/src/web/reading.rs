//! What a coach's pages read beside the view: all notes, one note to print, a client's sets, and the sheets of a group.
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
use super::sets_csv;
use crate::floor::views::summary::Whose;
use crate::live::{Asked, Question, Told};

/// How long the floor may take to answer.
const WITHIN: Duration = Duration::from_secs(1);

/// `/coaches/{key}/notes`, `/coaches/{key}/notes/{note}`, and under `/coaches/{key}/groups/{group}`
/// `clients/{client}/sets` and the sheets of the group: `summary`, `summary/coach`, `session`, `briefing`, `sets.csv`.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new()
        .route("/coaches/{key}/notes", get(all_notes))
        .route("/coaches/{key}/notes/{note}", get(one_note))
        .route("/coaches/{key}/groups/{group}/clients/{client}/sets", get(sets))
        .route("/coaches/{key}/groups/{group}/{sheet}", get(sheet))
        .route("/coaches/{key}/groups/{group}/summary/coach", get(coachs_summary))
        .route("/coaches/{key}/groups/{group}/sets.csv", get(sets_as_csv))
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

async fn sheet(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    Path((key, group, sheet)): Path<(String, String, String)>,
) -> Answer {
    let group = GroupId(group.parse().map_err(|_| Problem::NotFound)?);
    let about = match sheet.as_str() {
        "summary" => Asked::Summary(group, Whose::Clients),
        "session" => Asked::Session(group),
        "briefing" => Asked::Briefing(group),
        _ => return Err(Problem::NotFound),
    };
    ask(&app, &headers, &key, about).await
}

async fn coachs_summary(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    Path((key, group)): Path<(String, String)>,
) -> Answer {
    let group = GroupId(group.parse().map_err(|_| Problem::NotFound)?);
    ask(&app, &headers, &key, Asked::Summary(group, Whose::Coach)).await
}

async fn sets_as_csv(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    Path((key, group)): Path<(String, String)>,
) -> Answer {
    let group = GroupId(group.parse().map_err(|_| Problem::NotFound)?);
    match told(&app, &headers, &key, Asked::Summary(group, Whose::Clients)).await? {
        Told::Summary(sheet) => {
            Ok(answer(sets_csv::MEDIA, sets_csv::file(&sheet), Some(&sets_csv::name(&sheet))))
        }
        Told::Notes(_) | Told::Note(_) | Told::Sets(_) | Told::Session(_) | Told::Briefing(_) => {
            Err(Problem::NotFound)
        }
    }
}

async fn ask(app: &App, headers: &HeaderMap, key: &str, about: Asked) -> Answer {
    let told = told(app, headers, key, about).await?;
    let body = serde_json::to_string(&told).expect("an answer is plain JSON");
    Ok(answer("application/json", body, None))
}

async fn told(app: &App, headers: &HeaderMap, key: &str, about: Asked) -> Result<Told, Problem> {
    if !is_own(app, headers) {
        return Err(Problem::Foreign);
    }
    let coach: Key = key.parse().map_err(|_| Problem::NotFound)?;
    let told = timeout(WITHIN, app.floor.ask_about(Question { coach, about }));
    told.await.map_err(|_| Problem::FloorGone)??.ok_or(Problem::NotFound)
}

/// A body that no browser keeps; one with a name is a file to be saved.
fn answer(media: &'static str, body: String, file: Option<&str>) -> Response {
    let head = [
        (header::CONTENT_TYPE, HeaderValue::from_static(media)),
        // A text that is erased here must not live on in a browser's cache.
        (header::CACHE_CONTROL, HeaderValue::from_static("no-store")),
    ];
    let mut response = (head, body).into_response();
    let saved = file.and_then(|name| HeaderValue::try_from(format!("attachment; filename=\"{name}\"")).ok());
    if let Some(saved) = saved {
        response.headers_mut().insert(header::CONTENT_DISPOSITION, saved);
    }
    response
}

/// Whether a page of this server asks, or no page at all: by the host it names, and by the origin where it says one.
pub(super) fn is_own(app: &App, headers: &HeaderMap) -> bool {
    let host = |own: &String, host: &HeaderValue| own.strip_prefix("http://") == host.to_str().ok();
    let named = headers.get(header::HOST);
    let ours = named.is_some_and(|named| app.origins.iter().any(|own| host(own, named)));
    let mut origins = headers.get_all(header::ORIGIN).iter();
    ours && origins.all(|origin| app.origins.iter().any(|own| own.as_bytes() == origin.as_bytes()))
}
