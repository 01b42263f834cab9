//! A server in this process, with a clock driven by the test, and displays that speak to it over real
//! sockets.

use std::net::SocketAddr;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use turnabout_protocol::units::FloorMs;
use turnabout_server::journal::{self, Storage, Writer};
use turnabout_server::live::{Files, Pace, Planning, Stored, SystemWall, Wall};
use turnabout_server::web::listen::without_delay;
use turnabout_server::web::{Options, Server};

mod display;
mod gate;
mod http;
mod invented;
mod program;

pub use display::{Display, Received, WAIT, command, hello, socket_url};
pub use gate::Gate;
pub use http::{Reply, get_as, post_as, request};
pub use invented::files;
pub use program::Program;

/// A server of the invented floor.
#[derive(Debug)]
pub struct House {
    server: Server,
    gate: Gate,
    folder: tempfile::TempDir,
}

/// How a house is opened.
#[derive(Clone, Debug)]
pub struct Setting {
    /// How its clock runs.
    pub pace: Pace,
    /// What its files say.
    pub files: Files,
    /// Whether its journal is on disk and outlives it.
    pub on_disk: bool,
    /// The wall clock; the system's where there is none.
    pub wall: Option<HandWall>,
}

/// A wall clock that the test sets, in milliseconds after 1970-01-01T00:00:00Z.
#[derive(Clone, Debug, Default)]
pub struct HandWall(pub Arc<AtomicI64>);

impl Wall for HandWall {
    fn utc_ms(&self) -> i64 {
        self.0.load(Ordering::SeqCst)
    }
}

impl Default for Setting {
    fn default() -> Self {
        Self { pace: Pace::Driven, files: files(), on_disk: true, wall: None }
    }
}

impl House {
    /// Opens a new house whose clock the test drives.
    pub fn open() -> Self {
        Self::open_with(Setting::default())
    }

    /// Opens a new house.
    pub fn open_with(setting: Setting) -> Self {
        Self::again(tempfile::tempdir().expect("a folder for the journal"), setting)
    }

    /// Opens a house on a journal that is there.
    pub fn again(folder: tempfile::TempDir, setting: Setting) -> Self {
        let storage =
            if setting.on_disk { Storage::Folder(folder.path().to_owned()) } else { Storage::Memory };
        let stored = Stored::open(&storage, journal::Options::default()).expect("a journal that opens");
        let listener = std::net::TcpListener::bind("127.0.0.1:0").expect("a free port");
        listener.set_nonblocking(true).expect("a socket that does not block");
        let listener = tokio::net::TcpListener::from_std(listener).expect("a runtime");
        let gate = Gate::new();
        let wall: Arc<dyn Wall> = match setting.wall {
            Some(wall) => Arc::new(wall),
            None => Arc::new(SystemWall),
        };
        let options =
            Options { pace: setting.pace, wall, planning: Planning::of(setting.pace), ..Options::default() };
        let between = gate.clone();
        let server = Server::start_with(without_delay(listener), stored, setting.files, options, |journal| {
            Ok(between.before(Writer::start(journal)?))
        })
        .expect("a server that starts");
        Self { server, gate, folder }
    }

    /// Ends the server in order and starts it anew on the same journal.
    pub async fn restart(self) -> Self {
        self.restart_with(Setting::default()).await
    }

    /// As [`Self::restart`], with other settings.
    pub async fn restart_with(self, setting: Setting) -> Self {
        let folder = self.shut().await;
        Self::again(folder, setting)
    }

    /// Ends the server in order and gives the folder of its journal.
    pub async fn shut(self) -> tempfile::TempDir {
        self.server.shutdown().await.expect("an orderly end");
        self.folder
    }

    /// The folder of the journal.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// The server.
    pub const fn server(&self) -> &Server {
        &self.server
    }

    /// What stands between the floor and its journal.
    pub const fn gate(&self) -> &Gate {
        &self.gate
    }

    /// Moves the clock; returns when whatever was due has happened and is durable.
    pub async fn advance(&self, by_ms: i64) -> FloorMs {
        let reply = self.request("POST", "/clock/advance", &format!("{{\"by_ms\":{by_ms}}}")).await;
        assert_eq!(reply.status, 200, "{}", reply.body);
        let body: serde_json::Value = serde_json::from_str(&reply.body).expect("JSON");
        FloorMs(body["now"].as_i64().expect("a number"))
    }

    /// Where the server listens.
    pub fn address(&self) -> SocketAddr {
        self.server.address()
    }

    /// Asks for something over HTTP.
    pub async fn request(&self, method: &str, path: &str, body: &str) -> Reply {
        request(self.server.address(), method, path, body).await
    }
}
