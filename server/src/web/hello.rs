//! The first frame of a display.

use serde::Deserialize;
use turnabout_protocol::frame::{Fault, PROTOCOL, ToServer};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::role::{Role, Topic};

use super::wire::Incoming;

/// A `hello` of this version.
#[derive(Debug)]
pub(super) struct Hello {
    pub(super) device: DeviceId,
    pub(super) role: Role,
    pub(super) topic: Topic,
}

/// What came where a `hello` was expected.
#[derive(Debug)]
pub(super) enum Taken {
    Hello(Hello),
    /// The socket lives on.
    Fault(Fault),
    /// The socket is closed.
    Fatal(Fault),
    /// A sign of life.
    Sign,
}

/// What a `hello` of any version has.
#[derive(Deserialize)]
struct AnyVersion {
    frame: String,
    protocol: u32,
}

pub(super) fn take(incoming: Incoming) -> Taken {
    match incoming {
        Incoming::Frame(ToServer::Hello { protocol: PROTOCOL, device, role, topic }) => {
            Taken::Hello(Hello { device, role, topic })
        }
        Incoming::Frame(ToServer::Hello { protocol, .. }) => Taken::Fatal(version(protocol)),
        Incoming::Frame(ToServer::Command(_) | ToServer::Time { .. }) => Taken::Fatal(Fault::HelloFirst),
        Incoming::Fault(fault, text) => {
            // A `hello` of another version need not have our shape; better to say which versions they are.
            let other = text.and_then(|text| serde_json::from_str::<AnyVersion>(text.as_str()).ok());
            match other {
                Some(other) if other.frame == "hello" && other.protocol != PROTOCOL => {
                    Taken::Fatal(version(other.protocol))
                }
                Some(_) | None => Taken::Fault(fault),
            }
        }
        Incoming::Sign => Taken::Sign,
    }
}

const fn version(found: u32) -> Fault {
    Fault::Version { supported: PROTOCOL, found }
}
