//! Every route of the server, in one place.

use std::sync::{Arc, LazyLock};

use axum::extract::rejection::JsonRejection;
use axum::extract::{DefaultBodyLimit, Path, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{any, get, post};
use axum::{Json, Router};
use serde::{Deserialize, Serialize};
use tokio::time::{Duration, timeout};
use tower_http::compression::CompressionLayer;
use turnabout_protocol::ids::Key;
use turnabout_protocol::refusal::WriteTrouble;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, Millis};

use super::app::App;
use super::problem::Problem;
use super::{pages, programme, reading, rows, socket};
use crate::floor::config::{Floor, Names, Person};

/// Bytes of a request's body: the one body there is is a number.
const BODY: usize = 1_024;
/// How long the floor may take to say how it is.
const HEALTH_WITHIN: Duration = Duration::from_secs(1);
/// The farthest a driven clock moves at once: a day.
const MOST_ADVANCE_MS: i64 = 24 * 3_600 * 1_000;

/// All routes.
pub(super) fn all(app: Arc<App>) -> Router {
    Router::new()
        .route("/health", get(health))
        .route("/socket", any(socket::upgrade))
        .route("/floor.json", get(about))
        .route("/schema/{file}", get(schema))
        .route("/text/{file}", get(text))
        .route("/clock/advance", post(advance))
        .merge(reading::routes())
        .merge(programme::routes())
        .merge(rows::routes())
        .with_state(app)
        .merge(pages::routes())
        .fallback(async || Problem::NotFound)
        .method_not_allowed_fallback(async || Problem::Method)
        .layer(DefaultBodyLimit::max(BODY))
        .layer(axum::middleware::map_response(plainly))
        // A phone at the far end of the hall waits for bytes, not for the server.
        .layer(CompressionLayer::new())
}

/// A browser takes the content for what it is said to be.
async fn plainly(mut response: Response) -> Response {
    let nosniff = HeaderValue::from_static("nosniff");
    response.headers_mut().entry(header::X_CONTENT_TYPE_OPTIONS).or_insert(nosniff);
    response
}

#[derive(Serialize)]
struct HealthBody {
    sequence: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    not_saving: Option<WriteTrouble>,
}

/// 200 as long as the floor answers, also while it cannot write: displays go on.
async fn health(State(app): State<Arc<App>>) -> Result<Json<HealthBody>, Problem> {
    let health = timeout(HEALTH_WITHIN, app.floor.health()).await.map_err(|_| Problem::FloorGone)??;
    Ok(Json(HealthBody { sequence: health.sequence, not_saving: health.writing }))
}

async fn about(State(app): State<Arc<App>>) -> Response {
    as_type("application/json", app.about.clone())
}

async fn schema(Path(file): Path<String>) -> Result<Response, Problem> {
    static FILES: LazyLock<Vec<(&str, String)>> =
        LazyLock::new(|| turnabout_protocol::schema::FILES.map(|(name, make)| (name, make())).into());
    let (_, schema) = FILES.iter().find(|(name, _)| *name == file).ok_or(Problem::NotFound)?;
    Ok(as_type("application/schema+json", schema.as_str()))
}

async fn text(Path(file): Path<String>) -> Result<Response, Problem> {
    let language =
        Language::ALL.into_iter().find(|language| file.strip_suffix(".json") == Some(language.tag()));
    Ok(as_type("application/json", language.ok_or(Problem::NotFound)?.source()))
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Advance {
    by_ms: i64,
}

#[derive(Serialize)]
struct Advanced {
    now: FloorMs,
}

/// Moves a driven clock; on a floor whose clock runs by itself there is no such thing.
async fn advance(
    State(app): State<Arc<App>>,
    body: Result<Json<Advance>, JsonRejection>,
) -> Result<Json<Advanced>, Problem> {
    if app.clock.driven().is_none() {
        return Err(Problem::NotFound);
    }
    let Ok(Json(Advance { by_ms })) = body else { return Err(Problem::Body) };
    if !(1..=MOST_ADVANCE_MS).contains(&by_ms) {
        return Err(Problem::Body);
    }
    let now = app.floor.advance(Millis(by_ms)).await?.map_err(Problem::NotSaving)?;
    Ok(Json(Advanced { now }))
}

fn as_type(content_type: &'static str, body: impl IntoResponse) -> Response {
    ([(header::CONTENT_TYPE, content_type)], body).into_response()
}

#[derive(Serialize)]
struct About<'a> {
    name: &'a str,
    coaches: Vec<Named<'a>>,
    stations: Vec<Named<'a>>,
}

#[derive(Serialize)]
struct Named<'a> {
    key: &'a Key,
    name: &'a str,
}

/// What a display can be set to: the floor's stations and coaches.
pub(super) fn describe(floor: &Floor, names: &Names) -> String {
    let coaches = floor.coaches.iter().map(|(id, coach)| {
        let name = names.get(&Person::Coach(*id)).map_or(coach.key.as_str(), String::as_str);
        Named { key: &coach.key, name }
    });
    let stations = floor.stations.values().map(|station| Named { key: &station.key, name: &station.name });
    let about = About { name: &floor.name, coaches: coaches.collect(), stations: stations.collect() };
    serde_json::to_string(&about).expect("names are plain JSON")
}
