//! What was late of what a coach is responsible for, from entries written by hand.

use turnabout_protocol::command::{CallKind, Ending, Spotter};
use turnabout_protocol::ids::{CallId, CoachId, StationId, TurnId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::config::Person;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::rehearse::measured::late::{After, Late, What, late};
use turnabout_server::floor::state::Promise;

use crate::{CHIDI, DARA, FIRST, demo, turn};

const AYLA: CoachId = CoachId(1);
const BRAM: CoachId = CoachId(2);
const BENCH: StationId = StationId(1);
/// As the entries here have it.
const GO: After = After::Go { by: Actor::Floor };

/// An evening's entries at seconds of the floor.
struct Evening(Vec<Entry>);

impl Evening {
    fn begun() -> Self {
        Self(demo().entries)
    }

    fn at(&mut self, second: i64, event: Event) -> &mut Self {
        let at = FloorMs(second * 1_000);
        let sequence = self.0.len() as u64 + 1;
        self.0.push(Entry { sequence, recorded: at, at, by: Actor::Floor, event });
        self
    }

    fn told(&mut self, second: i64, turn: TurnId, start: i64, about: bool) -> &mut Self {
        let start = FloorMs(start * 1_000);
        let reason = StartReason::Rest;
        let promise = Promise { turn, station: BENCH, spotter: None, start, reason, about };
        self.at(second, Event::Promised { made: vec![promise], taken_back: Vec::new() })
    }

    fn goes(&mut self, second: i64, turn: TurnId) -> &mut Self {
        self.went(second, turn, BENCH, None)
    }

    /// A set that Ayla spots.
    fn spots(&mut self, second: i64, turn: TurnId, station: StationId) -> &mut Self {
        self.went(second, turn, station, Some(Spotter::Coach { coach: AYLA }))
    }

    fn went(&mut self, second: i64, turn: TurnId, station: StationId, spotter: Option<Spotter>) -> &mut Self {
        let at = |later: i64| FloorMs((second + later) * 1_000);
        let (count_in, starts, ends) = (at(7), at(10), at(50));
        let went = Event::TurnWent {
            turn,
            station,
            count_in,
            starts,
            ends,
            reps: 10,
            load: None,
            spotter,
            lift_off: false,
            short_rest: None,
        };
        self.at(second, went)
    }

    fn done(&mut self, second: i64, turn: TurnId) -> &mut Self {
        let (ended, ending) = (FloorMs(second * 1_000), Ending::Complete);
        self.at(second, Event::TurnDone { turn, ended, reps: Some(10), effort: None, ending })
    }

    fn spotted(&mut self, second: i64, turn: TurnId) -> &mut Self {
        let spotter = Spotter::Coach { coach: AYLA };
        self.at(second, Event::SpotterNamed { turn, spotter, lift_off: false })
    }

    /// What was late of Ayla's: due, by how much and after what.
    fn late(&self) -> Vec<(i64, i64, After)> {
        let set = |late: &Late| match late.what {
            What::Set { after, .. } => Some((late.due.0 / 1_000, late.by.0 / 1_000, after)),
            What::Call { .. } => None,
        };
        late(&self.0, AYLA).late.iter().filter_map(set).collect()
    }
}

#[test]
fn a_set_within_ten_seconds_of_what_was_told_first_to_the_second_is_not_late() {
    let set = turn(FIRST, DARA, 2, 0);
    let mut evening = Evening::begun();
    evening.told(60, set, 100, true).told(86, set, 101, false).goes(111, set);
    assert_eq!(evening.late(), []);
    let mut evening = Evening::begun();
    evening.told(86, set, 101, false).told(95, set, 120, false).goes(112, set);
    assert_eq!(evening.late(), [(101, 11, GO)], "told anew is no excuse");
}

#[test]
fn what_came_last_before_go_is_what_a_set_waited_for() {
    let (before, set) = (turn(FIRST, CHIDI, 2, 0), turn(FIRST, DARA, 2, 0));
    let begun = || {
        let mut evening = Evening::begun();
        evening.goes(40, before).told(86, set, 100, false);
        evening
    };
    let mut station = begun();
    station.done(118, before).goes(120, set);
    assert_eq!(station.late(), [(100, 20, After::Station { before, ramp: false })]);
    let mut spotter = begun();
    spotter.done(98, before).spotted(117, set).goes(120, set);
    assert_eq!(spotter.late(), [(100, 20, After::Spotter)]);
    let mut put_off = begun();
    put_off.done(95, before).at(99, Event::StartPutOff { turn: set, ready: FloorMs(130_000) }).goes(131, set);
    assert_eq!(put_off.late(), [(100, 31, After::PutOff { by: Actor::Floor })]);
    let mut held = begun();
    held.done(95, before).at(128, Event::GroupResumed { group: FIRST }).goes(130, set);
    assert_eq!(held.late(), [(100, 30, After::Resumed)]);
    let mut nobody = begun();
    nobody.done(95, before).spotted(99, set).goes(120, set);
    assert_eq!(nobody.late(), [(100, 20, GO)], "all was ready in time");
    let mut slow = begun();
    slow.done(102, before).goes(120, set);
    assert_eq!(slow.late(), [(100, 20, GO)], "eighteen of the twenty seconds were nobody's but theirs");
}

#[test]
fn what_keeps_a_coach_from_a_start_is_said_and_whose_it_was() {
    let (before, set) = (turn(FIRST, CHIDI, 2, 0), turn(FIRST, DARA, 2, 0));
    let told = || {
        let mut evening = Evening::begun();
        evening.told(86, set, 100, false);
        evening
    };
    let (me, display) = (Actor::Coach { coach: AYLA }, Actor::Station { station: BENCH });
    let by = |evening: &mut Evening, by: Actor| evening.0.last_mut().unwrap().by = by;
    let mut explained = told();
    explained
        .at(117, Event::ClientsBriefed { group: FIRST, clients: vec![DARA], skipped: false })
        .goes(120, set);
    assert_eq!(explained.late(), [(100, 20, After::Briefed)]);
    let mut used = told();
    used.at(90, Event::OtherUseBegan { station: BENCH, until: FloorMs(115_000) }).goes(120, set);
    assert_eq!(used.late(), [(100, 20, After::OtherUse)]);
    let mut freed = told();
    freed.at(90, Event::OtherUseBegan { station: BENCH, until: FloorMs(400_000) });
    freed.at(116, Event::OtherUseEnded { station: BENCH }).goes(120, set);
    assert_eq!(freed.late(), [(100, 20, After::OtherUse)]);
    let mut handed = Evening::begun();
    handed.at(40, Event::GroupHandedOver { group: FIRST, from: AYLA, to: BRAM }).told(86, set, 100, false);
    handed.at(115, Event::GroupHandedOver { group: FIRST, from: BRAM, to: AYLA }).goes(120, set);
    assert_eq!(handed.late(), [(100, 20, After::HandedOver)]);
    // At a display nobody has to wait for a coach who spots elsewhere.
    for (says, after) in [(me, After::AtAnother { set: before }), (display, After::Go { by: display })] {
        let mut busy = Evening::begun();
        busy.spots(60, before, StationId(3)).told(86, set, 100, false).done(116, before).goes(120, set);
        by(&mut busy, says);
        assert_eq!(busy.late(), [(100, 20, after)], "{says:?}");
    }
}

#[test]
fn a_coach_is_told_apart_what_waited_for_them_and_what_for_others() {
    let (first, second) = (turn(FIRST, DARA, 2, 0), turn(FIRST, CHIDI, 2, 0));
    let mut evening = Evening::begun();
    evening.told(86, first, 100, false).told(86, second, 200, false).goes(120, first);
    evening.0.last_mut().unwrap().by = Actor::Station { station: BENCH };
    evening.done(170, first).goes(230, second);
    evening.0.last_mut().unwrap().by = Actor::Coach { coach: AYLA };
    let said = said_of(&evening, false);
    assert_eq!(
        said[..5],
        [
            "Ayla: 2 of 2 sets late. Times are since the start.",
            "Waited for you:",
            "  3:20  Chidi at Bench 1, set 2: 0:30 late, GO was said late by Ayla",
            "Waited for others or for another bar:",
            "  1:40  102 at Bench 1, set 2: 0:20 late, GO was said late at the display of Bench 1",
        ]
    );
}

#[test]
fn sets_of_other_coaches_groups_are_theirs_until_they_are_handed_over() {
    let set = turn(FIRST, DARA, 2, 0);
    let mut evening = Evening::begun();
    evening.told(86, set, 100, false).at(90, Event::GroupHandedOver { group: FIRST, from: AYLA, to: BRAM });
    evening.goes(120, set);
    assert_eq!(evening.late(), []);
    let of_bram = late(&evening.0, BRAM);
    assert_eq!((of_bram.late.len(), of_bram.sets), (1, 1));
}

#[test]
fn a_call_that_waits_longer_than_half_a_minute_is_late() {
    let calls = |answered: i64| {
        let mut evening = Evening::begun();
        let call = CallId(1);
        let taken = Event::StationsTaken {
            group: FIRST,
            block: 0,
            stations: vec![BENCH],
            loads: Vec::new(),
            despite: None,
        };
        evening.at(10, taken);
        evening.at(100, Event::CallMade { call, station: BENCH, urgency: CallKind::CoachPlease });
        evening.at(answered, Event::CallAnswered { call }).at(answered + 20, Event::CallAttended { call });
        late(&evening.0, AYLA).late
    };
    assert_eq!(calls(130), []);
    let due = FloorMs(130_000);
    assert_eq!(calls(145), [Late { due, by: Millis(15_000), what: What::Call { station: BENCH } }]);
}

#[test]
fn a_set_whose_go_was_taken_back_was_not_begun() {
    let set = turn(FIRST, DARA, 2, 0);
    let mut evening = Evening::begun();
    evening.goes(100, set).at(104, Event::TurnCalledOff { turn: set }).goes(140, set).done(190, set);
    assert_eq!(late(&evening.0, AYLA).sets, 1);
    evening.goes(240, turn(FIRST, DARA, 3, 0));
    assert_eq!(late(&evening.0, AYLA).sets, 2);
}

/// What is said of Ayla's evening, line by line. 12:00:00 of 2 March 2026 in UTC, an hour east of it, is its start.
fn said_of(evening: &Evening, clock: bool) -> Vec<String> {
    let opening = demo();
    let entries: Vec<Entry> = evening.0.iter().filter(|entry| clock || !tells_time(entry)).cloned().collect();
    let names = [(Person::Coach(AYLA), "Ayla"), (Person::Client(CHIDI), "Chidi")];
    let names = names.map(|(person, name)| (person, name.to_owned())).into();
    let said = turnabout_server::cli::practice::told(&entries, &opening.state.floor, &names, AYLA);
    said.lines().map(str::to_owned).collect()
}

fn tells_time(entry: &Entry) -> bool {
    matches!(entry.event, Event::ClockMapped { .. })
}

#[test]
fn an_evening_that_goes_as_planned_is_told_so() {
    let rests = "All groups: 0 sets, rests too long by 0:00, the worst by 0:00.";
    assert_eq!(said_of(&Evening::begun(), false), ["Ayla: nothing was late, of 0 sets.", rests]);
}

#[test]
fn what_was_late_is_told_with_the_clock_of_the_floor_whose_set_and_by_whom() {
    let (before, set) = (turn(FIRST, CHIDI, 2, 0), turn(FIRST, DARA, 2, 0));
    let mut evening = Evening::begun();
    // 2026-03-02T12:00:00Z, computed.
    evening.at(0, Event::ClockMapped { utc_ms: 1_772_452_800_000, offset_secs: 3_600 });
    evening.goes(40, before).told(86, set, 100, false).done(118, before).goes(120, set).done(170, set);
    let third = turn(FIRST, DARA, 3, 0);
    evening.told(200, third, 230, false).at(229, Event::StartPutOff { turn: third, ready: FloorMs(260_000) });
    evening.0.last_mut().unwrap().by = Actor::Coach { coach: AYLA };
    evening.goes(262, third);
    let said = said_of(&evening, true);
    assert_eq!(said[0], "Ayla: 2 of 3 sets late.");
    assert_eq!(
        said[4],
        "  13:01:40  102 at Bench 1, set 2: 0:20 late, Chidi's set 2 at Bench 1 was not said to be over"
    );
    assert_eq!(said[1], "Waited for you:");
    assert_eq!(said[3], "Waited for others or for another bar:");
    assert_eq!(said[2], "  13:03:50  102 at Bench 1, set 3: 0:32 late, it was put off by Ayla");
    let said = said_of(&evening, false);
    assert_eq!(said[0], "Ayla: 2 of 3 sets late. Times are since the start.");
    assert!(said[4].starts_with("  1:40  102 at Bench 1"), "{said:?}");
}

#[test]
fn a_light_set_and_a_display_are_called_as_screens_call_them() {
    let light = turn(FIRST, DARA, 0, 0);
    let mut evening = Evening::begun();
    evening.told(86, light, 100, false).at(99, Event::StartPutOff { turn: light, ready: FloorMs(130_000) });
    evening.0.last_mut().unwrap().by = Actor::Station { station: BENCH };
    evening.goes(131, light);
    let line = said_of(&evening, false).swap_remove(2);
    assert_eq!(
        line,
        "  1:40  102 at Bench 1, technique set: 0:31 late, it was put off at the display of Bench 1"
    );
}
