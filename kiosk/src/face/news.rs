//! What a wall tells besides the groups: stations that cannot be used, and what has just happened.

use serde::{Deserialize, Serialize};
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{BoardView, HappenedPart, Happening, StationLine, TOLD_FOR};
use turnabout_protocol::words::Words;

use super::phase::PhaseKind;
use super::words::{about, capital, with};

/// Of what has happened lately: more would keep what is so now away for too long.
const MOST: usize = 3;

/// One thing to know.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NewsLine {
    /// What it is like: its mark and hue.
    pub phase: PhaseKind,
    /// How long ago; empty for what is so now.
    pub ago: String,
    /// What.
    pub text: String,
}

/// What cannot be used now comes first, a station each while it is so; then what happened lately, the latest first.
pub(super) fn lines(language: Language, view: &BoardView, now: FloorMs) -> Vec<NewsLine> {
    let stations = view.stations.iter().filter_map(|line| barred(language, line, now));
    let told = |part: &&HappenedPart| now.since(part.at) < TOLD_FOR.millis();
    let happened = view.happened.iter().filter(told).map(|part| NewsLine {
        phase: kind(&part.what),
        ago: capital(&ago(language, part, now)),
        text: capital(&words(language, &part.what)),
    });
    stations.chain(happened.take(MOST)).collect()
}

fn barred(language: Language, line: &StationLine, now: FloorMs) -> Option<NewsLine> {
    let news = |phase, text| NewsLine { phase, ago: String::new(), text };
    if let Some(out) = line.out {
        let defect = say(language, "defect", &out.defect, |_, value| value.to_string());
        let state = message(language, "state.out_of_service");
        return Some(news(PhaseKind::OutOfService, format!("{}: {state}, {defect}", line.name)));
    }
    let until = line.other_use?.until;
    let state = message(language, "state.other_use");
    let about = with(language, "label.about", &[("at", &about(language, until.since(now)))]);
    Some(news(PhaseKind::OtherUse, format!("{}: {state}, {about}", line.name)))
}

fn ago(language: Language, part: &HappenedPart, now: FloorMs) -> String {
    match now.since(part.at).floor_secs() / 60 {
        ..=0 => message(language, "label.just_now").to_owned(),
        n => with(language, "label.minutes_ago", &[("n", &n.to_string())]),
    }
}

/// What has happened, as a sentence.
fn words(language: Language, what: &Happening) -> String {
    let somebody = message(language, "label.a_spotter").to_owned();
    let named = match what {
        Happening::SpotterHelped { client, spotter } => Happening::SpotterHelped {
            client: client.clone(),
            spotter: Some(spotter.clone().unwrap_or(somebody)),
        },
        other => other.clone(),
    };
    say(language, "happened", &named, |name, value| match (name, value.as_str()) {
        ("defect", Some(defect)) => message(language, &format!("defect.{defect}")).to_owned(),
        (_, Some(text)) => text.to_owned(),
        // An exercise has a name in every language.
        (_, None) => {
            Words::deserialize(value).map_or_else(|_| value.to_string(), |name| name.of(language).to_owned())
        }
    })
}

const fn kind(what: &Happening) -> PhaseKind {
    match what {
        Happening::PlatesBack { .. }
        | Happening::CameLate { .. }
        | Happening::CameBack { .. }
        | Happening::Resumed { .. }
        | Happening::OtherUseEnded { .. }
        | Happening::BackInService { .. }
        | Happening::StationsGivenAway { .. } => PhaseKind::Free,
        Happening::Left { .. } => PhaseKind::Gone,
        Happening::OtherUseBegan { .. } => PhaseKind::OtherUse,
        Happening::PlatesMissing { .. } | Happening::OutOfService { .. } => PhaseKind::OutOfService,
        Happening::HandedOver { .. }
        | Happening::ExerciseSwapped { .. }
        | Happening::StationSwapped { .. }
        | Happening::WentBefore { .. } => PhaseKind::Changeover,
        Happening::SpotterHelped { .. } => PhaseKind::Assumed,
        Happening::Stopped { .. } | Happening::FloorStopped => PhaseKind::Stopped,
    }
}
