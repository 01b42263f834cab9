//! The table of what people may tap: families of taps, each with what proposes them.

use turnabout_protocol::command::{Act, Defect, Reason};
use turnabout_server::floor::state::State;

use crate::asks::{
    Ask, ask, at_station, calls, come, confirm, done, each_client, each_group, each_halted, each_waiting,
    first_coach, free, go, lighter, not_yet, pass, pause, public, said, spot, spot_by, stand_in_line,
    still_here, stop, take_now, withdraw, wrong,
};
use crate::floor::BENCHES;
use crate::replanning::{ahead, away, hand_over, leave, lift_off, skip, swap};

/// Taps of one kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Family {
    Come,
    Take,
    Confirm,
    Go,
    Pass,
    Done,
    Free,
    Resume,
    Spot,
    SpotBy,
    Ask,
    Withdraw,
    Despite,
    StillHere,
    Breaks,
    Mended,
    Public,
    Pause,
    Stop,
    NotYet,
    Lighter,
    Calls,
    Said,
    Wrong,
    Leave,
    Ahead,
    Swap,
    Skip,
    HandOver,
    Away,
    LiftOff,
}

impl Family {
    /// What an evening cannot do for ever without coming to its end. Coaches may change places at a bar all
    /// evening long, so that is not among it.
    pub(crate) const ON: [Self; 9] = [
        Self::Come,
        Self::Take,
        Self::Confirm,
        Self::Go,
        Self::Pass,
        Self::Done,
        Self::Free,
        Self::Resume,
        Self::Mended,
    ];

    /// What brings an evening on where everybody is there and nobody is held back.
    pub(crate) const WORK: [Self; 7] =
        [Self::Take, Self::Confirm, Self::Go, Self::Pass, Self::Done, Self::Free, Self::Spot];

    /// The same with a wait list.
    pub(crate) const LINE: [Self; 9] = [
        Self::Ask,
        Self::Withdraw,
        Self::Take,
        Self::Despite,
        Self::Confirm,
        Self::Go,
        Self::Pass,
        Self::Done,
        Self::Free,
    ];

    /// What changes the plan while it is carried out.
    pub(crate) const REPLANNING: [Self; 7] =
        [Self::Leave, Self::Ahead, Self::Swap, Self::Skip, Self::HandOver, Self::Away, Self::LiftOff];

    /// Everything else.
    pub(crate) const ALL: [Self; 24] = [
        Self::Come,
        Self::Take,
        Self::Confirm,
        Self::Go,
        Self::Pass,
        Self::Done,
        Self::Free,
        Self::Resume,
        Self::Spot,
        Self::SpotBy,
        Self::Ask,
        Self::Withdraw,
        Self::Despite,
        Self::StillHere,
        Self::Breaks,
        Self::Mended,
        Self::Public,
        Self::Pause,
        Self::Stop,
        Self::NotYet,
        Self::Lighter,
        Self::Calls,
        Self::Said,
        Self::Wrong,
    ];

    /// The taps of this kind that somebody may try now.
    fn propose(self, state: &State, asks: &mut Vec<Ask>) {
        let station = BENCHES[0];
        match self {
            Self::Come => each_group(state, asks, come),
            Self::Take => each_waiting(state, asks, |hand, asks| take_now(hand, None, asks)),
            Self::Confirm => each_client(state, asks, |c, asks| at_station(c, c.next, asks, confirm)),
            Self::Go => each_client(state, asks, go),
            Self::Pass => each_client(state, asks, pass),
            Self::Done => each_client(state, asks, |c, asks| at_station(c, c.current, asks, done)),
            Self::Free => each_group(state, asks, free),
            Self::Resume => each_halted(state, asks),
            Self::Spot => each_client(state, asks, spot),
            Self::SpotBy => each_client(state, asks, spot_by),
            Self::Ask => each_waiting(state, asks, stand_in_line),
            Self::Withdraw => each_group(state, asks, withdraw),
            Self::Despite => each_waiting(state, asks, |hand, asks| {
                take_now(hand, Some(Reason::CoachDecides), asks);
            }),
            Self::StillHere => each_group(state, asks, still_here),
            Self::Breaks => ask(asks, first_coach(), Act::OutOfService { station, defect: Defect::Bench }),
            Self::Mended => ask(asks, first_coach(), Act::BackInService { station }),
            Self::Public => public(asks),
            Self::Pause => each_group(state, asks, pause),
            Self::Stop => stop(state, asks),
            Self::NotYet => each_client(state, asks, not_yet),
            Self::Lighter => each_client(state, asks, lighter),
            Self::Calls => calls(state, asks),
            Self::Said => each_client(state, asks, said),
            Self::Wrong => wrong(state, asks),
            Self::Leave => leave(state, asks),
            Self::Ahead => each_group(state, asks, ahead),
            Self::Swap => each_group(state, asks, swap),
            Self::Skip => each_client(state, asks, skip),
            Self::HandOver => each_group(state, asks, hand_over),
            Self::Away => away(state, asks),
            Self::LiftOff => each_client(state, asks, lift_off),
        }
    }
}

/// Every tap of these kinds that somebody may try now.
pub(crate) fn asks(families: &[Family], state: &State) -> Vec<Ask> {
    let mut asks = Vec::new();
    for family in families {
        family.propose(state, &mut asks);
    }
    asks
}
