//! What displays offer to take back is what the core's table of inverses takes back, and the same on the page.

use std::collections::BTreeSet;

use turnabout_protocol::command::{Act, NoteAbout, TAKE_BACK_WINDOW};
use turnabout_protocol::ids::{CommandId, DeviceId, ExerciseId};
use turnabout_protocol::refusal::Refusal;
use turnabout_server::floor::decide::{Speaker, Tap, Verdict, decide};
use turnabout_server::floor::undo::{RecentTaps, TappedBy};
use uuid::Uuid;

use super::phases::phases;
use super::taps::{WATCHED, Who, at_the_station, by_the_coach, tag};
use super::variants;
use crate::world::{AYLA, World, coach};

/// The page that offers a coach to take the last tap back.
const PAGE: &str = include_str!("../../../src/web/assets/undo.js");

/// Taps a thing and takes it back at once; nothing where it is not accepted.
fn tapped_and_taken_back(world: &World, speaker: &Speaker, act: &Act) -> Option<Result<(), Refusal>> {
    let tap = Tap { speaker: speaker.clone(), at: world.now, act: act.clone() };
    let Verdict::Accepted(events) = decide(&world.state, &tap, world.now) else { return None };
    let by = TappedBy { device: DeviceId(Uuid::nil()), actor: speaker.actor };
    let (command, mut recent, mut after) = (CommandId(Uuid::nil()), RecentTaps::default(), world.clone());
    recent.remember(by, command, &world.state, &events, world.now);
    for event in events {
        after.take(speaker.actor, world.now, event);
    }
    Some(recent.undo(by, command, &after.state, after.now).map(|_| ()))
}

/// What no phase has: a note.
fn noted() -> World {
    let mut world = World::with_pair_on();
    let note = NoteAbout::Group { group: WATCHED.group };
    world.accept(&coach(AYLA), Act::Note { note, text: "Her left knee.".to_owned() });
    world
}

/// And this: Edda may spot Dara.
fn partner_passed() -> World {
    let mut world = World::with_pair_on();
    let Who { group, mate: client, .. } = WATCHED;
    world.accept(&coach(AYLA), Act::PassSpotter { group, client, exercise: ExerciseId(1) });
    world
}

#[test]
fn what_is_offered_to_be_taken_back_is_what_the_core_takes_back() {
    let (mut accepted, mut offered, mut back) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
    let worlds = phases().into_iter().map(|phase| (phase.name, (phase.world)()));
    let more = [("a note kept", noted()), ("a partner passed", partner_passed())];
    for (phase, world) in worlds.chain(more) {
        let all = by_the_coach(&world, WATCHED).into_iter().chain(at_the_station(&world, WATCHED));
        for (speaker, named) in all {
            let Some(undone) = tapped_and_taken_back(&world, &speaker, &named.act) else { continue };
            accepted.insert(tag(&named.act));
            if named.act.taken_back() {
                offered.insert(tag(&named.act));
            }
            match undone {
                Ok(()) => drop(back.insert(tag(&named.act))),
                // Whether one that may be taken back is depends on what it changed.
                Err(Refusal::NoUndo) => {}
                Err(other) => panic!("{}, {}: {other:?}", phase, named.name),
            }
        }
    }
    assert_eq!(offered, back);
    // A tap that takes back is no tap of the floor.
    let mut judged = variants::<Act>("do");
    judged.remove("undo");
    assert_eq!(judged.difference(&accepted).collect::<Vec<_>>(), Vec::<&String>::new(), "never accepted");
    assert_eq!(on_the_page(), back);
}

/// The list of the page.
fn on_the_page() -> BTreeSet<String> {
    let (_, rest) = PAGE.split_once("TAKEN_BACK = new Set([").expect("the page has its list");
    let (list, _) = rest.split_once(']').expect("which ends");
    list.split('"').skip(1).step_by(2).map(str::to_owned).collect()
}

#[test]
fn the_page_offers_it_as_long_as_the_floor_takes_it() {
    let (_, rest) = PAGE.split_once("WINDOW = ").expect("the page has its window");
    let (window, _) = rest.split_once(';').expect("which ends");
    assert_eq!(window.replace('_', "").parse(), Ok(TAKE_BACK_WINDOW.0));
}
