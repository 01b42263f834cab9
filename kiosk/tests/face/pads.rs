//! Plates that are not as shown: what is said in taps, what it sends, and what closes it.

use turnabout_kiosk::face::{Face, Key, LinkState, Pad, Step};
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{HaltKind, HaltPart, StationPart, StationView, View};

use crate::scenes::*;
use crate::{panel_at, panels};

/// A display in whose pad somebody taps.
struct Desk {
    sample: Sample,
}

impl Desk {
    fn at(parts: Vec<StationPart>) -> Self {
        Self { sample: Sample::new("", view(parts)) }
    }

    /// One whose pad has just been opened.
    fn open() -> Self {
        let mut desk = Self::at(vec![bench_with_plates()]);
        assert_eq!(desk.press("not-as-shown"), []);
        desk
    }

    fn face(&self) -> Face {
        self.sample.face(Language::En)
    }

    /// Presses a key that is live; what is sent.
    fn press(&mut self, name: &str) -> Vec<Act> {
        let step = self.face().key(name, None).unwrap_or_else(|| panic!("{name} is not live")).step.clone();
        let (pad, acts) = Pad::after(self.sample.pad.take(), &step, self.sample.real);
        self.sample.pad = pad;
        acts
    }

    fn said(&self) -> String {
        self.face().pad.expect("it is open").said
    }

    fn plate(&self, n: usize) -> Key {
        self.face().pad.expect("it is open").plates[n - 1].clone()
    }

    fn stations(&mut self) -> &mut StationView {
        match self.sample.view.as_mut().unwrap() {
            View::Station(view) => view,
            View::Board(_) | View::Coach(_) => panic!("a station's view"),
        }
    }
}

#[test]
fn what_is_on_each_side_is_tapped_from_the_inside_out_and_sent_once_it_is_right() {
    let mut desk = Desk::open();
    assert_eq!(desk.said(), "each side 10  =  40 kg", "what was known to be on");
    for (key, said) in [
        ("plate-3", "each side 10 + 5  =  50 kg"),
        ("take-off", "each side 10  =  40 kg"),
        ("empty", "bar only  =  20 kg"),
        ("plate-1", "each side 20  =  60 kg"),
        ("plate-5", "each side 20 + 1.25  =  62.5 kg"),
        ("plate-2", "each side 20 + 1.25 + 10  =  82.5 kg"),
    ] {
        assert_eq!(desk.press(key), [], "{key}");
        assert_eq!(desk.said(), said);
    }
    let side = ["20", "1.25", "10"].map(plate).to_vec();
    assert_eq!(desk.press("say"), [Act::PlatesOn { station: StationId(1), side, bar: 0 }]);
    assert_eq!(desk.face().pad, None);
}

#[test]
fn it_opens_with_the_plates_in_the_order_in_which_they_are_on() {
    let mut part = bench_with_plates();
    let load = with_plates(&card("82.5 kg", Some("97.5 kg"), false), "20 10 1.25", "2.5 5 1.25", "10 1.25");
    part.turn.as_mut().unwrap().load = Some(load);
    let mut desk = Desk::at(vec![part.clone()]);
    desk.press("not-as-shown");
    assert!(desk.said().starts_with("each side 20 + 1.25 + 5 + 2.5"), "{}", desk.said());
    // Where the card does not say, the heaviest is inside.
    part.turn.as_mut().unwrap().load = Some(card("82.5 kg", None, false));
    part.plates = Some(rack(&[("20", 4, 0, 1), ("5", 4, 0, 2)]));
    let mut desk = Desk::at(vec![part]);
    desk.press("not-as-shown");
    assert_eq!(desk.said(), "each side 20 + 5 + 5");
}

#[test]
fn no_more_go_on_than_there_are_however_fast_a_finger_is() {
    let mut desk = Desk::open();
    desk.press("plate-3");
    assert_eq!((desk.plate(3).enabled, desk.plate(3).note.as_str()), (false, "1 each side"));
    let again = Step::Put { plate: plate("5"), most: 1 };
    desk.sample.pad = Pad::after(desk.sample.pad.take(), &again, 0).0;
    assert_eq!(desk.said(), "each side 10 + 5  =  50 kg");
    assert!(desk.face().key("plate-3", None).is_none());
    assert!(desk.face().key("take-off", None).is_some());
}

#[test]
fn which_bar_is_there_is_said_where_there_is_a_choice() {
    let mut desk = Desk::at(vec![bench_with_bars()]);
    desk.press("not-as-shown");
    assert_eq!(desk.said(), "bar of 20 kg: each side 10");
    for said in ["Trap bar: each side 10", "bar of 15 kg: each side 10", "bar of 20 kg: each side 10"] {
        assert_eq!(desk.press("bar"), []);
        assert_eq!(desk.said(), said);
    }
    desk.press("bar");
    let side = vec![plate("10")];
    assert_eq!(desk.press("say"), [Act::PlatesOn { station: StationId(1), side, bar: 1 }]);
    assert!(Desk::open().face().key("bar", None).is_none(), "there is one bar");
}

