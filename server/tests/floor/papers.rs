//! Sheets of paper: what was done, what is left of a session, and what there is to say before it.

use turnabout_protocol::card::{GearKind, PlatePart};
use turnabout_protocol::command::{Act, Effort, Ending, NoteAbout, Reason};
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, NoteId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, NextReason, SetTo};
use turnabout_protocol::units::{Mass, MassUnit, Secs};
use turnabout_protocol::view::{
    BriefingSheet, ClientSummary, NotCounted, NoteText, RestKept, RestPart, SessionSheet, SetName, SheetNote,
    SheetOver, SheetSet, SummarySheet,
};
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{Client, Notes, Setting};
use turnabout_server::floor::planned;
use turnabout_server::floor::views::sets::sets;
use turnabout_server::floor::views::summary::Whose;
use turnabout_server::floor::views::{Context, briefing, session, summary};
use turnabout_server::loading::gear::{Bar, Gear, Numbered, Plates};
use turnabout_server::setup::catalogue;
use turnabout_server::training::movement::Movement;
use turnabout_server::training::rule::LoadRule;

use crate::world::*;

fn with<T>(texts: &Notes, look: impl FnOnce(&Context<'_>) -> T) -> T {
    look(&Context { names: &names(), notes: texts, zone_offset: 3_600, plan: &planned::NOTHING })
}

fn summary_for(world: &World, texts: &Notes, me: CoachId, whose: Whose) -> SummarySheet {
    with(texts, |context| summary::sheet(&world.state, context, me, PAIR, whose)).unwrap()
}

fn of(world: &World, client: ClientId) -> ClientSummary {
    let sheet = summary_for(world, &Notes::new(), AYLA, Whose::Clients);
    sheet.clients.into_iter().find(|summary| summary.client == client).unwrap()
}

fn session_of(world: &World) -> SessionSheet {
    with(&Notes::new(), |context| session::sheet(&world.state, context, PAIR)).unwrap()
}

fn briefing_of(world: &World) -> BriefingSheet {
    with(&Notes::new(), |context| briefing::sheet(&world.state, context, PAIR)).unwrap()
}

const ROUND_1: [(u8, u8); 4] = [(0, 0), (0, 1), (1, 0), (1, 1)];
const ROUND_2: [(u8, u8); 2] = [(2, 0), (2, 1)];

/// Dara and Edda have done all their sets; Edda rested 45 s too long.
fn evening() -> World {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &[ROUND_1.as_slice(), &ROUND_2].concat());
    world.sets(AYLA, PAIR, EDDA, &ROUND_1);
    world.rest(PAIR, EDDA);
    // The block's rests are 60 to 120 s.
    world.pass(60 + 45);
    world.sets(AYLA, PAIR, EDDA, &ROUND_2);
    world
}

#[test]
fn a_summary_says_what_was_done_in_order_and_how_rests_were_kept() {
    let world = evening();
    let dara = of(&world, DARA);
    let names: Vec<SetName> = dara.sets.iter().map(|set| set.set).collect();
    let working = |n| SetName::Working { n, of: 2 };
    let light = SetName::Technique;
    assert_eq!(names, [light, light, working(1), working(1), working(2), working(2)]);
    let rests: Vec<Option<RestPart>> = dara.sets.iter().map(|set| set.rest).collect();
    let kept = RestPart { length: Secs(60), put_off: None, kept: RestKept::Kept };
    assert_eq!(rests, [None, None, None, None, Some(kept), None]);
    let over = RestPart { length: Secs(165), put_off: None, kept: RestKept::Over { by: Secs(45) } };
    assert_eq!(of(&world, EDDA).sets[4].rest, Some(over));
    let last = dara.sets.last().unwrap();
    assert_eq!((last.reps, last.load, last.effort), (Some(10), Some(kilos(50)), Some(Effort::Right)));
    assert_eq!(
        (last.station.as_deref(), last.unit, last.gear),
        (Some("Row 1"), MassUnit::Kg, GearKind::Stack)
    );
}

#[test]
fn a_rest_that_a_coach_shortened_is_short_by_what_was_missing() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &ROUND_1);
    let reason = Reason::ShortOfTime;
    world.accept(&coach(AYLA), Act::LessRest { turn: turn(PAIR, DARA, 2, 0), secs: 40, reason });
    world.sets(AYLA, PAIR, DARA, &ROUND_2);
    let short = RestPart { length: Secs(40), put_off: None, kept: RestKept::Short { by: Secs(20) } };
    assert_eq!(of(&world, DARA).sets[4].rest, Some(short));
}

