//! A coach's run sheet on a display: who is on it, in which order, in whose words, and what never is.
//!
//! The rows are those of the coach's page: its own rules are held by `tests/outside/page/soft_needs.test.mjs`.

use turnabout_kiosk::face::{NeedLine, Sheet, SheetFace, VisitFace};
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::CoachId;
use turnabout_protocol::next::{Change, NextReason};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::said::Effort;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::*;

use crate::scenes::*;
use crate::visits::sheet_face;

const DE: Language = Language::De;
const EN: Language = Language::En;

/// All of a line but how the load is set and changed.
fn brief(line: &NeedLine) -> String {
    let NeedLine { who, count, short, place, what, load, exercises, set, why, .. } = line;
    let of = format!("{} {set}", exercises.join(" + "));
    [who, count, short, place, what, load, of.trim(), why].join("|")
}

fn needs(page: &CoachView, language: Language) -> Vec<NeedLine> {
    sheet_face(&sheet_of(page), 0, language).needs
}

fn briefs(page: &CoachView, language: Language) -> Vec<String> {
    needs(page, language).iter().map(brief).collect()
}

/// Who needs the coach what for.
fn tasks(page: &CoachView) -> Vec<(String, String)> {
    needs(page, EN).into_iter().map(|line| (line.who, line.what)).collect()
}

/// The rows that a screen with room for so many shows.
fn shown(page: &CoachView, letters: usize, room: usize) -> Vec<String> {
    let rows = sheet_face(&sheet_of(page), 0, EN).rows(letters);
    rows.into_iter().filter(|row| row.ends < room).map(|row| row.text).collect()
}

#[test]
fn every_kind_of_need_stands_in_order_of_time_in_the_words_of_the_coachs_page() {
    assert_eq!(
        briefs(&full_page(), EN),
        [
            "Bench 1|waiting 0:42|+0:42||Coach, please|||",
            "Jonah|now +0:12|+0:12|Bench 1|ready: say go|42.5 kg|Bench press set 2 of 3|",
            "Pavo|now +0:10|+0:10|Row 1|say done||Bench press set 2 of 3|",
            "Kaito|now +0:30|+0:30|Row 1|over: pass the technique set||Cable row|",
            "Ilse|in 0:15|0:15|Rack 1|confirm load and collars|82.5 kg|Bench press set 2 of 3|",
            "Hana|in 0:18|0:18|Rack 2|spot|82.5 kg|Bench press set 2 of 3|The rest ends then.",
            "Runa|in about 0:30|~0:30|Rack 1|spot|42.5 kg|Bench press set 2 of 3|needs a spotter",
            "Orla|in about 0:40|~0:40|Rack 2|decide the load|82.5 kg|Bench press set 2 of 3|",
            "Bram|in about 0:45|~0:45|Row 1|watch|55 kg|Bench press set 2 of 3|You are at Rack 2 until then.",
            "Nadim|in 0:55|0:55|Rack 2|decide the load|62.5 kg, now 60 kg|Bench press set 2 of 3|",
            "Sefa|||Bench 1 + Row 1|done here: wipe down, free the stations|||Yara: waiting for stations.",
            "Umar|in 5:00|5:00||still training?|||Nothing heard: the stations are given away then.",
            "Lupe, Tove||||explain||Bench press + Cable row|",
            "Yara||||take stations||Bench press + Cable row|",
            "Vesna||||held: let them go on?|||",
        ]
    );
    assert_eq!(
        briefs(&full_page(), DE),
        [
            "Bench 1|wartet 0:42|+0:42||Coach, bitte|||",
            "Jonah|jetzt +0:12|+0:12|Bench 1|bereit: GO sagen|42,5 kg|Bankdrücken Satz 2 von 3|",
            "Pavo|jetzt +0:10|+0:10|Row 1|fertig melden||Bankdrücken Satz 2 von 3|",
            "Kaito|jetzt +0:30|+0:30|Row 1|vorbei: Techniksatz abnehmen||Rudern am Kabelzug|",
            "Ilse|in 0:15|0:15|Rack 1|Last und Klemmen bestätigen|82,5 kg|Bankdrücken Satz 2 von 3|",
            "Hana|in 0:18|0:18|Rack 2|sichern|82,5 kg|Bankdrücken Satz 2 von 3|Dann ist die Pause um.",
            "Runa|in etwa 0:30|~0:30|Rack 1|sichern|42,5 kg|Bankdrücken Satz 2 von 3|braucht Hilfestellung",
            "Orla|in etwa 0:40|~0:40|Rack 2|über die Last entscheiden|82,5 kg|Bankdrücken Satz 2 von 3|",
            "Bram|in etwa 0:45|~0:45|Row 1|zusehen|55 kg|Bankdrücken Satz 2 von 3|So lange bist du an Rack 2.",
            "Nadim|in 0:55|0:55|Rack 2|über die Last entscheiden|62,5 kg, jetzt 60 kg|Bankdrücken Satz 2 von 3|",
            "Sefa|||Bench 1 + Row 1|hier fertig: abwischen, Stationen freigeben|||Yara: wartet auf Stationen.",
            "Umar|in 5:00|5:00||noch dabei?|||Nichts gehört: Die Stationen werden dann frei.",
            "Lupe, Tove||||einweisen||Bankdrücken + Rudern am Kabelzug|",
            "Yara||||Stationen nehmen||Bankdrücken + Rudern am Kabelzug|",
            "Vesna||||angehalten: weiter?|||",
        ]
    );
}

