//! Whatever the server says and however floor time goes: no instant sounds twice, none too late, and never two close together.

use std::collections::BTreeSet;

use proptest::prelude::*;
use turnabout_kiosk::sound::LATE;
use turnabout_protocol::view::StationPart;

use crate::scenes::*;
use crate::*;

/// A station in one of the phases that sound, at a whole second.
fn part(at_row: bool) -> impl Strategy<Value = StationPart> {
    let of = move |phase| if at_row { row_1(phase) } else { bench_1(phase) };
    prop_oneof![
        (-5_i64..40).prop_map(move |starts| of(under_way(starts))),
        (-5_i64..40).prop_map(move |ready| of(coming(rest(ready), ready, ready, &[]))),
    ]
}

/// What happens between two looks.
#[derive(Clone, Debug)]
enum Then {
    /// Time goes by.
    Goes(i64),
    /// Time jumps.
    Jumps(i64),
    /// The server says something else.
    Says(Box<[StationPart; 2]>),
}

fn then() -> impl Strategy<Value = Then> {
    prop_oneof![
        8 => (1_i64..400).prop_map(Then::Goes),
        1 => (-30_000_i64..5_000).prop_map(Then::Jumps),
        1 => (part(false), part(true)).prop_map(|(bench, row)| Then::Says(Box::new([bench, row]))),
    ]
}

proptest! {
    // A look makes a whole face.
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_instant_sounds_twice(
        first in (part(false), part(true)),
        thens in prop::collection::vec(then(), 1..150),
    ) {
        let mut listener = Listener::at(vec![first.0, first.1]);
        let mut sounded = BTreeSet::new();
        let mut now = 0;
        let mut last = None;
        for then in thens {
            match then {
                Then::Goes(ms) | Then::Jumps(ms) => now += ms,
                Then::Says(parts) => listener.told(parts.to_vec()),
            }
            let Some(cue) = listener.look(now).cue else { continue };
            // All instants there are lie on whole seconds.
            let instant = now.div_euclid(1_000) * 1_000;
            prop_assert!(now - instant <= LATE.0, "{cue:?} at {now}");
            prop_assert!(sounded.insert(instant), "{cue:?} again at {instant}");
            prop_assert!(last.is_none_or(|last| instant > last), "{cue:?} goes back to {instant}");
            last = Some(instant);
        }
    }

    #[test]
    fn stops_sound_once_each_whatever_else_is_said(
        first in (part(false), part(true)),
        thens in prop::collection::vec((then(), any::<bool>()), 1..100),
    ) {
        let (mut bench, mut row) = first;
        let mut listener = Listener::at(vec![bench.clone(), row.clone()]);
        listener.look(0);
        let (mut now, mut since, mut stops) = (0, None, 0);
        for (then, turns) in thens {
            match then {
                // A stop is of a later instant than the one before.
                Then::Goes(ms) => now += ms,
                Then::Jumps(_) => {}
                Then::Says(parts) => [bench, row] = *parts,
            }
            if turns {
                now += 1;
                since = if since.is_none() { stops += 1; Some(now) } else { None };
            }
            listener.told([&bench, &row].into_iter().map(|part| match since {
                Some(since) => stopped(part.clone(), since),
                None => part.clone(),
            }).collect());
            listener.look(now);
        }
        prop_assert_eq!(listener.heard.iter().filter(|(_, cue)| *cue == Cue::Stop).count(), stops);
    }
}
