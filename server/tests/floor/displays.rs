//! What displays say of an evening that does not go by the book.

use serde_json::Value;
use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{Act, Defect, Effort, Ending, NoteAbout, Reason, Scope};
use turnabout_protocol::ids::{ExerciseId, GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{
    Attendance, BoardView, CoachGroup, CoachView, FitPart, HaltKind, Happening, Need, PartnerPart,
    StationPart, StationState, TurnPhase, View,
};
use turnabout_protocol::words::Words;
use turnabout_server::floor::config::{Floor, Programme, ScreeningPolicy, Sharing};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::local_time::Minute;
use turnabout_server::floor::state::MOST_NEWS;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::Gear;
use turnabout_server::training::movement::Movement;

use crate::world::*;

fn board(world: &World) -> BoardView {
    let View::Board(view) = world.view(&Watch::Board) else { panic!("the board") };
    view
}

fn station(world: &World, id: StationId) -> StationPart {
    let View::Station(mut view) = world.view(&Watch::Station(vec![id])) else { panic!("a station's view") };
    view.stations.remove(0)
}

fn page(world: &World) -> CoachView {
    let View::Coach(view) = world.view(&Watch::Coach(AYLA)) else { panic!("a coach's page") };
    view
}

fn group(world: &World, id: GroupId) -> CoachGroup {
    page(world).groups.into_iter().find(|group| group.group == id).unwrap()
}

/// The latest that the board tells.
fn told(world: &World) -> Happening {
    board(world).happened.first().expect("something has happened").what.clone()
}

fn name(name: &str) -> String {
    name.to_owned()
}

/// Another floor and programme, nobody there.
fn on(floor: Floor, programme: Programme) -> World {
    let mut world = World::empty();
    world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(floor)));
    world.take(Actor::Floor, world.now, Event::ProgrammeSet(Box::new(programme)));
    world
}

#[test]
fn who_is_late_gone_or_back_is_seen_and_told() {
    let mut world = World::empty();
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![DARA] });
    assert_eq!(board(&world).groups[0].clients[1].attendance, Attendance::Expected);
    assert!(board(&world).happened.is_empty(), "who comes in time is no news");
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    assert_eq!(board(&world).groups[0].clients[1].attendance, Attendance::Late);
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![EDDA] });
    assert_eq!(told(&world), Happening::CameLate { client: name("Edda") });
    world.accept(&coach(AYLA), Act::Leave { group: PAIR, client: EDDA });
    assert_eq!(told(&world), Happening::Left { client: name("Edda") });
    assert_eq!(board(&world).groups[0].clients[1].attendance, Attendance::Left);
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![EDDA] });
    assert_eq!(told(&world), Happening::CameBack { client: name("Edda") });
    assert_eq!(board(&world).groups[0].coach, "Ayla");
}

#[test]
fn other_use_and_a_broken_cable_are_seen_at_the_station_and_on_the_board() {
    let mut world = World::with_pair_on();
    world.accept(&coach(AYLA), Act::OtherUse { station: BENCH_2, minutes: 12 });
    let until = world.now + secs(12 * 60);
    let part = station(&world, BENCH_2);
    assert_eq!((part.state, part.other_use.unwrap().until), (StationState::OtherUse, until));
    assert_eq!(told(&world), Happening::OtherUseBegan { station: name("Bench 2") });
    // Longer than thought is no news.
    world.accept(&coach(AYLA), Act::OtherUse { station: BENCH_2, minutes: 20 });
    assert_eq!(board(&world).happened.len(), 1);
    world.accept(&coach(AYLA), Act::EndOtherUse { station: BENCH_2 });
    assert_eq!(told(&world), Happening::OtherUseEnded { station: name("Bench 2") });

    world.accept(&coach(AYLA), Act::OutOfService { station: ROW, defect: Defect::Cable });
    let line = board(&world).stations.into_iter().find(|line| line.station == ROW).unwrap();
    assert_eq!((line.state, line.out.unwrap().defect), (StationState::OutOfService, Defect::Cable));
    assert_eq!(station(&world, ROW).out.unwrap().since, world.now);
    assert_eq!(told(&world), Happening::OutOfService { station: name("Row 1"), defect: Defect::Cable });

    // The page expects the swap, and it is taken as it stands.
    let tap = group(&world, PAIR).taps.into_iter().find(|tap| matches!(tap.act, Act::SwapStation { .. }));
    world.accept(&coach(AYLA), tap.expect("another row is free").act);
    let swapped =
        Happening::StationSwapped { group: name("Dara, Edda"), from: name("Row 1"), to: name("Row 2") };
    assert_eq!(told(&world), swapped);
}

