//! What people are told of the next minute.

use turnabout_protocol::command::{Act, Defect};
use turnabout_protocol::ids::{ClientId, GroupId, TurnId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{CoachTask, StartPart, View};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::invariants;
use turnabout_server::floor::outlook::because::Starts;
use turnabout_server::floor::outlook::{Cuts, Outlook, RACKED};
use turnabout_server::floor::promises::{AHEAD, may_move, revise};
use turnabout_server::floor::run_sheet::{self, LINES};
use turnabout_server::floor::state::{Promise, State};
use turnabout_server::floor::views::Watch;
use turnabout_server::timetable::answer::{RoundStarts, Timetable};
use turnabout_server::timetable::instance::At;

use crate::histories::always_the_same;
use crate::world::*;

/// A timetable in which a member's k-th remaining turn begins so many seconds from now. Nothing of it need be possible:
/// what is told must be steady whatever is planned.
fn timetable(outlook: &Outlook, starts: impl Fn(usize, usize, usize) -> u32) -> Timetable {
    let instance = &outlook.instance;
    let mut turns = Vec::new();
    let mut stations = Vec::new();
    for (group, of) in instance.groups.iter().enumerate() {
        let first: Vec<usize> = of.eligible.iter().map(|choice| choice[0]).collect();
        stations.push(of.members.iter().map(|m| m.stations.clone().unwrap_or(first.clone())).collect());
        for (member, of) in of.members.iter().enumerate() {
            let mut nth = 0;
            for (round, left) in of.rounds.iter().enumerate() {
                let done = of.under_way.filter(|_| round == 0).map_or(0, |way| way.legs_done);
                let mut start = |leg: usize| {
                    (leg >= done && left.legs[leg].is_some()).then(|| {
                        nth += 1;
                        At(instance.now.0 + starts(group, member, nth - 1))
                    })
                };
                let starts = (0..left.legs.len()).map(&mut start).collect();
                turns.push(RoundStarts { group, member, round, starts });
            }
        }
    }
    Timetable { instance: instance.name.clone(), stations, turns, breaches: Vec::new() }
}

impl World {
    /// Says what a plan says in which every client's next set begins so many seconds from now; whether anything was
    /// said anew.
    fn plan(&mut self, starts: impl Fn(ClientId) -> u32) -> bool {
        let outlook = Outlook::of(&self.state, self.now, &mut Cuts::default());
        let client = |group, member| outlook.who.clients(group).nth(member).unwrap();
        let nth = |nth: usize| 90 * u32::try_from(nth).unwrap();
        let timetable = timetable(&outlook, |group, member, n| starts(client(group, member)) + nth(n));
        let Some(event) = revise(&self.state, &outlook, &timetable, self.now) else { return false };
        self.take(Actor::Floor, self.now, event);
        true
    }

    fn promise(&self, client: ClientId) -> Promise {
        *self.state.promises.iter().find(|told| told.turn.client == client).unwrap()
    }

    fn told(&self, client: ClientId) -> Option<(FloorMs, TurnId)> {
        let told = self.state.promises.iter().find(|told| told.turn.client == client);
        told.map(|told| (told.start, told.turn))
    }
}

/// Starts of the pair: Dara's as given, Edda's far away.
fn dara(secs: u32) -> impl Fn(ClientId) -> u32 {
    move |client| if client == DARA { secs } else { 500 }
}

#[test]
fn a_start_is_told_within_the_minute() {
    let mut world = World::with_pair_on();
    assert!(!world.plan(dara(61)), "not yet");
    assert!(world.plan(dara(60)));
    let start = world.now + AHEAD;
    let press = turn(PAIR, DARA, 0, 0);
    assert_eq!(
        world.state.promises,
        [Promise {
            turn: press,
            station: BENCH,
            spotter: Some(spots(AYLA)),
            start,
            about: true,
            reason: StartReason::Later,
        }]
    );
    assert!(!world.plan(dara(60)), "said once");
    assert_eq!(world.replayed(), world.state, "the journal keeps it");
}

#[test]
fn what_was_told_about_moves_by_five_seconds_and_what_was_told_to_the_second_never_earlier() {
    for (told, planned, moves) in [
        (50, 46, false),
        (50, 45, true),
        (50, 54, false),
        (50, 55, true),
        // Beyond the minute it is still said.
        (50, 300, true),
        (20, 16, false),
        // From here on it is said to the second, whatever was said before.
        (18, 15, true),
        (20, 0, true),
        (15, 14, false),
        (15, 0, false),
        (15, 19, false),
        (15, 20, true),
        (15, 300, true),
        // Whoever waits at the station goes when it is free, and hears of another start only where that is far off.
        (0, 5, false),
        (0, 15, false),
        (0, 16, true),
    ] {
        let mut world = World::with_pair_on();
        world.plan(dara(told));
        let before = world.promise(DARA);
        assert_eq!(before.about, told > 15);
        world.plan(dara(planned));
        let at = if moves { planned } else { told };
        let after = world.promise(DARA);
        assert_eq!((after.start, after.turn), (world.now + Secs(at), before.turn), "{told} s to {planned} s");
        assert_eq!(after.about, at > 15);
        assert_eq!(may_move(&before, world.now + Secs(planned), world.now), moves);
    }
}

#[test]
fn what_keeps_somebody_whose_start_has_come_is_said_anew() {
    let mut world = World::with_pair_on();
    assert!(world.plan(dara(5)));
    let told = world.promise(DARA);
    assert_eq!(told.reason, StartReason::Later);
    world.pass(5);
    assert!(world.plan(dara(0)));
    assert_eq!(world.promise(DARA), Promise { reason: StartReason::Ready, ..told });
}

#[test]
fn a_promise_is_gone_when_the_set_begins_is_left_out_or_cannot_be() {
    let press = turn(PAIR, DARA, 0, 0);
    let promised = || {
        let mut world = World::with_pair_on();
        world.plan(dara(20));
        assert!(world.told(DARA).is_some());
        world
    };
    let skip = Act::Skip {
        turn: press,
        skip: turnabout_protocol::command::SkipScope::Set,
        reason: turnabout_protocol::command::Reason::ClientAsked,
    };
    let scope = turnabout_protocol::command::Scope::Client { group: PAIR, client: DARA };
    for act in [
        skip,
        Act::Pause { group: PAIR },
        Act::Stop { scope },
        Act::Leave { group: PAIR, client: DARA },
        Act::OutOfService { station: BENCH, defect: Defect::Frame },
        Act::SwapStation { group: PAIR, leg: 0, to: BENCH_2, revision: 1 },
        Act::EndSession { group: PAIR, reason: turnabout_protocol::command::Reason::CoachDecides },
    ] {
        let mut world = promised();
        world.accept(&coach(AYLA), act.clone());
        assert_eq!(world.told(DARA), None, "after {act:?}");
    }
    let mut world = promised();
    world.begin(AYLA, press);
    assert_eq!(world.told(DARA), None);
    world.plan(dara(40));
    assert_eq!(world.told(DARA).map(|told| told.1), Some(turn(PAIR, DARA, 0, 1)), "the next one");
    // Somebody of the public on the bench moves a start and does not end it.
    let mut world = promised();
    world.accept(&coach(AYLA), Act::OtherUse { station: BENCH, minutes: 3 });
    assert!(world.told(DARA).is_some());
}

#[test]
fn whoever_is_at_the_bar_is_who_was_told() {
    let mut world = World::with_pair_on();
    world.plan(dara(20));
    let press = turn(PAIR, DARA, 0, 0);
    world.accept(&coach(BRAM), Act::Spot { turn: press, lift_off: false });
    assert!(world.plan(dara(18)), "another spotter is news, though the start stays");
    let told = world.state.promises[0];
    assert_eq!((told.spotter, told.start), (Some(spots(BRAM)), world.now + Secs(20)));
}

#[test]
fn groups_that_wait_or_are_held_are_told_nothing() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let revision = world.revision(LATER);
    world.accept(&coach(AYLA), Act::AskStations { group: LATER, block: 0, revision });
    world.accept(&coach(AYLA), Act::Pause { group: PAIR });
    world.plan(|_| 10);
    let told: Vec<GroupId> = world.state.promises.iter().map(|told| told.turn.group).collect();
    assert_eq!(told, [SINGLE]);
}

