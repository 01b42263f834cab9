//! A small floor to test with: two benches, two rows, two coaches, three groups.

use std::collections::BTreeMap;
use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, Effort, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, Key, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass, MassUnit, Millis, Secs};
use turnabout_protocol::view::{Emergency, StartsWith, View};
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{
    Client, Coach, Floor, GroupPlan, Names, Notes, Person, Programme, Settings, Sharing, Station,
};
use turnabout_server::floor::decide::{Speaker, Tap, Verdict, decide};
use turnabout_server::floor::due;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::gear_now;
use turnabout_server::floor::hours::Hours;
use turnabout_server::floor::invariants;
use turnabout_server::floor::planned;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::{Context, Watch, view};
use turnabout_server::loading::gear::{Bar, Gear, Plates, Stack};
use turnabout_server::training::block::{Block, Leg, Prescription};
use turnabout_server::training::exercise::{Exercise, SpotRule};
use turnabout_server::training::movement::Movement;

pub(crate) const BENCH: StationId = StationId(1);
pub(crate) const BENCH_2: StationId = StationId(2);
pub(crate) const ROW: StationId = StationId(3);
pub(crate) const ROW_2: StationId = StationId(4);
pub(crate) const AYLA: CoachId = CoachId(1);
pub(crate) const BRAM: CoachId = CoachId(2);
pub(crate) const DARA: ClientId = ClientId(104);
pub(crate) const EDDA: ClientId = ClientId(105);
pub(crate) const FARID: ClientId = ClientId(106);
pub(crate) const GRETA: ClientId = ClientId(107);
pub(crate) const PAIR: GroupId = GroupId(1);
pub(crate) const SINGLE: GroupId = GroupId(2);
pub(crate) const LATER: GroupId = GroupId(3);

pub(crate) fn kg(kg: i64) -> Mass {
    Mass::from_grams(kg * 1_000)
}

/// The same as a load.
pub(crate) fn kilos(kilos: i64) -> Load {
    kg(kilos).into()
}

pub(crate) fn key(text: &str) -> Key {
    text.parse().unwrap()
}

fn bar() -> Gear {
    let plates = [20, 10, 5].map(|m| Plates::new(kg(m), 4)).to_vec();
    Gear::Bar(Bar::one(MassUnit::Kg, kg(20), Mass::ZERO, plates))
}

fn stack() -> Gear {
    Gear::Stack(Stack::steps(MassUnit::Kg, kg(5), kg(5), 20))
}

pub(crate) fn floor() -> Floor {
    let station = |id: StationId, name: &str, gear: Gear| {
        let key = key(&name.to_lowercase().replace(' ', "-"));
        (
            id,
            Station {
                key,
                name: name.to_owned(),
                at_cm: [i32::from(id.0) * 200, 0],
                gear,
                sharing: Sharing::Never,
                settings: Vec::new(),
                arms: false,
            },
        )
    };
    let exercise = |id: u16, name: &str, gear, stations: [StationId; 2], starts_with, spot| {
        let key = key(&name.to_lowercase().replace(' ', "-"));
        let id = ExerciseId(id);
        (
            id,
            Exercise {
                id,
                key,
                name: Words::same(name),
                gear,
                stations: stations.into(),
                starts_with,
                spot,
                movement: Movement::Other,
                from_the_floor: false,
                handle: None,
                about: Arc::default(),
            },
        )
    };
    Floor {
        name: "Test floor".to_owned(),
        zone: "Europe/Berlin".to_owned(),
        emergency: Emergency {
            number: "112".to_owned(),
            address: "1 Quay Lane".to_owned(),
            defibrillator: "by the door".to_owned(),
            first_aid: "behind the desk".to_owned(),
        },
        hours: Hours::default(),
        settings: Settings::default(),
        stations: BTreeMap::from([
            station(BENCH, "Bench 1", bar()),
            station(BENCH_2, "Bench 2", bar()),
            station(ROW, "Row 1", stack()),
            station(ROW_2, "Row 2", stack()),
        ]),
        coaches: BTreeMap::from([
            (AYLA, Coach { key: key("coach-1"), shift: None }),
            (BRAM, Coach { key: key("coach-2"), shift: None }),
        ]),
        exercises: BTreeMap::from([
            exercise(
                1,
                "Bench press",
                GearKind::Bar,
                [BENCH, BENCH_2],
                StartsWith::Eccentric,
                SpotRule::OverFace,
            ),
            exercise(2, "Cable row", GearKind::Stack, [ROW, ROW_2], StartsWith::Concentric, SpotRule::None),
        ]),
        ..Floor::unknown()
    }
}

