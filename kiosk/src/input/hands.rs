//! All that hands do at one display: touches, keys, wiping, and which page of the row is turned up.

use super::choices::{Choice, Does, Page};
use super::mark::{FourKey, Mark};
use super::touch::Touch;
use super::wipe::Wipe;

/// So long a page of the row stays turned up that nobody touches.
pub const PAGE_MS: u64 = 10_000;

/// What is drawn of it, beside the face itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drawn {
    /// The name of what is marked; empty where no key was used lately, or nothing is marked.
    pub marked: String,
    /// The page of the row, from 0.
    pub page: usize,
    /// The screen is being wiped for so many seconds more.
    pub wiping: Option<u64>,
    /// It seems to be wet.
    pub wet: bool,
}

/// A finger that is on HELP for so long while the screen is wiped means it: a cloth has gone on by then. Common practice, no
/// source.
pub const HELD_MS: u64 = 1_000;

/// The hands at one display.
#[derive(Clone, Debug, Default)]
pub struct Hands {
    choices: Vec<Choice>,
    touch: Touch,
    mark: Mark,
    wipe: Wipe,
    /// The finger that came on HELP while the screen is wiped, and when.
    held: Option<u64>,
    /// The page that was turned up, and when.
    turned: Option<(usize, u64)>,
}

impl Hands {
    /// Takes down what can be pressed from now on.
    pub fn draws(&mut self, choices: Vec<Choice>, now: u64) {
        self.mark.draws(&choices, now);
        self.choices = choices;
        let page = self.page(now);
        let is_drawn = |choice: &&Choice| choice.page == Page::Every || choice.page == Page::Of(page);
        let drawn: Vec<Choice> = self.choices.iter().filter(is_drawn).cloned().collect();
        self.touch.draws(drawn.into_iter(), now);
    }

    /// What can be pressed.
    #[must_use]
    pub fn choices(&self) -> &[Choice] {
        &self.choices
    }

    /// A finger comes, on what has this name or on a bare place.
    pub fn down(&mut self, name: &str, now: u64) {
        if self.wipe.is_on(now) {
            self.touch.forget();
            self.held = self.is_help(name).then_some(now);
        } else {
            self.touch.down(name, now);
        }
    }

    /// A finger leaves what it came on; what it does.
    pub fn up(&mut self, name: &str, inside: bool, now: u64) -> Option<Does> {
        let held = self.held.take();
        if self.wipe.is_on(now) {
            self.touch.forget();
            // A cloth goes over it and on. Whoever calls for help stays on it.
            let meant = |since: &u64| inside && self.is_help(name) && now.saturating_sub(*since) >= HELD_MS;
            held.filter(meant)?;
            return self.at_once(name, now);
        }
        let does = self.touch.up(name, inside, now)?;
        self.own(does, now)
    }

    fn is_help(&self, name: &str) -> bool {
        self.choices.iter().any(|choice| choice.name == name && choice.is_help())
    }

    /// A key goes down; what it does. `repeats` is that it is held.
    pub fn key_down(&mut self, key: FourKey, repeats: bool, now: u64) -> Option<Does> {
        let touch = &self.touch;
        // What a key goes to on another page was there to be seen when the page was turned.
        let settled = |name: &str| touch.is_settled(name, now);
        let does = self.mark.down(key, repeats, &self.choices, settled, now)?;
        self.own(does, now)
    }

    /// A key comes up.
    pub fn key_up(&mut self, key: FourKey) {
        self.mark.up(key);
    }

    /// Both keys that move the mark are held.
    #[must_use]
    pub fn both(&self) -> bool {
        self.mark.both()
    }

    /// Pressed without a finger or a key, such as by a screen reader; what it does.
    pub fn at_once(&mut self, name: &str, now: u64) -> Option<Does> {
        let does = self.touch.at_once(name)?;
        self.own(does, now)
    }

    /// Does what concerns nothing but this display's hands; what is left to be done.
    fn own(&mut self, does: Does, now: u64) -> Option<Does> {
        match does {
            Does::Wipe => {
                self.wipe.begin(now);
                self.touch.wiped();
                None
            }
            Does::More => {
                let last = self.choices.iter().filter_map(|choice| match choice.page {
                    Page::Of(page) => Some(page),
                    Page::Every => None,
                });
                let last = last.max().unwrap_or(0);
                let next = self.page(now) + 1;
                self.turned = Some((if next > last { 0 } else { next }, now));
                None
            }
            Does::Send(_)
            | Does::Step(_)
            | Does::Ask(_)
            | Does::Unask
            | Does::Choose(_)
            | Does::SetUp(..) => {
                self.turned = None;
                Some(does)
            }
        }
    }

    /// The page that is turned up: that of what is marked, or the one somebody turned to.
    fn page(&self, now: u64) -> usize {
        let of =
            |name: &str| self.choices.iter().find(|choice| choice.name == name).map(|choice| choice.page);
        if let Some(Page::Of(page)) = self.mark.moved(now).and_then(of) {
            return page;
        }
        let turned =
            self.turned.filter(|(_, at)| now.saturating_sub(*at) < PAGE_MS).map_or(0, |(page, _)| page);
        let there = self.choices.iter().any(|choice| choice.page == Page::Of(turned));
        if there { turned } else { 0 }
    }

    /// A key was moved lately: nothing may change place meanwhile.
    #[must_use]
    pub fn is_choosing(&self, now: u64) -> bool {
        self.mark.moved(now).is_some()
    }

    /// What is drawn of it now.
    #[must_use]
    pub fn drawn(&self, now: u64) -> Drawn {
        let marked = self.mark.marked(&self.choices, now).filter(|_| self.mark.is_drawn(now));
        Drawn {
            marked: marked.map_or_else(String::new, |marked| marked.name.clone()),
            page: self.page(now),
            wiping: self.wipe.left(now),
            wet: self.touch.is_wet(now),
        }
    }

    /// The screen is being wiped.
    #[must_use]
    pub fn is_wiping(&self, now: u64) -> bool {
        self.wipe.is_on(now)
    }

    /// Somebody sets the display up: nothing else goes on.
    pub fn set_up(&mut self) {
        self.wipe.end();
        self.touch.wiped();
        self.turned = None;
    }

    /// When something else is drawn of it, if no hand comes until then.
    #[must_use]
    pub fn changes(&self, now: u64) -> Option<u64> {
        let page = self.turned.map(|(_, at)| at + PAGE_MS).filter(|until| now < *until);
        [self.wipe.changes(now), self.mark.changes(now), self.touch.dry(now), page]
            .into_iter()
            .flatten()
            .min()
    }
}
