//! How numbers, masses, needs and refusals read on a display.

use serde_json::Value;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::{FloorMs, Mass, MassUnit, Millis};
use turnabout_protocol::view::{Need, View};

use super::phase::{Phase, PhaseKind, Tally};

/// Whole seconds as minutes and seconds: `1:05`.
pub(super) fn m_ss(secs: i64) -> String {
    let secs = secs.max(0);
    format!("{}:{:02}", secs / 60, secs % 60)
}

/// What is left of `left`, never below zero.
pub(super) fn left(left: Millis) -> String {
    m_ss(left.ceil_secs())
}

/// The number pair of a phase; empty where there is none. The count-in is a bare number.
pub(super) fn tally(phase: Phase) -> String {
    match phase.tally {
        Some(Tally::Down(left)) if phase.kind == PhaseKind::CountIn => left.ceil_secs().to_string(),
        Some(Tally::Down(d)) => left(d),
        Some(Tally::Up(past)) => format!("+{}", m_ss(past.floor_secs())),
        None => String::new(),
    }
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

/// The number of a mass as it is stamped, with the language's decimal mark.
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
    say(language, "refusal", refusal, |name, value| match name {
        "station" => station_name(view, value),
        "load" => {
            let unit = unit(view);
            serde_json::from_value::<Mass>(value.clone())
                .map_or_else(|_| value.to_string(), |m| mass(language, m, unit))
        }
        "writing" => value
            .as_str()
            .map_or_else(String::new, |trouble| message(language, &format!("writing.{trouble}")).to_owned()),
        _ => value.to_string(),
    })
}

fn station_name(view: Option<&View>, id: &Value) -> String {
    let named = match view {
        Some(View::Station(view)) => {
            view.stations.iter().find(|s| id.as_u64() == Some(s.station.0.into())).map(|s| s.name.clone())
        }
        Some(View::Board(view)) => {
            view.stations.iter().find(|s| id.as_u64() == Some(s.station.0.into())).map(|s| s.name.clone())
        }
        Some(View::Coach(_)) | None => None,
    };
    named.unwrap_or_else(|| id.to_string())
}

/// The unit stamped on what this display shows.
fn unit(view: Option<&View>) -> MassUnit {
    let Some(View::Station(view)) = view else {
        return MassUnit::default();
    };
    let card = view.stations.iter().find_map(|s| s.turn.as_ref()?.load.as_ref());
    card.map_or_else(MassUnit::default, |card| card.unit)
}

/// The time of day at a zone offset, from seconds since 1970.
pub(super) fn time_of_day(utc: i64, zone_offset: i32) -> String {
    const DAY: i64 = 86_400;
    let secs = (utc + i64::from(zone_offset)).rem_euclid(DAY);
    format!("{:02}:{:02}:{:02}", secs / 3_600, secs / 60 % 60, secs % 60)
}
