//! Every tap there is, each complete with its target.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::card::PlatePart;
use crate::ids::{CallId, ClientId, CoachId, CommandId, ExerciseId, GroupId, NoteId, StationId, TurnId};
use crate::load::Load;
use crate::next::{CoachSaid, Proposal};
use crate::said::{
    BarLeft, CallKind, Defect, Effort, Ending, NoteAbout, Reason, Scope, ScreeningDecision, SkipScope,
};

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "do", rename_all = "snake_case", deny_unknown_fields)]
pub enum Act {
    /// Reserve the stations of a whole block: all of them or none.
    TakeStations {
        /// The group.
        group: GroupId,
        /// Place of the block in the session, from 0.
        block: u8,
        /// One station for each exercise, in the block's order.
        stations: Vec<StationId>,
        /// The group's revision that the display showed.
        revision: u32,
        /// Why the group goes before others who wait; only where the wait list says otherwise.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        despite: Option<Reason>,
    },
    /// Join the wait list for the stations of a block: the floor gives them out in order.
    AskStations {
        /// The group.
        group: GroupId,
        /// Place of the block in the session: the one in hand, or the next.
        block: u8,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// Leave the wait list.
    WithdrawAsk {
        /// The group.
        group: GroupId,
    },
    /// Let another group work in on a station that one's group has reserved.
    GiveLeave {
        /// The station.
        station: StationId,
        /// Who may work in.
        group: GroupId,
    },
    /// Do an exercise of the block in hand at another station from now on.
    SwapStation {
        /// The group.
        group: GroupId,
        /// Place of the exercise in the block, from 0.
        leg: u8,
        /// The other station.
        to: StationId,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// Somebody of the public uses a station, for about so long.
    OtherUse {
        /// The station.
        station: StationId,
        /// About so many minutes, 1 to 120.
        minutes: u8,
    },
    /// The public's use of a station is over.
    EndOtherUse {
        /// The station.
        station: StationId,
    },
    /// A station must not be used.
    OutOfService {
        /// The station.
        station: StationId,
        /// What is wrong with it.
        defect: Defect,
    },
    /// A station may be used again.
    BackInService {
        /// The station.
        station: StationId,
    },
    /// How a station is set for a client; kept and shown the next time.
    SetSetting {
        /// The station.
        station: StationId,
        /// The client.
        client: ClientId,
        /// Place of the setting in the station's list, from 0.
        setting: u8,
        /// Place of the value in the setting's list, from 0.
        value: u8,
    },
    /// Clients have come, or have come back.
    Arrive {
        /// The group.
        group: GroupId,
        /// Who, 1 to 4.
        clients: Vec<ClientId>,
    },
    /// A client has warmed up.
    WarmedUp {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
    },
    /// The exercises were explained, or need not be.
    Brief {
        /// The group.
        group: GroupId,
        /// To whom, 1 to 4.
        clients: Vec<ClientId>,
        /// They know them: nothing was explained.
        #[serde(default)]
        skipped: bool,
    },
    /// What the coach decides where a client's screening is missing, old, or asks for a follow-up.
    Screen {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
        /// The decision.
        decision: ScreeningDecision,
    },
    /// A client leaves; the group goes on.
    Leave {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
    },
    /// A client makes up for rounds that were missed.
    MakeUp {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
        /// How many rounds more.
        rounds: u8,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// Fewer rounds of a block, or as many as planned again.
    SetRounds {
        /// The group.
        group: GroupId,
        /// Place of the block in the session, from 0.
        block: u8,
        /// How many working rounds it has from now on.
        rounds: u8,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// Leave out the last block of a session, not yet begun.
    DropBlock {
        /// The group.
        group: GroupId,
        /// Place of that block in the session, from 0.
        block: u8,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// End a group's session now: nobody has a set under way.
    EndSession {
        /// The group.
        group: GroupId,
        /// Why.
        reason: Reason,
    },
    /// The group is still there: its stations are not given away.
    StillHere {
        /// The group.
        group: GroupId,
    },
    /// The coach has seen the technique set and lets the client work.
    PassTechnique {
        /// The technique set, round 0.
        turn: TurnId,
    },
    /// The load is as on the card, the same on both sides, collars on.
    ConfirmLoad {
        /// The set for which it was loaded.
        turn: TurnId,
    },
    /// Whoever speaks is at the bar and spots this set: until it is racked.
    Spot {
        /// The set.
        turn: TurnId,
        /// Only until the bar has been lifted off, for this one set.
        #[serde(default)]
        lift_off: bool,
    },
    /// A client of the same group is at the bar and spots this set.
    SpotBy {
        /// The set.
        turn: TurnId,
        /// Who spots.
        client: ClientId,
    },
    /// The safety arms are set for this set, and stand in for a spotter where the floor accepts that.
    UseArms {
        /// The set.
        turn: TurnId,
    },
    /// The coach lets a client spot others of the group in an exercise.
    PassSpotter {
        /// The group.
        group: GroupId,
        /// Who may spot.
        client: ClientId,
        /// In which exercise.
        exercise: ExerciseId,
    },
    /// A coach is away for so long.
    Away {
        /// The coach.
        coach: CoachId,
        /// So many minutes, 1 to 120.
        minutes: u8,
    },
    /// A coach is back.
    Back {
        /// The coach.
        coach: CoachId,
    },
    /// Offer groups to another coach, or ask for another's.
    HandOver {
        /// The groups, at least one.
        groups: Vec<GroupId>,
        /// Who is responsible for them now.
        from: CoachId,
        /// Who would be.
        to: CoachId,
    },
    /// Agree to a hand-over.
    AcceptGroup {
        /// The group.
        group: GroupId,
        /// Who was responsible until now.
        from: CoachId,
    },
    /// Do not agree to a hand-over, or take it back.
    DeclineGroup {
        /// The group.
        group: GroupId,
    },
    /// Get set: the count-in begins.
    Go {
        /// The set.
        turn: TurnId,
    },
    /// So much more rest before a set.
    MoreRest {
        /// The set.
        turn: TurnId,
        /// So many seconds more, 5 to 600.
        secs: u16,
    },
    /// The coach shortens a rest, for this once and with a reason that is kept.
    LessRest {
        /// The set after the rest.
        turn: TurnId,
        /// The shortest rest for this once, in seconds.
        secs: u16,
        /// Why.
        reason: Reason,
    },
    /// The way over took too long: what follows is a rest.
    TreatAsRest {
        /// The set after it.
        turn: TurnId,
    },
    /// Thirty seconds more. Never refused while the client is to go.
    NotYet {
        /// The set that is to wait.
        turn: TurnId,
    },
    /// The set is over and the weight is racked.
    Done {
        /// The set.
        turn: TurnId,
        /// Repetitions really done, where they differ from the target or are known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reps: Option<u8>,
        /// How it felt: the effort answer is the done tap.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        effort: Option<Effort>,
        /// How it ended, where that is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        ending: Option<Ending>,
    },
    /// Leave out a set, the rest of a round, or an exercise.
    Skip {
        /// The set that comes next for the client.
        turn: TurnId,
        /// How much.
        skip: SkipScope,
        /// Why.
        reason: Reason,
    },
    /// A client does another exercise of the same movement instead, from now on in this block.
    SwapExercise {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
        /// Place of the exercise in the block, from 0.
        leg: u8,
        /// The other exercise.
        exercise: ExerciseId,
        /// Where; absent: where the group does this exercise anyway.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        station: Option<StationId>,
        /// The working load; absent where there is none to set.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load: Option<Load>,
        /// It is meant: whoever types a load far above the last one there is asked once.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        sure: bool,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// Another light set first, seen by the coach.
    TechniqueAgain {
        /// The working set before which it is done.
        turn: TurnId,
    },
    /// What was really done in a set of this evening, as it is known now. What was said first is kept.
    Correct {
        /// The set.
        turn: TurnId,
        /// Repetitions.
        reps: u8,
        /// The load.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load: Option<Load>,
        /// How it felt.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        effort: Option<Effort>,
        /// How it ended.
        ending: Ending,
    },
    /// How a set felt, after it was said to be done.
    Effort {
        /// The set.
        turn: TurnId,
        /// The answer.
        effort: Effort,
    },
    /// The repetitions of a set, after it was said to be done.
    Reps {
        /// The set.
        turn: TurnId,
        /// How many.
        reps: u8,
    },
    /// One step lighter, from this set on. Always the client's right.
    Lighter {
        /// The set, not yet begun.
        turn: TurnId,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// Another load from this set on: this set's, and that of every later round that was to be the same.
    SetLoad {
        /// The set, not yet begun.
        turn: TurnId,
        /// The load.
        load: Load,
        /// It is meant: whoever types a load far above the last one there is asked once.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        sure: bool,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// What the coach makes of the load proposed for a coming set. Said again otherwise, the last counts.
    SettleLoad {
        /// The set, not yet begun.
        turn: TurnId,
        /// What was proposed, as the display showed it.
        proposed: Proposal,
        /// What the coach makes of it.
        said: CoachSaid,
    },
    /// What is really on a bar, where it is not as shown.
    PlatesOn {
        /// The station.
        station: StationId,
        /// The plates of each side from the inside out; both sides alike.
        side: Vec<PlatePart>,
        /// Which bar: its place in the station's choice, from 0, the usual one.
        #[serde(default, skip_serializing_if = "crate::view::is_zero")]
        bar: u8,
    },
    /// Plates of a station are not there: lost, broken, or carried off.
    PlatesMissing {
        /// The station.
        station: StationId,
        /// Which kind.
        plate: PlatePart,
        /// How many of that kind are missing in all; 0 when all of them are back.
        count: u8,
    },
    /// Hold a group: no set starts until it is resumed. Rest goes on.
    Pause {
        /// The group.
        group: GroupId,
    },
    /// Stop: rack what is under way, start nothing.
    Stop {
        /// One group or everybody.
        scope: Scope,
    },
    /// Let a paused or stopped group go on, or one client of it. Always one group at a time.
    Resume {
        /// The group.
        group: GroupId,
        /// Only this client, who was stopped alone.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        client: Option<ClientId>,
    },
    /// Ask for a coach at a station.
    Call {
        /// The station.
        station: StationId,
        /// How urgent.
        call: CallKind,
    },
    /// Somebody is on the way to a call.
    Answer {
        /// The call.
        call: CallId,
    },
    /// A call has been taken care of.
    Attend {
        /// The call.
        call: CallId,
    },
    /// Wiped down: the group's stations are free again.
    FreeStations {
        /// The group.
        group: GroupId,
        /// Place of the block in the session, from 0.
        block: u8,
        /// What is left on the bars, where somebody says so.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bar: Option<BarLeft>,
    },
    /// Write something down. The text can be erased later, that there was a note cannot.
    Note {
        /// What it is about.
        note: NoteAbout,
        /// The text, 1 to 500 characters.
        text: String,
    },
    /// Erase the text of a note. That there was one, and who erased it, stays.
    EraseNote {
        /// The note.
        note: NoteId,
    },
    /// Take back a tap of this display, at most ten seconds old.
    Undo {
        /// That tap.
        command: CommandId,
    },
}
