//! A display: the kiosk's own link and its socket, with somebody who taps on what its face offers.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;

use tokio::sync::Notify;
use tokio::sync::mpsc::{Sender, channel};
use tokio::time::Instant;
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::Revision;
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{RibbonIs, RibbonSet, View};
use turnabout_server::demo::dice::Dice;

use crate::face::{Body, Face, LinkState, Own, Panel, Tap};
use crate::history::History;
use crate::link::limits::INBOX;
use crate::link::socket::{Tapped, run_in};
use crate::link::{Identity, Link};
use crate::network::{Ear, Here, id};
use crate::pause::pause;
use crate::plan::range;
use crate::truth::Wrong;

/// How often a display that is planted to give up connects.
const TRIES_OF_ONE_THAT_GIVES_UP: u32 = 1;

/// What a display shows, and what it took to get there.
#[derive(Clone)]
pub(crate) struct Screen(Rc<Inside>);

struct Inside {
    name: String,
    topic: Topic,
    ear: Ear,
    dice: Rc<RefCell<Dice>>,
    gives_up: bool,
    shown: RefCell<Shown>,
    /// Everything it has shown, in order.
    taken: RefCell<Vec<(Revision, String)>>,
    history: History,
}

#[derive(Default)]
struct Shown {
    view: Option<(Revision, View)>,
    link: Option<LinkState>,
    face: Option<Face>,
}

impl Screen {
    /// The n-th display of a plan.
    pub(crate) fn new(n: usize, topic: &str, seed: u64, gives_up: bool, history: History) -> Self {
        let dice = Dice::for_person(seed, 100 + n as u64);
        Self(Rc::new(Inside {
            name: format!("display-{n}"),
            topic: topic.parse().expect("a topic"),
            ear: Ear::default(),
            dice: Rc::new(RefCell::new(dice)),
            gives_up,
            shown: RefCell::default(),
            taken: RefCell::default(),
            history,
        }))
    }

    /// Its host's name.
    pub(crate) fn name(&self) -> &str {
        &self.0.name
    }

    pub(crate) fn topic(&self) -> &Topic {
        &self.0.topic
    }

    pub(crate) fn ear(&self) -> &Ear {
        &self.0.ear
    }

    /// Whether it shows this content and says that it is up to date.
    pub(crate) fn shows(&self, view: &View) -> bool {
        let shown = self.0.shown.borrow();
        let same = shown.view.as_ref().is_some_and(|(_, shown)| told(shown) == *view);
        same && shown.link.as_ref().is_some_and(LinkState::is_up)
    }

    /// Runs it until it is switched off.
    pub(crate) async fn run(self) -> turmoil::Result {
        let inside = &self.0;
        *inside.shown.borrow_mut() = Shown::default();
        inside.history.say(&inside.name, "on");
        let role = match inside.topic.clone() {
            Topic::Station(stations) => Role::Station { stations },
            Topic::Board => Role::Board,
            Topic::Coach(coach) => Role::Coach { coach },
            Topic::Manager => Role::Manager,
        };
        let device = DeviceId(id(&mut inside.dice.borrow_mut()));
        let link = Link::new(Identity { device, role, topic: inside.topic.clone() });
        let tries_left = inside.gives_up.then_some(Cell::new(TRIES_OF_ONE_THAT_GIVES_UP));
        let here = Here { ear: inside.ear.clone(), dice: Rc::clone(&inside.dice), tries_left };
        let (taps, inbox) = channel(INBOX);
        let (start, again) = (Instant::now().into_std(), Rc::new(Notify::new()));
        let link = run_in(here, link, start, inbox, again, |link, real| self.show(link, real));
        tokio::join!(link, self.press(taps));
        Ok(())
    }

    /// Takes down what is new; says when what is shown changes next.
    fn show(&self, link: &mut Link, real: u64) -> u64 {
        let Inside { name, history, shown, .. } = &*self.0;
        let mut shown = shown.borrow_mut();
        if let Some((revision, known)) = link.known()
            && shown.view.as_ref().is_none_or(|(before, _)| before != revision)
        {
            let view = serde_json::to_string(&known.view).expect("a view is plain JSON");
            history.say(name, &format!("shows {revision:?} {view}"));
            shown.view = Some((*revision, known.view.clone()));
            self.0.taken.borrow_mut().push((*revision, view));
        }
        let state = link.state();
        if shown.link.as_ref() != Some(&state) {
            history.say(name, &format!("{state:?}"));
            shown.link = Some(state);
        }
        let face = link.face(real, Language::En, None, &Own::default());
        let until = link.shows_until(real, &face, Language::En, None, &Own::default());
        shown.face = Some(face);
        until
    }

    /// Somebody presses one of the live buttons now and then.
    async fn press(&self, taps: Sender<Tapped>) {
        loop {
            let wait = range(&mut self.0.dice.borrow_mut(), 500, 4_000);
            pause(wait).await;
            let act = self.0.shown.borrow().face.as_ref().and_then(|face| self.choose(face));
            if let Some(act) = act {
                self.0.history.say(&self.0.name, &format!("presses {act:?}"));
                // A full queue is a finger too many.
                let _ = taps.try_send((Instant::now().into_std(), act));
            }
        }
    }

    fn choose(&self, face: &Face) -> Option<Act> {
        let Body::Stations { panels } = &face.body else { return None };
        let live = panels.iter().flat_map(Panel::all_buttons).filter(|button| {
            // Help would be all over the screens for the rest of the evening.
            button.enabled && button.tap != Tap::HelpNow
        });
        let live: Vec<_> = live.collect();
        let chosen = self.0.dice.borrow_mut().below(live.len() as u64);
        Some(live.get(usize::try_from(chosen).ok()?)?.act.clone())
    }
}

/// What a view says without what is only planned, of which the journal knows nothing.
fn told(view: &View) -> View {
    let mut told = view.clone();
    let known = |ribbon: &mut Vec<RibbonSet>| ribbon.retain(|set| set.is != RibbonIs::ToCome);
    match &mut told {
        View::Coach(coach) => {
            coach.run_sheet.retain(|row| row.told);
            coach.groups.iter_mut().for_each(|group| group.admissions.clear());
            let clients = coach.groups.iter_mut().flat_map(|group| &mut group.clients);
            clients.for_each(|client| known(&mut client.ribbon));
        }
        View::Board(board) => {
            let clients = board.groups.iter_mut().flat_map(|group| &mut group.clients);
            clients.for_each(|client| known(&mut client.ribbon));
        }
        View::Station(_) => {}
    }
    told
}

/// Displays that showed different content for the same revision of the same topic.
pub(crate) fn apart(screens: &[Screen]) -> Vec<Wrong> {
    let mut seen = BTreeMap::new();
    let mut wrong = Vec::new();
    for screen in screens {
        for (revision, view) in &*screen.0.taken.borrow() {
            let Revision { epoch, sequence, plan } = *revision;
            let first = seen.entry((screen.topic(), epoch, sequence, plan)).or_insert_with(|| view.clone());
            if first != view {
                wrong.push(Wrong::Apart { display: screen.name().to_owned(), sequence });
            }
        }
    }
    wrong
}
