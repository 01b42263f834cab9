//! The invented people against the real floor, without sockets: views reach them a moment late, taps are
//! decided at once, the clock is driven.

use std::collections::BTreeMap;

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::Stage;
use turnabout_server::demo::dice::Dice;
use turnabout_server::demo::person::Person;
use turnabout_server::demo::script::Script;
use turnabout_server::floor::config::Names;
use turnabout_server::floor::decide::{Speaker, Verdict};
use turnabout_server::floor::due;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::planned;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::{Context, Watch, view};
use turnabout_server::setup::{parse_floor, parse_programme};

use crate::world::{World, coach, kiosk};

pub(crate) const FLOOR: &str = include_str!("../../examples/floor.toml");
pub(crate) const PROGRAMME: &str = include_str!("../../examples/programme.toml");

/// The longest evening: the example's groups need well under an hour each.
const EVENING: Millis = Millis::secs(3 * 3_600);
/// How long a view is on its way at the most.
const LATE: Millis = Millis(300);

struct Player {
    person: Person,
    speaker: Speaker,
    watch: Watch,
    /// When the newest view arrives; nothing while what is shown is the newest.
    arrives: Option<FloorMs>,
    taps: Vec<FloorMs>,
}

pub(crate) struct Theatre {
    pub(crate) world: World,
    names: Names,
    players: Vec<Player>,
    dice: Dice,
    known: u64,
    pub(crate) accepted: u64,
    pub(crate) refused: BTreeMap<String, u64>,
    pub(crate) made: Vec<(FloorMs, Actor, Act)>,
}

impl Theatre {
    pub(crate) fn new(seed: u64) -> Self {
        let floor = parse_floor("floor.toml", FLOOR, None).unwrap();
        let programme = parse_programme("programme.toml", PROGRAMME, &floor.floor).unwrap();
        let mut names = floor.names;
        names.extend(programme.names);
        let mut world = World { state: State::new(), entries: Vec::new(), now: FloorMs(0) };
        let mut players = Vec::new();
        let mut n = 0;
        let mut dice = || {
            n += 1;
            Dice::for_person(seed, n)
        };
        for (place, id) in floor.floor.coaches.keys().enumerate() {
            let person = Person::coach(dice(), Script::of_coach(place));
            players.push(Player::new(person, coach(*id), Watch::Coach(*id)));
        }
        for (place, id) in floor.floor.stations.keys().enumerate() {
            let person = Person::clients(dice(), Script::of_station(place));
            players.push(Player::new(person, kiosk(&[*id]), Watch::Station(vec![*id])));
        }
        world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(floor.floor)));
        world.take(Actor::Floor, world.now, Event::ProgrammeSet(Box::new(programme.programme)));
        let dice = Dice::new(!seed);
        let (refused, made) = (BTreeMap::new(), Vec::new());
        Self { world, names, players, dice, known: 0, accepted: 0, refused, made }
    }

    /// Plays until all groups have finished.
    pub(crate) fn play(&mut self) {
        while !self.finished() {
            self.step();
        }
    }

    pub(crate) fn finished(&self) -> bool {
        let state = &self.world.state;
        state.groups.iter().all(|(id, now)| now.stage(&state.programme.groups[id]) == Stage::Finished)
    }

    /// Goes to the next instant at which anything happens.
    pub(crate) fn step(&mut self) {
        self.spread();
        let people = self.players.iter().flat_map(|p| [p.person.next(), p.arrives]).flatten();
        let next = people.chain(due::next_wake(&self.world.state)).min();
        let next = next.unwrap_or_else(|| panic!("everybody stands about: {:#?}", self.stages()));
        assert!(next.0 < EVENING.0, "nobody gets done: {:#?}", self.stages());
        self.world.pass_to(next.max(self.world.now));
        self.spread();
        for at in 0..self.players.len() {
            self.turn_to(at);
        }
    }

    /// What is new is on its way to every display.
    fn spread(&mut self) {
        if self.known == self.world.state.sequence {
            return;
        }
        self.known = self.world.state.sequence;
        for player in &mut self.players {
            let late = self.dice.between(Millis(5), LATE);
            player.arrives = player.arrives.or(Some(self.world.now + late));
        }
    }

    fn turn_to(&mut self, at: usize) {
        let now = self.world.now;
        let player = &mut self.players[at];
        if player.arrives.is_some_and(|arrives| arrives <= now) {
            player.arrives = None;
            let context = Context {
                names: &self.names,
                notes: &BTreeMap::new(),
                zone_offset: 0,
                plan: &planned::NOTHING,
            };
            let shown = view(&self.world.state, &context, &player.watch).unwrap();
            player.person.see(shown, now);
        }
        let Some(act) = player.person.act(now) else { return };
        player.taps.push(now);
        let speaker = player.speaker.clone();
        let outcome = self.tap(&speaker, act);
        self.players[at].person.hear(&outcome, now);
    }

    /// Somebody taps, one of the players or anybody else.
    pub(crate) fn tap(&mut self, speaker: &Speaker, act: Act) -> Outcome {
        self.made.push((self.world.now, speaker.actor, act.clone()));
        match self.world.tap(speaker, act) {
            Verdict::Accepted(_) => {
                self.accepted += 1;
                Outcome::Accepted { recorded: self.world.now }
            }
            Verdict::Already(stamp) => Outcome::Already { by: stamp.by, when: stamp.when },
            Verdict::Refused(refusal) => {
                *self.refused.entry(kind(&refusal)).or_default() += 1;
                Outcome::Refused { refusal }
            }
        }
    }

    /// Every answer that is on its way is lost, and views come anew: the server restarted.
    pub(crate) fn restart(&mut self) {
        for player in &mut self.players {
            player.person.lose(self.world.now);
            player.arrives = Some(self.world.now + Millis::secs(2));
        }
    }

    pub(crate) fn calls(&self, kind: CallKind) -> Vec<FloorMs> {
        let of_kind = |act: &Act| matches!(act, Act::Call { call, .. } if *call == kind);
        self.made.iter().filter(|(_, _, act)| of_kind(act)).map(|(at, _, _)| *at).collect()
    }

    /// The most taps of one person within a minute of floor time.
    pub(crate) fn busiest_minute(&self) -> usize {
        let within = |taps: &[FloorMs], from: FloorMs| {
            taps.iter().filter(|at| (0..60_000).contains(&at.since(from).0)).count()
        };
        let of = |p: &Player| p.taps.iter().map(|from| within(&p.taps, *from)).max().unwrap_or(0);
        self.players.iter().map(of).max().unwrap_or(0)
    }

    fn stages(&self) -> Vec<String> {
        let state = &self.world.state;
        let of = |(id, plan)| {
            let now = &state.groups[id];
            format!("{} at {:?}: {:?} {now:?}", id, self.world.now, now.stage(plan))
        };
        state.programme.groups.iter().map(of).collect()
    }
}

impl Player {
    fn new(person: Person, speaker: Speaker, watch: Watch) -> Self {
        Self { person, speaker, watch, arrives: None, taps: Vec::new() }
    }
}

/// The kind of a refusal, without its arguments.
fn kind(refusal: &Refusal) -> String {
    serde_json::to_value(refusal).unwrap()["because"].as_str().unwrap().to_owned()
}
