//! Who is on the way elsewhere from a station, and when that gives way to whoever comes next there.

use turnabout_kiosk::face::{Panel, PhaseKind, Tap};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{After, HaltKind, Need, StationPart};

use crate::scenes::*;
use crate::{check, panel_at};

fn resting(secs: i64) -> StationPart {
    bram_next(coming(rest(secs), secs, secs, &[]))
}

#[test]
fn the_station_that_is_left_says_who_goes_where_and_for_how_long_that_may_take() {
    let panel = panel_at(&left(resting(80), 18, None), 0);
    assert_eq!((panel.phase, panel.who.as_str(), panel.to.as_str()), (PhaseKind::Leaving, "Ayla", "Row 1"));
    assert_eq!((panel.count.as_str(), panel.order.as_str()), ("0:18", "→ Row 1"));
    assert_eq!((panel.exercise.as_str(), panel.held_by.as_str()), ("Cable row", ""));
    assert_eq!(panel.next, "Bram next in 1:20");
    assert!(panel.load.number.is_empty() && panel.reps.is_empty(), "nothing of Bram's set: {panel:?}");
    let held = panel_at(&left(resting(80), 18, Some("Dara")), 0);
    assert_eq!(held.held_by, "Dara is still on Row 1");
}

#[test]
fn under_the_name_of_whoever_leaves_nothing_is_said_of_whoever_comes_next() {
    let taps = |panel: &Panel| panel.all_buttons().map(|b| b.tap).collect::<Vec<_>>();
    let mut part = left(resting(80), 18, None);
    assert_eq!(taps(&panel_at(&part, 0)), [Tap::CoachPlease, Tap::HelpNow]);
    part.leaving = None;
    assert!(taps(&panel_at(&part, 0)).contains(&Tap::NotYet));
}

#[test]
fn it_ends_with_the_way_and_before_whoever_comes_next_is_called() {
    // The way may take 18 s, and Bram rests from 20 s on.
    let far = left(resting(80), 18, None);
    check(&far, &[(17_999, PhaseKind::Leaving, "0:01"), (18_000, PhaseKind::Coming, "1:02")]);
    // The last half minute of a rest is that of whoever rests.
    let near = left(resting(40), 18, None);
    check(&near, &[(9_999, PhaseKind::Leaving, "0:09"), (10_000, PhaseKind::Rest, "0:30")]);
    let panel = panel_at(&near, 10_000);
    assert_eq!((panel.who.as_str(), panel.leaving.as_str()), ("Bram", "Ayla → Row 1, 0:08"));
    // Whoever puts the plates on needs 35 s for it alone.
    let mut loaded = bench_with_plates();
    loaded.turn.as_mut().unwrap().phase = coming(rest(70), 70, 70, &[Need::ConfirmLoad]);
    let loaded = left(loaded, 18, None);
    check(&loaded, &[(4_999, PhaseKind::Leaving, "0:14"), (5_000, PhaseKind::Coming, "1:05")]);
}

#[test]
fn a_set_under_way_or_somebody_who_waits_at_the_station_comes_first() {
    let here = |phase| panel_at(&left(bram_next(phase), 18, None), 0).phase;
    let over = After::Changeover { since: at(-5), limit: at(25) };
    for (phase, kind) in [
        (under_way(-3), PhaseKind::Working),
        (under_way(2), PhaseKind::CountIn),
        (coming(over, 5, 5, &[]), PhaseKind::Changeover),
        (coming(rest(-3), -3, -3, &[]), PhaseKind::Ready),
        (coming(rest(-3), -3, -3, &[Need::Spotter]), PhaseKind::Held),
        (coming(rest(-3), -3, -3, &[Need::ConfirmLoad]), PhaseKind::GetReady),
        // GO is taken already.
        (coming(rest(60), 60, -1, &[]), PhaseKind::Rest),
    ] {
        assert_eq!(here(phase), kind);
    }
    let stopped = halted(left(resting(80), 18, None), HaltKind::Stop);
    assert_eq!(panel_at(&stopped, 0).phase, PhaseKind::Stopped);
    assert_eq!(panel_at(&left(reserved("Zeno"), 18, None), 0).phase, PhaseKind::Leaving, "nobody is to come");
    assert_eq!(panel_at(&left(reserved("Zeno"), 18, None), 18_000).phase, PhaseKind::Reserved);
}

#[test]
fn no_next_set_is_hidden_for_longer_than_its_last_half_minute_allows() {
    // Whatever the way may take and whenever the next set is: seen in time.
    for limit in [5, 18, 30, 90, 600] {
        for ready in [1, 29, 30, 31, 45, 120] {
            let part = left(resting(ready), limit, None);
            for ms in (0..ready * 1_000).step_by(500) {
                let hidden = panel_at(&part, ms).phase == PhaseKind::Leaving;
                assert!(!hidden || at(ready).since(FloorMs(NOW.0 + ms)).0 > 30_000, "{limit} {ready} {ms}");
            }
        }
    }
}
