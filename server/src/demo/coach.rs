//! A coach with a page: which of the expected taps this coach makes, when, and where one must stand for it.

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::{CoachId, StationId, TurnId};
use turnabout_protocol::next::{Change, CoachSaid};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{
    CallPart, CoachGroup, CoachLine, CoachView, ExpectedTap, ProposalPart, TurnPart, TurnPhase,
};

use super::agenda::{Offer, Rank};
use super::script::Script;
use super::told;

/// Everything this coach could do.
///
/// Whoever spots does nothing else until the bar is racked. Whoever stands at a bar stays until that set has
/// gone, unless it cannot go yet, and does no more than can be done from there. Everything waits for HELP NOW except a bar in hand. Another coach's group
/// is helped only while that coach spots. What goes otherwise than planned is in the script.
pub(super) fn offers(view: &CoachView, script: &mut Script) -> Vec<Offer> {
    let Some(me) = view.coaches.iter().find(|line| line.coach == view.me) else { return Vec::new() };
    let page = Page { view, me };
    let help = |call: &&CallPart| call.kind == CallKind::HelpNow && page.attends(call);
    if let Some(call) = view.calls.iter().find(help).filter(|_| me.spotting.is_none()) {
        return vec![attend(call)];
    }
    let bound = me.spotting.or_else(|| page.at_the_bar());
    let hands_free = me.spotting.is_none();
    let mut offers = Vec::new();
    for group in &view.groups {
        let at_hand = |tap: &&ExpectedTap| {
            bound.is_none_or(|turn| is_about(tap, group, turn)) || (hands_free && needs_no_walk(tap))
        };
        let taps = group.taps.iter().filter(at_hand);
        let serves = page.serves(group);
        let taps = taps.filter(|tap| serves || matches!(tap.act, Act::AcceptGroup { .. }));
        offers.extend(taps.filter_map(|tap| page.offer(group, tap)));
        if hands_free && group.coach == me.coach {
            offers.extend(group.clients.iter().flat_map(|client| &client.proposals).filter_map(settle));
        }
    }
    if bound.is_none() {
        offers.extend(view.calls.iter().filter(|call| page.attends(call)).map(attend));
    }
    script.arrivals(view, &mut offers);
    let mishaps = script.coach(view).into_iter();
    offers.extend(mishaps.filter(|m| bound.is_none() || (hands_free && m.place.is_none())));
    offers
}

struct Page<'v> {
    view: &'v CoachView,
    me: &'v CoachLine,
}

