//! As much of RFC 6455 as a display needs, at as little cost as can be: who measures must not be the load.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};

use turnabout_protocol::frame::{PROTOCOL, ToServer};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::role::Role;
use uuid::Uuid;

use crate::pipes::Piece;

/// A pong without content.
const PONG: &[u8] = &[0x8A, 0x80, 0, 0, 0, 0];

/// Opens a socket and says `hello`; does not wait for the welcome.
pub(crate) fn connect(address: SocketAddr, role: Role, topic: &str) -> TcpStream {
    let mut stream = TcpStream::connect(address).expect("a server that accepts");
    stream.set_nodelay(true).expect("a live socket");
    // The key is RFC 6455's own example.
    let request = format!(
        "GET /socket HTTP/1.1\r\nHost: {address}\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n\
         Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n"
    );
    stream.write_all(request.as_bytes()).expect("a server that reads");
    let (mut head, mut byte) = (Vec::new(), [0]);
    // Byte by byte, so that nothing after the head is taken.
    while !head.ends_with(b"\r\n\r\n") {
        stream.read_exact(&mut byte).expect("a server that answers");
        head.extend(byte);
    }
    assert!(head.starts_with(b"HTTP/1.1 101"), "{}", String::from_utf8_lossy(&head));
    let (device, topic) = (DeviceId(Uuid::new_v4()), topic.parse().expect("a topic"));
    let hello = ToServer::Hello { protocol: PROTOCOL, device, role, topic };
    let hello = serde_json::to_string(&hello).expect("a frame is plain JSON");
    stream.write_all(&text(&hello)).expect("a server that reads");
    stream
}

/// A text frame to the server. The mask is zero: it guards against proxies, and there is none here.
pub(crate) fn text(body: &str) -> Vec<u8> {
    let mut frame = vec![0x81];
    match u8::try_from(body.len()) {
        Ok(length) if length < 126 => frame.push(0x80 | length),
        Ok(_) | Err(_) => {
            frame.push(0x80 | 126);
            frame.extend(u16::try_from(body.len()).expect("commands are short").to_be_bytes());
        }
    }
    frame.extend([0; 4]);
    frame.extend(body.as_bytes());
    frame
}

/// Splits the first frame off what came from the server; `None` where it has not all come yet.
pub(crate) fn split(bytes: &[u8]) -> Option<Piece<'_>> {
    let [kind, short, ..] = *bytes else { return None };
    let (head, length) = match short {
        126 => (4, usize::from(u16::from_be_bytes(bytes.get(2..4)?.try_into().ok()?))),
        127 => (10, usize::try_from(u64::from_be_bytes(bytes.get(2..10)?.try_into().ok()?)).ok()?),
        short => (2, usize::from(short)),
    };
    let body = bytes.get(head..head + length)?;
    let (body, reply) = match kind {
        0x81 => (Some(body), None),
        0x89 => (None, Some(PONG)),
        other => panic!("a frame that starts with {other:#x}: the server has closed"),
    };
    Some(Piece { length: head + length, body, reply })
}
