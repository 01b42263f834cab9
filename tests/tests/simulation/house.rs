//! The server's machine: what is there whenever its process starts.

use std::sync::Arc;

use turnabout_server::demo::dice::Dice;
use turnabout_server::live::{Files, Pace, Planning, Stored, Wall};
use turnabout_server::web::{Options, Server};
use turnabout_tests::harness::files;

use crate::disk::Disk;
use crate::network::{Listener, id};
use crate::plan::Plan;

/// Rounds of each block: enough that no evening is over before its run.
const ROUNDS: u8 = 20;
/// Orders looked at after whatever happens: few, because of all the evenings there are.
const EVALUATIONS: u64 = 64;

/// The simulated wall clock.
struct SimWall;

impl Wall for SimWall {
    fn utc_ms(&self) -> i64 {
        let elapsed = turmoil::sim_elapsed().map_or(0, |elapsed| elapsed.as_millis());
        // Any day will do.
        1_750_000_000_000 + i64::try_from(elapsed).expect("a short run")
    }
}

/// The machine.
#[derive(Clone)]
pub(crate) struct House {
    disk: Disk,
    files: Files,
    rate: u32,
    seed: u64,
}

impl House {
    /// A machine with this disk, which outlives every process on it.
    pub(crate) fn new(plan: &Plan, disk: Disk) -> Self {
        let mut files = files();
        // Where it lies does not matter, as long as the checks know.
        "UTC".clone_into(&mut files.floor.zone);
        let groups = files.programme.iter_mut().flat_map(|programme| programme.groups.values_mut());
        groups.flat_map(|group| &mut group.blocks).for_each(|block| block.rounds = ROUNDS);
        Self { disk, files, rate: plan.rate, seed: plan.seed }
    }

    /// What its files say.
    pub(crate) const fn files(&self) -> &Files {
        &self.files
    }

    /// Runs the server until its process is killed.
    pub(crate) async fn serve(self) -> turmoil::Result {
        let listener = Listener::bind().await?;
        let stored = Stored::read(self.disk.take())?;
        let now = turmoil::sim_elapsed().map_or(0, |elapsed| elapsed.as_millis());
        let mut dice = Dice::for_person(self.seed, 1_000_000 + u64::try_from(now)?);
        let options = Options {
            pace: Pace::Running(self.rate),
            wall: Arc::new(SimWall),
            epoch: id(&mut dice),
            planning: Planning::Counted(EVALUATIONS),
        };
        let mut server =
            Server::start_with(listener, stored, self.files, options, |journal| Ok(self.disk.keep(journal)))?;
        server.failed().await;
        Err("the floor ended by itself".into())
    }
}