#[test]
fn a_rest_that_was_lengthened_on_purpose_is_measured_against_where_it_was_put_off_to() {
    // The block's rests are 60 to 120 s: with 90 s more it is to end 150 s after the set.
    let lengthened = |late: i64| {
        let mut world = World::with_pair_on();
        world.sets(AYLA, PAIR, DARA, &ROUND_1);
        world.accept(&coach(AYLA), Act::MoreRest { turn: turn(PAIR, DARA, 2, 0), secs: 90 });
        world.rest(PAIR, DARA);
        world.pass(90 + late);
        world.sets(AYLA, PAIR, DARA, &ROUND_2);
        of(&world, DARA).sets[4].rest.unwrap()
    };
    let put_off = Some(Secs(150));
    assert_eq!(lengthened(0), RestPart { length: Secs(150), put_off, kept: RestKept::Kept });
    let over = RestKept::Over { by: Secs(12) };
    assert_eq!(lengthened(12), RestPart { length: Secs(162), put_off, kept: over });

    // NOT YET after GO counts as well: the count-in is taken back.
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &ROUND_1);
    world.rest(PAIR, DARA);
    world.pass(70);
    let press = turn(PAIR, DARA, 2, 0);
    world.begin(AYLA, press);
    world.accept(&coach(AYLA), Act::NotYet { turn: press });
    let until = world.client(PAIR, DARA).put_off.unwrap();
    world.rest(PAIR, DARA);
    world.sets(AYLA, PAIR, DARA, &ROUND_2);
    let rest = of(&world, DARA).sets[4].rest.unwrap();
    assert_eq!((rest.kept, rest.put_off.is_some()), (RestKept::Kept, true), "{rest:?}");
    assert_eq!(world.state.record(press).unwrap().put_off, Some(until));
}

#[test]
fn volume_is_of_working_sets_in_the_clients_unit_and_goes_with_a_correction() {
    let mut world = evening();
    let volume = of(&world, DARA).volume;
    // 2 x 10 x 60 kg and 2 x 10 x 50 kg, computed.
    assert_eq!((volume.load.as_deref(), volume.unit), (Some("2200"), MassUnit::Kg));
    assert_eq!((volume.counted, volume.left_out), (4, 0));
    // Two rounds, each of two sets of 40 s and the lead of the second, a minute of rest between, computed below.
    let dara = of(&world, DARA);
    let clock = |at: &str| -> i64 {
        at[11..19].split(':').fold(0, |sum, part| sum * 60 + part.parse::<i64>().unwrap())
    };
    let elapsed = clock(&dara.sets[5].ended) - clock(&dara.sets[2].started);
    assert_eq!(volume.elapsed, Some(Secs(u32::try_from(elapsed).unwrap())));
    let per_minute = format!("{:.2}", 2_200.0 * 60.0 / f64::from(i32::try_from(elapsed).unwrap()));
    assert_eq!(volume.per_minute.unwrap(), per_minute.trim_end_matches('0').trim_end_matches('.'));
    assert_eq!(dara.sets[0].not_counted, Some(NotCounted::Light));
    world.accept(
        &coach(AYLA),
        Act::Correct {
            turn: turn(PAIR, DARA, 2, 1),
            reps: 8,
            load: Some(kilos(50)),
            effort: None,
            ending: Ending::Short,
        },
    );
    assert_eq!(of(&world, DARA).volume.load.as_deref(), Some("2100"));
}

