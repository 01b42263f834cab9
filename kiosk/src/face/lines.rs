//! What is said of a set beside who, how heavy and how long: in lines, what matters now first.
//!
//! A display shows as many of them as it has room for at a size that is read from a few steps away. So the order is
//! the whole art: what is to be done with one's hands comes before what is to be known, and what is to be known now
//! before what comes later.

use super::orders::NEEDS_BETWEEN;
use super::panel::Panel;
use super::phase::PhaseKind;

/// How a line is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Somebody has to do it before the set can be.
    Do,
    /// How the station is set.
    Set,
    /// The phase says it, in its own hue.
    Phase,
    /// Good to know now.
    Know,
    /// Good to know for later.
    Later,
}

/// What belongs together, and is said in one line where that is long enough.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// What is said, one thing after the other; none of them empty.
    pub texts: Vec<String>,
    /// How it is meant.
    pub tone: Tone,
}

/// One line on a screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// What stands in it.
    pub text: String,
    /// How it is meant.
    pub tone: Tone,
    /// It is shown where there is room for more rows than that. In lines of a set it is which row ends what begins in this
    /// one or before, from 0: half a sentence is not shown.
    pub ends: usize,
}

impl Panel {
    /// What is said of the set in lines, what matters now first.
    #[must_use]
    pub fn lines(&self) -> Vec<Said> {
        let said = |(texts, tone): (Vec<&str>, Tone)| {
            let texts: Vec<_> =
                texts.into_iter().filter(|text| !text.is_empty()).map(str::to_owned).collect();
            (!texts.is_empty()).then_some(Said { texts, tone })
        };
        things(self).into_iter().filter_map(said).collect()
    }
}

type Things<'p> = Vec<(Vec<&'p str>, Tone)>;

/// All that there is to say, what matters now first.
fn things(panel: &Panel) -> Things<'_> {
    let set = (vec![panel.exercise.as_str(), &panel.set], Tone::Know);
    let target = (vec![panel.reps.as_str(), &panel.tempo], Tone::Know);
    let spotter = (vec![panel.spotter.as_str()], Tone::Know);
    let how = (vec![panel.load.how.as_str()], Tone::Know);
    let called = (vec![panel.called.as_str()], Tone::Know);
    let later = (vec![panel.missing.as_str(), &panel.then, &panel.leaving, &panel.next], Tone::Later);
    match panel.phase {
        // A bar is in somebody's hands, or is about to be: there is nothing to read but the count.
        PhaseKind::GetSet | PhaseKind::CountIn => Vec::new(),
        // Where its tempo is stands apart from the lines.
        PhaseKind::Working => {
            vec![(vec![panel.breath.as_str()], Tone::Phase), target, called, later, spotter, set, how]
        }
        PhaseKind::Assumed | PhaseKind::Stopped => vec![called, later, set, target, spotter],
        PhaseKind::Leaving => vec![
            (vec![panel.held_by.as_str()], Tone::Do),
            (vec![panel.exercise.as_str()], Tone::Know),
            called,
            (vec![panel.next.as_str()], Tone::Later),
        ],
        PhaseKind::Free
        | PhaseKind::Reserved
        | PhaseKind::WipeDown
        | PhaseKind::OtherUse
        | PhaseKind::OutOfService => vec![
            (vec![panel.since.as_str()], Tone::Know),
            (vec![panel.thanks.as_str()], Tone::Know),
            (vec![panel.next_time.as_str()], Tone::Know),
            (vec![panel.next.as_str()], Tone::Know),
            called,
        ],
        PhaseKind::GetReady => ready(panel, vec![called, how, target, set, spotter, later]),
        PhaseKind::Held
        | PhaseKind::Coming
        | PhaseKind::Rest
        | PhaseKind::Changeover
        | PhaseKind::Ready
        | PhaseKind::Paused
        | PhaseKind::Gone => coming(panel, called, vec![how, target, set, spotter, later]),
    }
}