impl Page<'_> {
    fn spots(&self, coach: CoachId) -> bool {
        self.view.coaches.iter().any(|line| line.coach == coach && line.spotting.is_some())
    }

    fn serves(&self, group: &CoachGroup) -> bool {
        let mine = group.coach == self.me.coach;
        mine || self.spots(group.coach) || group.clients.iter().any(|c| self.is_mine(c.turn.as_ref()))
    }

    fn is_mine(&self, turn: Option<&TurnPart>) -> bool {
        turn.is_some_and(|turn| turn.spotter.as_ref() == Some(&self.me.name))
    }

    /// The set at whose bar this coach stands and which can go now or in a moment.
    fn at_the_bar(&self) -> Option<TurnId> {
        let groups = self.view.groups.iter();
        let mut taps = groups.flat_map(|group| group.taps.iter().map(move |tap| (group, tap)));
        taps.find_map(|(group, tap)| match &tap.act {
            Act::Go { turn } if self.is_mine(part(group, *turn)) => Some(*turn),
            _ => None,
        })
    }

    /// One coach for each call: the one whose group has the station, or else the first who does not spot.
    fn attends(&self, call: &CallPart) -> bool {
        let station = self.view.stations.iter().find(|line| line.station == call.station);
        let group = station.and_then(|line| line.group);
        let owner = self.view.groups.iter().find(|g| Some(g.group) == group).map(|g| g.coach);
        let owner = owner.filter(|coach| !self.spots(*coach));
        let first = || self.view.coaches.iter().find(|line| line.spotting.is_none()).map(|line| line.coach);
        owner.or_else(first) == Some(self.me.coach)
    }

    fn offer(&self, group: &CoachGroup, tap: &ExpectedTap) -> Option<Offer> {
        let mine = group.coach == self.me.coach;
        let (turn, from, takes, rank) = match &tap.act {
            Act::Arrive { .. } | Act::TakeStations { .. } | Act::AskStations { .. } if mine => {
                (None, tap.from, (4, 12), Rank::Soon)
            }
            // The plates do not make the load: the lighter step that they make.
            Act::SetLoad { turn, .. } if mine => (Some(*turn), tap.from, (10, 25), Rank::Soon),
            Act::Brief { .. } if mine => (None, tap.from, (20, 50), Rank::Soon),
            Act::SwapStation { .. } if mine => (None, tap.from, (1, 3), Rank::AtTheBar),
            Act::StillHere { .. } | Act::AcceptGroup { .. } => (None, tap.from, (2, 6), Rank::Soon),
            Act::FreeStations { .. } if mine => {
                let place = group.stations.first().copied();
                return Some(offer(tap.act.clone(), tap.from, (25, 60), place, Rank::Later));
            }
            // Whoever held the group back had a reason: there is no hurry.
            Act::Resume { .. } if mine => (None, tap.from, (40, 80), Rank::Soon),
            Act::PassTechnique { turn } => (Some(*turn), watched(group, *turn), (1, 4), Rank::Soon),
            // The client loads and confirms, as a rule.
            Act::ConfirmLoad { turn } => (Some(*turn), tap.from, (40, 60), Rank::Later),
            Act::Spot { turn, .. } => {
                let from = ready(group, *turn)? - Millis::secs(10);
                (Some(*turn), from, (1, 4), Rank::AtTheBar)
            }
            Act::Go { turn } => self.go(group, *turn, tap.from)?,
            Act::Done { turn, .. } => {
                let part = part(group, *turn)?;
                let TurnPhase::UnderWay { ends, .. } = part.phase else { return None };
                // The client says it, as a rule; whoever spots is there to see when nobody does.
                let takes = if self.me.spotting == Some(*turn) { (8, 15) } else { (25, 40) };
                (Some(*turn), ends, takes, Rank::Soon)
            }
            // Another coach's decisions.
            Act::Arrive { .. }
            | Act::TakeStations { .. }
            | Act::AskStations { .. }
            | Act::Brief { .. }
            | Act::SwapStation { .. }
            | Act::FreeStations { .. }
            | Act::Resume { .. }
            // What is the client's to say.
            | Act::Effort { .. }
            | Act::Reps { .. }
            | Act::NotYet { .. }
            | Act::MoreRest { .. }
            | Act::Lighter { .. }
            | Act::SetLoad { .. }
            | Act::PlatesOn { .. }
            | Act::PlatesMissing { .. }
            | Act::Skip { .. }
            | Act::SpotBy { .. }
            | Act::UseArms { .. }
            | Act::SetSetting { .. }
            // Made of what the page proposes.
            | Act::SettleLoad { .. }
            // Whoever uses a station or calls is the one to say so, and when it is over.
            | Act::OtherUse { .. }
            | Act::EndOtherUse { .. }
            | Act::Call { .. }
            // Nobody shares stations this evening, nobody gives a group back.
            | Act::GiveLeave { .. }
            | Act::WithdrawAsk { .. }
            | Act::DeclineGroup { .. }
            // These happen where the script says so, not because a page expects them.
            | Act::HandOver { .. }
            | Act::OutOfService { .. }
            | Act::BackInService { .. }
            | Act::SwapExercise { .. }
            | Act::Stop { .. }
            // And these not at all.
            | Act::Pause { .. }
            | Act::WarmedUp { .. }
            | Act::Screen { .. }
            | Act::Leave { .. }
            | Act::MakeUp { .. }
            | Act::SetRounds { .. }
            | Act::DropBlock { .. }
            | Act::EndSession { .. }
            | Act::PassSpotter { .. }
            | Act::Away { .. }
            | Act::Back { .. }
            | Act::LessRest { .. }
            | Act::TreatAsRest { .. }
            | Act::TechniqueAgain { .. }
            | Act::Correct { .. }
            | Act::Answer { .. }
            | Act::Attend { .. }
            | Act::Note { .. }
            | Act::EraseNote { .. }
            | Act::Undo { .. } => return None,
        };
        let place = turn.and_then(|turn| group.stations.get(usize::from(turn.leg)).copied());
        // One's own groups first.
        let rank = if mine || self.me.spotting.is_some() { rank } else { rank.max(Rank::Later) };
        Some(offer(tap.act.clone(), from, takes, place, rank))
    }

    /// GO is for whoever spots; without a spotter it is the client's, unless nobody says it for long.
    fn go(&self, group: &CoachGroup, turn: TurnId, from: FloorMs) -> Option<Planned> {
        let part = part(group, turn)?;
        let from = from.max(ready(group, turn)?);
        if !part.spotted {
            return Some((Some(turn), from, (60, 90), Rank::Spare));
        }
        match &part.spotter {
            Some(spotter) if *spotter == self.me.name => Some((Some(turn), from, (1, 4), Rank::AtTheBar)),
            Some(_) => None,
            // Usually taken to the bar by a tap of its own first; this is for a coach whom the page still
            // sees at a bar where nothing can go.
            None => Some((Some(turn), from, (8, 15), Rank::Later)),
        }
    }
}