#[test]
fn a_client_who_counts_in_pounds_reads_the_sum_in_pounds() {
    let mut world = World::other_with_all(|_, programme| {
        programme
            .clients
            .insert(DARA, Client { unit: Some(MassUnit::Lb), regular: true, ..Client::default() });
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &ROUND_1[..3]);
    let volume = of(&world, DARA).volume;
    // 600 kg are 1322.77 lb: a pound is 0.45359237 kg by the agreement of 1959.
    assert_eq!((volume.load.as_deref(), volume.unit), (Some("1322.77"), MassUnit::Lb));
}

#[test]
fn notes_are_on_the_copy_of_the_coach_whom_they_concern_and_nowhere_else() {
    let mut world = evening();
    let mut texts = Notes::new();
    for (about, text) in [
        (NoteAbout::Client { group: PAIR, client: DARA }, "of Dara"),
        (NoteAbout::Set { turn: turn(PAIR, EDDA, 1, 0) }, "of a set of Edda's"),
        (NoteAbout::Group { group: PAIR }, "of both"),
        (NoteAbout::Station { station: BENCH }, "of the bench"),
        (NoteAbout::Client { group: PAIR, client: DARA }, "erased"),
    ] {
        world.accept(&coach(AYLA), Act::Note { note: about, text: text.to_owned() });
        texts.insert(NoteId(world.state.last_note), text.to_owned());
    }
    texts.remove(&NoteId(5));
    let said = |me, whose| -> Vec<Vec<String>> {
        let text = |note: &SheetNote| match &note.note.text {
            NoteText::Whole { text } => text.clone(),
            other => panic!("{other:?}"),
        };
        let sheet = summary_for(&world, &texts, me, whose);
        sheet.clients.iter().map(|client| client.notes.iter().map(text).collect()).collect()
    };
    assert_eq!(said(AYLA, Whose::Coach), [vec!["of Dara", "of both"], vec!["of a set of Edda's", "of both"]]);
    let nothing: Vec<Vec<String>> = vec![vec![], vec![]];
    assert_eq!(said(AYLA, Whose::Clients), nothing);
    assert_eq!(said(BRAM, Whose::Coach), nothing, "the notes are another coach's");
}

#[test]
fn next_time_begins_as_this_evening_ended_at_the_same_station() {
    let world = evening();
    let next = of(&world, DARA).next;
    let said: Vec<_> = next.iter().map(|next| (next.station.as_str(), next.proposal.set)).collect();
    let mass = |kilos| SetTo::Mass { load: kg(kilos) };
    assert_eq!(said, [("Bench 1", mass(60)), ("Row 1", mass(50))]);
    let all = next
        .iter()
        .all(|next| (next.proposal.change, next.proposal.reason) == (Change::Same, NextReason::AsLastTime));
    assert!(all, "{next:?}");
    assert!(of(&World::with_pair_on(), DARA).next.is_empty(), "nothing was done");
}

#[test]
fn a_pin_is_left_out_of_the_volume_and_said_so() {
    let mut world = World::other_with_all(|floor, programme| {
        for row in [ROW, ROW_2] {
            floor.stations.get_mut(&row).unwrap().gear =
                Gear::Numbered(Numbered { numbers: 12, assists: false });
        }
        let legs =
            programme.groups.values_mut().flat_map(|group| &mut group.blocks).map(|block| &mut block.legs[1]);
        for set in legs.flat_map(|leg| leg.sets.values_mut()) {
            set.rounds[0].load = Some(LoadRule::Fixed { load: Load::Pin { pin: 5 } });
        }
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &ROUND_1);
    let dara = of(&world, DARA);
    assert_eq!(dara.sets[3].not_counted, Some(NotCounted::Pin));
    let volume = dara.volume;
    assert_eq!((volume.load.as_deref(), volume.counted, volume.left_out), (Some("600"), 1, 1));
    assert_eq!(dara.next[1].proposal.set, SetTo::Pin { pin: 5 });
    let set = &session_of(&world).blocks[0].clients[0].sets[5];
    let load = set.load.as_ref().unwrap();
    assert_eq!(load.total, Load::Pin { pin: 5 });
    assert!(load.stack.is_some());
}

/// The sets of a client of the first block on the session's sheet.
fn sets_of(sheet: &SessionSheet, client: usize) -> &[SheetSet] {
    &sheet.blocks[0].clients[client].sets
}

fn side(set: &SheetSet) -> Vec<i64> {
    let bar = set.load.as_ref().unwrap().bar.as_ref().unwrap();
    assert!(bar.strip.is_empty(), "an empty bar has nothing to strip");
    bar.side.iter().map(|plate| plate.mass.nanograms() / kg(1).nanograms()).collect()
}

#[test]
fn before_anybody_has_come_a_session_names_what_suits_and_how_loads_are_set() {
    let world = World::empty();
    let sheet = session_of(&world);
    assert_eq!(
        (sheet.coach.as_str(), &sheet.clients[..]),
        ("Ayla", &["Dara".to_owned(), "Edda".to_owned()][..])
    );
    let [block] = &sheet.blocks[..] else { panic!("one block") };
    assert_eq!(
        (block.rounds, block.rest_min, block.rest_max, block.changeover),
        (2, Secs(60), Secs(120), Secs(20))
    );
    let press = &block.exercises[0];
    assert_eq!(
        (&press.stations[..], press.reserved, press.spotted),
        (&["Bench 1", "Bench 2"].map(str::to_owned)[..], false, true)
    );
    let dara = sets_of(&sheet, 0);
    assert_eq!(dara.len(), 6);
    assert_eq!((dara[2].set, dara[2].work), (SetName::Working { n: 1, of: 2 }, Work::reps(10)));
    assert_eq!(dara[0].work, Work::reps(4));
    // 60 kg are the bar of 20 and 20 on each side; 40 kg 10 on each side.
    assert_eq!((side(&dara[2]), side(&sets_of(&sheet, 1)[2]), side(&dara[0])), (vec![20], vec![10], vec![]));
    let row = dara[3].load.as_ref().unwrap();
    assert_eq!(row.stack.as_ref().unwrap().pin.label, kilos(50));
    assert!(dara.iter().all(|set| set.over.is_none()));
}

#[test]
fn as_long_as_no_station_is_reserved_a_load_is_told_at_each_that_suits() {
    let world = World::other(|floor, _| {
        let plates = [10, 5].map(|m| Plates::new(kg(m), 4)).to_vec();
        let lighter = Bar::one(MassUnit::Kg, kg(10), Mass::ZERO, plates);
        floor.stations.get_mut(&BENCH_2).unwrap().gear = Gear::Bar(lighter);
        let settings = vec![Setting { name: "Uprights".to_owned(), values: vec!["3".to_owned()] }];
        floor.stations.get_mut(&BENCH_2).unwrap().settings = settings;
    });
    let sheet = session_of(&world);
    let dara = &sets_of(&sheet, 0)[2];
    assert_eq!((dara.station.as_deref(), side(dara)), (Some("Bench 1"), vec![20]));
    let [other] = &dara.elsewhere[..] else { panic!("one other bench") };
    let bar = other.load.as_ref().unwrap().bar.as_ref().unwrap();
    let plates: Vec<i64> = bar.side.iter().map(|plate| plate.mass.nanograms() / kg(1).nanograms()).collect();
    // 60 kg on a bar of 10 kg are 25 a side.
    assert_eq!((other.station.as_str(), other.work, plates), ("Bench 2", Work::reps(10), vec![10, 10, 5]));
    let row = &sets_of(&sheet, 0)[3];
    assert_eq!(row.elsewhere.len(), 1, "there are two rows");
    assert_eq!(row.elsewhere[0].load, row.load);

    let mut world = world;
    world.all_arrive();
    world.claim(AYLA, PAIR, &[BENCH_2, ROW]);
    world.accept(&coach(AYLA), Act::SetSetting { station: BENCH_2, client: DARA, setting: 0, value: 0 });
    let sheet = session_of(&world);
    assert_eq!(sheet.blocks[0].clients[0].settings[0].station, "Bench 2");
    let dara = &sets_of(&sheet, 0)[2];
    assert_eq!((dara.station.as_deref(), side(dara)), (Some("Bench 2"), vec![10, 10, 5]));
    assert!(sets_of(&sheet, 0).iter().all(|set| set.elsewhere.is_empty()), "they have their stations");
}

#[test]
fn in_the_middle_of_a_session_its_sheet_says_what_is_done_and_where_the_group_is() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &ROUND_1[..3]);
    let sheet = session_of(&world);
    let press = &sheet.blocks[0].exercises[0];
    assert_eq!((&press.stations[..], press.reserved), (&["Bench 1".to_owned()][..], true));
    let dara = sets_of(&sheet, 0);
    let done: Vec<bool> =
        dara.iter().map(|set| matches!(set.over, Some(SheetOver::Done { reps: Some(4 | 10), .. }))).collect();
    assert_eq!(done, [true, true, true, false, false, false]);
    // What is on the bar now is no part of what comes next.
    assert_eq!(side(&dara[4]), [20]);
    world.accept(&coach(AYLA), Act::EndSession { group: PAIR, reason: Reason::ShortOfTime });
    assert!(session_of(&world).blocks.is_empty());
    assert_eq!(of(&world, DARA).sets.len(), 3, "what was done stays");
}