#[test]
fn it_says_in_order_of_time_who_needs_the_coach_where_and_why_as_the_own_page_does() {
    let mut rows = four_rows();
    rows.reverse();
    let calls = vec![please(None), please(Some("Quinn")), please(Some("Edda"))];
    let coach = sheet_of(&page_of_edda(rows, calls));
    let SheetFace { coach: whose, stays: _, needs, nobody, row: _ } = sheet_face(&coach, 0, EN);
    assert_eq!((whose.as_str(), nobody.as_str()), ("Edda", ""));
    let press = "Bench press set 2 of 3";
    assert_eq!(
        needs.iter().map(brief).collect::<Vec<_>>(),
        [
            "Bench 1|waiting 0:42|+0:42||Coach, please|||".to_owned(),
            "Bench 1|waiting 0:42|+0:42||Coach, please|||".to_owned(),
            format!("Hana|in 0:18|0:18|Rack 2|spot|82.5 kg|{press}|The rest ends then."),
            format!("Bram|in about 0:45|~0:45|Row 1|watch|55 kg|{press}|You are at Rack 2 until then."),
            format!(
                "Marit|in about 1:15|~1:15|Rack 1|spot, planned|70 kg|{press}|The others of the group go first."
            ),
            format!(
                "Wanja|in about 2:10|~2:10|Rack 2|spot, planned|62.5 kg|{press}|\
                 A little later, so that everybody rests as long as they should."
            ),
        ]
    );
}

#[test]
fn whoever_is_busy_or_away_reads_where_and_how_long() {
    let why = |page: &CoachView| {
        let bram = needs(page, EN).into_iter().find(|line| line.who == "Bram");
        bram.map(|line| line.why).unwrap_or_default()
    };
    let busy = || vec![run_row("Bram", 2, CoachTask::Watch, 30, StartReason::SpotterBusy)];
    assert_eq!(why(&page_of_edda(busy(), Vec::new())), "You are at another station until then.");
    let page = |turn| {
        let group = group_with(1, &[1, 2], vec![client_with(1, "Ayla", Some(turn))], Vec::new());
        CoachView { groups: vec![group], ..page_of_edda(busy(), Vec::new()) }
    };
    assert_eq!(why(&page(bench(coming(rest(5), 5, 5, &[])))), "You are at Bench 1 until then.");
    let light = TurnPart { set: SetName::Technique, spotter: None, ..bench(under_way(-5)) };
    assert_eq!(why(&page(light.clone())), "You are at Bench 1 until then.");
    let another = TurnPart { spotter: Some("Quinn".into()), ..light };
    assert_eq!(why(&page(another)), "You are at another station until then.", "another stands there");
    let away = StartReason::SpotterAway { until: at(65) };
    let away = page_of_edda(vec![run_row("Bram", 2, CoachTask::Spot, 70, away)], Vec::new());
    assert_eq!(why(&away), "You are away until 1:05 min from now.");
    let late = page_of_edda(vec![run_row("Bram", 2, CoachTask::Spot, -5, StartReason::Ready)], Vec::new());
    assert_eq!(sheet_face(&sheet_of(&late), 0, EN).needs[0].count, "now +0:05");
}

