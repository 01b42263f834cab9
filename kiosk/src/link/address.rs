//! Where the server is.

use tokio_tungstenite::tungstenite::http::Uri;

/// The path of the socket at every server.
pub const SOCKET_PATH: &str = "/socket";

/// Why a text does not say where a server is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AddressError {
    /// Not a URL with a host.
    #[error("expected a URL with a host, such as http://127.0.0.1:8080")]
    NoHost,
    /// Another scheme. Encrypted links come with enrolment.
    #[error("expected http:// or ws://")]
    Scheme,
    /// A colon, and no port behind it.
    #[error("expected a port from 1 to 65535 behind the colon")]
    Port,
}

/// The address of the socket for what a person writes: `http://host:port` or `ws://host:port`, with the
/// socket's path where none is given.
///
/// # Errors
/// If it is not a URL with a host, or has another scheme.
pub fn socket_url(server: &str) -> Result<String, AddressError> {
    let uri: Uri = server.trim().parse().map_err(|_| AddressError::NoHost)?;
    let authority = uri.authority().ok_or(AddressError::NoHost)?;
    match uri.scheme_str() {
        Some("http" | "ws") => {}
        Some(_) | None => return Err(AddressError::Scheme),
    }
    if authority.host().is_empty() {
        return Err(AddressError::NoHost);
    }
    let port = authority.port_u16().filter(|port| *port > 0);
    if port.is_none() && !authority.as_str().ends_with(authority.host()) {
        return Err(AddressError::Port);
    }
    let path = match uri.path() {
        "" | "/" => SOCKET_PATH,
        path => path,
    };
    Ok(format!("ws://{authority}{path}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_person_writes_becomes_the_sockets_address() {
        for (written, read) in [
            ("http://127.0.0.1:8080", Ok("ws://127.0.0.1:8080/socket".to_owned())),
            ("ws://floor.local:80/", Ok("ws://floor.local:80/socket".to_owned())),
            ("ws://[::1]:9/other", Ok("ws://[::1]:9/other".to_owned())),
            ("https://floor.local", Err(AddressError::Scheme)),
            ("127.0.0.1:8080", Err(AddressError::Scheme)),
            ("", Err(AddressError::NoHost)),
            ("/socket", Err(AddressError::NoHost)),
            ("http://floor:0", Err(AddressError::Port)),
            ("http://floor:65536", Err(AddressError::Port)),
            ("http://floor:", Err(AddressError::Port)),
            ("http://:80", Err(AddressError::NoHost)),
        ] {
            assert_eq!(socket_url(written), read, "{written:?}");
        }
    }
}
