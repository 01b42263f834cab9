//! How numbers, masses, needs and refusals read on a display.

use serde_json::Value;
use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::{FloorMs, Mass, MassUnit, Millis};
use turnabout_protocol::view::{BoardGroup, Need, PartnerPart, StationPart, View};

use super::phase::{Phase, PhaseKind, Tally};

/// Whole seconds as minutes and seconds: `1:05`.
pub(super) fn m_ss(secs: i64) -> String {
    let secs = secs.max(0);
    format!("{}:{:02}", secs / 60, secs % 60)
}

/// About so many minutes: what people say of a time that nobody knows to the second.
pub(super) fn about(language: Language, left: Millis) -> String {
    let minutes = left.ceil_secs().max(0).saturating_add(59) / 60;
    with(language, "label.minutes", &[("n", &minutes.max(1).to_string())])
}

/// What is left of `left`, never below zero.
pub(super) fn left(left: Millis) -> String {
    m_ss(left.ceil_secs())
}

/// About what is left of `left`, in steps of five seconds: a start that is told so moves by that or more.
pub(super) fn roughly(left: Millis) -> String {
    const STEP: i64 = 5;
    format!("~{}", m_ss((left.ceil_secs() + STEP - 1).div_euclid(STEP) * STEP))
}

/// The number pair of a phase; empty where there is none. From GO to the first repetition it is a bare number.
pub(super) fn tally(phase: Phase) -> String {
    match phase.tally {
        Some(Tally::Down(left)) if matches!(phase.kind, PhaseKind::GetSet | PhaseKind::CountIn) => {
            left.ceil_secs().to_string()
        }
        Some(Tally::Down(d)) => left(d),
        Some(Tally::About(d)) => roughly(d),
        Some(Tally::Up(past)) => format!("+{}", m_ss(past.floor_secs())),
        None => String::new(),
    }
}

/// What stands before a number or the name of a station, and that: that it goes up or is not exact, how many of it there
/// are, or that one goes there. On a screen it is smaller.
#[must_use]
pub fn apart(text: &str) -> (&str, &str) {
    let sign = text.char_indices().rfind(|(_, letter)| matches!(letter, '+' | '~' | '×' | '→'));
    let (before, number) = text.split_at(sign.map_or(0, |(at, letter)| at + letter.len_utf8()));
    (before, number.trim_start())
}

/// The message with one place filled in.
pub(super) fn with(language: Language, id: &str, places: &[(&str, &str)]) -> String {
    places.iter().fold(message(language, id).to_owned(), |text, (name, value)| {
        text.replace(&format!("{{{name}}}"), value)
    })
}

/// A catalogue word at the head of a line.
pub(super) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// A mass as it is stamped on a plate or a stack: a label to look for, with its point in every language. The one place
/// that says so; what is reckoned is a [`number`].
pub(super) fn stamped(mass: Mass, unit: MassUnit) -> String {
    mass.in_unit(unit)
}

/// The number of a mass, with the language's decimal mark.
pub(super) fn number(language: Language, mass: Mass, unit: MassUnit) -> String {
    let plain = mass.in_unit(unit);
    match language {
        Language::En => plain,
        Language::De => plain.replace('.', ","),
    }
}

/// A mass with its unit.
pub(super) fn mass(language: Language, mass: Mass, unit: MassUnit) -> String {
    format!("{} {}", number(language, mass, unit), unit.symbol())
}

/// What is still needed.
pub(super) fn need(language: Language, need: Need) -> String {
    say(language, "need", &need, |_, value| value.to_string())
}

/// Why a set does not start earlier.
pub(super) fn start_reason(language: Language, reason: StartReason, now: FloorMs) -> String {
    let words = Words { language, view: None, now: Some(now) };
    say(language, "start", &reason, |name, value| {
        words.argument(name, value).unwrap_or_else(|| value.to_string())
    })
}

/// Why something was refused, with what this display may know.
pub(super) fn refusal(
    language: Language,
    refusal: &Refusal,
    view: Option<&View>,
    now: Option<FloorMs>,
) -> String {
    if let (Refusal::RestNotOver { until }, Some(now)) = (refusal, now) {
        // A display has no time of day for an instant of floor time; what is left says the same.
        return with(language, "label.rest_more", &[("at", &left(until.since(now)))]);
    }
    let words = Words { language, view, now };
    // A neutral word may come first in a sentence.
    capital(&say(language, "refusal", refusal, |name, value| {
        words.argument(name, value).unwrap_or_else(|| value.to_string())
    }))
}

/// What this display can say of an argument.
#[derive(Clone, Copy)]
struct Words<'a> {
    language: Language,
    view: Option<&'a View>,
    now: Option<FloorMs>,
}