#[test]
fn a_load_is_confirmed_in_time_to_be_put_on_once_nothing_else_is_in_the_way() {
    let by = |group| needs(&page_with(group), EN).first().map(|line| (line.what.clone(), line.count.clone()));
    let confirm = |count: &str| Some(("confirm load and collars".to_owned(), count.to_owned()));
    // The set begins in 50 s, and one person takes 35 s to load it.
    assert_eq!(by(to_confirm(&[Need::ConfirmLoad])), confirm("in 0:15"));
    assert_eq!(by(to_confirm(&[Need::ConfirmLoad, Need::Spotter])), confirm("in 0:15"));
    for other in [Need::StationFree, Need::Briefing, Need::Resume, Need::Pair] {
        assert_eq!(by(to_confirm(&[Need::ConfirmLoad, other])), None, "{other:?}");
    }
    assert_eq!(
        by(CoachGroup { taps: Vec::new(), ..to_confirm(&[Need::ConfirmLoad]) }),
        None,
        "it is not next"
    );
    // It is not late before the one who was there has left.
    let mut after = to_confirm(&[Need::ConfirmLoad]);
    let (turn, ended) = (turn_id(27, 1, 0), at(30));
    let last = LastPart {
        turn,
        exercise: press(),
        load: None,
        ended,
        reps: Some(8),
        effort: Some(Effort::Heavy),
        ending: turnabout_protocol::command::Ending::Complete,
    };
    after.clients.push(CoachClient { last: Some(last), ..client_with(27, "Wanja", None) });
    assert_eq!(by(after), confirm("in 0:30"));
    let others = CoachGroup { coach: CoachId(0), ..to_confirm(&[Need::ConfirmLoad]) };
    assert_eq!(by(others), None, "another coach has them");
}

#[test]
fn the_first_need_says_which_set_and_how_the_bar_is_loaded_as_the_station_does() {
    let page = page_before_rows(to_confirm(&[Need::ConfirmLoad]));
    let all = shown(&page, 60, 99);
    assert_eq!(
        all[..6],
        [
            "Rack 1 \u{b7} 82.5 kg \u{b7} confirm load and collars",
            "off 10, on 20 + 10 + 1.25",
            "Bench press \u{b7} set 2 of 3",
            "each side 20 + 10 + 1.25",
            "load and strip both sides in turn",
            "about 35 s alone, 13 s with two",
        ]
    );
    let german = &needs(&page, DE)[0];
    let NeedLine { exercises, set, on_now, how, .. } = german;
    assert_eq!(
        [&exercises[0], set, on_now, how].map(String::as_str),
        ["Bankdrücken", "Satz 2 von 3", "ab 10, drauf 20 + 10 + 1.25", "je Seite 20 + 10 + 1.25"]
    );
    // The later ones are short.
    assert!(!all[6..].iter().any(|row| row.contains("Bench press") || row.contains("each side")), "{all:?}");
}

#[test]
fn where_there_is_room_for_less_whoever_comes_next_is_there_and_what_hands_do() {
    let page = page_before_rows(to_confirm(&[Need::ConfirmLoad]));
    let place = "Rack 1 \u{b7} 82.5 kg \u{b7} confirm load and collars";
    let hana = "0:18 Hana \u{b7} Rack 2 \u{b7} spot \u{b7} 82.5 kg";
    let plates = "off 10, on 20 + 10 + 1.25";
    assert_eq!(shown(&page, 60, 1), [place]);
    assert_eq!(shown(&page, 60, 2), [place, plates]);
    assert_eq!(shown(&page, 60, 3), [place, plates, hana]);
    assert_eq!(shown(&page, 60, 4), [place, plates, "Bench press \u{b7} set 2 of 3", hana]);
    // Where nothing is to be changed, which set it is stands there.
    let page = page_of_edda(four_rows(), Vec::new());
    assert_eq!(
        shown(&page, 60, 3),
        [
            "Rack 2 \u{b7} 82.5 kg \u{b7} spot",
            "Bench press \u{b7} set 2 of 3",
            "~0:45 Bram \u{b7} Row 1 \u{b7} watch \u{b7} 55 kg",
        ]
    );
    // What comes off and what goes on are not torn apart in the middle.
    let page = page_with(to_confirm(&[Need::ConfirmLoad]));
    assert_eq!(
        shown(&page, 24, 5)[..4],
        ["Rack 1 \u{b7} 82.5 kg", "confirm load and collars", "off 10", "on 20 + 10 + 1.25"]
    );
    for (letters, room) in [(20, 3), (31, 3), (31, 5), (45, 9)] {
        assert!(shown(&full_page(), letters, room).len() <= room, "{letters} {room}");
    }
}

