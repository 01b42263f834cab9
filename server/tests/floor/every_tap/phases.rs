//! Every phase of a client of a group, each built by taps from the one before.

use turnabout_protocol::command::{Act, CallKind, Defect, Reason, Scope, SkipScope};
use turnabout_protocol::ids::{CallId, ExerciseId};
use turnabout_server::floor::config::{Client, Day, ScreeningPolicy, Setting, Sharing};
use turnabout_server::floor::local_time::Minute;
use turnabout_server::training::movement::Movement;

use crate::world::*;

/// A phase with its name in the table.
pub(super) struct Phase {
    pub name: &'static str,
    pub world: fn() -> World,
}

const PRESS: ExerciseId = ExerciseId(1);

/// Dara is watched: her group has two blocks of a pair, two rounds each, nothing shown to anybody yet.
pub(super) fn floor_with(screening: ScreeningPolicy) -> World {
    World::other(|floor, programme| {
        floor.policy.arms_accepted = true;
        floor.policy.screening = screening;
        for station in floor.stations.values_mut() {
            station.arms = true;
            station.settings =
                vec![Setting { name: "Notch".to_owned(), values: vec!["1".to_owned(), "2".to_owned()] }];
        }
        floor.stations.get_mut(&BENCH).unwrap().sharing = Sharing::Ask;
        floor.exercises.get_mut(&PRESS).unwrap().movement = Movement::HorizontalPress;
        let mut other = floor.exercises[&PRESS].clone();
        other.id = ExerciseId(3);
        floor.exercises.insert(ExerciseId(3), other);
        for client in [DARA, EDDA] {
            programme.clients.insert(client, Client { show_load: true, regular: false, ..Client::default() });
        }
        programme.day = Some(Day { year: 1970, month: 1, day: 1 });
        let pair = programme.groups.get_mut(&PAIR).unwrap();
        pair.starts = Minute::new(60);
        pair.blocks.push(pair.blocks[0].clone());
        for set in pair.blocks.iter_mut().flat_map(|b| &mut b.legs).flat_map(|leg| leg.sets.values_mut()) {
            set.reserve = Some(3);
        }
    })
}

fn expected() -> World {
    floor_with(ScreeningPolicy::NotAsked)
}

fn arrived_on(mut world: World) -> World {
    let clients = vec![DARA, EDDA];
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients });
    world.accept(&coach(BRAM), Act::Arrive { group: SINGLE, clients: vec![FARID] });
    world
}

fn briefed(mut world: World) -> World {
    let clients = vec![DARA, EDDA];
    for client in [DARA, EDDA] {
        world.accept(&coach(AYLA), Act::WarmedUp { group: PAIR, client });
    }
    world.accept(&coach(AYLA), Act::Brief { group: PAIR, clients, skipped: false });
    world
}

fn warming_up() -> World {
    arrived_on(expected())
}

fn briefing() -> World {
    let mut world = warming_up();
    world.accept(&coach(AYLA), Act::WarmedUp { group: PAIR, client: DARA });
    world
}

fn waiting() -> World {
    briefed(warming_up())
}

fn in_line() -> World {
    let mut world = waiting();
    for row in [ROW, ROW_2] {
        world.accept(&coach(AYLA), Act::OutOfService { station: row, defect: Defect::Cable });
    }
    world.accept(&coach(AYLA), Act::AskStations { group: PAIR, block: 0, revision: 0 });
    world
}

fn reserved() -> World {
    let mut world = waiting();
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world
}

/// Reserved, and then this.
fn reserved_and(act: Act) -> World {
    let mut world = reserved();
    world.accept(&coach(AYLA), act);
    world
}

const LIGHT: turnabout_protocol::ids::TurnId =
    turnabout_protocol::ids::TurnId { group: PAIR, client: DARA, block: 0, round: 0, leg: 0 };

fn light_counted_in() -> World {
    let mut world = reserved();
    world.begin(AYLA, LIGHT);
    world
}

fn light_done() -> World {
    let mut world = light_counted_in();
    world.pass(29);
    world.done(AYLA, LIGHT);
    world
}

/// Both light sets are done, the first is passed.
fn work_comes() -> World {
    let mut world = reserved();
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    world
}

fn confirmed() -> World {
    let mut world = work_comes();
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: turn(PAIR, DARA, 1, 0) });
    world
}

fn work_counted_in() -> World {
    let mut world = confirmed();
    world.accept(&coach(AYLA), Act::Go { turn: turn(PAIR, DARA, 1, 0) });
    world
}

