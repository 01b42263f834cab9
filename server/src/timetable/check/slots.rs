//! Every turn of a timetable in one list, with what comes before it at its station and for its coach.

use turnabout_protocol::units::Secs;

use super::super::answer::Timetable;
use super::super::instance::{Instance, Load, Spot};

/// Where a turn stands in the instance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Place {
    pub(super) group: usize,
    pub(super) member: usize,
    pub(super) round: usize,
    pub(super) leg: usize,
}

/// When a coach is needed for a turn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spotted {
    pub(super) coach: usize,
    /// Seconds after the start.
    pub(super) from: i64,
    /// Seconds after the start.
    pub(super) to: i64,
    /// When the coach is there, after those who come before.
    pub(super) coach_there: i64,
}

/// One turn. Instants are seconds and may lie before zero: a change takes the time before a turn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slot<'i> {
    pub(super) place: Place,
    pub(super) station: usize,
    pub(super) start: i64,
    pub(super) end: i64,
    pub(super) load: Option<&'i Load>,
    pub(super) spotted: Option<Spotted>,
    /// When the station is free, after those who come before.
    pub(super) station_free: i64,
    /// How long the change of load before the turn takes.
    pub(super) change: i64,
    /// What is on the station after the turn.
    pub(super) after: Option<&'i Load>,
}

impl Slot<'_> {
    pub(super) const fn length(&self) -> i64 {
        self.end - self.start
    }
}

/// Seconds as a signed number.
pub(super) fn secs(secs: Secs) -> i64 {
    i64::from(secs.0)
}

/// All turns that are still to be done.
#[derive(Debug)]
pub(super) struct Slots<'i> {
    all: Vec<Slot<'i>>,
    /// By group and member: where the turns of each round begin, and behind the last round where they end.
    rounds: Vec<Vec<Vec<usize>>>,
    /// By group and member: the station of each leg.
    pub(super) stations: &'i [Vec<Vec<usize>>],
}

impl<'i> Slots<'i> {
    /// The turns of a timetable that is one of the instance.
    pub(super) fn new(instance: &'i Instance, timetable: &'i Timetable) -> Self {
        let mut order: Vec<_> = timetable.turns.iter().collect();
        order.sort_unstable_by_key(|turn| (turn.group, turn.member, turn.round));
        let mut entries = order.into_iter();
        let mut all = Vec::new();
        let mut rounds = Vec::with_capacity(instance.groups.len());
        for (group, one) in instance.groups.iter().enumerate() {
            let mut of_group = Vec::with_capacity(one.members.len());
            for (member, client) in one.members.iter().enumerate() {
                let mut of_member = vec![all.len()];
                for (round, what) in client.rounds.iter().enumerate() {
                    let starts = entries.next().map_or([].as_slice(), |entry| entry.starts.as_slice());
                    for (leg, (turn, start)) in what.legs.iter().zip(starts).enumerate() {
                        let Some((turn, start)) = turn.as_ref().zip(*start) else { continue };
                        let start = i64::from(start.0);
                        let needed = |Spot { from, to }: Spot| Spotted {
                            coach: what.coach.unwrap_or(one.coach),
                            from: secs(from),
                            to: secs(to),
                            coach_there: 0,
                        };
                        all.push(Slot {
                            place: Place { group, member, round, leg },
                            station: timetable.stations[group][member][leg],
                            start,
                            end: start + secs(turn.length),
                            load: turn.load.as_ref(),
                            spotted: turn.spot.map(needed),
                            station_free: 0,
                            change: 0,
                            after: None,
                        });
                    }
                    of_member.push(all.len());
                }
                of_group.push(of_member);
            }
            rounds.push(of_group);
        }
        Self { all, rounds, stations: &timetable.stations }
    }

    /// One turn.
    pub(super) fn get(&self, index: usize) -> &Slot<'i> {
        &self.all[index]
    }

    /// The same, to say what comes before it.
    pub(super) fn get_mut(&mut self, index: usize) -> &mut Slot<'i> {
        &mut self.all[index]
    }

    /// The turns of one round, in the order of the legs. There is at least one.
    pub(super) fn round(&self, group: usize, member: usize, round: usize) -> &[Slot<'i>] {
        let bounds = &self.rounds[group][member];
        &self.all[bounds[round]..bounds[round + 1]]
    }

    /// By station, the turns there in the order in which they count as coming.
    pub(super) fn by_station(&self, instance: &Instance) -> Vec<Vec<usize>> {
        let mut lists = vec![Vec::new(); instance.stations.len()];
        for (index, slot) in self.all.iter().enumerate() {
            lists[slot.station].push(index);
        }
        for list in &mut lists {
            list.sort_unstable_by_key(|index| {
                let slot = &self.all[*index];
                (slot.start, slot.end, slot.place)
            });
        }
        lists
    }

    /// By coach, the turns they spot in the order in which they count as coming, with the instants of spotting.
    pub(super) fn by_coach(&self, instance: &Instance) -> Vec<Vec<(i64, i64, Place, usize)>> {
        let mut lists = vec![Vec::new(); instance.coaches.len()];
        for (index, slot) in self.all.iter().enumerate() {
            if let Some(spotted) = slot.spotted {
                let (from, to) = (slot.start + spotted.from, slot.start + spotted.to);
                lists[spotted.coach].push((from, to, slot.place, index));
            }
        }
        for list in &mut lists {
            list.sort_unstable();
        }
        lists
    }
}