#[test]
fn plates_that_are_missing_and_back_are_told() {
    let mut world = World::with_pair_on();
    let five = PlatePart { mass: kg(5), full: false };
    let missing = |count| Act::PlatesMissing { station: BENCH, plate: five, count };
    world.accept(&kiosk(&[BENCH]), missing(2));
    assert_eq!(told(&world), Happening::PlatesMissing { station: name("Bench 1") });
    world.accept(&kiosk(&[BENCH]), missing(1));
    assert_eq!(told(&world), Happening::PlatesBack { station: name("Bench 1") });
}

#[test]
fn a_spotters_help_is_told_and_what_was_taken_back_is_not() {
    let mut world = World::with_pair_on();
    world.whole_set(AYLA, turn(PAIR, DARA, 0, 0));
    world.pass(60);
    world.whole_set(AYLA, turn(PAIR, DARA, 0, 1));
    world.pass(60);
    let set = turn(PAIR, DARA, 1, 0);
    world.begin(AYLA, set);
    let ends = world.current(set).ends;
    world.pass_to(ends);
    let ending = Some(Ending::Helped { reps: 2 });
    world.accept(&coach(AYLA), Act::Done { turn: set, reps: Some(8), effort: Some(Effort::Heavy), ending });
    let helped = Happening::SpotterHelped { client: name("Dara"), spotter: Some(name("Ayla")) };
    assert_eq!(told(&world), helped);
    let ending = Ending::Short;
    world.accept(&coach(AYLA), Act::Correct { turn: set, reps: 8, load: None, effort: None, ending });
    assert!(board(&world).happened.is_empty(), "it was not so");
}

#[test]
fn a_hand_over_a_stop_and_a_decision_are_told() {
    let mut world = World::with_pair_on();
    world.accept(&coach(AYLA), Act::HandOver { groups: vec![PAIR], from: AYLA, to: BRAM });
    let offer = group(&world, PAIR).offer.unwrap();
    assert_eq!((offer.to, offer.asks), (BRAM, BRAM));
    world.accept(&coach(BRAM), Act::AcceptGroup { group: PAIR, from: AYLA });
    let group = name("Dara, Edda");
    let over = Happening::HandedOver { group: group.clone(), from: name("Ayla"), to: name("Bram") };
    assert_eq!(told(&world), over);
    assert_eq!(board(&world).groups[0].coach, "Bram");

    world.accept(&coach(BRAM), Act::Stop { scope: Scope::Client { group: PAIR, client: EDDA } });
    assert_eq!(told(&world), Happening::Stopped { who: name("Edda") });
    let halt = board(&world).groups[0].clients[1].halt.unwrap().halt;
    assert_eq!((halt, board(&world).groups[0].halt), (HaltKind::Stop, None));
    world.accept(&coach(BRAM), Act::Resume { group: PAIR, client: Some(EDDA) });
    assert_eq!(told(&world), Happening::Resumed { who: name("Edda") });
    world.accept(&coach(BRAM), Act::Stop { scope: Scope::Group { group: PAIR } });
    assert_eq!(told(&world), Happening::Stopped { who: group.clone() });
    world.pass(1);
    world.accept(&coach(BRAM), Act::Stop { scope: Scope::Floor });
    assert_eq!(told(&world), Happening::FloorStopped, "one piece of news, not one a group");
    assert!(board(&world).happened.len() <= 5, "few, because they are read in passing");
}

#[test]
fn the_wait_list_and_who_went_before_others_are_seen() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let revision = world.state.groups[&LATER].revision;
    world.accept(&coach(AYLA), Act::AskStations { group: LATER, block: 0, revision });
    assert_eq!(board(&world).groups[2].place, Some(1));
    assert_eq!(group(&world, LATER).waits.unwrap().place, 1);

    // The second bench has no plates below 10 kg, so Greta's 30 kg wait for the first; a row is free meanwhile.
    let mut floor = floor();
    let Gear::Bar(bar) = &mut floor.stations.get_mut(&BENCH_2).unwrap().gear else { panic!("a bar") };
    bar.plates.retain(|plates| plates.mass >= kg(10));
    let mut world = on(floor, programme());
    world.all_arrive();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    let revision = world.state.groups[&LATER].revision;
    world.accept(&coach(AYLA), Act::AskStations { group: LATER, block: 0, revision });
    let revision = world.state.groups[&PAIR].revision;
    let take = |despite| {
        let stations = vec![BENCH_2, ROW_2];
        Act::TakeStations { group: PAIR, block: 0, stations, revision, despite }
    };
    world.refuse(&coach(AYLA), take(None), Refusal::InLine { first: LATER });
    world.accept(&coach(AYLA), take(Some(Reason::CoachDecides)));
    assert_eq!(told(&world), Happening::WentBefore { group: name("Dara, Edda") });
}

