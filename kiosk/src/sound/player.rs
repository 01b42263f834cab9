//! Plays cues through ALSA, in a thread of its own: nothing that a sound device does keeps the display waiting.
//!
//! The device is open from a few seconds before the first tone until a few after the last; between tones it stands still.
//! One that cannot be opened is tried again after a while, and told of once.

use std::io;
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, TryRecvError, sync_channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::{Builder, JoinHandle};
use std::time::{Duration, Instant};

use alsa::pcm::{Access, Format, Frames, HwParams, PCM};
use alsa::{Direction, Output, ValueOr};

use super::voice::Voice;
use super::{Cue, LATE, Speaker};

/// The device that the machine's own settings name.
pub const DEFAULT: &str = "default";

/// Samples a second. Whatever the device takes, the machine's default one converts.
const RATE: u32 = 48_000;

/// Samples that are written at once: 10 ms.
const BLOCK: usize = 480;

/// How much is written ahead, in microseconds: so late a stop is at the most.
const BUFFER: u32 = 80_000;

/// How long a device is kept after the last tone and the last word of one: a little longer than a second of a countdown.
const HOLD: Duration = Duration::from_secs(3);

/// How long a device that fails is left alone. Trying takes time, and the machine's log room.
const RETRY: Duration = Duration::from_secs(30);

/// Cues that wait: while a device opens there is one of them, and one more.
const WAITING: usize = 4;

enum Ask {
    Soon,
    Play(Cue, Instant),
}

/// Why the last try failed.
type Trouble = Arc<Mutex<Option<String>>>;

/// Plays through one device.
#[derive(Debug)]
pub struct Player {
    to: Option<SyncSender<Ask>>,
    thread: Option<JoinHandle<()>>,
    trouble: Trouble,
}

impl Player {
    /// Begins to wait for cues. Nothing is opened yet.
    #[must_use]
    pub fn begin(device: &'static str) -> Self {
        let (to, asks) = sync_channel(WAITING);
        let trouble = Trouble::default();
        let own = Arc::clone(&trouble);
        let thread = Builder::new().name("sound".into()).spawn(move || Stage::new(device, own).run(&asks));
        match thread {
            Ok(thread) => Self { to: Some(to), thread: Some(thread), trouble },
            Err(error) => {
                tell(&trouble, &error.to_string());
                Self { to: None, thread: None, trouble }
            }
        }
    }

    /// Ends once all that was asked for has been played; why something was not.
    #[must_use]
    pub fn finish(mut self) -> Option<String> {
        self.to = None;
        if let Some(thread) = self.thread.take() {
            // Whatever it panicked of has been printed.
            let _ = thread.join();
        }
        self.trouble()
    }

    fn ask(&self, ask: Ask) {
        // A full queue means that the device hangs: what is asked now would come too late.
        if let Some(to) = &self.to {
            let _ = to.try_send(ask);
        }
    }
}

impl Speaker for Player {
    fn soon(&mut self) {
        self.ask(Ask::Soon);
    }

    fn play(&mut self, cue: Cue) {
        self.ask(Ask::Play(cue, Instant::now()));
    }

    fn trouble(&self) -> Option<String> {
        self.trouble.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

/// Says once in the log what is wrong, as long as it is the same.
fn tell(trouble: &Trouble, why: &str) {
    let mut told = trouble.lock().unwrap_or_else(PoisonError::into_inner);
    if told.as_deref() != Some(why) {
        eprintln!("turnabout-kiosk: no sound: {why}");
        *told = Some(why.to_owned());
    }
}

/// What the thread knows.
struct Stage {
    name: &'static str,
    device: Option<PCM>,
    failed: Option<Instant>,
    trouble: Trouble,
}

impl Stage {
    const fn new(name: &'static str, trouble: Trouble) -> Self {
        Self { name, device: None, failed: None, trouble }
    }

    fn run(&mut self, asks: &Receiver<Ask>) {
        // The library would print a line of its own for each thing that it does not find; what matters is in its answer.
        let _quiet = Output::local_error_handler();
        loop {
            let ask = match asks.recv_timeout(if self.device.is_some() { HOLD } else { Duration::MAX }) {
                Ok(ask) => ask,
                Err(RecvTimeoutError::Timeout) => {
                    self.device = None;
                    continue;
                }
                Err(RecvTimeoutError::Disconnected) => return,
            };
            if !self.open() {
                continue;
            }
            if let Ask::Play(cue, asked) = ask
                && is_in_time(cue, asked)
                && let Err(error) = self.play(cue, asks)
            {
                self.fails(&error);
            }
        }
    }

    /// Opens the device, unless that is done or failed just now; whether it is open.
    fn open(&mut self) -> bool {
        if self.device.is_some() {
            return true;
        }
        if self.failed.is_some_and(|failed| failed.elapsed() < RETRY) {
            return false;
        }
        match open(self.name) {
            Ok(device) => {
                self.device = Some(device);
                self.failed = None;
            }
            Err(error) => self.fails(&error),
        }
        self.device.is_some()
    }

    fn fails(&mut self, error: &alsa::Error) {
        self.device = None;
        self.failed = Some(Instant::now());
        // In the words of the machine, short enough for a line of the set-up.
        tell(&self.trouble, &io::Error::from_raw_os_error(error.errno()).to_string());
    }

    /// Plays a cue, and what is asked for meanwhile.
    fn play(&self, cue: Cue, asks: &Receiver<Ask>) -> alsa::Result<()> {
        let Some(device) = &self.device else { return Ok(()) };
        device.prepare()?;
        let io = device.io_i16()?;
        let mut voice = Voice::new(RATE);
        voice.begin(cue);
        let mut block = [0; BLOCK];
        while !voice.is_silent() {
            voice.fill(&mut block);
            let mut rest = &block[..];
            while !rest.is_empty() {
                match io.writei(rest) {
                    Ok(written) => rest = rest.get(written..).unwrap_or_default(),
                    // The machine was busy for too long, or slept: it goes on from here.
                    Err(error) => device.try_recover(error, true)?,
                }
            }
            match asks.try_recv() {
                Ok(Ask::Play(cue, asked)) if is_in_time(cue, asked) => voice.begin(cue),
                Ok(Ask::Play(..) | Ask::Soon) | Err(TryRecvError::Empty | TryRecvError::Disconnected) => {}
            }
        }
        device.drain()
    }
}

/// Whether a cue is still worth hearing.
fn is_in_time(cue: Cue, asked: Instant) -> bool {
    let late = u128::from(LATE.0.unsigned_abs());
    cue == Cue::Stop || asked.elapsed().as_millis() <= late
}

fn open(name: &str) -> alsa::Result<PCM> {
    let device = PCM::new(name, Direction::Playback, false)?;
    {
        let wanted = HwParams::any(&device)?;
        wanted.set_access(Access::RWInterleaved)?;
        wanted.set_format(Format::s16())?;
        wanted.set_channels(1)?;
        wanted.set_rate(RATE, ValueOr::Nearest)?;
        wanted.set_buffer_time_near(BUFFER, ValueOr::Nearest)?;
        device.hw_params(&wanted)?;
        let start = device.sw_params_current()?;
        // It begins with the first block, and not when all that it could hold is there.
        start.set_start_threshold(Frames::from(1_u8))?;
        device.sw_params(&start)?;
    }
    Ok(device)
}