#[test]
fn go_is_asked_for_late_and_from_nobody_who_has_an_eye_on_a_set() {
    let say_go = |page: &CoachView| tasks(page).iter().any(|(_, what)| what == "ready: say go");
    assert!(!say_go(&page_with(unsaid(9))));
    assert!(say_go(&page_with(unsaid(10))));
    let lifts = |spotter: Option<&str>, set| TurnPart {
        spotter: spotter.map(Into::into),
        set,
        ..set_of(28, "Zeno", 3, under_way(-5))
    };
    let beside = |turn: TurnPart, taps| {
        let mut page = page_with(unsaid(10));
        page.groups.push(group_with(28, &[3], vec![client_with(28, "Zeno", Some(turn))], taps));
        page
    };
    let working = SetName::Working { n: 1, of: 3 };
    assert!(say_go(&beside(lifts(None, working), Vec::new())));
    let mut spots = beside(lifts(Some("Edda"), working), Vec::new());
    spots.coaches[1].spotting = Some(turn_id(28, 2, 0));
    assert!(!say_go(&spots), "Edda spots");
    let pass = vec![Act::PassTechnique { turn: turn_id(28, 2, 0) }];
    assert!(!say_go(&beside(lifts(None, SetName::Technique), pass.clone())), "Edda watches");
    assert!(say_go(&beside(lifts(Some("Quinn"), SetName::Technique), pass)), "another stands there");
    let on_sheet = run_row("Jonah", 1, CoachTask::Spot, -12, StartReason::Ready);
    let on_sheet = RunRow { turn: turn_id(12, 2, 0), ..on_sheet };
    let listed = CoachView { run_sheet: vec![on_sheet], ..page_with(unsaid(12)) };
    assert_eq!(tasks(&listed), [("Jonah".to_owned(), "spot".to_owned())], "the sheet has it");
}

#[test]
fn a_technique_set_is_passed_where_it_was_done_and_behind_whoever_waits_at_a_bar() {
    let under_way_now = to_pass(under_way(-5));
    for group in [to_pass(coming(rest(400), 400, 400, &[])), under_way_now] {
        let page = CoachView {
            run_sheet: vec![run_row("Hana", 5, CoachTask::Spot, -2, StartReason::Rest)],
            ..page_with(group)
        };
        let lines = needs(&page, EN);
        let pass = &lines[1];
        assert_eq!(lines[0].who, "Hana");
        assert_eq!(brief(pass), "Kaito|now +0:30|+0:30|Row 1|over: pass the technique set||Cable row|");
    }
    // The one that is over now.
    let turn = TurnPart { set: SetName::Technique, ..set_of(13, "Kaito", 1, under_way(-50)) };
    let pass = vec![Act::PassTechnique { turn: turn.turn }];
    let page = page_with(group_with(13, &[1, 2], vec![client_with(13, "Kaito", Some(turn))], pass));
    assert_eq!(tasks(&page), [("Kaito".to_owned(), "over: pass the technique set".to_owned())]);
}

#[test]
fn who_has_the_load_on_stays_while_nobody_spots_with_why() {
    let page = |more: &dyn Fn(&mut CoachView, &mut TurnPart)| {
        let mut turn = set_of(20, "Runa", 3, coming(rest(30), 30, 30, &[Need::Spotter]));
        let mut page = page_of_edda(Vec::new(), Vec::new());
        more(&mut page, &mut turn);
        page.groups.insert(0, group_with(20, &[3, 2], vec![client_with(20, "Runa", Some(turn))], Vec::new()));
        needs(&page, EN)
            .iter()
            .find(|line| line.who == "Runa")
            .map(|line| (line.count.clone(), line.why.clone()))
    };
    let is = |count: &str, why: &str| Some((count.to_owned(), why.to_owned()));
    assert_eq!(page(&|_, _| ()), is("in about 0:30", "needs a spotter"));
    let away = |page: &mut CoachView, _: &mut TurnPart| page.coaches[1].away = Some(at(65));
    assert_eq!(page(&away), is("in about 0:30", "No spotter free. You are away until 1:05 min from now."));
    let lifts = |page: &mut CoachView, _: &mut TurnPart| {
        let turn = TurnPart { spotter: Some("Edda".into()), ..set_of(28, "Zeno", 5, under_way(5)) };
        page.coaches[1].spotting = Some(turn.turn);
        page.groups.push(group_with(28, &[5], vec![client_with(28, "Zeno", Some(turn))], Vec::new()));
    };
    assert_eq!(page(&lifts), is("in about 0:45", "No spotter free. You are at Rack 2 until then."));
    let other = |_: &mut CoachView, turn: &mut TurnPart| {
        let promise = told_at(30, turn.clone()).promise.unwrap();
        turn.promise = Some(PromisePart { spotter: Some("Quinn".into()), ..promise });
    };
    assert_eq!(page(&other), is("in 0:30", "Quinn will spot."));
    let alone = |_: &mut CoachView, turn: &mut TurnPart| turn.phase = coming(rest(30), 30, 30, &[]);
    assert_eq!(page(&alone), None, "the client goes alone");
    let mine = |_: &mut CoachView, turn: &mut TurnPart| {
        turn.phase = coming(rest(30), 30, 30, &[]);
        turn.spotter = Some("Edda".into());
    };
    assert_eq!(page(&mine), is("in about 0:30", ""));
}

