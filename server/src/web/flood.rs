//! How many frames a socket may send: far more than anybody taps, far fewer than hurt the others.

use tokio::time::{Duration, Instant};

/// Frames a second, on and on. A display asks for the time every two seconds and sends what people tap.
pub const A_SECOND: u32 = 50;
/// Frames at once: the burst of time questions after connecting and a queue that waited for the network.
pub const AT_ONCE: u32 = 100;

const A_FRAME: Duration = Duration::from_millis(1_000 / A_SECOND as u64);

/// A bucket of leave to send, which fills by itself.
#[derive(Debug)]
pub(super) struct Leave {
    /// When the bucket will be full again.
    full_at: Instant,
}

impl Leave {
    pub(super) fn new(now: Instant) -> Self {
        Self { full_at: now }
    }

    /// Takes leave for one frame; `false` where there is none.
    pub(super) fn take(&mut self, now: Instant) -> bool {
        let full_at = self.full_at.max(now) + A_FRAME;
        let fits = full_at.duration_since(now) <= A_FRAME * AT_ONCE;
        if fits {
            self.full_at = full_at;
        }
        fits
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_burst_passes_and_then_the_rate_holds() {
        let start = Instant::now();
        let mut leave = Leave::new(start);
        let burst = (0..200).filter(|_| leave.take(start)).count();
        assert_eq!(burst, AT_ONCE as usize);
        let second = start + Duration::from_secs(1);
        let more = (0..200).filter(|_| leave.take(second)).count();
        assert_eq!(more, A_SECOND as usize);
    }
}
