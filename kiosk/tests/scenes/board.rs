//! The wall: groups at every point of an evening, and what happened.

use turnabout_protocol::promise::StartReason;

use super::*;

/// A pair done three times: the set before, that of the turn, and those planned after it.
pub(crate) fn ribbon_of(turn: &TurnPart) -> Vec<RibbonSet> {
    const WORK: i64 = 40_000;
    const WAY: i64 = 25_000;
    const REST: (i64, i64) = (60_000, 120_000);
    let (from, is) = match &turn.phase {
        TurnPhase::UnderWay { starts, .. } => (*starts, RibbonIs::UnderWay),
        TurnPhase::Coming { ready, go_from, .. } => {
            (FloorMs((*ready).max(*go_from).max(NOW).0 + 11_000), RibbonIs::ToCome)
        }
    };
    let after = |ended: FloorMs, (least, most): (i64, i64)| RestWindow {
        from: FloorMs(ended.0 + least),
        until: FloorMs(ended.0 + most),
    };
    let set = |leg, is, from: FloorMs, window| RibbonSet {
        leg,
        round: 2,
        is,
        from,
        until: FloorMs(from.0 + WORK),
        spotted: leg == 0 && turn.spotted,
        window,
    };
    let second = turn.turn.leg == 1;
    let gap = if second { WAY } else { REST.0 + 8_000 };
    // What is done is over by now.
    let ended = (from.0 - gap).min(NOW.0 - 9_000);
    let before = set(u8::from(!second), RibbonIs::Done, FloorMs(ended - WORK), None);
    let window = (!second && is == RibbonIs::ToCome).then(|| after(before.until, REST));
    let mut sets = vec![before, set(turn.turn.leg, is, from, window)];
    for _ in 0..4 {
        let last = sets[sets.len() - 1];
        let (leg, gap) = if last.leg == 0 { (1, WAY) } else { (0, REST.0 + 15_000) };
        let window = (leg == 0).then(|| after(last.until, REST));
        sets.push(set(leg, RibbonIs::ToCome, FloorMs(last.until.0.max(NOW.0) + gap), window));
    }
    sets
}

fn client(n: u32, turn: TurnPart) -> ClientPart {
    ClientPart {
        client: ClientId(n),
        name: turn.client.clone(),
        attendance: Attendance::Here,
        halt: None,
        ribbon: if turn.station.is_some() { ribbon_of(&turn) } else { Vec::new() },
        turn: Some(turn),
        in_place_of: None,
    }
}

fn named(name: &str, turn: TurnPart) -> TurnPart {
    TurnPart { client: name.into(), ..turn }
}

/// A board with several groups.
pub(crate) fn board(groups: usize) -> BoardView {
    let pairs =
        [("Ayla", "Bram"), ("Chidi", "Dara"), ("Farid", "Greta"), ("Hana", "Ilse"), ("Jonah", "Kaito")];
    let phases = |n: usize| match n % 5 {
        0 => (under_way(-13), coming(rest(34), 34, 34, &[])),
        1 => (coming(rest(-17), -17, -17, &[]), under_way(-52)),
        2 => {
            (coming(After::Nothing, 0, 0, &[Need::Stations]), coming(After::Nothing, 0, 0, &[Need::Stations]))
        }
        3 => (coming(After::Changeover { since: at(-9), limit: at(21) }, 5, 5, &[]), under_way(2)),
        _ => (coming(rest(20), 20, 20, &[Need::Resume]), under_way(-3)),
    };
    let groups = (0..groups).map(|n| {
        let (a, b) = pairs[n % pairs.len()];
        let (first, second) = phases(n);
        let stage = if n % 5 == 2 { Stage::Waiting } else { Stage::Rounds };
        let loads = [("42.5 kg", "55 kg"), ("60 kg", "40 kg"), ("35 kg", "30 kg"), ("50 kg", "45 kg")][n % 4];
        // A pair of stations a group: nobody shares one.
        let place = |turn: TurnPart, station: usize, load: &str| TurnPart {
            station: Some(StationId(u16::try_from(station).unwrap())).filter(|_| n % 5 != 2),
            load: Some(card(load, None, true)),
            ..turn
        };
        BoardGroup {
            group: GroupId(u32::try_from(n).unwrap()),
            stage,
            coach: if n.is_multiple_of(2) { "Zeno".into() } else { "Yara".into() },
            place: (stage == Stage::Waiting).then_some(1),
            clients: vec![
                client(1, place(named(a, bench(first)), 2 * n + 1, loads.0)),
                client(2, place(named(b, row(second)), 2 * n + 2, loads.1)),
            ],
            halt: (n % 5 == 4).then_some(HaltPart { halt: HaltKind::Pause, since: at(-20) }),
        }
    });
    let mut groups: Vec<BoardGroup> = groups.collect();
    groups.push(BoardGroup {
        group: GroupId(99),
        stage: Stage::Finished,
        coach: "Zeno".into(),
        place: None,
        clients: ["Lupe", "Marit"].map(|name| absent(name, Attendance::Here)).to_vec(),
        halt: None,
    });
    let line = |n: usize| {
        let name = format!("{} {}", if n.is_multiple_of(2) { "Bench" } else { "Row" }, n / 2 + 1);
        StationLine {
            station: StationId(u16::try_from(n + 1).unwrap()),
            key: name.to_lowercase().replace(' ', "-").parse().unwrap(),
            name,
            state: StationState::Reserved,
            group: Some(GroupId(u32::try_from(n / 2).unwrap())),
            shared_with: None,
            other_use: None,
            out: None,
        }
    };
    let stations = (0..2 * groups.len()).map(line).collect();
    BoardView {
        zone_offset: 0,
        clock: clock(),
        closes: None,
        floor: "Harbour floor".into(),
        groups,
        stations,
        happened: Vec::new(),
        help: None,
    }
}