impl Words<'_> {
    /// An argument in words, by its name; nothing for a name that no refusal and no start has. Names only where this display
    /// shows them anyway, else a neutral word.
    fn argument(self, name: &str, value: &Value) -> Option<String> {
        let label = |id: &str| message(self.language, id).to_owned();
        let id = value.as_u64();
        Some(match name {
            "station" => id.and_then(|id| self.station(id)).unwrap_or_else(|| label("label.a_station")),
            "client" => id.and_then(|id| self.client(id)).unwrap_or_else(|| label("label.a_client")),
            "group" | "first" => id.and_then(|id| self.group(id)).unwrap_or_else(|| label("label.a_group")),
            // No kiosk is told who coaches whom.
            "coach" => label("label.a_coach"),
            "until" => self.until(value).unwrap_or_else(|| label("label.none_there")),
            "load" | "below" | "above" | "last" => {
                self.load(value).unwrap_or_else(|| label("label.none_there"))
            }
            "writing" | "defect" => {
                value.as_str().map_or_else(String::new, |v| label(&format!("{name}.{v}")))
            }
            "count" | "keep" | "least" | "most" | "takes" | "there" | "wanted" => value.to_string(),
            _ => return None,
        })
    }

    /// A display has no time of day for an instant of floor time; how long it is until then says the same.
    fn until(self, value: &Value) -> Option<String> {
        let until = FloorMs(value.as_i64()?);
        Some(with(self.language, "label.from_now", &[("at", &left(until.since(self.now?)))]))
    }

    fn load(self, value: &Value) -> Option<String> {
        let known = serde_json::from_value::<Load>(value.clone()).ok()?;
        Some(known.read(self.language, unit(self.view)))
    }

    fn station(self, id: u64) -> Option<String> {
        let named =
            |(station, name): (StationId, &String)| (u64::from(station.0) == id).then(|| name.clone());
        match self.view? {
            View::Station(view) => view.stations.iter().map(|s| (s.station, &s.name)).find_map(named),
            View::Board(view) => view.stations.iter().map(|s| (s.station, &s.name)).find_map(named),
            View::Coach(_) => None,
        }
    }

    fn client(self, id: u64) -> Option<String> {
        self.clients().into_iter().find(|(turn, _)| u64::from(turn.1.0) == id).map(|(_, name)| name)
    }

    /// The clients of a group that this display shows.
    fn group(self, id: u64) -> Option<String> {
        let mut names: Vec<String> = Vec::new();
        for (_, name) in self.clients().into_iter().filter(|((group, _), _)| u64::from(group.0) == id) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        (!names.is_empty()).then(|| names.join(", "))
    }

    fn clients(self) -> Vec<((GroupId, ClientId), String)> {
        match self.view {
            Some(View::Station(view)) => {
                let turns = view.stations.iter().filter_map(|s| s.turn.as_ref()).map(|t| (t.turn, &t.client));
                let asked = view.stations.iter().flat_map(|s| &s.ask_efforts);
                let all = turns.chain(asked.map(|a| (a.turn, &a.client)));
                let all = all.map(|(turn, name)| ((turn.group, turn.client), name.clone()));
                all.chain(view.stations.iter().flat_map(partners)).collect()
            }
            Some(View::Board(view)) => {
                let of = |g: &BoardGroup| {
                    let group = g.group;
                    g.clients.iter().map(|c| ((group, c.client), c.name.clone())).collect::<Vec<_>>()
                };
                view.groups.iter().flat_map(of).collect()
            }
            Some(View::Coach(_)) | None => Vec::new(),
        }
    }
}

/// The partners who can spot the coming set: they are of its group.
fn partners(part: &StationPart) -> impl Iterator<Item = ((GroupId, ClientId), String)> {
    let group = part.turn.as_ref().map(|turn| turn.turn.group);
    let named = move |partner: &PartnerPart| Some(((group?, partner.client), partner.name.clone()));
    part.partners.iter().filter_map(named)
}

/// The unit stamped on what this display shows.
fn unit(view: Option<&View>) -> MassUnit {
    let Some(View::Station(view)) = view else {
        return MassUnit::default();
    };
    let card = view.stations.iter().find_map(|s| s.turn.as_ref()?.load.as_ref());
    card.map_or_else(MassUnit::default, |card| card.unit)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;

    #[test]
    fn every_argument_of_every_refusal_and_every_start_comes_out_as_words() {
        let mut known = 0;
        for language in Language::ALL {
            let words = Words { language, view: None, now: Some(FloorMs(0)) };
            let messages: BTreeMap<String, String> = serde_json::from_str(language.source()).unwrap();
            let said = |id: &str| id.starts_with("refusal.") || id.starts_with("start.");
            for (id, text) in messages.iter().filter(|(id, _)| said(id)) {
                for place in text.split('{').skip(1).filter_map(|rest| rest.split_once('}')) {
                    let said = words.argument(place.0, &Value::from(7));
                    assert!(said.is_some_and(|said| !said.contains("label.")), "{id}: {}", place.0);
                    known += 1;
                }
            }
        }
        assert!(known > 20, "the catalogues have arguments");
    }

    #[test]
    fn what_this_display_does_not_know_is_said_without_a_name() {
        let said = |why: &Refusal, language| refusal(language, why, None, Some(FloorMs(1_000)));
        let coach = turnabout_protocol::ids::CoachId(1);
        let (client, group, station) = (ClientId(1), GroupId(1), StationId(1));
        for (why, en, de) in [
            (
                Refusal::CoachedBy { coach },
                "Another coach coaches this group.",
                "Ein anderer Coach betreut diese Gruppe.",
            ),
            (
                Refusal::SpotterLifts { client },
                "Somebody lifts and cannot spot.",
                "Jemand trainiert gerade und kann nicht sichern.",
            ),
            (
                Refusal::LeaveNeeded { station, group },
                "Another group has another station. Ask whether you may work in.",
                "Eine andere Gruppe hat eine andere Station. Fragen, ob ihr euch abwechseln dürft.",
            ),
            (
                Refusal::LoadUnfit { below: Some(Mass::from_grams(22_500).into()), above: None },
                "That load cannot be put on there. Nearest: 22.5 kg or none.",
                "Diese Last geht dort nicht. Am nächsten: 22,5 kg oder keine.",
            ),
            (
                Refusal::CoachAway { coach, until: FloorMs(61_000) },
                "Another coach is away until about 1:00 min from now.",
                "Ein anderer Coach ist bis etwa in 1:00 min weg.",
            ),
        ] {
            assert_eq!((said(&why, Language::En).as_str(), said(&why, Language::De).as_str()), (en, de));
        }
    }
}
