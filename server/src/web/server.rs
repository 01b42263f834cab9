//! A server from its start to its orderly end.

use std::io;
use std::net::SocketAddr;
use std::sync::Arc;

use axum::serve::Listener;
use tokio::net::TcpListener;
use tokio::sync::{Semaphore, watch};
use tokio::task::JoinHandle;
use tokio::time::{Duration, timeout};
use uuid::Uuid;

use super::app::{App, ENTERING, SOCKETS, TURNED_AWAY};
use super::listen::{self, ListenError};
use super::routes;
use crate::journal::{Journal, Writer};
use crate::live::{Files, FloorHandle, Keeper, Pace, Planning, StartError, Stored, SystemWall, Wall, Whose};

/// How long an orderly end may take. What was acknowledged is durable before it begins.
pub const SHUTDOWN_WITHIN: Duration = Duration::from_secs(5);
/// How long sockets and idle connections may take of it: who does not read its goodbye goes without.
const GOODBYE_WITHIN: Duration = Duration::from_secs(2);

/// How a server runs.
pub struct Options {
    /// How the floor's clock runs.
    pub pace: Pace,
    /// Where UTC comes from.
    pub wall: Arc<dyn Wall>,
    /// Names this start of the server; no other start ever has the same.
    pub epoch: Uuid,
    /// Who looks for better orders of sets, and for how long.
    pub planning: Planning,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            pace: Pace::Running(1),
            wall: Arc::new(SystemWall),
            epoch: Uuid::new_v4(),
            planning: Planning::Beside,
        }
    }
}