/// Two rounds of ten presses and ten rows at 2-0-2-0, 60 to 120 s of rest after each pair.
pub(crate) fn block(loads: &[(ClientId, i64, i64)]) -> Block {
    let leg = |exercise: u16, load: fn(&(ClientId, i64, i64)) -> i64| Leg {
        exercise: ExerciseId(exercise),
        in_place: false,
        per_side: false,
        sets: loads
            .iter()
            .map(|of| {
                let tempo = "2-0-2-0".parse().unwrap();
                let mut set = Prescription::plain(tempo, 4, Work::reps(10), Some(kg(load(of))));
                set.technique.load = Some(kilos(if exercise == 1 { 20 } else { 5 }));
                (of.0, set)
            })
            .collect(),
    };
    Block {
        legs: vec![leg(1, |l| l.1), leg(2, |l| l.2)],
        rounds: 2,
        rest_min: Secs(60),
        rest_max: Secs(120),
        changeover: Secs(20),
    }
}

pub(crate) fn programme() -> Programme {
    let group = |coach, loads: &[(ClientId, i64, i64)]| GroupPlan {
        coach,
        clients: loads.iter().map(|l| l.0).collect(),
        blocks: vec![block(loads)],
        starts: None,
        ends: None,
    };
    let client = |id, show_load| (id, Client { show_load, regular: true, ..Client::default() });
    Programme {
        day: None,
        clients: BTreeMap::from([
            client(DARA, true),
            client(EDDA, false),
            client(FARID, true),
            client(GRETA, true),
        ]),
        groups: BTreeMap::from([
            (PAIR, group(AYLA, &[(DARA, 60, 50), (EDDA, 40, 35)])),
            (SINGLE, group(BRAM, &[(FARID, 70, 55)])),
            (LATER, group(AYLA, &[(GRETA, 30, 25)])),
        ]),
    }
}

pub(crate) fn names() -> Names {
    [
        (Person::Client(DARA), "Dara"),
        (Person::Client(EDDA), "Edda"),
        (Person::Client(FARID), "Farid"),
        (Person::Client(GRETA), "Greta"),
        (Person::Coach(AYLA), "Ayla"),
        (Person::Coach(BRAM), "Bram"),
    ]
    .map(|(person, name)| (person, name.to_owned()))
    .into()
}

/// A floor with its journal in memory. Invariants are looked at after every entry.
#[derive(Clone)]
pub(crate) struct World {
    pub(crate) state: State,
    pub(crate) entries: Vec<Entry>,
    pub(crate) now: FloorMs,
}

impl World {
    /// The floor and the programme above; everybody is there, nobody has begun.
    pub(crate) fn new() -> Self {
        let mut world = Self::empty();
        world.all_arrive();
        world
    }

    /// Everybody comes, each welcomed by the group's coach.
    pub(crate) fn all_arrive(&mut self) {
        for (group, clients, by) in
            [(PAIR, vec![DARA, EDDA], AYLA), (SINGLE, vec![FARID], BRAM), (LATER, vec![GRETA], AYLA)]
        {
            self.accept(&coach(by), Act::Arrive { group, clients });
        }
    }

    /// The floor and the programme above; nobody has come.
    pub(crate) fn empty() -> Self {
        Self::other(|_, _| {})
    }

