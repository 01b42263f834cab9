//! Random histories: whatever people tap in whatever order, the invariants hold, and the journal alone leads
//! to the same state, byte for byte, through the codec and through a snapshot.

use std::collections::BTreeMap;

use proptest::prelude::*;
use turnabout_protocol::command::Act;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::Millis;
use turnabout_protocol::view::View;
use turnabout_server::floor::config::ScreeningPolicy;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::Watch;
use turnabout_server::journal::codec::{decode, encode};

use crate::anything::{Pick, pick};
use crate::rich::{Kind, rich_world};
use crate::world::*;

/// How many histories.
const HISTORIES: u32 = 2_000;
/// Steps of one: enough for a group to get into its second block.
const MOST_STEPS: usize = 180;

#[derive(Clone, Debug)]
enum Step {
    /// Any tap.
    Any(Pick),
    /// The n-th of the taps that the coach's page offers: so that histories get somewhere.
    Offered(usize),
    /// Time goes on.
    Pass(i64),
    /// The server was down.
    Down(i64),
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        24 => pick().prop_map(Step::Any),
        72 => (0_usize..60).prop_map(Step::Offered),
        18 => (0_i64..60).prop_map(Step::Pass),
        1 => (300_i64..1_300).prop_map(Step::Pass),
        1 => (0_i64..4_000).prop_map(Step::Down),
    ]
}

fn kind() -> impl Strategy<Value = Kind> {
    let screening = prop_oneof![
        4 => Just(ScreeningPolicy::NotAsked),
        2 => Just(ScreeningPolicy::CoachDecides),
        1 => Just(ScreeningPolicy::Required),
    ];
    let seldom = || prop::bool::weighted(0.2);
    (prop::bool::ANY, seldom(), seldom(), seldom(), screening, prop_oneof![Just(8), Just(1)]).prop_map(
        |(late, members, few_stations, few_clients, screening, get_set)| Kind {
            late,
            members,
            few_stations,
            few_clients,
            screening,
            get_set,
        },
    )
}

/// A floor and what happens on it.
struct Evening {
    world: World,
}

impl Evening {
    fn run(&mut self, step: &Step) {
        match *step {
            Step::Any(pick) => {
                let act = pick.act(&self.world.state);
                self.world.tap(&pick.speaker(), act);
            }
            Step::Offered(n) => {
                let me = if n % 3 == 2 { BRAM } else { AYLA };
                let View::Coach(page) = self.world.view(&Watch::Coach(me)) else { return };
                // Whoever is late does not come at the first chance.
                let edda = Act::Arrive { group: PAIR, clients: vec![EDDA] };
                let taps = page.groups.into_iter().flat_map(|g| g.taps).filter(|tap| tap.act != edda);
                let taps: Vec<_> = taps.collect();
                if let Some(tap) = taps.get(n % taps.len().max(1)) {
                    let later = tap.from.max(self.world.now);
                    self.world.pass_to(later);
                    self.world.tap(&coach(me), tap.act.clone());
                }
            }
            Step::Pass(secs) => self.world.pass(secs),
            Step::Down(secs) => {
                let (world, down) = (&mut self.world, Millis::secs(secs));
                world.now = world.now + down;
                world.take(Actor::Floor, world.now, Event::Resumed { down });
            }
        }
    }
}

/// What led to a failure: without it a history of numbers says little.
impl Drop for Evening {
    fn drop(&mut self) {
        if std::thread::panicking() {
            let last = self.world.entries.iter().rev().take(14).rev();
            let told = last.map(|e| format!("{:>6} {:?} {:?}\n", e.recorded.0 / 1_000, e.by, e.event));
            eprintln!("after\n{}", told.collect::<String>());
        }
    }
}

/// The state to which rows lead from another.
fn from(mut state: State, rows: &[turnabout_server::journal::Row]) -> State {
    for row in rows {
        evolve(&mut state, &decode(row).unwrap());
    }
    state
}

fn evening(kind: Kind, steps: &[Step]) -> Vec<Entry> {
    let mut world = rich_world(kind);
    if kind.late {
        world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![DARA] });
    }
    let mut evening = Evening { world };
    for step in steps {
        evening.run(step);
    }
    let world = evening.world.clone();
    // From the first entry, through the journal's own form.
    let live = serde_json::to_vec(&world.state).unwrap();
    let rows: Vec<_> = world.entries.iter().map(|e| encode(e).unwrap()).collect();
    assert_eq!(serde_json::to_vec(&from(State::new(), &rows)).unwrap(), live);
    // From a snapshot somewhere in the middle.
    let (before, after) = rows.split_at(rows.len() * (steps.len() % 10) / 10);
    let snapshot = serde_json::to_vec(&from(State::new(), before)).unwrap();
    let state: State = serde_json::from_slice(&snapshot).unwrap();
    assert_eq!(serde_json::to_vec(&from(state, after)).unwrap(), live);
    world.entries
}

proptest! {
    #![proptest_config(ProptestConfig { cases: HISTORIES, ..ProptestConfig::default() })]

    #[test]
    fn the_journal_alone_leads_to_the_same_state_byte_for_byte(
        kind in kind(),
        steps in prop::collection::vec(step(), 1..MOST_STEPS),
    ) {
        evening(kind, &steps);
    }
}

/// Too much must come together for these; the scripted evening has them.
const TOO_RARE: [&str; 7] = [
    "group_not_coming",
    "note_erased",
    "put_back_in_service",
    "rest_shortened",
    "rounds_made_up",
    "sets_missed",
    "spotter_gone",
];
/// These only take something back, and no tap here does.
const BY_UNDO: [&str; 5] =
    ["arrival_taken_back", "call_taken_back", "load_unconfirmed", "technique_not_passed", "turn_reopened"];

/// This one comes from a plan, which people alone do not make.
const BY_PLAN: &str = "promised";

/// So many histories, always the same.
pub(crate) fn always_the_same(histories: usize) -> impl Iterator<Item = Vec<Entry>> {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let strategy = (kind(), prop::collection::vec(step(), 100..MOST_STEPS));
    (0..histories).map(move |_| {
        let (kind, steps) = strategy.new_tree(&mut runner).unwrap().current();
        evening(kind, &steps)
    })
}

/// What the histories are worth: every kind of event happens in some.
#[test]
fn the_histories_lead_to_every_kind_of_event() {
    let mut seen: BTreeMap<&'static str, usize> = BTreeMap::new();
    for entry in always_the_same(600).flatten() {
        *seen.entry(entry.event.kind()).or_default() += 1;
    }
    let excepted = |kind: &&str| TOO_RARE.contains(kind) || BY_UNDO.contains(kind) || *kind == BY_PLAN;
    let missing: Vec<_> =
        Event::KINDS.iter().filter(|kind| !seen.contains_key(*kind) && !excepted(kind)).collect();
    assert!(missing.is_empty(), "never happened: {missing:?}\nhappened: {seen:?}");
}
