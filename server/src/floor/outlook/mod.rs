//! The floor as a planning problem: what is left to do, from the state and the present instant, and who is who in it.
//!
//! What is planned:
//! - the block in hand of every group that has its stations, and of the first [`limits::WAITING`] groups that wait for
//!   them. Later blocks are not planned, nor are groups that have neither stations nor a place in the wait list. Before
//!   an evening begins, [`Outlook::ahead`] states all blocks of it;
//! - of a group everybody who is there. Nobody waits for a client who has not come, has left, or is stopped alone. A
//!   group that is held as a whole is planned as if it went on now, for nobody knows when it will;
//! - light sets as rounds in front, each with its own load; a light set that was asked for once more makes the coming
//!   set of the same exercise longer.
//!
//! A turn begins with GO and ends when the weight is racked and somebody has said so, see [`length`]. Times are whole
//! seconds of one [`Axis`], rounded up.
//!
//! What a plan cannot say, it leaves out: that a third group may not work in, that stations are kept until they are
//! wiped down, that a client spots another before somebody says so. The floor goes by its own rules whatever the plan
//! says.

pub mod admission;
mod axis;
pub mod because;
mod coaches;
mod cuts;
pub mod flat;
mod ground;
mod group;
mod handling;
pub mod kept;
mod length;
mod member;
mod prices;
mod rounds;
mod stations;
pub mod too_large;
mod turns;
mod who;

pub use self::axis::{Axis, FOLD, HORIZON};
pub use self::cuts::Cuts;
pub(in crate::floor) use self::handling::change;
pub(in crate::floor) use self::length::begun;
pub use self::length::{Learned, Lengths, OVERDUE, RACKED, SetWork};
pub(in crate::floor) use self::stations::walk;
pub use self::who::{RoundKey, TurnPlace, Who};

use turnabout_protocol::ids::GroupId;
use turnabout_protocol::units::FloorMs;

use self::ground::Ground;
use self::group::Planned;
use self::who::Places;
use super::state::{Ask, Promise, State};
use crate::timetable::instance::Instance;

/// How large the problem of a floor can become.
pub mod limits {
    use crate::floor::config::limits::GROUPS as ALL;
    use crate::training::block::limits::ROUNDS as WORKING;

    /// Groups that wait for stations and are planned already: more than begin within an hour on any floor.
    pub const WAITING: usize = 20;
    /// Sessions of an evening that is planned ahead: twice as many. Nobody waits at a station for such a plan, which may
    /// take its time.
    pub const SESSIONS: usize = 40;
    /// Blocks of all these sessions together: four of each. Where there are more, the last blocks of the longest sessions
    /// are left out, and never a whole session.
    pub const BLOCKS: usize = 4 * SESSIONS;
    /// Groups at most: all of an evening.
    pub const GROUPS: usize = ALL;
    /// Rounds of one client at most: working ones, as many that are made up for, and two light ones.
    pub const ROUNDS: usize = 2 * WORKING as usize + 2;
}

/// What is left to do on a floor, and who is who in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outlook {
    /// The problem.
    pub instance: Instance,
    /// Which position in it is what on the floor.
    pub who: Who,
    /// The positions of stations on which a set is overdue: when they are free in the problem is a guess.
    overdue: Vec<usize>,
    /// When each set under way should be racked.
    racked: Vec<FloorMs>,
    /// Turns that do not begin before they were told, though they could: nothing else put them off.
    held: Vec<TurnPlace>,
}

/// The name of every instance that is made here; a timetable repeats it.
const NAME: &str = "floor";

impl Outlook {
    /// What is left to do at `now`. `cuts` keeps from one time to the next which plates make a load.
    #[must_use]
    pub fn of(state: &State, now: FloorMs, cuts: &mut Cuts) -> Self {
        Self::knowing(state, now, &Learned, cuts)
    }