    /// A floor and a programme that differ in something; nobody has come.
    pub(crate) fn other(change: impl FnOnce(&mut Floor, &mut Programme)) -> Self {
        let mut world = Self { state: State::new(), entries: Vec::new(), now: FloorMs(0) };
        let (mut floor, mut programme) = (floor(), programme());
        change(&mut floor, &mut programme);
        lightest_first(&floor, &mut programme);
        world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(floor)));
        world.take(Actor::Floor, world.now, Event::ProgrammeSet(Box::new(programme)));
        world
    }

    /// The same with everybody there.
    pub(crate) fn other_with_all(change: impl FnOnce(&mut Floor, &mut Programme)) -> Self {
        let mut world = Self::other(change);
        world.all_arrive();
        world
    }

    /// The pair has bench 1 and row 1.
    pub(crate) fn with_pair_on() -> Self {
        let mut world = Self::new();
        world.claim(AYLA, PAIR, &[BENCH, ROW]);
        world
    }

    pub(crate) fn take(&mut self, by: Actor, at: FloorMs, event: Event) {
        let sequence = self.state.sequence + 1;
        let entry = Entry { sequence, recorded: self.now, at, by, event };
        evolve(&mut self.state, &entry);
        invariants::check(&self.state).unwrap_or_else(|broken| panic!("{broken} after {entry:?}"));
        self.entries.push(entry);
    }

    /// Lets the floor's own deadlines up to `to` come, each at its time, and stands at `to` then.
    pub(crate) fn pass_to(&mut self, to: FloorMs) {
        assert!(to >= self.now, "time goes on");
        while let Some(at) = due::next_wake(&self.state).filter(|at| *at <= to) {
            self.now = self.now.max(at);
            let due = due::due(&self.state, self.now).expect("its time has come");
            for event in due.events {
                self.take(Actor::Floor, due.at, event);
            }
        }
        self.now = to;
    }

    /// Lets what is due now happen.
    pub(crate) fn settle(&mut self) {
        self.pass_to(self.now);
    }

    pub(crate) fn pass(&mut self, secs: i64) {
        self.pass_to(self.now + Millis::secs(secs));
    }

    /// A tap happening now.
    pub(crate) fn tap(&mut self, speaker: &Speaker, act: Act) -> Verdict {
        self.tap_at(speaker, self.now, act)
    }

    pub(crate) fn tap_at(&mut self, speaker: &Speaker, at: FloorMs, act: Act) -> Verdict {
        let tap = Tap { speaker: speaker.clone(), at, act };
        let verdict = decide(&self.state, &tap, self.now);
        if let Verdict::Accepted(events) = &verdict {
            assert!(!events.is_empty(), "an accepted tap has an effect: {tap:?}");
            for event in events.clone() {
                self.take(speaker.actor, self.now, event);
            }
            self.settle();
        }
        verdict
    }

    pub(crate) fn accept(&mut self, speaker: &Speaker, act: Act) {
        let verdict = self.tap(speaker, act.clone());
        assert!(matches!(verdict, Verdict::Accepted(_)), "{act:?} led to {verdict:?}");
    }

    pub(crate) fn refuse(&mut self, speaker: &Speaker, act: Act, refusal: Refusal) {
        let before = self.state.clone();
        assert_eq!(self.tap(speaker, act.clone()), Verdict::Refused(refusal), "{act:?}");
        assert_eq!(self.state, before, "a refusal has no effect");
    }

    pub(crate) fn claim(&mut self, by: CoachId, group: GroupId, stations: &[StationId]) {
        let revision = self.state.groups[&group].revision;
        let block = self.state.groups[&group].block;
        self.accept(
            &coach(by),
            Act::TakeStations { group, block, stations: stations.to_vec(), revision, despite: None },
        );
    }

    /// A whole set from confirmation to done, by the coach, with everything it needs. Starts now.
    pub(crate) fn whole_set(&mut self, by: CoachId, turn: TurnId) {
        self.begin(by, turn);
        let ends = self.current(turn).ends;
        self.pass_to(ends);
        self.accept(&coach(by), Act::Done { turn, reps: None, effort: Some(Effort::Right), ending: None });
        if turn.round == 0 {
            self.accept(&coach(by), Act::PassTechnique { turn });
        }
    }

    /// Confirms what needs confirming and says GO.
    pub(crate) fn begin(&mut self, by: CoachId, turn: TurnId) {
        if let Verdict::Refused(refusal) = self.tap(&coach(by), Act::ConfirmLoad { turn }) {
            assert_eq!(refusal, Refusal::NothingToConfirm);
        }
        self.accept(&coach(by), Act::Go { turn });
    }

    pub(crate) fn current(&self, turn: TurnId) -> turnabout_server::floor::state::UnderWay {
        self.state.groups[&turn.group].clients[&turn.client].current.expect("a set is under way")
    }

    pub(crate) fn view(&self, watch: &Watch) -> View {
        let names = names();
        view(
            &self.state,
            &Context { names: &names, notes: &Notes::new(), zone_offset: 3_600, plan: &planned::NOTHING },
            watch,
        )
        .expect("it is there")
    }

    /// The state that the entries alone lead to.
    pub(crate) fn replayed(&self) -> State {
        let mut state = State::new();
        for entry in &self.entries {
            evolve(&mut state, entry);
        }
        state
    }
}

/// Light sets that are said outright are with the lightest load of the gear, whatever gear that is.
fn lightest_first(floor: &Floor, programme: &mut Programme) {
    let blocks = programme.groups.values_mut().flat_map(|group| &mut group.blocks);
    for leg in blocks.flat_map(|block| &mut block.legs) {
        let Some(exercise) = floor.exercises.get(&leg.exercise) else { continue };
        let Some(first) = exercise.stations.first() else { continue };
        let lightest = gear_now::as_planned(floor, *first, exercise.id).and_then(|gear| gear.lightest());
        for set in leg.sets.values_mut().filter(|set| set.technique.load.is_some()) {
            set.technique.load = lightest;
        }
    }
}

pub(crate) fn coach(coach: CoachId) -> Speaker {
    Speaker { actor: Actor::Coach { coach }, stations: Vec::new() }
}

pub(crate) fn kiosk(stations: &[StationId]) -> Speaker {
    Speaker { actor: Actor::Station { station: stations[0] }, stations: stations.to_vec() }
}

pub(crate) fn turn(group: GroupId, client: ClientId, round: u8, leg: u8) -> TurnId {
    TurnId { group, client, block: 0, round, leg }
}

/// A coach at a bar.
pub(crate) fn spots(coach: CoachId) -> Spotter {
    Spotter::Coach { coach }
}

pub(crate) fn secs(secs: i64) -> Millis {
    Millis::secs(secs)
}
