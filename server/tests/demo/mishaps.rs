//! What every evening must show, whatever chance has in store: each mishap, how it ends, and that everybody
//! gets done all the same.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, CallKind, Defect, Ending, Scope, Spotter};
use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_protocol::next::{NextReason, SetTo};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::gear_now::{self, Rack};
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::State;
use turnabout_server::loading::bar::Starts;

use crate::theatre::Theatre;
use crate::world::secs;

/// How many evenings.
const EVENINGS: u64 = 20;
/// How many where every entry of the evening is looked at.
const FEW: u64 = 3;

/// Looks at whole evenings.
fn every_evening(look: impl Fn(&Evening)) {
    for seed in 0..EVENINGS {
        let mut theatre = Theatre::new(seed);
        theatre.play();
        look(&Evening { seed, theatre });
    }
}

struct Evening {
    seed: u64,
    theatre: Theatre,
}

impl Evening {
    fn all<'e, T>(&'e self, which: impl Fn(&'e Entry) -> Option<T> + 'e) -> Vec<(FloorMs, T)> {
        let entries = self.theatre.world.entries.iter();
        entries.filter_map(|entry| Some((entry.recorded, which(entry)?))).collect()
    }

    /// The one entry of a kind, and when it was taken down.
    #[track_caller]
    fn once<'e, T>(&'e self, what: &str, which: impl Fn(&'e Entry) -> Option<T> + 'e) -> (FloorMs, T) {
        let mut all = self.all(which);
        assert_eq!(all.len(), 1, "seed {}: {what} happens once", self.seed);
        all.remove(0)
    }

    /// The first entry of a kind after an instant.
    #[track_caller]
    fn after<'e, T>(
        &'e self,
        from: FloorMs,
        what: &str,
        which: impl Fn(&'e Entry) -> Option<T> + 'e,
    ) -> (FloorMs, T) {
        let first = self.all(which).into_iter().find(|(at, _)| *at >= from);
        first.unwrap_or_else(|| panic!("seed {}: {what} after {from:?}", self.seed))
    }

    /// When somebody's set of a round began first.
    fn began(&self, group: GroupId, is_round: impl Fn(u8) -> bool) -> Option<FloorMs> {
        let went = self.all(|entry| match entry.event {
            Event::TurnWent { turn, .. } => Some(turn),
            _ => None,
        });
        went.iter().find(|(_, turn)| turn.group == group && is_round(turn.round)).map(|(at, _)| *at)
    }
}

#[test]
fn everybody_comes_one_late_and_nobody_is_left_waiting() {
    every_evening(|evening| {
        let seed = evening.seed;
        let arrived = evening.all(|entry| match &entry.event {
            Event::ClientsArrived { group, clients } => Some((*group, clients.clone())),
            _ => None,
        });
        let mut came: Vec<ClientId> = arrived.iter().flat_map(|(_, (_, clients))| clients.clone()).collect();
        came.sort_unstable();
        let state = &evening.theatre.world.state;
        assert_eq!(came, state.programme.clients.keys().copied().collect::<Vec<_>>(), "seed {seed}");
        let late = arrived.iter().filter(|(at, (group, _))| evening.began(*group, |_| true) < Some(*at));
        let late: Vec<_> = late.collect();
        let [(at, (group, clients))] = late.as_slice() else { panic!("seed {seed}: late are {late:?}") };
        assert_eq!(clients.len(), 1, "seed {seed}");
        // The others do not wait, and the missed round is noted once the light sets are done.
        assert!(evening.began(*group, |round| round == 1) < Some(*at), "seed {seed}");
        evening.after(*at, "missed sets", |entry| match entry.event {
            Event::SetsMissed { client, .. } if client == clients[0] => Some(()),
            _ => None,
        });
        assert!(state.line.is_empty() && state.groups.values().all(|now| !now.no_show), "seed {seed}");
    });
}

#[test]
fn a_group_waits_in_line_and_is_served() {
    every_evening(|evening| {
        let (asked, group) = evening.once("a group waits", |entry| match entry.event {
            Event::StationsAsked { group, .. } => Some(group),
            _ => None,
        });
        let (_, by) = evening.after(asked, "stations for it", |entry| match entry.event {
            Event::StationsTaken { group: other, .. } if other == group => Some(entry.by),
            _ => None,
        });
        assert_eq!(by, Actor::Floor, "seed {}", evening.seed);
    });
}

