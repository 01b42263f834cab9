//! Coaches' pages of rehearsed evenings, on which something happens all the time.

use std::collections::BTreeMap;

use turnabout_protocol::command::{Act, CallKind, Effort};
use turnabout_protocol::ids::{CallId, CoachId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{CoachView, View};
use turnabout_server::floor::config::Names;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::event::Entry;
use turnabout_server::floor::planned::{NOTHING, Planned};
use turnabout_server::floor::planning::Sight;
use turnabout_server::floor::rehearse::opening::Opening;
use turnabout_server::floor::rehearse::{Chance, Looking, Mishap, Unexpected, Watch, Way, evening};
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::{self, Context};
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::timetable::rehearse::noise::Noise;

/// Of so many pages one is kept: the next is hardly another.
const EACH: usize = 3;

/// What every coach sees from entry to entry.
struct Pages {
    names: Names,
    plan: Planned,
    seen: usize,
    kept: Vec<(FloorMs, CoachView)>,
}

impl Pages {
    fn see(&mut self, state: &State, now: FloorMs) {
        let context =
            Context { names: &self.names, notes: &BTreeMap::new(), zone_offset: 0, plan: &self.plan };
        for coach in state.floor.coaches.keys() {
            self.seen += 1;
            if self.seen.is_multiple_of(EACH) {
                let page = views::view(state, &context, &views::Watch::Coach(*coach));
                let Some(View::Coach(page)) = page else { panic!("a coach's page") };
                self.kept.push((now, page));
            }
        }
    }
}

impl Watch for Pages {
    fn entry(&mut self, state: &State, entry: &Entry) {
        self.see(state, entry.recorded);
    }

    fn looked(&mut self, state: &State, sight: &Sight, now: FloorMs) {
        self.plan = sight.planned(now, Vec::new());
        self.see(state, now);
    }
}

fn coach(n: u16) -> Speaker {
    Speaker { actor: Actor::Coach { coach: CoachId(n) }, stations: Vec::new() }
}

/// What people do beside their sets: somebody calls and a coach comes, a group is held and let go on, a set felt so.
fn beside(opening: &Opening) -> Vec<Mishap> {
    let tap = |secs, by, act| Mishap::Tap(Unexpected { at: FloorMs(0) + Millis::secs(secs), by, act });
    let at_the_station =
        |n| Speaker { actor: Actor::Station { station: StationId(n) }, stations: vec![StationId(n)] };
    let mut all = Vec::new();
    for (n, minute) in (1_u16..).zip([4, 9, 15, 21]) {
        let station = StationId(n);
        let call = Act::Call { station, call: CallKind::CoachPlease };
        all.push(tap(60 * minute, at_the_station(n), call));
        all.push(tap(60 * minute + 70, coach(1 + n % 2), Act::Answer { call: CallId(n.into()) }));
        all.push(tap(60 * minute + 100, coach(1 + n % 2), Act::Attend { call: CallId(n.into()) }));
    }
    for ((group, plan), minute) in opening.state.programme.groups.iter().zip(6..) {
        all.push(tap(60 * minute, coach(1), Act::Pause { group: *group }));
        all.push(tap(60 * minute + 50, coach(1), Act::Resume { group: *group, client: None }));
        let efforts = [Effort::Light, Effort::Heavy, Effort::Right].into_iter().cycle();
        for (client, effort) in plan.clients.iter().zip(efforts) {
            let turn = TurnId { group: *group, client: *client, block: 0, round: 1, leg: 0 };
            all.push(tap(180, coach(2), Act::Effort { turn, effort }));
        }
    }
    all
}

/// The pages of one evening.
pub(crate) fn pages(seed: u64) -> Vec<(FloorMs, CoachView)> {
    let floor = parse_floor("floor.toml", include_str!("../../../server/examples/floor.toml"), None).unwrap();
    let text = include_str!("../../../server/examples/programme.toml");
    let programme = parse_programme("programme.toml", text, &floor.floor).unwrap();
    let mut names = floor.names;
    names.extend(programme.names);
    let opening = Opening::of(floor.floor, programme.programme);
    let mut pages = Pages { names, plan: NOTHING.clone(), seen: 0, kept: Vec::new() };
    let way = Way::Planned(Looking { seed, structural: 60, event: 5 });
    let chance = Chance { noise: Noise::percent(20).unwrap(), seed };
    evening(&opening, way, chance, &beside(&opening), &mut pages).unwrap();
    pages.kept
}