/// Numbers that jump about, always the same.
fn jumping(seed: u64) -> u32 {
    let mixed = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 33;
    u32::try_from(mixed % 100).unwrap()
}

/// The promises after an event, which must be as allowed as those before it.
fn lawful(before: &[Promise], state: &State, now: FloorMs) -> usize {
    let mut moved = 0;
    for told in before {
        let after = state.promises.iter().find(|after| after.turn == told.turn);
        if let Some(after) = after.filter(|after| after.start != told.start) {
            assert!(may_move(told, after.start, now), "{told:?} became {after:?} at {now:?}");
            moved += 1;
        }
    }
    moved
}

#[test]
fn whatever_is_planned_and_whatever_happens_what_was_told_is_steady() {
    let (mut made, mut moved) = (0, 0);
    for entries in always_the_same(60) {
        let (mut state, mut cuts) = (State::new(), Cuts::default());
        for entry in entries {
            let before = state.promises.clone();
            evolve(&mut state, &entry);
            moved += lawful(&before, &state, entry.recorded);
            let outlook = Outlook::of(&state, entry.recorded, &mut cuts);
            let seed = entry.sequence * 1_000;
            let seeded = |group: usize, member: usize, nth: usize| {
                jumping(seed + u64::try_from(group * 100 + member * 10 + nth).unwrap())
            };
            let timetable = timetable(&outlook, seeded);
            let before = state.promises.clone();
            let Some(event) = revise(&state, &outlook, &timetable, entry.recorded) else { continue };
            let sequence = state.sequence + 1;
            let said =
                Entry { sequence, recorded: entry.recorded, at: entry.recorded, by: Actor::Floor, event };
            evolve(&mut state, &said);
            invariants::check(&state).unwrap();
            assert_eq!(revise(&state, &outlook, &timetable, entry.recorded), None, "said once");
            moved += lawful(&before, &state, entry.recorded);
            made += state.promises.len();
            // What a plan says of those who have been told is what they were told.
            let told = Outlook::of(&state, entry.recorded, &mut cuts);
            let rounds = told.instance.groups.iter().flat_map(|g| &g.members).flat_map(|m| &m.rounds);
            let said = rounds.flat_map(|round| &round.told).flatten().count();
            assert_eq!(said, state.promises.len());
        }
    }
    assert!(made > 1_000 && moved > 200, "{made} told, {moved} moved");
}

