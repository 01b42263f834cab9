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
use crate::floor::planning::{Offer, Quest};
use crate::timetable::search::{Effort, in_turn};

/// Looks for better orders, one quest at a time.
pub trait Planner: Send {
    /// Begins a quest; one that is going on is given up.
    fn begin(&mut self, quest: Quest);

    /// The next order that is found. Nothing comes while there is no quest. Whoever stops waiting for it loses nothing.
    fn offer(&mut self) -> BoxFuture<'_, Offer>;
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
            Self::Counted(evaluations) => Box::new(Counted { evaluations, quest: None, number: 0 }),
        })
    }
}

/// Looks at a fixed number of orders when it is asked for its offer.
struct Counted {
    evaluations: u64,
    quest: Option<Quest>,
    number: u64,
}

impl Planner for Counted {
    fn begin(&mut self, quest: Quest) {
        self.quest = Some(quest);
        self.number += 1;
    }

    fn offer(&mut self) -> BoxFuture<'_, Offer> {
        async {
            let evaluations = self.evaluations;
            let done = move |looked_at: u64| looked_at as f64 / evaluations as f64;
            let quest = self.quest.take();
            match quest.and_then(|quest| Some((found(&quest, &[], self.number, &done)?, quest))) {
                Some((order, quest)) => quest.offer(order, true),
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
    offers: mpsc::UnboundedReceiver<Offer>,
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
        let (found, offers) = mpsc::unbounded_channel();
        let there = Arc::clone(&shared);
        std::thread::Builder::new().name("planner".to_owned()).spawn(move || run(&there, &found))?;
        Ok(Self { shared, offers })
    }
}

impl Planner for Beside {
    fn begin(&mut self, quest: Quest) {
        self.shared.next().quest = Some(quest);
        self.shared.stop.store(true, Ordering::Release);
        self.shared.changed.notify_one();
    }

    fn offer(&mut self) -> BoxFuture<'_, Offer> {
        async {
            match self.offers.recv().await {
                Some(offer) => offer,
                None => std::future::pending().await,
            }
        }
        .boxed()
    }
}

impl Drop for Beside {
    fn drop(&mut self) {
        self.shared.next().end = true;
        self.shared.stop.store(true, Ordering::Release);
        self.shared.changed.notify_one();
    }
}

/// Searches for whatever comes until it is told to end.
fn run(shared: &Shared, found_one: &mpsc::UnboundedSender<Offer>) {
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
            let Some(order) = found(&quest, warm.as_slice(), number, &done) else { break };
            // Also where it was stopped: it is the best order that is known to begin the next search with.
            warm = Some(order.clone());
            if shared.is_stopped() || found_one.send(quest.offer(order, last)).is_err() {
                break;
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
