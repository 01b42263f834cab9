//! Muscles, and the part they play in an exercise.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use turnabout_protocol::text::Language;

/// A muscle, or a group of muscles that does one thing, as far apart as exercises tell them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Muscle {
    /// Pectoralis major.
    PectoralisMajor,
    /// Serratus anterior.
    SerratusAnterior,
    /// The front part of the deltoid.
    AnteriorDeltoid,
    /// The middle part of the deltoid.
    MiddleDeltoid,
    /// The rear part of the deltoid.
    PosteriorDeltoid,
    /// Supraspinatus, infraspinatus, teres minor and subscapularis.
    RotatorCuff,
    /// Latissimus dorsi.
    LatissimusDorsi,
    /// Teres major.
    TeresMajor,
    /// The upper part of the trapezius.
    UpperTrapezius,
    /// The middle part of the trapezius.
    MiddleTrapezius,
    /// The lower part of the trapezius.
    LowerTrapezius,
    /// Rhomboideus major and minor.
    Rhomboids,
    /// Biceps brachii.
    BicepsBrachii,
    /// Brachialis.
    Brachialis,
    /// Brachioradialis.
    Brachioradialis,
    /// Triceps brachii.
    TricepsBrachii,
    /// The flexors of wrist and fingers: the grip.
    ForearmFlexors,
    /// The extensors of the wrist.
    ForearmExtensors,
    /// Rectus abdominis.
    RectusAbdominis,
    /// The external and internal obliques.
    Obliques,
    /// Transversus abdominis.
    TransversusAbdominis,
    /// Erector spinae.
    ErectorSpinae,
    /// Iliacus and psoas.
    Iliopsoas,
    /// Tensor fasciae latae.
    TensorFasciaeLatae,
    /// Gluteus maximus.
    GluteusMaximus,
    /// Gluteus medius and minimus.
    GluteusMedius,
    /// The adductors of the thigh.
    Adductors,
    /// Rectus femoris: the part of the quadriceps that bends the hip as well.
    RectusFemoris,
    /// The three vasti: the part of the quadriceps that only straightens the knee.
    Vasti,
    /// Biceps femoris, semitendinosus and semimembranosus.
    Hamstrings,
    /// Gastrocnemius.
    Gastrocnemius,
    /// Soleus.
    Soleus,
    /// Tibialis anterior.
    TibialisAnterior,
}

impl Muscle {
    /// Every muscle there is a word for.
    pub const ALL: [Self; 33] = [
        Self::PectoralisMajor,
        Self::SerratusAnterior,
        Self::AnteriorDeltoid,
        Self::MiddleDeltoid,
        Self::PosteriorDeltoid,
        Self::RotatorCuff,
        Self::LatissimusDorsi,
        Self::TeresMajor,
        Self::UpperTrapezius,
        Self::MiddleTrapezius,
        Self::LowerTrapezius,
        Self::Rhomboids,
        Self::BicepsBrachii,
        Self::Brachialis,
        Self::Brachioradialis,
        Self::TricepsBrachii,
        Self::ForearmFlexors,
        Self::ForearmExtensors,
        Self::RectusAbdominis,
        Self::Obliques,
        Self::TransversusAbdominis,
        Self::ErectorSpinae,
        Self::Iliopsoas,
        Self::TensorFasciaeLatae,
        Self::GluteusMaximus,
        Self::GluteusMedius,
        Self::Adductors,
        Self::RectusFemoris,
        Self::Vasti,
        Self::Hamstrings,
        Self::Gastrocnemius,
        Self::Soleus,
        Self::TibialisAnterior,
    ];

