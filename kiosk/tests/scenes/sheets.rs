//! Coaches' pages with everything on them that a coach is needed for.

use turnabout_protocol::ids::{CoachId, NoteId};
use turnabout_protocol::next::{Change, NextReason};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::said::NoteAbout;

use super::*;

/// A client who is there, with this set.
pub(crate) fn client_with(n: u32, name: &str, turn: Option<TurnPart>) -> CoachClient {
    CoachClient {
        client: ClientId(n),
        name: name.into(),
        attendance: Attendance::Here,
        warmed_up: true,
        briefed: true,
        screening_open: true,
        owed: 0,
        halt: None,
        spots: Vec::new(),
        exercise: None,
        in_place_of: None,
        turn,
        last: None,
        proposals: Vec::new(),
        ribbon: Vec::new(),
    }
}

/// A group of Edda's that does its rounds with these stations and clients, and these taps are expected.
pub(crate) fn group_with(n: u32, stations: &[u16], clients: Vec<CoachClient>, taps: Vec<Act>) -> CoachGroup {
    let tap = |act| ExpectedTap { act, from: FloorMs::default(), client: None };
    CoachGroup {
        group: GroupId(n),
        revision: 1,
        coach: CoachId(1),
        stage: Stage::Rounds,
        block: BlockPart {
            n: 1,
            of: 2,
            exercises: vec![press(), cable_row()],
            rounds: 3,
            rest_min: Secs(90),
            rest_max: Secs(150),
        },
        stations: stations.iter().map(|n| StationId(*n)).collect(),
        suited: Vec::new(),
        ahead: Vec::new(),
        waits: None,
        offer: None,
        lapses: None,
        no_show: false,
        fit: None,
        choices: Vec::new(),
        too_large: None,
        admissions: Vec::new(),
        done: Vec::new(),
        clients,
        halt: None,
        taps: taps.into_iter().map(tap).collect(),
    }
}

/// A set of a client at a station, where nobody stands yet.
pub(crate) fn set_of(n: u32, name: &str, station: u16, phase: TurnPhase) -> TurnPart {
    TurnPart {
        turn: turn_id(n, 2, 0),
        client: name.into(),
        station: Some(StationId(station)),
        spotter: None,
        ..bench(phase)
    }
}

/// The same of which that start has been told.
pub(crate) fn told_at(secs: i64, turn: TurnPart) -> TurnPart {
    let promise = PromisePart { start: at(secs), about: false, spotter: None, reason: StartReason::Rest };
    TurnPart { promise: Some(promise), ..turn }
}

/// A bar of 82.5 kg that is loaded from 40 kg.
pub(crate) fn to_load() -> LoadCard {
    with_plates(&card("82.5 kg", Some("40 kg"), false), "20 10 1.25", "10", "20 10 1.25")
}

/// Ilse's load at Rack 1, which is to be confirmed, with what is in the way.
pub(crate) fn to_confirm(needs: &[Need]) -> CoachGroup {
    let turn = set_of(11, "Ilse", 3, coming(rest(50), 50, 50, needs));
    let turn = told_at(50, TurnPart { load: Some(to_load()), ..turn });
    let confirm = Act::ConfirmLoad { turn: turn.turn };
    group_with(11, &[3, 2], vec![client_with(11, "Ilse", Some(turn))], vec![confirm])
}

/// Somebody whose GO nobody has said for so many seconds.
pub(crate) fn unsaid(secs: i64) -> CoachGroup {
    let turn = told_at(-secs, set_of(12, "Jonah", 1, coming(rest(-secs), -secs, -secs, &[])));
    let go = Act::Go { turn: turn.turn };
    group_with(12, &[1, 2], vec![client_with(12, "Jonah", Some(turn))], vec![go])
}

/// Whose technique set is over and not passed, with the next to come.
pub(crate) fn to_pass(next: TurnPhase) -> CoachGroup {
    let turn = set_of(13, "Kaito", 1, next);
    let light = TurnId { round: 0, leg: 1, ..turn.turn };
    let pass = ExpectedTap { act: Act::PassTechnique { turn: light }, from: at(-30), client: None };
    let group = group_with(13, &[1, 2], vec![client_with(13, "Kaito", Some(turn))], Vec::new());
    CoachGroup { taps: vec![pass], ..group }
}

/// Whose exercises have to be explained, with one who has not come.
pub(crate) fn to_explain() -> CoachGroup {
    let unbriefed = |n, name| CoachClient { briefed: false, ..client_with(n, name, None) };
    let zeno = CoachClient { attendance: Attendance::Expected, ..unbriefed(16, "Zeno") };
    let clients = vec![unbriefed(14, "Lupe"), unbriefed(15, "Tove"), zeno];
    CoachGroup { stage: Stage::Briefing, ..group_with(14, &[], clients, Vec::new()) }
}

