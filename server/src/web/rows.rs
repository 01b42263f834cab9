//! A table of clients or sessions that a coach's page sends: what becomes of every row, and taking those that are good.

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::extract::rejection::{BytesRejection, QueryRejection};
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::HeaderMap;
use axum::response::Response;
use axum::routing::post;
use serde::{Deserialize, Serialize};
use tokio::task::spawn_blocking;
use turnabout_protocol::entry;

use super::app::App;
use super::declined::{Declined, Told};
use super::problem::Problem;
use super::programme::{READ, Taken, evening, hand_in, permit, plainly, who, whole};
use crate::setup::rows::{Fate, Kind, Reason, RowFate, Table, read_table};

/// `/coaches/{key}/programme/csv`.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new().route("/coaches/{key}/programme/csv", post(rows)).layer(DefaultBodyLimit::max(READ))
}

/// What is to be done with a table.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Asked {
    /// The revision that the coach saw; absent where nothing is taken yet.
    revision: Option<u64>,
    /// Only looked at: what would become of every row.
    dry_run: Option<String>,
    /// Which rows are taken.
    #[serde(default)]
    take: Take,
}

#[derive(Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Take {
    /// All or none.
    #[default]
    All,
    /// Those that are not refused.
    Good,
}

/// What became of a table, or would.
#[derive(Serialize)]
struct Answer {
    /// What its rows are.
    kind: &'static str,
    /// Every row, in order.
    rows: Vec<Row>,
    /// How many rows are not refused.
    good: usize,
    /// The programme's revision, as it was when the rows were looked at, or as it is with them.
    revision: u64,
    /// Whether the rows were taken.
    taken: bool,
    /// What keeps even the good rows from being taken: it is in no row.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    mistakes: Vec<Told>,
}

#[derive(Serialize)]
struct Row {
    line: u64,
    #[serde(flatten)]
    fate: Said,
}

#[derive(Serialize)]
#[serde(tag = "fate", rename_all = "snake_case")]
enum Said {
    New,
    Changed { columns: Vec<&'static str> },
    Same,
    Refused { reasons: Vec<Why> },
}

#[derive(Serialize)]
struct Why {
    /// Empty where it is about the row as a whole.
    column: String,
    #[serde(flatten)]
    told: entry::Told,
}

impl From<RowFate> for Row {
    fn from(RowFate { line, fate }: RowFate) -> Self {
        let why = |Reason { column, why }| Why { column, told: why.on_page() };
        let fate = match fate {
            Fate::New => Said::New,
            Fate::Changed(columns) => Said::Changed { columns },
            Fate::Same => Said::Same,
            Fate::Refused(reasons) => Said::Refused { reasons: reasons.into_iter().map(why).collect() },
        };
        Self { line, fate }
    }
}

async fn rows(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    Path(key): Path<String>,
    asked: Result<Query<Asked>, QueryRejection>,
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, Declined> {
    let coach = who(&app, &headers, &key)?;
    let Ok(Query(Asked { revision, dry_run, take })) = asked else { return Err(Problem::NotFound.into()) };
    let body = whole(body)?;
    let _permit = permit(&app).await?;
    let now = evening(&app).await?;
    let seen = now.revision;
    let hall = Arc::clone(&app.hall);
    let read = spawn_blocking(move || read_table(&body, &now.programme, &now.names, &now.begun, &hall));
    let table = read.await.map_err(|_| Problem::Internal)?.map_err(Declined::Sheet)?;
    let all_good = table.is_whole();
    let Table { kind, rows, file } = table;
    let rows: Vec<Row> = rows.into_iter().map(Row::from).collect();
    let good = rows.iter().filter(|row| !matches!(row.fate, Said::Refused { .. })).count();
    let kind = match kind {
        Kind::Clients => "clients",
        Kind::Sessions => "sessions",
    };
    let mut answer = Answer { kind, rows, good, revision: seen, taken: false, mistakes: Vec::new() };
    match file {
        Err(found) => answer.mistakes = found.list().iter().map(Told::of).collect(),
        // Which rows are good was looked at on what the floor has now; the coach must have seen that too.
        Ok(file) => {
            let dry_run = dry_run.is_some() || (take == Take::All && !all_good);
            let revision = revision.unwrap_or(seen);
            let Taken { revision, .. } = hand_in(&app, coach, revision, file, dry_run).await?;
            answer.revision = revision;
            answer.taken = !dry_run;
        }
    }
    Ok(plainly(&answer))
}
