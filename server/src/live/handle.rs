//! How everybody else speaks to the floor's task: by messages, never waiting for room.

use tokio::sync::{mpsc, oneshot, watch};
use turnabout_protocol::command::Command;
use turnabout_protocol::frame::Fault;
use turnabout_protocol::ids::{CommandId, DeviceId};
use turnabout_protocol::refusal::{Outcome, Refusal, WriteTrouble};
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::units::{FloorMs, Millis};

use super::entry::{Entered, EntryIn, EveningNow};
use super::hub::Frame;
use super::ledger::BodyHash;
use super::question::{Question, Told};
use crate::floor::decide::Speaker;

/// Messages waiting for the task: every device of a large floor tapping at once.
pub const INBOX: usize = 1_024;

/// What reaches the floor's task.
#[derive(Debug)]
pub(super) enum Input {
    /// Somebody begins to watch and to speak.
    Join { role: Role, topic: Topic, reply: oneshot::Sender<Result<Seat, Fault>> },
    /// A tap.
    Tap(Box<TapIn>),
    /// Somebody asks something once.
    Ask { question: Box<Question>, reply: oneshot::Sender<Option<Told>> },
    /// What is the programme?
    Evening { reply: oneshot::Sender<EveningNow> },
    /// A coach enters a programme.
    Enter { entry: Box<EntryIn>, reply: oneshot::Sender<Entered> },
    /// Is anybody there?
    Health { reply: oneshot::Sender<Health> },
    /// Move a driven clock.
    Advance { by: Millis, reply: oneshot::Sender<Result<FloorMs, WriteTrouble>> },
    /// Finish and end.
    Shutdown { reply: oneshot::Sender<()> },
}

/// A tap on its way in, and where its answer goes.
#[derive(Debug)]
pub struct TapIn {
    /// The device.
    pub device: DeviceId,
    /// Who speaks.
    pub speaker: Speaker,
    /// The command.
    pub command: Command,
    /// Its hash.
    pub body: BodyHash,
    /// Takes the answer; one that is full or gone loses it, and the display asks again.
    pub reply: mpsc::Sender<Answer>,
}

/// The answer to a command.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The command.
    pub id: CommandId,
    /// What became of it.
    pub outcome: Outcome,
}

/// A place on the floor's side of a socket.
#[derive(Debug)]
pub struct Seat {
    /// Who speaks.
    pub speaker: Speaker,
    /// What to show: the newest frame, replaced by every newer one.
    pub frames: watch::Receiver<Frame>,
}

/// How the floor is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Health {
    /// The last entry on disk.
    pub sequence: u64,
    /// What keeps it from writing.
    pub writing: Option<WriteTrouble>,
}

/// Why the floor did not answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unanswered {
    /// [`INBOX`] messages wait already.
    #[error("the floor is busy")]
    Busy,
    /// The floor has ended.
    #[error("the floor has ended")]
    Gone,
}

/// One's end of the floor's task.
#[derive(Clone, Debug)]
pub struct FloorHandle {
    inbox: mpsc::Sender<Input>,
}

impl FloorHandle {
    pub(super) fn new() -> (Self, mpsc::Receiver<Input>) {
        let (inbox, inputs) = mpsc::channel(INBOX);
        (Self { inbox }, inputs)
    }

    /// Begins to watch `topic` in this role.
    ///
    /// # Errors
    /// [`Unanswered`].
    pub async fn join(&self, role: Role, topic: Topic) -> Result<Result<Seat, Fault>, Unanswered> {
        self.ask(|reply| Input::Join { role, topic, reply }).await
    }

    /// Hands a tap to the floor. The answer comes once it can no longer be taken back.
    ///
    /// # Errors
    /// The refusal, where the tap did not reach the floor.
    pub fn tap(&self, tap: TapIn) -> Result<(), Refusal> {
        // Without a floor nothing will happen either, and a display knows what to do about "busy".
        self.send(Input::Tap(Box::new(tap))).map_err(|_| Refusal::Busy)
    }

    /// Asks something once, of what is durable; nothing where there is no such thing for the coach who asks.
    ///
    /// # Errors
    /// [`Unanswered`].
    pub async fn ask_about(&self, question: Question) -> Result<Option<Told>, Unanswered> {
        self.ask(|reply| Input::Ask { question: Box::new(question), reply }).await
    }

    /// The programme as it is on disk.
    ///
    /// # Errors
    /// [`Unanswered`].
    pub async fn evening(&self) -> Result<EveningNow, Unanswered> {
        self.ask(|reply| Input::Evening { reply }).await
    }

    /// Enters a programme, or looks what would come of it. The answer comes once it can no longer be taken back.
    ///
    /// # Errors
    /// [`Unanswered`]; `Gone` also where a fault of the program kept it from being entered.
    pub async fn enter(&self, entry: EntryIn) -> Result<Entered, Unanswered> {
        self.ask(|reply| Input::Enter { entry: Box::new(entry), reply }).await
    }

    /// Asks how the floor is.
    ///
    /// # Errors
    /// [`Unanswered`].
    pub async fn health(&self) -> Result<Health, Unanswered> {
        self.ask(|reply| Input::Health { reply }).await
    }

    /// Moves a driven clock and waits until whatever was due on the way has happened and is on disk. Gives
    /// the time it stands at, or what keeps the floor from writing: the clock has moved all the same.
    ///
    /// # Errors
    /// [`Unanswered`].
    pub async fn advance(&self, by: Millis) -> Result<Result<FloorMs, WriteTrouble>, Unanswered> {
        self.ask(|reply| Input::Advance { by, reply }).await
    }

    /// Ends the floor: what it has taken is committed, a snapshot saved, the journal closed.
    pub(crate) async fn shutdown(&self) -> Result<(), Unanswered> {
        let (reply, ended) = oneshot::channel();
        // The one message for which it is worth waiting until there is room.
        self.inbox.send(Input::Shutdown { reply }).await.map_err(|_| Unanswered::Gone)?;
        ended.await.map_err(|_| Unanswered::Gone)
    }

    async fn ask<T>(&self, input: impl FnOnce(oneshot::Sender<T>) -> Input) -> Result<T, Unanswered> {
        let (reply, answer) = oneshot::channel();
        self.send(input(reply))?;
        answer.await.map_err(|_| Unanswered::Gone)
    }

    fn send(&self, input: Input) -> Result<(), Unanswered> {
        self.inbox.try_send(input).map_err(|error| match error {
            mpsc::error::TrySendError::Full(_) => Unanswered::Busy,
            mpsc::error::TrySendError::Closed(_) => Unanswered::Gone,
        })
    }
}