#[test]
fn plates_go_missing_the_coach_takes_what_is_proposed_and_they_turn_up() {
    every_evening(|evening| {
        let seed = evening.seed;
        let plates = |found: bool| {
            move |entry: &Entry| match entry.event {
                Event::PlatesMissing { station, count, .. } if (count == 0) == found => Some(station),
                _ => None,
            }
        };
        let (gone, station) = evening.once("plates go missing", plates(false));
        evening.after(gone, "another load", |entry| match &entry.event {
            Event::LoadSettled { settled, .. } => match settled.proposed.reason {
                NextReason::NotOnGear { load } if settled.set != SetTo::from(load) => Some(()),
                _ => None,
            },
            // The client who wants it lighter anyway is served as well.
            Event::LoadLightened { .. } => Some(()),
            _ => None,
        });
        let (_, found) = evening.after(gone, "they turn up", plates(true));
        assert_eq!(found, station, "seed {seed}");
    });
}

#[test]
fn coaches_take_proposals_and_every_load_of_the_evening_can_be_put_on() {
    for seed in 0..FEW {
        let mut theatre = Theatre::new(seed);
        theatre.play();
        let settled = theatre.world.entries.iter().filter(|e| matches!(e.event, Event::LoadSettled { .. }));
        assert!(settled.count() > 2, "seed {seed}: effort leads to other loads");
        let mut state = State::new();
        let mut seen = 0;
        for entry in &theatre.world.entries {
            evolve(&mut state, entry);
            let stations =
                state.floor.stations.iter().filter(|(_, station)| station.gear.kind() == GearKind::Bar);
            for (id, _) in stations.filter(|(id, _)| gear_now::missing(&state, **id).is_empty()) {
                let hands = state.groups.keys().filter_map(|group| InHand::of(&state, *group));
                let coming = hands.flat_map(|hand| {
                    let next = |client: &ClientId| {
                        hand.next(*client).filter(|turn| hand.station(*turn) == Some(*id))
                    };
                    let loads = hand
                        .group
                        .clients
                        .keys()
                        .filter_map(next)
                        .filter_map(move |turn| hand.load(turn)?.mass());
                    loads.collect::<Vec<_>>()
                });
                let rack = Rack::of(&state, *id).unwrap();
                for load in coming {
                    let card = rack
                        .card(load, Starts::Racked)
                        .unwrap_or_else(|error| panic!("seed {seed}: {error}"));
                    assert_eq!(
                        (card.total, rack.set().total(&card.loaded)),
                        (load, Some(load)),
                        "seed {seed}"
                    );
                    seen += 1;
                }
            }
        }
        assert!(seen > 1_000, "seed {seed}: {seen} cards");
    }
}

#[test]
fn the_public_sits_down_at_a_reserved_station_and_gets_up_again() {
    every_evening(|evening| {
        let (from, station) = evening.once("other use", |entry| match entry.event {
            Event::OtherUseBegan { station, .. } => Some(station),
            _ => None,
        });
        let (until, _) = evening.after(from, "its end", |entry| match entry.event {
            Event::OtherUseEnded { station: other } if other == station => Some(()),
            _ => None,
        });
        assert!((secs(60)..=secs(120)).contains(&until.since(from)), "seed {}", evening.seed);
        // Somebody had trained there and somebody does afterwards: it was in a group's way.
        let went = evening.all(|entry| match entry.event {
            Event::TurnWent { station: at, .. } if at == station => Some(()),
            _ => None,
        });
        assert!(went.iter().any(|(at, ())| *at < from) && went.iter().any(|(at, ())| *at > until));
    });
}

#[test]
fn a_cable_breaks_between_sets_the_group_goes_elsewhere_and_it_is_mended() {
    every_evening(|evening| {
        let (broke, station) = evening.once("a cable", |entry| match entry.event {
            Event::TakenOutOfService { station, defect: Defect::Cable } => Some(station),
            _ => None,
        });
        let (swapped, (group, to)) = evening.after(broke, "another station", |entry| match entry.event {
            Event::StationSwapped { group, from, to, .. } if from == station => Some((group, to)),
            _ => None,
        });
        assert!(swapped.since(broke) <= secs(180), "seed {}: {:?}", evening.seed, swapped.since(broke));
        evening.after(swapped, "sets there", |entry| match entry.event {
            Event::TurnWent { turn, station, .. } if turn.group == group && station == to => Some(()),
            _ => None,
        });
        let (mended, which) = evening.once("mended", |entry| match entry.event {
            Event::PutBackInService { station } => Some(station),
            _ => None,
        });
        assert_eq!(which, station);
        assert!(mended.since(broke) >= secs(4 * 60));
        // Nobody was on it when it broke, or had said GO too shortly before for the coach's page to show it.
        let on = evening.all(|entry| match entry.event {
            Event::TurnWent { turn, station: at, .. } if at == station => Some((turn, true)),
            Event::TurnDone { turn, .. } | Event::TurnCalledOff { turn } => Some((turn, false)),
            _ => None,
        });
        let last = on.iter().rev().find(|(at, (turn, went))| *at < broke && *went && turn.group == group);
        let (at, (turn, _)) = last.expect("somebody had trained there");
        let over =
            on.iter().any(|(over, (other, went))| other == turn && !went && over > at && *over <= broke);
        assert!(
            over || broke.since(*at) <= secs(1),
            "seed {}: {turn:?} since {at:?}, broken at {broke:?}",
            evening.seed
        );
    });
}