/// Why a server did not start.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// Not at that address.
    #[error(transparent)]
    Listen(#[from] ListenError),
    /// The floor did not start.
    #[error(transparent)]
    Start(#[from] StartError),
    /// The system has no thread or socket left.
    #[error("the server cannot run: {0}")]
    Io(#[from] io::Error),
}

/// Why a server did not end in order. What was acknowledged is durable all the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EndError {
    /// It took longer than [`SHUTDOWN_WITHIN`].
    #[error("the server did not end in time; what was acknowledged is on disk")]
    Late,
    /// The floor's task failed: a fault of the program.
    #[error("the floor ended by itself; what was acknowledged is on disk")]
    FloorEnded,
}

/// A server that runs.
#[derive(Debug)]
pub struct Server {
    address: SocketAddr,
    handle: FloorHandle,
    floor: JoinHandle<()>,
    http: JoinHandle<io::Result<()>>,
    stopping: watch::Sender<bool>,
    closing: watch::Sender<bool>,
    sockets: Arc<Semaphore>,
    whose: Whose,
}

/// Runs a server until `shutdown` resolves, then ends it in order.
///
/// # Errors
/// [`RunError`].
pub async fn run(
    listener: TcpListener,
    stored: Stored,
    files: Files,
    options: Options,
    shutdown: impl Future<Output = ()>,
) -> Result<(), RunError> {
    let mut server = Server::start(listener, stored, files, options)?;
    tokio::select! {
        () = shutdown => Ok(server.shutdown().await?),
        () = server.failed() => {
            // Sockets and connections end in order all the same.
            let _ = server.shutdown().await;
            Err(EndError::FloorEnded.into())
        }
    }
}

/// Why a server did not run to its orderly end.
#[derive(Debug, thiserror::Error)]
pub enum RunError {
    /// It did not start.
    #[error(transparent)]
    Serve(#[from] ServeError),
    /// It did not end in order.
    #[error(transparent)]
    End(#[from] EndError),
}

impl Server {
    /// Starts a floor and serves it. Must be called within a tokio runtime.
    ///
    /// # Errors
    /// [`ServeError`]; nothing was written.
    pub fn start(
        listener: TcpListener,
        stored: Stored,
        files: Files,
        options: Options,
    ) -> Result<Self, ServeError> {
        let listener = listen::without_delay(listener);
        Self::start_with(listener, stored, files, options, |journal| Ok(Box::new(Writer::start(journal)?)))
    }

    /// As [`Self::start`], on any kind of network, and with the journal handed to whoever `keep` makes: how a
    /// test holds a commit back, or has network and disk simulated.
    ///
    /// # Errors
    /// As [`Self::start`].
    pub fn start_with(
        listener: impl Listener<Addr = SocketAddr>,
        stored: Stored,
        files: Files,
        options: Options,
        keep: impl FnOnce(Journal) -> io::Result<Box<dyn Keeper>>,
    ) -> Result<Self, ServeError> {
        let address = listener.local_addr()?;
        listen::check(address)?;
        let Options { pace, wall, epoch, planning } = options;
        let (journal, beginning) = stored.begin(files, pace, wall)?;
        let running = beginning.run(keep(journal)?, planning.planner()?, epoch);
        let whose = running.whose;
        let (closing, closed) = watch::channel(false);
        let sockets = Arc::new(Semaphore::new(SOCKETS));
        let app = App {
            floor: running.handle.clone(),
            clock: running.clock,
            epoch,
            hall: Arc::clone(&running.floor),
            people: Arc::clone(&running.names),
            about: routes::describe(&running.floor, &running.names),
            origins: listen::origins(address),
            sockets: Arc::clone(&sockets),
            turned_away: Arc::new(Semaphore::new(TURNED_AWAY)),
            entering: Arc::new(Semaphore::new(ENTERING)),
            closing: closed,
        };
        let (stopping, stop) = watch::channel(false);
        let http = tokio::spawn(serve(listener, app, stop));
        tracing::info!(%address, "serving");
        Ok(Self {
            address,
            handle: running.handle,
            floor: running.task,
            http,
            stopping,
            closing,
            sockets,
            whose,
        })
    }

    /// Where it listens.
    #[must_use]
    pub const fn address(&self) -> SocketAddr {
        self.address
    }

    /// Whose programme held when it started.
    #[must_use]
    pub const fn programme(&self) -> &Whose {
        &self.whose
    }

    /// To speak to the floor without a socket.
    #[must_use]
    pub const fn floor(&self) -> &FloorHandle {
        &self.handle
    }

    /// Returns if the floor ends by itself, which only a fault of the program can cause.
    pub async fn failed(&mut self) {
        if let Err(error) = (&mut self.floor).await {
            tracing::error!(%error, "the floor's task failed");
        }
    }

    /// Ends in order: nobody new, everything taken is committed and answered, a snapshot is saved, sockets
    /// are told to come back later.
    ///
    /// # Errors
    /// [`EndError`].
    pub async fn shutdown(mut self) -> Result<(), EndError> {
        let ended = timeout(SHUTDOWN_WITHIN, self.end()).await;
        self.floor.abort();
        self.http.abort();
        ended.unwrap_or(Err(EndError::Late))
    }

    async fn end(&mut self) -> Result<(), EndError> {
        self.stopping.send_replace(true);
        let floor = self.handle.shutdown().await;
        self.closing.send_replace(true);
        // All permits are back when all sockets have gone.
        let all = u32::try_from(SOCKETS).unwrap_or(u32::MAX);
        let gone = async {
            let _all = self.sockets.acquire_many(all).await;
            (&mut self.http).await
        };
        if timeout(GOODBYE_WITHIN, gone).await.is_err() {
            tracing::warn!("some connections did not end in time and are cut");
        }
        floor.map_err(|_| EndError::FloorEnded)
    }
}

async fn serve(
    listener: impl Listener<Addr = SocketAddr>,
    app: App,
    mut stop: watch::Receiver<bool>,
) -> io::Result<()> {
    axum::serve(listener, routes::all(Arc::new(app)))
        .with_graceful_shutdown(async move {
            let _ = stop.wait_for(|stop| *stop).await;
        })
        .await
}