#[test]
fn plates_that_are_missing_are_on_no_sheet_and_what_cannot_be_made_says_what_can() {
    let mut world = World::with_pair_on();
    let gone = |kilos, count| {
        let plate = PlatePart { mass: kg(kilos), full: true };
        Act::PlatesMissing { station: BENCH, plate, count }
    };
    world.accept(&kiosk(&[BENCH]), gone(20, 4));
    assert_eq!(side(&sets_of(&session_of(&world), 0)[2]), [10, 10]);
    world.accept(&kiosk(&[BENCH]), gone(10, 4));
    let load = sets_of(&session_of(&world), 0)[2].load.clone().unwrap();
    // Two pairs of 5 are left on the bar of 20.
    assert_eq!((load.bar, load.unbuilt.unwrap().below), (None, Some(kg(40))));
}

#[test]
fn a_second_light_set_has_a_line_of_its_own_until_it_is_done() {
    let mut world = World::other_with_all(|_, programme| {
        let block = &mut programme.groups.get_mut(&PAIR).unwrap().blocks[0];
        block.legs[0].sets.get_mut(&DARA).unwrap().technique.ramp = true;
    });
    let light = |world: &World| -> Vec<(SetName, Load)> {
        let sheet = session_of(world);
        let light = sets_of(&sheet, 0).iter().filter(|set| !matches!(set.set, SetName::Working { .. }));
        light.map(|set| (set.set, set.load.as_ref().unwrap().total)).collect()
    };
    // Four fifths of 60 kg are 48; 40 is what the plates make of that.
    let technique = [(SetName::Technique, kilos(20)), (SetName::Technique, kilos(5))];
    let all = [technique.as_slice(), &[(SetName::Ramp, kilos(40))]].concat();
    assert_eq!(light(&world), all);
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &ROUND_1[..2]);
    assert_eq!(light(&world), all);
    let ramp = world.next(PAIR, DARA).unwrap();
    world.rest(PAIR, DARA);
    world.begin(AYLA, ramp);
    world.pass_to(world.current(ramp).ends);
    world.done(AYLA, ramp);
    assert_eq!((ramp.round, light(&world)), (0, technique.to_vec()));
}

