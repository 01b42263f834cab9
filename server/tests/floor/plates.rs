//! Which plates a set asks for, what is really on the bar, and plates that are not there.

use turnabout_protocol::card::{BarPart, LoadCard, PlatePart, UnbuiltPart};
use turnabout_protocol::command::{Act, BarLeft};
use turnabout_protocol::ids::{ClientId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::Mass;
use turnabout_protocol::view::{CoachView, View};
use turnabout_protocol::words::Words;
use turnabout_server::floor::decide::Verdict;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::bar::Side;
use turnabout_server::loading::gear::{Gear, OneBar};

use crate::world::*;

fn plate(mass: i64) -> PlatePart {
    PlatePart { mass: kg(mass), full: mass >= 10 }
}

fn masses(plates: &[PlatePart]) -> Vec<Mass> {
    plates.iter().map(|plate| plate.mass).collect()
}

/// Farid before his first working set of 70 kg at the bench, whose plates are four each of 20, 10 and 5 kg.
fn before_seventy() -> (World, TurnId) {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 0));
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 1));
    (world, turn(SINGLE, FARID, 1, 0))
}

fn coach_view(world: &World) -> CoachView {
    match world.view(&Watch::Coach(BRAM)) {
        View::Coach(view) => view,
        View::Station(_) | View::Board(_) => panic!("a coach's page"),
    }
}

/// The card of the coming set, alike on the coach's page and at the station.
fn card(world: &World, client: ClientId) -> LoadCard {
    let view = coach_view(world);
    let mut clients = view.groups.iter().flat_map(|group| &group.clients);
    let card = clients.find(|c| c.client == client).unwrap().turn.clone().unwrap().load.unwrap();
    let View::Station(station) = world.view(&Watch::Station(vec![BENCH])) else { panic!("a station") };
    assert_eq!(station.stations[0].turn.clone().unwrap().load, Some(card.clone()));
    card
}

fn bar(world: &World) -> BarPart {
    card(world, FARID).bar.unwrap()
}

#[test]
fn a_card_names_the_plates_and_what_to_change_from_what_is_on() {
    let (mut world, press) = before_seventy();
    // The light set was done with the empty bar: 70 kg are 20 and 5 a side.
    let asked = bar(&world);
    assert_eq!((asked.bar, asked.known), (kg(20), true));
    assert_eq!(masses(&asked.side), [kg(20), kg(5)]);
    assert_eq!((masses(&asked.strip), masses(&asked.add)), (vec![], vec![kg(20), kg(5)]));
    assert!(asked.together < asked.alone);
    world.accept(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: press });
    let on = world.state.stations[&BENCH].plates.clone().unwrap();
    assert_eq!(on.side.mass(), kg(25));
    let confirmed = card(&world, FARID);
    assert!(confirmed.confirmed);
    let now = confirmed.bar.unwrap();
    assert_eq!((masses(&now.side), now.strip, now.add), (vec![kg(20), kg(5)], vec![], vec![]));
}

#[test]
fn no_board_is_told_of_plates() {
    let (world, _) = before_seventy();
    let text = serde_json::to_string(&world.view(&Watch::Board)).unwrap();
    assert!(text.contains("\"total\":70000000000000") && !text.contains("\"side\""), "{text}");
}

#[test]
fn what_is_really_on_the_bar_changes_what_is_to_be_done() {
    let (mut world, press) = before_seventy();
    world.accept(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: press });
    world
        .accept(&kiosk(&[BENCH]), Act::PlatesOn { station: BENCH, side: vec![plate(20), plate(10)], bar: 0 });
    let asked = card(&world, FARID);
    assert_eq!((asked.on_now, asked.confirmed), (Some(kilos(80)), false));
    let change = asked.bar.unwrap();
    assert_eq!((masses(&change.strip), masses(&change.add)), (vec![kg(10)], vec![kg(5)]));
    world.refuse(&coach(BRAM), Act::Go { turn: press }, Refusal::LoadNotConfirmed);
    // Other plates of the same weight are as good: nobody changes them for the card's sake.
    let side = vec![plate(10), plate(10), plate(5)];
    world.accept(&kiosk(&[BENCH]), Act::PlatesOn { station: BENCH, side: side.clone(), bar: 0 });
    let same = bar(&world);
    assert_eq!((same.side, same.strip, same.add), (side, vec![], vec![]));
    world.begin(BRAM, press);
}