#[test]
fn a_silent_group_is_asked_for_before_its_stations_are_given_away() {
    let mut world = World::with_pair_on();
    assert_eq!(station(&world, BENCH).lapses, None);
    world.pass(601);
    let lapse = station(&world, BENCH).lapses.expect("nobody has said anything for ten minutes");
    assert_eq!((lapse.group, group(&world, PAIR).lapses), (PAIR, Some(lapse.at)));
    world.accept(&kiosk(&[BENCH]), Act::StillHere { group: PAIR });
    assert_eq!(station(&world, BENCH).lapses, None);
    world.pass(601);
    let at = station(&world, BENCH).lapses.unwrap().at;
    world.pass_to(at);
    assert_eq!(told(&world), Happening::StationsGivenAway { group: name("Dara, Edda") });
    assert_eq!(station(&world, BENCH).state, StationState::Free);
}

#[test]
fn two_groups_at_one_station_are_shown_as_one_queue() {
    let mut floor = floor();
    floor.stations.get_mut(&ROW).unwrap().sharing = Sharing::Open;
    let mut world = on(floor, programme());
    world.all_arrive();
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.pass(30);
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW]);
    let part = station(&world, ROW);
    assert_eq!((part.claim.unwrap().group, part.shared_with.unwrap().group), (PAIR, SINGLE));
    // Nobody has begun: nobody of either group is at the row yet.
    assert!(part.turn.is_none());
    for (by, set) in [(AYLA, turn(PAIR, DARA, 0, 0)), (BRAM, turn(SINGLE, FARID, 0, 0))] {
        world.begin(by, set);
        let ends = world.current(set).ends;
        world.pass_to(ends);
        world.accept(&coach(by), Act::Done { turn: set, reps: None, effort: None, ending: None });
    }
    let part = station(&world, ROW);
    assert_eq!((part.turn.unwrap().client, part.next.unwrap().client), (name("Dara"), name("Farid")));
    // The worker-in goes first where the holder's client is stopped, and is seen doing it.
    world.accept(&coach(AYLA), Act::Stop { scope: Scope::Client { group: PAIR, client: DARA } });
    let part = station(&world, ROW);
    assert_eq!((part.turn.unwrap().client, part.halt), (name("Farid"), None));
    world.begin(BRAM, turn(SINGLE, FARID, 0, 1));
    assert_eq!(station(&world, ROW).state, StationState::InUse);
}

#[test]
fn a_stopped_client_is_shown_where_nobody_else_could_go() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.accept(&coach(BRAM), Act::Stop { scope: Scope::Client { group: SINGLE, client: FARID } });
    let part = station(&world, BENCH);
    let turn = part.turn.unwrap();
    assert_eq!((turn.client.as_str(), part.halt.unwrap().halt), ("Farid", HaltKind::Stop));
    let TurnPhase::Coming { needs, .. } = turn.phase else { panic!("{:?}", turn.phase) };
    assert!(needs.contains(&Need::Resume));
}

#[test]
fn the_coach_sees_what_could_be_done_otherwise() {
    let mut floor = floor();
    for exercise in floor.exercises.values_mut() {
        exercise.movement = Movement::HorizontalPull;
    }
    let mut other = floor.exercises[&ExerciseId(2)].clone();
    other.id = ExerciseId(3);
    other.key = key("face-pull");
    other.stations = [ROW_2].into();
    other.name = Words::same("Face pull");
    floor.exercises.insert(other.id, other);
    let mut world = on(floor, programme());
    world.all_arrive();
    assert!(group(&world, PAIR).choices.is_empty(), "without stations there is nothing to swap");
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let choices = group(&world, PAIR).choices;
    assert_eq!(choices[1].stations, [ROW_2]);
    let CoachView { exercises, places, .. } = page(&world);
    let face_pull = exercises.iter().find(|named| named.name == Words::same("Face pull")).unwrap();
    let there =
        choices[1].exercises.iter().find(|choice| choice.exercise == face_pull.exercise).unwrap().places[0];
    let place = places.iter().find(|place| place.station == there).unwrap();
    let revision = world.state.groups[&PAIR].revision;
    let swap = Act::SwapExercise {
        group: PAIR,
        client: EDDA,
        leg: 1,
        exercise: face_pull.exercise,
        station: Some(place.station),
        load: place.lightest,
        sure: false,
        revision,
    };
    world.accept(&coach(AYLA), swap);
    let swapped = Happening::ExerciseSwapped {
        client: name("Edda"),
        from: Words::same("Cable row"),
        to: Words::same("Face pull"),
    };
    assert_eq!(told(&world), swapped);
    assert!(page(&world).groups.iter().all(|g| g.coach == AYLA || g.choices.is_empty()), "one's own only");
}

