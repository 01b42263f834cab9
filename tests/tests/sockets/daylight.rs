//! Evenings over which clocks are set: what displays show, what is written down, and when the floor closes.

use std::collections::BTreeMap;
use std::sync::atomic::Ordering;
use std::time::Duration;

use turnabout_protocol::role::Role;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::View;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::hours::{Hours, Opening, Window};
use turnabout_server::floor::local_time::Weekday;
use turnabout_server::floor::state::State;
use turnabout_server::journal::codec::{CodecError, decode};
use turnabout_server::journal::{self, Journal, ReadError, Storage};
use turnabout_server::live::{Files, Pace};
use turnabout_tests::harness::{Display, HandWall, House, Setting, files};

const MINUTE: i64 = 60_000;
const HOUR: i64 = 60 * MINUTE;

/// An evening that goes on through the night on which clocks in Berlin are set. Directive 2000/84/EC: at
/// 01:00 UTC on the last Sunday of March and of October.
struct Night {
    /// Saturday, 18:00 UTC.
    begins: i64,
    /// Seconds east of UTC before 01:00 UTC, and after.
    offsets: [i32; 2],
    /// From 18:00 UTC to 04:00 in Berlin.
    closes_after: i64,
}

/// 2026-03-28T18:00:00Z: 04:00 in summer time is 02:00 UTC.
const SPRING: Night = Night { begins: 1_774_720_800_000, offsets: [3_600, 7_200], closes_after: 8 * HOUR };
/// 2026-10-24T18:00:00Z: 04:00 in winter time is 03:00 UTC.
const AUTUMN: Night = Night { begins: 1_792_864_800_000, offsets: [7_200, 3_600], closes_after: 9 * HOUR };
/// From 18:00 to 01:00 UTC.
const CHANGE: i64 = 7 * HOUR;

/// Open on Saturday from 18:00 and on into Sunday until 04:00.
fn open_late() -> Files {
    let window = |from: &str, to: &str| Window::new(from.parse().unwrap(), to.parse().unwrap()).unwrap();
    let saturday = (Weekday::Saturday, vec![window("18:00", "24:00")]);
    let sunday = (Weekday::Sunday, vec![window("00:00", "04:00")]);
    let mut files = files();
    files.floor.hours = Hours::new(BTreeMap::from([saturday, sunday]));
    files
}

fn setting(pace: Pace, utc_ms: i64) -> (Setting, HandWall) {
    let wall = HandWall::default();
    wall.0.store(utc_ms, Ordering::SeqCst);
    (Setting { pace, files: open_late(), wall: Some(wall.clone()), ..Setting::default() }, wall)
}

fn offset(view: &View) -> i32 {
    match view {
        View::Board(board) => board.zone_offset,
        View::Station(_) | View::Coach(_) => panic!("{view:?}"),
    }
}

