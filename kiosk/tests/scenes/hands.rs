//! Scenes of what hands do: the screen is being wiped or seems to be wet, keys have marked something, a page is turned.

use turnabout_kiosk::input::Drawn;

use super::*;

fn of_scene(scenes: Vec<Sample>, of: &str, name: &'static str, hands: Drawn) -> Sample {
    let sample = scenes.into_iter().find(|sample| sample.name == of).unwrap();
    Sample { name, hands, ..sample }
}

/// Every scene of them.
pub(crate) fn hands() -> Vec<Sample> {
    let wiping = || Drawn { wiping: Some(12), ..Drawn::default() };
    let marked = |name: &str| Drawn { marked: name.into(), ..Drawn::default() };
    let (one, several) = (one_station, several_stations);
    vec![
        of_scene(one(), "ready", "wiping", wiping()),
        of_scene(one(), "asking", "wiping-asking", wiping()),
        of_scene(pads(), "pad", "wiping-pad", wiping()),
        of_scene(several(), "four", "wiping-four", wiping()),
        of_scene(several(), "help", "wiping-help", wiping()),
        of_scene(troubles(), "lost-working", "wiping-lost", wiping()),
        of_scene(one(), "needs-load", "wet", Drawn { wet: true, ..Drawn::default() }),
        of_scene(one(), "needs-load", "marked", marked("confirm_load")),
        of_scene(one(), "ready", "marked-wipe", marked("wipe")),
        of_scene(several(), "two", "marked-strip", marked("station/bench-1")),
        of_scene(one(), "asking", "marked-answer", marked("done_right")),
        of_scene(pads(), "pad", "marked-plate", marked("plate-2")),
        of_scene(offers(), "undo-two", "marked-undo", marked("undo")),
        of_scene(pads(), "not-as-shown-crowded", "turned", Drawn { page: 1, ..Drawn::default() }),
        Sample { asking: true, ..of_scene(several(), "help", "help-asking", Drawn::default()) },
    ]
}
