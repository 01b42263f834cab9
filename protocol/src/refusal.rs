//! What the floor answers to a command: closed enums with arguments, so that every display can say it in its
//! own language.
//!
//! Arguments hold ids and instants, never names: a display puts in the names it may know
//! (see [`crate::text`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::{CallId, ClientId, CoachId, GroupId, StationId, TurnId};
use crate::load::Load;
use crate::role::Actor;
use crate::said::Defect;
use crate::units::{FloorMs, Mass};

/// The floor's answer to one command.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "outcome", rename_all = "snake_case", deny_unknown_fields)]
pub enum Outcome {
    /// It happened and is on disk.
    Accepted {
        /// When the floor took it down.
        recorded: FloorMs,
    },
    /// Somebody had done the same before: nothing more happened, and that is no error.
    Already {
        /// Who.
        by: Actor,
        /// When.
        when: FloorMs,
    },
    /// Nothing happened.
    Refused {
        /// Why, and so what would make it acceptable.
        refusal: Refusal,
    },
}

/// Why a command had no effect.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case", deny_unknown_fields)]
pub enum Refusal {
    /// This role may not do that.
    RoleMayNot,
    /// The target belongs to stations or groups that this display does not serve.
    NotHere,
    /// No such station on this floor.
    UnknownStation,
    /// No such group.
    UnknownGroup,
    /// No such set in the group's block.
    UnknownTurn,
    /// No such call.
    UnknownCall,
    /// No such note this evening.
    UnknownNote,
    /// The display showed an older state of the group.
    StaleRevision {
        /// The group's revision now.
        revision: u32,
    },
    /// The group is not waiting for stations.
    NotWaiting,
    /// Not one station for each exercise.
    StationCount {
        /// How many exercises the block has.
        wanted: u8,
    },
    /// The exercise cannot be done at that station.
    StationUnfit {
        /// The station.
        station: StationId,
    },
    /// Another group has reserved it.
    StationTaken {
        /// The station.
        station: StationId,
        /// Who has it.
        group: GroupId,
    },
    /// The group has reserved no stations.
    NotReserved,
    /// Another set of the same client comes first.
    NotNext {
        /// The one that comes first.
        turn: TurnId,
    },
    /// The set is over.
    Over,
    /// The set is under way.
    UnderWay,
    /// The set has not begun.
    NotBegun,
    /// Somebody is on the station.
    StationBusy {
        /// The station.
        station: StationId,
        /// Whose set.
        turn: TurnId,
    },
    /// The rest is shorter than its minimum until then.
    RestNotOver {
        /// When the set may start.
        until: FloorMs,
    },
    /// The technique set of this exercise has not been done.
    TechniqueNotDone,
    /// The coach has not passed the technique set.
    TechniqueNotPassed,
    /// The set is not a technique set.
    NoTechniqueSet,
    /// Load, equal sides and collars have not been confirmed since the last change.
    LoadNotConfirmed,
    /// Nothing on this station needs confirming.
    NothingToConfirm,
    /// The station's choice has no such bar.
    NoSuchBar {
        /// How many bars it has.
        count: u8,
    },
    /// Every pair of this load is out at another station of the rack.
    PairOut {
        /// What is stamped on one of the pair.
        load: Mass,
        /// Where a pair is.
        station: StationId,
    },
    /// The set needs a spotter at the bar.
    NeedsSpotter,
    /// The set is not spotted.
    NotSpotted,
    /// The coach is spotting another bar until it is racked.
    SpotterBusy {
        /// The set that is being spotted.
        turn: TurnId,
    },
    /// The same client's set before was only assumed to be over: its bar must be said to be racked.
    NotRacked {
        /// That set.
        turn: TurnId,
    },
    /// There is no lighter load on this gear.
    AtLightest {
        /// The lightest.
        load: Load,
    },
    /// The exercise has no load to lighten.
    NoLoad,
    /// The group is paused.
    Paused,
    /// The group is stopped; a coach resumes it.
    Stopped,
    /// The group is neither paused nor stopped.
    NotHalted,
    /// Sets are still to be done on these stations.
    SetsLeft,
    /// So many repetitions cannot be.
    RepsRange {
        /// The most that can be said.
        most: u8,
    },
    /// So many repetitions in reserve cannot be.
    EffortRange {
        /// The most that can be said.
        most: u8,
    },
    /// No such client in the group.
    UnknownClient,
    /// No such coach on this floor.
    UnknownCoach,
    /// No such exercise on this floor.
    UnknownExercise,
    /// No such setting at the station, or no such value of it.
    UnknownSetting,
    /// Nobody of the group has come.
    NobodyHere,
    /// The client has not come, or has left.
    ClientAbsent {
        /// Who.
        client: ClientId,
    },
    /// The client trains with another group until that one ends or the client leaves it.
    ClientElsewhere {
        /// Who.
        client: ClientId,
        /// With which.
        group: GroupId,
    },
    /// The exercises must be explained to the client first, or that be skipped.
    NotBriefed,
    /// A coach must decide first whether the client trains today.
    AskCoach,
    /// The floor asks for a screening that is in order; no coach may decide otherwise.
    ScreeningRequired,
    /// The client's screening is in order.
    ScreeningInOrder,
    /// Others wait for these stations and would have to wait longer.
    InLine {
        /// The first of them.
        first: GroupId,
    },
    /// The group does not wait for stations.
    NotInLine,
    /// The stations of the next block can be asked for once the last round has begun.
    TooEarlyToAsk,
    /// The station may be shared if its holder agrees.
    LeaveNeeded {
        /// The station.
        station: StationId,
        /// Whose leave it takes.
        group: GroupId,
    },
    /// The station is not shared.
    NotShared {
        /// The station.
        station: StationId,
    },
    /// Somebody of the public is on the station.
    InOtherUse {
        /// The station.
        station: StationId,
        /// Until about then.
        until: FloorMs,
    },
    /// Somebody needs help at the station: nothing begins there until somebody has taken care of it.
    HelpNeeded {
        /// The station.
        station: StationId,
        /// The call.
        call: CallId,
    },
    /// Nobody of the public is on the station.
    NoOtherUse,
    /// The station must not be used.
    NotInService {
        /// The station.
        station: StationId,
        /// What is wrong with it.
        defect: Defect,
    },
    /// Nothing is wrong with the station.
    InService,
    /// All handles of the kind that the exercise takes are in use.
    NoHandle {
        /// How many the floor has.
        count: u8,
    },
    /// So many stations of the kind are kept for members at this hour.
    KeptForMembers {
        /// How many.
        keep: u8,
    },
    /// The groups of one coach may hold no more stations.
    StationsACoach {
        /// The most.
        most: u16,
    },
    /// One coach may have no more clients on the floor.
    ClientsACoach {
        /// The most.
        most: u16,
    },
    /// The floor is closed.
    Closed,
    /// So many minutes cannot be.
    MinutesRange {
        /// The most.
        most: u8,
    },
    /// So many seconds cannot be.
    SecsRange {
        /// The least.
        least: u16,
        /// The most.
        most: u16,
    },
    /// So many rounds cannot be.
    RoundsRange {
        /// The least.
        least: u8,
        /// The most.
        most: u8,
    },
    /// The text is empty or too long.
    TextLength {
        /// The most characters.
        most: u16,
    },
    /// The coach is away until about then, or says that the coach is back.
    CoachAway {
        /// Who.
        coach: CoachId,
        /// Until about then.
        until: FloorMs,
    },
    /// The coach is not away.
    NotAway,
    /// The coach's shift is over.
    OffShift {
        /// Who.
        coach: CoachId,
    },
    /// The coach has gone to a call for help.
    OnCall {
        /// The call.
        call: CallId,
    },
    /// The client lifts and cannot spot.
    SpotterLifts {
        /// Who.
        client: ClientId,
    },
    /// The client spots another bar until it is racked.
    ClientSpots {
        /// The set that is being spotted.
        turn: TurnId,
    },
    /// A coach must first pass the client as spotter for this exercise.
    SpotterNotPassed {
        /// Who.
        client: ClientId,
    },
    /// The station has no safety arms, or the floor does not accept them in place of a spotter.
    ArmsNotAccepted,
    /// Lift-off alone is for sets that leave at least so many repetitions in reserve.
    LiftOffNeedsReserve {
        /// The least, as prescribed.
        least: u8,
    },
    /// Another coach is responsible for the group.
    CoachedBy {
        /// Who.
        coach: CoachId,
    },
    /// Nobody has offered the group or asked for it.
    NotOffered,
    /// The other coach has to agree.
    NotYoursToAgree {
        /// Who has to.
        coach: CoachId,
    },
    /// A spotted set of the group is under way: wait until it is racked.
    SpottedSetUnderWay {
        /// That set.
        turn: TurnId,
    },
    /// A set of the group is under way.
    SetUnderWay {
        /// That set.
        turn: TurnId,
    },
    /// The exercise does not train the same movement.
    OtherMovement,
    /// Such a load cannot be put on there.
    LoadUnfit {
        /// The nearest below that can, where there is one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        below: Option<Load>,
        /// The nearest above that can, where there is one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        above: Option<Load>,
    },
    /// That stack's labels are mere numbers: it is set by a pin.
    TakesPin {
        /// The highest it has; the lowest is 1.
        most: u16,
    },
    /// That station is set by a mass: a pin of numbered labels says nothing there.
    TakesMass,
    /// The load is far above the last one of this client there: say once more that it is meant.
    FarAboveLast {
        /// That last load.
        last: Load,
    },
    /// No load is proposed for that set.
    NothingProposed,
    /// Another load is proposed by now: look again.
    ProposalChanged,
    /// So many steps cannot be gone: the gear ends, or more is another load, and typed.
    StepsRange {
        /// The most.
        most: u8,
    },
    /// The station has no plates, or not so many of that kind.
    NoSuchPlates {
        /// How many plates of that kind there are.
        there: u8,
    },
    /// No plates of that kind are missing there.
    NoPlatesMissing,
    /// The client has missed fewer rounds than that.
    RoundsOwed {
        /// How many are owed.
        most: u8,
    },
    /// Only the last block of a session can be left out, and only before it has begun.
    BlockBegun,
    /// The set was left out.
    WasSkipped,
    /// The client does not come from another exercise just now, or has no rest to change.
    NoRest,
    /// That tap was not made here, or is too long ago to take back.
    NothingToUndo,
    /// A tap of this kind is not taken back: say the opposite instead.
    NoUndo,
    /// Something later rests on that tap.
    LaterRestsOnIt,
    /// The tap is older than twelve hours.
    TooOld,
    /// The tap's time lies in the future.
    InFuture,
    /// The same command id came before with other content.
    ReusedId,
    /// Too much at once: try again in a moment.
    Busy,
    /// The server cannot write at the moment; it resumes by itself.
    NotSaving {
        /// What is wrong with writing.
        writing: WriteTrouble,
    },
    /// A fault of the server; nothing happened.
    Internal,
}

/// What keeps the server from writing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WriteTrouble {
    /// The disk is full.
    DiskFull,
    /// The disk answers with errors.
    DiskFault,
}
