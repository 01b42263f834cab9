//! Where a coach is, as far as the own page says so, by the same rules.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::view::{CoachClient, CoachGroup, CoachLine, CoachView, SetName, TurnPart, TurnPhase};

/// A coach's page as that coach sees it.
#[derive(Clone, Copy)]
pub(super) struct Eye<'v> {
    pub(super) view: &'v CoachView,
    pub(super) me: Option<&'v CoachLine>,
}

impl<'v> Eye<'v> {
    pub(super) fn of(view: &'v CoachView) -> Self {
        Self { view, me: view.coaches.iter().find(|line| line.coach == view.me) }
    }

    pub(super) fn is_me(&self, name: &str) -> bool {
        self.me.is_some_and(|me| me.name == name)
    }

    pub(super) fn is_mine(&self, group: &CoachGroup) -> bool {
        group.coach == self.view.me
    }

    /// Whether nobody but the coach stands at the bar of a set.
    fn is_alone_at(&self, turn: &TurnPart) -> bool {
        turn.spotter.as_ref().is_none_or(|name| self.is_me(name))
    }

    /// The set that the coach spots, or stands at until it begins.
    pub(super) fn at_my_bar(&self) -> Option<&'v TurnPart> {
        let me = self.me?;
        let all = || self.view.groups.iter().flat_map(|group| turns(&group.clients));
        let stands = |turn: &&TurnPart| {
            matches!(turn.phase, TurnPhase::Coming { .. }) && turn.spotter.as_ref() == Some(&me.name)
        };
        all().find(|turn| me.spotting == Some(turn.turn)).or_else(|| all().find(stands))
    }

    /// Where the coach stands or watches.
    pub(super) fn station(&self) -> Option<StationId> {
        self.at_my_bar().or_else(|| self.watched())?.station
    }

    /// The light set of the coach's own clients that is under way: it is watched, unless another stands there.
    fn watched(&self) -> Option<&'v TurnPart> {
        let mine = self.view.groups.iter().filter(|group| self.is_mine(group));
        mine.flat_map(|group| turns(&group.clients)).find(|turn| {
            is_under_way(turn) && matches!(turn.set, SetName::Technique) && self.is_alone_at(turn)
        })
    }

    /// Whether a set is done that the coach spots, or a light one that the coach has to watch.
    pub(super) fn sees_a_set(&self) -> bool {
        let spotted = self.at_my_bar().map(|turn| turn.turn);
        self.view.groups.iter().any(|group| {
            turns(&group.clients).filter(|turn| is_under_way(turn)).any(|turn| match spotted {
                Some(spotted) => turn.turn == spotted,
                None => {
                    let unseen = does(group, |act| *act == Act::PassTechnique { turn: turn.turn });
                    self.is_alone_at(turn) && self.is_mine(group) && unseen
                }
            })
        })
    }
}

/// Whether the floor expects a tap for a group.
pub(super) fn does(group: &CoachGroup, is: impl Fn(&Act) -> bool) -> bool {
    group.taps.iter().any(|tap| is(&tap.act))
}

fn is_under_way(turn: &TurnPart) -> bool {
    matches!(turn.phase, TurnPhase::UnderWay { .. })
}

fn turns(clients: &[CoachClient]) -> impl Iterator<Item = &TurnPart> {
    clients.iter().filter_map(|client| client.turn.as_ref())
}
