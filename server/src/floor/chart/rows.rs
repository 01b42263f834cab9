//! The rows of the two charts.

use turnabout_protocol::view::{Stage, StationState};

use super::Step;

/// Ways of a group.
pub const GROUP: [Step<Stage>; 30] = [
    Step { from: Stage::Expected, to: Stage::Gone, by: &["client_left", "screening_decided"] },
    Step { from: Stage::Expected, to: Stage::WarmUp, by: &["clients_arrived"] },
    Step { from: Stage::Expected, to: Stage::Finished, by: &["session_ended"] },
    Step { from: Stage::Gone, to: Stage::WarmUp, by: &["clients_arrived"] },
    Step { from: Stage::Gone, to: Stage::Waiting, by: &["clients_arrived"] },
    Step { from: Stage::Gone, to: Stage::Finished, by: &["session_ended"] },
    Step { from: Stage::WarmUp, to: Stage::Gone, by: &["client_left", "group_lapsed"] },
    Step { from: Stage::WarmUp, to: Stage::Briefing, by: &["client_warmed_up"] },
    Step { from: Stage::WarmUp, to: Stage::Waiting, by: &["client_left", "clients_briefed"] },
    Step { from: Stage::WarmUp, to: Stage::Technique, by: &["stations_taken"] },
    Step { from: Stage::WarmUp, to: Stage::Finished, by: &["session_ended"] },
    Step { from: Stage::Briefing, to: Stage::Waiting, by: &["clients_briefed"] },
    Step { from: Stage::Briefing, to: Stage::Technique, by: &["stations_taken"] },
    Step { from: Stage::Waiting, to: Stage::Gone, by: &["client_left", "group_lapsed", "screening_decided"] },
    Step { from: Stage::Waiting, to: Stage::WarmUp, by: &["clients_arrived"] },
    Step { from: Stage::Waiting, to: Stage::Technique, by: &["stations_taken"] },
    Step { from: Stage::Waiting, to: Stage::Rounds, by: &["stations_taken"] },
    Step { from: Stage::Waiting, to: Stage::Finished, by: &["session_ended"] },
    Step { from: Stage::Technique, to: Stage::Gone, by: &["group_lapsed"] },
    Step {
        from: Stage::Technique,
        to: Stage::Rounds,
        by: &["client_left", "exercise_skipped", "screening_decided", "turn_done", "turns_skipped"],
    },
    Step { from: Stage::Technique, to: Stage::Finished, by: &["session_ended"] },
    Step { from: Stage::Rounds, to: Stage::Gone, by: &["group_lapsed"] },
    Step { from: Stage::Rounds, to: Stage::Technique, by: &["clients_arrived"] },
    Step { from: Stage::Rounds, to: Stage::WipeDown, by: &["sets_finished"] },
    Step { from: Stage::Rounds, to: Stage::Finished, by: &["session_ended"] },
    Step { from: Stage::WipeDown, to: Stage::Gone, by: &["stations_freed"] },
    Step { from: Stage::WipeDown, to: Stage::Waiting, by: &["stations_freed"] },
    Step { from: Stage::WipeDown, to: Stage::Technique, by: &["clients_arrived", "stations_freed"] },
    Step {
        from: Stage::WipeDown,
        to: Stage::Rounds,
        by: &["clients_arrived", "rounds_set", "stations_freed"],
    },
    Step { from: Stage::WipeDown, to: Stage::Finished, by: &["session_ended", "stations_freed"] },
];

/// Ways of a station.
pub const STATION: [Step<StationState>; 22] = [
    Step {
        from: StationState::Free,
        to: StationState::Reserved,
        by: &["exercise_swapped", "station_swapped", "stations_taken"],
    },
    Step { from: StationState::Free, to: StationState::OtherUse, by: &["other_use_began"] },
    Step { from: StationState::Free, to: StationState::OutOfService, by: &["taken_out_of_service"] },
    Step {
        from: StationState::Reserved,
        to: StationState::Free,
        by: &["block_dropped", "group_lapsed", "session_ended", "station_swapped", "stations_given_back"],
    },
    Step { from: StationState::Reserved, to: StationState::InUse, by: &["turn_went"] },
    Step { from: StationState::Reserved, to: StationState::WipeDown, by: &["sets_finished"] },
    Step { from: StationState::Reserved, to: StationState::OtherUse, by: &["other_use_began"] },
    Step { from: StationState::Reserved, to: StationState::OutOfService, by: &["taken_out_of_service"] },
    Step { from: StationState::InUse, to: StationState::Reserved, by: &["turn_called_off", "turn_done"] },
    Step { from: StationState::InUse, to: StationState::WipeDown, by: &["turn_done"] },
    Step { from: StationState::InUse, to: StationState::OutOfService, by: &["taken_out_of_service"] },
    Step { from: StationState::WipeDown, to: StationState::Free, by: &["session_ended", "stations_freed"] },
    Step {
        from: StationState::WipeDown,
        to: StationState::Reserved,
        by: &["clients_arrived", "rounds_set", "session_ended", "stations_freed"],
    },
    Step { from: StationState::WipeDown, to: StationState::InUse, by: &["turn_went"] },
    Step { from: StationState::WipeDown, to: StationState::OtherUse, by: &["other_use_began"] },
    Step { from: StationState::WipeDown, to: StationState::OutOfService, by: &["taken_out_of_service"] },
    Step { from: StationState::OtherUse, to: StationState::Free, by: &["other_use_ended"] },
    Step { from: StationState::OtherUse, to: StationState::Reserved, by: &["other_use_ended"] },
    Step { from: StationState::OtherUse, to: StationState::WipeDown, by: &["other_use_ended"] },
    Step { from: StationState::OtherUse, to: StationState::OutOfService, by: &["taken_out_of_service"] },
    Step { from: StationState::OutOfService, to: StationState::Free, by: &["put_back_in_service"] },
    Step { from: StationState::OutOfService, to: StationState::Reserved, by: &["put_back_in_service"] },
];
