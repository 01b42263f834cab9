//! The server in a process of its own.

use std::ffi::OsStr;
use std::path::Path;

use tokio::net::TcpListener;
use tokio::sync::oneshot;
use turnabout_server::journal::{self, Storage};
use turnabout_server::live::Stored;
use turnabout_server::web::{Options, run};

use crate::child::{Listening, say, until_parent_ends};
use crate::floor;

const SERVE: &str = "--serve";
const IN_MEMORY: &str = "memory";

/// Starts a server of so many groups; its journal in that folder, or in memory.
pub(crate) fn start(folder: Option<&Path>, groups: u16) -> Listening {
    let folder = folder.map_or(IN_MEMORY, |folder| folder.to_str().expect("made here, in ASCII"));
    Listening::start(&[SERVE, folder, &groups.to_string()])
}

/// In the child: serves, and gives true once that has ended. In the parent: false at once.
pub(crate) fn serve_if_asked() -> bool {
    let mut arguments = std::env::args_os().skip(1);
    if arguments.next().as_deref() != Some(OsStr::new(SERVE)) {
        return false;
    }
    let folder = arguments.next().expect("a folder follows");
    let groups = arguments.next().and_then(|text| text.to_str()?.parse().ok()).expect("a number follows");
    let storage = if folder == IN_MEMORY { Storage::Memory } else { Storage::Folder(folder.into()) };
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().expect("threads");
    runtime.block_on(serve(&storage, groups));
    true
}

async fn serve(storage: &Storage, groups: u16) {
    let stored = Stored::open(storage, journal::Options::default()).expect("a journal that opens");
    let listener = TcpListener::bind("127.0.0.1:0").await.expect("a free port");
    say(listener.local_addr().expect("it is bound"));
    let (end, ended) = oneshot::channel();
    std::thread::spawn(move || {
        until_parent_ends();
        let _ = end.send(());
    });
    let shutdown = async {
        let _ = ended.await;
    };
    run(listener, stored, floor::files(groups), Options::default(), shutdown).await.expect("an orderly end");
}