#[derive(Debug)]
enum Unreadable {
    Row(#[expect(dead_code, reason = "printed")] ReadError),
    Entry(#[expect(dead_code, reason = "printed")] CodecError),
}

impl From<ReadError> for Unreadable {
    fn from(error: ReadError) -> Self {
        Self::Row(error)
    }
}

fn entries(folder: &tempfile::TempDir) -> Vec<Entry> {
    let storage = Storage::Folder(folder.path().to_owned());
    let journal = Journal::open(&storage, journal::Options::default()).unwrap();
    let mut entries = Vec::new();
    let each = |row| {
        entries.push(decode(&row).map_err(Unreadable::Entry)?);
        Ok::<(), Unreadable>(())
    };
    journal.rows_after(0, each).unwrap();
    entries
}

/// Every minute of the evening, by what was written down up to then.
fn closes_at(entries: &[Entry], minutes: i64, closes: FloorMs) {
    let mut state = State::new();
    let mut entries = entries.iter().peekable();
    for minute in 0..minutes {
        let now = FloorMs(minute * MINUTE);
        while let Some(entry) = entries.next_if(|entry| entry.recorded <= now) {
            evolve(&mut state, entry);
        }
        let opening = state.floor.hours.at(&state.clock, now);
        match opening {
            Opening::Until(at) if now < closes => {
                // Before clocks are set it is the hour off that nobody knows yet.
                let known = now.0 >= CHANGE;
                assert!(if known { at == closes } else { at > now }, "{at:?} at {now:?}");
            }
            Opening::Closed if now >= closes => {}
            Opening::Always | Opening::Until(_) | Opening::Closed => panic!("{opening:?} at {now:?}"),
        }
    }
}

#[tokio::test]
async fn an_evening_goes_on_while_clocks_are_set_and_closes_when_they_say() {
    for night in [SPRING, AUTUMN] {
        let (setting, wall) = setting(Pace::Driven, night.begins);
        let house = House::open_with(setting.clone());
        let mut board = Display::open(&house, Role::Board, "board").await;
        assert_eq!(offset(&board.view().await), night.offsets[0]);
        // One move over the change, as a test of an evening makes it, and one up to the closing time.
        house.advance(CHANGE + 10 * MINUTE).await;
        assert_eq!(offset(&board.view().await), night.offsets[1]);
        drop(board);

        // A restart changes nothing of it. A driven clock goes on from the last entry.
        wall.0.fetch_add(CHANGE, Ordering::SeqCst);
        let house = house.restart_with(setting).await;
        let mut board = Display::open(&house, Role::Board, "board").await;
        assert_eq!(offset(&board.view().await), night.offsets[1]);
        house.advance(5 * HOUR).await;
        let entries = entries(&house.shut().await);
        let mapped = |e: &Entry| match e.event {
            Event::ClockMapped { utc_ms, offset_secs } => Some((e.at.0, utc_ms, offset_secs)),
            _ => None,
        };
        let expected = [0, CHANGE, CHANGE];
        let offsets = [night.offsets[0], night.offsets[1], night.offsets[1]];
        let expected = expected.into_iter().zip(offsets).map(|(at, offset)| (at, night.begins + at, offset));
        assert_eq!(entries.iter().filter_map(mapped).collect::<Vec<_>>(), expected.collect::<Vec<_>>());
        closes_at(&entries, 12 * 60, FloorMs(night.closes_after));
    }
}

/// The server's wall clock is put forward over the change: the offset goes with it.
#[tokio::test]
async fn a_wall_clock_that_is_set_takes_the_offset_with_it() {
    let (setting, wall) = setting(Pace::Running(1), SPRING.begins);
    let house = House::open_with(setting);
    let mut board = Display::open(&house, Role::Board, "board").await;
    assert_eq!(offset(&board.view().await), 3_600);
    for (step, offset_secs) in [(24 * HOUR, 7_200), (-24 * HOUR, 3_600)] {
        wall.0.fetch_add(step, Ordering::SeqCst);
        tokio::time::pause();
        tokio::time::advance(Duration::from_secs(10)).await;
        tokio::time::resume();
        assert_eq!(offset(&board.view().await), offset_secs);
    }
    house.shut().await;
}

/// A floor whose clock runs sets its clocks at the instant, not when it next looks at the wall.
#[tokio::test]
async fn a_running_floor_sets_its_clocks_at_the_instant() {
    let (setting, _) = setting(Pace::Running(100), SPRING.begins + CHANGE - 20 * MINUTE);
    let house = House::open_with(setting);
    let mut board = Display::open(&house, Role::Board, "board").await;
    assert_eq!(offset(&board.view().await), 3_600);
    tokio::time::pause();
    tokio::time::advance(Duration::from_secs(13)).await;
    tokio::time::resume();
    assert_eq!(offset(&board.view().await), 7_200);
    let entries = entries(&house.shut().await);
    let set = entries.iter().rfind(|e| matches!(e.event, Event::ClockMapped { .. })).unwrap();
    assert_eq!(set.at, FloorMs::default() + Millis(20 * MINUTE));
    let utc_ms = SPRING.begins + CHANGE;
    assert_eq!(set.event, Event::ClockMapped { utc_ms, offset_secs: 7_200 });
}
