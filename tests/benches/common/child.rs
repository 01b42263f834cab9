//! This program again, as another process: what is measured must not share a process with who measures.

use std::io::{BufRead, BufReader, Read, stdin};
use std::net::SocketAddr;
use std::process::{Child, Command, Stdio};

/// A child that listens on a port of this machine. It ends with this value, or with its parent.
pub(crate) struct Listening {
    child: Child,
    address: SocketAddr,
}

impl Listening {
    /// Starts this program anew with these arguments, and waits until it says where it listens.
    pub(crate) fn start(arguments: &[&str]) -> Self {
        let program = std::env::current_exe().expect("a program knows its own file");
        let mut child = Command::new(program)
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the system has room for a process");
        let mut line = String::new();
        let out = child.stdout.take().expect("it is piped");
        BufReader::new(out).read_line(&mut line).expect("the child speaks text");
        let address = line.trim().parse().unwrap_or_else(|_| panic!("the child did not start: {line}"));
        Self { child, address }
    }

    /// Where it listens.
    pub(crate) const fn address(&self) -> SocketAddr {
        self.address
    }

    /// Its number, for `/proc`.
    pub(crate) fn pid(&self) -> u32 {
        self.child.id()
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        drop(self.child.stdin.take());
        let _ = self.child.wait();
    }
}

/// In the child: says where it listens.
pub(crate) fn say(address: SocketAddr) {
    println!("{address}");
}

/// In the child: returns when the parent wants it to end, or is gone.
pub(crate) fn until_parent_ends() {
    let _ = stdin().read_to_end(&mut Vec::new());
}