/// What is proposed for Nadim's next set, because of how the last one felt.
pub(crate) fn to_decide() -> CoachGroup {
    let turn = told_at(55, set_of(17, "Nadim", 5, coming(rest(55), 55, 55, &[Need::StationFree])));
    let part = proposed("62.5 kg", Change::Harder, NextReason::FeltLight);
    let part = ProposalPart { turn: turn.turn, ..part };
    let client = CoachClient { proposals: vec![part], ..client_with(17, "Nadim", Some(turn)) };
    group_with(17, &[5, 2], vec![client], Vec::new())
}

/// Whose plates are not there.
pub(crate) fn unbuilt() -> CoachGroup {
    let mass = |text| Some(stamped(text));
    let instead = UnbuiltPart { below: mass("80 kg"), above: mass("85 kg"), at: Vec::new() };
    let load = LoadCard { unbuilt: Some(instead), ..card("82.5 kg", Some("40 kg"), false) };
    let phase = coming(rest(100), 100, 100, &[Need::ConfirmLoad, Need::Spotter]);
    let turn = TurnPart { load: Some(load), ..set_of(18, "Orla", 5, phase) };
    let set = Act::SetLoad { turn: turn.turn, load: stamped("80 kg").into(), sure: false, revision: 1 };
    group_with(18, &[5, 2], vec![client_with(18, "Orla", Some(turn))], vec![set])
}

/// Edda's page with a row of every kind that a floor may see, and all that it may not.
pub(crate) fn full_page() -> CoachView {
    let over = set_of(19, "Pavo", 2, under_way(-50));
    let over = group_with(19, &[1, 2], vec![client_with(19, "Pavo", Some(over))], Vec::new());
    let waits = set_of(20, "Runa", 3, coming(rest(30), 30, 30, &[Need::Spotter]));
    let waits = group_with(20, &[3, 2], vec![client_with(20, "Runa", Some(waits))], Vec::new());
    let done = group_with(21, &[1, 2], vec![client_with(21, "Sefa", None)], Vec::new());
    let done = CoachGroup { stage: Stage::WipeDown, ..done };
    let silent = group_with(22, &[3, 2], vec![client_with(22, "Umar", None)], Vec::new());
    let silent = CoachGroup { lapses: Some(at(300)), ..silent };
    let held = group_with(23, &[5, 2], vec![client_with(23, "Vesna", None)], Vec::new());
    let halt = HaltPart { halt: HaltKind::Stop, since: at(-20) };
    let held = CoachGroup { halt: Some(halt), ..held };
    let group = GroupId(24);
    let ask = Act::AskStations { group, block: 0, revision: 1 };
    let without = group_with(24, &[], vec![client_with(24, "Yara", None)], vec![ask]);
    let waited = WaitPart { place: 1, block: 0 };
    let without = CoachGroup { stage: Stage::Waiting, waits: Some(waited), ..without };
    let offer = OfferPart { to: CoachId(1), asks: CoachId(1) };
    let offered = group_with(25, &[], vec![client_with(25, "Farid", None)], Vec::new());
    let offered = CoachGroup { coach: CoachId(0), offer: Some(offer), ..offered };
    let late = CoachClient { attendance: Attendance::Expected, ..client_with(26, "Greta", None) };
    let late = group_with(26, &[], vec![late], Vec::new());
    let late = CoachGroup { stage: Stage::Expected, lapses: Some(at(20)), ..late };
    let groups = vec![
        to_confirm(&[Need::ConfirmLoad, Need::Spotter]),
        unsaid(12),
        over,
        to_pass(coming(rest(400), 400, 400, &[Need::StationFree])),
        waits,
        unbuilt(),
        to_decide(),
        done,
        silent,
        to_explain(),
        without,
        held,
        offered,
        late,
    ];
    let note = NotePart {
        note: NoteId(1),
        about: NoteAbout::Group { group },
        by: Actor::Board,
        at: NOW,
        text: NoteText::Whole { text: "Secret knee".into() },
    };
    let rows = four_rows().into_iter().take(2).collect();
    CoachView { groups, notes: vec![note], older_notes: 3, ..page_of_edda(rows, vec![please(None)]) }
}

/// Edda's page with one group.
pub(crate) fn page_with(group: CoachGroup) -> CoachView {
    CoachView { groups: vec![group], ..page_of_edda(Vec::new(), Vec::new()) }
}

/// The same with the floor's own rows behind it.
pub(crate) fn page_before_rows(group: CoachGroup) -> CoachView {
    CoachView { groups: vec![group], ..page_of_edda(four_rows(), Vec::new()) }
}