#[test]
fn a_coach_reads_who_needs_them_in_order_of_time() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let outlook = Outlook::of(&world.state, world.now, &mut Cuts::default());
    let timetable = timetable(&outlook, |group, member, nth| {
        u32::try_from(10 + 200 * group + 40 * member + 80 * nth).unwrap()
    });
    let event = revise(&world.state, &outlook, &timetable, world.now).unwrap();
    let plan = run_sheet::planned(&Starts::of(&outlook, &timetable), world.now);
    assert!(plan.windows(2).all(|pair| pair[0].start <= pair[1].start));
    world.take(Actor::Floor, world.now, event);
    let sheet = run_sheet::of(&world.state, &plan, AYLA);
    let told: Vec<_> = sheet.iter().map(|line| (line.turn.turn, line.told)).collect();
    assert_eq!(
        told,
        [
            (turn(PAIR, DARA, 0, 0), true),
            (turn(PAIR, EDDA, 0, 0), true),
            (turn(PAIR, DARA, 0, 1), false),
            (turn(PAIR, EDDA, 0, 1), false),
            // Working sets at the row need nobody.
            (turn(PAIR, DARA, 1, 0), false),
            (turn(PAIR, EDDA, 1, 0), false),
            (turn(PAIR, DARA, 2, 0), false),
            (turn(PAIR, EDDA, 2, 0), false),
        ]
    );
    assert!(run_sheet::of(&world.state, &plan, BRAM).iter().all(|line| line.turn.turn.group == SINGLE));
    let about: Vec<_> = sheet.iter().map(|line| line.about).collect();
    assert!(
        !about[0] && about[1..].iter().all(|about| *about),
        "the first is near enough to be told to the second"
    );
    assert!(sheet.len() <= LINES);
    // The page says the same in words, of what was told alone where there is no plan.
    let View::Coach(page) = world.view(&Watch::Coach(AYLA)) else { panic!("a coach's page") };
    let [dara, edda] = page.run_sheet.as_slice() else { panic!("{:?}", page.run_sheet) };
    assert_eq!((dara.client.as_str(), edda.client.as_str()), ("Dara", "Edda"));
    assert_eq!((dara.task, dara.station, dara.told), (CoachTask::Watch, BENCH, true));
    assert_eq!(dara.load.as_ref().map(|card| card.total), Some(kg(20).into()));
    let View::Station(face) = world.view(&Watch::Station(vec![BENCH])) else { panic!("a station's face") };
    let promise = face.stations[0].turn.as_ref().unwrap().promise.clone().unwrap();
    assert_eq!((promise.start, promise.spotter.as_deref()), (dara.start, Some("Ayla")));
    let next = face.stations[0].next.as_ref().unwrap();
    assert_eq!(next.client, "Edda");
    assert_eq!(next.promise, Some(StartPart { start: edda.start, about: edda.about, reason: edda.reason }));
}