#[test]
fn only_plates_of_the_station_can_be_on_its_bar_and_not_under_a_lifter() {
    let (mut world, press) = before_seventy();
    let on = |side: Vec<PlatePart>| Act::PlatesOn { station: BENCH, side, bar: 0 };
    let here = kiosk(&[BENCH]);
    world.refuse(&here, on(vec![plate(15)]), Refusal::NoSuchPlates { there: 0 });
    world.refuse(&here, on(vec![plate(20); 3]), Refusal::NoSuchPlates { there: 4 });
    let row = Act::PlatesOn { station: ROW, side: vec![plate(20)], bar: 0 };
    world.refuse(&coach(BRAM), row, Refusal::NoSuchPlates { there: 0 });
    world.begin(BRAM, press);
    world.refuse(&here, on(Vec::new()), Refusal::StationBusy { station: BENCH, turn: press });
}

#[test]
fn a_plate_that_goes_missing_changes_the_cards_at_once_and_says_so() {
    let (mut world, press) = before_seventy();
    let gone = |mass, count| Act::PlatesMissing { station: BENCH, plate: plate(mass), count };
    let here = kiosk(&[BENCH]);
    // One of the four 20s: a pair is left, and nothing changes.
    world.accept(&here, gone(20, 1));
    assert_eq!(masses(&bar(&world).side), [kg(20), kg(5)]);
    world.accept(&here, gone(20, 3));
    assert_eq!(masses(&bar(&world).side), [kg(10), kg(10), kg(5)]);
    assert!(matches!(world.tap(&here, gone(20, 3)), Verdict::Already(_)));
    world.accept(&here, gone(5, 4));
    let without = card(&world, FARID);
    let nearest = UnbuiltPart { below: Some(kg(60)), ..UnbuiltPart::default() };
    assert_eq!((without.bar, without.unbuilt), (None, Some(nearest)));
    let unfit = Refusal::LoadUnfit { below: Some(kilos(60)), above: None };
    world.refuse(&here, Act::ConfirmLoad { turn: press }, unfit);
    let plates = coach_view(&world).plates;
    let kinds: Vec<_> =
        plates[0].kinds.iter().map(|kind| (kind.plate.mass, kind.count, kind.missing)).collect();
    assert_eq!(kinds, [(kg(20), 4, 3), (kg(10), 4, 0), (kg(5), 4, 4)]);
    // Lighter is what the plates that are there make.
    let mut lighter = world.clone();
    let revision = lighter.state.groups[&SINGLE].revision;
    lighter.accept(&here, Act::Lighter { turn: press, revision });
    assert_eq!(card(&lighter, FARID).total, kilos(60));
    lighter.begin(BRAM, press);
    // They turn up again.
    world.accept(&here, gone(5, 0));
    world.refuse(&here, gone(5, 0), Refusal::NoPlatesMissing);
    world.refuse(&here, gone(5, 5), Refusal::NoSuchPlates { there: 4 });
    assert_eq!(masses(&bar(&world).side), [kg(10), kg(10), kg(5)]);
}

#[test]
fn a_stripped_bar_is_known_to_be_empty() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    assert!(!bar(&world).known, "nobody has said what is on it");
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)]);
    world.accept(&coach(BRAM), Act::FreeStations { group: SINGLE, block: 0, bar: Some(BarLeft::Stripped) });
    let now = &world.state.stations[&BENCH];
    assert_eq!((now.load, now.plates.clone().map(|on| on.side)), (Some(kilos(20)), Some(Side::default())));
}

#[test]
fn another_load_is_for_every_later_round_that_was_to_be_the_same() {
    let (mut world, press) = before_seventy();
    let revision = world.state.groups[&SINGLE].revision;
    let set = |load, revision| Act::SetLoad { turn: press, load, sure: false, revision };
    world.refuse(&kiosk(&[BENCH]), set(kilos(80), revision), Refusal::RoleMayNot);
    world.refuse(
        &coach(BRAM),
        set(kilos(75), revision),
        Refusal::LoadUnfit { below: Some(kilos(70)), above: Some(kilos(80)) },
    );
    world.accept(&coach(BRAM), set(kilos(80), revision));
    world.refuse(&coach(BRAM), set(kilos(90), revision), Refusal::StaleRevision { revision: revision + 1 });
    assert_eq!(card(&world, FARID).total, kilos(80));
    let leg = &world.state.groups[&SINGLE].clients[&FARID].legs[0];
    assert!(leg.loads.iter().all(|load| *load == Some(kilos(80))), "{:?}", leg.loads);
    world.begin(BRAM, press);
    assert_eq!(world.current(press).load, Some(kilos(80)));
}

