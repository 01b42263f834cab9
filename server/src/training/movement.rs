//! What the body does in an exercise, and what undoes it.

use serde::{Deserialize, Serialize};

use super::exercise::SpotRule;

/// The movement of an exercise: the family in which another may stand in for it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Movement {
    /// Pressing away from the chest.
    HorizontalPress,
    /// Pulling to the trunk from in front.
    HorizontalPull,
    /// Pressing overhead.
    VerticalPress,
    /// Pulling down, or the body up, from overhead.
    VerticalPull,
    /// Bringing nearly straight arms together in front of the chest.
    Fly,
    /// Spreading nearly straight arms from there.
    ReverseFly,
    /// Raising the arms at the sides.
    ShoulderAbduction,
    /// Pulling raised arms down to the sides.
    ShoulderAdduction,
    /// Raising straight arms in front.
    ShoulderFlexion,
    /// Pulling raised arms down in front.
    ShoulderExtension,
    /// Bending the elbows.
    ElbowFlexion,
    /// Straightening the elbows.
    ElbowExtension,
    /// Straightening knees and hips together, on both legs.
    Squat,
    /// Drawing both knees up, hips and knees bending together.
    KneeTuck,
    /// Straightening knee and hip together, mostly on one leg.
    Lunge,
    /// Driving one knee up.
    KneeDrive,
    /// Straightening the hips with the knees nearly still.
    Hinge,
    /// Bending the hips with the knees nearly still.
    HipFlexion,
    /// Straightening the knees.
    KneeExtension,
    /// Bending the knees.
    KneeFlexion,
    /// Spreading the legs.
    HipAbduction,
    /// Closing the legs.
    HipAdduction,
    /// Curling the trunk forward.
    TrunkFlexion,
    /// Straightening the trunk backward.
    TrunkExtension,
    /// Rising onto the toes.
    PlantarFlexion,
    /// Drawing the toes up.
    Dorsiflexion,
    /// Pulling a load from the floor to standing. Its way back is the same lift: it has no opposite.
    FloorPull,
    /// A lift too fast to be led back, such as a clean. It has no opposite.
    Explosive,
    /// None of these. Nothing can stand in for it.
    #[default]
    Other,
}

impl Movement {
    /// The movement that does the reverse with the muscles of the other side, if there is one.
    #[must_use]
    pub const fn opposite(self) -> Option<Self> {
        Some(match self {
            Self::HorizontalPress => Self::HorizontalPull,
            Self::HorizontalPull => Self::HorizontalPress,
            Self::VerticalPress => Self::VerticalPull,
            Self::VerticalPull => Self::VerticalPress,
            Self::Fly => Self::ReverseFly,
            Self::ReverseFly => Self::Fly,
            Self::ShoulderAbduction => Self::ShoulderAdduction,
            Self::ShoulderAdduction => Self::ShoulderAbduction,
            Self::ShoulderFlexion => Self::ShoulderExtension,
            Self::ShoulderExtension => Self::ShoulderFlexion,
            Self::ElbowFlexion => Self::ElbowExtension,
            Self::ElbowExtension => Self::ElbowFlexion,
            Self::Squat => Self::KneeTuck,
            Self::KneeTuck => Self::Squat,
            Self::Lunge => Self::KneeDrive,
            Self::KneeDrive => Self::Lunge,
            Self::Hinge => Self::HipFlexion,
            Self::HipFlexion => Self::Hinge,
            Self::KneeExtension => Self::KneeFlexion,
            Self::KneeFlexion => Self::KneeExtension,
            Self::HipAbduction => Self::HipAdduction,
            Self::HipAdduction => Self::HipAbduction,
            Self::TrunkFlexion => Self::TrunkExtension,
            Self::TrunkExtension => Self::TrunkFlexion,
            Self::PlantarFlexion => Self::Dorsiflexion,
            Self::Dorsiflexion => Self::PlantarFlexion,
            Self::FloorPull | Self::Explosive | Self::Other => return None,
        })
    }

    /// Whether an exercise with this movement can have this spot rule. Explosive lifts and pulls from the
    /// floor are never spotted: nobody stands where the bar may come down, the lifter lets go and steps back
    /// (NSCA Essentials of Strength Training and Conditioning, ch. 15, from memory).
    #[must_use]
    pub const fn may_be(self, spot: SpotRule) -> bool {
        match spot {
            SpotRule::None => true,
            SpotRule::OverFace => matches!(
                self,
                Self::HorizontalPress
                    | Self::VerticalPress
                    | Self::Fly
                    | Self::ShoulderExtension
                    | Self::ElbowExtension
                    | Self::Other
            ),
            SpotRule::OnShoulders => {
                matches!(self, Self::Squat | Self::Lunge | Self::Hinge | Self::PlantarFlexion | Self::Other)
            }
        }
    }
}