/// Which set, from when, how long it takes in seconds, how pressing.
type Planned = (Option<TurnId>, FloorMs, (i64, i64), Rank);

/// What a coach who waits at a bar can do without leaving it.
fn needs_no_walk(tap: &ExpectedTap) -> bool {
    matches!(
        tap.act,
        Act::Arrive { .. } | Act::AcceptGroup { .. } | Act::SwapStation { .. } | Act::StillHere { .. }
    )
}

fn is_about(tap: &ExpectedTap, group: &CoachGroup, bound: TurnId) -> bool {
    match &tap.act {
        Act::PassTechnique { turn }
        | Act::ConfirmLoad { turn }
        | Act::Spot { turn, .. }
        | Act::Go { turn }
        | Act::NotYet { turn }
        | Act::Done { turn, .. }
        | Act::Effort { turn, .. }
        | Act::Reps { turn, .. }
        | Act::SetLoad { turn, .. }
        | Act::Lighter { turn, .. } => *turn == bound,
        Act::Resume { .. } | Act::Pause { .. } => group.group == bound.group,
        // Whoever has a bar in hand sees to it and to nothing else, whatever else there is.
        _ => false,
    }
}

/// The coaches of the demo take what is proposed, once they have read it.
fn settle(part: &ProposalPart) -> Option<Offer> {
    let asks = match part.proposal.change {
        Change::Harder | Change::MoreReps | Change::Easier => part.said.is_none(),
        // A first load holds as proposed, and the same load is nothing to say.
        Change::First | Change::Same => false,
    };
    let said = CoachSaid::Accept;
    let act = Act::SettleLoad { turn: part.turn, proposed: part.proposal, said };
    asks.then(|| offer(act, FloorMs::default(), (4, 12), None, Rank::Soon))
}

fn attend(call: &CallPart) -> Offer {
    let (takes, rank) = match call.kind {
        CallKind::HelpNow => ((1, 3), Rank::Emergency),
        CallKind::CoachPlease => ((5, 20), Rank::Soon),
    };
    offer(Act::Attend { call: call.call }, call.since, takes, Some(call.station), rank)
}

fn part(group: &CoachGroup, turn: TurnId) -> Option<&TurnPart> {
    group.clients.iter().filter_map(|client| client.turn.as_ref()).find(|part| part.turn == turn)
}

fn ready(group: &CoachGroup, turn: TurnId) -> Option<FloorMs> {
    let part = part(group, turn)?;
    match part.phase {
        TurnPhase::Coming { ready, .. } => Some(told::goes(part, ready)),
        TurnPhase::UnderWay { .. } => None,
    }
}

/// From when a coach who watches a technique set has seen enough of it; at once when it is over.
fn watched(group: &CoachGroup, turn: TurnId) -> FloorMs {
    match part(group, turn).map(|part| &part.phase) {
        Some(TurnPhase::UnderWay { starts, ends, .. }) => *starts + Millis(ends.since(*starts).0 * 6 / 10),
        Some(TurnPhase::Coming { .. }) | None => FloorMs::default(),
    }
}

fn offer(act: Act, from: FloorMs, takes: (i64, i64), place: Option<StationId>, rank: Rank) -> Offer {
    Offer { act, from, takes: (Millis::secs(takes.0), Millis::secs(takes.1)), place, rank }
}
