//! What it takes to go from one load to another, for every pair of loads that an instance names.

use turnabout_protocol::units::Secs;

use crate::timetable::instance::{Load, StationKind};

/// Loads as small numbers, and tables of what a change between two of them takes.
///
/// Number 0 is no load named: wanted, it leaves what is there; present, it is unknown, which counts as empty on a bar.
#[derive(Clone, Debug)]
pub struct Changes {
    loads: Vec<Load>,
    plate: i32,
    collar: i32,
    pin: i32,
    /// `(seconds, pieces)` by `from * (loads + 1) + to`.
    bar: Vec<(i32, i32)>,
    stack: Vec<(i32, i32)>,
    plain: Vec<(i32, i32)>,
}

impl Changes {
    pub(super) const fn new(plate: Secs, collar: Secs, pin: Secs) -> Self {
        Self {
            loads: Vec::new(),
            plate: plate.0 as i32,
            collar: collar.0 as i32,
            pin: pin.0 as i32,
            bar: Vec::new(),
            stack: Vec::new(),
            plain: Vec::new(),
        }
    }

    /// The number of a load, a new one where it was not met before.
    pub(super) fn intern(&mut self, load: Option<&Load>) -> u16 {
        let Some(load) = load else { return 0 };
        let known = self.loads.iter().position(|l| l == load);
        let at = known.unwrap_or_else(|| {
            self.loads.push(load.clone());
            self.loads.len() - 1
        });
        at as u16 + 1
    }

    /// Fills the tables once every load is known.
    pub(super) fn settle(&mut self) {
        let n = self.loads.len() + 1;
        self.plain = vec![(0, 0); n * n];
        self.bar = self.plain.clone();
        self.stack = self.plain.clone();
        for to in 1..n {
            for from in 0..n {
                self.bar[from * n + to] = self.of_bar(from, to);
                self.stack[from * n + to] = if from == to { (0, 0) } else { (self.pin, 1) };
            }
        }
    }

    /// Plates that differ outside the common inner part come off or go on, on both sides in parallel.
    fn of_bar(&self, from: usize, to: usize) -> (i32, i32) {
        let plates = |n: usize| match n.checked_sub(1).map(|i| &self.loads[i]) {
            Some(Load::Plates(plates)) => plates.as_slice(),
            Some(Load::Label(_)) | None => &[],
        };
        let (x, y) = (plates(from), plates(to));
        let common = x.iter().zip(y).take_while(|(a, b)| a == b).count();
        let d = (x.len() + y.len() - 2 * common) as i32;
        if d == 0 { (0, 0) } else { (self.collar + self.plate * d, 2 * d) }
    }

    /// Seconds and pieces moved to go from what is there to what is wanted at a station of that kind.
    #[inline]
    #[must_use]
    pub fn take(&self, kind: StationKind, from: u16, to: u16) -> (i32, i32) {
        let at = usize::from(from) * (self.loads.len() + 1) + usize::from(to);
        match kind {
            StationKind::Bar => self.bar[at],
            StationKind::Stack => self.stack[at],
            StationKind::Plain => self.plain[at],
        }
    }
}
