//! Where everything goes: strips of time below one another.

/// Pixels from side to side.
pub(super) const WIDTH: f64 = 1_600.0;
/// Pixels in front of the rows, for their names.
pub(super) const NAMES: f64 = 110.0;
/// Pixels around everything.
pub(super) const EDGE: f64 = 16.0;
/// Pixels between two strips.
const APART: f64 = 28.0;
/// Seconds of one strip at most: a set of half a minute is then wide enough for its label.
const LONGEST: i64 = 3_000;
/// Seconds between two numbers of the axis.
const NUMBERED: i64 = 300;
/// Seconds up to which a strip has room for a number at every minute.
const SHORT: i64 = 900;

/// The page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Page {
    from: i64,
    /// Seconds of each strip.
    length: i64,
    count: i64,
    top: f64,
    strip_height: f64,
}

/// One strip of time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Strip {
    /// From this second.
    pub(super) from: i64,
    /// Up to this one.
    pub(super) to: i64,
    /// Its upper edge.
    pub(super) top: f64,
}

impl Page {
    /// A page for these seconds, below a head and with strips of these heights.
    pub(super) fn new(from: i64, to: i64, top: f64, strip_height: f64) -> Self {
        let from = from.div_euclid(60) * 60;
        let span = (to - from).max(60);
        let count = span.unsigned_abs().div_ceil(LONGEST.unsigned_abs()).try_into().unwrap_or(i64::MAX);
        // Strips of whole minutes, and of whole numbers where there are several.
        let step = if count == 1 { 60 } else { NUMBERED };
        let length = (span + count * step - 1) / (count * step) * step;
        Self { from, length, count, top, strip_height }
    }

    /// Pixels from top to bottom.
    pub(super) fn height(&self) -> f64 {
        self.top + self.count as f64 * (self.strip_height + APART) + EDGE
    }

    /// The strips.
    pub(super) fn strips(self) -> impl Iterator<Item = Strip> {
        (0..self.count).map(move |at| {
            let from = self.from + at * self.length;
            let top = self.top + at as f64 * (self.strip_height + APART);
            Strip { from, to: from + self.length, top }
        })
    }
}

impl Strip {
    /// Seconds between two numbers of its axis.
    pub(super) const fn numbered(&self) -> i64 {
        if self.to - self.from <= SHORT { 60 } else { NUMBERED }
    }

    /// Where a second is.
    pub(super) fn x(&self, second: i64) -> f64 {
        let left = EDGE + NAMES;
        left + (second - self.from) as f64 * (WIDTH - EDGE - left) / (self.to - self.from) as f64
    }
}