fn absent(name: &str, attendance: Attendance) -> ClientPart {
    ClientPart {
        client: ClientId(9),
        name: name.into(),
        attendance,
        halt: None,
        turn: None,
        in_place_of: None,
        ribbon: Vec::new(),
    }
}

/// An evening on which nothing goes by the book.
pub(crate) fn eventful_board() -> BoardView {
    let mut view = board(3);
    // Somebody is late, somebody is stopped alone, somebody does another exercise.
    view.groups[0].clients[1] = absent("Bram", Attendance::Late);
    view.groups[1].clients[0].halt = Some(HaltPart { halt: HaltKind::Stop, since: at(-20) });
    view.groups[1].clients[1].in_place_of = Some(cable_row());
    if let Some(turn) = &mut view.groups[1].clients[1].turn {
        turn.exercise = in_both("Face pull", "Face Pull am Kabelzug");
    }
    let clients = vec![absent("Umar", Attendance::Expected), absent("Vesna", Attendance::Expected)];
    let coach = "Yara".into();
    let group = GroupId(50);
    view.groups.push(BoardGroup { group, stage: Stage::Expected, coach, place: None, clients, halt: None });
    view.stations[1].state = StationState::OutOfService;
    view.stations[1].out = Some(OutPart { defect: Defect::Cable, since: at(-300) });
    view.stations[4].state = StationState::OtherUse;
    view.stations[4].other_use = Some(OtherUsePart { until: at(700) });
    let happened = |secs: i64, what| HappenedPart { at: at(-secs), what };
    view.happened = vec![
        happened(20, Happening::Stopped { who: "Chidi".into() }),
        happened(130, Happening::SpotterHelped { client: "Ayla".into(), spotter: Some("Zeno".into()) }),
        happened(300, Happening::OutOfService { station: "Row 1".into(), defect: Defect::Cable }),
    ];
    view
}

/// The longest of what can be told.
pub(crate) fn news() -> Vec<HappenedPart> {
    let group = || "Ayla, Bram".to_owned();
    let swapped = Happening::StationSwapped { group: group(), from: "Row 1".into(), to: "Row 2".into() };
    let over = Happening::HandedOver { group: group(), from: "Zeno".into(), to: "Yara".into() };
    let exercise = Happening::ExerciseSwapped {
        client: "Bram".into(),
        from: cable_row(),
        to: in_both("Chest-supported dumbbell row", "Kurzhantelrudern mit Brustauflage"),
    };
    [over, exercise, swapped].into_iter().map(|what| HappenedPart { at: at(-599), what }).collect()
}