#[test]
fn a_group_is_handed_over_and_its_new_coach_looks_after_it() {
    every_evening(|evening| {
        let seed = evening.seed;
        let (offered, (group, to)) = evening.once("an offer", |entry| match entry.event {
            Event::GroupOffered { group, to, asks } => {
                assert_eq!(to, asks);
                Some((group, to))
            }
            _ => None,
        });
        let (agreed, by) = evening.once("agreement", |entry| match entry.event {
            Event::GroupHandedOver { group: of, .. } if of == group => Some(entry.by),
            _ => None,
        });
        assert_eq!(by, Actor::Coach { coach: to }, "seed {seed}");
        assert!(
            (secs(0)..=secs(480)).contains(&agreed.since(offered)),
            "seed {seed}: {agreed:?} {offered:?}"
        );
        evening.after(agreed, "something that the new coach does for it", |entry| match entry.event {
            Event::TurnWent { turn, .. }
            | Event::TurnDone { turn, .. }
            | Event::SpotterNamed { turn, .. } => (turn.group == group && entry.by == by).then_some(()),
            _ => None,
        });
    });
}

#[test]
fn a_spotter_helps_with_the_last_repetition() {
    every_evening(|evening| {
        let (at, turn) = evening.once("help", |entry| match entry.event {
            Event::TurnDone { turn, ending: Ending::Helped { reps: 1 }, .. } => Some(turn),
            _ => None,
        });
        let (_, spotter) = evening.once("that set", |entry| match entry.event {
            Event::TurnWent { turn: of, spotter, .. } if of == turn && entry.recorded < at => Some(spotter),
            _ => None,
        });
        assert!(matches!(spotter, Some(Spotter::Coach { .. })), "seed {}", evening.seed);
    });
}

#[test]
fn a_client_goes_on_with_another_exercise() {
    every_evening(|evening| {
        let (at, (client, other)) = evening.once("a swap", |entry| match entry.event {
            Event::ExerciseSwapped { client, exercise, .. } => Some((client, exercise)),
            _ => None,
        });
        // First a light set that the coach passes.
        let (passed, _) = evening.after(at, "a light set", |entry| match entry.event {
            Event::TechniquePassed { turn } if turn.client == client => Some(()),
            _ => None,
        });
        let (_, turn) = evening.after(passed, "a working set", |entry| match entry.event {
            Event::TurnDone { turn, .. } if turn.client == client && turn.leg == 1 => Some(turn),
            _ => None,
        });
        let record = evening.theatre.world.state.record(turn).expect("it is over");
        assert_eq!(record.exercise, other, "seed {}", evening.seed);
    });
}

#[test]
fn a_group_is_stopped_racks_and_goes_on_when_its_coach_says_so() {
    every_evening(|evening| {
        let seed = evening.seed;
        let (stopped, group) = evening.once("a stop", |entry| match entry.event {
            Event::GroupStopped { group } => Some(group),
            _ => None,
        });
        let (racked, (turn, ending)) =
            evening.after(stopped, "the end of the set", |entry| match entry.event {
                Event::TurnDone { turn, ending, .. } if turn.group == group => Some((turn, ending)),
                _ => None,
            });
        assert!(racked.since(stopped) <= secs(15), "seed {seed}: {:?}", racked.since(stopped));
        // RACK THE BAR: fewer repetitions than planned, unless its time was up already.
        let up = |entry: &Entry| match entry.event {
            Event::TurnAssumed { turn: up } if up == turn && entry.recorded <= stopped => Some(()),
            _ => None,
        };
        assert!(ending == Ending::Short || !evening.all(up).is_empty(), "seed {seed}: {ending:?}");
        let (resumed, by) = evening.once("going on", |entry| match entry.event {
            Event::GroupResumed { group: of } if of == group => Some(entry.by),
            _ => None,
        });
        let own = evening.theatre.made.iter().rev().find(|(at, ..)| *at <= stopped).map(|(_, by, act)| {
            assert_eq!(*act, Act::Stop { scope: Scope::Group { group } });
            *by
        });
        assert_eq!(Some(by), own, "seed {seed}");
        let between = evening.all(|entry| match entry.event {
            Event::TurnWent { turn, .. } if turn.group == group => Some(()),
            _ => None,
        });
        assert!(!between.iter().any(|(at, ())| (stopped..resumed).contains(at)), "seed {seed}");
    });
}

#[test]
fn somebody_calls_for_help_once() {
    every_evening(|evening| assert_eq!(evening.theatre.calls(CallKind::HelpNow).len(), 1));
}