#[test]
fn a_bar_is_named_where_it_is_not_the_usual_one_or_has_to_be_changed_back() {
    let mut world = World::other_with_all(|floor, programme| {
        let Gear::Bar(bar) = &mut floor.stations.get_mut(&BENCH).unwrap().gear else { panic!("a bar") };
        let light = OneBar { mass: kg(10), ..bar.bar.clone() };
        bar.others.push(light);
        let press = &mut programme.groups.get_mut(&SINGLE).unwrap().blocks[0].legs[0];
        press.sets.get_mut(&FARID).unwrap().technique.load = Some(kilos(10));
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    let light = bar(&world);
    assert_eq!((light.bar, light.other_bar, light.side), (kg(10), true, vec![]));
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 0));
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 1));
    let usual = bar(&world);
    assert_eq!((usual.bar, usual.other_bar), (kg(20), true), "the light one is there now");
    world.accept(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: turn(SINGLE, FARID, 1, 0) });
    assert!(!bar(&world).other_bar);
}

#[test]
fn a_station_is_told_of_its_plates_while_a_set_at_its_bar_is_to_come() {
    let (mut world, press) = before_seventy();
    let plates = |world: &World, station| {
        let View::Station(view) = world.view(&Watch::Station(vec![station])) else { panic!("a station") };
        view.stations[0].plates.clone()
    };
    assert_eq!(plates(&world, BENCH), coach_view(&world).plates.first().cloned());
    let kinds: Vec<_> =
        plates(&world, BENCH).unwrap().kinds.iter().map(|kind| (kind.plate.mass, kind.count)).collect();
    assert_eq!(kinds, [(kg(20), 4), (kg(10), 4), (kg(5), 4)]);
    assert_eq!((plates(&world, BENCH_2), plates(&world, ROW)), (None, None), "nobody's bar, and no bar");
    world.begin(BRAM, press);
    assert_eq!(plates(&world, BENCH), None, "nobody sees what is on a bar under a lifter");
}

#[test]
fn another_bar_of_the_choice_can_be_said_to_be_there() {
    let mut world = World::other_with_all(|floor, _| {
        let Gear::Bar(bar) = &mut floor.stations.get_mut(&BENCH).unwrap().gear else { panic!("a bar") };
        let name = Words { en: "Trap bar".into(), de: "Hexstange".into() };
        bar.others = vec![OneBar { name: Some(name), ..OneBar::plain(kg(25)) }, OneBar::fixed(kg(15))];
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    let on = |bar, side: Vec<PlatePart>| Act::PlatesOn { station: BENCH, side, bar };
    let here = kiosk(&[BENCH]);
    world.accept(&here, on(1, vec![plate(10)]));
    let said = &coach_view(&world).plates[0];
    let bars: Vec<_> = said.bars.iter().map(|bar| (bar.mass, bar.name.is_some())).collect();
    assert_eq!((bars, said.bar), (vec![(kg(20), false), (kg(25), true), (kg(15), false)], 1));
    // The light set is with the lightest of them, the fixed one.
    let light = card(&world, FARID);
    assert_eq!(light.on_now, Some(kilos(45)));
    let change = light.bar.unwrap();
    assert_eq!((change.bar, change.other_bar), (kg(15), true));
    assert_eq!(masses(&change.strip), [kg(10)]);
    world.accept(&here, on(2, Vec::new()));
    assert_eq!(card(&world, FARID).on_now, Some(kilos(15)));
    world.refuse(&here, on(2, vec![plate(10)]), Refusal::NoSuchPlates { there: 0 });
    world.refuse(&here, on(3, Vec::new()), Refusal::NoSuchBar { count: 3 });
    assert_eq!(world.state, world.replayed());
}
