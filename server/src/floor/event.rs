//! What happened: results, never the seeds or inputs that led to them.

mod about;
mod kind;
mod loads;

pub use self::about::Subject;
pub use self::loads::{FirstLoads, LegLoads};

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{
    BarLeft, CallKind, Defect, Effort, Ending, NoteAbout, Reason, ScreeningDecision, Spotter,
};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, ExerciseId, GroupId, NoteId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::Settled;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass, Millis, Secs};

use super::config::{Floor, Programme};
use super::state::Promise;
use crate::loading::bar::{Loaded, Plate};

/// One entry of the journal.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// Its place, from 1 without a gap.
    pub sequence: u64,
    /// When the floor took it down; never goes back.
    pub recorded: FloorMs,
    /// When it happened, as the one who did it says.
    pub at: FloorMs,
    /// Who did it.
    pub by: Actor,
    /// What happened.
    pub event: Event,
}

/// What happened.
///
/// A kind never changes its meaning: a new one gets a new name, an old shape is lifted by an upcaster.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Event {
    /// The floor is as its file says.
    FloorSet(Box<Floor>),
    /// The evening is as the programme says.
    ProgrammeSet(Box<Programme>),
    /// Floor time `at` is this instant of UTC, and clocks at the floor are so far from it from then on.
    ClockMapped {
        /// Milliseconds since 1970-01-01T00:00:00Z.
        utc_ms: i64,
        /// Seconds east of UTC.
        offset_secs: i32,
    },
    /// The server was down and runs again.
    Resumed {
        /// For how long it was down.
        down: Millis,
    },
    /// A group reserved the stations of a block, all of them.
    StationsTaken {
        /// The group.
        group: GroupId,
        /// Its block.
        block: u8,
        /// One station for each exercise.
        stations: Vec<StationId>,
        /// Why it went before others who wait, where it did.
        #[serde(default)]
        despite: Option<Reason>,
        /// The loads of every exercise that has any; rows from before they were kept have none.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        loads: Vec<FirstLoads>,
    },
    /// A group's stations were given back as if they had never been taken.
    StationsGivenBack {
        /// The group.
        group: GroupId,
        /// The block.
        block: u8,
    },
    /// A group waits for the stations of a block.
    StationsAsked {
        /// The group.
        group: GroupId,
        /// The block.
        block: u8,
    },
    /// A group does not wait for stations any more.
    AskWithdrawn {
        /// The group.
        group: GroupId,
    },
    /// A group may work in on a station that another has reserved.
    LeaveGiven {
        /// The station.
        station: StationId,
        /// Who may.
        group: GroupId,
    },
    /// A group does an exercise at another station from now on.
    StationSwapped {
        /// The group.
        group: GroupId,
        /// Place of the exercise.
        leg: u8,
        /// Where it was done.
        from: StationId,
        /// Where it is done.
        to: StationId,
        /// The loads there that are not as before, because the gear cannot be set to those.
        loads: Vec<LegLoads>,
    },
    /// Somebody of the public uses a station.
    OtherUseBegan {
        /// The station.
        station: StationId,
        /// Until about then.
        until: FloorMs,
    },
    /// The public's use of a station is over.
    OtherUseEnded {
        /// The station.
        station: StationId,
    },
    /// A station must not be used.
    TakenOutOfService {
        /// The station.
        station: StationId,
        /// What is wrong.
        defect: Defect,
    },
    /// A station may be used again.
    PutBackInService {
        /// The station.
        station: StationId,
    },
    /// How a station is set for a client.
    SettingKept {
        /// The station.
        station: StationId,
        /// The client.
        client: ClientId,
        /// Place of the setting.
        setting: u8,
        /// Place of its value; nothing where it is not known any more.
        value: Option<u8>,
    },
    /// Clients have come or have come back.
    ClientsArrived {
        /// The group.
        group: GroupId,
        /// Who.
        clients: Vec<ClientId>,
    },
    /// That was a mistake.
    ArrivalTakenBack {
        /// The group.
        group: GroupId,
        /// Who.
        clients: Vec<ClientId>,
    },
    /// A client has warmed up.
    ClientWarmedUp {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
    },
    /// The exercises were explained, or are known.
    ClientsBriefed {
        /// The group.
        group: GroupId,
        /// To whom.
        clients: Vec<ClientId>,
        /// They know them: nothing was explained.
        skipped: bool,
    },
    /// What a coach decided about a client's screening.
    ScreeningDecided {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
        /// The decision.
        decision: ScreeningDecision,
    },
    /// A client has left.
    ClientLeft {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
    },
    /// A client who was late goes on with the others: the sets before are missed.
    SetsMissed {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
        /// The round with which the client goes on.
        until: u8,
    },
    /// A client makes up for missed rounds at the end.
    RoundsMadeUp {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
        /// How many in all.
        rounds: u8,
    },
    /// A block has so many working rounds from now on.
    RoundsSet {
        /// The group.
        group: GroupId,
        /// The block.
        block: u8,
        /// The rounds.
        rounds: u8,
    },
    /// The last block of a session is left out.
    BlockDropped {
        /// The group.
        group: GroupId,
        /// The block.
        block: u8,
    },
    /// A session was ended early.
    SessionEnded {
        /// The group.
        group: GroupId,
        /// Why.
        reason: Reason,
    },
    /// Nothing has been heard of a group for long: its coach is warned.
    LapseWarned {
        /// The group.
        group: GroupId,
    },
    /// Somebody says that the group is still there.
    GroupStillHere {
        /// The group.
        group: GroupId,
    },
    /// After the warning nothing was heard either: stations and place in the wait list are given up.
    GroupLapsed {
        /// The group.
        group: GroupId,
    },
    /// A group of whom nobody came counts as not coming.
    GroupNotComing {
        /// The group.
        group: GroupId,
    },
    /// The coach passed a technique set.
    TechniquePassed {
        /// The technique set.
        turn: TurnId,
    },
    /// That was a mistake.
    TechniqueNotPassed {
        /// The set.
        turn: TurnId,
    },
    /// Another light set comes first.
    TechniqueAsked {
        /// The working set before which it is done.
        turn: TurnId,
    },
    /// Load, equal sides and collars were confirmed.
    LoadConfirmed {
        /// For which set.
        turn: TurnId,
        /// On which station.
        station: StationId,
        /// What is on it.
        load: Mass,
        /// The bar and the plates that make it; rows from before plates were kept say nothing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        plates: Option<Loaded>,
    },
    /// That was a mistake.
    LoadUnconfirmed {
        /// The station.
        station: StationId,
        /// What was said to be on it before.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load: Option<Mass>,
        /// And which plates.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        plates: Option<Loaded>,
    },
    /// Somebody has said what is really on a bar.
    PlatesSeen {
        /// The station.
        station: StationId,
        /// The bar and its plates.
        plates: Loaded,
        /// What all of it weighs.
        load: Mass,
    },
    /// Plates are missing at a station, or are back.
    PlatesMissing {
        /// The station.
        station: StationId,
        /// Which kind.
        plate: Plate,
        /// How many are missing in all.
        count: u8,
    },
    /// Somebody is at the bar.
    SpotterNamed {
        /// For which set.
        turn: TurnId,
        /// Who, or what.
        spotter: Spotter,
        /// Only until the bar has been lifted off.
        #[serde(default)]
        lift_off: bool,
    },
    /// Whoever was at the bar has gone.
    SpotterGone {
        /// From which set.
        turn: TurnId,
    },
    /// A client may spot others of the group.
    SpotterPassed {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
        /// In which exercise.
        exercise: ExerciseId,
    },
    /// A coach is away.
    CoachWentAway {
        /// Who.
        coach: CoachId,
        /// Until about then.
        until: FloorMs,
    },
    /// A coach is back.
    CoachCameBack {
        /// Who.
        coach: CoachId,
    },
    /// A group is offered to another coach, or another coach asks for it.
    GroupOffered {
        /// The group.
        group: GroupId,
        /// Who would be responsible.
        to: CoachId,
        /// Who has to agree.
        asks: CoachId,
    },
    /// Nobody has to agree any more.
    OfferWithdrawn {
        /// The group.
        group: GroupId,
    },
    /// Another coach is responsible.
    GroupHandedOver {
        /// The group.
        group: GroupId,
        /// Who was.
        from: CoachId,
        /// Who is.
        to: CoachId,
    },
    /// GO.
    TurnWent {
        /// The set.
        turn: TurnId,
        /// Where.
        station: StationId,
        /// When the 3-2-1 begins.
        count_in: FloorMs,
        /// When the first repetition starts.
        starts: FloorMs,
        /// When it is prescribed to end.
        ends: FloorMs,
        /// Target repetitions.
        reps: u8,
        /// The load.
        load: Option<Load>,
        /// Who spots it.
        spotter: Option<Spotter>,
        /// The spotter is free from the first repetition on.
        #[serde(default)]
        lift_off: bool,
        /// A coach shortened the rest before it, and why.
        #[serde(default)]
        short_rest: Option<Reason>,
    },
    /// A set that had not started was taken back.
    TurnCalledOff {
        /// The set.
        turn: TurnId,
    },
    /// A coach shortened the rest before a set.
    RestShortened {
        /// The set.
        turn: TurnId,
        /// The shortest rest for this once.
        least: Secs,
        /// Why.
        reason: Reason,
    },
    /// The way to a set counts as a rest.
    TreatedAsRest {
        /// The set.
        turn: TurnId,
    },
    /// NOT YET, or more rest.
    StartPutOff {
        /// The set.
        turn: TurnId,
        /// When the client will be told to be ready; zero where the start is not put off any more.
        ready: FloorMs,
    },
    /// A set came to its prescribed end and nobody has said anything.
    TurnAssumed {
        /// The set.
        turn: TurnId,
    },
    /// A set is over and racked.
    TurnDone {
        /// The set.
        turn: TurnId,
        /// When it ended.
        ended: FloorMs,
        /// Repetitions done; nothing where the set was stopped and nobody has said how many there were.
        reps: Option<u8>,
        /// How it felt.
        effort: Option<Effort>,
        /// How it ended.
        #[serde(default = "complete")]
        ending: Ending,
    },
    /// A set that was said to be over is not.
    TurnReopened {
        /// The set.
        turn: TurnId,
    },
    /// Sets were left out.
    TurnsSkipped {
        /// The first of them, which was the client's next.
        turn: TurnId,
        /// How many, this one included.
        count: u8,
        /// Why.
        reason: Reason,
    },
    /// Every later set of an exercise is left out.
    ExerciseSkipped {
        /// The first set left out.
        turn: TurnId,
        /// Why.
        reason: Reason,
    },
    /// A client does another exercise instead.
    ExerciseSwapped {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
        /// Place of the exercise.
        leg: u8,
        /// What is done instead.
        exercise: ExerciseId,
        /// Where, if not where the group does it.
        station: Option<StationId>,
        /// The load of every working round to come.
        load: Option<Load>,
        /// The load of the light set before.
        technique_load: Option<Load>,
    },
    /// What was really done in a set. What was said first is kept.
    SetCorrected {
        /// The set.
        turn: TurnId,
        /// Repetitions; nothing where they are not known any more.
        reps: Option<u8>,
        /// The load.
        load: Option<Load>,
        /// How it felt.
        effort: Option<Effort>,
        /// How it ended.
        ending: Ending,
    },
    /// How a set felt, said later.
    EffortGiven {
        /// The set.
        turn: TurnId,
        /// The answer; nothing where it was a mistake.
        effort: Option<Effort>,
    },
    /// The repetitions of a set, said later.
    RepsCorrected {
        /// The set.
        turn: TurnId,
        /// How many; nothing where they are not known any more.
        reps: Option<u8>,
    },
    /// Another load from a set on, for every later round that was to be the same.
    LoadSet {
        /// The set.
        turn: TurnId,
        /// The load.
        load: Load,
    },
    /// What a coach made of the load proposed for a set: both are kept.
    LoadSettled {
        /// The set.
        turn: TurnId,
        /// What was proposed, and what is set.
        settled: Settled,
    },
    /// A lighter load from a set on.
    LoadLightened {
        /// The set; a technique set lightens technique sets only.
        turn: TurnId,
        /// The load from now on.
        load: Load,
    },
    /// What people are told of coming sets, beside what they have been told before.
    Promised {
        /// New and other promises.
        made: Vec<Promise>,
        /// Sets of which nothing is promised any more.
        taken_back: Vec<TurnId>,
    },
    /// All sets of a block are done.
    SetsFinished {
        /// The group.
        group: GroupId,
        /// Its block.
        block: u8,
    },
    /// A group's stations are free again; it goes on to its next block or is finished.
    StationsFreed {
        /// The group.
        group: GroupId,
        /// Its block.
        block: u8,
        /// What is left on the bars, where somebody said so.
        #[serde(default)]
        bar: Option<BarLeft>,
    },
    /// A group is held; what is under way goes on.
    GroupPaused {
        /// The group.
        group: GroupId,
    },
    /// A group is stopped; what is under way is racked.
    GroupStopped {
        /// The group.
        group: GroupId,
    },
    /// A coach let a group go on.
    GroupResumed {
        /// The group.
        group: GroupId,
    },
    /// One client is stopped; what is under way is racked.
    ClientStopped {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
    },
    /// A coach let one client go on.
    ClientResumed {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
    },
    /// Somebody at a station asked for a coach.
    CallMade {
        /// The call.
        call: CallId,
        /// Where.
        station: StationId,
        /// How urgent.
        urgency: CallKind,
    },
    /// Somebody is on the way to a call.
    CallAnswered {
        /// The call.
        call: CallId,
    },
    /// A call was a mistake.
    CallTakenBack {
        /// The call.
        call: CallId,
    },
    /// A coach took care of a call.
    CallAttended {
        /// The call.
        call: CallId,
    },
    /// Somebody wrote something down. The text is in a table that can be erased.
    NoteKept {
        /// The note.
        note: NoteId,
        /// What it is about.
        about: NoteAbout,
    },
    /// The text of a note was erased, from the table in the same commit.
    NoteErased {
        /// The note.
        note: NoteId,
    },
}
/// How a set ended before anybody said how: it was done.
const fn complete() -> Ending {
    Ending::Complete
}
