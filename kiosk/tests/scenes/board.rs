//! The wall: groups at every point of an evening, and what happened.

use super::*;

fn client(n: u32, turn: TurnPart) -> ClientPart {
    ClientPart {
        client: ClientId(n),
        name: turn.client.clone(),
        attendance: Attendance::Here,
        halt: None,
        turn: Some(turn),
        in_place_of: None,
        ribbon: Vec::new(),
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

/// Every scene of a board.
pub(crate) fn boards() -> Vec<Sample> {
    vec![
        Sample::new("board", View::Board(board(4))),
        Sample::new("board-events", View::Board(eventful_board())),
        Sample::new("board-news", View::Board(BoardView { happened: news(), ..board(2) })),
        Sample::new("board-full", View::Board(board(10))),
        Sample { real: 2 * PAGE_MS, ..Sample::new("board-last-page", View::Board(board(10))) },
        Sample::new("board-help", View::Board(BoardView { help: Some(help()), ..board(3) })),
    ]
}
