//! A station where nobody's set is to come, and what is said by the floor's time of day.

use turnabout_kiosk::face::{Button, LinkState, Panel, PhaseKind, Tap};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::GroupId;
use turnabout_protocol::said::BarLeft;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{HaltKind, StationPart, StationState, View};

use crate::scenes::*;
use crate::{button, panel_at, panels};

fn said(panel: &Panel) -> (&str, &str, &str) {
    (&panel.word, &panel.order, &panel.next)
}

#[test]
fn a_free_station_says_until_when_and_for_whom_then() {
    // It is 18:50:00 at the floor.
    let until = panel_at(&free(Some(137), Some("Ayla")), 0);
    assert_eq!(said(&until), ("Free", "for everyone until 18:52", "Ayla next"));
    let closes = panel_at(&free(Some(7_800), None), 0);
    assert_eq!(said(&closes), ("Free", "for everyone until we close at 21:00", ""));
    for nothing in [free(None, None), station(1, "Bench 1", GearKind::Bar, None)] {
        let panel = panel_at(&nothing, 0);
        assert_eq!(said(&panel), ("Free", "for everyone", ""));
        assert!(
            button(&panel, Tap::OtherUse).is_some_and(|b| b.1),
            "anybody can say that it is in other use"
        );
    }
    let german = Sample::new("", view(vec![free(Some(137), Some("Ayla"))])).face(Language::De);
    assert_eq!(panels(&german)[0].order, "für alle bis 18:52");
}

#[test]
fn a_reserved_station_says_whose_it_is_and_not_to_wait() {
    let panel = panel_at(&reserved("Zeno"), 0);
    assert_eq!(
        (panel.phase, said(&panel)),
        (PhaseKind::Reserved, ("Reserved", "for coach Zeno's group", ""))
    );
    let stopped = panel_at(&halted(reserved("Zeno"), HaltKind::Stop), 0);
    assert_eq!((stopped.phase, stopped.order.as_str()), (PhaseKind::Stopped, "DO NOT START"));
}

fn free_act(bar: Option<BarLeft>) -> Act {
    Act::FreeStations { group: GroupId(1), block: 0, bar }
}

fn frees(panel: &Panel) -> Vec<&Button> {
    panel.buttons.iter().filter(|b| matches!(b.act, Act::FreeStations { .. })).collect()
}

#[test]
fn a_bar_is_said_to_be_stripped_or_left_as_agreed_and_other_gear_just_freed() {
    let bar = panel_at(&finished(GearKind::Bar, &["Ayla", "Bram"], &[]), 0);
    let acts: Vec<_> =
        frees(&bar).iter().map(|b| (b.tap, b.label.as_str(), b.act.clone(), b.primary)).collect();
    assert_eq!(
        acts,
        [
            (Tap::Free, "Stripped and wiped", free_act(Some(BarLeft::Stripped)), true),
            (Tap::FreeAsItIs, "Left as agreed", free_act(Some(BarLeft::AsItIs)), false),
        ]
    );
    assert_eq!(bar.order, "Strip the bar, or leave it as agreed");
    for gear in [GearKind::Stack, GearKind::Dumbbells, GearKind::Belt, GearKind::Plain] {
        let panel = panel_at(&finished(gear, &[], &[]), 0);
        let acts: Vec<_> = frees(&panel).iter().map(|b| (b.tap, b.label.as_str(), b.act.clone())).collect();
        assert_eq!(acts, [(Tap::Free, "Wiped and free", free_act(None))], "{gear:?}");
        assert_eq!((panel.word.as_str(), panel.order.as_str()), ("Wipe down", ""), "{gear:?}");
    }
    let unclaimed = StationPart {
        claim: None,
        state: StationState::WipeDown,
        ..station(1, "Bench 1", GearKind::Bar, None)
    };
    assert!(frees(&panel_at(&unclaimed, 0)).is_empty());
}

#[test]
fn whoever_is_done_is_thanked_and_told_of_the_next_time() {
    let panel = panel_at(&finished(GearKind::Bar, &["Ayla", "Bram"], &[("Ayla", "45 kg")]), 0);
    assert_eq!(
        (panel.thanks.as_str(), panel.next_time.as_str()),
        ("Thank you, Ayla, Bram", "Next time: Ayla 45 kg")
    );
    let lines: Vec<_> = panel.lines().into_iter().flat_map(|line| line.texts).collect();
    assert_eq!(lines, ["Thank you, Ayla, Bram", "Next time: Ayla 45 kg"]);
    let pair = panel_at(&finished(GearKind::Dumbbells, &["Ayla"], &[("Ayla", "22.5 kg")]), 0);
    assert_eq!(pair.next_time, "Next time: Ayla 2 × 22.5 kg");
    let mut two = finished(GearKind::Bar, &["Ayla"], &[("Ayla", "45 kg"), ("Ayla", "60 kg")]);
    two.finished.as_mut().unwrap().next_time[1].exercise = in_both("Front squat", "Frontkniebeuge");
    assert_eq!(panel_at(&two, 0).next_time, "Next time: Ayla Bench press 45 kg, Ayla Front squat 60 kg");
    assert_eq!(panel_at(&finished(GearKind::Bar, &[], &[]), 0).thanks, "Thank you");
}

#[test]
fn a_lost_link_keeps_counting_says_how_old_it_is_and_takes_only_what_may_come_late() {
    let mut sample = Sample::new("", view(vec![bench_1(coming(rest(30), 30, 30, &[]))]));
    sample.link = LinkState::Lost { since: at(-5) };
    let face = sample.face_at(at(10), Language::En);
    assert_eq!(panels(&face)[0].count, "0:20");
    // By the floor's clock it was 18:50 five seconds later.
    assert_eq!(face.link, "No link to the server, as of 18:49:55. Counting on.");
    let face = sample.face_at(at(40), Language::En);
    assert_eq!(panels(&face)[0].phase, PhaseKind::Ready);
    let live: Vec<Tap> = panels(&face)[0].all_buttons().filter(|b| b.enabled).map(|b| b.tap).collect();
    assert_eq!(live, [Tap::CoachPlease, Tap::HelpNow]);
    sample.view = Some(view(vec![bench_1(under_way(-3))]));
    assert!(sample.face(Language::En).button(Tap::DoneRight, None).is_some(), "a set's end may come late");
    assert_eq!(
        sample.face(Language::De).link,
        "Keine Verbindung zum Server, Stand 18:49:55. Die Zeit läuft weiter."
    );
    // A board tells the same time.
    sample.view = Some(View::Board(board(1)));
    assert!(sample.face(Language::En).link.contains("as of"), "{}", sample.face(Language::En).link);
}
