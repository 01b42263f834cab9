//! Mistakes planted in the core, each of which the checker must find.

use crate::floor::Scenario;
use crate::scenarios;

/// A mistake somebody could make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// Of two stations wanted, the one that is free is taken and the other waited for.
    OneByOne,
    /// A coach who spots is taken for free.
    DoubleSpot,
    /// A client who spots may lift.
    LiftsWhileSpotting,
    /// A client who lifts is taken for a spotter.
    SpotsWhileLifting,
    /// A station on which somebody is busy is taken for free.
    DoubleStation,
    /// A station that is out of service is used.
    BrokenStation,
    /// GO is not held back by the rest.
    ShortRest,
    /// GO does not ask whether the load was confirmed.
    AnyLoad,
    /// Who has stations after somebody else keeps that one's confirmation.
    OldConfirmation,
    /// The floor says GO itself when everything is ready.
    FloorSaysGo,
    /// A set that is only assumed to be over frees its station.
    AssumedFrees,
    /// Whoever asks for stations does not look at the line.
    Overtakes,
    /// When the first in line cannot be served, the next who can is.
    SkipsTheFirst,
    /// Nobody in line is ever served.
    NobodyServed,
    /// Stations are free a millisecond before the time for wiping down is over.
    FreeEarly,
    /// Stations are free only after the millisecond at which they should be.
    FreeLate,
    /// A silent group is given up a millisecond before its time.
    LapseEarly,
    /// A silent group is given up only after the millisecond at which it should be.
    LapseLate,
    /// The same claim again is a new claim.
    ClaimedAgain,
    /// A group that is stopped stays stopped.
    NoResume,
    /// Whoever works in does not wait until the other group has racked.
    WorksInMeanwhile,
    /// Two groups work in at once.
    WorkInTwice,
    /// Nobody is asked for leave to work in.
    NoLeave,
    /// Whoever works in does not look at the line.
    WorksInFirst,
    /// Stations that a group got ahead are not free when it is given up.
    KeepsAhead,
    /// A group goes over to a station that another has.
    SwapsToTaken,
    /// Whoever changes stations does not look at the line.
    SwapsFirst,
    /// Whoever asks for stations ahead does not look at the line.
    AheadFirst,
    /// A set that is left out occupies its station.
    SkippedOccupies,
    /// Whoever leaves out the first exercise of a round need not rest.
    SkipsRest,
    /// A group changes hands in the middle of a spotted set.
    HandedOverMidSet,
    /// A group changes hands when it is offered.
    HandedOverUnasked,
    /// A coach goes away from a bar.
    AwayFromBar,
    /// A coach who is away is taken for a spotter.
    SpotsWhileAway,
    /// A coach who is to lift off one bar is free for another at once.
    LiftOffTwice,
    /// Nobody asks what is left in reserve.
    LiftOffAnyway,
    /// Whoever waits gets a station that is broken.
    AdmitsToBroken,
    /// The public's use of a station never ends.
    OtherUseForgotten,
    /// A tap is taken back that something rests on.
    UndoesAnyway,
    /// A tap is said to be taken back, and is not.
    UndoesNothing,
}

impl Fault {
    pub(crate) const ALL: [Self; 40] = [
        Self::OneByOne,
        Self::DoubleSpot,
        Self::LiftsWhileSpotting,
        Self::SpotsWhileLifting,
        Self::DoubleStation,
        Self::BrokenStation,
        Self::ShortRest,
        Self::AnyLoad,
        Self::OldConfirmation,
        Self::FloorSaysGo,
        Self::AssumedFrees,
        Self::Overtakes,
        Self::SkipsTheFirst,
        Self::NobodyServed,
        Self::FreeEarly,
        Self::FreeLate,
        Self::LapseEarly,
        Self::LapseLate,
        Self::ClaimedAgain,
        Self::NoResume,
        Self::WorksInMeanwhile,
        Self::WorkInTwice,
        Self::NoLeave,
        Self::WorksInFirst,
        Self::KeepsAhead,
        Self::SwapsToTaken,
        Self::SwapsFirst,
        Self::AheadFirst,
        Self::SkippedOccupies,
        Self::SkipsRest,
        Self::HandedOverMidSet,
        Self::HandedOverUnasked,
        Self::AwayFromBar,
        Self::SpotsWhileAway,
        Self::LiftOffTwice,
        Self::LiftOffAnyway,
        Self::AdmitsToBroken,
        Self::OtherUseForgotten,
        Self::UndoesAnyway,
        Self::UndoesNothing,
    ];

    /// The property that this must break, and an evening in which it can be made.
    pub(crate) fn breaks(self) -> (&'static str, Scenario) {
        match self {
            Self::OneByOne => ("all stations or none", scenarios::two_groups()),
            Self::DoubleSpot => ("one bar a spotter", scenarios::two_groups()),
            Self::LiftsWhileSpotting | Self::SpotsWhileLifting => {
                ("one bar a spotter", scenarios::spotting_each_other())
            }
            Self::DoubleStation => ("one set a station", scenarios::pair_alone()),
            Self::BrokenStation => ("one set a station", scenarios::out_of_use()),
            Self::ShortRest => ("rest is kept", scenarios::pair_alone()),
            Self::AnyLoad => ("loads are confirmed", scenarios::two_groups()),
            Self::OldConfirmation => ("loads are confirmed", scenarios::same_load()),
            Self::FloorSaysGo => ("no countdown starts a set", scenarios::two_groups()),
            Self::AssumedFrees => ("what is assumed frees nothing", scenarios::two_groups()),
            Self::Overtakes | Self::SkipsTheFirst => ("nobody is overtaken", scenarios::different_wishes()),
            Self::NobodyServed => ("nobody waits in vain", scenarios::in_line()),
            Self::FreeEarly | Self::FreeLate => ("what is due happens on time", scenarios::same_load()),
            Self::LapseEarly | Self::LapseLate => ("what is due happens on time", scenarios::silent()),
            Self::ClaimedAgain => ("once is once", scenarios::two_groups()),
            Self::NoResume => ("never stuck", scenarios::held_back()),
            Self::WorksInMeanwhile => ("one set a station", scenarios::working_in()),
            Self::WorkInTwice => ("all stations or none", scenarios::working_in_and_line()),
            Self::NoLeave => ("all stations or none", scenarios::leave_given()),
            Self::WorksInFirst => ("nobody is overtaken", scenarios::working_in_and_line()),
            Self::KeepsAhead => ("all stations or none", scenarios::silent_ahead()),
            Self::SwapsToTaken => ("all stations or none", scenarios::swapping()),
            Self::SwapsFirst => ("nobody is overtaken", scenarios::swapping_and_line()),
            Self::AheadFirst => ("nobody is overtaken", scenarios::two_blocks()),
            Self::SkippedOccupies => ("one set a station", scenarios::skipping()),
            Self::SkipsRest => ("rest is kept", scenarios::skipping()),
            Self::HandedOverMidSet | Self::HandedOverUnasked => {
                ("groups change hands by agreement", scenarios::changing_hands())
            }
            Self::AwayFromBar | Self::SpotsWhileAway => ("whoever spots stays", scenarios::coaches_away()),
            Self::LiftOffTwice | Self::LiftOffAnyway => ("one bar a spotter", scenarios::lift_off()),
            Self::AdmitsToBroken => ("all stations or none", scenarios::waited_for()),
            Self::OtherUseForgotten => ("what is due happens on time", scenarios::waited_for()),
            Self::UndoesAnyway => ("what the core itself demands", scenarios::slips()),
            Self::UndoesNothing => ("what is taken back has never been", scenarios::slips()),
        }
    }
}
