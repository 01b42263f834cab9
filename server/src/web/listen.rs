//! Where the server may be reached.

use std::net::SocketAddr;

use axum::serve::{Listener, ListenerExt};
use tokio::net::TcpListener;

/// Why an address is not listened on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ListenError {
    /// Others on the network could reach it, and nobody could tell who they are.
    #[error(
        "{0} can be reached from other machines, and devices cannot enrol yet: \
         listen on 127.0.0.1 or [::1]"
    )]
    NotLoopback(SocketAddr),
}

/// Whether the server may listen there.
///
/// # Errors
/// [`ListenError`], whose message can be shown as it is.
pub fn check(address: SocketAddr) -> Result<(), ListenError> {
    if address.ip().to_canonical().is_loopback() { Ok(()) } else { Err(ListenError::NotLoopback(address)) }
}

/// A listener whose connections send small frames at once: they must not wait for each other.
pub fn without_delay(listener: TcpListener) -> impl Listener<Addr = SocketAddr> {
    listener.tap_io(|stream| {
        if let Err(error) = stream.set_nodelay(true) {
            tracing::debug!(%error, "no TCP_NODELAY");
        }
    })
}

/// The origins from which a page may open a socket: this server's own, by every name it has.
///
/// A page of any other origin is refused, also one whose name was made to resolve to this machine.
#[must_use]
pub fn origins(address: SocketAddr) -> Vec<String> {
    vec![format!("http://{address}"), format!("http://localhost:{}", address.port())]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_this_machine_is_listened_to() {
        for (address, fine) in [
            ("127.0.0.1:7007", true),
            ("127.8.8.8:1", true),
            ("[::1]:7007", true),
            ("[::ffff:127.0.0.1]:7007", true),
            ("0.0.0.0:7007", false),
            ("[::]:7007", false),
            ("192.168.1.4:7007", false),
        ] {
            assert_eq!(check(address.parse().unwrap()).is_ok(), fine, "{address}");
        }
    }

    #[test]
    fn a_refusal_says_what_to_do() {
        let error = check("0.0.0.0:80".parse().unwrap()).unwrap_err().to_string();
        assert!(error.contains("0.0.0.0:80") && error.contains("cannot enrol yet"), "{error}");
    }
}