#[test]
fn a_summary_names_each_light_set_that_was_done_also_after_a_go_that_was_taken_back() {
    let mut world = World::other_with_all(|_, programme| {
        let block = &mut programme.groups.get_mut(&PAIR).unwrap().blocks[0];
        block.legs[0].sets.get_mut(&DARA).unwrap().technique.ramp = true;
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &ROUND_1[..2]);
    let ramp = world.next(PAIR, DARA).unwrap();
    world.rest(PAIR, DARA);
    world.begin(AYLA, ramp);
    world.accept(&coach(AYLA), Act::NotYet { turn: ramp });
    world.rest(PAIR, DARA);
    world.begin(AYLA, ramp);
    world.pass_to(world.current(ramp).ends);
    world.done(AYLA, ramp);
    let light = [
        (SetName::Technique, Some(kilos(20))),
        (SetName::Technique, Some(kilos(5))),
        (SetName::Ramp, Some(kilos(40))),
    ];
    let named = |summary: ClientSummary| -> Vec<(SetName, Option<Load>)> {
        summary.sets.iter().map(|set| (set.set, set.load)).collect()
    };
    assert_eq!(named(of(&world, DARA)), light);
    // A correction reaches the last that was done of a light set; the list for it has no other.
    let to_correct = sets(&world.state, PAIR, DARA).unwrap().sets;
    let names: Vec<SetName> = to_correct.iter().map(|set| set.set).collect();
    assert_eq!(names, [SetName::Ramp, SetName::Technique]);
    world.accept(&coach(AYLA), Act::EndSession { group: PAIR, reason: Reason::ShortOfTime });
    assert_eq!(named(of(&world, DARA)), light, "of a block that is over too");
}

#[test]
fn how_a_station_is_set_for_a_client_is_on_the_sheet() {
    let mut world = World::other_with_all(|floor, _| {
        let settings =
            vec![Setting { name: "Uprights".to_owned(), values: vec!["3".to_owned(), "4".to_owned()] }];
        floor.stations.get_mut(&BENCH).unwrap().settings = settings;
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.accept(&coach(AYLA), Act::SetSetting { station: BENCH, client: EDDA, setting: 0, value: 1 });
    let sheet = session_of(&world);
    let settings = |client: usize| &sheet.blocks[0].clients[client].settings;
    assert!(settings(0).is_empty());
    let [bench] = &settings(1)[..] else { panic!("one station is set") };
    assert_eq!(
        (bench.station.as_str(), bench.values[0].name.as_str(), bench.values[0].value.as_str()),
        ("Bench 1", "Uprights", "4")
    );
}

#[test]
fn a_session_without_a_station_that_suits_is_still_written_down() {
    // The plan of such a group would be refused as a file; plates that break leave it with one.
    let world = World::other(|floor, _| {
        for exercise in floor.exercises.values_mut() {
            exercise.stations = [StationId(99)].into();
        }
    });
    let sheet = session_of(&world);
    assert!(sheet.blocks[0].exercises.iter().all(|exercise| exercise.stations.is_empty()));
    let set = &sets_of(&sheet, 0)[2];
    assert_eq!((set.work, &set.load, &set.station), (Work::reps(10), &None, &None));
}

#[test]
fn what_one_client_does_instead_is_in_the_briefing_and_on_the_session_sheet() {
    const FLOOR_PRESS: ExerciseId = ExerciseId(3);
    let mut world = World::other_with_all(|floor, _| {
        let press = floor.exercises.get_mut(&ExerciseId(1)).unwrap();
        press.movement = Movement::HorizontalPress;
        let mut other = press.clone();
        (other.id, other.name) = (FLOOR_PRESS, Words::same("Floor press"));
        floor.exercises.insert(other.id, other);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    assert!(briefing_of(&world).blocks[0].instead.is_empty());
    let swap = Act::SwapExercise {
        group: PAIR,
        client: EDDA,
        leg: 0,
        exercise: FLOOR_PRESS,
        station: None,
        load: Some(kilos(30)),
        sure: false,
        revision: world.revision(PAIR),
    };
    world.accept(&coach(AYLA), swap);
    let block = &briefing_of(&world).blocks[0];
    assert_eq!(block.exercises.len(), 2, "the others still press");
    let [other] = &block.instead[..] else { panic!("one exercise is another: {:?}", block.instead) };
    assert_eq!(
        (&other.clients[..], &other.of.en[..], &other.exercise.exercise.en[..], other.exercise.spotted),
        (&["Edda".to_owned()][..], "Bench press", "Floor press", true)
    );
    let sheet = session_of(&world);
    let (dara, edda) = (&sets_of(&sheet, 0)[2], &sets_of(&sheet, 1)[2]);
    assert_eq!((&dara.exercise.en[..], &edda.exercise.en[..]), ("Bench press", "Floor press"));
    assert!(edda.spotted && edda.station.as_deref() == Some("Bench 1"), "{edda:?}");
}

#[test]
fn a_briefing_says_what_the_catalogue_knows_of_both_exercises() {
    let world = World::other(|floor, _| {
        for (exercise, key) in floor.exercises.values_mut().zip(["bench-press", "cable-row"]) {
            let entry = catalogue().get(&key.parse().unwrap()).unwrap().clone();
            (exercise.about, exercise.movement) = (entry.about, entry.movement);
        }
    });
    let sheet = briefing_of(&world);
    let [block] = &sheet.blocks[..] else { panic!("one block") };
    assert!(block.opposing && block.exercises[0].spotted && !block.exercises[1].spotted);
    for exercise in &block.exercises {
        let muscles = [&exercise.prime_movers, &exercise.antagonists, &exercise.stabilisers];
        assert!(muscles.iter().all(|names| !names.is_empty()), "{exercise:?}");
        assert!(!exercise.set_up.is_empty() && !exercise.cautions.is_empty(), "{exercise:?}");
        assert_ne!(exercise.breathing.en, exercise.breathing.de);
    }
    assert_eq!(block.exercises[0].prime_movers[0].en, "chest");
    // Nothing is known of exercises that a floor defines without a word about them.
    let plain = briefing_of(&World::empty());
    assert!(!plain.blocks[0].opposing && plain.blocks[0].exercises[0].prime_movers.is_empty());
}