#[test]
fn plates_are_said_to_be_missing_pair_by_pair_and_to_be_back_after_the_last() {
    let mut desk = Desk::open();
    desk.press("missing");
    assert!(desk.face().key("say", None).is_none(), "nothing is said yet");
    let note = |desk: &Desk, n| desk.plate(n).note;
    assert_eq!((note(&desk, 1).as_str(), note(&desk, 4).as_str()), ("4 there", "2 of 2 missing"));
    for said in ["2 of 4 missing", "4 of 4 missing", "4 there", "2 of 4 missing"] {
        assert_eq!(desk.press("plate-1"), []);
        assert_eq!(note(&desk, 1), said);
    }
    desk.press("plate-4");
    assert_eq!(note(&desk, 4), "2 there");
    let gone = |kg, count| Act::PlatesMissing { station: StationId(1), plate: plate(kg), count };
    let sent = desk.press("say");
    assert_eq!(sent.len(), 2);
    assert!(sent.contains(&gone("20", 2)) && sent.contains(&gone("2.5", 0)), "{sent:?}");
    assert_eq!(desk.face().pad, None);
}

#[test]
fn what_is_missing_already_is_not_said_again() {
    let mut desk = Desk::open();
    desk.press("missing");
    for _ in 0..3 {
        desk.press("plate-1");
    }
    assert!(desk.face().key("say", None).is_none(), "all as the server knows it");
}

#[test]
fn going_back_sends_nothing() {
    let mut desk = Desk::open();
    desk.press("plate-1");
    assert_eq!(desk.press("back"), []);
    assert_eq!(desk.face().pad, None);
}

#[test]
fn half_a_minute_without_a_touch_closes_it() {
    let mut desk = Desk::open();
    desk.sample.real = 29_999;
    assert!(desk.face().pad.is_some());
    desk.press("plate-1");
    desk.sample.real = 59_998;
    assert!(desk.face().pad.is_some(), "every touch has its own time");
    desk.sample.real = 59_999;
    assert_eq!(desk.face().pad, None);
}

#[test]
fn it_never_covers_help_nor_what_has_to_be_done_at_once() {
    let stop = Some(HaltPart { halt: HaltKind::Stop, since: at(-1) });
    let closes = |change: &dyn Fn(&mut StationView)| {
        let mut desk = Desk::at(vec![bench_with_plates(), row_1(under_way(-5))]);
        desk.press("not-as-shown");
        change(desk.stations());
        desk.face().pad.is_none()
    };
    assert!(!closes(&|_| {}));
    assert!(closes(&|view| view.help = Some(help())), "a call for help");
    assert!(closes(&|view| view.stations[0].halt = stop), "a stop here");
    assert!(closes(&|view| view.stations[1].halt = stop), "somebody has to rack at once");
    assert!(closes(&|view| view.stations[0].plates = None), "nothing to say any more");
    let go = |view: &mut StationView| view.stations[0].turn.as_mut().unwrap().phase = under_way(8);
    assert!(closes(&go), "a set has begun");
    let pause = Some(HaltPart { halt: HaltKind::Pause, since: at(-1) });
    assert!(!closes(&|view| view.stations[0].halt = pause), "a pause is a good time for it");
}

#[test]
fn it_is_offered_where_a_set_at_a_bar_is_to_come_and_the_server_can_hear_it() {
    let key = |part: &StationPart| panel_at(part, 0).not_as_shown;
    assert!(key(&bench_with_plates()).is_some_and(|key| key.enabled));
    assert_eq!(key(&row_1(coming(rest(34), 34, 34, &[]))), None);
    let mut under = bench_with_plates();
    under.turn.as_mut().unwrap().phase = under_way(-5);
    assert_eq!(key(&under), None);
    let mut desk = Desk::at(vec![bench_with_plates()]);
    desk.sample.link = LinkState::Lost { since: at(-3) };
    let offered = panels(&desk.face())[0].not_as_shown.clone().unwrap();
    assert_eq!((offered.enabled, offered.note.as_str()), (false, "no link"));
}

#[test]
fn the_station_it_is_about_stays_the_large_one() {
    let mut desk = Desk::at(vec![row_1(coming(rest(3), 3, 3, &[])), bench_with_plates()]);
    assert_eq!(panels(&desk.face())[0].key, "row-1");
    desk.press("not-as-shown");
    assert_eq!(panels(&desk.face())[0].key, "bench-1");
}
