//! Nobody has to hear: whatever sounds is on the screen at the same instant, in every scene there is.

use turnabout_kiosk::face::{Body, Panel, PhaseKind};

use crate::scenes::*;
use crate::*;

fn panels(face: &Face) -> &[Panel] {
    match &face.body {
        Body::Stations { panels } => panels,
        Body::Blank { .. } | Body::Board { .. } => &[],
    }
}

/// What is to be seen with a cue, on a panel that nothing covers.
fn is_twin(cue: Cue, panel: &Panel) -> bool {
    let digit = |digit| match digit {
        Digit::Three => "3",
        Digit::Two => "2",
        Digit::One => "1",
    };
    match cue {
        Cue::CountIn(left) => panel.phase == PhaseKind::CountIn && panel.count == digit(left),
        Cue::Go => panel.phase == PhaseKind::Working,
        Cue::RestEnds(left) => {
            matches!(panel.phase, PhaseKind::Rest | PhaseKind::Coming)
                && panel.count == format!("0:0{}", digit(left))
        }
        Cue::Stop => panel.phase == PhaseKind::Stopped && !panel.order.is_empty(),
    }
}

fn demand_a_twin(listener: &Listener, (ms, cue): (i64, Cue)) {
    let name = listener.sample.name;
    let (now, before) = (listener.face(ms), listener.face(ms - 1));
    let covered = usize::from(now.pad.is_some());
    let shown = panels(&now).iter().skip(covered);
    let seen: Vec<&Panel> = shown.filter(|panel| is_twin(cue, panel)).collect();
    assert!(!seen.is_empty(), "{name}: {cue:?} at {ms} ms is not to be seen on {now:#?}");
    // A stop may be over a call for help, which then says it, too: `kiosk/tests/ui.rs`.
    assert!(cue == Cue::Stop || now.help.is_none(), "{name}: {cue:?} at {ms} ms is covered");
    // It appears then, and was not there before: whoever looks sees something happen. A stop comes with what the server says.
    let was = |panel: &Panel| panels(&before).iter().any(|old| old.id == panel.id && is_twin(cue, old));
    assert!(cue == Cue::Stop || seen.iter().any(|panel| !was(panel)), "{name}: {cue:?} at {ms} ms is old");
}

#[test]
fn every_cue_of_every_scene_is_seen_at_its_instant() {
    let mut cues = [0; Cue::ALL.len()];
    for sample in all() {
        let mut listener = Listener::of(sample);
        listener.listen(-5_000..65_000, 250);
        for heard in listener.heard.clone() {
            demand_a_twin(&listener, heard);
            cues[Cue::ALL.iter().position(|cue| *cue == heard.1).unwrap()] += 1;
        }
    }
    // A stop needs somebody who stops: below.
    assert!(cues[..7].iter().all(|count| *count >= 2), "{cues:?}");
}

#[test]
fn a_stop_of_every_scene_of_one_station_is_seen() {
    let mut stops = 0;
    for sample in [one_station(), eventful_stations(), promises(), paces(), proposals()].into_iter().flatten()
    {
        let Some(turnabout_protocol::view::View::Station(view)) = sample.view.clone() else { continue };
        let mut listener = Listener::of(sample);
        listener.look(0);
        let parts = view.stations.into_iter().map(|part| stopped(part, 1_000)).collect();
        listener.told(parts);
        listener.look(1_000);
        for heard in listener.heard.clone() {
            demand_a_twin(&listener, heard);
            stops += 1;
        }
    }
    assert!(stops > 30, "{stops}");
}
