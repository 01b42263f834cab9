//! What a seed stands for: who is there, and what goes wrong when. Pure: the same seed, the same plan.

use turnabout_server::demo::dice::Dice;

/// Nothing goes wrong before, so that everybody has been welcome once.
const FIRST_MS: u64 = 2_000;
/// Whatever goes wrong begins before.
const LAST_MS: u64 = 16_000;
/// The longest break after which TCP itself has everything delivered within two seconds: it tries again
/// after 0.2, 0.6, 1.4 and 3.0 s (RFC 6298, section 5.5, doubles the wait; 0.2 s is Linux's least, from
/// memory). The simulated network sends nothing twice, so that such a break holds back what is sent, and a
/// longer one loses it.
const HELD_MS: u64 = 3_000;

/// What goes wrong. Durations are milliseconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Trouble {
    /// What is sent between this display and the server is held back.
    Held(usize),
    /// It is lost.
    Cut(usize),
    /// It is lost between all displays and the server.
    CutAll,
    /// It takes so long on its way.
    Slow(usize, u64),
    /// The display reads nothing.
    Deaf(usize),
    /// The display is switched off and on again; it lasts no time.
    Reset(usize),
    /// The server's process is killed, and started again in the end.
    Killed,
    /// The server loses power, so that its peers hear nothing of it.
    PowerCut,
    /// The disk takes up to a second for each commit.
    SlowDisk,
}

/// A trouble with its time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Planned {
    pub(crate) from: u64,
    pub(crate) to: u64,
    pub(crate) trouble: Trouble,
}

/// All that a seed stands for.
#[derive(Clone, Debug)]
pub(crate) struct Plan {
    pub(crate) seed: u64,
    /// Floor milliseconds a millisecond.
    pub(crate) rate: u32,
    /// What each display watches.
    pub(crate) topics: Vec<&'static str>,
    /// How long anything takes to and from each host, the displays first, in milliseconds.
    pub(crate) latency: Vec<u64>,
    pub(crate) troubles: Vec<Planned>,
}

/// The coaches who tap; each has a host of its own after those of the displays.
pub(crate) const HANDS: [&str; 2] = ["coach-1", "coach-2"];
/// Peers that say hello and are never heard of again.
pub(crate) const GHOSTS: usize = 2;

/// At the first the wall clock is followed; at the others more happens in the same time.
const RATES: [u32; 4] = [1, 10, 30, 60];

const TOPICS: [&str; 8] = [
    "station/bench-1",
    "station/row-1",
    "board",
    "coach/coach-1",
    "station/bench-1,row-1",
    "coach/coach-2",
    "board",
    "station/row-1,bench-1",
];

impl Plan {
    pub(crate) fn new(seed: u64) -> Self {
        let mut dice = Dice::for_person(seed, 0);
        let displays = range(&mut dice, 4, 8);
        let topics: Vec<_> = TOPICS.into_iter().take(usize::try_from(displays).unwrap()).collect();
        let hosts = topics.len() + HANDS.len() + GHOSTS;
        let latency = (0..hosts).map(|_| range(&mut dice, 1, 30)).collect();
        let rate = RATES[usize::try_from(dice.below(RATES.len() as u64)).unwrap()];
        let reached = topics.len() + HANDS.len();
        let mut troubles: Vec<_> =
            (0..range(&mut dice, 6, 14)).map(|_| planned(&mut dice, reached)).collect();
        // No seed goes by without the server having been away, nor without a commit that had begun then.
        let (from, to) = span(&mut dice, 300, 3_000);
        troubles.push(Planned { from, to, trouble: Trouble::Killed });
        troubles.push(Planned { from: from - 1_000, to: from, trouble: Trouble::SlowDisk });
        troubles.sort_by_key(|planned| (planned.from, planned.to));
        Self { seed, rate, topics, latency, troubles }
    }

    /// When the last trouble ends.
    pub(crate) fn healed(&self) -> u64 {
        self.troubles.iter().map(|planned| planned.to).max().unwrap_or(0)
    }
}

fn planned(dice: &mut Dice, hosts: usize) -> Planned {
    let host = usize::try_from(dice.below(hosts as u64)).unwrap();
    let (trouble, least, most) = match dice.below(20) {
        0..4 => (Trouble::Held(host), 100, HELD_MS),
        4..8 => (Trouble::Cut(host), HELD_MS, 9_000),
        8 => (Trouble::CutAll, HELD_MS, 6_000),
        9..12 => (Trouble::Slow(host, range(dice, 30, 150)), 1_000, 8_000),
        12..14 => (Trouble::Deaf(host), 200, 8_000),
        14 | 15 => (Trouble::Reset(host), 0, 0),
        16 | 17 => (Trouble::Killed, 300, 3_000),
        18 => (Trouble::PowerCut, 4_000, 7_000),
        _ => (Trouble::SlowDisk, 1_000, 6_000),
    };
    let (from, to) = span(dice, least, most);
    Planned { from, to, trouble }
}

fn span(dice: &mut Dice, least: u64, most: u64) -> (u64, u64) {
    let from = range(dice, FIRST_MS, LAST_MS);
    (from, from + range(dice, least, most))
}

/// A whole number from `least` to `most`, both included.
pub(crate) fn range(dice: &mut Dice, least: u64, most: u64) -> u64 {
    least + dice.below(most - least + 1)
}