#[test]
fn what_is_not_for_everybody_has_nowhere_to_stand() {
    let all = full_page();
    let sheet = Sheet::of(&all);
    let none = CoachView { notes: Vec::new(), older_notes: 0, ..all.clone() };
    assert_eq!(sheet, Sheet::of(&none));
    // Who has not come, and what coaches ask of each other.
    let said = format!("{sheet:?}");
    for hidden in ["knee", "Zeno", "Greta", "Farid", "FeltLight", "Harder"] {
        assert!(!said.contains(hidden), "{hidden}");
    }
    assert!(said.contains("Nadim") && said.contains("Lupe, Tove"));
    // What a screening leaves open, how the last set felt, and why another load is proposed change nothing.
    let mut other = all;
    for client in other.groups.iter_mut().flat_map(|group| &mut group.clients) {
        client.screening_open = !client.screening_open;
        for part in &mut client.proposals {
            part.proposal.reason = NextReason::FeltHeavy;
            part.proposal.change = Change::Easier;
        }
    }
    assert_eq!(sheet, Sheet::of(&other));
}

#[test]
fn the_order_follows_the_time() {
    let first = |page: &CoachView, now: FloorMs| {
        let sample = Sample::new("", view(vec![bench_1(coming(rest(400), 400, 400, &[]))]));
        let Some(VisitFace::Sheet { sheet }) = sample.face_with(now, 0, EN, &sheet_of(page)).visit else {
            panic!("a sheet")
        };
        sheet.needs.into_iter().map(|line| line.who).collect::<Vec<_>>()
    };
    // What no set waits for comes after the coming minute, whenever that is.
    let rows = vec![run_row("Hana", 5, CoachTask::Spot, 90, StartReason::Rest)];
    let page = CoachView { run_sheet: rows, ..page_with(to_explain()) };
    assert_eq!(first(&page, NOW), ["Lupe, Tove", "Hana"]);
    assert_eq!(first(&page, at(31)), ["Hana", "Lupe, Tove"]);
    // A set is over when it should be.
    let over = set_of(19, "Pavo", 2, under_way(-35));
    let page = page_with(group_with(19, &[1, 2], vec![client_with(19, "Pavo", Some(over))], Vec::new()));
    assert_eq!(first(&page, at(4)), [""; 0]);
    assert_eq!(first(&page, at(5)), ["Pavo"]);
}

#[test]
fn a_wall_says_of_nobodys_set_more_than_its_own_lines() {
    // The server leaves a load out of a wall's lines where somebody does not want it shown there.
    let on_wall = |names: &[(&str, bool)]| {
        let mut wall = spot_board();
        let client = wall.groups[0].clients[0].clone();
        assert!(client.turn.as_ref().unwrap().load.is_some());
        wall.groups[0].clients = names
            .iter()
            .map(|(name, shown)| {
                let mut client = ClientPart { name: (*name).into(), ..client.clone() };
                client.turn.as_mut().unwrap().load.take_if(|_| !shown);
                client
            })
            .collect();
        wall.groups.truncate(1);
        let face = Sample::new("", View::Board(wall)).face_with(NOW, 0, EN, &sheet_of(&full_page()));
        let Some(VisitFace::Sheet { sheet }) = face.visit else { panic!("a sheet") };
        sheet.needs
    };
    let heavy = |needs: &[NeedLine]| {
        let says = |line: &&NeedLine| {
            ![&line.load, &line.how, &line.on_now, &line.notes].iter().all(|text| text.is_empty())
        };
        needs.iter().filter(says).map(|line| line.who.clone()).collect::<Vec<_>>()
    };
    let at_a_station = needs(&full_page(), EN);
    assert_eq!(heavy(&at_a_station), ["Jonah", "Ilse", "Hana", "Runa", "Orla", "Bram", "Nadim"]);
    let wall = on_wall(&[("Hana", true), ("Ilse", false), ("Nadim", false)]);
    assert_eq!(heavy(&wall), ["Hana"]);
    assert_eq!(heavy(&on_wall(&[("Nadim", true)])), ["Nadim"], "nor what is proposed for somebody else");
    // Everything else is there.
    let tasks = |needs: &[NeedLine]| {
        needs.iter().map(|line| (line.who.clone(), line.what.clone())).collect::<Vec<_>>()
    };
    assert_eq!(tasks(&wall), tasks(&at_a_station));
}
