//! One run: the hosts of a plan on a simulated network, its troubles at their times, and what was seen.

use std::fmt;
use std::time::{Duration, UNIX_EPOCH};

use turmoil::Sim;
use turnabout_server::demo::dice::Dice;

use crate::disk::{Counts, Disk};
use crate::ghost;
use crate::hand::{Asked, Hand};
use crate::history::History;
use crate::house::House;
use crate::lines::{Line, Lines};
use crate::network::SERVER;
use crate::plan::{GHOSTS, HANDS, Plan, Planned, Trouble};
use crate::screen::{self, Screen};
use crate::truth::{Truth, Wrong};

/// How far time goes at once. Nothing on the network is faster.
const STEP_MS: u64 = 5;
/// How often displays are compared with the journal.
const LOOK_MS: u64 = 50;
/// How soon after the last trouble every display must show what is so.
pub(crate) const CURRENT_WITHIN_MS: u64 = 2_000;
/// How long a display may then be behind: the way there, and the journal that has just moved on.
const BEHIND_MS: u64 = 1_000;
/// How long hands have to ask once more for all that was accepted.
const END_MS: u64 = 6_000;

/// A fault that is planted, to see that it is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Planted {
    Nothing,
    /// The first display connects once and never again.
    GivesUp,
    /// The disk says that a commit is durable before it is.
    Lies,
}

/// What was seen.
#[derive(Clone, Debug)]
pub(crate) struct Report {
    pub(crate) wrong: Vec<Wrong>,
    pub(crate) history: Vec<String>,
    /// Entries in the journal.
    pub(crate) entries: usize,
    pub(crate) counts: Counts,
    /// Commands of the hands that were accepted.
    pub(crate) accepted: usize,
    /// How long after the last trouble the last display was current, in milliseconds.
    pub(crate) current_after: Option<u64>,
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { entries, accepted, counts, .. } = self;
        let after = self.current_after.unwrap_or(u64::MAX);
        write!(
            f,
            "{entries} entries, {accepted} taps accepted, {} batches lost before and {} after they were written, \
             current after {after} ms",
            counts.unwritten(),
            counts.untold(),
        )
    }
}

/// Runs a plan.
pub(crate) fn run(plan: &Plan, planted: Planted) -> Report {
    World::new(plan, planted).run()
}

struct World<'a> {
    plan: &'a Plan,
    sim: Sim<'a>,
    disk: Disk,
    screens: Vec<Screen>,
    hands: Vec<Hand>,
    truth: Truth,
    history: History,
    wrong: Vec<Wrong>,
    lines: Lines,
    /// When each display was last seen to be current.
    current: Vec<Option<u64>>,
    /// When each display was first seen to be current after the last trouble.
    healed: Vec<Option<u64>>,
    /// How many troubles keep the server down.
    down: u32,
}

impl<'a> World<'a> {
    fn new(plan: &'a Plan, planted: Planted) -> Self {
        let mut sim = turmoil::Builder::new()
            .rng_seed(plan.seed)
            .epoch(UNIX_EPOCH)
            .tick_duration(Duration::from_millis(STEP_MS))
            .simulation_duration(Duration::from_secs(3_600))
            .build();
        let (history, disk) = (History::default(), Disk::new(plan.seed, planted == Planted::Lies));
        let house = House::new(plan, disk.clone());
        let truth = Truth::new(disk.clone(), house.files().names.clone());
        sim.host(SERVER, move || house.clone().serve());
        let screens: Vec<_> = (plan.topics.iter().enumerate())
            .map(|(n, topic)| {
                let gives_up = n == 0 && planted == Planted::GivesUp;
                Screen::new(n, topic, plan.seed, gives_up, history.clone())
            })
            .collect();
        for screen in screens.clone() {
            sim.host(screen.name().to_owned(), move || screen.clone().run());
        }
        let hands: Vec<_> = HANDS
            .iter()
            .enumerate()
            .map(|(n, coach)| Hand::new(n, coach, plan.seed, history.clone()))
            .collect();
        for hand in hands.clone() {
            sim.host(hand.name().to_owned(), move || hand.clone().run());
        }
        for n in 0..GHOSTS {
            let dice = Dice::for_person(plan.seed, 300 + n as u64);
            sim.host(format!("ghost-{n}"), move || ghost::run(dice.clone()));
        }
        let displays = screens.len();
        let world = Self {
            plan,
            sim,
            truth,
            disk,
            screens,
            hands,
            history,
            wrong: Vec::new(),
            lines: Lines::new(plan.latency.len()),
            current: vec![None; displays],
            healed: vec![None; displays],
            down: 0,
        };
        for host in 0..plan.latency.len() {
            world.set_latency(host, plan.latency[host]);
        }
        world
    }

    /// The name of the n-th host: displays, hands, ghosts.
    fn host(&self, n: usize) -> String {
        let hands = self.screens.len();
        let ghosts = hands + self.hands.len();
        match n {
            n if n < hands => self.screens[n].name().to_owned(),
            n if n < ghosts => self.hands[n - hands].name().to_owned(),
            n => format!("ghost-{}", n - ghosts),
        }
    }

    fn set_latency(&self, host: usize, ms: u64) {
        self.sim.set_link_latency(self.host(host).as_str(), SERVER, Duration::from_millis(ms));
    }

