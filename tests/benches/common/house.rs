//! A server and the displays that watch it, ready for taps.

use std::net::SocketAddr;

use turnabout_protocol::command::{Act, Command};
use turnabout_protocol::frame::ToServer;
use turnabout_protocol::ids::{CommandId, GroupId};
use turnabout_protocol::role::Role;
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

use crate::floor;
use crate::pipes::Pipes;
use crate::websocket;

/// Coaches who tap in turn, so that none taps faster than the server lets anybody.
const TAPPERS: usize = 8;

/// Displays that watch the board, and the coaches who change it.
pub(crate) struct House {
    pipes: Pipes,
    tappers: Vec<usize>,
    displays: usize,
    taps: usize,
    paused: bool,
    /// The newest frame of the board.
    pub(crate) frame: Vec<u8>,
}

impl House {
    /// Connects the coaches, and gives the groups their stations, so that the board has something to show.
    pub(crate) fn open(address: SocketAddr, groups: u16) -> Self {
        let mut pipes = Pipes::new(websocket::split);
        let role = || Role::Coach { coach: "coach-1".parse().expect("a key") };
        // Nothing happens there: a coach who taps is no display.
        let tapper = |_| pipes.add(websocket::connect(address, role(), "station/station-1"));
        let tappers = (0..TAPPERS).map(tapper).collect();
        let mut house = Self { pipes, tappers, displays: 0, taps: 0, paused: false, frame: Vec::new() };
        for group in 1..=groups {
            let stations = floor::stations(group).into();
            let group = GroupId(group.into());
            house.tap(Act::TakeStations { group, block: 0, stations, revision: 0, despite: None });
            house.until_answered();
        }
        house
    }

    /// Lets this many displays watch the board.
    pub(crate) fn watch(&mut self, address: SocketAddr, displays: usize) {
        for _ in 0..displays {
            self.pipes.add(websocket::connect(address, Role::Board, "board"));
            self.displays += 1;
            // One after the other, as displays come.
            self.until_shown(1);
        }
    }

    /// One tap that changes the board; returns when every display has the new view.
    pub(crate) fn round(&mut self) {
        let group = GroupId(1);
        self.tap(if self.paused { Act::Resume { group, client: None } } else { Act::Pause { group } });
        self.paused = !self.paused;
        self.until_shown(self.displays);
    }

    fn tap(&mut self, act: Act) {
        let command = Command { id: CommandId(Uuid::new_v4()), at: FloorMs(0), act };
        let frame = serde_json::to_string(&ToServer::Command(command)).expect("a frame is plain JSON");
        self.pipes.send(self.tappers[self.taps % TAPPERS], &websocket::text(&frame));
        self.taps += 1;
    }

    fn until_shown(&mut self, displays: usize) {
        let Self { pipes, tappers, frame, .. } = self;
        let mut missing = displays;
        while missing > 0 {
            pipes.receive(|number, body| {
                if tappers.contains(&number) {
                    not_refused(body);
                } else if body.starts_with(br#"{"frame":"view""#) {
                    missing -= 1;
                    if missing == 0 {
                        frame.clear();
                        frame.extend_from_slice(body);
                    }
                }
            });
        }
    }

    fn until_answered(&mut self) {
        let mut answered = false;
        while !answered {
            self.pipes.receive(|_, body| answered |= not_refused(body));
        }
    }
}

/// Whether this is the answer to a tap, which must have been accepted.
fn not_refused(body: &[u8]) -> bool {
    let answer = body.starts_with(br#"{"frame":"answer""#);
    let accepted = |body: &[u8]| String::from_utf8_lossy(body).contains("accepted");
    assert!(!answer || accepted(body), "{}", String::from_utf8_lossy(body));
    answer
}
