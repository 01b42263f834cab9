//! What can be wrong with the gear of a station.

use turnabout_protocol::units::Stamped;

use crate::loading::gear::MOST_LOADS;

/// What is wrong with what sets the load. Its text says what was found and what is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum GearProblem {
    /// One bar and a choice of bars.
    #[error("found bar and bars, allowed one of them")]
    BarAndBars,
    /// A sleeve or a rating of a bar whose weights are fixed.
    #[error("found this of a fixed bar, allowed of a bar that takes plates")]
    OnFixed,
    /// Plates where every bar is fixed.
    #[error("found plates, allowed none: every bar here is fixed")]
    PlatesOnFixed,
    /// A bar that may not even carry itself.
    #[error("found {rated}, allowed {empty} or more: the bar with its collars weighs that")]
    RatedBelowBar {
        /// What it is rated for.
        rated: Stamped,
        /// The bar with its collars.
        empty: Stamped,
    },
    /// A plate that no bar has room for.
    #[error("found {thickness_mm} mm, allowed at most {longest} mm: the longest sleeve here")]
    ThickerThanSleeve {
        /// The plate, in millimetres.
        thickness_mm: u16,
        /// The sleeve, in millimetres.
        longest: u16,
    },
    /// Plates of which one is left over: a hint, since somebody may have miscounted.
    #[error("found {count}, an odd number: one of them is never used, since both sides carry the same")]
    OddPlates {
        /// How many there are.
        count: u8,
    },
    /// An exercise at stations where more of a load is harder and at others where it is easier.
    #[error("found stations where the stack helps and others where it does not, allowed one of the two")]
    MixedDirections,
    /// Plates of a station's own beside those of a tree.
    #[error("found a tree beside plates, allowed one of them")]
    TreeAndPlates,
    /// Dumbbells of a station's own beside those of a rack.
    #[error("found a rack beside dumbbells, allowed one of them")]
    RackAndDumbbells,
    /// A tree or rack from which no station takes anything.
    #[error("found this, and no station that takes anything from it, allowed one that stations name")]
    SharedByNobody,
    /// A pull from the floor of something else than a bar.
    #[error("found true, allowed false: only a bar is pulled from the floor")]
    FromTheFloorWithoutBar,
    /// Equal steps and a list of labels.
    #[error("found this beside labels, allowed either first, step and last, or labels")]
    StepsAndLabels,
    /// Equal steps and a list of pairs.
    #[error("found this beside pairs, allowed either first, step, last and count, or pairs")]
    StepsAndPairs,
    /// A label that is lighter than the one before.
    #[error("found {label}, allowed more than {before}: labels stand in ascending order")]
    LabelsOrder {
        /// The label.
        label: Stamped,
        /// The one before.
        before: Stamped,
    },
    /// What weighs something beside labels of which nobody knows what they weigh.
    #[error(
        "found this beside numbers, allowed numbers by themselves or with assists: nobody knows what such a label weighs"
    )]
    BesideNumbers,
    /// A label that is a mere number in a list of masses.
    #[error("found {label}, allowed a mass with its unit such as \"40 kg\" or \"90 lb\"")]
    LabelWithoutUnit {
        /// The number.
        label: i64,
    },
    /// Add-ons that make more loads than are looked at.
    #[error("found add-ons that make {MOST_LOADS} loads or more, allowed fewer")]
    TooManyAddOns,
}

impl GearProblem {
    /// What may help, where something is likely to.
    pub(super) const fn hint(self) -> Option<&'static str> {
        match self {
            Self::BarAndBars => Some("write the usual bar first among bars"),
            Self::RatedBelowBar { .. } => Some("the rating is for the bar itself, its collars and plates"),
            Self::ThickerThanSleeve { .. } => {
                Some("sleeve is the room for plates on one side, thickness that of one plate")
            }
            Self::MixedDirections => Some("name the stations of each, and make two exercises of them"),
            Self::TreeAndPlates => Some("write plates that are kept elsewhere among those of the tree"),
            Self::RackAndDumbbells => Some("write pairs that are kept elsewhere among those of the rack"),
            Self::SharedByNobody => Some("write its key at the stations that share it, or take it away"),
            Self::TooManyAddOns => Some("name only the small weights that are kept at this station"),
            Self::BesideNumbers => {
                Some("take it away, or write the masses of the labels in place of numbers")
            }
            Self::LabelWithoutUnit { .. } => {
                Some("where the labels are mere numbers write how many there are, such as numbers = 20")
            }
            Self::OnFixed
            | Self::FromTheFloorWithoutBar
            | Self::OddPlates { .. }
            | Self::PlatesOnFixed
            | Self::StepsAndLabels
            | Self::StepsAndPairs
            | Self::LabelsOrder { .. } => None,
        }
    }
}
