//! What can be pressed, by name.

use serde::{Deserialize, Serialize};

/// What a finger or a script can press.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tap {
    /// GO.
    Go,
    /// Done, and it was too light.
    DoneLight,
    /// Done, and it was right.
    DoneRight,
    /// Done, and it was too heavy.
    DoneHeavy,
    /// Of two sets that are asked about beside each other the second was too light.
    SecondLight,
    /// The second was right.
    SecondRight,
    /// The second was too heavy.
    SecondHeavy,
    /// One step lighter.
    Lighter,
    /// Thirty seconds more.
    NotYet,
    /// A coach when there is a moment.
    CoachPlease,
    /// Help.
    HelpNow,
    /// Load and collars are right.
    ConfirmLoad,
    /// Wiped down, and a bar is stripped.
    Free,
    /// Wiped down, and the plates stay on as agreed.
    FreeAsItIs,
    /// The group is still there.
    StillHere,
    /// Somebody of the public is on the station.
    OtherUse,
    /// Nobody of the public is any more.
    EndOtherUse,
    /// The safety arms are set.
    UseArms,
    /// A partner spots: the first who can.
    SpotBy,
    /// The second who can.
    SpotBySecond,
    /// The third, and a group has no more than that beside the lifter.
    SpotByThird,
    /// The last tap is taken back.
    Undo,
}

impl Tap {
    /// Every tap.
    pub const ALL: [Self; 22] = [
        Self::Go,
        Self::DoneLight,
        Self::DoneRight,
        Self::DoneHeavy,
        Self::SecondLight,
        Self::SecondRight,
        Self::SecondHeavy,
        Self::Lighter,
        Self::NotYet,
        Self::CoachPlease,
        Self::HelpNow,
        Self::ConfirmLoad,
        Self::Free,
        Self::FreeAsItIs,
        Self::StillHere,
        Self::OtherUse,
        Self::EndOtherUse,
        Self::UseArms,
        Self::SpotBy,
        Self::SpotBySecond,
        Self::SpotByThird,
        Self::Undo,
    ];

    /// Of partners, in the order of the view.
    pub(super) const PARTNERS: [Self; 3] = [Self::SpotBy, Self::SpotBySecond, Self::SpotByThird];

    /// Its name, the same as in a script.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Go => "go",
            Self::DoneLight => "done_light",
            Self::DoneRight => "done_right",
            Self::DoneHeavy => "done_heavy",
            Self::SecondLight => "second_light",
            Self::SecondRight => "second_right",
            Self::SecondHeavy => "second_heavy",
            Self::Lighter => "lighter",
            Self::NotYet => "not_yet",
            Self::CoachPlease => "coach_please",
            Self::HelpNow => "help_now",
            Self::ConfirmLoad => "confirm_load",
            Self::Free => "free",
            Self::FreeAsItIs => "free_as_it_is",
            Self::StillHere => "still_here",
            Self::OtherUse => "other_use",
            Self::EndOtherUse => "end_other_use",
            Self::UseArms => "use_arms",
            Self::SpotBy => "spot_by",
            Self::SpotBySecond => "spot_by_second",
            Self::SpotByThird => "spot_by_third",
            Self::Undo => "undo",
        }
    }

    /// The tap of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|tap| tap.name() == name)
    }
}
