//! A broker to compare with: `mosquitto`, and as much of MQTT 3.1.1 at QoS 0 as it takes to use it.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::process::{Child, ChildStderr, Command, Stdio};

use crate::pipes::{Piece, Pipes};

const TOPIC: &str = "board";

/// A broker that runs; it ends with this value.
pub(crate) struct Broker {
    child: Child,
    address: SocketAddr,
    // Both live as long as it does.
    _log: BufReader<ChildStderr>,
    _folder: tempfile::TempDir,
}

impl Broker {
    /// Starts it on a free port of this machine.
    pub(crate) fn start() -> Self {
        let folder = tempfile::tempdir().expect("a folder for its configuration");
        let free = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a free port");
        let address = free.local_addr().expect("it is bound");
        drop(free);
        let file = folder.path().join("mosquitto.conf");
        let port = address.port();
        // As this server: nothing kept, no delay for small frames, as many displays as come.
        let settings = format!(
            "listener {port} 127.0.0.1\nallow_anonymous true\npersistence false\nset_tcp_nodelay true\n\
             max_connections -1\nlog_dest stderr\nlog_type information\nconnection_messages false\n\
             user root\n"
        );
        fs::write(&file, settings).expect("a folder that can be written");
        let mut command = Command::new("mosquitto");
        command.arg("-c").arg(&file).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::piped());
        let mut child = command.spawn().expect("the Debian package `mosquitto` is installed");
        let mut log = BufReader::new(child.stderr.take().expect("it is piped"));
        let mut line = String::new();
        while !line.trim_end().ends_with("running") {
            line.clear();
            let read = log.read_line(&mut line).expect("a log in plain text");
            assert!(read > 0, "the broker did not start");
        }
        Self { child, address, _log: log, _folder: folder }
    }

    /// Its number, for `/proc`.
    pub(crate) fn pid(&self) -> u32 {
        self.child.id()
    }
}

impl Drop for Broker {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Who publishes, and who has subscribed.
pub(crate) struct Audience {
    pipes: Pipes,
    publisher: usize,
    displays: usize,
}

impl Audience {
    /// Connects the publisher.
    pub(crate) fn of(broker: &Broker) -> Self {
        let mut pipes = Pipes::new(split);
        let publisher = pipes.add(connect(broker.address, "publisher"));
        Self { pipes, publisher, displays: 0 }
    }

    /// Lets this many displays subscribe.
    pub(crate) fn watch(&mut self, broker: &Broker, displays: usize) {
        for number in 0..displays {
            let mut stream = connect(broker.address, &format!("display-{number}"));
            let mut subscribe = vec![0, 1];
            put_text(&mut subscribe, TOPIC);
            subscribe.push(0);
            stream.write_all(&packet(0x82, &subscribe)).expect("a broker that reads");
            expect(&mut stream, &[0x90, 3, 0, 1, 0]);
            self.pipes.add(stream);
            self.displays += 1;
        }
    }

    /// Publishes once; returns when every display has it.
    pub(crate) fn round(&mut self, payload: &[u8]) {
        let mut publish = Vec::with_capacity(payload.len() + 16);
        put_text(&mut publish, TOPIC);
        publish.extend_from_slice(payload);
        self.pipes.send(self.publisher, &packet(0x30, &publish));
        let mut missing = self.displays;
        while missing > 0 {
            self.pipes.receive(|_, _| missing -= 1);
        }
    }
}

fn connect(address: SocketAddr, client: &str) -> TcpStream {
    let mut stream = TcpStream::connect(address).expect("a broker that accepts");
    stream.set_nodelay(true).expect("a live socket");
    // MQTT 3.1.1, section 3.1: level 4, a clean session, no keep-alive.
    let mut connect = Vec::new();
    put_text(&mut connect, "MQTT");
    connect.extend([4, 2, 0, 0]);
    put_text(&mut connect, client);
    stream.write_all(&packet(0x10, &connect)).expect("a broker that reads");
    expect(&mut stream, &[0x20, 2, 0, 0]);
    stream
}

fn expect(stream: &mut TcpStream, packet: &[u8]) {
    let mut found = vec![0; packet.len()];
    stream.read_exact(&mut found).expect("a broker that answers");
    assert_eq!(found, packet);
}

fn put_text(bytes: &mut Vec<u8>, text: &str) {
    bytes.extend(u16::try_from(text.len()).expect("short").to_be_bytes());
    bytes.extend(text.as_bytes());
}

/// Section 2.2.3: the length in groups of seven bits, the lowest first.
fn packet(kind: u8, body: &[u8]) -> Vec<u8> {
    let mut bytes = vec![kind];
    let mut left = body.len();
    loop {
        let low = u8::try_from(left % 128).expect("below 128");
        left /= 128;
        bytes.push(if left > 0 { low | 0x80 } else { low });
        if left == 0 {
            break;
        }
    }
    bytes.extend_from_slice(body);
    bytes
}

fn split(bytes: &[u8]) -> Option<Piece<'_>> {
    let (mut length, mut head) = (0, 1);
    loop {
        let byte = *bytes.get(head)?;
        length |= usize::from(byte & 0x7F) << (7 * (head - 1));
        head += 1;
        if byte & 0x80 == 0 {
            break;
        }
    }
    let body = bytes.get(head..head + length)?;
    assert_eq!(bytes[0], 0x30, "only published messages come");
    Some(Piece { length: head + length, body: Some(body), reply: None })
}
