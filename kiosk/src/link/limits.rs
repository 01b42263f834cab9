//! Bounds of the display's side of the link, each with its reason. All waits are milliseconds of real time.

/// Nothing at all was heard for so long: the link is dead, whatever the network stack believes. The server
/// pings every few seconds, so two or three pings may be late.
pub const SILENCE_MS: u64 = 10_000;

/// A connection that takes longer is given up and tried anew.
pub const CONNECT_MS: u64 = 5_000;

/// A frame that cannot be handed to the network for so long: the peer no longer reads.
pub const SEND_MS: u64 = 5_000;

/// The first wait before a new connection.
pub const RETRY_FIRST_MS: u64 = 100;

/// The longest wait before a new connection: a client standing at the station should not wait longer.
pub const RETRY_MOST_MS: u64 = 2_000;

/// Taps kept without a link or an answer: an hour of sets at one station.
pub const QUEUE: usize = 32;

/// An answer that takes longer is shown as saving.
pub const SAVING_AFTER_MS: u64 = 1_000;

/// How long what became of a tap is shown.
pub const NOTICE_MS: u64 = 4_000;

/// How often the display looks at the time: a tenth of a second is seen as at once.
pub const TICK_MS: u64 = 100;

/// Taps on their way from the window to the link: more than ten fingers.
pub const INBOX: usize = 16;
