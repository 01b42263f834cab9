//! Asks a server which stations there are: one question over HTTP.

use std::time::Duration;

use http_body_util::{BodyExt, Empty, Limited};
use hyper::body::Bytes;
use hyper::client::conn::http1::handshake;
use hyper::header::{AUTHORIZATION, HOST};
use hyper::{Request, StatusCode, Uri};
use hyper_util::rt::TokioIo;
use serde::Deserialize;
use tokio::net::TcpStream;
use tokio::time::timeout;
use turnabout_protocol::ids::Key;

use super::{Named, NoAnswer};
use crate::link::token::Token;
use crate::settings::Server;

/// How long a server may take: somebody stands there and waits.
pub const PATIENCE: Duration = Duration::from_secs(4);
/// Bytes of an answer: a thousand stations.
const MOST: usize = 256 * 1_024;
/// Where a server says what a display can be set to.
const PATH: &str = "/floor.json";

/// The part of the answer that a kiosk asks for.
#[derive(Deserialize)]
struct Floor {
    stations: Vec<Station>,
}

#[derive(Deserialize)]
struct Station {
    key: Key,
    name: String,
}

/// The stations of a server, in its order, as it tells them whom it knows by this token.
///
/// # Errors
/// If nobody is there in time, or somebody who is no such server, or one that tells only displays that it knows.
pub async fn stations(server: &Server, token: Option<&Token>) -> Result<Vec<Named>, NoAnswer> {
    timeout(PATIENCE, ask(server, token)).await.map_err(|_| NoAnswer::Unreachable)?
}

async fn ask(server: &Server, token: Option<&Token>) -> Result<Vec<Named>, NoAnswer> {
    let uri: Uri = server.url().parse().map_err(|_| NoAnswer::Unreachable)?;
    let host = uri.authority().ok_or(NoAnswer::Unreachable)?;
    let port = host.port_u16().unwrap_or(80);
    // Brackets belong to the address and not to the number in it.
    let name = host.host().trim_start_matches('[').trim_end_matches(']');
    let stream = TcpStream::connect((name, port)).await.map_err(|_| NoAnswer::Unreachable)?;
    let (mut sender, connection) = handshake(TokioIo::new(stream)).await.map_err(|_| NoAnswer::Stranger)?;
    let mut question = Request::get(PATH).header(HOST, host.as_str());
    if let Some(token) = token {
        question = question.header(AUTHORIZATION, token.bearer());
    }
    let question = question.body(Empty::<Bytes>::new()).map_err(|_| NoAnswer::Unreachable)?;
    // Whoever asks takes the sender along: without one the connection is over.
    let answer = async move {
        let answer = sender.send_request(question).await.map_err(|_| NoAnswer::Stranger)?;
        match answer.status() {
            StatusCode::OK => {}
            StatusCode::UNAUTHORIZED | StatusCode::FORBIDDEN => return Err(NoAnswer::NotLetIn),
            _ => return Err(NoAnswer::Stranger),
        }
        let body = Limited::new(answer.into_body(), MOST).collect().await.map_err(|_| NoAnswer::Stranger)?;
        let floor: Floor = serde_json::from_slice(&body.to_bytes()).map_err(|_| NoAnswer::Stranger)?;
        Ok(floor.stations.into_iter().map(|station| Named { key: station.key, name: station.name }).collect())
    };
    let (answer, _) = tokio::join!(answer, connection);
    answer
}
