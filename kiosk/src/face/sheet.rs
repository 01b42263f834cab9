//! A coach's run sheet on a display of the floor: who needs that coach next, where, from when, why then, with which load.
//!
//! Everybody who passes can read it, so a [`Sheet`] has places for that and for nothing else: notes, health and
//! screening have nowhere to stand in it, nor has how a set felt, who did not come, or what coaches ask of each other.
//! Which rows there are and in which order is as on the coach's own page, and so are its words.

mod eye;
mod rows;
mod say;
mod soft;

use turnabout_protocol::card::{GearKind, LoadCard};
use turnabout_protocol::command::CallKind;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::load::Load;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::units::{FloorMs, MassUnit, Millis};
use turnabout_protocol::view::{CallPart, CoachTask, CoachView, RunRow, SetName};
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;

use self::eye::Eye;
pub(super) use self::say::sheet;
pub use self::say::{NeedLine, SheetFace};

/// What no set waits for yet comes after what begins within that: so much has been told ahead. As on the coach's page.
const OPEN: Millis = Millis::secs(60);

/// What a floor's display may show of a coach's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    coach: String,
    /// Of those at one time what is to be done first comes first.
    needs: Vec<Need>,
}

/// Somebody who needs the coach.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Need {
    /// The client or the clients, or the place that a call comes from.
    who: String,
    /// Where; empty for a call, and for what is done anywhere.
    place: String,
    what: What,
    /// By when, or since when; none where no set waits for it yet.
    start: Option<FloorMs>,
    /// Whether that is about then only.
    about: bool,
    /// It is nothing to be done before.
    from: Option<FloorMs>,
    exercises: Vec<Words>,
    set: Option<SetName>,
    load: Option<Box<LoadCard>>,
    why: Option<Why>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum What {
    /// Somebody at the place calls.
    Call(CallKind),
    /// To stand at a set, which has been told or is only planned.
    Stand { task: CoachTask, planned: bool },
    /// To look at a load that somebody else may put on, and say that it is right.
    Confirm,
    /// To say what is put on: what is meant cannot be, or something else is proposed.
    Decide(Option<Proposed>),
    /// To say GO for somebody who has not.
    Go,
    /// To say that a set is over.
    Done,
    /// To pass a technique set that is over.
    Pass,
    /// To explain the exercises.
    Brief,
    /// To free stations that are done with.
    Free,
    /// To say that a group is still there.
    Heard,
    /// To take stations, or to ask for some.
    Stations,
    /// To let a group go on that is held.
    Resume,
}

/// Another load than is set. Why it is proposed has no place here: it may be how a set felt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Proposed {
    load: Load,
    unit: MassUnit,
    gear: GearKind,
    /// Where there are to be more of them.
    reps: Option<Work>,
    /// What is set, where it is another.
    now: Option<Load>,
}

/// Why something is to be done then, or not earlier.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Why {
    /// As everybody is told.
    Told(StartReason),
    /// The coach cannot come earlier.
    Absent(Absent),
    /// Nobody stands at the bar, and why the coach does not where that is so.
    NoSpotter(Option<Absent>),
    /// This one will spot.
    WillSpot(String),
    /// The stations are given away then.
    FreedThen,
    /// The group counts as gone then.
    GoneThen,
    /// These wait for the stations.
    Awaited(String),
}

/// Why the coach is not at a bar.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Absent {
    /// Busy, at this place where that is known.
    Busy(Option<String>),
    /// Away until about then.
    Away(FloorMs),
}

impl Sheet {
    /// The part of a coach's page that a floor may see.
    #[must_use]
    pub fn of(view: &CoachView) -> Self {
        let eye = Eye::of(view);
        // What another coach has gone to is nobody else's, and help is shown larger than any sheet.
        let help = view.help.as_ref().map(|help| help.call.call);
        let mine = |call: &&CallPart| {
            Some(call.call) != help && call.answered.as_ref().is_none_or(|answered| eye.is_me(answered))
        };
        let calls = view.calls.iter().filter(mine).map(called);
        let sets = view.run_sheet.iter().map(|row| set(&eye, row));
        // Of what is due at once a load comes before the set that it is for.
        let coach = eye.me.map_or_else(String::new, |line| line.name.clone());
        Self { coach, needs: calls.chain(soft::needs(&eye)).chain(sets).collect() }
    }

    /// What is to be done at a time, in order of time.
    fn at(&self, now: FloorMs) -> Vec<&Need> {
        let open = |need: &&Need| need.from.is_none_or(|from| from <= now);
        let mut needs: Vec<&Need> = self.needs.iter().filter(open).collect();
        needs.sort_by_key(|need| need.at(now));
        needs
    }
}

impl Need {
    fn new(who: String, what: What) -> Self {
        Self {
            who,
            place: String::new(),
            what,
            start: None,
            about: false,
            from: None,
            exercises: Vec::new(),
            set: None,
            load: None,
            why: None,
        }
    }

    /// Where it comes in the order of time.
    fn at(&self, now: FloorMs) -> FloorMs {
        let open = now + OPEN;
        let start = self.start.unwrap_or(open);
        match self.what {
            // Whoever waits at a bar goes before what is only to be said of a set that is over.
            What::Pass => start.max(now),
            What::Heard => start.min(open),
            What::Call(_)
            | What::Stand { .. }
            | What::Confirm
            | What::Decide(_)
            | What::Go
            | What::Done
            | What::Brief
            | What::Free
            | What::Stations
            | What::Resume => start,
        }
    }
}

fn called(call: &CallPart) -> Need {
    Need { start: Some(call.since), ..Need::new(call.place.clone(), What::Call(call.kind)) }
}

/// A row of the floor's own sheet.
fn set(eye: &Eye<'_>, row: &RunRow) -> Need {
    let what = What::Stand { task: row.task, planned: !row.told };
    Need {
        place: place(eye.view, Some(row.station)),
        start: Some(row.start),
        about: row.about,
        exercises: vec![row.exercise.clone()],
        set: Some(row.set),
        load: row.load.clone().map(Box::new),
        why: Some(why(eye, row)),
        ..Need::new(row.client.clone(), what)
    }
}

/// The name of a station; empty where there is none.
fn place(view: &CoachView, station: Option<StationId>) -> String {
    named(view, station).unwrap_or_default()
}

fn named(view: &CoachView, station: Option<StationId>) -> Option<String> {
    view.stations.iter().find(|line| Some(line.station) == station).map(|line| line.name.clone())
}

/// Why, as the coach's own page has it: of the spotter it says "you".
fn why(eye: &Eye<'_>, row: &RunRow) -> Why {
    match row.reason {
        StartReason::SpotterAway { until } => Why::Absent(Absent::Away(until)),
        StartReason::SpotterBusy => {
            // The plan may lead over another bar before that start.
            let before = eye.view.run_sheet.iter().filter(|other| other.start < row.start);
            let before = before.max_by_key(|other| other.start).map(|other| other.station);
            Why::Absent(Absent::Busy(named(eye.view, before.or_else(|| eye.station()))))
        }
        reason @ (StartReason::Ready
        | StartReason::Way
        | StartReason::Rest
        | StartReason::PutOff
        | StartReason::StationInUse
        | StartReason::LoadChange { .. }
        | StartReason::OtherUse { .. }
        | StartReason::Turns
        | StartReason::Later) => Why::Told(reason),
    }
}
