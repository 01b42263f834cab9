//! The processes of the evening, and one step of it: a tap that is due, or the clock.

use std::net::SocketAddr;

use turnabout_protocol::command::{Act, Command, Effort};
use turnabout_protocol::frame::{ToDisplay, ToServer};
use turnabout_protocol::ids::{ClientId, CommandId, DeviceId, TurnId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::Actor;
use turnabout_protocol::role::Role;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{After, CoachGroup, CoachView, Need, Stage, TurnPart, TurnPhase, View};
use turnabout_tests::harness::{Display, Program, command, request};

use crate::kiosk::Kiosk;

/// The second exercise is done at the row, where the clients tap at the kiosk.
const AT_THE_ROW: u8 = 1;

/// The pair: who lifts first, and who spots that once.
const LIFTER: ClientId = ClientId(104);
const PARTNER: ClientId = ClientId(105);

pub(crate) struct Room {
    pub(crate) folder: tempfile::TempDir,
    pub(crate) address: SocketAddr,
    server: Program,
    pub(crate) coach: Display,
    pub(crate) bench: Kiosk,
    pub(crate) row: Kiosk,
    /// The coach's page as it was last shown.
    pub(crate) page: CoachView,
    /// Every command the coach sent.
    pub(crate) sent: Vec<Command>,
    /// Those that were accepted, with the answer.
    pub(crate) accepted: Vec<(CommandId, Outcome)>,
    /// Sets that were said to be done at the row, and were not: each client is wrong once.
    pub(crate) taken_back: Vec<TurnId>,
    /// Sets that a partner spotted.
    pub(crate) partner_spotted: Vec<TurnId>,
}

/// What is to be done next.
enum Next {
    Tap(Act),
    /// At the row's kiosk: the button, and the set it is about.
    Press(&'static str, TurnId),
    /// At the bench's kiosk: a partner spots this set.
    Spot(TurnId),
    Advance(Millis),
}

impl Room {
    pub(crate) async fn open() -> Self {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("floor.toml"), include_str!("floor.toml")).unwrap();
        std::fs::write(folder.path().join("programme.toml"), include_str!("programme.toml")).unwrap();
        let (server, address) = serve(folder.path(), "127.0.0.1:0").await;
        let mut coach = coach(address, None).await;
        let View::Coach(page) = coach.view().await else { panic!("a coach's page") };
        Self {
            bench: Kiosk::at(address, "bench-1"),
            row: Kiosk::at(address, "row-1"),
            folder,
            address,
            server,
            coach,
            page,
            sent: Vec::new(),
            accepted: Vec::new(),
            taken_back: Vec::new(),
            partner_spotted: Vec::new(),
        }
    }

    /// A client of a group that rests, with the set that comes next.
    pub(crate) fn resting(&self) -> Option<TurnPart> {
        let now = self.coach.now;
        let turns = self.page.groups.iter().flat_map(|g| &g.clients).filter_map(|c| c.turn.clone());
        turns.into_iter().find(|turn| match turn.phase {
            TurnPhase::Coming { after: After::Rest { .. }, ready, .. } => now < ready,
            TurnPhase::Coming { .. } | TurnPhase::UnderWay { .. } => false,
        })
    }

    /// Brings the page up to date.
    pub(crate) async fn look(&mut self) {
        for frame in self.coach.until_time(0).await {
            self.take(frame);
        }
    }

    fn take(&mut self, frame: ToDisplay) {
        if let ToDisplay::View { view: View::Coach(page), .. } = frame {
            self.page = page;
        }
    }

    /// Whether no set is under way, so that a station shows who comes next.
    pub(crate) fn nobody_works(&self) -> bool {
        let turns = self.page.groups.iter().flat_map(|group| &group.clients).filter_map(|c| c.turn.as_ref());
        !turns.into_iter().any(|turn| matches!(turn.phase, TurnPhase::UnderWay { .. }))
    }

    /// Does what is due, or lets the clock go on to what comes next.
    pub(crate) async fn step(&mut self) {
        self.look().await;
        match self.next() {
            Next::Tap(act) => self.tap(act).await,
            Next::Press(button, turn) => {
                self.press(button, turn).await;
                if button == "done_right" && self.taken_back.iter().all(|t| t.client != turn.client) {
                    self.taken_back.push(turn);
                    self.row.take_back().await;
                    self.until_changed(turn).await;
                }
            }
            Next::Spot(turn) => {
                self.partner_spotted.push(turn);
                self.bench.press("spot_by", turn).await;
                self.until_changed(turn).await;
            }
            Next::Advance(by) => self.advance(by).await,
        }
    }

    fn next(&self) -> Next {
        let now = self.coach.now;
        let mut later = Vec::new();
        for group in &self.page.groups {
            for tap in &group.taps {
                let from = match &tap.act {
                    // Nobody says done before the set is over.
                    Act::Done { turn, .. } => ends(group, turn.client).unwrap_or(now),
                    _ => tap.from,
                };
                if from > now {
                    later.push(from);
                    continue;
                }
                return match &tap.act {
                    Act::Go { turn } if self.wants_partner(*turn) => self.partner(group, *turn),
                    Act::Go { turn } if turn.leg == AT_THE_ROW => Next::Press("go", *turn),
                    Act::Done { turn, .. } if turn.leg == AT_THE_ROW => Next::Press("done_right", *turn),
                    Act::Done { turn, .. } => Next::Tap(Act::Done {
                        turn: *turn,
                        reps: None,
                        effort: Some(Effort::Right),
                        ending: None,
                    }),
                    act => Next::Tap(act.clone()),
                };
            }
        }
        let by = later.into_iter().min().map_or(Millis::secs(5), |at| at.since(now));
        Next::Advance(by)
    }

    /// The first set of the pair's first client is spotted by the other, who waits for the bench: later on each
    /// of them lifts while the other does.
    fn wants_partner(&self, turn: TurnId) -> bool {
        (turn.client, turn.round) == (LIFTER, 0)
            && turn.leg != AT_THE_ROW
            && !self.partner_spotted.contains(&turn)
    }

    /// The coach passes the partner, who then says so at the bench.
    fn partner(&self, group: &CoachGroup, turn: TurnId) -> Next {
        let of = |id: ClientId| group.clients.iter().find(|client| client.client == id).unwrap();
        let exercise = of(turn.client).exercise.unwrap();
        if of(PARTNER).spots.contains(&exercise) {
            return Next::Spot(turn);
        }
        Next::Tap(Act::PassSpotter { group: turn.group, client: PARTNER, exercise })
    }

    async fn tap(&mut self, act: Act) {
        let command = command(self.coach.now, act);
        let before = self.page.clone();
        self.sent.push(command.clone());
        let answer = self.say(&command).await;
        if let (Act::TakeStations { .. }, Outcome::Already { by: Actor::Floor, .. }) = (&command.act, &answer)
        {
            // The wait list was faster than the page.
            return self.look().await;
        }
        assert!(matches!(answer, Outcome::Accepted { .. }), "{command:?} led to {answer:?}");
        self.accepted.push((command.id, answer));
        // The answer and the view that shows it may come in either order, and a view of the plan alone between them.
        while self.page == before || offers(&self.page, &command.act) {
            let frame = self.coach.frame().await;
            self.take(frame);
        }
    }

    /// Sends a command from the coach's page and waits for its answer.
    pub(crate) async fn say(&mut self, command: &Command) -> Outcome {
        self.coach.send(&ToServer::Command(command.clone())).await;
        loop {
            match self.coach.frame().await {
                ToDisplay::Answer { id, answer } if id == command.id => return answer,
                frame => self.take(frame),
            }
        }
    }

    /// Presses a live button at the row's kiosk, and waits until the coach's page shows what it did.
    async fn press(&mut self, button: &'static str, turn: TurnId) {
        self.row.press(button, turn).await;
        self.until_changed(turn).await;
    }

    /// Waits until the coach's page shows what a press did to a set.
    async fn until_changed(&mut self, turn: TurnId) {
        loop {
            let before = self.page.clone();
            let frame = self.coach.frame().await;
            self.take(frame);
            if self.page != before && state_of(&self.page, turn) != state_of(&before, turn) {
                return;
            }
        }
    }

    async fn advance(&mut self, by: Millis) {
        let body = format!("{{\"by_ms\":{}}}", by.0);
        let reply = request(self.address, "POST", "/clock/advance", &body).await;
        assert_eq!(reply.status, 200, "{reply:?}");
        let until = self.coach.now + by;
        while self.coach.now < until {
            let frame = self.coach.frame().await;
            self.take(frame);
        }
    }

    /// SIGKILL, and the same command line again.
    pub(crate) async fn kill_and_restart(&mut self) {
        let now = self.coach.now;
        self.server.kill().await;
        for kiosk in [&mut self.bench, &mut self.row] {
            kiosk.until("a lost link", |line| !line.link().is_empty()).await;
        }
        let (server, again) = serve(self.folder.path(), &self.address.to_string()).await;
        assert_eq!(again, self.address);
        self.server = server;
        for kiosk in [&mut self.bench, &mut self.row] {
            kiosk.until("the link again", |line| line.link().is_empty()).await;
        }
        self.coach = coach(self.address, Some(self.coach.device)).await;
        assert!(self.coach.now <= now, "a driven clock goes on from its last entry");
        let View::Coach(page) = self.coach.view().await else { panic!("a coach's page") };
        self.page = page;
    }

    /// Ends everything in order.
    pub(crate) async fn close(self) -> tempfile::TempDir {
        let status = self.server.interrupt().await;
        assert!(status.success(), "Ctrl-C ends the server with 0, not {status}");
        for kiosk in [self.bench, self.row] {
            assert!(kiosk.close().await.success(), "a kiosk ends with 0");
        }
        self.folder
    }
}

async fn serve(folder: &std::path::Path, listen: &str) -> (Program, SocketAddr) {
    let path = |name: &str| folder.join(name).display().to_string();
    let (floor, programme, data) = (path("floor.toml"), path("programme.toml"), path("data"));
    let arguments = [
        "serve",
        "--floor",
        &floor,
        "--programme",
        &programme,
        "--data",
        &data,
        "--listen",
        listen,
        "--pace",
        "0",
    ];
    let mut server = Program::ours("turnabout", &arguments);
    let line = server.line().await.expect("the server says where it is");
    let address = line.rsplit("http://").next().unwrap().parse().unwrap_or_else(|_| panic!("{line}"));
    (server, address)
}

async fn coach(address: SocketAddr, device: Option<DeviceId>) -> Display {
    let role = Role::Coach { coach: "coach-1".parse().unwrap() };
    Display::open_as(address, device, role, "coach/coach-1").await
}

fn turn_of(group: &CoachGroup, client: ClientId) -> Option<&TurnPart> {
    group.clients.iter().find(|c| c.client == client)?.turn.as_ref()
}

fn ends(group: &CoachGroup, client: ClientId) -> Option<FloorMs> {
    match turn_of(group, client)?.phase {
        TurnPhase::UnderWay { ends, .. } => Some(ends),
        TurnPhase::Coming { .. } => None,
    }
}

/// Whether a page still asks for a tap.
fn offers(page: &CoachView, wanted: &Act) -> bool {
    let same = |act: &Act| match (act, wanted) {
        // How it felt is ours to add.
        (Act::Done { turn, .. }, Act::Done { turn: other, .. }) => turn == other,
        (act, wanted) => act == wanted,
    };
    page.groups.iter().flat_map(|group| &group.taps).any(|tap| same(&tap.act))
}

/// What a tap about a set changes: whether it is under way, and what stands in its way.
fn state_of(page: &CoachView, turn: TurnId) -> (Stage, Option<(TurnId, bool, Vec<Need>)>) {
    let group = page.groups.iter().find(|g| g.group == turn.group).unwrap();
    let state = turn_of(group, turn.client).map(|part| match &part.phase {
        TurnPhase::Coming { needs, .. } => (part.turn, false, needs.clone()),
        TurnPhase::UnderWay { .. } => (part.turn, true, Vec::new()),
    });
    (group.stage, state)
}
