//! The evening end to end: the real binaries, two groups that want the same bench, two kiosks without a
//! window, somebody else's WebSocket library watching, and a server that is killed in the middle.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod kiosk;
mod record;
mod room;
mod watcher;

use serde_json::Value;
use turnabout_protocol::command::Act;
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::view::{After, Stage, TurnPhase};

use kiosk::shown_count;
use room::Room;

/// Steps after which an evening of this size is over: each is a tap or a move of the clock.
const MOST_STEPS: usize = 600;

/// Whether a panel counts down so: for whoever is next there, beside what it says of somebody who has just left it.
fn counts_down(panel: &Value, wanted: &str) -> bool {
    match panel["phase"].as_str() {
        Some("leaving") => panel["next"].as_str().is_some_and(|next| next.ends_with(wanted)),
        _ => panel["count"] == wanted,
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn two_groups_one_bench_a_killed_server_and_nothing_lost() {
    let mut room = Room::open().await;
    let watcher = watcher::start(room.address, room.folder.path()).await;

    // Up to a rest in the middle of the first group's evening, when nobody else is on the bench.
    let mut steps = 0;
    while !(room.accepted.len() >= 20 && room.resting().is_some() && room.nobody_works()) {
        room.step().await;
        steps += 1;
        assert!(steps < MOST_STEPS, "nobody ever rested: {:?}", room.page);
    }
    let resting = room.resting().unwrap();

    // A tap is on its way when the server is killed: nobody knows whether it was taken.
    let on_its_way = room.coach.send_act(Act::NotYet { turn: resting.turn }).await;
    room.kill_and_restart().await;

    // It is sent again and counts once, as does one that had been answered before.
    let answer = room.say(&on_its_way).await;
    assert!(matches!(answer, Outcome::Accepted { .. }), "{answer:?}");
    room.accepted.push((on_its_way.id, answer));
    let (first, was) = room.accepted[0].clone();
    let sent = room.sent.iter().find(|command| command.id == first).unwrap().clone();
    assert_eq!(room.say(&sent).await, was);
    room.look().await;

    // The kiosk at the bench counts down to the same instant as the coach's page says, at the same second.
    let again = room.resting().expect("the rest goes on after the restart");
    assert_eq!(again.turn, resting.turn);
    let TurnPhase::Coming { after: After::Rest { since, .. }, ready, go_from, .. } = again.phase else {
        unreachable!()
    };
    // What was told of the start is in the journal too; where nothing was, the end of the rest counts.
    let counts_to = again.promise.as_ref().map_or(ready, |told| told.start.max(go_from));
    let TurnPhase::Coming { after: After::Rest { since: before, .. }, ready: told, .. } = resting.phase
    else {
        unreachable!()
    };
    assert_eq!(since, before, "the rest clock did not start anew");
    assert!(ready.since(told).0 > 0, "NOT YET was taken");
    let now = room.coach.now;
    let is_about = again.promise.as_ref().is_some_and(|told| told.about);
    let wanted = shown_count(counts_to.since(now), is_about);
    room.bench
        .until("the countdown after the restart", |line| {
            line.now == Some(now.0)
                && line.link().is_empty()
                && line.panel().is_some_and(|p| counts_down(p, &wanted))
        })
        .await;

    // To the end of the evening.
    while !room.page.groups.iter().all(|group| group.stage == Stage::Finished) {
        room.step().await;
        steps += 1;
        assert!(steps < MOST_STEPS, "the evening does not end: {:?}", room.page);
    }
    // Whatever was taken back was done again, and a set that the partner spotted was done like any other.
    assert_eq!((room.taken_back.len(), room.partner_spotted.len()), (3, 1));
    let summary = watcher::finished(watcher).await;
    let accepted = room.accepted.clone();
    let folder = room.close().await;

    record::holds(folder.path(), &accepted);
    if let Some(summary) = summary {
        assert_eq!(summary["epochs"], 2, "{summary}");
        assert!(summary["validated"].as_u64().unwrap() > 30, "{summary}");
        for phase in ["technique", "working", "coming", "under_way", "rest"] {
            let phases = summary["phases"].as_array().unwrap();
            assert!(phases.iter().any(|p| p == phase), "{phase} was not seen: {summary}");
        }
    }
}
