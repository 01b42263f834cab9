//! The words of exercises as files write them.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::view::{Breathing, StartsWith};

use crate::training::about::Implement;
use crate::training::exercise::SpotRule;
use crate::training::movement::Movement;
use crate::training::muscle::Muscle;

/// Words of files, each with what it means.
pub(super) type Dictionary<T> = &'static [(&'static str, T)];

/// What sets the load.
pub(super) const GEAR: Dictionary<GearKind> = &[
    ("bar", GearKind::Bar),
    ("stack", GearKind::Stack),
    ("dumbbells", GearKind::Dumbbells),
    ("belt", GearKind::Belt),
    ("plain", GearKind::Plain),
];

/// What is held or sat on.
pub(super) const IMPLEMENT: Dictionary<Implement> = &[
    ("barbell", Implement::Barbell),
    ("cable", Implement::Cable),
    ("dumbbells", Implement::Dumbbells),
    ("machine", Implement::Machine),
    ("body-mass", Implement::BodyMass),
];

/// The first phase of a repetition. Two words for the effort: nobody pulls a press.
pub(super) const STARTS_WITH: Dictionary<StartsWith> = &[
    ("lowering", StartsWith::Eccentric),
    ("pulling", StartsWith::Concentric),
    ("lifting", StartsWith::Concentric),
];

/// Who must stand by, and why.
pub(super) const SPOT: Dictionary<SpotRule> =
    &[("none", SpotRule::None), ("over-face", SpotRule::OverFace), ("on-shoulders", SpotRule::OnShoulders)];

/// How to breathe.
pub(super) const BREATHING: Dictionary<Breathing> =
    &[("out-with-effort", Breathing::OutWithEffort), ("even", Breathing::Even)];

/// What the body does.
pub(super) const MOVEMENT: Dictionary<Movement> = &[
    ("horizontal-press", Movement::HorizontalPress),
    ("horizontal-pull", Movement::HorizontalPull),
    ("vertical-press", Movement::VerticalPress),
    ("vertical-pull", Movement::VerticalPull),
    ("fly", Movement::Fly),
    ("reverse-fly", Movement::ReverseFly),
    ("shoulder-abduction", Movement::ShoulderAbduction),
    ("shoulder-adduction", Movement::ShoulderAdduction),
    ("shoulder-flexion", Movement::ShoulderFlexion),
    ("shoulder-extension", Movement::ShoulderExtension),
    ("elbow-flexion", Movement::ElbowFlexion),
    ("elbow-extension", Movement::ElbowExtension),
    ("squat", Movement::Squat),
    ("knee-tuck", Movement::KneeTuck),
    ("lunge", Movement::Lunge),
    ("knee-drive", Movement::KneeDrive),
    ("hinge", Movement::Hinge),
    ("hip-flexion", Movement::HipFlexion),
    ("knee-extension", Movement::KneeExtension),
    ("knee-flexion", Movement::KneeFlexion),
    ("hip-abduction", Movement::HipAbduction),
    ("hip-adduction", Movement::HipAdduction),
    ("trunk-flexion", Movement::TrunkFlexion),
    ("trunk-extension", Movement::TrunkExtension),
    ("plantar-flexion", Movement::PlantarFlexion),
    ("dorsiflexion", Movement::Dorsiflexion),
    ("floor-pull", Movement::FloorPull),
    ("explosive", Movement::Explosive),
    ("other", Movement::Other),
];

/// Muscles by their anatomical names.
pub(super) const MUSCLE: Dictionary<Muscle> = &[
    ("pectoralis-major", Muscle::PectoralisMajor),
    ("serratus-anterior", Muscle::SerratusAnterior),
    ("anterior-deltoid", Muscle::AnteriorDeltoid),
    ("middle-deltoid", Muscle::MiddleDeltoid),
    ("posterior-deltoid", Muscle::PosteriorDeltoid),
    ("rotator-cuff", Muscle::RotatorCuff),
    ("latissimus-dorsi", Muscle::LatissimusDorsi),
    ("teres-major", Muscle::TeresMajor),
    ("upper-trapezius", Muscle::UpperTrapezius),
    ("middle-trapezius", Muscle::MiddleTrapezius),
    ("lower-trapezius", Muscle::LowerTrapezius),
    ("rhomboids", Muscle::Rhomboids),
    ("biceps-brachii", Muscle::BicepsBrachii),
    ("brachialis", Muscle::Brachialis),
    ("brachioradialis", Muscle::Brachioradialis),
    ("triceps-brachii", Muscle::TricepsBrachii),
    ("forearm-flexors", Muscle::ForearmFlexors),
    ("forearm-extensors", Muscle::ForearmExtensors),
    ("rectus-abdominis", Muscle::RectusAbdominis),
    ("obliques", Muscle::Obliques),
    ("transversus-abdominis", Muscle::TransversusAbdominis),
    ("erector-spinae", Muscle::ErectorSpinae),
    ("iliopsoas", Muscle::Iliopsoas),
    ("tensor-fasciae-latae", Muscle::TensorFasciaeLatae),
    ("gluteus-maximus", Muscle::GluteusMaximus),
    ("gluteus-medius", Muscle::GluteusMedius),
    ("adductors", Muscle::Adductors),
    ("rectus-femoris", Muscle::RectusFemoris),
    ("vasti", Muscle::Vasti),
    ("hamstrings", Muscle::Hamstrings),
    ("gastrocnemius", Muscle::Gastrocnemius),
    ("soleus", Muscle::Soleus),
    ("tibialis-anterior", Muscle::TibialisAnterior),
];

/// The word for a meaning.
pub(super) fn word<T: Copy + PartialEq>(words: Dictionary<T>, meaning: T) -> &'static str {
    words.iter().find(|(_, means)| *means == meaning).map_or("", |(word, _)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A word of a file is the word of the journal, but for its hyphens; so none is missing or crossed.
    fn said_as_kept<T: Copy + serde::Serialize>(words: Dictionary<T>) {
        for (word, meaning) in words {
            assert_eq!(serde_json::to_value(meaning).unwrap(), serde_json::json!(word.replace('-', "_")));
        }
    }

    #[test]
    fn files_and_journal_use_the_same_words() {
        said_as_kept(GEAR);
        said_as_kept(IMPLEMENT);
        said_as_kept(SPOT);
        said_as_kept(BREATHING);
        said_as_kept(MOVEMENT);
        said_as_kept(MUSCLE);
    }

    #[test]
    fn every_muscle_can_be_written() {
        let written: Vec<Muscle> = MUSCLE.iter().map(|(_, muscle)| *muscle).collect();
        assert_eq!(written, Muscle::ALL);
    }
}
