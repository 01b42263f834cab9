//! What displays are shown, and what they are not.

use turnabout_protocol::command::{Act, Effort};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::view::{After, ClaimPart, Need, SetName, StationState, TurnPhase, View};
use turnabout_server::floor::views::Watch;

use crate::world::*;

fn station(world: &World, id: turnabout_protocol::ids::StationId) -> turnabout_protocol::view::StationPart {
    let View::Station(mut view) = world.view(&Watch::Station(vec![id])) else { panic!("a station's view") };
    view.stations.remove(0)
}

#[test]
fn a_station_shows_who_is_on_it_and_who_comes_next() {
    let mut world = World::with_pair_on();
    let part = station(&world, BENCH);
    let shown = part.turn.unwrap();
    assert_eq!((shown.client.as_str(), shown.exercise.en.as_str()), ("Dara", "Bench press"));
    assert_eq!((shown.set, shown.reps), (SetName::Technique, 4));
    assert_eq!(part.claim, Some(ClaimPart { group: PAIR, block: 0 }));
    let next = part.next.unwrap();
    assert_eq!((next.client.as_str(), next.promise), ("Edda", None), "nothing has been told");
    assert_eq!(shown.then.unwrap().station, "Row 1");
    let TurnPhase::Coming { needs, after, .. } = shown.phase else { panic!("{:?}", shown.phase) };
    assert_eq!((needs, after), (vec![Need::ConfirmLoad, Need::Spotter], After::Nothing));
    assert_eq!((part.state, station(&world, BENCH_2).state), (StationState::Reserved, StationState::Free));

    world.begin(AYLA, turn(PAIR, DARA, 0, 0));
    let part = station(&world, BENCH);
    assert_eq!(part.state, StationState::InUse);
    let shown = part.turn.unwrap();
    assert_eq!(shown.spotter.as_deref(), Some("Ayla"));
    assert!(matches!(shown.phase, TurnPhase::UnderWay { .. }));
    // At the row the same client is announced for when the press will have ended.
    let row = station(&world, ROW).turn.unwrap();
    let ends = world.current(turn(PAIR, DARA, 0, 0)).ends;
    let TurnPhase::Coming { after, ready, .. } = row.phase else { panic!("{:?}", row.phase) };
    assert_eq!((after, ready), (After::Changeover { since: ends, limit: ends + secs(20) }, ends));
}

#[test]
fn what_is_not_told_yet_counts_to_go_too() {
    let mut world = World::with_pair_on();
    for client in [DARA, EDDA] {
        world.sets(AYLA, PAIR, client, &[(0, 0), (0, 1), (1, 0), (1, 1)]);
    }
    let next = turn(PAIR, DARA, 2, 0);
    let ready = |world: &World| match station(world, BENCH).turn.unwrap().phase {
        TurnPhase::Coming { ready, go_from, .. } => (ready, go_from),
        phase @ TurnPhase::UnderWay { .. } => panic!("{phase:?}"),
    };
    let ended = world.client(PAIR, DARA).sets[3].done().unwrap().ended;
    // 60 s of rest, of which the last 13 are get set and 3-2-1.
    assert_eq!(ready(&world), (ended + secs(47), ended + secs(47)));
    let edda = world.client(PAIR, EDDA).sets[3].done().unwrap().ended;
    assert_eq!(station(&world, BENCH).next.unwrap().ready, edda + secs(47));
    world.pass(20);
    world.accept(&coach(AYLA), Act::NotYet { turn: next });
    let put_off = world.client(PAIR, DARA).put_off.unwrap();
    assert_eq!(ready(&world), (put_off + secs(-13), ended + secs(47)));
}