    /// Its anatomical name.
    #[must_use]
    pub const fn anatomical(self) -> &'static str {
        self.row().0
    }

    /// What to call it to somebody who is training.
    #[must_use]
    pub const fn name(self, language: Language) -> &'static str {
        match language {
            Language::En => self.row().1,
            Language::De => self.row().2,
        }
    }

    /// Its anatomical name, and its name in English and in German.
    const fn row(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::PectoralisMajor => ("pectoralis major", "chest", "großer Brustmuskel"),
            Self::SerratusAnterior => ("serratus anterior", "side of the ribs", "vorderer Sägemuskel"),
            Self::AnteriorDeltoid => ("anterior deltoid", "front of the shoulder", "vorderer Schultermuskel"),
            Self::MiddleDeltoid => ("middle deltoid", "side of the shoulder", "seitlicher Schultermuskel"),
            Self::PosteriorDeltoid => {
                ("posterior deltoid", "rear of the shoulder", "hinterer Schultermuskel")
            }
            Self::RotatorCuff => ("rotator cuff", "deep shoulder muscles", "Rotatorenmanschette"),
            Self::LatissimusDorsi => ("latissimus dorsi", "broad back muscle", "breiter Rückenmuskel"),
            Self::TeresMajor => ("teres major", "below the shoulder blade", "großer Rundmuskel"),
            Self::UpperTrapezius => ("upper trapezius", "top of the shoulders", "oberer Trapezmuskel"),
            Self::MiddleTrapezius => {
                ("middle trapezius", "between the shoulder blades", "mittlerer Trapezmuskel")
            }
            Self::LowerTrapezius => {
                ("lower trapezius", "inside the shoulder blades, lower half", "unterer Trapezmuskel")
            }
            Self::Rhomboids => ("rhomboids", "deep between the shoulder blades", "Rautenmuskeln"),
            Self::BicepsBrachii => ("biceps brachii", "front of the upper arm", "Bizeps"),
            Self::Brachialis => ("brachialis", "deep front of the upper arm", "Armbeuger"),
            Self::Brachioradialis => {
                ("brachioradialis", "thumb side of the forearm", "Oberarmspeichenmuskel")
            }
            Self::TricepsBrachii => ("triceps brachii", "back of the upper arm", "Trizeps"),
            Self::ForearmFlexors => ("forearm flexors", "grip", "Unterarmbeuger"),
            Self::ForearmExtensors => ("forearm extensors", "back of the forearm", "Unterarmstrecker"),
            Self::RectusAbdominis => ("rectus abdominis", "front of the belly", "gerader Bauchmuskel"),
            Self::Obliques => ("obliques", "sides of the belly", "schräge Bauchmuskeln"),
            Self::TransversusAbdominis => {
                ("transversus abdominis", "deep belly muscle", "querer Bauchmuskel")
            }
            Self::ErectorSpinae => ("erector spinae", "along the spine", "Rückenstrecker"),
            Self::Iliopsoas => ("iliopsoas", "hip flexor", "Lenden-Darmbein-Muskel"),
            Self::TensorFasciaeLatae => {
                ("tensor fasciae latae", "front of the outer hip", "Schenkelbindenspanner")
            }
            Self::GluteusMaximus => ("gluteus maximus", "buttocks", "großer Gesäßmuskel"),
            Self::GluteusMedius => {
                ("gluteus medius and minimus", "side of the hip", "mittlerer und kleiner Gesäßmuskel")
            }
            Self::Adductors => ("adductors", "inner thigh", "Adduktoren"),
            Self::RectusFemoris => ("rectus femoris", "front of the thigh", "gerader Schenkelmuskel"),
            Self::Vasti => ("vasti", "knee extensors of the thigh", "Schenkelstrecker"),
            Self::Hamstrings => ("hamstrings", "back of the thigh", "hintere Oberschenkelmuskeln"),
            Self::Gastrocnemius => ("gastrocnemius", "calf", "Zwillingswadenmuskel"),
            Self::Soleus => ("soleus", "deep calf", "Schollenmuskel"),
            Self::TibialisAnterior => ("tibialis anterior", "front of the shin", "vorderer Schienbeinmuskel"),
        }
    }
}

/// Which muscles do what in an exercise. No muscle plays two parts in one exercise.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Muscles {
    /// Those that do most of the effort.
    pub prime_movers: BTreeSet<Muscle>,
    /// Those that would do the reverse.
    pub antagonists: BTreeSet<Muscle>,
    /// Those that help.
    pub synergists: BTreeSet<Muscle>,
    /// Those that hold still what must not move.
    pub stabilisers: BTreeSet<Muscle>,
}