/// The reason for a start of Dara's press so many seconds from now.
fn reason(world: &World, secs: u32) -> StartReason {
    let outlook = Outlook::of(&world.state, world.now, &mut Cuts::default());
    let client = |group, member| outlook.who.clients(group).nth(member).unwrap();
    let far = |nth: usize| 300 * u32::try_from(nth).unwrap();
    let timetable = timetable(&outlook, |group, member, nth| dara(secs)(client(group, member)) + far(nth));
    match revise(&world.state, &outlook, &timetable, world.now) {
        Some(Event::Promised { made, .. }) => {
            made.iter().find(|told| told.turn.client == DARA).unwrap().reason
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_start_has_the_one_reason_that_binds() {
    let world = World::with_pair_on();
    assert_eq!(reason(&world, 0), StartReason::Ready);
    assert_eq!(reason(&world, 10), StartReason::Later);

    let mut used = World::with_pair_on();
    used.accept(&coach(AYLA), Act::OtherUse { station: BENCH, minutes: 1 });
    let until = used.now + Secs(60);
    assert_eq!(reason(&used, 60), StartReason::OtherUse { until });

    let mut away = World::with_pair_on();
    away.accept(&coach(AYLA), Act::Away { coach: AYLA, minutes: 1 });
    let until = away.now + Secs(60);
    assert_eq!(reason(&away, 60), StartReason::SpotterAway { until });

    let mut loaded = World::with_pair_on();
    let plate = turnabout_protocol::card::PlatePart { mass: kg(20), full: true };
    let on = Act::PlatesOn { station: BENCH, side: vec![plate], bar: 0 };
    if !matches!(loaded.tap(&coach(AYLA), on), turnabout_server::floor::decide::Verdict::Accepted(_)) {
        let plate = turnabout_protocol::card::PlatePart { full: false, ..plate };
        loaded.accept(&coach(AYLA), Act::PlatesOn { station: BENCH, side: vec![plate], bar: 0 });
    }
    // One plate and the collars.
    assert_eq!(reason(&loaded, 8), StartReason::LoadChange { takes: Secs(8) });

    // Edda is on the bench: it is free when she is off, and Ayla with it; then the bar stays as it is.
    let mut busy = World::with_pair_on();
    busy.begin(AYLA, turn(PAIR, EDDA, 0, 0));
    assert_eq!(reason(&busy, 33), StartReason::SpotterBusy);

    // Between two exercises, and in a rest.
    let mut way = World::with_pair_on();
    way.sets(AYLA, PAIR, DARA, &[(0, 0)]);
    assert_eq!(reason(&way, 4), StartReason::Way);
    way.sets(AYLA, PAIR, DARA, &[(0, 1), (1, 0), (1, 1)]);
    assert_eq!(reason(&way, 47), StartReason::Rest);
    way.pass(30);
    way.accept(&coach(AYLA), Act::NotYet { turn: turn(PAIR, DARA, 2, 0) });
    assert_eq!(reason(&way, 30 + 30 - 13), StartReason::PutOff);
}

#[test]
fn while_an_overdue_set_holds_the_station_that_is_what_binds() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, EDDA, 0, 0);
    world.begin(AYLA, press);
    world.pass_to(world.current(press).ends + RACKED);
    // At the first guess, and where the plan has Dara wait longer for a reason of its own.
    for secs in [3, 10, 40] {
        assert_eq!(reason(&world, secs), StartReason::StationInUse, "in {secs} s");
    }
    // Plates are to come on for Dara: nobody loads a bar under a set.
    let mut world = World::with_pair_on();
    for leg in [0, 1] {
        world.sets(AYLA, PAIR, DARA, &[(0, leg)]);
    }
    world.begin(AYLA, press);
    world.pass_to(world.current(press).ends + RACKED);
    for secs in [16, 40] {
        assert_eq!(reason(&world, secs), StartReason::StationInUse, "in {secs} s, before a change");
    }
    // What lasts longer than anybody guesses the set to last still binds before it.
    world.accept(&coach(AYLA), Act::NotYet { turn: turn(PAIR, DARA, 1, 0) });
    assert_eq!(reason(&world, 30 - 13), StartReason::PutOff);
}