#[test]
fn effort_is_asked_for_until_it_is_answered_or_the_client_goes_on() {
    let mut world = World::with_pair_on();
    for round in 0..=1 {
        for leg in 0..=1 {
            for client in [DARA, EDDA] {
                let set = turn(PAIR, client, round, leg);
                world.begin(AYLA, set);
                let ends = world.current(set).ends;
                world.pass_to(ends);
                world.accept(&coach(AYLA), Act::Done { turn: set, reps: None, effort: None, ending: None });
                if round == 0 {
                    assert_eq!(station(&world, BENCH).ask_efforts, [], "not after technique sets");
                    world.accept(&coach(AYLA), Act::PassTechnique { turn: set });
                }
            }
        }
    }
    // After the whole round, of both exercises, at both stations; of whoever ended a round last.
    let asked = |world: &World, id| -> Vec<(String, String)> {
        station(world, id).ask_efforts.into_iter().map(|ask| (ask.client, ask.exercise.en)).collect()
    };
    let of = |who: &str, exercises: &[&str]| -> Vec<(String, String)> {
        exercises.iter().map(|exercise| (who.to_owned(), (*exercise).to_owned())).collect()
    };
    for id in [BENCH, ROW] {
        assert_eq!(asked(&world, id), of("Edda", &["Bench press", "Cable row"]));
    }
    // Each answer takes its own question away, at whichever station it is given.
    let open = station(&world, BENCH).ask_efforts;
    world.accept(&kiosk(&[BENCH]), Act::Effort { turn: open[0].turn, effort: Effort::Right });
    assert_eq!(asked(&world, ROW), of("Edda", &["Cable row"]));
    // The row's is said at the bench as well; a display of neither station says nothing of it.
    let of_row = Act::Effort { turn: open[1].turn, effort: Effort::Right };
    world.refuse(&kiosk(&[BENCH_2]), of_row.clone(), Refusal::NotHere);
    world.accept(&kiosk(&[BENCH]), of_row);
    assert_eq!(asked(&world, ROW), of("Dara", &["Bench press", "Cable row"]));
    // It stands until the client's next set, and says when that is to be.
    let TurnPhase::Coming { ready: next, .. } = station(&world, BENCH).turn.unwrap().phase else {
        panic!("to come")
    };
    assert_eq!(station(&world, ROW).ask_efforts[0].until, Some(next));
    world.pass(60);
    world.begin(AYLA, turn(PAIR, DARA, 2, 0));
    assert_eq!(asked(&world, ROW), []);
    // Between the two exercises nothing is asked: nobody has a hand free then.
    let ends = world.current(turn(PAIR, DARA, 2, 0)).ends;
    world.pass_to(ends);
    let set = turn(PAIR, DARA, 2, 0);
    world.accept(&coach(AYLA), Act::Done { turn: set, reps: None, effort: None, ending: None });
    assert_eq!((asked(&world, BENCH), asked(&world, ROW)), (vec![], vec![]));
}

#[test]
fn public_screens_show_no_effort_and_no_load_of_a_client_who_asked_not_to() {
    let mut world = World::with_pair_on();
    world.whole_set(AYLA, turn(PAIR, DARA, 0, 0));
    let View::Board(board) = world.view(&Watch::Board) else { panic!("the board") };
    let clients = &board.groups[0].clients;
    assert!(clients[0].turn.as_ref().unwrap().load.is_some());
    assert!(clients[1].turn.as_ref().unwrap().load.is_none(), "Edda asked not to");
    for watch in [Watch::Board, Watch::Station(vec![BENCH, ROW])] {
        let text = serde_json::to_string(&world.view(&watch)).unwrap();
        assert!(!text.contains("\"effort\":"), "{text}");
    }
    let View::Coach(page) = world.view(&Watch::Coach(AYLA)) else { panic!("a coach's page") };
    assert_eq!(page.groups[0].clients[0].last.as_ref().unwrap().effort, Some(Effort::Right));
}

#[test]
fn a_stations_display_learns_only_the_names_of_who_is_there() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let text = serde_json::to_string(&world.view(&Watch::Station(vec![BENCH_2]))).unwrap();
    assert!(text.contains("Farid"));
    for other in ["Dara", "Edda", "Greta"] {
        assert!(!text.contains(other), "{other} in {text}");
    }
}

#[test]
fn the_coachs_first_expected_tap_is_taken_when_its_time_has_come() {
    let mut world = World::new();
    let mut taps = 0;
    // Following the first tap whose time has come leads a pair through its whole evening.
    while taps < 200 {
        let View::Coach(page) = world.view(&Watch::Coach(AYLA)) else { panic!("a coach's page") };
        let group = page.groups.into_iter().find(|g| g.group == PAIR).unwrap();
        let Some(tap) = group.taps.iter().find(|tap| tap.from <= world.now) else {
            match group.taps.first() {
                Some(later) => {
                    let from = later.from;
                    world.pass_to(from);
                    continue;
                }
                None => break,
            }
        };
        if let Act::Done { turn, .. } = &tap.act {
            let ends = world.current(*turn).ends;
            let now = world.now;
            world.pass_to(ends.max(now));
        }
        world.accept(&coach(AYLA), tap.act.clone());
        taps += 1;
    }
    let (plan, now) = world.state.group(PAIR).unwrap();
    assert_eq!(now.stage(plan), turnabout_protocol::view::Stage::Finished, "after {taps} taps");
}
