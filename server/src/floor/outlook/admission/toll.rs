//! What a timetable means for one group: when it is done, and its worst rest.

use turnabout_protocol::units::Secs;

use crate::timetable::answer::Timetable;
use crate::timetable::instance::{At, Group, Instance};

/// What a timetable means for one group.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Toll {
    /// When its first turn starts; nothing where nothing is left.
    pub(super) begins: Option<At>,
    /// When its last turn ends.
    pub(super) ends: At,
    /// By how much the worst of its rests is too long.
    pub(super) overrun: Secs,
}

impl Toll {
    /// Of the group at this position.
    pub(super) fn of(instance: &Instance, timetable: &Timetable, place: usize) -> Self {
        let Some(group) = instance.groups.get(place) else { return Self::default() };
        let mut toll = Self::default();
        for member in 0..group.members.len() {
            toll.take(group, member, timetable, place);
        }
        toll
    }

    fn take(&mut self, group: &Group, member: usize, timetable: &Timetable, place: usize) {
        let Some(of) = group.members.get(member) else { return };
        let mut before = of.last_round_end;
        let mut number = None;
        for (at, round) in of.rounds.iter().enumerate() {
            let row =
                timetable.turns.iter().find(|row| (row.group, row.member, row.round) == (place, member, at));
            let spans = row.into_iter().flat_map(|row| row.starts.iter().zip(&round.legs)).filter_map(
                |(start, turn)| {
                    let start = (*start)?;
                    Some((start, At(start.0 + turn.as_ref()?.length.0)))
                },
            );
            let spans: Vec<(At, At)> = spans.collect();
            let Some((start, end)) = spans.first().map(|first| first.0).zip(spans.last().map(|last| last.1))
            else {
                continue;
            };
            // A round under way has its rest behind it; a rest across a missed round has no end.
            let whole = at > 0 || of.under_way.is_none();
            let follows = number.is_none_or(|number| number + 1 == round.number);
            let most = round.rest_max.unwrap_or(group.rest_max);
            if let Some((before, most)) = before.filter(|_| whole && follows).zip(most) {
                let rest = start.0.saturating_sub(before.0);
                self.overrun = self.overrun.max(Secs(rest.saturating_sub(most.0)));
            }
            self.begins = Some(self.begins.map_or(start, |begins| begins.min(start)));
            self.ends = self.ends.max(end);
            (before, number) = (Some(end), Some(round.number));
        }
    }

    /// How much worse this is than another one: later by, or a longer worst rest by, whichever is more.
    pub(super) fn beyond(self, other: Self) -> Secs {
        let later = self.ends.0.saturating_sub(other.ends.0);
        Secs(later.max(self.overrun.0.saturating_sub(other.overrun.0)))
    }
}

/// When a group's last turn at a station ends.
pub(super) fn last_at(
    instance: &Instance,
    timetable: &Timetable,
    place: usize,
    station: usize,
) -> Option<At> {
    let group = instance.groups.get(place)?;
    let ends = timetable.turns.iter().filter(|row| row.group == place).flat_map(|row| {
        let stations = timetable.stations.get(place).and_then(|rows| rows.get(row.member));
        let round = group.members.get(row.member).and_then(|member| member.rounds.get(row.round));
        row.starts.iter().enumerate().filter_map(move |(leg, start)| {
            let turn = round?.legs.get(leg)?.as_ref()?;
            (stations?.get(leg) == Some(&station)).then_some(At((*start)?.0 + turn.length.0))
        })
    });
    ends.max()
}