fn changeover() -> World {
    let mut world = work_comes();
    world.sets(AYLA, PAIR, DARA, &[(1, 0)]);
    world
}

fn row_works() -> World {
    let mut world = changeover();
    world.begin(AYLA, turn(PAIR, DARA, 1, 1));
    world.pass(12);
    world
}

pub(super) fn rest() -> World {
    let mut world = changeover();
    world.sets(AYLA, PAIR, DARA, &[(1, 1)]);
    world
}

fn rest_and(act: Act) -> World {
    let mut world = rest();
    world.accept(&coach(AYLA), act);
    world
}

fn last_round() -> World {
    let mut world = rest();
    world.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    world
}

fn own_sets_done() -> World {
    let mut world = last_round();
    world.sets(AYLA, PAIR, DARA, &[(2, 1)]);
    world
}

fn wipe_down() -> World {
    let mut world = own_sets_done();
    world.accept(&coach(AYLA), Act::Leave { group: PAIR, client: EDDA });
    world
}

fn between_blocks() -> World {
    let mut world = wipe_down();
    world.accept(&coach(AYLA), Act::FreeStations { group: PAIR, block: 0, bar: None });
    world
}

fn later(mut world: World, secs: i64) -> World {
    world.pass(secs);
    world
}

fn then(mut world: World, acts: &[Act]) -> World {
    for act in acts {
        world.accept(&coach(AYLA), act.clone());
    }
    world
}

/// Edda lifts at the bench, which Dara is to use.
fn other_lifts() -> World {
    let mut world = work_comes();
    world.begin(AYLA, turn(PAIR, EDDA, 0, 0));
    world
}

/// Dara spots Edda.
fn spots() -> World {
    let edda = turn(PAIR, EDDA, 0, 0);
    let pass = Act::PassSpotter { group: PAIR, client: DARA, exercise: PRESS };
    let spot = Act::SpotBy { turn: edda, client: DARA };
    then(work_comes(), &[pass, spot, Act::Go { turn: edda }])
}

fn skipped(scope: SkipScope) -> World {
    let turn = turn(PAIR, DARA, 1, 0);
    then(work_comes(), &[Act::Skip { turn, skip: scope, reason: Reason::Safety }])
}

fn late() -> World {
    let mut world = expected();
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![EDDA] });
    world.accept(&coach(AYLA), Act::Brief { group: PAIR, clients: vec![EDDA], skipped: true });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, EDDA, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0)]);
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![DARA] });
    world.accept(&coach(AYLA), Act::Brief { group: PAIR, clients: vec![DARA], skipped: true });
    world
}

