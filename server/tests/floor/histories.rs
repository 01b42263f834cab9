//! Random histories: whatever people tap in whatever order, the invariants hold, and the journal alone leads
//! to the same state, byte for byte, through the codec and through a snapshot.

use proptest::prelude::*;
use turnabout_protocol::command::{Act, CallKind, Effort, Scope};
use turnabout_protocol::ids::{CallId, TurnId};
use turnabout_protocol::units::Millis;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::Watch;
use turnabout_server::journal::codec::{decode, encode};

use crate::world::*;

/// How many histories; each is a few dozen taps.
const HISTORIES: u32 = 2_000;

#[derive(Clone, Debug)]
pub(crate) enum Step {
    /// A tap that names anything at all.
    Any(Speaker, Act),
    /// The n-th of the taps that the coach's page offers: so that histories get somewhere.
    Offered(usize),
    /// Time goes on.
    Pass(i64),
    /// The server was down.
    Down(i64),
}

fn speaker() -> impl Strategy<Value = Speaker> {
    prop_oneof![
        Just(coach(AYLA)),
        Just(coach(BRAM)),
        Just(kiosk(&[BENCH])),
        Just(kiosk(&[ROW, BENCH_2])),
        Just(kiosk(&[ROW_2])),
    ]
}

fn any_turn() -> impl Strategy<Value = TurnId> {
    let whose =
        prop_oneof![Just((PAIR, DARA)), Just((PAIR, EDDA)), Just((SINGLE, FARID)), Just((LATER, GRETA))];
    (whose, 0_u8..=3, 0_u8..=2, 0_u8..=1).prop_map(|((group, client), round, leg, block)| TurnId {
        group,
        client,
        block,
        round,
        leg,
    })
}

fn act() -> impl Strategy<Value = Act> {
    let group = prop_oneof![Just(PAIR), Just(SINGLE), Just(LATER)];
    let bench = prop_oneof![Just(BENCH), Just(BENCH_2)];
    let row = prop_oneof![Just(ROW), Just(ROW_2)];
    let effort = prop_oneof![
        Just(Effort::Light),
        Just(Effort::Heavy),
        (0_u8..=11).prop_map(|reps| Effort::Rir { reps })
    ];
    prop_oneof![
        4 => (group.clone(), bench.clone(), row, 0_u32..4).prop_map(|(group, bench, row, revision)| {
            Act::TakeStations { group, block: 0, stations: vec![bench, row], revision, despite: None }
        }),
        2 => any_turn().prop_map(|turn| Act::PassTechnique { turn }),
        2 => any_turn().prop_map(|turn| Act::ConfirmLoad { turn }),
        2 => any_turn().prop_map(|turn| Act::Spot { turn, lift_off: false }),
        4 => any_turn().prop_map(|turn| Act::Go { turn }),
        2 => any_turn().prop_map(|turn| Act::NotYet { turn }),
        4 => (any_turn(), proptest::option::of(0_u8..=101), proptest::option::of(effort.clone()))
            .prop_map(|(turn, reps, effort)| Act::Done { turn, reps, effort, ending: None }),
        1 => (any_turn(), effort).prop_map(|(turn, effort)| Act::Effort { turn, effort }),
        1 => (any_turn(), 0_u8..=101).prop_map(|(turn, reps)| Act::Reps { turn, reps }),
        1 => (any_turn(), 0_u32..6).prop_map(|(turn, revision)| Act::Lighter { turn, revision }),
        1 => group.clone().prop_map(|group| Act::Pause { group }),
        1 => group.clone().prop_map(|group| Act::Stop { scope: Scope::Group { group } }),
        1 => Just(Act::Stop { scope: Scope::Floor }),
        4 => group.clone().prop_map(|group| Act::Resume { group, client: None }),
        1 => bench.prop_map(|station| Act::Call { station, call: CallKind::HelpNow }),
        1 => (0_u32..4).prop_map(|call| Act::Attend { call: CallId(call) }),
        1 => group.prop_map(|group| Act::FreeStations { group, block: 0, bar: None }),
    ]
}

pub(crate) fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        3 => (speaker(), act()).prop_map(|(speaker, act)| Step::Any(speaker, act)),
        6 => (0_usize..8).prop_map(Step::Offered),
        3 => (0_i64..90).prop_map(Step::Pass),
        1 => (0_i64..4_000).prop_map(Step::Down),
    ]
}

pub(crate) fn run(world: &mut World, step: Step) {
    match step {
        Step::Any(speaker, act) => {
            world.tap(&speaker, act);
        }
        Step::Offered(n) => {
            let turnabout_protocol::view::View::Coach(page) = world.view(&Watch::Coach(AYLA)) else { return };
            let taps: Vec<_> = page.groups.into_iter().flat_map(|g| g.taps).collect();
            if let Some(tap) = taps.get(n % taps.len().max(1)) {
                let later = tap.from.max(world.now);
                world.pass_to(later);
                world.tap(&coach(AYLA), tap.act.clone());
            }
        }
        Step::Pass(secs) => world.pass(secs),
        Step::Down(secs) => {
            let down = Millis::secs(secs);
            world.now = world.now + down;
            world.take(turnabout_protocol::role::Actor::Floor, world.now, Event::Resumed { down });
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: HISTORIES, ..ProptestConfig::default() })]

    #[test]
    fn the_journal_alone_leads_to_the_same_state_byte_for_byte(
        steps in proptest::collection::vec(step(), 1..60),
        cut in 0.0_f64..1.0,
    ) {
        let mut world = World::new();
        for step in steps {
            run(&mut world, step);
        }
        let live = serde_json::to_vec(&world.state).unwrap();

        // From the first entry, through the journal's own form.
        let rows: Vec<_> = world.entries.iter().map(|e| encode(e).unwrap()).collect();
        let mut state = State::new();
        for row in &rows {
            evolve(&mut state, &decode(row).unwrap());
        }
        prop_assert_eq!(&serde_json::to_vec(&state).unwrap(), &live);

        // From a snapshot somewhere in the middle.
        #[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in a short list")]
        let middle = (rows.len() as f64 * cut) as usize;
        let mut state = State::new();
        for row in &rows[..middle] {
            evolve(&mut state, &decode(row).unwrap());
        }
        let snapshot = serde_json::to_vec(&state).unwrap();
        let mut state: State = serde_json::from_slice(&snapshot).unwrap();
        for row in &rows[middle..] {
            evolve(&mut state, &decode(row).unwrap());
        }
        prop_assert_eq!(&serde_json::to_vec(&state).unwrap(), &live);
    }
}
