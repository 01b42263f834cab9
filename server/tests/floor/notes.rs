//! Notes with their texts: who reads them, how much of them a view carries, and erasing them; and the sets that a
//! coach corrects.

use std::collections::BTreeSet;

use turnabout_protocol::command::{Act, Ending, NoteAbout};
use turnabout_protocol::frame::limits;
use turnabout_protocol::ids::{CoachId, NoteId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{CoachView, NotePart, NoteText, SetName, View};
use turnabout_server::floor::config::{Day, Notes, Programme};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::planned;
use turnabout_server::floor::state::{ClockMapping, MOST_NOTES};
use turnabout_server::floor::views::notes::{MOST_CHARS, all, sheet};
use turnabout_server::floor::views::sets::sets;
use turnabout_server::floor::views::{Context, Watch, view};

use crate::deeds::assistant;
use crate::world::*;

const INCIDENT: NoteAbout = NoteAbout::Incident { station: BENCH, call: None };
const OF_DARA: NoteAbout = NoteAbout::Client { group: PAIR, client: DARA };

/// A world, and the texts that the shell keeps beside it.
struct Written {
    world: World,
    texts: Notes,
}

impl Written {
    fn new() -> Self {
        Self { world: World::with_pair_on(), texts: Notes::new() }
    }

    fn write(&mut self, by: CoachId, about: NoteAbout, text: &str) -> NoteId {
        self.world.accept(&coach(by), Act::Note { note: about, text: text.to_owned() });
        let note = NoteId(self.world.state.last_note);
        self.texts.insert(note, text.to_owned());
        note
    }

    fn with<T>(&self, look: impl FnOnce(&Context<'_>) -> T) -> T {
        look(&Context { names: &names(), notes: &self.texts, zone_offset: 3_600, plan: &planned::NOTHING })
    }

    fn page(&self, me: CoachId) -> CoachView {
        let view = self.with(|context| view(&self.world.state, context, &Watch::Coach(me)));
        let Some(View::Coach(page)) = view else { panic!("a coach's page") };
        page
    }
}

fn whole(text: &str) -> NoteText {
    NoteText::Whole { text: text.to_owned() }
}

fn texts(notes: Vec<NotePart>) -> Vec<NoteText> {
    notes.into_iter().map(|note| note.text).collect()
}

#[test]
fn a_coach_reads_what_is_written_of_the_own_groups_and_of_stations() {
    let mut written = Written::new();
    written.write(AYLA, OF_DARA, "Prefers the closer bench");
    written.world.pass(5);
    written.write(BRAM, INCIDENT, "A collar slipped");
    let page = written.page(AYLA);
    assert_eq!((page.notes[0].by, page.notes[0].about), (coach(BRAM).actor, INCIDENT));
    assert_eq!(page.notes[0].at, written.world.now);
    assert_eq!(texts(page.notes), [whole("A collar slipped"), whole("Prefers the closer bench")]);
    assert_eq!(texts(written.page(BRAM).notes), [whole("A collar slipped")]);
    let told = |me, note| written.with(|context| sheet(&written.world.state, context, me, NoteId(note)));
    assert!(told(BRAM, 1).is_none() && told(AYLA, 9).is_none());
    let sheet = told(AYLA, 1).unwrap();
    assert_eq!((sheet.author.as_str(), sheet.clients), ("Ayla", vec!["Dara".to_owned()]));
    assert_eq!(told(BRAM, 2).unwrap().station.as_deref(), Some("Bench 1"));
    // Who is responsible later reads it later.
    written.world.accept(&coach(BRAM), Act::HandOver { groups: vec![PAIR], from: AYLA, to: BRAM });
    written.world.accept(&coach(AYLA), Act::AcceptGroup { group: PAIR, from: AYLA });
    assert_eq!(written.page(BRAM).notes.len(), 2);
    assert_eq!(texts(written.page(AYLA).notes), [whole("A collar slipped")]);
}

#[test]
fn no_public_display_has_a_word_of_a_note() {
    let mut written = Written::new();
    for about in [INCIDENT, OF_DARA, NoteAbout::Group { group: PAIR }, NoteAbout::Station { station: BENCH }]
    {
        written.write(AYLA, about, "unmistakable");
    }
    let json =
        |watch| written.with(|c| serde_json::to_string(&view(&written.world.state, c, &watch)).unwrap());
    for watch in [Watch::Board, Watch::Station(vec![BENCH, ROW]), Watch::Station(vec![BENCH_2])] {
        assert!(!json(watch.clone()).contains("unmistakable"), "{watch:?}");
    }
    assert!(json(Watch::Coach(AYLA)).contains("unmistakable"));
}

#[test]
fn a_view_carries_ten_beginnings_and_fits_a_frame_whatever_they_say() {
    let mut written = Written::new();
    // JSON takes six bytes for a character like this (RFC 8259, section 7), more than for any other.
    let long = "\u{1}".repeat(500);
    let before = serde_json::to_string(&written.page(AYLA)).unwrap().len();
    for _ in 0..MOST_NOTES {
        written.write(AYLA, OF_DARA, &long);
    }
    let page = written.page(AYLA);
    let begins = NoteText::Begins { text: "\u{1}".repeat(MOST_CHARS) };
    assert_eq!(texts(page.notes.clone()), vec![begins; 10]);
    assert_eq!(usize::from(page.older_notes), MOST_NOTES - 10);
    let grown = serde_json::to_string(&page).unwrap().len() - before;
    assert!(grown * 4 < limits::FRAME_TO_DISPLAY, "the notes take {grown} bytes of a frame");
    // All of them are there where they are asked for.
    let all = written.with(|context| all(&written.world.state, context, AYLA)).notes;
    assert_eq!((all.len(), &all[0].text), (MOST_NOTES, &whole(&long)));
    let fits = "é".repeat(MOST_CHARS);
    written.write(AYLA, OF_DARA, &fits);
    assert_eq!(written.page(AYLA).notes[0].text, whole(&fits));
}

#[test]
fn an_erased_note_stays_without_its_text_with_who_erased_it() {
    let mut written = Written::new();
    let note = written.write(AYLA, OF_DARA, "Felt dizzy");
    let incident = written.write(BRAM, INCIDENT, "A collar slipped");
    let erase = |note| Act::EraseNote { note };
    written.world.refuse(&assistant(AYLA), erase(note), Refusal::RoleMayNot);
    written.world.refuse(&kiosk(&[BENCH]), erase(note), Refusal::RoleMayNot);
    written.world.refuse(&coach(BRAM), erase(note), Refusal::CoachedBy { coach: AYLA });
    written.world.refuse(&coach(AYLA), erase(NoteId(7)), Refusal::UnknownNote);
    written.world.accept(&coach(AYLA), erase(note));
    written.world.pass(3);
    assert_eq!(written.world.already(&coach(AYLA), erase(note)).by, coach(AYLA).actor);
    // Whatever the shell still holds, the view does not say it.
    let NoteText::Erased { erased: Some(erased) } = &written.page(AYLA).notes[1].text else {
        panic!("erased")
    };
    assert_eq!(erased.by, coach(AYLA).actor);
    // An incident is every coach's.
    written.world.accept(&coach(AYLA), erase(incident));
    assert_eq!(written.world.replayed(), written.world.state);
    // What was erased in the journal itself is seen too, without who did it.
    let third = written.write(AYLA, OF_DARA, "Left early");
    written.texts.remove(&third);
    assert_eq!(written.page(AYLA).notes[0].text, NoteText::Erased { erased: None });
    // On another evening it is nobody's any more.
    let day = Some(Day { year: 2030, month: 1, day: 1 });
    let tomorrow = Event::ProgrammeSet(Box::new(Programme { day, ..programme() }));
    let now = written.world.now;
    written.world.take(Actor::Floor, now, tomorrow);
    written.world.refuse(&coach(AYLA), erase(third), Refusal::UnknownNote);
}

#[test]
fn a_sheet_says_when_as_clocks_at_the_floor_did() {
    // RFC 3339, section 5.8, the second and the third example: the same instant written in UTC and eight hours west.
    let utc_ms = 851_042_397_000;
    for (offset_secs, written) in [
        (0, "1996-12-20T00:39:57+00:00"),
        (-8 * 3_600, "1996-12-19T16:39:57-08:00"),
        (19_800, "1996-12-20T06:09:57+05:30"),
    ] {
        let clock = ClockMapping::default().moved(FloorMs(0), utc_ms, offset_secs);
        assert_eq!(clock.rfc3339(FloorMs(0)), written);
    }
    // One hour before clocks were set forward by one.
    let winter = ClockMapping::default().moved(FloorMs(0), utc_ms, 0);
    let summer = winter.moved(FloorMs(3_600_000), utc_ms + 3_600_000, 3_600);
    assert_eq!(summer.rfc3339(FloorMs(0)), "1996-12-20T00:39:57+00:00");
    assert_eq!(summer.rfc3339(FloorMs(3_600_000)), "1996-12-20T02:39:57+01:00");
}

#[test]
fn every_set_that_was_done_can_be_found_and_corrected() {
    let mut world = World::other_with_all(|_, programme| {
        let single = programme.groups.get_mut(&SINGLE).unwrap();
        single.blocks.push(single.blocks[0].clone());
    });
    assert_eq!(sets(&world.state, SINGLE, FARID).unwrap().sets, []);
    assert!(sets(&world.state, SINGLE, DARA).is_none() && sets(&world.state, PAIR, FARID).is_none());
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)]);
    world.accept(&coach(BRAM), Act::FreeStations { group: SINGLE, block: 0, bar: None });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0)]);
    let found = || sets(&world.state, SINGLE, FARID).unwrap().sets;
    let turns: Vec<_> = found().iter().map(|set| (set.turn.block, set.turn.round, set.turn.leg)).collect();
    let latest_first = [(1, 0, 0), (0, 2, 1), (0, 2, 0), (0, 1, 1), (0, 1, 0), (0, 0, 1), (0, 0, 0)];
    assert_eq!(turns, latest_first);
    assert_eq!((found()[0].set, found()[2].set), (SetName::Technique, SetName::Working { n: 2, of: 2 }));
    assert_eq!(found()[2].station.as_deref(), Some("Bench 1"));
    assert_eq!(found().iter().map(|set| set.turn).collect::<BTreeSet<_>>().len(), 7);
    // Each can be corrected by its name, and both values are shown.
    for set in found() {
        let (turn, load) = (set.turn, set.said.load);
        let act = Act::Correct { turn, reps: 3, load, effort: None, ending: Ending::Short };
        world.accept(&coach(BRAM), act);
    }
    for set in sets(&world.state, SINGLE, FARID).unwrap().sets {
        let first = set.first.expect("what was said first is kept");
        assert_eq!((set.said.reps, first.ending), (Some(3), Ending::Complete));
        assert!(first.reps > Some(3), "{first:?}");
    }
}

#[test]
fn what_is_seen_of_a_set_is_written_down_while_it_goes_on_and_after_it() {
    let mut written = Written::new();
    let set = turn(PAIR, DARA, 0, 0);
    let about = NoteAbout::Set { turn: set };
    let note = Act::Note { note: about, text: "clean".to_owned() };
    written.world.refuse(&coach(AYLA), note, Refusal::UnknownTurn);
    written.world.begin(AYLA, set);
    written.write(AYLA, about, "elbows wide");
    let ends = written.world.current(set).ends;
    written.world.pass_to(ends);
    written.world.accept(&coach(AYLA), Act::Done { turn: set, reps: None, effort: None, ending: None });
    written.write(AYLA, about, "clean at the end");
    let page = written.page(AYLA);
    assert!(page.notes.iter().all(|note| note.about == about));
    assert_eq!(texts(page.notes), [whole("clean at the end"), whole("elbows wide")]);
}
