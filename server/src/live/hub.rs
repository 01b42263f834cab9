//! What every display shows: one frame a topic, encoded once, shared by all who watch it.
//!
//! A topic is a slot for one frame. Who is slow finds the newest in it and has missed nothing, since every
//! view is complete. The slots are filled from durable state only.

use std::collections::BTreeMap;

use axum::extract::ws::Utf8Bytes;
use tokio::sync::watch;
use turnabout_protocol::frame::{Revision, ToDisplay, limits};
use turnabout_protocol::role::Topic;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::View;
use uuid::Uuid;

use super::truth::caught;
use crate::floor::config::{Names, Notes};
use crate::floor::planned::Planned;
use crate::floor::state::State;
use crate::floor::views::{self, Context, Watch};

/// Topics watched at once: every station of the largest floor by itself, all coaches and the board, and as
/// many lists again.
pub const TOPICS: usize = 1_024;

/// A frame ready to be sent to any number of sockets; nothing before the first.
pub type Frame = Option<Utf8Bytes>;

/// From what views are made.
pub(super) struct Scene<'a> {
    pub(super) state: &'a State,
    pub(super) names: &'a Names,
    pub(super) notes: &'a Notes,
    pub(super) plan: &'a Planned,
    /// How often what is planned has changed in this run.
    pub(super) number: u64,
    pub(super) epoch: Uuid,
    pub(super) now: FloorMs,
}

/// Why something cannot be watched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum WatchError {
    /// The floor has no such station or coach.
    Unknown,
    /// [`TOPICS`] are watched already.
    Full,
}

/// The topics that are watched.
#[derive(Debug, Default)]
pub(super) struct Hub {
    topics: BTreeMap<Topic, Slot>,
}

#[derive(Debug)]
struct Slot {
    watch: Watch,
    /// The last view that was made, to see whether there is anything new.
    shown: Option<View>,
    frame: watch::Sender<Frame>,
}

impl Hub {
    /// Begins to watch. The frame that is true now is there at once.
    pub(super) fn watch(
        &mut self,
        topic: &Topic,
        scene: &Scene<'_>,
    ) -> Result<watch::Receiver<Frame>, WatchError> {
        if let Some(slot) = self.topics.get(topic) {
            return Ok(subscribe(&slot.frame));
        }
        let watch = caught("resolve", || views::resolve(&scene.state.floor, topic))
            .flatten()
            .ok_or(WatchError::Unknown)?;
        if self.topics.len() >= TOPICS {
            self.drop_unwatched();
        }
        if self.topics.len() >= TOPICS {
            return Err(WatchError::Full);
        }
        let mut slot = Slot { watch, shown: None, frame: watch::Sender::new(None) };
        slot.refresh(topic, scene);
        let frames = subscribe(&slot.frame);
        self.topics.insert(topic.clone(), slot);
        Ok(frames)
    }

    /// Shows what has changed, to everybody who watches it.
    pub(super) fn publish(&mut self, scene: &Scene<'_>) {
        self.drop_unwatched();
        for (topic, slot) in &mut self.topics {
            slot.refresh(topic, scene);
        }
    }

    fn drop_unwatched(&mut self) {
        self.topics.retain(|_, slot| slot.frame.receiver_count() > 0);
    }
}

/// A receiver to which what is there is news.
fn subscribe(frame: &watch::Sender<Frame>) -> watch::Receiver<Frame> {
    let mut frames = frame.subscribe();
    frames.mark_changed();
    frames
}

impl Slot {
    fn refresh(&mut self, topic: &Topic, scene: &Scene<'_>) {
        let context = Context {
            names: scene.names,
            notes: scene.notes,
            zone_offset: scene.state.clock.offset_secs,
            plan: scene.plan,
        };
        let Some(view) = caught("view", || views::view(scene.state, &context, &self.watch)).flatten() else {
            return;
        };
        if self.shown.as_ref() == Some(&view) {
            return;
        }
        let text = encode(topic, scene, &view);
        self.shown = Some(view);
        if text.len() > limits::FRAME_TO_DISPLAY {
            // Better the view before than one that displays must refuse.
            tracing::error!(%topic, bytes = text.len(), "a view is larger than a frame may be");
            return;
        }
        self.frame.send_replace(Some(text.into()));
    }
}

fn encode(topic: &Topic, scene: &Scene<'_>, view: &View) -> String {
    let revision = Revision { epoch: scene.epoch, sequence: scene.state.sequence, plan: scene.number };
    let frame = ToDisplay::View { topic: topic.clone(), revision, as_of: scene.now, view: view.clone() };
    serde_json::to_string(&frame).expect("a view is plain JSON")
}
