//! Which cue is due now: at most one, and each once.
//!
//! A cue belongs to one instant of floor time, that at which its twin appears on the screen: a digit of the count-in, GO, one
//! of the last three seconds of a rest, the face of a stop. Nothing is planned ahead. Each time the display looks, the digit
//! that stands there says when it appeared; what appeared after the last look and just now is due. So what is re-planned,
//! drawn again or heard twice of a server makes no sound by itself, and what is past is never made up for.
//!
//! What is decided here, and why:
//! - **Of several stations** the higher cue sounds: a stop before a count-in before a rest. A lower or an equal one that comes
//!   within a second of another is left out, so whoever began to count first at this display is heard to the end; two
//!   counts that run into each other would be followed by the wrong client.
//! - **A stop** sounds whenever it is learned of, however late: what it says still holds. One that is there already at the
//!   first look does not: nobody knows whether this display had sounded for it before it was started anew. A stop is known
//!   by its instant, so that one of several groups sounds once.
//! - **A lost link** changes nothing: the picture goes on counting, and a sound that broke off in the middle of a count-in
//!   would say something that nobody has decided.
//! - **While the screen is wiped** touches do nothing and the face stays, so the sound does as well. What covers a figure (a
//!   call for help, plates that are spoken of at that station, the display being set up) takes its sound away, since nobody
//!   could see what it is about. A stop is not kept back by a call for help: whoever is under a bar must rack it now.
//! - **A board** is silent. It stands for the whole floor, where somebody counts in all the time.
//! - **On a floor that runs faster than real time** only a stop sounds: seconds are no seconds there.

use turnabout_protocol::ids::StationId;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{StationPart, StationView, TurnPhase, View};
use uuid::Uuid;

use crate::face::{Body, Face, Going, Known, PhaseKind, Tally, of_station};

/// A digit that is counted down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Digit {
    /// 3.
    Three,
    /// 2.
    Two,
    /// 1.
    One,
}

impl Digit {
    /// All, in the order in which they are counted.
    pub const ALL: [Self; 3] = [Self::Three, Self::Two, Self::One];

    const fn secs(self) -> i64 {
        match self {
            Self::Three => 3,
            Self::Two => 2,
            Self::One => 1,
        }
    }

    /// The digit that shows so much time left, and when it appeared.
    fn shown(left: Millis, now: FloorMs) -> Option<(Self, FloorMs)> {
        let digit = Self::ALL.into_iter().find(|digit| digit.secs() == left.ceil_secs())?;
        Some((digit, now + left - Millis::secs(digit.secs())))
    }
}

/// Something to be heard, in order: of two at one instant the later one here sounds, so that a count is heard to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cue {
    /// So many seconds are left of a rest, or until a start that was told.
    RestEnds(Digit),
    /// The count-in.
    CountIn(Digit),
    /// The first repetition begins.
    Go,
    /// Something is stopped.
    Stop,
}

impl Cue {
    /// Each there is.
    pub const ALL: [Self; 8] = [
        Self::RestEnds(Digit::Three),
        Self::RestEnds(Digit::Two),
        Self::RestEnds(Digit::One),
        Self::CountIn(Digit::Three),
        Self::CountIn(Digit::Two),
        Self::CountIn(Digit::One),
        Self::Go,
        Self::Stop,
    ];

    /// What is higher does not wait for what is lower to end.
    const fn rank(self) -> u8 {
        match self {
            Self::RestEnds(_) => 0,
            Self::CountIn(_) | Self::Go => 1,
            Self::Stop => 2,
        }
    }

    /// For how long nothing of its rank and below sounds after it: it is heard to its end.
    const fn room(self) -> Millis {
        match self {
            // The next of the same count comes right then.
            Self::RestEnds(_) | Self::CountIn(_) | Self::Go => Millis::secs(1),
            Self::Stop => Millis::secs(2),
        }
    }
}

/// How late a cue may be, except a stop. Two sounds or a sound and a picture that are so far apart are still taken to belong
/// together by somebody who waits for them (common practice, no source); what is later would mislead.
pub const LATE: Millis = Millis(150);

/// From so long before its instant on it is said that something is coming. Opening a device takes a part of a second.
const AHEAD: Millis = Millis::secs(5);

/// A server whose floor time lies this far behind what was heard before is at the beginning of another evening.
const ANOTHER_AXIS: Millis = Millis::secs(60);

/// What a display shows now.
#[derive(Clone, Copy, Debug)]
pub struct Seen<'a> {
    /// What the server said last.
    pub known: &'a Known,
    /// Which start of the server that was.
    pub epoch: Uuid,
    /// The face that is made of it.
    pub face: &'a Face,
    /// Floor time.
    pub going: Going,
}

/// What comes of a look.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Heard {
    /// What sounds now.
    pub cue: Option<Cue>,
    /// Something may sound within the next seconds.
    pub soon: bool,
}

