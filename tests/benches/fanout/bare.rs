//! The lower bound: one loop that writes a frame, encoded before, to every socket.

use std::ffi::OsStr;
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};

use crate::child::{Listening, say};
use crate::pipes::Pipes;
use crate::websocket;

const BARE: &str = "--bare";

/// The loop, and who listens to it.
pub(crate) struct Loop {
    // Ahead of the child, which ends when this closes.
    trigger: TcpStream,
    child: Listening,
    pipes: Pipes,
    displays: usize,
}

impl Loop {
    /// Starts the loop in a process of its own, for this many displays and this frame.
    pub(crate) fn start(displays: usize, payload: &[u8]) -> Self {
        let child = Listening::start(&[BARE, &displays.to_string(), &payload.len().to_string()]);
        let connect = || {
            let stream = TcpStream::connect(child.address()).expect("a loop that accepts");
            stream.set_nodelay(true).expect("a live socket");
            stream
        };
        let mut trigger = connect();
        let mut pipes = Pipes::new(websocket::split);
        for _ in 0..displays {
            pipes.add(connect());
        }
        trigger.write_all(payload).expect("a loop that reads");
        Self { trigger, child, pipes, displays }
    }

    /// Its number, for `/proc`.
    pub(crate) fn pid(&self) -> u32 {
        self.child.pid()
    }

    /// Has the frame written once; returns when every display has it.
    pub(crate) fn round(&mut self) {
        self.trigger.write_all(&[1]).expect("a loop that reads");
        let mut missing = self.displays;
        while missing > 0 {
            self.pipes.receive(|_, _| missing -= 1);
        }
    }
}

/// In the child: runs the loop, and gives true once that has ended. In the parent: false at once.
pub(crate) fn run_if_asked() -> bool {
    let mut arguments = std::env::args_os().skip(1);
    if arguments.next().as_deref() != Some(OsStr::new(BARE)) {
        return false;
    }
    let mut number = || arguments.next().and_then(|text| text.to_str()?.parse().ok()).expect("a number");
    let (displays, length): (usize, usize) = (number(), number());
    let listener = TcpListener::bind("127.0.0.1:0").expect("a free port");
    say(listener.local_addr().expect("it is bound"));
    let accept = || {
        let (stream, _) = listener.accept().expect("somebody who connects");
        stream.set_nodelay(true).expect("a live socket");
        stream
    };
    let mut trigger = accept();
    let mut streams: Vec<TcpStream> = (0..displays).map(|_| accept()).collect();
    let mut payload = vec![0; length];
    trigger.read_exact(&mut payload).expect("a frame");
    let frame = frame(&payload);
    // Ends when the parent closes the trigger.
    while trigger.read_exact(&mut [0]).is_ok() {
        for stream in &mut streams {
            stream.write_all(&frame).expect("a display that reads");
        }
    }
    true
}

/// A text frame of RFC 6455 from a server.
fn frame(payload: &[u8]) -> Vec<u8> {
    let mut frame = vec![0x81];
    match u16::try_from(payload.len()) {
        Ok(length) if length < 126 => frame.extend(length.to_be_bytes().last()),
        Ok(length) => {
            frame.push(126);
            frame.extend(length.to_be_bytes());
        }
        Err(_) => {
            frame.push(127);
            frame.extend(u64::try_from(payload.len()).expect("it fits").to_be_bytes());
        }
    }
    frame.extend_from_slice(payload);
    frame
}
