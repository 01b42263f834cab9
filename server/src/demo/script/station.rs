//! The moments of the mishaps at a station's display, and how they end.

use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{Act, CallKind, Effort, Ending};
use turnabout_protocol::units::{FloorMs, Mass, Millis};
use turnabout_protocol::view::{After, SetName, StationPart, StationState, TurnPart, TurnPhase};

use super::{Mishap, Script, offer};
use crate::demo::agenda::{Offer, Rank};

/// How long somebody of the public says it will take, in minutes.
const PUBLIC_MINUTES: u8 = 2;
/// And how much earlier they get up.
const UP_EARLIER: Millis = Millis::secs(30);

/// Small plates are those that get lost, and that nothing else stands in for.
const SMALL: Mass = Mass::from_grams(2_500);
/// Plates that cannot be found turn up after so long.
const FOUND_AFTER: Millis = Millis::secs(3 * 60);

/// What people at a display have seen and done there.
#[derive(Clone, Debug, Default)]
pub(super) struct Onlooker {
    /// Somebody has done a working set here.
    worked: bool,
    /// Somebody of the public is on the station, as was said here.
    public: bool,
    /// The plates that cannot be found here, and since when.
    missing: Option<(PlatePart, FloorMs)>,
}

impl Onlooker {
    pub(super) fn answered(&mut self, act: &Act, taken_down: bool, at: FloorMs) {
        if let Act::OtherUse { .. } = act {
            self.public = taken_down;
        }
        if let Act::PlatesMissing { plate, count, .. } = act {
            // Refused, because they have been found: there is nothing left to look for.
            self.missing = (*count > 0 && taken_down).then_some((*plate, at));
        }
        if let Act::EndOtherUse { .. } = act {
            // Refused, because it has ended by itself: it is over all the same.
            self.public = false;
        }
    }
}

impl Script {
    /// What the mishaps add to what people at a display could tap.
    pub(in crate::demo) fn station(&mut self, part: &StationPart, offers: &mut Vec<Offer>) {
        if let Some(turn) = &part.turn {
            self.station.worked |= turn.turn.round > 0 && is_under_way(turn);
            offers.extend(self.help_now(part, turn));
        }
        offers.extend(self.plates_missing(part));
        offers.extend(self.plates_found(part));
        offers.extend(self.other_use(part));
        offers.extend(self.end_other_use(part));
    }

    /// What is said at the end of a set that goes up with help only, where this is one: a later working set
    /// with a spotter.
    pub(in crate::demo) fn helped(&self, part: &TurnPart) -> Option<Offer> {
        let later = matches!(part.set, SetName::Working { n, .. } if n >= 2);
        let TurnPhase::UnderWay { ends, .. } = part.phase else { return None };
        let act = Act::Done {
            turn: part.turn,
            reps: Some(part.reps),
            effort: Some(Effort::Heavy),
            ending: Some(Ending::Helped { reps: 1 }),
        };
        let helped = self.awaits(Mishap::Helped) && later && part.spotted;
        // The last repetition takes its time.
        helped.then(|| offer(act, ends, (2, 5), Rank::AtTheBar))
    }

    fn help_now(&self, part: &StationPart, turn: &TurnPart) -> Option<Offer> {
        let (TurnPhase::Coming { after: After::Rest { since, .. }, .. }, SetName::Working { n, of }) =
            (&turn.phase, turn.set)
        else {
            return None;
        };
        let act = Act::Call { station: part.station, call: CallKind::HelpNow };
        let last = n == of && self.awaits(Mishap::HelpNow);
        last.then(|| offer(act, *since + Millis::secs(5), (1, 4), Rank::Emergency))
    }

    /// Somebody rests before a later set, and its plates are to be changed or have been put on.
    fn plates_missing(&self, part: &StationPart) -> Option<Offer> {
        let turn = part.turn.as_ref().filter(|_| self.awaits(Mishap::MissingPlate))?;
        let TurnPhase::Coming { after: After::Rest { since, .. }, .. } = turn.phase else { return None };
        // Where no load of the evening has small ones, others are lost before the last set.
        let last = matches!(turn.set, SetName::Working { n, of } if n == of);
        let outermost = turn.load.as_ref()?.bar.as_ref()?.side.last().copied();
        let plate = outermost.filter(|plate| last || plate.mass <= SMALL)?;
        let act = Act::PlatesMissing { station: part.station, plate, count: 2 };
        Some(offer(act, since + Millis::secs(10), (1, 5), Rank::Soon))
    }

    fn plates_found(&self, part: &StationPart) -> Option<Offer> {
        let (plate, since) = self.station.missing?;
        let act = Act::PlatesMissing { station: part.station, plate, count: 0 };
        Some(offer(act, since + FOUND_AFTER, (5, 20), Rank::Later))
    }

    /// The station is reserved, its group has worked there, and nobody is on it.
    fn other_use(&self, part: &StationPart) -> Option<Offer> {
        let idle = part.state == StationState::Reserved && self.station.worked;
        let act = Act::OtherUse { station: part.station, minutes: PUBLIC_MINUTES };
        let from = FloorMs::default();
        (idle && self.awaits(Mishap::OtherUse)).then(|| offer(act, from, (2, 6), Rank::Soon))
    }

    fn end_other_use(&self, part: &StationPart) -> Option<Offer> {
        let until = part.other_use.filter(|_| self.station.public)?.until;
        let act = Act::EndOtherUse { station: part.station };
        Some(offer(act, until - UP_EARLIER, (0, 10), Rank::Soon))
    }
}

fn is_under_way(turn: &TurnPart) -> bool {
    matches!(turn.phase, TurnPhase::UnderWay { .. })
}