    fn run(mut self) -> Report {
        let healed = self.plan.healed();
        let looks_until = healed + CURRENT_WITHIN_MS + END_MS;
        let mut starts: Vec<Planned> = self.plan.troubles.clone();
        starts.sort_by_key(|planned| planned.from);
        let mut ends = starts.clone();
        ends.sort_by_key(|planned| planned.to);
        let (mut starts, mut ends) = (starts.into_iter().peekable(), ends.into_iter().peekable());
        for ms in (0..looks_until).step_by(usize::try_from(STEP_MS).expect("small")) {
            while let Some(planned) = starts.next_if(|planned| planned.from <= ms) {
                self.begin(planned.trouble);
            }
            while let Some(planned) = ends.next_if(|planned| planned.to <= ms) {
                self.end(planned.trouble);
            }
            if ms.is_multiple_of(LOOK_MS) {
                self.look(ms, healed);
            }
            if ms >= healed + CURRENT_WITHIN_MS && ms < healed + CURRENT_WITHIN_MS + STEP_MS {
                self.hands.iter().for_each(Hand::end);
            }
            self.sim.step().expect("hosts that run");
        }
        self.report(healed)
    }

    fn begin(&mut self, trouble: Trouble) {
        self.history.line(format!("begins {trouble:?}"));
        match trouble {
            Trouble::Held(host) => self.link(host, |line| line.holds += 1),
            Trouble::Cut(host) => self.link(host, |line| line.cuts += 1),
            Trouble::CutAll => self.all_links(|line| line.cuts += 1),
            Trouble::Slow(host, ms) => self.set_latency(host, ms),
            Trouble::Deaf(host) => self.ear(host, true),
            Trouble::Reset(host) => {
                let host = self.host(host);
                self.sim.bounce(host);
            }
            Trouble::Killed => self.kill(),
            Trouble::PowerCut => {
                // Nobody hears the end of its connections.
                self.all_links(|line| line.cuts += 1);
                self.kill();
            }
            Trouble::SlowDisk => self.disk.slow(true),
        }
    }

    fn end(&mut self, trouble: Trouble) {
        self.history.line(format!("ends {trouble:?}"));
        match trouble {
            Trouble::Held(host) => self.link(host, |line| line.holds -= 1),
            Trouble::Cut(host) => self.link(host, |line| line.cuts -= 1),
            Trouble::CutAll => self.all_links(|line| line.cuts -= 1),
            Trouble::Slow(host, _) => self.set_latency(host, self.plan.latency[host]),
            Trouble::Deaf(host) => self.ear(host, false),
            Trouble::Reset(_) => {}
            Trouble::Killed => self.revive(),
            Trouble::PowerCut => {
                self.all_links(|line| line.cuts -= 1);
                self.revive();
            }
            Trouble::SlowDisk => self.disk.slow(false),
        }
    }

    fn kill(&mut self) {
        self.down += 1;
        self.sim.crash(SERVER);
    }

    fn revive(&mut self) {
        self.down -= 1;
        if self.down == 0 {
            self.sim.bounce(SERVER);
        }
    }

    fn ear(&self, host: usize, shut: bool) {
        let screen = self.screens.get(host).map(Screen::ear);
        let hand = || self.hands.get(host - self.screens.len()).map(Hand::ear);
        screen.or_else(hand).expect("a display or a hand").shut(shut);
    }

    fn all_links(&mut self, change: impl Fn(&mut Line)) {
        for host in 0..self.plan.latency.len() {
            self.link(host, &change);
        }
    }

    fn link(&mut self, host: usize, change: impl FnOnce(&mut Line)) {
        let name = self.host(host);
        self.lines.change(&self.sim, host, &name, change);
    }

    /// Compares every display with the journal.
    fn look(&mut self, ms: u64, healed: u64) {
        if ms == 0 {
            return;
        }
        if let Err(wrong) = self.truth.follow() {
            self.wrong.push(wrong);
        }
        for (n, screen) in self.screens.iter().enumerate() {
            if screen.shows(self.truth.view(screen.topic())) {
                self.current[n] = Some(ms);
                if ms >= healed {
                    self.healed[n] = self.healed[n].or(Some(ms));
                }
                continue;
            }
            let current_until = self.current[n];
            let wanted = healed.max(ms.saturating_sub(BEHIND_MS));
            if ms >= healed + CURRENT_WITHIN_MS && current_until.is_none_or(|until| until < wanted) {
                let display = screen.name().to_owned();
                self.wrong.push(Wrong::Stale { display, at: ms - healed, current_until });
            }
        }
    }

    fn report(mut self, healed: u64) -> Report {
        drop(self.sim);
        self.disk.settle();
        if let Err(wrong) = self.truth.follow() {
            self.wrong.push(wrong);
        }
        self.wrong.extend(self.truth.answers(&self.hands));
        self.wrong.extend(screen::apart(&self.screens));
        for row in self.disk.rows_after(0) {
            self.history.line(format!("{row:?}"));
        }
        let all: Option<Vec<u64>> = self.healed.iter().copied().collect();
        let accepted = self.hands.iter().flat_map(Hand::asked).filter(Asked::accepted).count();
        Report {
            wrong: self.wrong,
            history: self.history.lines(),
            entries: self.truth.entries(),
            counts: self.disk.counts(),
            accepted,
            current_after: all.and_then(|all| all.into_iter().max()).map(|at| at - healed),
        }
    }
}