/// What has been heard of one link.
#[derive(Debug, Default)]
pub struct Ear {
    past: Option<Past>,
}

#[derive(Debug)]
struct Past {
    epoch: Uuid,
    /// Every instant up to here is past, whether it sounded or not.
    until: FloorMs,
    /// Every stop up to here is known.
    stopped: FloorMs,
    /// What sounded last, and its instant.
    last: Option<(Cue, FloorMs)>,
}

impl Ear {
    /// Says what sounds now. The first look only says where things stand.
    pub fn hear(&mut self, seen: &Seen<'_>) -> Heard {
        let View::Station(view) = &seen.known.view else { return Heard::default() };
        let now = seen.going.now;
        let stop = view.stations.iter().filter_map(|part| stopped(part, now)).max();
        let parts = timed_parts(seen, view);
        let soon = parts.iter().any(|part| is_coming(part, now));
        match &mut self.past {
            Some(past) if !past.is_of_another_axis(seen) => {
                past.epoch = seen.epoch;
                let cue = past.due(stop, &parts, now);
                Heard { cue, soon }
            }
            Some(_) | None => {
                // Whatever stops the server knew of then are no news.
                let stopped = stop.map_or(seen.known.as_of, |stop| stop.max(seen.known.as_of));
                self.past = Some(Past { epoch: seen.epoch, until: now, stopped, last: None });
                Heard { cue: None, soon }
            }
        }
    }
}

impl Past {
    fn is_of_another_axis(&self, seen: &Seen<'_>) -> bool {
        seen.epoch != self.epoch && self.until.since(seen.going.now) > ANOTHER_AXIS
    }

    fn due(&mut self, stop: Option<FloorMs>, parts: &[&StationPart], now: FloorMs) -> Option<Cue> {
        let new = |(cue, at): &(Cue, FloorMs)| {
            *at > self.until && now.since(*at) <= LATE && self.has_room(*cue, *at)
        };
        let timed = parts.iter().filter_map(|part| timed(part, now)).filter(new).max();
        let stop = stop.filter(|stop| *stop > self.stopped);
        let due = stop.map(|_| (Cue::Stop, now)).or(timed);
        self.until = self.until.max(now);
        self.stopped = stop.unwrap_or(self.stopped);
        self.last = due.or(self.last);
        due.map(|(cue, _)| cue)
    }

    /// Whether a cue runs into nothing that is to be heard to its end.
    fn has_room(&self, cue: Cue, at: FloorMs) -> bool {
        self.last.is_none_or(|(last, then)| cue.rank() > last.rank() || at.since(then) >= last.room())
    }
}

/// The stations whose figures can be seen now, in the order of the face.
fn timed_parts<'a>(seen: &Seen<'_>, view: &'a StationView) -> Vec<&'a StationPart> {
    let Body::Stations { panels } = &seen.face.body else { return Vec::new() };
    if seen.going.rate > 1 || seen.face.help.is_some() {
        return Vec::new();
    }
    // What is said of plates stands over the large station.
    let shown = panels.iter().skip(usize::from(seen.face.pad.is_some()));
    let part = |id: StationId| view.stations.iter().find(|part| part.station == id);
    shown.filter_map(|panel| part(panel.id)).collect()
}

/// Since when the face of a station is that of a stop.
fn stopped(part: &StationPart, now: FloorMs) -> Option<FloorMs> {
    let is_stopped = of_station(part, now).kind == PhaseKind::Stopped;
    part.halt.filter(|_| is_stopped).map(|halt| halt.since)
}

/// The cue of what is shown of a station now, and its instant, however long ago that is.
fn timed(part: &StationPart, now: FloorMs) -> Option<(Cue, FloorMs)> {
    let turn = part.turn.as_ref()?;
    let phase = of_station(part, now);
    match (phase.kind, phase.tally, &turn.phase) {
        (PhaseKind::CountIn, Some(Tally::Down(left)), _) => {
            Digit::shown(left, now).map(|(digit, at)| (Cue::CountIn(digit), at))
        }
        (PhaseKind::Working, _, TurnPhase::UnderWay { starts, .. }) => Some((Cue::Go, *starts)),
        // A start that is told about is shown in steps, and has no second that it could sound at.
        (_, Some(Tally::Down(left)), _) if phase.cue(turn.promise.is_some()).is_some() => {
            Digit::shown(left, now).map(|(digit, at)| (Cue::RestEnds(digit), at))
        }
        _ => None,
    }
}

/// Whether something sounds at a station soon, if nothing comes between.
fn is_coming(part: &StationPart, now: FloorMs) -> bool {
    let phase = of_station(part, now);
    let counts = matches!(phase.kind, PhaseKind::GetSet | PhaseKind::CountIn)
        || phase.cue(part.turn.as_ref().is_some_and(|turn| turn.promise.is_some())).is_some();
    counts && matches!(phase.tally, Some(Tally::Down(left)) if left <= Millis::secs(3) + AHEAD)
}
