//! What is measured of an evening that was worked out by hand.

use turnabout_protocol::command::Ending;
use turnabout_protocol::ids::{StationId, TurnId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::promises::FIRM;
use turnabout_server::floor::rehearse::measured::{Kept, Measured, Told, measured};
use turnabout_server::floor::state::Promise;

use crate::{CHIDI, DARA, FIRST, demo, turn};

/// Bench 1 and cable row 1, by their places in the file.
const BENCH: StationId = StationId(1);
const ROW: StationId = StationId(4);

/// An evening written down by hand.
struct Hand {
    entries: Vec<Entry>,
}

impl Hand {
    fn at(&mut self, at: i64, event: Event) {
        let at = FloorMs(at * 1_000);
        let sequence = u64::try_from(self.entries.len()).unwrap() + 1;
        self.entries.push(Entry { sequence, recorded: at, at, by: Actor::Floor, event });
    }

    /// GO, the first repetition fifteen seconds later, and the end.
    fn set(&mut self, turn: TurnId, (went, ended): (i64, i64)) {
        let station = if turn.leg == 0 { BENCH } else { ROW };
        let starts = FloorMs((went + 15) * 1_000);
        let event = Event::TurnWent {
            turn,
            station,
            count_in: starts - Millis::secs(3),
            starts,
            ends: starts + Millis::secs(40),
            reps: 10,
            load: None,
            spotter: None,
            lift_off: false,
            short_rest: None,
        };
        self.at(went, event);
        let ended_at = FloorMs(ended * 1_000);
        let (effort, ending) = (None, Ending::Complete);
        self.at(ended, Event::TurnDone { turn, ended: ended_at, reps: Some(10), effort, ending });
    }

    fn told(&mut self, at: i64, turn: TurnId, start: i64) {
        let start = FloorMs(start * 1_000);
        let (about, reason) = (start > FloorMs(at * 1_000) + FIRM, StartReason::Rest);
        let made = vec![Promise { turn, station: BENCH, spotter: None, start, about, reason }];
        self.at(at, Event::Promised { made, taken_back: Vec::new() });
    }
}

/// Bench 1 and row 1 are 4 m apart, which is 4 s; the longest good rest is 90 s.
#[test]
fn an_evening_worked_out_by_hand_is_measured_as_it_was() {
    let mut hand = Hand { entries: demo().entries };
    hand.at(100, Event::ClientsArrived { group: FIRST, clients: vec![CHIDI, DARA] });
    // What is told about only may be anything.
    hand.told(110, turn(FIRST, CHIDI, 1, 0), 140);
    hand.told(150, turn(FIRST, CHIDI, 1, 0), 160);
    // Begun 4 s later only: nothing of that is off.
    hand.set(turn(FIRST, CHIDI, 1, 0), (164, 220));
    // 4 s of walking, and 12 s of waiting.
    hand.set(turn(FIRST, CHIDI, 1, 1), (236, 300));
    hand.told(355, turn(FIRST, CHIDI, 2, 0), 370);
    // To the second for an earlier instant, and then much later: moved and hurried.
    hand.told(356, turn(FIRST, CHIDI, 2, 0), 360);
    // The first repetition is 105 s after the end: 15 s too long.
    hand.set(turn(FIRST, CHIDI, 2, 0), (390, 480));
    // At once: no wait, and none made up for.
    hand.set(turn(FIRST, CHIDI, 2, 1), (481, 560));
    hand.told(570, turn(FIRST, DARA, 1, 0), 600);
    hand.at(580, Event::Promised { made: Vec::new(), taken_back: vec![turn(FIRST, DARA, 1, 0)] });
    // Never ended: no set.
    hand.set(turn(FIRST, DARA, 1, 0), (700, 760));
    hand.at(770, Event::TurnReopened { turn: turn(FIRST, DARA, 1, 0) });
    let told = Told {
        rounds: Kept { told: 2, moved: 1, strayed: 2, hurried: 1 },
        between: Kept::default(),
        taken_back: 1,
    };
    let wanted = Measured {
        sets: 4,
        overrun: Millis::secs(15),
        worst_overrun: Millis::secs(15),
        changeover_wait: Millis::secs(12),
        light_wait: Millis::secs(0),
        door: Millis::secs(64),
        finish: Millis::secs(460),
        mean_finish: Millis::secs(460),
        told,
    };
    assert_eq!(measured(&hand.entries), wanted);
    assert_eq!(measured(&[]), Measured::default());
}
