//! What passes between the server and each host. Troubles of one kind may overlap.

use turmoil::Sim;

use crate::network::SERVER;

/// The lines of all hosts.
#[derive(Debug)]
pub(crate) struct Lines(Vec<Line>);

/// What keeps one line from passing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Line {
    /// It loses everything.
    pub(crate) cuts: u32,
    /// It holds everything back.
    pub(crate) holds: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Passes {
    All,
    Later,
    Nothing,
}

impl Line {
    const fn passes(self) -> Passes {
        match self {
            Self { cuts: 0, holds: 0 } => Passes::All,
            Self { cuts: 0, holds: _ } => Passes::Later,
            Self { cuts: _, holds: _ } => Passes::Nothing,
        }
    }
}

impl Lines {
    pub(crate) fn new(hosts: usize) -> Self {
        Self(vec![Line::default(); hosts])
    }

    /// Changes what keeps the line of a host from passing.
    pub(crate) fn change(&mut self, sim: &Sim<'_>, n: usize, host: &str, change: impl FnOnce(&mut Line)) {
        let before = self.0[n].passes();
        change(&mut self.0[n]);
        let after = self.0[n].passes();
        if before == after {
            return;
        }
        match before {
            Passes::All => {}
            Passes::Later => sim.release(host, SERVER),
            Passes::Nothing => sim.repair(host, SERVER),
        }
        match after {
            Passes::All => {}
            Passes::Later => sim.hold(host, SERVER),
            Passes::Nothing => sim.partition(host, SERVER),
        }
    }
}
