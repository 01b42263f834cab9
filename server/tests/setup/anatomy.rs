//! The muscles of the catalogue, beside what others say of the same exercises: papers by their abstracts, books
//! from memory.

use turnabout_protocol::ids::Key;
use turnabout_server::setup::catalogue;
use turnabout_server::training::muscle::Muscle::{self, *};
use turnabout_server::training::muscle::Muscles;

fn muscles(key: &str) -> &'static Muscles {
    &catalogue().get(&key.parse().expect("a key")).unwrap_or_else(|| panic!("no {key}")).about.muscles
}

/// Prime movers that a source names for an exercise.
const PRIME_MOVERS: &[(&str, &[Muscle])] = &[
    // Review of electromyography at the bench press, PMC5295722: pectoralis major and triceps brachii are the
    // most active, then the anterior deltoid.
    ("bench-press", &[PectoralisMajor, TricepsBrachii, AnteriorDeltoid]),
    // Int J Environ Res Public Health 2020, 17(19):7339: the same three at every inclination of the bench.
    ("incline-bench-press", &[PectoralisMajor, TricepsBrachii, AnteriorDeltoid]),
    // J Hum Kinet 87/2023:23-34: bench press and seated chest press with similar activity of the same three.
    ("machine-chest-press", &[PectoralisMajor, TricepsBrachii, AnteriorDeltoid]),
    // Lehman et al. 2004, Dyn Med 3:4: latissimus dorsi in pulldown and row, middle trapezius and rhomboids
    // most in the row.
    ("pulldown", &[LatissimusDorsi]),
    ("cable-row", &[LatissimusDorsi, MiddleTrapezius, Rhomboids]),
    // Krause Neto et al. 2019, J Sports Sci Med 18:198-206: gluteus maximus first, of the thigh the hamstrings
    // before the quadriceps.
    ("hip-thrust", &[GluteusMaximus, Hamstrings]),
    // Contreras et al. 2015, J Appl Biomech 31:452-458: vastus lateralis above all in the back squat,
    // then the gluteus maximus.
    ("back-squat", &[Vasti, GluteusMaximus]),
    // NSCA Essentials of Strength Training and Conditioning, ch. 15, from memory.
    ("machine-row", &[LatissimusDorsi, MiddleTrapezius, Rhomboids, PosteriorDeltoid]),
    ("overhead-press", &[AnteriorDeltoid, MiddleDeltoid, TricepsBrachii]),
    ("barbell-curl", &[BicepsBrachii, Brachialis]),
    ("triceps-pushdown", &[TricepsBrachii]),
    ("lying-triceps-extension", &[TricepsBrachii]),
    ("leg-extension", &[RectusFemoris, Vasti]),
    ("leg-curl", &[Hamstrings]),
    ("deadlift", &[GluteusMaximus, Hamstrings, Vasti]),
    // Gray's Anatomy, actions of single muscles, from memory.
    ("lateral-raise", &[MiddleDeltoid]),
    ("straight-arm-pulldown", &[LatissimusDorsi, TeresMajor]),
    ("hanging-knee-raise", &[Iliopsoas]),
    ("hip-abduction", &[GluteusMedius, TensorFasciaeLatae]),
    ("hip-adduction", &[Adductors]),
    ("crunch", &[RectusAbdominis]),
    ("back-extension", &[ErectorSpinae]),
];

#[test]
fn prime_movers_are_those_that_sources_name() {
    for (key, expected) in PRIME_MOVERS {
        let named = &muscles(key).prime_movers;
        assert!(expected.iter().all(|muscle| named.contains(muscle)), "{key}: {named:?}, not {expected:?}");
    }
}

/// Muscles that undo each other at a joint that they both move, each from Gray's Anatomy, from memory.
const PAIRS: &[(Muscle, Muscle)] = &[
    (BicepsBrachii, TricepsBrachii),
    (Brachialis, TricepsBrachii),
    (Hamstrings, Vasti),
    (AnteriorDeltoid, PosteriorDeltoid),
    (SerratusAnterior, Rhomboids),
    (Iliopsoas, GluteusMaximus),
    (GluteusMedius, Adductors),
    (RectusAbdominis, ErectorSpinae),
    (Soleus, TibialisAnterior),
    (Gastrocnemius, TibialisAnterior),
];

#[test]
fn of_two_that_undo_each_other_only_one_moves_the_load() {
    for entry in catalogue().entries() {
        let movers = &entry.about.muscles.prime_movers;
        // Knee and hip straighten together in pulls from the floor: hamstrings and vasti both drive, each at
        // its own joint (Lombard's paradox, from memory).
        let both = ["deadlift", "power-clean"].contains(&entry.key.as_str());
        for (one, other) in PAIRS.iter().filter(|pair| !(both && **pair == (Hamstrings, Vasti))) {
            assert!(!(movers.contains(one) && movers.contains(other)), "{}: {one:?} {other:?}", entry.key);
        }
    }
}

#[test]
fn the_pair_of_the_literature_is_a_pair_here() {
    // Bench press with seated row is the agonist-antagonist pair of Paz et al. 2017 (J Strength Cond Res
    // 31(10):2777-2784) and of Miranda et al. (Apunts, raco.cat article 298534), which measured posterior
    // deltoid and biceps brachii against pectoralis major and triceps brachii.
    let press = catalogue().get(&"bench-press".parse().unwrap()).unwrap();
    assert_eq!(press.about.opposing.as_ref().map(Key::as_str), Some("cable-row"));
    let row = muscles("cable-row");
    assert!(row.antagonists.is_superset(&[PectoralisMajor, TricepsBrachii].into()));
    assert!(press.about.muscles.antagonists.is_superset(&[PosteriorDeltoid, BicepsBrachii].into()));
}
