//! Bounds of the display's side of the link, each with its reason. All waits are milliseconds of real time.
//!
//! Together they have a display show what is so within two seconds after the network is whole again, however
//! long it was broken; `tests/tests/simulation/` holds them to it.

/// Nothing at all was heard for so long: the link is dead, whatever the network stack believes.
///
/// TCP sends again what was lost after 0.2, 0.6, 1.4, 3.0 and 6.2 s (RFC 6298, section 5.5; the first is
/// Linux's least, from memory), so that by itself it recovers in time from a break of up to three seconds.
/// From a longer one it may take twice as long, and a new connection must come first. The server pings every
/// two seconds.
pub const SILENCE_MS: u64 = 4_000;

/// A connection that takes longer is given up and tried anew: what opens it may have been lost, and TCP
/// waits longer and longer before it sends that again.
pub const CONNECT_MS: u64 = 1_000;

/// A frame that cannot be handed to the network for so long: the peer no longer reads.
pub const SEND_MS: u64 = 5_000;

/// The first wait before a new connection.
pub const RETRY_FIRST_MS: u64 = 100;

/// The longest wait before a new connection: with a try that fails before it, well within two seconds.
pub const RETRY_MOST_MS: u64 = 500;

/// Taps kept without a link or an answer: an hour of sets at one station.
pub const QUEUE: usize = 32;

/// An answer that takes longer is shown as saving.
pub const SAVING_AFTER_MS: u64 = 1_000;

/// How long what became of a tap is shown.
pub const NOTICE_MS: u64 = 4_000;

/// The longest between two looks at what is to be shown. What floor time changes is looked at when it changes; this is
/// for the rest: a finger that was lifted, a station that was chosen a while ago. And nothing that is shown comes back
/// by itself within it, on which `ahead.rs` relies.
pub const LOOK_MS: u64 = 1_000;

/// Taps on their way from the window to the link: more than ten fingers.
pub const INBOX: usize = 16;