/// Every phase, in the order of an evening and then what comes across it.
pub(super) fn phases() -> Vec<Phase> {
    let phase = |name, world| Phase { name, world };
    vec![
        phase("expected", expected),
        phase("not come by then: warned", || later(expected(), 3_600 + 600)),
        phase("not coming", || later(expected(), 3_600 + 1_200)),
        phase("warming up", warming_up),
        phase("screening to be decided", || briefed(arrived_on(floor_with(ScreeningPolicy::CoachDecides)))),
        phase("reserved, screening to be decided", || {
            let mut world = briefed(arrived_on(floor_with(ScreeningPolicy::CoachDecides)));
            world.claim(AYLA, PAIR, &[BENCH, ROW]);
            world
        }),
        phase("screening required", || briefed(arrived_on(floor_with(ScreeningPolicy::Required)))),
        phase("briefing", briefing),
        phase("waiting", waiting),
        phase("in line", in_line),
        phase("in line, warned", || later(in_line(), 600)),
        phase("reserved", reserved),
        phase("reserved, not briefed", || {
            let mut world = warming_up();
            world.claim(AYLA, PAIR, &[BENCH, ROW]);
            world
        }),
        phase("light set coming, load confirmed", || reserved_and(Act::ConfirmLoad { turn: LIGHT })),
        phase("light set coming, coach at the bar", || {
            reserved_and(Act::Spot { turn: LIGHT, lift_off: false })
        }),
        phase("light set counted in", light_counted_in),
        phase("light set under way", || later(light_counted_in(), 13)),
        phase("light set assumed over", || later(light_counted_in(), 29)),
        phase("light set done, next one coming", light_done),
        phase("light sets done, one not passed", || {
            let mut world = light_done();
            world.sets(AYLA, PAIR, DARA, &[(0, 1)]);
            world
        }),
        phase("working set coming", work_comes),
        phase("working set coming, another lifts there", other_lifts),
        phase("working set coming, load confirmed", confirmed),
        phase("working set coming, coach at the bar for the lift-off", || {
            then(confirmed(), &[Act::Spot { turn: turn(PAIR, DARA, 1, 0), lift_off: true }])
        }),
        phase("working set coming, arms set", || {
            then(confirmed(), &[Act::UseArms { turn: turn(PAIR, DARA, 1, 0) }])
        }),
        phase("working set counted in", work_counted_in),
        phase("working", || later(work_counted_in(), 20)),
        phase("working set assumed over", || later(work_counted_in(), 60)),
        phase("changeover", changeover),
        phase("changeover, too long, treated as a rest", || {
            then(later(changeover(), 40), &[Act::TreatAsRest { turn: turn(PAIR, DARA, 1, 1) }])
        }),
        phase("second exercise under way", row_works),
        phase("second exercise assumed over", || later(row_works(), 60)),
        phase("rest", rest),
        phase("rest, put off", || rest_and(Act::NotYet { turn: turn(PAIR, DARA, 2, 0) })),
        phase("rest, shortened", || {
            rest_and(Act::LessRest { turn: turn(PAIR, DARA, 2, 0), secs: 30, reason: Reason::ClientAsked })
        }),
        phase("rest over", || later(rest(), 60)),
        phase("light set once more", || rest_and(Act::TechniqueAgain { turn: turn(PAIR, DARA, 2, 0) })),
        phase("light set once more, under way", || {
            let mut world = rest_and(Act::TechniqueAgain { turn: turn(PAIR, DARA, 2, 0) });
            world.begin(AYLA, LIGHT);
            later(world, 15)
        }),
        phase("set left out", || skipped(SkipScope::Set)),
        phase("exercise left out", || skipped(SkipScope::Exercise)),
        phase("round left out", || skipped(SkipScope::Round)),
        phase("last round", last_round),
        phase("last round, next stations reserved", || {
            then(last_round(), &[Act::AskStations { group: PAIR, block: 1, revision: 1 }])
        }),
        phase("own sets done, others work", own_sets_done),
        phase("wipe-down", wipe_down),
        phase("between blocks", between_blocks),
        phase("in the second block", || {
            let mut world = between_blocks();
            world.claim(AYLA, PAIR, &[BENCH, ROW]);
            world
        }),
        phase("paused", || then(confirmed(), &[Act::Pause { group: PAIR }])),
        phase("stopped", || then(confirmed(), &[Act::Stop { scope: Scope::Group { group: PAIR } }])),
        phase("stopped under the bar", || {
            then(later(work_counted_in(), 20), &[Act::Stop { scope: Scope::Group { group: PAIR } }])
        }),
        phase("stopped alone", || {
            then(confirmed(), &[Act::Stop { scope: Scope::Client { group: PAIR, client: DARA } }])
        }),
        phase("other use of the station", || {
            then(confirmed(), &[Act::OtherUse { station: BENCH, minutes: 9 }])
        }),
        phase("station out of service", || {
            then(confirmed(), &[Act::OutOfService { station: BENCH, defect: Defect::Bench }])
        }),
        phase("station out of service under the bar", || {
            then(later(work_counted_in(), 20), &[Act::OutOfService { station: BENCH, defect: Defect::Bench }])
        }),
        phase("spotting another", spots),
        phase("help called", || then(confirmed(), &[Act::Call { station: BENCH, call: CallKind::HelpNow }])),
        phase("coach gone to help", || {
            let call = Act::Call { station: ROW_2, call: CallKind::HelpNow };
            then(confirmed(), &[call, Act::Answer { call: CallId(1) }])
        }),
        phase("coach away", || then(confirmed(), &[Act::Away { coach: AYLA, minutes: 9 }])),
        phase("offered to another coach", || {
            then(confirmed(), &[Act::HandOver { groups: vec![PAIR], from: AYLA, to: BRAM }])
        }),
        phase("left", || then(rest(), &[Act::Leave { group: PAIR, client: DARA }])),
        phase("late", late),
        phase("rounds missed", || {
            let mut world = late();
            world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
            world
        }),
        phase("warned of a lapse", || later(confirmed(), 600)),
        phase("lapsed", || later(confirmed(), 900)),
        phase("ended", || then(rest(), &[Act::EndSession { group: PAIR, reason: Reason::ShortOfTime }])),
    ]
}
