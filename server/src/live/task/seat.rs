//! A display's place on the floor: who speaks there, and what it is shown.

use turnabout_protocol::frame::Fault;
use turnabout_protocol::role::{Actor, Role, Topic};
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

use super::Task;
use super::notes::Texts;
use super::plan::Course;
use crate::floor::config::{Floor, Names};
use crate::floor::decide::Speaker;
use crate::floor::roles;
use crate::floor::views::Context;
use crate::live::handle::Seat;
use crate::live::hub::{Scene, WatchError};
use crate::live::question::{self, Question, Told};
use crate::live::truth::{Truth, caught};

impl Task {
    pub(super) fn join(&mut self, role: &Role, topic: &Topic) -> Result<Seat, Fault> {
        let speaker = speaker(&self.truth.durable().floor, role).ok_or(Fault::UnknownTopic)?;
        if !roles::may_watch(role, topic) {
            return Err(Fault::TopicNotAllowed);
        }
        let now = self.now();
        let scene = scene(&self.truth, (self.names.known(), &self.texts), &self.course, self.epoch, now);
        let frames = self.hub.watch(topic, &scene).map_err(|error| match error {
            WatchError::Unknown => Fault::UnknownTopic,
            WatchError::Full => Fault::Full,
        })?;
        Ok(Seat { speaker, frames })
    }
}

impl Task {
    /// Answers a question from what views are made of, so that an answer is as true as the view beside it.
    pub(super) fn tell(&self, question: &Question) -> Option<Told> {
        let state = self.truth.durable();
        let context = Context {
            names: self.names.known(),
            notes: self.texts.known(),
            zone_offset: state.clock.offset_secs,
            plan: self.course.planned(),
        };
        caught("question", || question::tell(state, &context, question)).flatten()
    }
}

/// Who speaks for a role; `None` where the floor has no such station or coach.
fn speaker(floor: &Floor, role: &Role) -> Option<Speaker> {
    let (actor, stations) = match role {
        Role::Station { stations } => {
            let stations: Vec<_> = stations.iter().map(|key| floor.station(key)).collect::<Option<_>>()?;
            (Actor::Station { station: *stations.first()? }, stations)
        }
        Role::Board => (Actor::Board, Vec::new()),
        Role::Coach { coach } => (Actor::Coach { coach: floor.coach(coach)? }, Vec::new()),
        Role::Assistant { coach } => (Actor::Assistant { coach: floor.coach(coach)? }, Vec::new()),
        Role::Manager => (Actor::Manager, Vec::new()),
    };
    Some(Speaker { actor, stations })
}

/// Everything views are made from: durable, all of it. A text without a durable note is not looked up.
pub(super) fn scene<'a>(
    truth: &'a Truth,
    (names, texts): (&'a Names, &'a Texts),
    course: &'a Course,
    epoch: Uuid,
    now: FloorMs,
) -> Scene<'a> {
    let (plan, number) = (course.planned(), course.number());
    Scene { state: truth.durable(), names, notes: texts.known(), plan, number, epoch, now }
}
