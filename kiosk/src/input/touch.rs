//! Which touch counts. Nothing acts when a finger comes; it acts when the finger leaves, where it came, unless it was a
//! drop of sweat, a towel, the second half of a double tap, or meant for something that is there no more.

use super::choices::{Choice, Does};

/// A touch that is shorter does nothing: a drop that runs over the glass, or a contact that bounces. A tap lasts 60 ms
/// and more. Common practice, no source.
pub const SHORTEST_MS: u64 = 40;

/// A touch that is longer does nothing: a towel or an arm that lies on the screen. Common practice, no source.
pub const LONGEST_MS: u64 = 3_000;

/// A touch that begins so soon after one that did something at the same place is the second of a double tap, which
/// window systems take to last up to half a second. Common practice, no source.
pub const APART_MS: u64 = 400;

/// Whatever has been there for less was not what the finger meant: nobody sees something and touches it so fast. A
/// choice between a few things takes people 0.3 s and more (Hick 1952, Quarterly Journal of Experimental Psychology
/// 4(1):11-26; from memory).
pub const SETTLED_MS: u64 = 300;

/// So many places within a second can be one person's. More are drops. Common practice, no source.
pub const MOST_PLACES: usize = 4;

/// The second in which places are counted.
const COUNTED_MS: u64 = 1_000;

/// A wet screen is taken to be dry again when nothing has touched it for so long. Common practice, no source.
pub const WET_MS: u64 = 3_000;

/// Something that is drawn, and since when.
#[derive(Clone, Debug)]
struct There {
    choice: Choice,
    since: u64,
}

/// A finger that is down.
#[derive(Clone, Debug)]
struct Down {
    name: String,
    at: u64,
    /// What it is on did when it came; nothing where that could not be pressed or had not been there long enough.
    meant: Option<Does>,
}

/// Touches, and what they are on.
#[derive(Clone, Debug, Default)]
pub struct Touch {
    there: Vec<There>,
    down: Option<Down>,
    /// The touches that did something lately: where, and when they ended.
    lately: Vec<(String, u64)>,
    /// Where touches began within the last second.
    recent: Vec<(String, u64)>,
    wet_until: Option<u64>,
}

impl Touch {
    /// Takes down what is drawn from now on, each with its place on the screen.
    pub fn draws(&mut self, drawn: impl Iterator<Item = Choice>, now: u64) {
        let before = std::mem::take(&mut self.there);
        let since = |choice: &Choice| {
            let same = |there: &&There| there.choice.name == choice.name && there.choice.does == choice.does;
            before.iter().find(same).map_or(now, |there| there.since)
        };
        self.there = drawn.map(|choice| There { since: since(&choice), choice }).collect();
    }

    /// What of that name is drawn.
    fn named(&self, name: &str) -> Option<&There> {
        self.there.iter().find(|there| there.choice.name == name)
    }

    /// Whether something has been drawn for long enough to be meant.
    #[must_use]
    pub fn is_settled(&self, name: &str, now: u64) -> bool {
        self.named(name).is_some_and(|there| now.saturating_sub(there.since) >= SETTLED_MS)
    }

    /// A finger comes. `name` is what it is on, or a name of the bare place.
    pub fn down(&mut self, name: &str, now: u64) {
        self.count(name, now);
        let meant = self.named(name).filter(|there| there.choice.enabled).filter(|there| {
            let is_first = |(place, at): &(String, u64)| place == name && now.saturating_sub(*at) < APART_MS;
            let second = self.lately.iter().any(is_first);
            there.choice.is_help() || (self.is_settled(name, now) && !second)
        });
        let meant = meant.map(|there| there.choice.does.clone());
        self.down = Some(Down { name: name.to_owned(), at: now, meant });
    }

    /// A finger leaves what it came on, `inside` or somewhere else; what it does.
    pub fn up(&mut self, name: &str, inside: bool, now: u64) -> Option<Does> {
        let down = self.down.take().filter(|down| inside && down.name == name)?;
        let there = self.named(name).filter(|there| there.choice.enabled)?;
        let lasted = now.saturating_sub(down.at);
        let counts =
            (SHORTEST_MS..=LONGEST_MS).contains(&lasted) && Some(&there.choice.does) == down.meant.as_ref();
        let dry = !self.is_wet(now) || there.choice.does == Does::Wipe;
        // Whoever calls for help hits the screen as they can.
        if !(there.choice.is_help() || (counts && dry)) {
            return None;
        }
        let does = there.choice.does.clone();
        self.lately.retain(|(_, at)| now.saturating_sub(*at) < APART_MS);
        self.lately.push((down.name, now));
        Some(does)
    }

    /// No finger is down any more, and none that was does anything.
    pub fn forget(&mut self) {
        self.down = None;
    }

    /// Drops touch many places within a second.
    fn count(&mut self, name: &str, now: u64) {
        self.recent.retain(|(place, at)| place != name && now.saturating_sub(*at) < COUNTED_MS);
        self.recent.push((name.to_owned(), now));
        if self.recent.len() > MOST_PLACES || self.is_wet(now) {
            self.wet_until = Some(now + WET_MS);
        }
    }

    /// The screen seems to be wet: only help and wiping count.
    #[must_use]
    pub fn is_wet(&self, now: u64) -> bool {
        self.wet_until.is_some_and(|until| now < until)
    }

    /// When it is taken to be dry again.
    #[must_use]
    pub fn dry(&self, now: u64) -> Option<u64> {
        self.wet_until.filter(|until| now < *until)
    }

    /// It was wiped.
    pub fn wiped(&mut self) {
        (self.wet_until, self.down) = (None, None);
        self.recent.clear();
    }

    /// What is pressed by that name without a finger or a key, such as by a screen reader.
    #[must_use]
    pub fn at_once(&self, name: &str) -> Option<Does> {
        self.named(name).filter(|there| there.choice.enabled).map(|there| there.choice.does.clone())
    }
}