/// So many pairs, each at two stations, with names as long as they come.
pub(crate) fn crowd(groups: usize) -> BoardView {
    let mut view = board(groups);
    for (n, group) in view.groups.iter_mut().enumerate() {
        for client in &mut group.clients {
            client.name = format!("{}-{}", client.name, ["Wilhelmina", "Maximiliane"][n % 2]);
            if let Some(turn) = &mut client.turn {
                turn.client.clone_from(&client.name);
                turn.load = turn.load.as_ref().map(|_| card("122.5 kg", None, true));
                turn.then =
                    turn.then.take().map(|then| ThenPart { station: "Kabelzug hinten 12".into(), ..then });
                turn.promise = told_to(turn, "Wanja-Wilhelmina");
            }
        }
    }
    for line in &mut view.stations {
        line.name = line.name.replace("Bench", "Langhantelbank").replace("Row", "Kabelzug hinten");
    }
    view
}

/// That somebody is to spot a set, from when it can begin.
fn told_to(turn: &TurnPart, spotter: &str) -> Option<PromisePart> {
    let TurnPhase::Coming { ready, .. } = &turn.phase else { return None };
    let (about, spotter) = (false, turn.spotted.then(|| spotter.to_owned()));
    Some(PromisePart { start: *ready, about, spotter, reason: StartReason::Rest })
}

/// Ayla is to be spotted in half a minute.
pub(crate) fn spot_board() -> BoardView {
    let mut view = board(2);
    let turn = |view: &mut BoardView, group: usize, client: usize, change: &dyn Fn(&mut TurnPart)| {
        let client = &mut view.groups[group].clients[client];
        change(client.turn.as_mut().unwrap());
        client.ribbon = ribbon_of(client.turn.as_ref().unwrap());
    };
    turn(&mut view, 0, 0, &|turn| {
        turn.phase = coming(rest(23), 23, 12, &[Need::ConfirmLoad, Need::Spotter]);
        turn.spotter = None;
        turn.promise = told_to(turn, "Edda");
    });
    turn(&mut view, 1, 0, &|turn| turn.phase = coming(rest(58), 58, 47, &[Need::ConfirmLoad]));
    view
}

/// Three of one group and two of another: as many as go on a page.
pub(crate) fn five_board() -> BoardView {
    let mut view = spot_board();
    view.groups[0]
        .clients
        .push(client(3, named("Pavo", TurnPart { station: Some(StationId(5)), ..bench(under_way(-9)) })));
    view
}

/// So many seconds before closing.
pub(crate) fn closing(view: BoardView, secs: i64) -> BoardView {
    BoardView { zone_offset: 7_200, closes: Some(at(secs)), ..view }
}

/// Nobody is there yet.
pub(crate) fn calm_board() -> BoardView {
    let mut view = board(0);
    let clients = ["Umar", "Vesna", "Wanja", "Yara"].map(|name| absent(name, Attendance::Expected)).to_vec();
    let mut warm = clients.clone();
    warm[0] = absent("Jonah", Attendance::Here);
    let group = |group, stage, clients| BoardGroup {
        group: GroupId(group),
        stage,
        coach: "Zeno".into(),
        place: None,
        clients,
        halt: None,
    };
    view.groups.extend([group(50, Stage::Expected, clients), group(51, Stage::WarmUp, warm)]);
    view
}

/// The link has been gone for a while.
fn lost() -> LinkState {
    LinkState::Lost { since: at(-73) }
}

/// Every scene of a board.
pub(crate) fn boards() -> Vec<Sample> {
    vec![
        Sample::new("board", View::Board(board(4))),
        Sample::new("board-events", View::Board(eventful_board())),
        Sample::new("board-news", View::Board(BoardView { happened: news(), ..board(2) })),
        Sample::new("board-full", View::Board(board(10))),
        Sample { real: 2 * PAGE_MS, ..Sample::new("board-last-page", View::Board(board(10))) },
        Sample::new("board-spot", View::Board(spot_board())),
        Sample::new("board-five", View::Board(closing(five_board(), 1_500))),
        Sample::new("board-twelve", View::Board(crowd(12))),
        Sample { real: PAGE_MS, ..Sample::new("board-twelve-next", View::Board(crowd(12))) },
        Sample::new("board-closing", View::Board(closing(board(2), 600))),
        Sample::new("board-closing-events", View::Board(closing(eventful_board(), 600))),
        Sample { link: lost(), ..Sample::new("board-lost", View::Board(closing(spot_board(), 600))) },
        Sample::new("board-calm", View::Board(calm_board())),
        Sample::new("board-help", View::Board(BoardView { help: Some(help()), ..board(3) })),
    ]
}
