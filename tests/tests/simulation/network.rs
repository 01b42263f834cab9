//! The simulated network, as the server and the displays take it.

use std::cell::{Cell, RefCell};
use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll, Waker};

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio_tungstenite::{WebSocketStream, client_async_with_config};
use turmoil::net::{TcpListener, TcpStream};
use turnabout_server::demo::dice::Dice;
use uuid::Uuid;

use crate::link::socket::{NotOpen, Outside, config};

/// The server's host.
pub(crate) const SERVER: &str = "server";
const PORT: u16 = 7_007;

/// Where displays connect.
pub(crate) struct Listener(TcpListener);

impl Listener {
    pub(crate) async fn bind() -> io::Result<Self> {
        Ok(Self(TcpListener::bind((Ipv4Addr::UNSPECIFIED, PORT)).await?))
    }
}

impl axum::serve::Listener for Listener {
    type Io = TcpStream;
    type Addr = SocketAddr;

    async fn accept(&mut self) -> (Self::Io, Self::Addr) {
        loop {
            if let Ok(accepted) = self.0.accept().await {
                return accepted;
            }
        }
    }

    /// The simulated network is inside this process: nobody else can reach it.
    fn local_addr(&self) -> io::Result<Self::Addr> {
        Ok((Ipv4Addr::LOCALHOST, PORT).into())
    }
}

/// A display's ear: shut, it hears nothing, and what is sent to it is left unread.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ear(Rc<EarState>);

#[derive(Debug, Default)]
struct EarState {
    shut: Cell<bool>,
    waiting: RefCell<Option<Waker>>,
}

impl Ear {
    pub(crate) fn shut(&self, shut: bool) {
        self.0.shut.set(shut);
        if !shut && let Some(waiting) = self.0.waiting.take() {
            waiting.wake();
        }
    }
}

/// A connection with an ear.
#[derive(Debug)]
pub(crate) struct Stream {
    inner: TcpStream,
    ear: Ear,
}

impl AsyncRead for Stream {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        if self.ear.0.shut.get() {
            self.ear.0.waiting.replace(Some(context.waker().clone()));
            return Poll::Pending;
        }
        Pin::new(&mut self.inner).poll_read(context, buffer)
    }
}

impl AsyncWrite for Stream {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        Pin::new(&mut self.inner).poll_write(context, bytes)
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.inner).poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.inner).poll_shutdown(context)
    }
}

/// Opens a socket to the server.
pub(crate) async fn open(ear: Ear) -> Option<WebSocketStream<Stream>> {
    let inner = TcpStream::connect((SERVER, PORT)).await.ok()?;
    let url = format!("ws://{SERVER}:{PORT}/socket");
    let (socket, _) = client_async_with_config(url, Stream { inner, ear }, Some(config())).await.ok()?;
    Some(socket)
}

/// What a display's link meets: this network, and chance that repeats.
pub(crate) struct Here {
    pub(crate) ear: Ear,
    pub(crate) dice: Rc<RefCell<Dice>>,
    /// A planted fault: it connects only so often.
    pub(crate) tries_left: Option<Cell<u32>>,
}

impl Outside for Here {
    type Stream = Stream;

    fn open(&self) -> impl Future<Output = Result<WebSocketStream<Self::Stream>, NotOpen>> + 'static {
        let ear = self.ear.clone();
        let try_it =
            self.tries_left.as_ref().is_none_or(|left| left.replace(left.get().saturating_sub(1)) > 0);
        async move { if try_it { open(ear).await.ok_or(NotOpen::Unreachable) } else { Err(NotOpen::Unreachable) } }
    }

    fn chance(&mut self) -> Uuid {
        id(&mut self.dice.borrow_mut())
    }
}

/// An id from the seed.
pub(crate) fn id(dice: &mut Dice) -> Uuid {
    Uuid::from_u64_pair(dice.roll(), dice.roll())
}
