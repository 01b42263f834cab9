//! Muscles, and the part they play in an exercise.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

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
