//! Many sockets read by one thread.

use std::io::{ErrorKind, Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use mio::{Events, Interest, Poll, Token};

/// How long may pass until something comes that must come.
const WAIT: Duration = Duration::from_secs(20);
/// Bytes read at once; a frame to a display is never longer.
const READ: usize = 128 * 1024;

/// A message at the start of what has come.
pub(crate) struct Piece<'a> {
    /// Its bytes, all of them.
    pub(crate) length: usize,
    /// What it says, where that matters.
    pub(crate) body: Option<&'a [u8]>,
    /// What has to be answered at once.
    pub(crate) reply: Option<&'static [u8]>,
}

/// Splits off the first message, where all of it has come.
pub(crate) type Split = fn(&[u8]) -> Option<Piece<'_>>;

struct Pipe {
    stream: mio::net::TcpStream,
    /// The beginning of a message of which the rest has not come.
    rest: Vec<u8>,
}

/// Sockets that speak the same protocol.
pub(crate) struct Pipes {
    poll: Poll,
    events: Events,
    pipes: Vec<Pipe>,
    split: Split,
    buffer: Vec<u8>,
}

impl Pipes {
    pub(crate) fn new(split: Split) -> Self {
        let poll = Poll::new().expect("the system can poll");
        Self { poll, events: Events::with_capacity(1_024), pipes: Vec::new(), split, buffer: vec![0; READ] }
    }

    /// Takes a socket in; gives its number, from 0.
    pub(crate) fn add(&mut self, stream: TcpStream) -> usize {
        stream.set_nonblocking(true).expect("a live socket");
        let mut stream = mio::net::TcpStream::from_std(stream);
        let number = self.pipes.len();
        self.poll.registry().register(&mut stream, Token(number), Interest::READABLE).expect("room to poll");
        self.pipes.push(Pipe { stream, rest: Vec::new() });
        number
    }

    /// Sends a few bytes, for which there is always room.
    pub(crate) fn send(&mut self, number: usize, bytes: &[u8]) {
        self.pipes[number].stream.write_all(bytes).expect("a server that reads");
    }

    /// Waits for something to come and hands every message to `each`, with the number of its socket.
    pub(crate) fn receive(&mut self, mut each: impl FnMut(usize, &[u8])) {
        let polled = self.poll.poll(&mut self.events, Some(WAIT));
        assert!(polled.is_ok() && !self.events.is_empty(), "nothing came: {polled:?}");
        for event in &self.events {
            let number = event.token().0;
            let pipe = &mut self.pipes[number];
            while drain(pipe, self.split, &mut self.buffer, &mut |body| each(number, body)) {}
        }
    }
}

/// Reads once; whether there may be more. A read that does not fill the buffer has emptied the socket.
fn drain(pipe: &mut Pipe, split: Split, buffer: &mut [u8], each: &mut impl FnMut(&[u8])) -> bool {
    let read = match pipe.stream.read(buffer) {
        Ok(0) => panic!("the server has left"),
        Ok(read) => read,
        Err(error) if error.kind() == ErrorKind::WouldBlock => return false,
        Err(error) => panic!("the server has left: {error}"),
    };
    let joined;
    let mut bytes = &buffer[..read];
    if !pipe.rest.is_empty() {
        pipe.rest.extend_from_slice(bytes);
        joined = std::mem::take(&mut pipe.rest);
        bytes = &joined;
    }
    while let Some(piece) = split(bytes) {
        if let Some(reply) = piece.reply {
            pipe.stream.write_all(reply).expect("a server that reads");
        }
        if let Some(body) = piece.body {
            each(body);
        }
        bytes = &bytes[piece.length..];
    }
    pipe.rest = bytes.to_vec();
    read == buffer.len()
}
