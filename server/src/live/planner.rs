//! Who looks for better orders while the floor goes on.
//!
//! The floor's task only works out the times of the order in hand. A [`Planner`] is told what the floor looks like and
//! offers orders; the task decides whether they are worth it ([`crate::floor::planning`]).

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use futures_util::FutureExt;
use futures_util::future::BoxFuture;
use tokio::sync::mpsc;

use super::clock::Pace;
use super::truth::caught;
use crate::floor::outlook::kept::KeptOrder;
use crate::floor::planning::{Found, Quest};
use crate::timetable::search::{Effort, in_turn};

/// Looks for better orders, one quest at a time.
pub trait Planner: Send {
    /// Begins a quest; one that is going on is given up.
    fn begin(&mut self, quest: Quest);

    /// What is found next. Nothing comes while there is no quest. Whoever stops waiting for it loses nothing.
    fn next(&mut self) -> BoxFuture<'_, Found>;
}

/// How a floor is planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Planning {
    /// By a thread of its own, for so long as the wall clock says.
    Beside,
    /// In the floor's own task, by so many orders looked at: the same every time.
    Counted(u64),
}

/// Orders looked at for a floor whose clock is driven.
const COUNTED: u64 = 512;

impl Planning {
    /// What suits a clock: where it is driven time stands still while a thread would search.
    #[must_use]
    pub const fn of(pace: Pace) -> Self {
        match pace {
            Pace::Driven => Self::Counted(COUNTED),
            Pace::Running(_) => Self::Beside,
        }
    }

    /// The planner.
    ///
    /// # Errors
    /// Where the system has no thread left.
    pub fn planner(self) -> std::io::Result<Box<dyn Planner>> {
        Ok(match self {
            Self::Beside => Box::new(Beside::start()?),
            Self::Counted(evaluations) => {
                Box::new(Counted { evaluations, quest: None, more: None, number: 0 })
            }
        })
    }
}

/// Looks at a fixed number of orders when it is asked for what it found.
struct Counted {
    evaluations: u64,
    quest: Option<Quest>,
    /// What it has found and not been asked for.
    more: Option<Found>,
    number: u64,
}

impl Counted {
    fn found(&mut self) -> Option<Found> {
        if let Some(found) = self.more.take() {
            return Some(found);
        }
        let quest = self.quest.take()?;
        self.more = caught("weigh", || quest.admissions()).flatten();
        let evaluations = self.evaluations;
        let done = move |looked_at: u64| looked_at as f64 / evaluations as f64;
        let order = quest.has_order().then(|| found(&quest, &[], self.number, &done)).flatten();
        order.map(|order| Found::Order(Box::new(quest.offer(order, true)))).or_else(|| self.more.take())
    }
}

impl Planner for Counted {
    fn begin(&mut self, quest: Quest) {
        self.quest = Some(quest);
        self.more = None;
        self.number += 1;
    }

    fn next(&mut self) -> BoxFuture<'_, Found> {
        async {
            match self.found() {
                Some(found) => found,
                None => std::future::pending().await,
            }
        }
        .boxed()
    }
}

/// The first look around: short, so that something usable is there before people have read what happened.
const FIRST: Duration = Duration::from_millis(60);
/// A whole search after something ordinary, where the order in hand is nearly always good.
const ORDINARY: Duration = Duration::from_millis(250);
/// A whole search after something structural.
const STRUCTURAL: Duration = Duration::from_millis(1_500);

/// A thread of its own that searches.
struct Beside {
    shared: Arc<Shared>,
    found: mpsc::UnboundedReceiver<Found>,
}

#[derive(Default)]
struct Shared {
    next: Mutex<Next>,
    changed: Condvar,
    /// Raised while there is something newer to do: a search looks at it between two batches of orders.
    stop: AtomicBool,
}

#[derive(Default)]
struct Next {
    quest: Option<Quest>,
    end: bool,
}

impl Shared {
    fn next(&self) -> MutexGuard<'_, Next> {
        // A quest is put in and taken out whole, so that a panic leaves nothing half done.
        self.next.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Puts something newer there to do. The flag is raised under the lock: else a search could take the quest first and
    /// then be stopped on its account.
    fn put(&self, what: impl FnOnce(&mut Next)) {
        let mut next = self.next();
        what(&mut next);
        self.stop.store(true, Ordering::Release);
        self.changed.notify_one();
    }

    /// The next quest; nothing where it is over.
    fn wait(&self) -> Option<Quest> {
        let mut next = self.next();
        loop {
            if next.end {
                return None;
            }
            if let Some(quest) = next.quest.take() {
                self.stop.store(false, Ordering::Release);
                return Some(quest);
            }
            next = self.changed.wait(next).unwrap_or_else(PoisonError::into_inner);
        }
    }

    fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Acquire)
    }
}

impl Beside {
    fn start() -> std::io::Result<Self> {
        let shared = Arc::new(Shared::default());
        let (out, found) = mpsc::unbounded_channel();
        let there = Arc::clone(&shared);
        std::thread::Builder::new().name("planner".to_owned()).spawn(move || run(&there, &out))?;
        Ok(Self { shared, found })
    }
}

impl Planner for Beside {
    fn begin(&mut self, quest: Quest) {
        self.shared.put(|next| next.quest = Some(quest));
    }

    fn next(&mut self) -> BoxFuture<'_, Found> {
        async {
            match self.found.recv().await {
                Some(found) => found,
                None => std::future::pending().await,
            }
        }
        .boxed()
    }
}

impl Drop for Beside {
    fn drop(&mut self) {
        self.shared.put(|next| next.end = true);
    }
}

/// Searches for whatever comes until it is told to end.
fn run(shared: &Shared, out: &mpsc::UnboundedSender<Found>) {
    let mut warm: Option<KeptOrder> = None;
    let mut number = 0;
    while let Some(quest) = shared.wait() {
        number += 1;
        let whole = if quest.is_loose() { STRUCTURAL } else { ORDINARY };
        for (part, last) in [(FIRST, false), (whole.saturating_sub(FIRST), true)] {
            let began = Instant::now();
            let done = |_| {
                if shared.is_stopped() { 1.0 } else { began.elapsed().as_secs_f64() / part.as_secs_f64() }
            };
            if quest.has_order() {
                let Some(order) = found(&quest, warm.as_slice(), number, &done) else { break };
                // Also where it was stopped: it is the best order that is known to begin the next search with.
                warm = Some(order.clone());
                if shared.is_stopped() || out.send(Found::Order(Box::new(quest.offer(order, last)))).is_err()
                {
                    break;
                }
            }
            if !last && let Some(admissions) = caught("weigh", || quest.admissions()).flatten() {
                // Where nobody waits for it any more the floor has ended, and says so with the next quest.
                let _ = out.send(admissions);
            }
        }
    }
}

/// The order that a search finds; nothing where it panicked.
fn found(
    quest: &Quest,
    warm: &[KeptOrder],
    seed: u64,
    done: &(dyn Fn(u64) -> f64 + Sync),
) -> Option<KeptOrder> {
    let effort = Effort { seed, threads: NonZeroUsize::MIN, done, beside: &in_turn };
    caught("search", || quest.search(warm, &effort))
}
