//! The programme as a coach's page shows it, changes it and sends it back: the same shape and the same rules as a
//! programme file (`crate::setup`), over HTTP because it is larger than a frame.
//!
//! Pages of this server alone may ask, as for everything about people (`super::reading`).

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{DefaultBodyLimit, Path, RawQuery, State};
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use tokio::sync::SemaphorePermit;
use tokio::task::spawn_blocking;
use tokio::time::{Duration, timeout};
use turnabout_protocol::ids::{GroupId, Key};

use super::app::App;
use super::declined::{Declined, Set, Told};
use super::problem::Problem;
use super::programme_floor::{FloorPart, floor_part};
use super::reading::is_own;
use crate::live::{Entered, EntryIn, EveningNow};
use crate::setup::{self, ProgrammeFile};

/// How long the floor may take to say what the programme is.
const WITHIN: Duration = Duration::from_secs(1);
/// How long somebody waits while others' programmes are read.
const READ_WITHIN: Duration = Duration::from_secs(5);
/// How long it may take until a programme is on disk: a disk that is slower than that is told as one that is in trouble.
const SAVED_WITHIN: Duration = Duration::from_secs(10);
/// Bytes of a body: a programme as large as a file may be.
#[expect(clippy::cast_possible_truncation, reason = "1 MiB, in a constant")]
const BODY: usize = setup::limits::FILE_BYTES as usize;
/// Bytes that are read before a body is said to be too large: whoever is cut off while sending hears nothing of it.
pub(super) const READ: usize = 2 * BODY;
/// The query of whoever only wants to know what would come of it.
const DRY_RUN: &str = "dry-run";

/// `/coaches/{key}/programme`.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new().route("/coaches/{key}/programme", get(show).post(enter)).layer(DefaultBodyLimit::max(READ))
}

/// What a page is shown.
#[derive(Serialize)]
struct Shown<'a> {
    revision: u64,
    /// Which coach set it, and when; absent where it is a file's.
    #[serde(skip_serializing_if = "Option::is_none")]
    set: Option<Set>,
    /// Groups whose part must stay as it is: they have begun.
    begun: Vec<GroupId>,
    programme: Value,
    floor: FloorPart<'a>,
}

async fn show(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    Path(key): Path<String>,
) -> Result<Response, Problem> {
    who(&app, &headers, &key)?;
    let EveningNow { programme, names, revision, set, begun } = evening(&app).await?;
    let programme = setup::document_of(&programme, &names, &app.hall);
    let floor = floor_part(&app.hall, &app.people);
    Ok(plainly(&Shown { revision, set: set.map(Set::from), begun, programme, floor }))
}

/// What a page sends.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Sent {
    revision: u64,
    programme: Value,
}

async fn enter(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    Path(key): Path<String>,
    RawQuery(query): RawQuery,
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, Declined> {
    let coach = who(&app, &headers, &key)?;
    let body = whole(body)?;
    let dry_run = match query.as_deref() {
        None => false,
        Some(DRY_RUN) => true,
        Some(_) => return Err(Problem::NotFound.into()),
    };
    let _permit = permit(&app).await?;
    let hall = Arc::clone(&app.hall);
    // Reading may take a while for a large programme: not on a thread that sockets wait for.
    let read = spawn_blocking(move || {
        let Sent { revision, programme } =
            serde_json::from_slice(&body).map_err(|_| Problem::NotAProgramme)?;
        let file = setup::parse_entered(&programme, &hall).map_err(Declined::Mistakes)?;
        Ok::<_, Declined>((revision, file))
    });
    let (revision, file) = read.await.map_err(|_| Problem::FloorGone)??;
    let hints = file.hints.iter().map(Told::of).collect();
    let Taken { revision, differs } = hand_in(&app, coach, revision, file, dry_run).await?;
    Ok(plainly(&Answer { revision, differs, hints }))
}

/// What is answered where a programme is taken, or could be.
#[derive(Serialize)]
struct Answer {
    /// Its revision; in a dry run the one there is.
    revision: u64,
    /// Whether anything differs from what there was.
    differs: bool,
    /// What is no mistake and still asks for a second look.
    hints: Vec<Told>,
}

/// A programme was taken, or could be.
pub(super) struct Taken {
    pub(super) revision: u64,
    pub(super) differs: bool,
}

/// Gives a programme without mistakes to the floor.
pub(super) async fn hand_in(
    app: &App,
    coach: Key,
    revision: u64,
    file: ProgrammeFile,
    dry_run: bool,
) -> Result<Taken, Declined> {
    let ProgrammeFile { programme, names, hints: _ } = file;
    let entry = EntryIn { coach, programme, names, revision, dry_run };
    let entered = timeout(SAVED_WITHIN, app.floor.enter(entry)).await.map_err(|_| Problem::FloorGone)??;
    match entered {
        Entered::Taken { revision, differs } => Ok(Taken { revision, differs }),
        Entered::Changed(set) => Err(Declined::Changed(set)),
        Entered::InUse(uses) => Err(Declined::InUse(uses)),
        Entered::NoCoach => Err(Problem::NotFound.into()),
        Entered::Busy => Err(Problem::Busy.into()),
        Entered::NotSaving(trouble) => Err(Problem::NotSaving(trouble).into()),
        Entered::Unsound => Err(Problem::Internal.into()),
    }
}

/// An answer that no browser keeps: it has names in it.
pub(super) fn plainly(answer: &impl Serialize) -> Response {
    let body = serde_json::to_string(answer).expect("an answer is plain JSON");
    let head = [
        (header::CONTENT_TYPE, HeaderValue::from_static("application/json")),
        (header::CACHE_CONTROL, HeaderValue::from_static("no-store")),
    ];
    (head, body).into_response()
}

/// The programme that the floor has.
pub(super) async fn evening(app: &App) -> Result<EveningNow, Problem> {
    Ok(timeout(WITHIN, app.floor.evening()).await.map_err(|_| Problem::FloorGone)??)
}

/// The body, if it is no larger than a programme may be.
pub(super) fn whole(body: Result<Bytes, BytesRejection>) -> Result<Bytes, Problem> {
    body.ok().filter(|body| body.len() <= BODY).ok_or(Problem::TooLarge)
}

/// Waits until nobody else's programme is being read.
pub(super) async fn permit(app: &App) -> Result<SemaphorePermit<'_>, Problem> {
    let permit = timeout(READ_WITHIN, app.entering.acquire()).await.map_err(|_| Problem::Busy)?;
    permit.map_err(|_| Problem::Busy)
}

/// The coach who asks.
pub(super) fn who(app: &App, headers: &HeaderMap, key: &str) -> Result<Key, Problem> {
    if !is_own(app, headers) {
        return Err(Problem::Foreign);
    }
    let coach: Key = key.parse().map_err(|_| Problem::NotFound)?;
    app.hall.coach(&coach).ok_or(Problem::NotFound)?;
    Ok(coach)
}