#[test]
fn a_session_that_will_not_fit_is_seen_with_what_would_help() {
    let mut programme = programme();
    let plan = programme.groups.get_mut(&SINGLE).unwrap();
    plan.blocks.push(block(&[(FARID, 70, 55)]));
    plan.ends = Minute::new(60);
    programme.day = Some(turnabout_server::floor::config::Day { year: 2026, month: 3, day: 2 });
    let mut world = on(floor(), programme);
    world.all_arrive();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    let fit = |world: &World| -> FitPart { group(world, SINGLE).fit.expect("it has an end") };
    // Light sets: 10 + 3 s and 4 times 4 s, 8 + 3 s and 4 times 4 s, 20 s to go over: 76 s. A round: 53 s and
    // 51 s of sets, 20 s to go over, 60 s of rest: 184 s. Two rounds of each of two blocks.
    let both = 2 * (76 + 2 * 184);
    assert_eq!(fit(&world).left, Secs(both));
    assert!(!fit(&world).closing);
    let offers = fit(&world).offers;
    let fewer: Vec<(&str, u32)> = offers
        .iter()
        .map(|offer| match offer.act {
            Act::SetRounds { rounds: 1, .. } => ("one round", offer.left.0),
            Act::DropBlock { block: 1, .. } => ("no last block", offer.left.0),
            _ => panic!("{:?}", offer.act),
        })
        .collect();
    assert_eq!(fewer, [("one round", both - 184), ("no last block", both / 2)]);
    let drop = offers.into_iter().nth(1).unwrap().act;
    world.accept(&coach(BRAM), drop);
    assert_eq!(fit(&world).left, Secs(both / 2));
}

#[test]
fn news_is_bounded_and_gone_on_another_evening() {
    let mut world = World::new();
    for _ in 0..MOST_NEWS {
        world.pass(1);
        world.accept(&coach(AYLA), Act::OutOfService { station: ROW, defect: Defect::Pin });
        world.accept(&coach(AYLA), Act::BackInService { station: ROW });
    }
    assert_eq!(world.state.news.len(), MOST_NEWS);
    let mut tomorrow = programme();
    tomorrow.day = Some(turnabout_server::floor::config::Day { year: 2026, month: 3, day: 3 });
    world.take(Actor::Floor, world.now, Event::ProgrammeSet(Box::new(tomorrow)));
    assert!(board(&world).happened.is_empty());
}

/// Every field name anywhere in a view, and every text.
fn walk(value: &Value, names: &mut Vec<String>, texts: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                names.push(name.clone());
                walk(value, names, texts);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| walk(item, names, texts)),
        Value::String(text) => texts.push(text.clone()),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// An evening in which everything has happened that a public display must keep to itself.
fn indiscreet() -> World {
    let mut floor = floor();
    floor.policy.screening = ScreeningPolicy::CoachDecides;
    let mut programme = programme();
    programme.groups.get_mut(&LATER).unwrap().starts = Minute::new(0);
    programme.day = Some(turnabout_server::floor::config::Day { year: 1970, month: 1, day: 1 });
    let mut world = on(floor, programme);
    let train = turnabout_protocol::command::ScreeningDecision::Train;
    for (by, group, clients) in [(AYLA, PAIR, vec![DARA, EDDA]), (BRAM, SINGLE, vec![FARID])] {
        world.accept(&coach(by), Act::Arrive { group, clients: clients.clone() });
        for client in clients {
            world.accept(&coach(by), Act::Screen { group, client, decision: train });
        }
    }
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    world.whole_set(AYLA, turn(PAIR, DARA, 0, 0));
    world.pass(30);
    world.whole_set(AYLA, turn(PAIR, DARA, 0, 1));
    world.pass(60);
    world.whole_set(AYLA, turn(PAIR, DARA, 1, 0));
    let note = NoteAbout::Client { group: PAIR, client: EDDA };
    world.accept(&coach(AYLA), Act::Note { note, text: name("knee") });
    for minutes in [9, 18, 22] {
        world.pass_to(FloorMs(0) + secs(minutes * 60));
        world.accept(&coach(BRAM), Act::StillHere { group: SINGLE });
    }
    assert!(group(&world, LATER).no_show, "nobody of the third group has come");
    world
}