    /// The same where something else is known of how long sets last than what the floor has learned.
    #[must_use]
    pub fn knowing(state: &State, now: FloorMs, lengths: &dyn Lengths, cuts: &mut Cuts) -> Self {
        Self::with(Ground::of(state, now, lengths), &[], cuts)
    }

    /// The same where some groups more had asked for stations, after those who have.
    fn with(ground: Ground<'_>, more: &[Ask], cuts: &mut Cuts) -> Self {
        Self::stated(ground, &group::planned(ground.state, more), cuts)
    }

    /// An evening ahead, with blocks that no group has in hand yet: of each of these states what its group waits for. They
    /// must all be states of the same floor and evening as `state`. What a group does not wait for, or has no stations
    /// for, is left out, see [`Self::waits`].
    ///
    /// A group is in it once for each of its blocks, in the order of `waiting`: what is asked by a group's id here is of the
    /// first of them.
    #[must_use]
    pub fn ahead(state: &State, waiting: &[(&State, GroupId)], now: FloorMs, cuts: &mut Cuts) -> Self {
        let planned = waiting.iter().filter_map(|(state, group)| group::in_line(state, *group));
        Self::stated(Ground::of(state, now, &Learned), &planned.collect::<Vec<_>>(), cuts)
    }

    /// Whether a group waits for stations and there are some that suit, so that it can be planned.
    #[must_use]
    pub fn waits(state: &State, group: GroupId) -> bool {
        group::in_line(state, group).is_some()
    }

    fn stated(ground: Ground<'_>, planned: &[Planned<'_>], cuts: &mut Cuts) -> Self {
        let Ground { state, now, axis, .. } = ground;
        let places = Places::of(planned);
        let made: Vec<_> =
            planned.iter().map(|planned| group::made(planned, ground, &places, cuts)).collect();
        let (groups, whos) = made.into_iter().unzip();
        let walk = stations::walks(&state.floor, &places.stations);
        let instance = Instance {
            name: NAME.to_owned(),
            now: axis.up(now),
            weights: prices::weights(),
            plate: prices::PLATE,
            collar: prices::COLLAR,
            pin: prices::PIN,
            changeover_wait_max: Some(prices::CHANGEOVER_WAIT),
            stations: stations::stations(ground, &places.stations, cuts),
            coach_walk: walk.clone(),
            walk,
            coaches: coaches::coaches(ground, &places),
            groups,
        };
        let overdue = stations::overdue(ground, &places.stations);
        let racked = state.under_way().map(|set| length::racked(ground, set)).collect();
        let mut outlook =
            Self { instance, who: Who { axis, places, groups: whos }, overdue, racked, held: Vec::new() };
        outlook.tell(&state.promises);
        outlook
    }

    /// When each set under way should be racked.
    pub(in crate::floor) fn racked(&self) -> impl Iterator<Item = FloorMs> {
        self.racked.iter().copied()
    }

    /// Takes in what people have been told. Whoever was told to the second when to begin a round does not begin before: an
    /// earlier start would be shown to nobody, and what is planned around it would not come true. Who is between two
    /// exercises goes on as soon as can be.
    fn tell(&mut self, promises: &[Promise]) {
        for promise in promises {
            let Some(place) = self.who.place(promise.turn) else { continue };
            let TurnPlace { group, member, round, leg } = place;
            let start = self.who.second(promise.start);
            let members = self.instance.groups.get_mut(group).map(|group| &mut group.members);
            let Some(member) = members.and_then(|members| members.get_mut(member)) else { continue };
            let begins = round == 0 && member.under_way.is_none();
            let Some(round) = member.rounds.get_mut(round) else { continue };
            if let Some(told) = round.told.get_mut(leg) {
                *told = Some(start);
            }
            // What has come bars nothing, and is nobody's reason to wait.
            let binds = begins && !promise.about && start > self.instance.now;
            if binds && round.not_before < Some(start) {
                round.not_before = Some(start);
                self.held.push(place);
            }
        }
    }
}