/// Plates, settings, and who does what; the button confirms it. Where the picture of the plates has the place of a count,
/// it says what to change, and the words come after all that only words say.
fn ready<'p>(panel: &'p Panel, rest: Things<'p>) -> Things<'p> {
    let plates = (vec![panel.load.on_now.as_str()], Tone::Do);
    let (first, last) = if panel.load.drawn && panel.count.is_empty() {
        (Vec::new(), vec![plates])
    } else {
        (vec![plates], Vec::new())
    };
    let mut all = first;
    all.extend([
        (vec![panel.settings.as_str()], Tone::Set),
        (panel.needs.split(NEEDS_BETWEEN).collect(), Tone::Do),
        (vec![panel.jobs.as_str()], Tone::Do),
    ]);
    all.extend(last);
    all.extend([
        (panel.load.notes.lines().rev().collect(), Tone::Know),
        (vec![panel.why.as_str()], Tone::Know),
        (vec![panel.proposal.as_str()], Tone::Know),
    ]);
    all.extend(rest);
    all.extend([
        (vec![panel.next_why.as_str()], Tone::Later),
        (vec![panel.load.about.as_str()], Tone::Later),
    ]);
    all
}

/// A set to come.
fn coming<'p>(panel: &'p Panel, called: (Vec<&'p str>, Tone), rest: Things<'p>) -> Things<'p> {
    let mut all = vec![
        (panel.needs.split(NEEDS_BETWEEN).collect(), Tone::Do),
        (vec![panel.load.on_now.as_str()], Tone::Do),
        (vec![panel.settings.as_str()], Tone::Set),
        (vec![panel.jobs.as_str()], Tone::Do),
        // How it is done safely is said last of a load, and read first here.
        (panel.load.notes.lines().rev().collect(), Tone::Know),
        (vec![panel.cue.as_str()], Tone::Phase),
        called,
        (vec![panel.why.as_str()], Tone::Know),
        (vec![panel.proposal.as_str()], Tone::Know),
    ];
    all.extend(rest);
    all.extend([
        (vec![panel.next_why.as_str()], Tone::Later),
        (vec![panel.load.about.as_str()], Tone::Later),
    ]);
    all
}

/// What stands between two things in one row.
const BETWEEN: &str = " · ";

/// The rows of what is said where so many letters go into one: what belongs together shares a row if it fits, and what
/// is longer than a row is broken between two words.
#[must_use]
pub fn rows(lines: &[Said], letters: usize) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for Said { texts, tone } in lines {
        let mut shared = String::new();
        for text in texts {
            let together = if shared.is_empty() { text.clone() } else { format!("{shared}{BETWEEN}{text}") };
            if shared.is_empty() || length(&together) <= letters {
                shared = together;
            } else {
                put(&mut rows, &shared, *tone, letters);
                shared.clone_from(text);
            }
        }
        put(&mut rows, &shared, *tone, letters);
    }
    rows
}

/// Adds a text in as many rows as it needs, each about as long as the others.
fn put(rows: &mut Vec<Row>, text: &str, tone: Tone, letters: usize) {
    let needed = length(text).div_ceil(letters.max(1)).max(1);
    let each = length(text).div_ceil(needed);
    let mut parts: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        let last = parts.last_mut().expect("there is one from the beginning");
        // The word in the middle of the break goes to the row where more of it lies.
        if last.is_empty() {
            last.push_str(word);
        } else if length(last) + 1 + length(word) / 2 <= each && length(last) + 1 + length(word) <= letters {
            last.push(' ');
            last.push_str(word);
        } else {
            parts.push(word.to_owned());
        }
    }
    if needed == 1 {
        // Nothing to break, and the space around what stands between two things is kept.
        parts = vec![text.to_owned()];
    }
    let ends = rows.len() + parts.len() - 1;
    rows.extend(parts.into_iter().map(|text| Row { text, tone, ends }));
}

fn length(text: &str) -> usize {
    text.chars().count()
}