#[test]
fn public_displays_keep_to_themselves_what_is_nobodys_business() {
    let world = indiscreet();
    let secret = ["effort", "felt", "screening", "screening_open", "no_show", "notes", "note", "warmed_up"];
    let watches = [Watch::Board, Watch::Station(vec![BENCH, ROW]), Watch::Station(vec![BENCH_2])];
    for watch in watches {
        let (mut names, mut texts) = (Vec::new(), Vec::new());
        walk(&serde_json::to_value(world.view(&watch)).unwrap(), &mut names, &mut texts);
        let told: Vec<_> = names.iter().filter(|name| secret.contains(&name.as_str())).collect();
        assert!(told.is_empty(), "{watch:?} tells {told:?}");
        assert!(!texts.iter().any(|text| text.contains("knee")), "{watch:?}");
    }
    let coach = serde_json::to_value(world.view(&Watch::Coach(AYLA))).unwrap();
    let (mut names, mut texts) = (Vec::new(), Vec::new());
    walk(&coach, &mut names, &mut texts);
    for told in ["effort", "no_show", "notes"] {
        assert!(names.iter().any(|name| name == told), "the coach is told {told}");
    }
}

#[test]
fn a_stations_display_names_nobody_of_other_groups() {
    let world = indiscreet();
    let (mut names, mut texts) = (Vec::new(), Vec::new());
    walk(&serde_json::to_value(world.view(&Watch::Station(vec![BENCH_2]))).unwrap(), &mut names, &mut texts);
    for other in ["Dara", "Edda", "Greta"] {
        assert!(!texts.iter().any(|text| text.contains(other)), "{other}");
    }
    assert!(texts.iter().any(|text| text == "Farid"));
}

#[test]
fn every_display_is_told_an_exercises_name_in_every_language() {
    let mut world = World::other_with_all(|floor, _| {
        for (exercise, german) in floor.exercises.values_mut().zip(["Bankdrücken", "Rudern am Kabelzug"]) {
            exercise.name.de = german.to_owned();
        }
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    for client in [DARA, EDDA] {
        world.whole_set(AYLA, turn(PAIR, client, 0, 0));
    }
    for watch in [Watch::Station(vec![BENCH, ROW]), Watch::Board, Watch::Coach(AYLA)] {
        let text = serde_json::to_string(&world.view(&watch)).unwrap();
        let row = r#"{"en":"Cable row","de":"Rudern am Kabelzug"}"#;
        assert!(text.contains(row), "{watch:?}: {text}");
        let without = text.replace(row, "").replace(r#"{"en":"Bench press","de":"Bankdrücken"}"#, "");
        assert!(!without.contains("Cable row") && !without.contains("Bench press"), "{watch:?}: {without}");
    }
}

#[test]
fn a_partner_is_offered_at_the_station_while_the_coming_set_needs_a_spotter() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, EDDA, &[(0, 0)]);
    let press = turn(PAIR, DARA, 0, 0);
    let offered = |world: &World, id| station(world, id).partners;
    assert_eq!(offered(&world, BENCH), [], "nobody has passed anybody");
    let pass = |client| Act::PassSpotter { group: PAIR, client, exercise: ExerciseId(1) };
    for client in [DARA, EDDA] {
        world.accept(&coach(AYLA), pass(client));
    }
    let edda = PartnerPart { client: EDDA, name: name("Edda") };
    assert_eq!(offered(&world, BENCH), [edda], "and not who is to lift");
    assert_eq!(offered(&world, ROW), [], "no spotter is needed there");
    for (what, speaker, act) in [
        ("she lifts", kiosk(&[ROW]), Act::Go { turn: turn(PAIR, EDDA, 0, 1) }),
        ("she is gone", coach(AYLA), Act::Leave { group: PAIR, client: EDDA }),
        ("she is stopped", coach(AYLA), Act::Stop { scope: Scope::Client { group: PAIR, client: EDDA } }),
        ("the coach spots", coach(AYLA), Act::Spot { turn: press, lift_off: false }),
        ("she is named", kiosk(&[BENCH]), Act::SpotBy { turn: press, client: EDDA }),
    ] {
        let mut world = world.clone();
        world.accept(&speaker, act);
        assert_eq!(offered(&world, BENCH), [], "{what}");
    }
    // Whatever is offered is taken, and then nobody is offered for a set that has begun.
    let [part] = offered(&world, BENCH).try_into().unwrap();
    world.accept(&kiosk(&[BENCH]), Act::SpotBy { turn: press, client: part.client });
    assert_eq!(station(&world, BENCH).turn.unwrap().spotter, Some(part.name));
    world.accept(&kiosk(&[BENCH]), Act::Go { turn: press });
    assert_eq!(offered(&world, BENCH), []);
}
