//! Just enough of HTTP/1.1 to ask one thing.

use std::net::SocketAddr;

use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;

/// What came back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reply {
    /// The status code.
    pub status: u16,
    /// The head, as it was sent.
    pub head: String,
    /// The body.
    pub body: String,
}

impl Reply {
    /// The value of a header, by its name in lower case.
    pub fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().find_map(|line| {
            let (key, value) = line.split_once(':')?;
            (key.eq_ignore_ascii_case(name)).then_some(value.trim())
        })
    }
}

/// Asks once, on a connection of its own.
pub async fn request(address: SocketAddr, method: &str, path: &str, body: &str) -> Reply {
    let asked = format!(
        "{method} {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    );
    send(address, &asked).await
}

/// Gets once, as a page of some origin does that reached the server by some name.
pub async fn get_as(address: SocketAddr, path: &str, host: &str, origin: Option<&str>) -> Reply {
    let origin = origin.map(|origin| format!("Origin: {origin}\r\n")).unwrap_or_default();
    let asked = format!("GET {path} HTTP/1.1\r\nHost: {host}\r\n{origin}Connection: close\r\n\r\n");
    send(address, &asked).await
}

/// Posts once, as a page of some origin does that reached the server by some name.
pub async fn post_as(address: SocketAddr, path: &str, host: &str, origin: Option<&str>, body: &str) -> Reply {
    let origin = origin.map(|origin| format!("Origin: {origin}\r\n")).unwrap_or_default();
    let length = body.len();
    let asked = format!(
        "POST {path} HTTP/1.1\r\nHost: {host}\r\n{origin}Connection: close\r\nContent-Length: {length}\r\n\r\n{body}"
    );
    send(address, &asked).await
}

async fn send(address: SocketAddr, asked: &str) -> Reply {
    let mut stream = TcpStream::connect(address).await.expect("a server that listens");
    stream.write_all(asked.as_bytes()).await.expect("a server that reads");
    let mut answer = String::new();
    stream.read_to_string(&mut answer).await.expect("a server that answers in UTF-8");
    let (head, body) = answer.split_once("\r\n\r\n").expect("a head");
    let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).expect("a status");
    Reply { status, head: head.to_owned(), body: body.to_owned() }
}
